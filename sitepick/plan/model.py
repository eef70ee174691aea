"""The plan: what the user decides before leaving base.

One frozen document. It is changed by the pure functions in `edits` (or `dataclasses.replace`), it
is read and written by `file`, and every stage reads only the part that it needs: that is what
lets a stage's earlier result be used again.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from datetime import datetime, time
from pathlib import Path
from typing import Any

from sitepick.errors import SettingsError
from sitepick.plan.avalanche import AvalancheSettings
from sitepick.plan.delay import Delay
from sitepick.plan.exercise import Exercise
from sitepick.plan.facility import FacilitySettings
from sitepick.plan.factor import Factor
from sitepick.plan.further import FURTHER_NAMES, FurtherFactors
from sitepick.plan.handout import HandoutSettings
from sitepick.plan.journey import JourneySettings
from sitepick.plan.layout import LayoutSettings
from sitepick.plan.load import LoadSettings
from sitepick.plan.observer import Observer
from sitepick.plan.pace import PaceSettings
from sitepick.plan.pins import Pin
from sitepick.plan.pitching import PitchingRule
from sitepick.plan.security import SecuritySettings
from sitepick.plan.setting import check_settings, setting
from sitepick.plan.shelter import Shelter, ShelterKind, check_shelters
from sitepick.plan.weighting import SiteMark, Weighting, ring_crosses_itself
from sitepick.plan.work_order import WorkSettings

MODES = ("foot", "snowshoe", "ski", "vehicle")
LEGENDS = ("worldcover", "corine", "corine_grid", "nlcd", "nalcms", "cgls_lc100", "glc_fcs30")
ELEVATION_UNITS = ("metre", "foot", "us_survey_foot", "centimetre", "decimetre")
WIND_ROSE_SLACK = 0.01  # how far the shares of a rose may be from 1: they come rounded
ELEVATION_KINDS = ("terrain", "surface", "unknown")

YEAR_FIRST, YEAR_LAST = 1900, 2052  # what the tables of the sun reach over

LonLat = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class GroundSource:
    """The files that the ground is read from.

    Attributes
    ----------
    elevation, cover : tuple of Path
        Raster files, one or several tiles each; absolute paths.
    legend : str or Path
        A name out of `LEGENDS`, or the path of the user's own legend (CSV).
    elevation_unit : str or None
        Out of `ELEVATION_UNITS`; None: what the file says, metres where it says nothing.
    elevation_kind : str
        ``"terrain"`` (bare ground), ``"surface"`` (tree tops) or ``"unknown"``.
    elevation_error_m : float or None
        Vertical error, one standard deviation, that neighbouring cells don't share; None: what is
        usual for the kind of model and its cells.
    canopy_height : tuple of Path
        Rasters of tree height in metres; may be empty.
    streams, tracks, no_go : tuple of Path
        Vector files; may be empty.
    evergreen_of_forest_frac : float or None
        What the user says of forest whose leaf type the legend doesn't know; None: unknown.
    """

    elevation: tuple[Path, ...]
    cover: tuple[Path, ...]
    legend: str | Path
    elevation_unit: str | None = setting(
        None, label="unit of the heights", choices=ELEVATION_UNITS, help="Leave empty to take what the file says."
    )
    elevation_kind: str = setting(
        "unknown", label="kind of elevation model", choices=ELEVATION_KINDS,
        help="A surface model follows the tree tops, a terrain model the ground.",
    )  # fmt: skip
    elevation_error_m: float | None = setting(
        None, label="error of the heights", unit="m", low=0.0, high=30.0,
        help="One standard deviation, between neighbouring cells; leave empty for what is usual.",
    )  # fmt: skip
    canopy_height: tuple[Path, ...] = ()
    streams: tuple[Path, ...] = ()
    tracks: tuple[Path, ...] = ()
    no_go: tuple[Path, ...] = ()
    evergreen_of_forest_frac: float | None = setting(
        None, label="evergreen share of forest", low=0.0, high=1.0,
        help="How much of the forest keeps its needles, where the cover file can't tell.",
    )  # fmt: skip

    def __post_init__(self) -> None:
        if not self.elevation:
            raise SettingsError("the plan names no elevation file", fix="add at least one elevation raster")
        if not self.cover:
            raise SettingsError("the plan names no cover file", fix="add at least one land-cover raster")
        if isinstance(self.legend, str) and self.legend not in LEGENDS:
            raise SettingsError(
                f"the legend {self.legend!r} is not known",
                fix=f"use one of {', '.join(LEGENDS)}, or the path of a legend of your own (.csv)",
            )
        check_settings(self)


@dataclass(frozen=True, slots=True, kw_only=True)
class Unit:
    """Who marches and what they sleep in.

    Attributes
    ----------
    people : int
        Heads, 1-400.
    shelters : tuple of Shelter
        Every shelter the unit puts up, the leader's marked; at least one.
    shelter_kinds : tuple of ShelterKind
        The user's own kinds, besides those that there always are.
    """

    people: int = setting(label="people", low=1, high=400, help="Everyone who sleeps in the camp.")
    shelters: tuple[Shelter, ...]
    shelter_kinds: tuple[ShelterKind, ...] = ()

    def __post_init__(self) -> None:
        check_settings(self)
        check_shelters(self.shelters, self.people, self.shelter_kinds)


@dataclass(frozen=True, slots=True, kw_only=True)
class Weather:
    """What is forecast for the night. None: not known.

    Attributes
    ----------
    wind_from_deg, wind_kmh, temperature_c, snow_cm : float or None
        Bearing the wind comes *from* (true), its speed at 10 m in the open, air temperature,
        depth of the snow on open ground.
    snow_density_kg_m3 : float
        Of the snow that would be melted.
    wind_rose : tuple of (from_deg, share, kmh)
        Instead of one wind: how often it comes from where, shares of the time that sum to 1, and how
        fast then. Empty: none.
    """

    wind_from_deg: float | None = setting(
        None, label="wind from", unit="°", low=0.0, high=360.0, help="True bearing that the wind comes from."
    )
    wind_kmh: float | None = setting(
        None, label="wind speed", unit="km/h", low=0.0, high=250.0, help="In the open, at 10 m, as forecast."
    )
    temperature_c: float | None = setting(
        None, label="temperature", unit="°C", low=-80.0, high=50.0, help="Lowest expected during the night."
    )
    snow_cm: float | None = setting(
        None, label="snow depth", unit="cm", low=0.0, high=1000.0, help="On open ground along the route."
    )
    snow_density_kg_m3: float = setting(
        200.0, label="density of the snow", unit="kg/m³", low=30.0, high=900.0,
        help="Of the snow to wade and to melt: 50 fresh powder, 200 settled, 400 packed by the wind.",
    )  # fmt: skip
    wind_rose: tuple[tuple[float, float, float], ...] = ()

    def __post_init__(self) -> None:
        check_settings(self)
        if self.wind_rose:
            self._check_wind_rose()

    def _check_wind_rose(self) -> None:
        if self.wind_from_deg is not None or self.wind_kmh is not None:
            raise SettingsError(
                "the weather holds both one wind and a wind rose", fix="leave wind_from_deg and wind_kmh empty"
            )
        for from_deg, share, kmh in self.wind_rose:
            # Written so that what is no number fails.
            if not (0.0 <= from_deg <= 360.0 and 0.0 <= share <= 1.0 and 0.0 <= kmh <= 250.0):
                raise SettingsError(
                    f"the wind rose holds {from_deg:g}°, a share of {share:g}, {kmh:g} km/h",
                    fix="give bearings of 0 to 360°, shares of 0 to 1 and speeds of 0 to 250 km/h",
                )
        total = sum(share for _, share, _ in self.wind_rose)
        if abs(total - 1.0) > WIND_ROSE_SLACK:
            raise SettingsError(f"the shares of the wind rose sum to {total:.2f}", fix="make them sum to 1")

    @property
    def main_wind_from_deg(self) -> float | None:
        """Bearing that the wind comes from; the most frequent one of a rose; None: not known."""
        if not self.wind_rose:
            return self.wind_from_deg
        return max(self.wind_rose, key=lambda ray: ray[1])[0]

    @property
    def mean_wind_kmh(self) -> float | None:
        """Speed of the wind; the mean over the time of a rose; None: not known."""
        if not self.wind_rose:
            return self.wind_kmh
        return sum(share * kmh for _, share, kmh in self.wind_rose) / sum(share for _, share, _ in self.wind_rose)


@dataclass(frozen=True, slots=True, kw_only=True)
class MarchSettings:
    """How and when the unit moves.

    Attributes
    ----------
    depart : datetime
        With its zone.
    mode : str
        Out of `MODES`.
    has_sled, trail_broken, tracks_packed : bool
        A loaded sled behind; the route's trail is broken already; mapped tracks are packed.
    level_kmh : float or None
        The user's own speed on level open ground; None: the mode's rate.
    pace_error_frac : float
        Share by which speed may be off; early and late reach are at +/- this.
    first_halt_after_min, halt_every_min, halt_min : float
        Halts follow the clock; `halt_min` 0: none.
    long_halt_at : time or None, long_halt_min : float
        One longer halt (food) at a time of day.
    delay_min : float
        Lost on the way for other reasons.
    pitching_min : float or None
        From the last person's arrival to everyone under shelter; None: by the rule.
    pitching : PitchingRule
    delays : tuple of Delay
        Stops that the user foresees, each at a place or a time.
    camp_by_hour : time or None
        The user's latest arrival; needed where the day has no dusk or no light; elsewhere it
        can only make camp-by earlier, unless the march may end in the dark.
    camp_in_dark : bool
        Whether the user's hour counts past the end of useful light too.
    ice_cm : float or None
        Clear ice measured by the user on lakes and rivers; None: not checked, so not crossed.
    pace : PaceSettings
        What the speed is reckoned from.
    """

    depart: datetime
    mode: str = setting("ski", label="mode", choices=MODES, help="How the unit moves.")
    has_sled: bool = False
    trail_broken: bool = False
    tracks_packed: bool = True
    level_kmh: float | None = setting(
        None, label="speed on the level", unit="km/h", low=0.2, high=40.0, help="Leave empty for the mode's rate."
    )
    pace_error_frac: float = setting(
        0.2, label="pace error", low=0.0, high=0.6, help="How far the speed may be off, as a share."
    )
    first_halt_after_min: float = setting(
        25.0, label="first halt after", unit="min", low=5.0, high=180.0, help="To shed clothing once warm."
    )
    halt_every_min: float = setting(60.0, label="halt every", unit="min", low=10.0, high=240.0)
    halt_min: float = setting(10.0, label="length of a halt", unit="min", low=0.0, high=60.0)
    long_halt_at: time | None = None
    long_halt_min: float = setting(0.0, label="long halt", unit="min", low=0.0, high=240.0)
    delay_min: float = setting(0.0, label="delay", unit="min", low=0.0, high=600.0)
    pitching_min: float | None = setting(
        None, label="pitching time", unit="min", low=0.0, high=480.0,
        help="75 for drilled crews in tents, 120 with digging or log work; leave empty to follow the rule.",
    )  # fmt: skip
    pitching: PitchingRule = field(default_factory=PitchingRule)
    delays: tuple[Delay, ...] = ()
    camp_by_hour: time | None = None
    camp_in_dark: bool = False
    ice_cm: float | None = setting(
        None, label="clear ice", unit="cm", low=0.0, high=300.0, help="Measured on the ice itself; empty: not checked."
    )
    pace: PaceSettings = field(default_factory=PaceSettings)

    def __post_init__(self) -> None:
        check_settings(self)
        if self.depart.tzinfo is None:
            raise SettingsError("the departure has no time zone", fix="add the offset, such as 2026-01-15T08:00+01:00")
        if not YEAR_FIRST <= self.depart.year <= YEAR_LAST:
            raise SettingsError(
                f"the departure lies in the year {self.depart.year}, outside {YEAR_FIRST} to {YEAR_LAST}",
                fix="give the date of the march",
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class Preferences:
    """The factors that rank a site, and the ground that is out whatever it offers.

    Attributes
    ----------
    forest : Factor
        Measure: share of the ground under evergreen canopy, 0-1.
    slope : Factor
        Measure: mean slope over 30 m, degrees.
    wind : Factor
        Measure: share of open-field wind that reaches a shelter; the limit is held against the
        worst of the rays within 15 degrees of the forecast.
    water : Factor
        Measure: minutes from the site to the nearest water and back.
    room : Factor
        Measure: shelters that fit beyond the unit's need.
    progress : Factor
        Measure: how much of the day's reach along the route lies behind where the way to the site
        leaves it, 0-1.
    detour : Factor
        Measure: extra one-way minutes off the route.
    cell_slope_max_deg : float
        No cell under a shelter's footprint may be steeper.
    water_clear_m : float
        Shelters keep this far from open water.
    site_count_max : int
        How many sites are listed.
    weighting : Weighting
        How the factors become one score, and what the ranking is tried against.
    further : FurtherFactors
        What else can count; measured only where it has a weight or a limit.
    """

    forest: Factor = Factor(
        weight=25.0,
        curve=((0.0, 0.0), (0.2, 0.2), (0.6, 0.8), (0.8, 1.0)),
    )  # common practice: dense evergreens well above open ground
    slope: Factor = Factor(
        weight=15.0,
        limit_max=5.7,
        curve=((1.0, 1.0), (3.0, 0.8), (5.7, 0.2)),
    )  # common practice: 2-4 % best, 10 % the limit for a whole unit
    wind: Factor = Factor(
        weight=20.0,
        limit_max=1.0,
        curve=((0.1, 1.0), (0.3, 0.8), (0.6, 0.3), (1.0, 0.0)),
    )  # common practice: 10-30 % of the open wind in closed conifers
    water: Factor = Factor(
        weight=10.0,
        curve=((5.0, 1.0), (15.0, 0.7), (40.0, 0.1), (60.0, 0.0)),
    )  # common practice: near water is a bonus, snow is the fallback
    room: Factor = Factor(
        weight=10.0,
        limit_min=0.0,
        curve=((0.0, 0.4), (3.0, 0.8), (8.0, 1.0)),
    )  # common practice: everyone on one site, at the spacing
    progress: Factor = Factor(
        weight=12.0,
        limit_min=0.5,
        curve=((0.0, 0.0), (0.5, 0.3), (0.9, 1.0)),
    )  # ours: a stop before half the day's march is no stop for the night
    detour: Factor = Factor(
        weight=8.0,
        limit_max=60.0,
        curve=((5.0, 1.0), (20.0, 0.7), (60.0, 0.0)),
    )  # ours: a minute off the route costs two, in and out
    cell_slope_max_deg: float = setting(
        10.0, label="steepest cell under a shelter", unit="°", low=0.5, high=30.0,
        help="No cell under a shelter's footprint may be steeper.",
    )  # fmt: skip
    water_clear_m: float = setting(
        30.0, label="distance from water", unit="m", low=0.0, high=500.0, help="Shelters keep this far from water."
    )
    site_count_max: int = setting(7, label="sites listed", low=1, high=40)
    weighting: Weighting = field(default_factory=Weighting)
    further: FurtherFactors = field(default_factory=FurtherFactors)

    def __post_init__(self) -> None:
        check_settings(self)
        if sum(factor.weight for _, factor in self.factors()) <= 0.0:
            raise SettingsError("every weight is 0", fix="give at least one factor a weight")

    def factor(self, name: str) -> Factor:
        """One factor's setting."""
        held: Factor = getattr(self.further if name in FURTHER_NAMES else self, name)
        return held

    def factors(self) -> tuple[tuple[str, Factor], ...]:
        """Name and setting of each factor, in the order they are told."""
        return tuple((name, self.factor(name)) for name in FACTOR_NAMES)

    def measured_factors(self) -> tuple[tuple[str, Factor], ...]:
        """Those that sites are measured by: the main ones, and of the others those with a weight or a limit."""
        return tuple((name, factor) for name, factor in self.factors() if name in MAIN_NAMES or factor.is_asked)

    def with_factor(self, name: str, factor: Factor) -> Preferences:
        """The same with another setting for one factor."""
        if name in FURTHER_NAMES:
            return replace(self, further=replace(self.further, **{name: factor}))
        changed: dict[str, Any] = {name: factor}
        return replace(self, **changed)


