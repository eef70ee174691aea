"""``journey.json``: routes cut into days, for other programs. Its keys are a promise; more may be added."""

from __future__ import annotations

import math
from datetime import datetime
from typing import Any

from sitepick.caution import Caution, gravest_first
from sitepick.journey.compare import totals
from sitepick.journey.model import Day, DayDetail, Journey, RouteJourney
from sitepick.plan.model import LonLat
from sitepick.sheet.cautions import STANDING_CAUTIONS

SCHEMA = 1


def journey_document(journey: Journey) -> dict[str, Any]:
    """The journey as plain values; a value that isn't known is None, times carry their offset."""
    settings = journey.plan.journey
    return {
        "schema": SCHEMA,
        "plan": journey.plan.name,
        "plan_note": journey.plan.note,
        "people": journey.plan.unit.people,
        "mode": journey.plan.march.mode,
        "rule": settings.rule,
        "days_max": settings.days_max,
        "order": [journey.routes[index].name for index in journey.order],
        "words": list(journey.words),
        "cautions": _cautions(gravest_first((*journey.cautions, *STANDING_CAUTIONS))),
        "routes": [_route(one) for one in journey.routes],
    }


def _route(one: RouteJourney) -> dict[str, Any]:
    line = one.survey.line
    row = totals(one)
    return {
        "name": one.name,
        "length_m": _number(line.length_m, 1),
        "can_be_walked": one.chain is not None,
        "trouble": one.trouble or None,
        "day_count": len(one.days),
        "hours": _number(row["hours"], 2),
        "distance_m": _number(1000.0 * row["km"], 1),
        "climb_m": _number(row["climb_m"], 1),
        "descent_m": _number(row["descent_m"], 1),
        "weakest_score": None if one.weakest is None else _number(one.weakest.score, 2),
        "weakest_night": None if one.weakest is None else one.weakest.number,
        "mean_score": _number(row["mean"], 2) if one.nights else None,
        "nights_without_site": int(row["bare_count"]),
        "avalanche_m": _number(1000.0 * row["avalanche_km"], 1),
        "ice_m": _number(1000.0 * row["ice_km"], 1),
        "streams_crossed": int(row["stream_count"]),
        "candidate_count": len(one.survey.candidates),
        "looking_ahead": one.gain or None,
        "data_cautions": _cautions(one.survey.cautions),
        "days": [_day(day) for day in one.days],
    }


def _day(day: Day) -> dict[str, Any]:
    return {
        "day": day.number,
        "rest": day.is_rest,
        "depart": _time(day.depart),
        "arrive": _time(day.arrive),
        "camp_by": _time(day.camp_by),
        "from_m": _number(day.begin_m, 1),
        "to_m": _number(day.end_m, 1),
        "distance_m": _number(day.distance_m, 1),
        "climb_m": _number(day.climb_m, 1),
        "descent_m": _number(day.descent_m, 1),
        "moving_min": _number(day.moving_min, 1),
        "hours": _number(day.hours, 2),
        "pinned": day.is_pinned,
        "days_since_supplies": day.since,
        "supplies_taken": day.is_supplied,
        "avalanche_m": _number(day.avalanche_m, 1),
        "ice_m": _number(day.ice_m, 1),
        "streams_crossed": day.stream_count,
        "way_out": None
        if day.bail_out is None
        else {"name": day.bail_out.name, **_place(day.bail_out.place), "min": _number(day.bail_out.minutes, 1)},
        "night": None if day.night is None else _night(day),
        "mends": list(day.mends),
        "detail": None if day.detail is None else _detail(day.detail),
    }


def _night(day: Day) -> dict[str, Any]:
    assert day.night is not None
    night = day.night
    return {
        "has_site": not night.is_bare,
        "name": night.name or None,
        **_place(night.place),
        "score": _number(day.score, 2) if not night.is_bare else None,
        "capacity": night.capacity if not night.is_bare else None,
        "leave_route_at_m": _number(night.along_m, 1),
        "detour_min": _number(night.detour_min, 1),
        "rejoin_route_at_m": _number(night.rejoin_m, 1),
        "back_min": _number(night.back_min, 1),
    }


def _detail(detail: DayDetail) -> dict[str, Any]:
    return {
        "site": detail.site_name or None,
        "score": _number(detail.score, 2),
        "firm_share": _number(detail.firm_share, 3),
        "alternate": detail.alternate or None,
        "reason": detail.reason or None,
        "arrive": _time(detail.arrive),
        "camp_by": _time(detail.camp_by),
        "sunrise": _time(detail.sunrise),
        "useful_light_end": _time(detail.useful_light_end),
        "temperature_c": detail.plan.weather.temperature_c,
        "wind_from_deg": detail.plan.weather.main_wind_from_deg,
        "wind_kmh": detail.plan.weather.mean_wind_kmh,
        "snow_cm": detail.plan.weather.snow_cm,
        "water_source": detail.water_source,
        "water": detail.water_words,
        "water_l": _number(detail.water_l, 1),
        "fuel_l": _number(detail.fuel_l, 2),
        "carried_kg": _number(detail.carried_kg, 1),
        "sled_kg": _number(detail.sled_kg, 1),
        "hardest_kcal": _number(detail.kcal, 0),
        "reasons": [{"name": one.name, "text": one.text, "fix": one.fix} for one in detail.hindrances],
        "cautions": _cautions(detail.cautions),
        "data_cautions": _cautions(detail.data_cautions),
    }


def _place(place: LonLat) -> dict[str, float]:
    return {"lon": round(place[0], 6), "lat": round(place[1], 6)}


def _cautions(cautions: tuple[Caution, ...]) -> list[dict[str, str]]:
    return [{"kind": caution.kind, "text": caution.text} for caution in dict.fromkeys(cautions)]


def _time(moment: datetime | None) -> str | None:
    return None if moment is None else moment.isoformat(timespec="seconds")


def _number(value: float | None, digits: int) -> float | None:
    return None if value is None or not math.isfinite(value) else round(float(value), digits)
