"""The collector of texts itself."""

from __future__ import annotations

import ast
from pathlib import Path

from tests.helpers.texts import Text, desk_texts, faults, held_translations, lower_texts, main, translation_file


def test_the_desk_s_texts_are_found_in_each_shape():
    tree = ast.parse('tr("Remove {name}", name=x); tr(label); K = marked("a " "b"); counted(n, "site"); '
                     'counted(n, "place holds", "places hold"); counted(n, noun)')  # fmt: skip
    assert list(desk_texts(tree)) == [
        ("Remove {name}", False), ("a b", False), ("{count} sites", True), ("{count} places hold", True),
    ]  # fmt: skip


def test_below_the_desk_labels_and_steps_are_found():
    plan = ast.parse('x = setting(1, label="people", help="Who sleeps.", unit="m"); ShelterKind(label="hut")')
    assert list(lower_texts(plan, "plan/unit.py")) == [
        ("people", False), ("Who sleeps.", False), ("m", False), ("hut", False), ("{count} huts", True),
    ]  # fmt: skip
    stage = ast.parse('_STEP = "open water"\nwatch.tick("room")\nrun(step="trees", label="not shown")')
    assert sorted(lower_texts(stage, "terrain/stand.py")) == [("open water", False), ("room", False), ("trees", False)]


def test_what_is_translated_is_kept_and_what_is_gone_is_dropped(tmp_path: Path):
    path = tmp_path / "sitepick_de.ts"
    texts = [Text("Gone", False, "sitepick/desk/a.py"), Text("Remove {name} & all", False, "sitepick/desk/a.py")]
    made = translation_file(texts, "de").replace(
        '<translation type="unfinished" />', "<translation>{nmae} weg</translation>"
    )
    path.write_text(made, encoding="utf-8")
    held = held_translations(path)
    assert set(held) == {"Gone", "Remove {name} & all"}
    again = translation_file(texts[1:], "de", held)
    assert "{nmae} weg" in again
    assert "Gone" not in again
    assert faults(held) == [
        "'Gone': its translation has other places in braces",
        "'Remove {name} & all': its translation has other places in braces",
    ]


def test_a_language_is_made_and_brought_up_to_date_by_name(tmp_path: Path, capsys):
    path = tmp_path / "sitepick_fi.ts"
    assert main([str(path)]) == 0
    assert 'language="fi"' in path.read_text(encoding="utf-8")
    assert "0 of" in capsys.readouterr().out
