"""What the camp stage hands on: who goes where on the picked site."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from shapely import Polygon

from sitepick.caution import Caution
from sitepick.grid import DoubleArray, MaskArray
from sitepick.plan.shelter import Shelter
from sitepick.units import bearing_between_deg

_SAME_DEG = 0.05

# Key and name of every kind of facility, in the order they are told.
FACILITY_KINDS: tuple[tuple[str, str], ...] = (
    ("drinking_water", "Drinking water"),
    ("cooking_water", "Water for cooking"),
    ("washing", "Washing"),
    ("snow_for_water", "Clean snow for water"),
    ("latrine", "Latrine"),
    ("waste", "Waste"),
    ("cooking", "Cooking"),
    ("fire", "Fire"),
    ("stores", "Stores"),
    ("fuel", "Fuel"),
    ("racks", "Skis and weapons"),
    ("sled_park", "Sleds and vehicles"),
    ("medical", "Medical point"),
    ("pick_up", "Landing or pick-up"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedShelter:
    """A shelter and its place.

    Attributes
    ----------
    shelter : Shelter
    east_m, north_m : float
        Middle, grid coordinates.
    door_bearing_deg : float
        True bearing that the door looks to.
    slope_deg : float
        Steepest cell under the footprint.
    touches : str
        Name of the shelter that it is joined to; empty: none.
    is_pinned : bool
        The user put it there.
    """

    shelter: Shelter
    east_m: float
    north_m: float
    door_bearing_deg: float
    slope_deg: float
    touches: str = ""
    is_pinned: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Facility:
    """Something else a camp needs.

    Attributes
    ----------
    kind, name : str
        What it is, out of `FACILITY_KINDS`, and as told to people.
    east_m, north_m : float
        Grid coordinates.
    reason : str
        Why it lies there, in a sentence ("Downwind of every shelter, 85 m from the nearest water.").
    serves : tuple of str
        Names of the shelters that use it; empty: everyone.
    is_pinned : bool
        The user put it there.
    """

    kind: str
    name: str
    east_m: float
    north_m: float
    reason: str = ""
    serves: tuple[str, ...] = ()
    is_pinned: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Post:
    """Where a sentry stands, and what they watch.

    Attributes
    ----------
    name : str
    east_m, north_m : float
        Grid coordinates.
    left_bearing_deg, right_bearing_deg : float
        True bearings of the sector's edges, clockwise from left to right; the same twice where it watches all round.
    seen_frac : float
        Share of the sector's approaches, out to the distance that is watched, that is seen from here.
    is_pinned : bool
        The user put it there.
    """

    name: str
    east_m: float
    north_m: float
    left_bearing_deg: float
    right_bearing_deg: float
    seen_frac: float
    is_pinned: bool = False

    @property
    def is_all_round(self) -> bool:
        """A lone post, whose sector has no edges."""
        return bearing_between_deg(self.left_bearing_deg, self.right_bearing_deg) < _SAME_DEG


@dataclass(frozen=True, slots=True, kw_only=True)
class SubArea:
    """A section's part of the camp.

    Attributes
    ----------
    section : str
    outline_m : shapely.Polygon
        Grid coordinates; holds every shelter of the section, overlaps no other's.
    """

    section: str
    outline_m: Polygon


@dataclass(frozen=True, slots=True, kw_only=True)
class Security:
    """Who watches which side, and how one comes in.

    Attributes
    ----------
    perimeter_m : shapely.Polygon
        Round everything in the camp, grid coordinates.
    posts : tuple of Post
    seen_frac : float
        Share of the approaches that is seen from at least one post.
    dead_ground : MaskArray or None
        Cells of the approaches that no post sees; in a window of the grid.
    dead_ground_corner : (row, col)
        Where that window lies.
    alarm_east_m, alarm_north_m : float
        Where everyone gathers on alarm.
    way_in_m : float64 array of shape (n, 2)
        From where the unit leaves the route to the middle of the camp.
    dummy_trail_m : float64 array of shape (n, 2)
        Goes on past the site; empty where none serves.
    sentences : tuple of str
        What must be said about them.
    """

    perimeter_m: Polygon
    posts: tuple[Post, ...]
    seen_frac: float
    dead_ground: MaskArray | None
    dead_ground_corner: tuple[int, int]
    alarm_east_m: float
    alarm_north_m: float
    way_in_m: DoubleArray
    dummy_trail_m: DoubleArray
    sentences: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """One piece of work on arrival.

    Attributes
    ----------
    what, who : str
        As told to people.
    begin, end : datetime
        With their zone.
    people : int
    """

    what: str
    who: str
    begin: datetime
    end: datetime
    people: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Turn:
    """A turn of duty through the night.

    Attributes
    ----------
    duty : str
        Such as ``"post 1"`` or ``"stove, Tent 3"``.
    who : str
        Section or shelter that finds the people.
    begin, end : datetime
        With their zone.
    """

    duty: str
    who: str
    begin: datetime
    end: datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkOrder:
    """Who does what on arrival and through the night.

    Attributes
    ----------
    jobs : tuple of Job
        By their begin.
    ready : datetime
        When everyone is under shelter and the work is done.
    is_done_by_dark : bool or None
        None: the day has no dark.
    turns : tuple of Turn
        Sentries and stove watch.
    snow_l, fuel_l, boughs_m3, firewood_m3 : float or None
        To melt, burn, cut and gather; None: not asked for or not known.
    way_out : str
        For a casualty: to where, how far, how long.
    ticks : tuple of str
        To look at on arrival, one by one.
    """

    jobs: tuple[Job, ...]
    ready: datetime
    is_done_by_dark: bool | None
    turns: tuple[Turn, ...]
    snow_l: float | None
    fuel_l: float | None
    boughs_m3: float | None
    firewood_m3: float | None
    way_out: str
    ticks: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Camp:
    """The camp laid out.

    Attributes
    ----------
    site_rank : int
        Rank of the site it lies on.
    site_name : str
    spacing_m, min_distance_m : float
        Asked for, and kept: least distance between the middles of two shelters, on the ground;
        `min_distance_m` is 0 for a single shelter.
    shelters : tuple of PlacedShelter
    missing : tuple of Shelter
        Those that found no place; empty when everyone fits.
    facilities : tuple of Facility
    sub_areas : tuple of SubArea
    security : Security or None
        None where it was not laid out.
    work : WorkOrder or None
        None where it was not laid out.
    what_gives : tuple of str
        Where not everyone fits: what would make room, a sentence each, the cheapest first.
    entry_east_m, entry_north_m : float
        Where the way in meets the site, grid coordinates.
    cautions : tuple of Caution
    """

    site_rank: int
    site_name: str
    spacing_m: float
    min_distance_m: float
    shelters: tuple[PlacedShelter, ...]
    missing: tuple[Shelter, ...]
    facilities: tuple[Facility, ...]
    entry_east_m: float
    entry_north_m: float
    sub_areas: tuple[SubArea, ...] = ()
    security: Security | None = None
    work: WorkOrder | None = None
    what_gives: tuple[str, ...] = ()
    cautions: tuple[Caution, ...] = ()
