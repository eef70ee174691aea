"""The day's clock for ``tonight.json``: light, moon, halts, turn-back place, pitching."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Any

from sitepick.grid import Grid
from sitepick.march.model import HaltRule, March, TurnBack
from sitepick.moon import MoonNight, Span
from sitepick.plan.pitching import pitching_parts
from sitepick.tonight import Tonight


def day_document(answer: Tonight) -> dict[str, Any]:
    """What ``tonight.json`` says under ``march`` of the day's clock; times are ISO 8601 with their offset."""
    march = answer.march
    return {
        "sunrise": _time(march.sun.sunrise),
        "civil_dawn": _time(march.sun.civil_dawn),
        "sky": march.sun.kind,
        "dark": _spans(march.dark),
        "moon": None if march.moon is None else _moon(march.moon, march.dark),
        "halts": _halts(march.halt_rule, march),
        "turn_back": None if march.turn_back is None else _turn_back(march.turn_back, march, answer.ground.grid),
        "pitching_min": round(march.pitching_min, 1),
        "pitching": [{"min": round(minutes, 1), "for": what} for minutes, what in pitching_parts(answer.plan)],
    }


def _moon(moon: MoonNight, dark: tuple[Span, ...]) -> dict[str, Any]:
    return {
        "lit_share": round(moon.lit_frac, 3),
        "is_waxing": moon.is_waxing,
        "up": _spans(moon.up),
        "highest_deg": round(moon.highest_deg, 1),
        "moonlit_dark_min": round(moon.moonlit_min(dark), 1),
    }


def _halts(rule: HaltRule, march: March) -> list[dict[str, Any]]:
    """The halts that begin before camp-by."""
    told, spent_min = [], 0.0
    for number, (after_min, length_min) in enumerate(rule.halts):
        begin = march.depart + timedelta(minutes=after_min + spent_min)
        spent_min += length_min
        if begin < march.camp_by:
            reason = rule.reasons[number] if number < len(rule.reasons) else None
            told.append({"at": _time(begin), "min": round(length_min, 1), "reason": reason})
    return told


def _turn_back(turn: TurnBack, march: March, grid: Grid) -> dict[str, Any]:
    east_m, north_m = (round(float(value), 2) for value in march.route_m[turn.station])
    return {
        "distance_m": round(turn.distance_m, 1),
        "at": _time(turn.at),
        "back_at_base": _time(turn.back_at),
        "by": _time(turn.by),
        "is_whole_day": turn.is_whole_day,
        "easting_m": east_m,
        "northing_m": north_m,
        "mgrs": grid.mgrs(east_m, north_m),
    }


def _spans(spans: tuple[Span, ...]) -> list[list[str | None]]:
    return [[_time(first), _time(last)] for first, last in spans]


def _time(moment: datetime | None) -> str | None:
    return None if moment is None else moment.isoformat(timespec="seconds")