MAIN_NAMES = ("forest", "slope", "wind", "water", "room", "progress", "detour")
FACTOR_NAMES = MAIN_NAMES + FURTHER_NAMES


@dataclass(frozen=True, slots=True, kw_only=True)
class CampSettings:
    """How the camp is laid out.

    Attributes
    ----------
    spacing_m : float
        Least distance between the middles of two shelters, on the ground.
    door_off_wind_deg : float
        Angle from the bearing that the wind comes from to the door, 120-150 by common practice.
    facilities : FacilitySettings
        Latrines, water, fire, stores and the distances between them.
    security : SecuritySettings
        Posts and how far out they watch.
    work : WorkSettings
        Work on arrival and duties through the night.
    layout : LayoutSettings
        What makes one place for a shelter better than another.
    pins : tuple of Pin
        What the user has put in its place by hand.
    """

    spacing_m: float = setting(
        54.864, label="spacing", unit="m", low=3.0, high=500.0,
        help="60 yd keeps one burst from harming two tents; 10-15 m where dispersal doesn't matter.",
    )  # fmt: skip
    door_off_wind_deg: float = setting(
        135.0, label="door off the wind", unit="°", low=90.0, high=180.0,
        help="Oblique to the wind: straight downwind drifts up.",
    )  # fmt: skip
    facilities: FacilitySettings = field(default_factory=FacilitySettings)
    security: SecuritySettings = field(default_factory=SecuritySettings)
    work: WorkSettings = field(default_factory=WorkSettings)
    layout: LayoutSettings = field(default_factory=LayoutSettings)
    pins: tuple[Pin, ...] = ()

    def __post_init__(self) -> None:
        check_settings(self)


