"""Which rules of a camp a trainee's layout keeps, and how nearly the others; distances as the plan sets them."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import combinations

import numpy as np

from sitepick.camp.door import steady_wind_from_deg
from sitepick.exercise.layout import Layout, Standing
from sitepick.exercise.model import PickGround, RuleCheck
from sitepick.units import bearing_between_deg

DOOR_LEAST_DEG, DOOR_MOST_DEG = 120.0, 150.0  # common practice: oblique to the wind, its back to it
_DOOR_SPAN_DEG = 60.0  # ours: so far off its rule a door counts for nothing
_MIDDLE_SLACK_M = 5.0  # ours
_HEIGHT_SLACK_M = 2.0  # ours: heights of a map are no nearer to the truth
_WATER_KINDS = ("drinking_water", "snow_for_water")
_NAMED_MAX = 4


def check_layout(layout: Layout, pick: PickGround | None, *, precision_m: float, door_tolerance_deg: float) -> tuple[
    RuleCheck, ...
]:  # fmt: skip
    """Every rule that the layout can be held against.

    Parameters
    ----------
    layout : Layout
    pick : PickGround or None
        Where the camp is to lie; None: nobody said.
    precision_m : float
        Width of the square that the coarsest of its references names: distances may fall short by so much.
    door_tolerance_deg : float
    """
    checks = [_every_shelter(layout), _facilities_there(layout)]
    if layout.shelters:
        checks.append(_on_good_ground(layout))
        checks += [] if pick is None else [_on_the_pick(layout, pick, precision_m)]
        checks += [_spacing(layout, precision_m)] if len(layout.shelters) > 1 else []
        checks += list(_doors(layout, door_tolerance_deg))
        checks += list(_leader_in_the_middle(layout))
        checks += list(_distances(layout, precision_m))
        checks += list(_downwind(layout))
        checks += list(_washing_below(layout))
    return tuple(checks)


def _listed(names: Sequence[str]) -> str:
    """Some names as people say them; of many the first few and how many more."""
    if len(names) > _NAMED_MAX:
        return f"{', '.join(names[:_NAMED_MAX])} and {len(names) - _NAMED_MAX} more"
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"


def _every_shelter(layout: Layout) -> RuleCheck:
    wanted = layout.standard.answer.plan.unit.shelters
    there = {one.shelter.name for one in layout.shelters if one.shelter is not None}
    missing = [shelter.name for shelter in wanted if shelter.name not in there]
    sentence = "Every shelter has its place." if not missing else f"No place for {_listed(missing)}."
    return RuleCheck(name="shelters", kept_frac=1.0 - len(missing) / len(wanted), sentence=sentence)


def _facilities_there(layout: Layout) -> RuleCheck:
    missing = [] if layout.of_kind("latrine") else ["latrine"]
    missing += [] if layout.of_kind(*_WATER_KINDS) else ["place for water"]
    sentence = "Latrine and water have their places." if not missing else f"No {' and no '.join(missing)}."
    return RuleCheck(name="facilities", kept_frac=1.0 - len(missing) / 2.0, sentence=sentence)


def _on_good_ground(layout: Layout) -> RuleCheck:
    grid, limits = layout.standard.answer.ground.grid, layout.standard.limits
    bad: dict[str, list[str]] = {}
    for one in layout.shelters:
        cell = grid.cell_at(one.east_m, one.north_m)
        if not limits.can_pitch[cell]:
            words = [limit.words for limit in limits.limits if limit.is_out[cell]]
            bad.setdefault(words[0] if words else "is out of reach", []).append(one.name)
    count = sum(len(names) for names in bad.values())
    told = [f"Under {_listed(names)} the ground {words}." for words, names in bad.items()]
    sentence = " ".join(told) or "Every shelter stands on ground within limits."
    return RuleCheck(name="ground", kept_frac=1.0 - count / len(layout.shelters), sentence=sentence)


def _on_the_pick(layout: Layout, pick: PickGround, precision_m: float) -> RuleCheck:
    answer = layout.standard.answer
    grid = answer.ground.grid
    cells = set() if pick.piece is None else {tuple(cell) for cell in pick.piece.cells.tolist()}
    reach_m = 2.0 * layout.standard.radius_cells * grid.ground_cell_m + answer.plan.camp.spacing_m + precision_m

    def is_off(one: Standing) -> bool:
        away_m = layout.ground_m(one.east_m - pick.east_m, one.north_m - pick.north_m)
        return away_m > reach_m and grid.cell_at(one.east_m, one.north_m) not in cells

    off = [one.name for one in layout.shelters if is_off(one)]
    sentence = f"{_listed(off)} away from the pick." if off else "The camp lies on the pick."
    return RuleCheck(name="on_the_pick", kept_frac=1.0 - len(off) / len(layout.shelters), sentence=sentence)


def _spacing(layout: Layout, precision_m: float) -> RuleCheck:
    asked_m = layout.standard.answer.plan.camp.spacing_m
    pairs = sorted(
        (layout.apart_m(one, other), one.name, other.name)
        for one, other in combinations(layout.shelters, 2)
        if not _are_joined(one, other)
    )
    close = [pair for pair in pairs if pair[0] + precision_m < asked_m - 0.05]
    if not close:
        return RuleCheck(name="spacing", kept_frac=1.0, sentence=f"Shelters keep the spacing of {asked_m:.0f} m.")
    told = [f"{one} and {other} ({math.floor(apart_m):.0f} m)" for apart_m, one, other in close]
    return RuleCheck(
        name="spacing",
        kept_frac=(close[0][0] + precision_m) / asked_m,
        sentence=f"Closer than {asked_m:.0f} m: {_listed(told)}.",
    )


def _are_joined(one: Standing, other: Standing) -> bool:
    """Whether two shelters are pitched against each other, so that the two make one."""
    joined = {thing.shelter.joined_to for thing in (one, other) if thing.shelter is not None}
    return bool(joined & {thing.shelter.name for thing in (one, other) if thing.shelter is not None})


def _doors(layout: Layout, tolerance_deg: float) -> Iterator[RuleCheck]:
    plan = layout.standard.answer.plan
    from_deg = steady_wind_from_deg(plan)
    if from_deg is None:
        return
    least = min(DOOR_LEAST_DEG, plan.camp.door_off_wind_deg) - tolerance_deg
    most = max(DOOR_MOST_DEG, plan.camp.door_off_wind_deg) + tolerance_deg
    kept, wrong = [], []
    for one in layout.shelters:
        if one.door_deg is None:
            kept.append(0.0)
            wrong.append(f"{one.name} (not told)")
            continue
        off_deg = bearing_between_deg(one.door_deg, from_deg)
        past_deg = max(least - off_deg, off_deg - most, 0.0)
        kept.append(max(0.0, 1.0 - past_deg / _DOOR_SPAN_DEG))
        wrong += [f"{one.name} ({off_deg:.0f}° off the wind)"] if past_deg > 0.0 else []
    rule = f"Doors look {DOOR_LEAST_DEG:.0f} to {DOOR_MOST_DEG:.0f}° away from where the wind comes from"
    sentence = f"{rule}; not so: {_listed(wrong)}." if wrong else f"{rule}."
    yield RuleCheck(name="doors", kept_frac=float(np.mean(kept)), sentence=sentence)


def _leader_in_the_middle(layout: Layout) -> Iterator[RuleCheck]:
    leaders = [one for one in layout.shelters if one.shelter is not None and one.shelter.is_leaders]
    others = [one for one in layout.shelters if one not in leaders]
    if not leaders or len(others) < 2:
        return
    east_m, north_m = layout.centre_m

    def out_m(one: Standing) -> float:
        return layout.ground_m(one.east_m - east_m, one.north_m - north_m)

    usual_m = float(np.median([out_m(one) for one in others]))
    leader_m = max(out_m(one) for one in leaders)
    is_kept = leader_m <= usual_m + _MIDDLE_SLACK_M
    yield RuleCheck(
        name="leader",
        kept_frac=1.0 if is_kept else usual_m / leader_m,
        sentence="The leader's shelter stands in the middle."
        if is_kept
        else "The leader's shelter stands at the edge.",
    )


def _distances(layout: Layout, precision_m: float) -> Iterator[RuleCheck]:
    """What field sanitation and fire safety keep apart, and the walk to the latrine."""
    rules = layout.standard.answer.plan.camp.facilities
    shelters, cooking = layout.shelters, layout.of_kind("cooking")
    flames = layout.of_kind("fire", "cooking")
    asked = (
        ("latrine_from_water", "latrine", None, rules.latrine_from_water_m),
        ("latrine_from_shelters", "latrine", shelters, rules.latrine_from_shelters_m),
        ("latrine_from_cooking", "latrine", cooking, rules.latrine_from_cooking_m),
        ("waste_from_water", "waste", None, rules.waste_from_water_m),
        ("fire_from_shelters", "fire", shelters, rules.fire_from_shelters_m),
        ("cooking_from_shelters", "cooking", shelters, rules.fire_from_shelters_m),
        ("fuel_from_shelters", "fuel", shelters, rules.fuel_from_fire_m),
        ("fuel_from_fire", "fuel", flames, rules.fuel_from_fire_m),
    )
    for name, kind, others, least_m in asked:
        yield from _kept_apart(layout, name, layout.of_kind(kind), others, least_m, precision_m)
    latrines = layout.of_kind("latrine")
    if latrines:
        most_m = rules.latrine_walk_max_m
        walks = sorted(
            ((min(layout.apart_m(one, latrine) for latrine in latrines), one.name) for one in shelters), reverse=True
        )
        far = [f"{name} ({math.ceil(walk_m):.0f} m)" for walk_m, name in walks if walk_m - precision_m > most_m]
        yield RuleCheck(
            name="latrine_walk",
            kept_frac=most_m / (walks[0][0] - precision_m) if far else 1.0,
            sentence=f"More than {most_m:.0f} m to the latrine from {_listed(far)}."
            if far
            else f"At most {most_m:.0f} m to a latrine.",
        )


def _kept_apart(
    layout: Layout, name: str, things: tuple[Standing, ...], others: tuple[Standing, ...] | None, least_m: float,
    precision_m: float,
) -> Iterator[RuleCheck]:  # fmt: skip
    """Whether things keep a distance from others, or from water where `others` is None."""
    if not things or (others is not None and not others):
        return
    near = []
    for one in things:
        if others is None:
            near.append((layout.from_water_m(one), one.name, "water"))
        else:
            near.append(min((layout.apart_m(one, other), one.name, other.name) for other in others))
    away_m, thing, other = min(near)
    if away_m + precision_m >= least_m:
        what = "water" if others is None else name.rpartition("_from_")[2]
        yield RuleCheck(
            name=name, kept_frac=1.0, sentence=f"{_upper_first(thing)}: {least_m:.0f} m or more from {what}."
        )
        return
    yield RuleCheck(
        name=name,
        kept_frac=(away_m + precision_m) / least_m,
        sentence=f"{_upper_first(thing)} lies {math.floor(away_m):.0f} m from {other}: at least {least_m:.0f} m.",
    )


def _downwind(layout: Layout) -> Iterator[RuleCheck]:
    """A latrine to the windward of the camp."""
    answer = layout.standard.answer
    from_deg = steady_wind_from_deg(answer.plan)
    latrines = layout.of_kind("latrine")
    if from_deg is None or not latrines:
        return
    east_m, north_m = layout.centre_m
    to_wind = math.radians(from_deg - answer.ground.grid.convergence_deg(east_m, north_m))
    windward = []
    for one in latrines:
        east, north = one.east_m - east_m, one.north_m - north_m
        away = max(math.hypot(east, north), 1.0)
        windward.append((east * math.sin(to_wind) + north * math.cos(to_wind)) / away)
    worst = max(windward)
    is_kept = worst <= 0.5
    yield RuleCheck(
        name="latrine_downwind",
        kept_frac=1.0 if is_kept else max(0.0, 2.0 * (1.0 - worst)),
        sentence="No latrine lies to the windward." if is_kept else "A latrine lies to the windward of the camp.",
    )


def _washing_below(layout: Layout) -> Iterator[RuleCheck]:
    """Washing goes on below where water is drawn."""
    grid, height = layout.standard.answer.ground.grid, layout.standard.answer.ground.elevation_m
    drinking, washing = layout.of_kind("drinking_water"), layout.of_kind("washing")
    if not drinking or not washing:
        return
    low_m = min(float(height[grid.cell_at(one.east_m, one.north_m)]) for one in drinking)
    high_m = max(float(height[grid.cell_at(one.east_m, one.north_m)]) for one in washing)
    above_m = high_m - low_m
    is_kept = not above_m > _HEIGHT_SLACK_M
    yield RuleCheck(
        name="washing_below",
        kept_frac=1.0 if is_kept else max(0.0, 1.0 - above_m / 10.0),
        sentence="Washing lies below where water is drawn."
        if is_kept
        else f"Washing lies {above_m:.0f} m above where drinking water is drawn.",
    )


def _upper_first(text: str) -> str:
    return text[:1].upper() + text[1:]
