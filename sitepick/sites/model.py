"""What the sites stage hands on: places where the whole unit can camp, ranked, each with its reasons."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from datetime import datetime
from typing import TYPE_CHECKING

import numpy as np
import numpy.typing as npt
from shapely import Polygon

from sitepick.caution import Caution
from sitepick.grid import FloatArray, Grid, MaskArray

if TYPE_CHECKING:
    from sitepick.sites.measured import Kept


@dataclass(frozen=True, slots=True, kw_only=True)
class Measure:
    """One factor of one site.

    Attributes
    ----------
    name, label : str
        As in the files, and as told to people.
    value : float or None
        In `unit`; None: not known.
    unit : str
    score, score_high : float
        0-1; `score` ranks (the lower bound where the value is not known), `score_high` is the
        upper bound and equals `score` where the value is known.
    weight : float
        Share of the whole, all factors sum to 1.
    limit_min, limit_max : float or None
    within_limit : bool
    sentence : str
        The value in plain words ("three quarters of the ground is under evergreens").
    """

    name: str
    label: str
    value: float | None
    unit: str
    score: float
    score_high: float
    weight: float
    limit_min: float | None
    limit_max: float | None
    within_limit: bool
    sentence: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Site:
    """A camp-sized piece of ground with room for the whole unit at its spacing.

    Attributes
    ----------
    rank : int
        1 is the pick; the alternate is `Sites.alternate`, mostly 2.
    name : str
        From its place in the land ("Bench north of the river"), unlike any other.
    outline_m : shapely.Polygon
        Grid coordinates; no two sites overlap.
    east_m, north_m : float
        A point inside, the middle of the camp.
    area_m2 : float
        On the ground.
    capacity : int
        Shelters that fit at the spacing (all that fit, not only the unit's).
    arrive : datetime
    moving_min, detour_min : float
    leave_distance_m : float
        Distance along the route where the way to the site leaves it.
    measures : tuple of Measure
        In the order of `plan.model.FACTOR_NAMES`.
    score, score_high : float
        0-100, lower and upper bound.
    firm_share, top_three_share, out_of_limits_share : float or None
        Share of draws in which the site is first, is among the first three, is past a limit or out of reach;
        None until computed.
    reason : str
        Why it stands at its rank, in one or two sentences.
    cautions : tuple of Caution
    return_min : float
        Minutes on the move from the site back to the route, at the place nearest in time; NaN where it isn't known.
    rejoin_distance_m : float
        How far along the route that place lies; NaN likewise.
    is_own, is_pinned : bool
        Drawn by the user; kept in the list whatever its rank.
    cells : int64 array of shape (n, 2) or None
        Row and column of the ground that it was measured on; the outline lies within it. None where nobody looked.
    """

    rank: int
    name: str
    outline_m: Polygon
    east_m: float
    north_m: float
    area_m2: float
    capacity: int
    arrive: datetime
    moving_min: float
    detour_min: float
    leave_distance_m: float
    measures: tuple[Measure, ...]
    score: float
    score_high: float
    firm_share: float | None
    reason: str
    cautions: tuple[Caution, ...] = ()
    return_min: float = math.nan
    rejoin_distance_m: float = math.nan
    top_three_share: float | None = None
    out_of_limits_share: float | None = None
    is_own: bool = False
    is_pinned: bool = False
    cells: npt.NDArray[np.int64] | None = field(default=None, compare=False, repr=False)

    def measure(self, name: str) -> Measure:
        """The measure with this name."""
        for measure in self.measures:
            if measure.name == name:
                return measure
        raise KeyError(name)


@dataclass(frozen=True, slots=True, kw_only=True)
class Hindrance:
    """One reason why ground in reach is out.

    Attributes
    ----------
    name : str
        Short key ("slope", "water", "wind", "room", "avalanche", "wet", "unknown", "no_go", "reach").
    text : str
        A sentence with its share of the ground in reach.
    fix : str
        What to relax and what that would bring.
    excluded_frac : float
        Share of the ground in reach that this alone excludes.
    spacing_m : float or None
        The spacing that `fix` names, where a smaller one would make room.
    """

    name: str
    text: str
    fix: str
    excluded_frac: float
    spacing_m: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class SplitPart:
    """One of two places that hold the unit between them.

    Attributes
    ----------
    name : str
        From its place in the land.
    outline_m : shapely.Polygon
        Grid coordinates.
    east_m, north_m : float
        The middle of it.
    capacity : int
        Shelters that fit.
    shelters : tuple of str
        Names of those that go there.
    people : int
        Who sleep in them.
    arrive : datetime
    """

    name: str
    outline_m: Polygon
    east_m: float
    north_m: float
    capacity: int
    shelters: tuple[str, ...]
    people: int
    arrive: datetime


PART_LETTERS = ("A", "B")  # what the two parts are called on maps


@dataclass(frozen=True, slots=True, kw_only=True)
class Split:
    """The unit on two near sites, where no place holds all of it.

    Attributes
    ----------
    parts : two SplitPart
        The one with more of the unit, and its leaders, first.
    apart_m : float
        Between the middles, on the ground.
    cautions : tuple of Caution
    """

    parts: tuple[SplitPart, SplitPart]
    apart_m: float
    cautions: tuple[Caution, ...]

    @property
    def text(self) -> str:
        """The split in two sentences."""
        larger, smaller = self.parts
        verb = "goes" if len(smaller.shelters) == 1 else "go"
        return (
            f"No place holds the whole unit, but two {self.apart_m:.0f} m apart do: {len(larger.shelters)} shelters "
            f"with {larger.people} people at A, {larger.name}, {len(smaller.shelters)} with {smaller.people} at B, "
            f"{smaller.name}. To {smaller.name} {verb} {_listed(smaller.shelters)}; all others to "
            f"{larger.name}."
        )


def _listed(names: tuple[str, ...]) -> str:
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Topple:
    """The smallest single change that takes the pick from its place.

    Attributes
    ----------
    name : str
        A factor whose weight changes, or "wind direction", "wind speed", "pace", "ground".
    text : str
        The change ("a pace 12 % slower").
    error_units : float
        How large it is, in units of its own stated error.
    then_first : int or None
        Rank of the site that is first then; None where none is left or where that one isn't listed.
    """

    name: str
    text: str
    error_units: float
    then_first: int | None


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnSite:
    """A site of the user's own that is past a limit, so that it isn't listed.

    Attributes
    ----------
    name : str
    text : str
        Which limits fail and by how much, and where it would stand otherwise.
    measures : tuple of Measure
        Over all its ground; empty where that isn't known.
    score : float or None
        0-100, as if it kept the limits.
    """

    name: str
    text: str
    measures: tuple[Measure, ...]
    score: float | None


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Sites:
    """The ranked sites, and why other ground is out.

    Attributes
    ----------
    grid : Grid
    sites : tuple of Site
        By rank; may be empty.
    need_count : int
        Shelters the unit puts up.
    can_pitch : bool array of the grid's shape, read-only
        Cells within every limit that a shelter's footprint may cover.
    water_min : float32 array of the grid's shape, read-only
        Minutes on foot to the nearest water and back; NaN beyond `water_limit_min` and outside `water_window`.
    water_limit_min : float
    water_window : tuple of slice or None
        Rows and columns that were looked at; None where there was nothing to look at.
    reach_area_m2 : float
    unknown_share : float
        Of the ground in reach.
    hindrances : tuple of Hindrance
        Most limiting first.
    cautions : tuple of Caution
    alternate_rank : int or None
        The site to fall back on; None where there is no second.
    alternate_words : str
        Why it isn't simply the second; empty where it is.
    topple : Topple or None
        None where no single change does it, or until computed.
    is_drawn : bool
        Whether the shares of the draws, and `topple`, were computed.
    own_failed : tuple of OwnSite
        Sites of the user's own that are past a limit.
    hidden_count : int
        Sites that the user hid.
    split : Split or None
        Two sites for the unit where none holds all of it; None where one does, or no two near ones do either.
    kept : Kept or None
        What the search found out, for the next question about the same ground.
    """

    grid: Grid
    sites: tuple[Site, ...]
    need_count: int
    can_pitch: MaskArray
    water_min: FloatArray
    water_limit_min: float
    water_window: tuple[slice, slice] | None
    reach_area_m2: float
    unknown_share: float
    hindrances: tuple[Hindrance, ...]
    cautions: tuple[Caution, ...] = ()
    alternate_rank: int | None = None
    alternate_words: str = ""
    topple: Topple | None = None
    is_drawn: bool = False
    own_failed: tuple[OwnSite, ...] = ()
    hidden_count: int = 0
    split: Split | None = None
    kept: Kept | None = None

    @property
    def alternate(self) -> Site | None:
        """The site to fall back on."""
        if self.alternate_rank is None:
            return self.sites[1] if len(self.sites) > 1 else None
        return next(site for site in self.sites if site.rank == self.alternate_rank)

    @property
    def layers(self) -> dict[str, FloatArray]:
        """What the further factors that the plan asks for were read from, by factor."""
        return {} if self.kept is None else self.kept.layers

    def pick_and_alternate(self) -> tuple[Site, ...]:
        """The pick and the site to fall back on, as far as there are any."""
        alternate = self.alternate
        return self.sites[:1] if alternate is None else (self.sites[0], alternate)

    def __post_init__(self) -> None:
        self.can_pitch.flags.writeable = False
        self.water_min.flags.writeable = False
