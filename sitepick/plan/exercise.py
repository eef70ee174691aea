"""An exercise: ground marked up, what trainees are given and asked, what answers are worth, what was handed in."""

from __future__ import annotations

from dataclasses import dataclass, field, fields
from datetime import datetime, timedelta

from sitepick.errors import SettingsError
from sitepick.plan.mark import LonLat, Mark
from sitepick.plan.setting import check_settings, setting

TEXT_LETTERS_MAX = 4000
ITEMS = ("limits", "ground", "alternate", "layout", "timetable", "reasons")


@dataclass(frozen=True, slots=True, kw_only=True)
class GivenParts:
    """Which parts of the plan a trainee is given; the date of the march always is.

    Attributes
    ----------
    has_map : bool
        The map and, as a file, the ground that it is drawn from.
    has_unit : bool
        People, shelters, loads, how they move, and the spacing asked for.
    has_weather, has_time : bool
    has_route : bool
        The whole line; otherwise its two ends.
    has_what_counts : bool
        The plan's own weights and limits; otherwise the usual ones.
    """

    has_map: bool = True
    has_unit: bool = True
    has_weather: bool = True
    has_route: bool = True
    has_time: bool = True
    has_what_counts: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class AskedParts:
    """What a trainee is to hand in besides the pick.

    Attributes
    ----------
    has_alternate, has_layout, has_timetable, has_reasons : bool
    """

    has_alternate: bool = True
    has_layout: bool = False
    has_timetable: bool = True
    has_reasons: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Rubric:
    """What each part of an answer is worth. Points are ours, for the trainer to change.

    Attributes
    ----------
    limits, ground, alternate, layout, timetable, reasons : float
        Points: room within every limit at the pick, how good the ground there is, and the rest.
    place_tolerance_m : float
        A pick counts for the nearest ground within limits so far away: nobody reads a map to the metre.
    door_tolerance_deg : float
        A door may be so far off its rule.
    poorest_percent : float
        So much of the ground where the unit could camp scores less than what earns the first point for the ground;
        from there points rise evenly to the best in reach.
    """

    limits: float = setting(20.0, label="room within the limits", unit="points", low=0.0, high=1000.0)
    ground: float = setting(40.0, label="how good the ground is", unit="points", low=0.0, high=1000.0)
    alternate: float = setting(10.0, label="the alternate", unit="points", low=0.0, high=1000.0)
    layout: float = setting(15.0, label="the layout", unit="points", low=0.0, high=1000.0)
    timetable: float = setting(10.0, label="the timetable", unit="points", low=0.0, high=1000.0)
    reasons: float = setting(
        5.0, label="the reasons", unit="points", low=0.0, high=1000.0, help="Marked by the trainer alone."
    )
    place_tolerance_m: float = setting(
        50.0, label="tolerance of a place", unit="m", low=0.0, high=500.0,
        help="A pick counts for the nearest ground within limits so far away.",
    )  # fmt: skip
    door_tolerance_deg: float = setting(10.0, label="tolerance of a door", unit="°", low=0.0, high=60.0)
    poorest_percent: float = setting(
        5.0, label="ground that earns nothing", unit="%", low=0.0, high=75.0,
        help="So much of the ground where the unit could camp is poorer than what earns the first point.",
    )  # fmt: skip

    def __post_init__(self) -> None:
        check_settings(self)
        if self.limits + self.ground <= 0.0:
            raise SettingsError("the pick is worth no points", fix="give points to its limits or its ground")

    def points(self, item: str) -> float:
        """What one of `ITEMS` is worth."""
        return float(getattr(self, item))


@dataclass(frozen=True, slots=True, kw_only=True)
class Overrule:
    """The trainer's own points for one part of one trainee's answer.

    Attributes
    ----------
    trainee : str
    item : str
        Out of `ITEMS`.
    points : float
        At most what the part is worth.
    note : str
        Why; never empty.
    """

    trainee: str
    item: str = setting(label="part of the answer", choices=ITEMS)
    points: float = setting(label="points", low=0.0, high=1000.0)
    note: str

    def __post_init__(self) -> None:
        check_settings(self)
        if not self.note.strip():
            raise SettingsError(
                f"the points for {self.trainee}'s {self.item} were changed without a note", fix="say why"
            )
        _check_text("the note on changed points", self.note)


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedThing:
    """A shelter or another thing of the camp, as a trainee placed it.

    Attributes
    ----------
    what : str
        The shelter's name, or what else it is ("latrine", "drinking water").
    place : (lon_deg, lat_deg)
    door_deg : float or None
        True bearing that a shelter's door looks to.
    """

    what: str
    place: LonLat
    door_deg: float | None = setting(None, label="door", unit="°", low=0.0, high=360.0, help="True bearing.")

    def __post_init__(self) -> None:
        check_settings(self)
        _check_place(self.what, self.place)


