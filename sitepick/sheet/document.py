"""``tonight.json``: the answer for other programs. Its keys are a promise; more may be added."""

from __future__ import annotations

import json
import math
from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import Any

from sitepick.camp.model import Camp, PlacedShelter, WorkOrder
from sitepick.camp.spacing import least_distance_m
from sitepick.caution import Caution
from sitepick.grid import Grid
from sitepick.march.model import Leg, March
from sitepick.plan.camp_edits import tick_of
from sitepick.plan.model import Plan
from sitepick.sheet.camp_ground import camp_ground_document
from sitepick.sheet.cautions import general_cautions
from sitepick.sheet.day_document import day_document
from sitepick.sheet.named_points import NamedPoint, named_points
from sitepick.sheet.needs_document import needs_document
from sitepick.sheet.norths import norths_document
from sitepick.sheet.pace import pace_document
from sitepick.sites.model import Hindrance, Measure, Site, Split, SplitPart, Topple
from sitepick.tonight import Tonight

SCHEMA = 1


def tonight_document(answer: Tonight, *, more_cautions: tuple[Caution, ...] = ()) -> dict[str, Any]:
    """The answer as plain values: dictionaries, lists, numbers, texts and None.

    Parameters
    ----------
    answer : Tonight
    more_cautions : tuple of Caution
        Told under ``data`` besides the answer's own, such as that no sheet could be drawn.

    Returns
    -------
    dict
        Times are ISO 8601 with their offset; a value that isn't known is None; metres are the
        projection's for coordinates and the ground's for distances and areas. ``camp`` is None
        and ``reasons`` says why where no site was found.
    """
    grid = answer.ground.grid
    return {
        "schema": SCHEMA,
        "plan": answer.plan.name,
        "plan_note": answer.plan.note,
        "people": answer.plan.unit.people,
        "mode": answer.plan.march.mode,
        "crs": grid.crs,
        "cell_m": grid.cell_m,
        "data": {
            "unknown_share": _number(answer.sites.unknown_share, 4),
            "cautions": _cautions(general_cautions(answer) + more_cautions),
            "files": [{"path": file.path, "role": file.role, "text": file.text} for file in answer.ground.files],
        },
        "norths": norths_document(answer),
        "march": {
            **_march(answer.march),
            **day_document(answer),
            "pace": pace_document(answer),
            "points": [_point(point) for point in named_points(answer)],
        },
        "needs": None if answer.needs is None else needs_document(answer.needs, answer.plan),
        "sites": [_site(site, grid) for site in answer.sites.sites],
        "alternate": _alternate(answer),
        "topple": _topple(answer.sites.topple),
        "own_sites_past_limits": [
            {"name": one.name, "text": one.text, "score": _number(one.score, 2)} for one in answer.sites.own_failed
        ],
        "hidden_site_count": answer.sites.hidden_count,
        "camp": None if answer.camp is None else _camp(answer.camp, answer.plan, grid),
        "split": _split(answer.sites.split, grid),
        "reasons": [] if answer.sites.sites else [_reason(reason) for reason in answer.sites.hindrances],
    }


def write_tonight_json(document: dict[str, Any], path: Path) -> None:
    """Write a document as UTF-8 text, keys in the order they are promised."""
    path.write_text(tonight_text(document), encoding="utf-8")


def tonight_text(document: dict[str, Any]) -> str:
    """A document as JSON text (RFC 8259: no NaN, no infinity)."""
    return json.dumps(document, ensure_ascii=False, indent=1, allow_nan=False) + "\n"


def _march(march: March) -> dict[str, Any]:
    return {
        "depart": _time(march.depart),
        "camp_by": _time(march.camp_by),
        "sunset": _time(march.sun.sunset),
        "useful_light_end": _time(march.useful_light_end),
        "route_length_m": _number(march.route_length_m, 1),
        "reach_along_route_m": _number(march.reach_along_route_m, 1),
        "early_reach_along_route_m": _number(march.early_reach_m, 1),
        "late_reach_along_route_m": _number(march.late_reach_m, 1),
        "arrive_at_reach_end": _time(march.arrive_at_reach_end),
        "legs": [_leg(leg) for leg in march.legs],
    }


def _leg(leg: Leg) -> dict[str, Any]:
    return {
        "from": leg.start_name,
        "to": leg.end_name,
        "depart": _time(leg.depart),
        "arrive": _time(leg.arrive),
        "distance_m": _number(leg.distance_m, 1),
        "climb_m": _number(leg.climb_m, 1),
        "descent_m": _number(leg.descent_m, 1),
        "cautions": _cautions(leg.cautions),
    }


