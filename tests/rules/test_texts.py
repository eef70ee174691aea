"""Whatever the desk says can be said in another language."""

from __future__ import annotations

import ast
import re

from tests.helpers.texts import PACKAGE, PLACES, TEMPLATE, all_texts, called, calls, literal, translation_file

DESK = sorted(path for path in (PACKAGE / "desk").glob("*.py") if path.stem != "look")  # a style sheet
TRANSLATED = {"tr", "marked", "counted"}
# Words in another place than what is shown: keys, names of objects and properties, types, logs, styles.
NOT_SHOWN_CALLS = {
    "setObjectName", "setProperty", "property", "cast", "setStyle", "index", "QFont",
    "user_log_path", "user_data_path", "user_config_path",
}  # fmt: skip
# Calls whose plain text a person reads, however short it is.
SHOWN_CALLS = {
    "setText", "setToolTip", "setAccessibleName", "setAccessibleDescription", "setWindowTitle", "setPlaceholderText",
    "setStatusTip", "setSpecialValueText", "setSuffix", "setInformativeText", "addMenu", "addButton", "addItem",
    "QPushButton", "QCheckBox", "QAction", "QLabel", "Sentence", "Fold", "ChoiceField", "HourField", "MomentField",
    "describe", "show_text", "about",
}  # fmt: skip
SHOWN_KEYWORDS = {"label", "text", "no", "yes", "empty_text", "help_text", "help", "fix", "wish"}
SENTENCE = re.compile(r"[A-Za-z]{2,}[,.:;]? [A-Za-z(]|^[A-Z][a-z]+( …|…|[.:])?$|^[a-z]+ …$")
WORD = re.compile(r"[A-Za-z]{2,}")
# What reads like words to a rule and is none to a person, or is told where no desk is.
ALLOWED = {
    "application.py": {
        "the display could not be opened",
        "start sitepick from a desktop session, or use: sitepick tonight PLAN --out DIR",
    },
    "camp_list.py": {"0, put there by hand"},  # how a stage's own sentence begins
    "camp_work.py": {"Leader"},  # a stage's own word
    "fields.py": {"ddd d MMM yyyy HH:mm"},  # Qt names day and month by the locale
    "jobs.py": {"a runner that is shut down takes no more work"},
    "journey_asking.py": {"journey days", "journey files"},
    "kit_list.py": {"low aft", "to hand"},
    "main_window.py": {"0[*] – sitepick"},
    "map_tiles.py": {"the map"},
}


def told(node):
    """The text of a literal, with a 0 in each place that is filled in; None for what is no text."""
    if isinstance(node, ast.JoinedStr):
        return "".join(one.value if isinstance(one, ast.Constant) else "0" for one in node.values)
    return literal(node) if isinstance(node, ast.Constant) else None


def untranslated(path):
    """Literals of a module that look like words for a person and are not translated, as (line, text)."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    passed: set[int] = set()
    shown: set[int] = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant):
            passed.add(id(node.value))
        elif isinstance(node, ast.Call) and called(node) in TRANSLATED | NOT_SHOWN_CALLS:
            passed.update(id(one) for argument in node.args for one in ast.walk(argument))
        elif isinstance(node, ast.Call) and called(node) in SHOWN_CALLS:
            shown.update(id(argument) for argument in node.args)
        elif isinstance(node, ast.keyword) and node.arg in SHOWN_KEYWORDS:
            shown.add(id(node.value))
        elif isinstance(node, ast.JoinedStr):
            passed.update(id(one) for one in node.values if isinstance(one, ast.Constant))
        elif isinstance(node, ast.Compare):
            passed.update(id(one) for one in (node.left, *node.comparators))
    for node in ast.walk(tree):
        text = told(node)
        if text is None or id(node) in passed or text in ALLOWED.get(path.name, ()):
            continue
        if SENTENCE.search(text) or (id(node) in shown and WORD.search(text)):
            yield node.lineno, text


def test_every_word_of_the_desk_is_translated():
    told_at = [f"{path.name}:{line}: {text!r}" for path in DESK for line, text in untranslated(path)]
    assert not told_at, "put these into tr(), or marked() outside of functions:\n" + "\n".join(told_at)


def spoilt_calls(path):
    """Calls of `tr` that can't work: a text that is put together first, or places that differ from what is given."""
    for call in calls(ast.parse(path.read_text(encoding="utf-8"))):
        if called(call) not in TRANSLATED or not call.args:
            continue
        text = literal(call.args[0])
        if any(isinstance(argument, ast.JoinedStr) for argument in call.args):
            yield call.lineno, ast.unparse(call)
        elif called(call) == "tr" and text is not None:
            places = {place for place in PLACES.findall(text) if not place.isdigit()}
            if places != {word.arg for word in call.keywords}:
                yield call.lineno, ast.unparse(call)


def test_every_place_of_a_text_is_filled_in():
    assert not [(path.name, *call) for path in DESK for call in spoilt_calls(path)]


def test_a_call_that_can_t_work_is_found(tmp_path):
    path = tmp_path / "page.py"
    path.write_text(
        'tr(f"Drop {x}")\ntr("Drop {x}", y=1)\ntr("Drop {x:.1f} {0}", x=1)\ntr(word, x=1)\n', encoding="utf-8"
    )
    assert [line for line, _ in spoilt_calls(path)] == [1, 2]


def test_the_template_holds_every_text():
    assert TEMPLATE.read_text(encoding="utf-8") == translation_file(all_texts()), (
        "write it anew: python -m tests.helpers.texts"
    )


def test_a_word_that_is_not_translated_is_found(tmp_path):
    path = tmp_path / "page.py"
    path.write_text(
        'label = QLabel("reach")\nnotice.show_text(f"Saved as {name}.")\nKEYS = ("Not known yet", "key")\n'
        'good = QLabel(tr("reach")), marked("Not known yet"), counted(2, "hidden site"), kind == "midnight sun"\n',
        encoding="utf-8",
    )
    assert sorted(untranslated(path)) == [(1, "reach"), (2, "Saved as 0."), (3, "Not known yet")]
