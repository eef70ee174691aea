"""The assessment for other programs: ``assessment.json`` and ``class.csv``. Keys are a promise; more may be added."""

from __future__ import annotations

import csv
import io
import math
from typing import Any

from sitepick.exercise.class_table import limit_words
from sitepick.exercise.model import Assessment, ClassResult, ItemResult, PickGround, RuleCheck
from sitepick.exercise.standard import Standard
from sitepick.exercise.trainee import trainee_title
from sitepick.exercise.words import ITEM_LABELS
from sitepick.grid import Grid
from sitepick.plan.model import Plan
from sitepick.sites.model import Measure

SCHEMA = 1


def assessment_document(plan: Plan, standard: Standard, result: ClassResult) -> dict[str, Any]:
    """Everyone's assessment as plain values.

    Parameters
    ----------
    plan : Plan
        The trainer's.
    standard : Standard
    result : ClassResult
    """
    grid = standard.answer.ground.grid
    spread = result.spread
    return {
        "schema": SCHEMA,
        "plan": plan.name,
        "exercise": trainee_title(plan),
        "crs": grid.crs,
        "best_score": _number(standard.best_score, 2),
        "poor_score": _number(standard.poor_score(plan.exercise.rubric.poorest_percent), 2),
        "best_alternate_score": _number(standard.alternate_score, 2),
        "class": {
            "count": len(result.assessments),
            "absent": list(result.absent),
            "spread_percent": None
            if spread is None
            else {
                "lowest": _number(spread.lowest, 1),
                "lower_quarter": _number(spread.lower_quarter, 1),
                "middle": _number(spread.middle, 1),
                "upper_quarter": _number(spread.upper_quarter, 1),
                "highest": _number(spread.highest, 1),
            },
            "missed_factors": [{"factor": label, "count": count} for label, count in result.missed],
            "broken_limits": [{"limit": name, "count": count} for name, count in result.broken],
            "notes": list(result.notes),
        },
        "trainees": [_assessment(one, standard, grid) for one in result.assessments],
    }


def _assessment(one: Assessment, standard: Standard, grid: Grid) -> dict[str, Any]:
    return {
        "trainee": one.trainee,
        "source": one.submission.source,
        "notes": list(one.submission.notes),
        "points": _number(one.points, 2),
        "worth": _number(one.worth, 2),
        "percent": _number(one.percent, 1),
        "items": [_item(item) for item in one.items],
        "pick": _pick(one.pick, standard, grid),
        "alternate": _pick(one.alternate, standard, grid),
        "layout": [_check(check) for check in one.layout],
        "timetable": [_check(check) for check in one.timetable],
        "reasons": one.submission.handed_in.reasons,
        "missed_factor": one.missed_factor or None,
    }


def _item(item: ItemResult) -> dict[str, Any]:
    return {
        "item": item.item,
        "worth": _number(item.worth, 2),
        "points": _number(item.points, 2),
        "reckoned": _number(item.reckoned, 2),
        "trainers_note": item.note or None,
        "sentence": item.sentence,
    }


def _pick(pick: PickGround | None, standard: Standard, grid: Grid) -> dict[str, Any] | None:
    if pick is None:
        return None
    return {
        "easting_m": _number(pick.east_m, 1),
        "northing_m": _number(pick.north_m, 1),
        "mgrs": grid.mgrs(pick.east_m, pick.north_m) if grid.contains(pick.east_m, pick.north_m) else None,
        "score": _number(pick.score, 2),
        "room_share": _number(pick.room_frac, 4),
        "rank": pick.rank,
        "places_measured": pick.place_count,
        "better_ground_share": _number(pick.better_frac, 4),
        "moved_m": _number(pick.moved_m, 1),
        "broken_limits": [{"name": one.name, "sentence": one.sentence} for one in pick.broken],
        "measures": {measure.name: _measure(measure, standard) for measure in pick.measures},
    }


def _measure(measure: Measure, standard: Standard) -> dict[str, Any]:
    best = next((one for one in standard.best_measures if one.name == measure.name), None)
    most = standard.best_of(measure.name)
    return {
        "label": measure.label,
        "value": _number(measure.value, 4),
        "unit": measure.unit,
        "score": _number(measure.score, 4),
        "weight": _number(measure.weight, 6),
        "best_place_value": None if best is None else _number(best.value, 4),
        "best_place_score": None if best is None else _number(best.score, 4),
        "most_to_be_had_score": None if most is None else _number(most.score, 4),
        "sentence": measure.sentence,
    }


def _check(check: RuleCheck) -> dict[str, Any]:
    return {"rule": check.name, "kept_share": _number(check.kept_frac, 4), "sentence": check.sentence}


def class_csv(result: ClassResult) -> str:
    """The class as a table, a row a trainee; cells that a spreadsheet would reckon with are kept as text."""
    items = list(dict.fromkeys(item.item for one in result.assessments for item in one.items))
    out = io.StringIO()
    table = csv.writer(out, lineterminator="\n")
    heads = ["trainee", "percent", "points", "worth", *(ITEM_LABELS[item] for item in items)]
    table.writerow([*heads, "rank", "limits broken", "most missed"])
    for one in result.assessments:
        points = {item.item: item.points for item in one.items}
        pick = one.pick
        broken = [] if pick is None else [limit_words(limit.name) for limit in pick.broken]
        table.writerow(
            [
                _plain(one.trainee), f"{one.percent:.1f}", f"{one.points:.1f}", f"{one.worth:.1f}",
                *(_cell(points.get(item)) for item in items),
                "" if pick is None or pick.rank is None else pick.rank,
                "; ".join(dict.fromkeys(broken)), one.missed_factor,
            ]
        )  # fmt: skip
    for name in result.absent:
        table.writerow([_plain(name), "", "", "", *("" for _ in items), "", "", "nothing handed in"])
    return out.getvalue()


def _cell(points: float | None) -> str:
    return "" if points is None else f"{points:.1f}"


def _plain(text: str) -> str:
    """A text that no spreadsheet takes for a formula."""
    return f"'{text}" if text[:1] in "=+-@\t" else text


def _number(value: float | None, digits: int) -> float | None:
    if value is None or not math.isfinite(value):
        return None
    return round(float(value), digits)
