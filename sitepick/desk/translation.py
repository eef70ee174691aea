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
        The noun in English; left out, many is one with an s.
    """
    nouns = many or one + "s"
    text = f"{{count}} {nouns}"
    found = QCoreApplication.translate(CONTEXT, text, None, count)
    return _filled(found, text, {"count": count}) if found != text else f"{count} {one if count == 1 else nouns}"


def install_translation(
    application: QCoreApplication, locale: QLocale | None = None, *, own_folder: Path | None = None
) -> bool:
    """Let the application speak the language of a locale, as far as there is a translation.

    Parameters
    ----------
    application : QCoreApplication
    locale : QLocale, optional
        Left out: the system's.
    own_folder : Path, optional
        The user's own translations, looked at before those that ship: ``sitepick_de.qm``, say.

    Returns
    -------
    bool
        Whether a translation of the desk was found. Qt's own words (buttons of dialogs) follow it, so that no window
        speaks two languages.
    """
    locale = locale or QLocale.system()
    desk = QTranslator(application)
    folders = (own_folder, resource_path("translations"))
    if not any(desk.load(locale, "sitepick", "_", str(folder)) for folder in folders if folder is not None):
        return False
    application.installTranslator(desk)
    qt = QTranslator(application)
    if qt.load(locale, "qtbase", "_", QLibraryInfo.path(QLibraryInfo.LibraryPath.TranslationsPath)):
        application.installTranslator(qt)
    return True


def _filled(found: str, text: str, values: dict[str, object]) -> str:
    """The places filled in; a translation that spoils one must not stop the desk, so the English text stands in."""
    if not values:
        return found
    try:
        return found.format(**values)
    except (LookupError, ValueError):
        return text.format(**values)