@dataclass(frozen=True, slots=True, kw_only=True)
class HandedIn:
    """A trainee's answer.

    Attributes
    ----------
    trainee : str
    pick, alternate : (lon_deg, lat_deg) or None
    layout : tuple of PlacedThing
    arrive, ready : datetime or None
        On the site, and everyone under shelter; with their zone.
    reasons : str
    """

    trainee: str = ""
    pick: LonLat | None = None
    alternate: LonLat | None = None
    layout: tuple[PlacedThing, ...] = ()
    arrive: datetime | None = None
    ready: datetime | None = None
    reasons: str = ""

    def __post_init__(self) -> None:
        for words, place in (("the pick", self.pick), ("the alternate", self.alternate)):
            if place is not None:
                _check_place(words, place)
        for moment in (self.arrive, self.ready):
            if moment is not None and moment.tzinfo is None:
                raise SettingsError("a time of the answer has no time zone", fix="add the offset, such as +01:00")
        _check_text("the reasons", self.reasons)

    @property
    def is_blank(self) -> bool:
        """Whether nothing was handed in."""
        return self == HandedIn(trainee=self.trainee)


@dataclass(frozen=True, slots=True, kw_only=True)
class Exercise:
    """A problem on real ground for trainees, and what becomes of it.

    Attributes
    ----------
    title, task : str
        As trainees read them; the plan's own name and note never reach them.
    marks : tuple of Mark
    given : GivenParts
    asked : AskedParts
    rubric : Rubric
    trainees : tuple of str
        Who is to hand in an answer.
    overrules : tuple of Overrule
    answers : tuple of HandedIn
        What the trainer took down by hand: told, or handed in on paper.
    handed_in : HandedIn or None
        In a trainee's own copy of the plan: the answer. A plan with one tells no sites.
    """

    title: str = ""
    task: str = ""
    marks: tuple[Mark, ...] = ()
    given: GivenParts = field(default_factory=GivenParts)
    asked: AskedParts = field(default_factory=AskedParts)
    rubric: Rubric = field(default_factory=Rubric)
    trainees: tuple[str, ...] = ()
    overrules: tuple[Overrule, ...] = ()
    answers: tuple[HandedIn, ...] = ()
    handed_in: HandedIn | None = None

    def __post_init__(self) -> None:
        _check_text("the task", self.task)
        if len({name.casefold() for name in self.trainees}) < len(self.trainees):
            raise SettingsError("two trainees carry the same name", fix="give each a name of their own")
        if len({one.trainee.casefold() for one in self.answers}) < len(self.answers):
            raise SettingsError("two answers taken down by hand carry the same name", fix="keep one of them")
        keys = [(one.trainee.casefold(), one.item) for one in self.overrules]
        if len(set(keys)) < len(keys):
            raise SettingsError("the same points were changed twice", fix="keep one of the changes")
        for one in self.overrules:
            most = self.rubric.points(one.item)
            if one.points > most:
                raise SettingsError(
                    f"{one.trainee} gets {one.points:g} points for a part that is worth {most:g}",
                    fix="give fewer points, or make the part worth more",
                )

    def overrule_for(self, trainee: str, item: str) -> Overrule | None:
        """The trainer's own points for one part of one trainee's answer, if there are any."""
        key = trainee.casefold(), item
        return next((one for one in self.overrules if (one.trainee.casefold(), one.item) == key), None)

    def asks_for(self, item: str) -> bool:
        """Whether one of `ITEMS` is asked and worth anything."""
        asked = {f"has_{item}" for item in ITEMS} & {one.name for one in fields(self.asked)}
        return self.rubric.points(item) > 0.0 and (f"has_{item}" not in asked or getattr(self.asked, f"has_{item}"))


def _check_place(words: str, place: LonLat) -> None:
    lon, lat = place
    if not (-180.0 <= lon <= 180.0 and -90.0 <= lat <= 90.0):
        raise SettingsError(
            f"{words} lies at longitude {lon:g}, latitude {lat:g}",
            fix="give longitude and latitude in degrees, longitude first",
        )


def _check_text(words: str, text: str) -> None:
    if len(text) > TEXT_LETTERS_MAX:
        raise SettingsError(f"{words} has more than {TEXT_LETTERS_MAX} letters", fix="shorten it")


def acting_marks(exercise: Exercise, depart: datetime, acts: str) -> tuple[Mark, ...]:
    """Marks that do something to the answer and hold at any time from the departure to a day later.

    Parameters
    ----------
    exercise : Exercise
    depart : datetime
    acts : str
        As in `mark.MarkKind`.
    """
    end = depart + timedelta(days=1)
    return tuple(mark for mark in exercise.marks if mark.meaning.acts == acts and mark.holds_between(depart, end))
