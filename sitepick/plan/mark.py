"""Marks on the ground: places with a meaning of the trade, who sees them, and when they hold."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from sitepick.errors import SettingsError
from sitepick.plan.setting import check_settings, setting

LonLat = tuple[float, float]
SHAPES = ("point", "line", "area")
SEEN_BY = ("both", "trainee", "trainer")
NAME_LETTERS_MAX, NOTE_LETTERS_MAX = 120, 2000
POINTS_LEAST = {"point": 1, "line": 2, "area": 3}


@dataclass(frozen=True, slots=True, kw_only=True)
class MarkKind:
    """One meaning that a mark can have.

    Attributes
    ----------
    key, label : str
        As the plan's file names it, and as told to people.
    shapes : tuple of str
        Out of `SHAPES`: what may be drawn for it, the usual one first.
    acts : str
        What it does to the answer: ``"closes"`` (nobody marches or camps there), ``"encloses"`` (nobody does outside),
        ``"looks"`` (somebody watches from there), ``"waters"`` (water may be drawn there); empty: nothing.
    """

    key: str
    label: str
    shapes: tuple[str, ...]
    acts: str = ""


# Common practice on exercise maps; the words are plain ones.
MARK_KINDS: tuple[MarkKind, ...] = (
    MarkKind(key="boundary", label="boundary", shapes=("area",), acts="encloses"),
    MarkKind(key="out_of_bounds", label="out of bounds", shapes=("area", "line", "point"), acts="closes"),
    MarkKind(key="danger", label="danger area", shapes=("area", "line", "point"), acts="closes"),
    MarkKind(key="start", label="start", shapes=("point",)),
    MarkKind(key="finish", label="finish", shapes=("point",)),
    MarkKind(key="check_point", label="check point", shapes=("point",)),
    MarkKind(key="observer", label="observer", shapes=("point", "line"), acts="looks"),
    MarkKind(key="safety_vehicle", label="safety vehicle", shapes=("point",)),
    MarkKind(key="casualty_point", label="casualty point", shapes=("point",)),
    MarkKind(key="water_allowed", label="water allowed", shapes=("point", "line", "area"), acts="waters"),
    MarkKind(key="no_cutting", label="cutting not allowed", shapes=("area", "line", "point")),
    MarkKind(key="other", label="other mark", shapes=("point", "line", "area")),
)
_KIND_BY_KEY = {kind.key: kind for kind in MARK_KINDS}


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark:
    """A place with a meaning.

    Attributes
    ----------
    kind : str
        Key out of `MARK_KINDS`.
    shape : str
        Out of `SHAPES`.
    points : tuple of (lon_deg, lat_deg)
        One for a point, two or more for a line, the ring of an area, closed or not.
    name, note : str
    seen_by : str
        Out of `SEEN_BY`.
    holds_from, holds_until : datetime or None
        With their zone; None: without end on that side.
    """

    kind: str = setting("other", label="meaning", choices=tuple(kind.key for kind in MARK_KINDS))
    shape: str = setting("point", label="shape", choices=SHAPES)
    points: tuple[LonLat, ...]
    name: str = ""
    note: str = ""
    seen_by: str = setting(
        "both", label="who sees it", choices=SEEN_BY, help="What only the trainer sees reaches no trainee."
    )
    holds_from: datetime | None = None
    holds_until: datetime | None = None

    def __post_init__(self) -> None:
        check_settings(self)
        told = self.told
        if self.shape not in self.meaning.shapes:
            raise SettingsError(
                f"the mark {told!r} is drawn as {_with_article(self.shape)}",
                fix=f"draw it as {' or '.join(_with_article(shape) for shape in self.meaning.shapes)}",
            )
        least = POINTS_LEAST[self.shape]
        count = len(set(self.points))
        if count < least or (self.shape == "point" and len(self.points) != 1):
            raise SettingsError(
                f"the mark {told!r} is {_with_article(self.shape)} of {count} point{'s' * (count != 1)}",
                fix="draw it again",
            )
        for lon, lat in self.points:
            if not (-180.0 <= lon <= 180.0 and -90.0 <= lat <= 90.0):
                raise SettingsError(
                    f"the mark {told!r} has a point at longitude {lon:g}, latitude {lat:g}",
                    fix="give longitude and latitude in degrees, longitude first",
                )
        if len(self.name) > NAME_LETTERS_MAX or len(self.note) > NOTE_LETTERS_MAX:
            raise SettingsError(
                f"the name or the note of a mark ({self.meaning.label}) has more than {NAME_LETTERS_MAX} or "
                f"{NOTE_LETTERS_MAX} letters",
                fix="shorten it",
            )
        self._check_times()

    def _check_times(self) -> None:
        for moment in (self.holds_from, self.holds_until):
            if moment is not None and moment.tzinfo is None:
                raise SettingsError(
                    f"a time of the mark {self.told!r} has no time zone", fix="add the offset, such as +01:00"
                )
        if self.holds_from is not None and self.holds_until is not None and self.holds_until <= self.holds_from:
            raise SettingsError(f"the mark {self.told!r} ends before it begins", fix="swap its times")

    @property
    def meaning(self) -> MarkKind:
        """What it stands for."""
        return _KIND_BY_KEY[self.kind]

    @property
    def told(self) -> str:
        """Its name, or what it means where it has none."""
        return " ".join(self.name.split()) or self.meaning.label

    @property
    def is_for_trainees(self) -> bool:
        """Whether a trainee's paper and file show it."""
        return self.seen_by != "trainer"

    def holds_between(self, begin: datetime, end: datetime) -> bool:
        """Whether it holds at any time between two."""
        return (self.holds_from is None or self.holds_from < end) and (
            self.holds_until is None or self.holds_until > begin
        )


def _with_article(shape: str) -> str:
    return f"an {shape}" if shape[0] in "aeiou" else f"a {shape}"
