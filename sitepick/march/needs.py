"""What the day takes: effort, food, water, fuel, loads and the cautions of cold and sun on the march.

Planning figures: bodies differ by a quarter, formulas err by a tenth. What is ours says so.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from sitepick.caution import Caution
from sitepick.grid import DoubleArray
from sitepick.ground.model import Ground
from sitepick.march.effort import LegEffort, Spans, leg_efforts, person_w, read_spans, terrain_factors
from sitepick.march.energy import STANDING_W_PER_KG, kcal
from sitepick.march.model import March
from sitepick.march.needs_cautions import march_cautions, supply_cautions
from sitepick.march.sled_load import Sled, has_sleds, load_sleds, section_load_kg, sections_of
from sitepick.plan.model import Plan
from sitepick.terrain.melt import Melting, boiling_fuel_l, fuel_kg, melting_for
from sitepick.terrain.model import Terrain

CAMP_WORK_W_PER_KG = 4.0  # ours: digging, carrying and pitching, with pauses
SLEEP_W_PER_KG = 1.0  # common practice: a body at rest
SLEEP_MIN = 8 * 60.0
DAY_MIN = 24 * 60.0
WATER, SNOW, CARRY = "water", "snow", "carry"


@dataclass(frozen=True, slots=True, kw_only=True)
class Stop:
    """Where the unit stops tonight, as far as its needs depend on it.

    Attributes
    ----------
    row, col : int
        The cell.
    leave_m : float
        Distance along the route where the way to it leaves.
    detour_min, moving_min : float
        Minutes off the route, and on the move in all.
    water_min : float or None
        To the nearest water and back; None: none near.
    water_words : str
        Which, as a sentence.
    """

    row: int
    col: int
    leave_m: float
    detour_min: float
    moving_min: float
    water_min: float | None
    water_words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class DayEffort:
    """Food energy of one person over 24 hours, by what it goes into.

    Attributes
    ----------
    march_kcal, halts_kcal, camp_kcal, rest_kcal : float
        On the move, at halts, at work in camp, awake and asleep.
    """

    march_kcal: float
    halts_kcal: float
    camp_kcal: float
    rest_kcal: float

    @property
    def total_kcal(self) -> float:
        """All of it."""
        return self.march_kcal + self.halts_kcal + self.camp_kcal + self.rest_kcal


@dataclass(frozen=True, slots=True, kw_only=True)
class Needs:
    """What the unit needs for the day and the night.

    Attributes
    ----------
    legs : tuple of LegEffort
        As the march's legs.
    walk : DayEffort
        Of a person who carries, as far as tonight's stop; without one, to the end of the reach.
    pull : DayEffort or None
        Of a person in harness all the way; None without sleds.
    is_at_least : bool
        The depth of the snow isn't known: the effort is a lower bound.
    pulling_count : int
        People in harness at a time.
    unit_kcal, ration_kcal : float
        Of the whole unit; and what one person's food holds.
    water_l : float
        Of the whole unit.
    water_source : str
        `WATER`, `SNOW` or `CARRY`.
    water_words : str
        Where it comes from, as a sentence.
    melting : Melting
        What melting all of it would take.
    fuel_l, fuel_kg : float
        White gas to bring the water to the boil, from snow where it comes from snow.
    carried_kg : tuple of (section, kg)
        On one person's back.
    sleds : tuple of Sled
    cautions : tuple of Caution
    """

    legs: tuple[LegEffort, ...]
    walk: DayEffort
    pull: DayEffort | None
    is_at_least: bool
    pulling_count: int
    unit_kcal: float
    ration_kcal: float
    water_l: float
    water_source: str
    water_words: str
    melting: Melting
    fuel_l: float
    fuel_kg: float
    carried_kg: tuple[tuple[str, float], ...]
    sleds: tuple[Sled, ...]
    cautions: tuple[Caution, ...] = ()

    @property
    def hardest(self) -> DayEffort:
        """The day of those who have it hardest."""
        return self.pull or self.walk

    @property
    def short_kcal(self) -> float:
        """What a ration leaves open for those who have it hardest; 0 where it covers the day."""
        return max(0.0, self.hardest.total_kcal - self.ration_kcal)


def read_needs(plan: Plan, ground: Ground, terrain: Terrain, march: March, *, stop: Stop | None = None) -> Needs:
    """What the day takes.

    Parameters
    ----------
    plan : Plan
    ground : Ground
    terrain : Terrain
    march : March
    stop : Stop, optional
        Tonight's; without it the day runs to the end of the reach and water is melted.

    Returns
    -------
    Needs
    """
    spans = read_spans(plan, ground, terrain, march)
    legs = leg_efforts(plan, march, spans)
    sleds = load_sleds(plan)
    walk, pull = _days(plan, ground, terrain, march, spans, stop)
    people = plan.unit.people
    pulling = min(people, sum(sled.pullers for sled in sleds))
    pull_kcal = 0.0 if pull is None else pulling * (pull.total_kcal - walk.total_kcal)
    melting = melting_for(people, plan.weather.snow_density_kg_m3, plan.weather.temperature_c)
    source, words = _water(plan, stop)
    fuel_l = melting.boil_fuel_l if source == SNOW else boiling_fuel_l(melting.water_l)
    carried = tuple((section.name, section_load_kg(plan, section)) for section in sections_of(plan))
    needs = Needs(
        legs=legs,
        walk=walk,
        pull=pull,
        is_at_least=plan.weather.snow_cm is None,
        pulling_count=pulling,
        unit_kcal=people * walk.total_kcal + pull_kcal,
        ration_kcal=plan.load.ration_kcal,
        water_l=melting.water_l,
        water_source=source,
        water_words=words,
        melting=melting,
        fuel_l=fuel_l,
        fuel_kg=fuel_kg(fuel_l),
        carried_kg=carried,
        sleds=sleds,
    )
    cautions = (
        *march_cautions(plan, march, spans, legs, leave_m=None if stop is None else stop.leave_m),
        *supply_cautions(plan, sleds, carried, hardest_kcal=needs.hardest.total_kcal),
    )
    return replace(needs, cautions=cautions)


def _days(
    plan: Plan, ground: Ground, terrain: Terrain, march: March, spans: Spans, stop: Stop | None
) -> tuple[DayEffort, DayEffort | None]:
    """The day of one who carries, and of one in harness."""
    is_marched = np.ones(spans.end_m.shape, bool) if stop is None else spans.end_m <= stop.leave_m + 1.0
    minutes, walk_w, pull_w = spans.minutes[is_marched], spans.walk_w[is_marched], spans.harness_w[is_marched]
    if stop is not None and stop.detour_min > 0.0:
        off_walk_w, off_pull_w = _off_route_w(plan, ground, terrain, march, stop)
        minutes = np.append(minutes, stop.detour_min)
        walk_w, pull_w = np.append(walk_w, off_walk_w), np.append(pull_w, off_pull_w)
    moving_min = float(minutes.sum())
    elapsed_min = march.halt_rule.elapsed_min(moving_min if stop is None else stop.moving_min)
    halts_min = max(0.0, elapsed_min - (moving_min if stop is None else stop.moving_min))
    pitching_min = march.pitching_min
    left_min = max(0.0, DAY_MIN - moving_min - halts_min - pitching_min)
    sleep_min = min(SLEEP_MIN, left_min)
    body_kg = plan.load.body_kg
    rest_kcal = kcal(SLEEP_W_PER_KG * body_kg, sleep_min) + kcal(STANDING_W_PER_KG * body_kg, left_min - sleep_min)

    def day(watts: DoubleArray) -> DayEffort:
        return DayEffort(
            march_kcal=kcal(watts, minutes),
            halts_kcal=kcal(STANDING_W_PER_KG * body_kg, halts_min),
            camp_kcal=kcal(CAMP_WORK_W_PER_KG * body_kg, pitching_min),
            rest_kcal=rest_kcal,
        )

    return day(walk_w), day(walk_w + pull_w) if has_sleds(plan) else None


def _off_route_w(
    plan: Plan, ground: Ground, terrain: Terrain, march: March, stop: Stop
) -> tuple[DoubleArray, DoubleArray]:
    """Watts off the route, on the level over what lies at the stop; standing where its pace isn't known."""
    row, col = np.array([stop.row]), np.array([stop.col])
    min_per_100m = march.minutes_per_100m[row, col].astype(float)
    speed_ms = np.where(np.isfinite(min_per_100m), 100.0 / 60.0 / min_per_100m, 0.0)
    factor = terrain_factors(plan, ground, terrain, row, col, on_route=False)
    return person_w(plan, speed_ms, np.zeros(1), factor)


def _water(plan: Plan, stop: Stop | None) -> tuple[str, str]:
    """Where the water comes from, as a kind and as a sentence."""
    if stop is not None and stop.water_min is not None:
        return WATER, f"Water: {stop.water_words[0].lower()}{stop.water_words[1:]}"
    if plan.weather.snow_cm == 0.0:
        return CARRY, "No water near and no snow to melt: carry it from the last water on the way."
    if_any = "" if plan.weather.snow_cm else ", if there is any"
    near = "Water near isn't known before a site is" if stop is None else "No water near"
    return SNOW, f"{near}: melt snow{if_any}."
