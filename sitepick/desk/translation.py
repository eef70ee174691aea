"""The desk's words in the person's language: how a text is translated, and where translations come from.

Every text is written in English where it is shown, and is its own key: what no translation knows stays English.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from PySide6.QtCore import QCoreApplication, QLibraryInfo, QLocale, QTranslator

from sitepick.resource import resource_path

CONTEXT = "desk"


def tr(text: str, /, **values: object) -> str:
    """A text in the person's language.

    Parameters
    ----------
    text : str
        In English, such as ``"Remove {name}"``. A text that is not written here but comes from below the desk (the
        label of a setting, say) is looked up just the same.
    **values
        What stands in the places of the text. Without any, braces are plain characters.
    """
    return _filled(QCoreApplication.translate(CONTEXT, text), text, values)


def marked(text: str) -> str:
    """A text that is kept in English until it is shown, as those of a module must be: `tr` translates it there."""
    return text


def translated(choices: Sequence[tuple[object, str]]) -> list[tuple[object, str]]:
    """Choices with their marked phrases in the person's language."""
    return [(value, tr(phrase)) for value, phrase in choices]


def counted(count: int, one: str, many: str | None = None) -> str:
    """A count with its noun: ``2 cautions``. Other languages may have more forms than one and many.

    Parameters
    ----------
    count : int
    one, many : str
        The noun in English; left out, many is the usual form of one.
    """
    nouns = many or plural(one)
    text = f"{{count}} {nouns}"
    found = QCoreApplication.translate(CONTEXT, text, None, count)
    return _filled(found, text, {"count": count}) if found != text else f"{count} {one if count == 1 else nouns}"


def plural(noun: str) -> str:
    """The usual plural of an English noun."""
    return f"{noun}es" if noun.endswith(("ch", "sh", "s", "x")) else f"{noun}s"


def install_translation(
    application: QCoreApplication, languages: Sequence[str] | None = None, *, own_folder: Path | None = None
) -> str:
    """Let the application speak the first of some languages that is English or has a translation.

    Parameters
    ----------
    application : QCoreApplication
    languages : sequence of str, optional
        The person's, best first, such as ``"de-AT"``; left out: what the system says.
    own_folder : Path, optional
        The user's own translations, looked at before those that ship: ``sitepick_de.qm``, say.

    Returns
    -------
    str
        The language, empty for English. Qt's own words (buttons of dialogs) follow it, so that no window speaks two.
    """
    folders = [str(folder) for folder in (own_folder, resource_path("translations")) if folder is not None]
    desk, qt = QTranslator(), QTranslator()
    for language in QLocale.system().uiLanguages() if languages is None else languages:
        bare = language.partition("-")[0]
        if bare == "en":
            break
        names = (f"sitepick_{language.replace('-', '_')}", f"sitepick_{bare}")
        if not any(desk.load(name, folder) for name in names for folder in folders):
            continue
        found = [desk]
        if qt.load(QLocale(language), "qtbase", "_", QLibraryInfo.path(QLibraryInfo.LibraryPath.TranslationsPath)):
            found.append(qt)
        for translator in found:
            translator.setParent(application)
            application.installTranslator(translator)
        return language
    return ""


def _filled(found: str, text: str, values: dict[str, object]) -> str:
    """The places filled in; a translation that spoils one must not stop the desk, so the English text stands in."""
    if not values:
        return found
    try:
        return found.format(**values)
    except (LookupError, ValueError):
        return text.format(**values)
