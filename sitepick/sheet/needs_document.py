"""Effort and needs for other programs: the key ``needs`` of ``tonight.json``."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from sitepick.march.effort import LegEffort
from sitepick.march.needs import DayEffort, Needs
from sitepick.march.sled_load import Goods, Sled
from sitepick.plan.model import Plan


def needs_document(needs: Needs, plan: Plan) -> dict[str, Any]:
    """The needs as plain values.

    Parameters
    ----------
    needs : Needs
    plan : Plan
        Its body weight and kit list are told with them.
    """
    return {
        "legs": [_leg(leg) for leg in needs.legs],
        "day": {
            "is_at_least": needs.is_at_least,
            "body_kg": plan.load.body_kg,
            "person": _day(needs.walk),
            "person_in_harness": None if needs.pull is None else _day(needs.pull),
            "in_harness": needs.pulling_count,
            "unit_kcal": round(needs.unit_kcal),
            "ration_kcal": round(needs.ration_kcal),
            "short_kcal": round(needs.short_kcal),
        },
        "water": {
            "litres": round(needs.water_l, 1),
            "source": needs.water_source,
            "text": needs.water_words,
            "snow_litres_if_melted": round(needs.melting.snow_l, 1),
            "fuel_litres": round(needs.fuel_l, 2),
            "fuel_kg": round(needs.fuel_kg, 2),
            "fuel_litres_if_melted": round(needs.melting.boil_fuel_l, 2),
        },
        "carried": [{"section": section, "kg": round(kg, 2)} for section, kg in needs.carried_kg],
        "sleds": [_sled(sled) for sled in needs.sleds],
        "kit": [
            {
                "name": item.name,
                "weight_kg": item.weight_kg,
                "number": item.number,
                "for": item.whose,
                "carried": item.carried,
                "stowed": item.stowed,
                "is_ticked": item.is_ticked,
            }
            for item in plan.load.kit
        ],
    }


def _leg(leg: LegEffort) -> dict[str, Any]:
    bite = None if leg.chill is None else leg.chill.frostbite
    return {
        "from": leg.start_name,
        "to": leg.end_name,
        "watts": round(leg.walk_w),
        "kcal": round(leg.walk_kcal),
        "watts_in_harness": None if leg.pull_w is None else round(leg.pull_w),
        "kcal_in_harness": None if leg.pull_kcal is None else round(leg.pull_kcal),
        "open_m": round(leg.open_m, 1),
        "wind_chill_c": None if leg.chill is None else round(leg.chill.felt_c, 1),
        "frostbite": None if bite is None else bite.band,
        "frostbite_min": None if bite is None or bite.minutes is None else round(bite.minutes, 1),
    }


def _day(day: DayEffort) -> dict[str, int]:
    return {
        "kcal": round(day.total_kcal),
        "march_kcal": round(day.march_kcal),
        "halts_kcal": round(day.halts_kcal),
        "camp_kcal": round(day.camp_kcal),
        "rest_kcal": round(day.rest_kcal),
    }


def _sled(sled: Sled) -> dict[str, Any]:
    return {
        "name": sled.name,
        "section": sled.section,
        "kg": round(sled.load_kg, 2),
        "limit_kg": sled.limit_kg,
        "over_kg": round(sled.over_kg, 2),
        "in_harness": sled.pullers,
        "goods": _goods(sled.goods),
        "too_much": _goods(sled.too_much),
    }


def _goods(goods: Sequence[Goods]) -> list[dict[str, Any]]:
    return [
        {
            "name": one.name,
            "section": one.section,
            "count": one.count,
            "weight_kg": one.weight_kg,
            "stowed": one.stowed,
        }
        for one in goods
    ]
