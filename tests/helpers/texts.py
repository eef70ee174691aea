"""Collects every text that a translation of the desk holds, and writes it as a file for Qt Linguist.

    python -m tests.helpers.texts                                          the template
    python -m tests.helpers.texts resources/translations/sitepick_de.ts    a language: made, or brought up to date

Qt's own collector knows neither `marked` nor `counted`, nor the labels that stand below the desk.
"""

from __future__ import annotations

import ast
import re
import sys
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from xml.etree import ElementTree

from sitepick.desk.translation import CONTEXT, plural
from sitepick.plan.emphasis import emphases

ROOT = Path(__file__).resolve().parents[2]
PACKAGE = ROOT / "sitepick"
TEMPLATE = ROOT / "resources" / "translations" / "sitepick.ts"

# Below the desk nothing is marked: these names hold what the desk translates as it shows it.
WORDS_BELOW = {"label", "unit", "help", "source", "limits"}  # as keywords, in the folder plan
CONSTANTS_BELOW = {
    "plan/avalanche.py": {"LEVEL_WORDS"},
    "plan/handout.py": {"SECTION_TITLES"},
    "exercise/words.py": {"ITEM_LABELS"},
}
MAY_SAY = re.compile(r"\.tick\(|\bstep=|^_STEP = ", re.MULTILINE)
PLACES = re.compile(r"\{(\w*)")


@dataclass(frozen=True, slots=True, order=True)
class Text:
    """One text.

    Attributes
    ----------
    source : str
        In English, as the desk looks it up.
    is_counted : bool
        Has forms by count.
    file : str
        Where it stands, from the root.
    """

    source: str
    is_counted: bool
    file: str


def literal(node: ast.expr | None) -> str | None:
    """The text of a literal; None for anything else."""
    return node.value if isinstance(node, ast.Constant) and isinstance(node.value, str) else None


def called(node: ast.Call) -> str:
    """The bare name of what is called."""
    return node.func.id if isinstance(node.func, ast.Name) else getattr(node.func, "attr", "")


def calls(tree: ast.Module) -> Iterator[ast.Call]:
    """Every call in a module."""
    return (node for node in ast.walk(tree) if isinstance(node, ast.Call))


def counted_source(call: ast.Call) -> str | None:
    """What a call of `counted` looks up; None where its noun is no literal."""
    nouns = [literal(argument) for argument in call.args[1:]]
    if not nouns or None in nouns:
        return None
    return f"{{count}} {nouns[1] if len(nouns) > 1 else plural(str(nouns[0]))}"


def desk_texts(tree: ast.Module) -> Iterator[tuple[str, bool]]:
    """The texts of a module of the desk: (source, has forms by count)."""
    for call in calls(tree):
        name = called(call)
        if name in ("tr", "marked") and call.args and (text := literal(call.args[0])):
            yield text, False
        elif name == "counted" and (text := counted_source(call)):
            yield text, True


def lower_texts(tree: ast.Module, file: str) -> Iterator[tuple[str, bool]]:
    """The labels, helps and steps of a module below the desk that the desk shows."""
    for call in calls(tree):
        if called(call) == "tick" and call.args and (step := literal(call.args[0])):
            yield step, False
        for word in call.keywords:
            text = literal(word.value)
            if text and (word.arg == "step" or (file.startswith("plan/") and word.arg in WORDS_BELOW)):
                yield text, False
                if called(call) == "ShelterKind" and word.arg == "label":
                    yield f"{{count}} {plural(text)}", True
    for name, value in constants(tree):
        if name in CONSTANTS_BELOW.get(file, ()):
            held = value.values if isinstance(value, ast.Dict) else getattr(value, "elts", [])
            yield from ((text, False) for one in held if (text := literal(one)))
        elif name == "_STEP" and (step := literal(value)):
            yield step, False


