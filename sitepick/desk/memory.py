"""What the desk remembers from one start to the next: plans opened, the window's place, how things are shown."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QRect, QSettings

from sitepick.desk.display import FORMS, Display

RECENT_MAX = 8
LOOK_NAMES = ("day", "dark", "night")


class Memory:
    """A small file of remembered values; a damaged or foreign value is as good as none.

    Parameters
    ----------
    path : Path
        Made when something is remembered.
    """

    def __init__(self, path: Path) -> None:
        self._store = QSettings(str(path), QSettings.Format.IniFormat)

    @property
    def recent(self) -> tuple[Path, ...]:
        """Plans opened before, the last one first; those that are gone are left out."""
        return tuple(path for path in map(Path, self._texts("recent")) if path.is_file())

    def add_recent(self, path: Path) -> None:
        """Remember a plan that was opened or saved."""
        others = [text for text in self._texts("recent") if text != str(path)]
        self._store.setValue("recent", [str(path), *others][:RECENT_MAX])

    @property
    def window_place(self) -> QRect | None:
        """Where the window stood."""
        numbers = self._numbers("window")
        return QRect(*numbers) if len(numbers) == 4 else None

    @property
    def splitter_sizes(self) -> list[int]:
        """Widths of map and field book; empty where none are remembered."""
        sizes = self._numbers("splitter")
        return sizes if len(sizes) == 2 and all(size >= 0 for size in sizes) else []

    def keep_window(self, place: QRect, splitter_sizes: list[int]) -> None:
        """Remember where the window stands."""
        self._store.setValue("window", [str(n) for n in (place.x(), place.y(), place.width(), place.height())])
        self._store.setValue("splitter", [str(size) for size in splitter_sizes])

    @property
    def look_name(self) -> str:
        """The colours in use."""
        name = str(self._store.value("look", ""))
        return name if name in LOOK_NAMES else LOOK_NAMES[0]

    def keep_look(self, name: str) -> None:
        """Remember the colours in use."""
        self._store.setValue("look", name)

    @property
    def display(self) -> Display:
        """How places and lengths are told."""
        form = str(self._store.value("places", ""))
        return Display(form=form if form in FORMS else FORMS[0], is_imperial=self._flag("imperial"))

    def keep_display(self, display: Display) -> None:
        """Remember how places and lengths are told."""
        self._store.setValue("places", display.form)
        self._store.setValue("imperial", str(display.is_imperial).lower())

    @property
    def is_guided(self) -> bool:
        """Whether the way through was shown once."""
        return self._flag("guided")

    def keep_guided(self) -> None:
        """Remember that the way through was shown."""
        self._store.setValue("guided", "true")

    def _flag(self, name: str) -> bool:
        return str(self._store.value(name, "")).lower() == "true"

    def _texts(self, name: str) -> list[str]:
        held = self._store.value(name, [])
        return [str(one) for one in held] if isinstance(held, list) else [str(held)] if held else []

    def _numbers(self, name: str) -> list[int]:
        try:
            return [int(text) for text in self._texts(name)]
        except ValueError:
            return []