@dataclass(frozen=True, slots=True, kw_only=True)
class Route:
    """A way drawn by the user.

    Attributes
    ----------
    name : str
        As told to people.
    points : tuple of (lon_deg, lat_deg)
        At least two; WGS 84.
    point_names : tuple of str or None
        What each point is called, None where it has no name; empty where none has.
    """

    name: str
    points: tuple[LonLat, ...]
    point_names: tuple[str | None, ...] = ()

    def __post_init__(self) -> None:
        if not any(self.point_names):
            object.__setattr__(self, "point_names", ())
        elif len(self.point_names) != len(self.points):
            raise SettingsError(
                f"the route {self.name!r} has {len(self.points)} points and {len(self.point_names)} names for them",
                fix="give one name a point, null where it has none",
            )
        if len(self.points) < 2:
            raise SettingsError(
                f"the route {self.name!r} has {len(self.points)} point{'s' * (len(self.points) != 1)}",
                fix="draw at least a start and an end",
            )
        for lon, lat in self.points:
            if not (-180.0 <= lon <= 180.0 and -90.0 <= lat <= 90.0):
                raise SettingsError(
                    f"the route {self.name!r} has a point at longitude {lon:g}, latitude {lat:g}",
                    fix="give longitude and latitude in degrees, longitude first",
                )

    @property
    def names_by_point(self) -> tuple[str | None, ...]:
        """What each point is called, one entry a point."""
        return self.point_names or (None,) * len(self.points)


