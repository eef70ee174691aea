"""What the exercise hands on: what was handed in, how it stands against the ground, and the class."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sitepick.plan.exercise import HandedIn
from sitepick.sites.candidates import Piece
from sitepick.sites.model import Measure


@dataclass(frozen=True, slots=True, kw_only=True)
class Submission:
    """An answer as it came in.

    Attributes
    ----------
    handed_in : HandedIn
    source : str
        The file, and the row in it where it has rows.
    precision_m : float
        Width of the square that the coarsest reference in it names; 0: exact places.
    notes : tuple of str
        What must be said of how it came in, sentences.
    """

    handed_in: HandedIn
    source: str
    precision_m: float = 0.0
    notes: tuple[str, ...] = ()

    @property
    def trainee(self) -> str:
        """Whose it is."""
        return self.handed_in.trainee


@dataclass(frozen=True, slots=True, kw_only=True)
class BrokenLimit:
    """A limit that a pick is past.

    Attributes
    ----------
    name : str
        As in `sites.model.Hindrance.name`, or a factor's.
    sentence : str
        Which, and by how much.
    """

    name: str
    sentence: str


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PickGround:
    """The ground at a pick, held against the rest.

    Attributes
    ----------
    east_m, north_m : float
        The pick, grid coordinates.
    piece : Piece or None
        The ground that a camp there would take; None where nothing is known of it.
    measures : tuple of Measure
        Of that ground; empty where it can't be measured.
    score : float
        0-100, the lower bound; 0 where it can't be measured.
    room_frac : float
        Share of the unit that finds room there within every limit; 1 only where no limit is broken.
    broken : tuple of BrokenLimit
    moved_m : float
        How far the pick was moved to the nearest ground within limits, on the ground.
    better_frac : float or None
        Share of the ground where the unit could camp that is better than this; None where this is out.
    rank : int or None
        Among the places that the search measured, this one counted; None likewise.
    place_count : int
        How many places the search measured within limits, and this one where it comes after all of them.
    moving_min : float
        Minutes on the move to it; NaN past the reach.
    """

    east_m: float
    north_m: float
    piece: Piece | None
    measures: tuple[Measure, ...]
    score: float
    room_frac: float
    broken: tuple[BrokenLimit, ...]
    moved_m: float
    better_frac: float | None
    rank: int | None
    place_count: int
    moving_min: float

    def overlaps(self, other: PickGround) -> bool:
        """Whether two picks share ground."""
        if self.piece is None or other.piece is None:
            return (self.east_m, self.north_m) == (other.east_m, other.north_m)
        mine = {tuple(cell) for cell in np.asarray(self.piece.cells).tolist()}
        return any(tuple(cell) in mine for cell in np.asarray(other.piece.cells).tolist())


@dataclass(frozen=True, slots=True, kw_only=True)
class RuleCheck:
    """One rule of a layout or a timetable.

    Attributes
    ----------
    name : str
        Short key ("spacing", "doors", "latrine_from_water" ...).
    kept_frac : float
        1 where it is kept; otherwise how near to it, by its measure.
    sentence : str
        What the rule asks and what was found.
    """

    name: str
    kept_frac: float
    sentence: str

    @property
    def is_kept(self) -> bool:
        """Whether nothing is amiss."""
        return self.kept_frac >= 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class ItemResult:
    """The points for one part of an answer.

    Attributes
    ----------
    item : str
        Out of `plan.exercise.ITEMS`.
    worth : float
    points : float or None
        None: left to the trainer.
    reckoned : float or None
        Before the trainer changed them; None likewise.
    note : str
        The trainer's, where they changed them.
    sentence : str
        Why, in kind words.
    """

    item: str
    worth: float
    points: float | None
    reckoned: float | None
    note: str
    sentence: str


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Assessment:
    """One trainee's answer against the ground.

    Attributes
    ----------
    submission : Submission
    pick, alternate : PickGround or None
        None: not handed in.
    layout, timetable : tuple of RuleCheck
        Empty where they were not handed in.
    items : tuple of ItemResult
        What was asked, in the order of `plan.exercise.ITEMS`.
    missed_factor : str
        Label of the factor by which the pick lost most against the best place; empty: none.
    """

    submission: Submission
    pick: PickGround | None
    alternate: PickGround | None
    layout: tuple[RuleCheck, ...]
    timetable: tuple[RuleCheck, ...]
    items: tuple[ItemResult, ...]
    missed_factor: str

    @property
    def trainee(self) -> str:
        """Whose answer it is."""
        return self.submission.trainee

    @property
    def worth(self) -> float:
        """What the marked parts are worth."""
        return sum(one.worth for one in self.items if one.points is not None)

    @property
    def points(self) -> float:
        """The sum of the marked parts."""
        return sum(one.points for one in self.items if one.points is not None)

    @property
    def percent(self) -> float:
        """Points in per cent of what the marked parts are worth."""
        return 100.0 * self.points / self.worth if self.worth else 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Spread:
    """How a class lies.

    Attributes
    ----------
    count : int
        Who handed in something.
    lowest, lower_quarter, middle, upper_quarter, highest : float
        Per cent; quarters by linear interpolation.
    """

    count: int
    lowest: float
    lower_quarter: float
    middle: float
    upper_quarter: float
    highest: float


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ClassResult:
    """Everyone's answers.

    Attributes
    ----------
    assessments : tuple of Assessment
        By name.
    absent : tuple of str
        Who handed in nothing.
    spread : Spread or None
        None where nobody handed in anything.
    missed : tuple of (label, count)
        Factors by how many lost most by them, the most frequent first.
    broken : tuple of (words, count)
        Limits by how many broke them, likewise.
    notes : tuple of str
        What must be said of the whole, sentences.
    """

    assessments: tuple[Assessment, ...]
    absent: tuple[str, ...]
    spread: Spread | None
    missed: tuple[tuple[str, int], ...]
    broken: tuple[tuple[str, int], ...]
    notes: tuple[str, ...]