def constants(tree: ast.Module) -> Iterator[tuple[str, ast.expr]]:
    """A module's constants with their values."""
    for node in tree.body:
        if isinstance(node, ast.Assign) and isinstance(node.targets[0], ast.Name):
            yield node.targets[0].id, node.value


@cache
def all_texts() -> tuple[Text, ...]:
    """Every text once, with the first place where it stands."""
    found: dict[tuple[str, bool], str] = {}
    for path in sorted(PACKAGE.rglob("*.py"), key=lambda one: (one.parent.name != "desk", one)):
        file, text = path.relative_to(PACKAGE).as_posix(), path.read_text(encoding="utf-8")
        if not file.startswith(("desk/", "plan/")) and not MAY_SAY.search(text) and file not in CONSTANTS_BELOW:
            continue  # most modules below say nothing: they needn't be read as code
        tree = ast.parse(text)
        for key in desk_texts(tree) if file.startswith("desk/") else lower_texts(tree, file):
            found.setdefault(key, f"sitepick/{file}")
    for emphasis in emphases():
        for text in (emphasis.label, emphasis.why):
            found.setdefault((text, False), "resources/emphases.csv")
    return tuple(sorted(Text(source, is_counted, file) for (source, is_counted), file in found.items()))


def translation_file(
    texts: Sequence[Text], language: str = "", held: dict[str, ElementTree.Element] | None = None
) -> str:
    """The texts as a TS 2.1 file.

    Parameters
    ----------
    texts : sequence of Text
    language : str
        Such as ``"de"``; empty for the template.
    held : dict of source to element, optional
        What is translated already.
    """
    root = ElementTree.Element("TS", version="2.1", sourcelanguage="en", **({"language": language} if language else {}))
    context = ElementTree.SubElement(root, "context")
    ElementTree.SubElement(context, "name").text = CONTEXT
    for text in texts:
        message = ElementTree.SubElement(context, "message", **({"numerus": "yes"} if text.is_counted else {}))
        ElementTree.SubElement(message, "location", filename=f"../../{text.file}")
        ElementTree.SubElement(message, "source").text = text.source
        known = (held or {}).get(text.source)
        if known is not None:
            message.append(known)
        else:
            ElementTree.SubElement(message, "translation", type="unfinished")
    ElementTree.indent(root)
    return f'<?xml version="1.0" encoding="utf-8"?>\n<!DOCTYPE TS>\n{ElementTree.tostring(root, encoding="unicode")}\n'


def held_translations(path: Path) -> dict[str, ElementTree.Element]:
    """What a file has translated, by source."""
    if not path.exists():
        return {}
    messages = ElementTree.parse(path).getroot().iter("message")
    pairs = ((message.findtext("source", ""), message.find("translation")) for message in messages)
    return {source: known for source, known in pairs if known is not None and "".join(known.itertext()).strip()}


def faults(held: dict[str, ElementTree.Element]) -> list[str]:
    """Translations whose places differ from their text's; the desk would show the English text for them."""
    told = []
    for source, known in held.items():
        forms = [form.text or "" for form in known.iter("numerusform")] or [known.text or ""]
        if any(set(PLACES.findall(form)) != set(PLACES.findall(source)) for form in forms):
            told.append(f"{source!r}: its translation has other places in braces")
    return told


def main(names: list[str]) -> int:
    """Write the template, or bring the named files up to date; tells what is wrong with them."""
    texts = all_texts()
    if not names:
        TEMPLATE.write_text(translation_file(texts), encoding="utf-8")
        print(f"{len(texts)} texts in {TEMPLATE}")
        return 0
    told: list[str] = []
    for path in map(Path, names):
        held = held_translations(path)
        language = path.stem.partition("_")[2]
        path.write_text(translation_file(texts, language, held), encoding="utf-8")
        told += [f"{path.name}: {fault}" for fault in faults(held)]
        print(f"{sum(text.source in held for text in texts)} of {len(texts)} texts translated in {path}")
    print("\n".join(told))
    return 1 if told else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