@dataclass(frozen=True, slots=True, kw_only=True)
class Area:
    """A piece of ground marked by the user.

    Attributes
    ----------
    name : str
        As told to people.
    role : str
        ``"no_go"``: nobody marches or camps there; ``"site"``: the user's own site, measured like any other.
    ring : tuple of (lon_deg, lat_deg)
        Outer ring, closed or not, at least three different points.
    """

    name: str
    role: str = setting("no_go", label="meaning of the area", choices=("no_go", "site"))
    ring: tuple[LonLat, ...]

    def __post_init__(self) -> None:
        check_settings(self)
        if len(set(self.ring)) < 3:
            raise SettingsError(f"the area {self.name!r} has fewer than three corners", fix="draw it again")
        if self.role == "site" and ring_crosses_itself(self.ring):
            raise SettingsError(
                f"the outline of the site {self.name!r} crosses itself", fix="draw it as one loop, corner after corner"
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """Everything the user decides; frozen.

    Attributes
    ----------
    name, note : str
        Title and free text.
    ground, unit, weather, avalanche, march, preferences, camp, load
        The parts that the stages read.
    route : Route
        Tonight's route.
    alternatives : tuple of Route
        Other named routes, kept for comparison.
    areas : tuple of Area
        Marked ground.
    site_marks : tuple of SiteMark
        Names, pins and the like of sites, by place.
    observers : tuple of Observer
        Marked places that somebody may look from, beside tracks and roads.
    handout : HandoutSettings
        The paper, and the leader's own lines in the order; no stage reads them.
    journey : JourneySettings
        How the routes are cut into days; tonight doesn't read it.
    exercise : Exercise
        Marks on the ground, and what trainees are given, asked and worth.
    """

    name: str
    ground: GroundSource
    unit: Unit
    march: MarchSettings
    route: Route
    note: str = ""
    weather: Weather = field(default_factory=Weather)
    avalanche: AvalancheSettings = field(default_factory=AvalancheSettings)
    preferences: Preferences = field(default_factory=Preferences)
    camp: CampSettings = field(default_factory=CampSettings)
    load: LoadSettings = field(default_factory=LoadSettings)
    handout: HandoutSettings = field(default_factory=HandoutSettings)
    journey: JourneySettings = field(default_factory=JourneySettings)
    exercise: Exercise = field(default_factory=Exercise)
    alternatives: tuple[Route, ...] = ()
    areas: tuple[Area, ...] = ()
    site_marks: tuple[SiteMark, ...] = ()
    observers: tuple[Observer, ...] = ()