def _point(point: NamedPoint) -> dict[str, Any]:
    return {
        "number": point.number,
        "name": point.name,
        "lon": _number(point.lon_deg, 6),
        "lat": _number(point.lat_deg, 6),
        "mgrs": point.mgrs,
    }


def _site(site: Site, grid: Grid) -> dict[str, Any]:
    east_m, north_m = round(site.east_m, 2), round(site.north_m, 2)
    lon, lat = grid.to_lonlat(east_m, north_m)
    return {
        "rank": site.rank,
        "name": site.name,
        "score": _number(site.score, 2),
        "score_high": _number(site.score_high, 2),
        "easting_m": east_m,
        "northing_m": north_m,
        "lat": round(float(lat), 7),
        "lon": round(float(lon), 7),
        "mgrs": grid.mgrs(east_m, north_m),
        "area_m2": _number(site.area_m2, 0),
        "capacity": site.capacity,
        "arrive": _time(site.arrive),
        "detour_min": _number(site.detour_min, 1),
        "leave_route_at_m": _number(site.leave_distance_m, 1),
        "return_min": _number(site.return_min, 1),
        "rejoin_route_at_m": _number(site.rejoin_distance_m, 1),
        "measures": {measure.name: _measure(measure) for measure in site.measures},
        "firm_share": _number(site.firm_share, 3),
        "top_three_share": _number(site.top_three_share, 3),
        "out_of_limits_share": _number(site.out_of_limits_share, 3),
        "is_own": site.is_own,
        "reason": site.reason,
        "cautions": _cautions(site.cautions),
    }


def _split(split: Split | None, grid: Grid) -> dict[str, Any] | None:
    """Two sites that hold the unit between them, where none holds all of it."""
    if split is None:
        return None
    return {
        "text": split.text,
        "apart_m": _number(split.apart_m, 0),
        "parts": [_split_part(part, grid) for part in split.parts],
        "cautions": _cautions(split.cautions),
    }


def _split_part(part: SplitPart, grid: Grid) -> dict[str, Any]:
    east_m, north_m = round(part.east_m, 2), round(part.north_m, 2)
    lon, lat = grid.to_lonlat(east_m, north_m)
    return {
        "name": part.name,
        "easting_m": east_m,
        "northing_m": north_m,
        "lat": round(float(lat), 7),
        "lon": round(float(lon), 7),
        "mgrs": grid.mgrs(east_m, north_m),
        "capacity": part.capacity,
        "shelters": list(part.shelters),
        "people": part.people,
        "arrive": _time(part.arrive),
    }


def _alternate(answer: Tonight) -> dict[str, Any] | None:
    alternate = answer.sites.alternate
    return None if alternate is None else {"rank": alternate.rank, "why": answer.sites.alternate_words}


def _topple(topple: Topple | None) -> dict[str, Any] | None:
    """The smallest single change that takes the pick from its place, in units of its stated error."""
    if topple is None:
        return None
    return {
        "what": topple.name,
        "text": topple.text,
        "error_units": _number(topple.error_units, 3),
        "then_first": topple.then_first,
    }


def _measure(measure: Measure) -> dict[str, Any]:
    bounds = {"min": measure.limit_min, "max": measure.limit_max}
    return {
        "label": measure.label,
        "value": _number(measure.value, 4),
        "unit": measure.unit,
        "score": _number(measure.score, 4),
        "score_high": _number(measure.score_high, 4),
        "weight": _number(measure.weight, 9),
        "limit": {name: bound for name, bound in bounds.items() if bound is not None},
        "within_limit": measure.within_limit,
        "sentence": measure.sentence,
    }


