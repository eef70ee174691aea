"""What to watch on the march: cold in the open, sun on snow, loads, food."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from sitepick.caution import Caution
from sitepick.march.effort import LegEffort, Spans
from sitepick.march.model import March
from sitepick.march.sled_load import Goods, Sled, has_sleds
from sitepick.plan.kit import usual_kit
from sitepick.plan.model import Plan

FREEZING_BANDS = ("high", "very high", "severe", "extreme")  # of terrain.chill: bare skin freezes within half an hour
SNOW_BLIND_MIN = 60.0  # common practice: an hour of bright sun on snow can do it
GLARE_NOON_DEG = 10.0  # ours: a sun that stays lower does not dazzle
LASTING_W = 450.0  # from memory: more than this few keep up for hours
HEAVY_FRAC = 0.45  # of body weight; from memory, the most for a march that isn't into a fight


def march_cautions(
    plan: Plan, march: March, spans: Spans, legs: Sequence[LegEffort], *, leave_m: float | None
) -> tuple[Caution, ...]:
    """Cautions of cold, sun and toil on the way to tonight's stop.

    Parameters
    ----------
    plan : Plan
    march : March
    spans : Spans
    legs : sequence of LegEffort
    leave_m : float or None
        Where the way to the stop leaves the route; None: all of the reach.
    """
    on_way = np.ones(spans.end_m.shape, bool) if leave_m is None else spans.end_m <= leave_m + 1.0
    marched = [leg for number, leg in enumerate(legs) if bool((on_way & (spans.leg == number)).any())]
    open_m = float(spans.length_m[on_way & spans.is_open].sum())
    return (
        *_cold(marched, open_m),
        *_sun(plan, march, float(spans.minutes[on_way & spans.is_open & spans.is_sunny].sum())),
        *_toil(marched),
    )


def supply_cautions(
    plan: Plan, sleds: Sequence[Sled], carried_kg: Sequence[tuple[str, float]], *, hardest_kcal: float
) -> tuple[Caution, ...]:
    """Cautions of sleds, backs, the kit list and food."""
    return (*_sleds(plan, sleds), *_backs(plan, carried_kg), *_kit(plan), *_food(plan, hardest_kcal))


def goods_words(goods: Sequence[Goods]) -> str:
    """Goods as a person lists them: ``2 × Snow shovel; Axe``; several sections' same things together."""
    counts: dict[str, int] = {}
    for one in goods:
        counts[one.name] = counts.get(one.name, 0) + one.count
    return "; ".join(f"{count} × {name}" if count > 1 else name for name, count in counts.items())


def _cold(legs: Sequence[LegEffort], open_m: float) -> list[Caution]:
    chills = [leg.chill for leg in legs if leg.chill is not None and leg.chill.frostbite.band in FREEZING_BANDS]
    if not chills or open_m <= 0.0:
        return []
    worst = min(chills, key=lambda chill: chill.felt_c)
    bite = worst.frostbite
    minutes = "" if bite.minutes is None else f", after about {bite.minutes:.0f} min in those it takes first"
    felt = f"{worst.felt_c:.0f}".replace("-", "−")
    text = (
        f"{open_m / 1000.0:.1f} km of the way lie open: at the night's lowest temperature and the forecast wind it "
        f"feels like {felt} °C there, and {bite.text}{minutes}. Cover faces and hands, and look at each other's skin "
        "at every halt."
    )
    return [Caution(kind="cold", text=text)]


def _sun(plan: Plan, march: March, sunny_min: float) -> list[Caution]:
    has_snow = plan.weather.snow_cm is None or plan.weather.snow_cm > 0.0
    if not has_snow or sunny_min < SNOW_BLIND_MIN or march.sun.noon_altitude_deg < GLARE_NOON_DEG:
        return []
    text = (
        f"Up to {sunny_min / 60.0:.1f} h of the march lie on open ground with the sun up: an hour of bright sun on "
        "snow can blind. Dark glasses or slit goggles before it dazzles, under thin cloud too."
    )
    return [Caution(kind="sun", text=text)]


def _toil(legs: Sequence[LegEffort]) -> list[Caution]:
    hard = [leg for leg in legs if (leg.pull_w if leg.pull_w is not None else leg.walk_w) > LASTING_W]
    if not hard:
        return []
    worst = max(hard, key=lambda leg: leg.pull_w if leg.pull_w is not None else leg.walk_w)
    watts = worst.pull_w if worst.pull_w is not None else worst.walk_w
    who = "those in harness" if worst.pull_w is not None else "everyone"
    text = (
        f"{worst.start_name} to {worst.end_name} asks about {round(watts, -1):.0f} W of {who}, more than most keep up "
        "for hours: go slower, change teams often, and nobody sweats through."
    )
    return [Caution(kind="march", text=text)]


def _sleds(plan: Plan, sleds: Sequence[Sled]) -> list[Caution]:
    told = []
    for sled in sleds:
        if sled.over_kg > 0.0:
            text = (
                f"{sled.name}: {sled.load_kg:.1f} kg, {sled.over_kg:.1f} kg over its limit of {sled.limit_kg:g} kg, "
                f"and no other sled has room. The least that must come off: {goods_words(sled.too_much)}."
            )
            told.append(Caution(kind="load", text=text))
    wanted = plan.load.sled_count
    if has_sleds(plan) and wanted is not None and wanted > len(sleds):
        text = f"{wanted - len(sleds)} of {wanted} sleds have nobody left to pull them: leave them at base."
        told.append(Caution(kind="load", text=text))
    return told


def _backs(plan: Plan, carried_kg: Sequence[tuple[str, float]]) -> list[Caution]:
    heaviest = max(kg for _, kg in carried_kg)
    share = heaviest / plan.load.body_kg
    if share <= HEAVY_FRAC:
        return []
    # A person's load is told as the same for all where it is.
    is_same = len({kg for _, kg in carried_kg}) == 1
    who = "Each person" if is_same else next(f"Each person of {name}" for name, kg in carried_kg if kg == heaviest)
    text = (
        f"{who} carries {heaviest:.0f} kg, {100 * share:.0f} % of body weight, more than the {100 * HEAVY_FRAC:.0f} % "
        "usually held to be the most on a march: share it out, or take sleds."
    )
    return [Caution(kind="load", text=text)]


def _kit(plan: Plan) -> list[Caution]:
    kit = plan.load.kit
    if not any(item.number * item.weight_kg for item in kit):
        text = "The kit list is empty or weighs nothing, so loads count as none: put on it what the unit takes along."
        return [Caution(kind="load", text=text)]
    if tuple(replace(item, is_ticked=False) for item in kit) == usual_kit():
        text = "Loads come from a usual kit list, not from your own: weigh what you take and set it on the Unit page."
        return [Caution(kind="load", text=text)]
    return []


def _food(plan: Plan, hardest_kcal: float) -> list[Caution]:
    short = hardest_kcal - plan.load.ration_kcal
    if short < 50.0:
        return []
    text = (
        f"The day takes about {round(hardest_kcal, -2):.0f} kcal of those who have it hardest, and a ration holds "
        f"{plan.load.ration_kcal:.0f}: issue about {round(short, -2) or 50:.0f} more, or spare them."
    )
    return [Caution(kind="food", text=text)]