def _camp(camp: Camp, plan: Plan, grid: Grid) -> dict[str, Any]:
    told, least_m = _told_places(camp, grid)
    return {
        "site": camp.site_rank,
        "site_name": camp.site_name,
        "spacing_m": camp.spacing_m,
        "min_distance_m": least_m,
        "shelters": [
            {
                "name": placed.shelter.name,
                "section": placed.shelter.section,
                "kind": placed.shelter.kind.label,
                "people": placed.shelter.people,
                "is_leaders": placed.shelter.is_leaders,
                "easting_m": east_m,
                "northing_m": north_m,
                "mgrs": grid.mgrs(east_m, north_m),
                "door_bearing_deg": _number(placed.door_bearing_deg % 360.0, 1),
                "slope_deg": _number(placed.slope_deg, 1),
                "joined_to": placed.touches or None,
                "is_by_hand": placed.is_pinned,
            }
            for placed, (east_m, north_m) in zip(camp.shelters, told, strict=True)
        ],
        "missing_shelters": [shelter.name for shelter in camp.missing],
        "what_gives": list(camp.what_gives),
        "facilities": [
            {
                "kind": facility.kind,
                "name": facility.name,
                "easting_m": round(facility.east_m, 2),
                "northing_m": round(facility.north_m, 2),
                "mgrs": grid.mgrs(round(facility.east_m, 2), round(facility.north_m, 2)),
                "reason": facility.reason,
                "serves": list(facility.serves),
                "is_by_hand": facility.is_pinned,
            }
            for facility in camp.facilities
        ],
        "posts": [
            {
                "name": post.name,
                "easting_m": round(post.east_m, 2),
                "northing_m": round(post.north_m, 2),
                "mgrs": grid.mgrs(round(post.east_m, 2), round(post.north_m, 2)),
                "left_bearing_deg": _number(post.left_bearing_deg % 360.0, 1),
                "right_bearing_deg": _number(post.right_bearing_deg % 360.0, 1),
                "seen_frac": _number(post.seen_frac, 3),
                "is_by_hand": post.is_pinned,
            }
            for post in (camp.security.posts if camp.security else ())
        ],
        "alarm": None
        if camp.security is None
        else {
            "easting_m": round(camp.security.alarm_east_m, 2),
            "northing_m": round(camp.security.alarm_north_m, 2),
            "mgrs": grid.mgrs(round(camp.security.alarm_east_m, 2), round(camp.security.alarm_north_m, 2)),
        },
        "approaches_seen_frac": None if camp.security is None else _number(camp.security.seen_frac, 3),
        "watched_out_to_m": None if camp.security is None else plan.camp.security.watch_out_to_m,
        **camp_ground_document(camp, grid),
        "work": None if camp.work is None else _work(camp.work, plan),
        "entry": {"easting_m": round(camp.entry_east_m, 2), "northing_m": round(camp.entry_north_m, 2)},
        "cautions": _cautions(camp.cautions),
    }


def _work(work: WorkOrder, plan: Plan) -> dict[str, Any]:
    ticks = [tick_of(plan, what) for what in work.ticks]
    return {
        "ready": _time(work.ready),
        "is_done_by_dark": work.is_done_by_dark,
        "jobs": [
            {"what": job.what, "who": job.who, "people": job.people, "begin": _time(job.begin), "end": _time(job.end)}
            for job in work.jobs
        ],
        "turns": [
            {"duty": turn.duty, "who": turn.who, "begin": _time(turn.begin), "end": _time(turn.end)}
            for turn in work.turns
        ],
        "snow_l": _number(work.snow_l, 0),
        "fuel_l": _number(work.fuel_l, 1),
        "boughs_m3": _number(work.boughs_m3, 1),
        "firewood_m3": _number(work.firewood_m3, 1),
        "way_out": work.way_out,
        "look_at": list(work.ticks),
        "looked_at": [{"what": tick.what, "is_done": tick.is_done, "found": tick.found} for tick in ticks],
    }


def _told_places(camp: Camp, grid: Grid) -> tuple[list[tuple[float, float]], float]:
    """Coordinates as short as the spacing allows, to 1 cm or finer, and the least distance between them."""
    exact_m = least_m = least_distance_m(camp.shelters, grid)
    told: Sequence[PlacedShelter] = camp.shelters
    for digits in (2, 3, 4):
        told = [
            replace(one, east_m=round(one.east_m, digits), north_m=round(one.north_m, digits)) for one in camp.shelters
        ]
        least_m = least_distance_m(told, grid)
        if least_m >= min(camp.spacing_m, exact_m):
            break
    short_m = round(least_m, 3)
    # Never told below the spacing for the sake of a short number.
    least_m = short_m if short_m >= camp.spacing_m or least_m < camp.spacing_m else least_m
    return [(one.east_m, one.north_m) for one in told], least_m


def _reason(reason: Hindrance) -> dict[str, Any]:
    return {
        "name": reason.name,
        "text": reason.text,
        "fix": reason.fix,
        "excluded_share": _number(reason.excluded_frac, 4),
    }


def _cautions(cautions: tuple[Caution, ...]) -> list[dict[str, str]]:
    return [{"kind": caution.kind, "text": caution.text} for caution in dict.fromkeys(cautions)]


def _time(moment: datetime | None) -> str | None:
    return None if moment is None else moment.isoformat(timespec="seconds")


def _number(value: float | None, digits: int) -> float | None:
    """A rounded number; None where it isn't known."""
    if value is None or not math.isfinite(value):
        return None
    return round(float(value), digits)
