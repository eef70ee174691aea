"""How times, distances, modes and measures read on everything that is handed out."""

from __future__ import annotations

import math
from datetime import date, datetime

from sitepick.camp.model import Post
from sitepick.grid import Grid
from sitepick.march.model import March
from sitepick.plan.shelter import Shelter
from sitepick.sites.model import Measure, Site
from sitepick.tonight import Tonight

_MODE_WORDS = {"foot": "on foot", "snowshoe": "on snowshoes", "ski": "on skis", "vehicle": "by vehicle"}
AT_THE_START_M = 50.0


def mode_words(mode: str) -> str:
    """How the unit moves, such as ``"on skis"``."""
    return _MODE_WORDS[mode]


def clock(moment: datetime, day: date | None = None) -> str:
    """Hour and minute; with the date where it is not on `day`.

    The minute is cut, never rounded, so that no two times disagree by how they were made.
    """
    if day is None or moment.date() == day:
        return f"{moment:%H:%M}"
    return f"{moment:%H:%M} on {moment.day} {moment:%B}"


def kilometres(distance_m: float) -> str:
    """A distance as people say it: metres below one kilometre, then kilometres."""
    if distance_m < 995.0:
        return f"{round(distance_m, -1):.0f} m"
    return f"{distance_m / 1000:.1f} km"


def zone_words(moment: datetime) -> str:
    """The zone of a time, such as ``"UTC+01:00"``."""
    offset = moment.strftime("%z")
    return f"UTC{offset[:3]}:{offset[3:5]}" if offset else "local time"


def count_words(count: int, one: str, many: str | None = None) -> str:
    """A number with its noun, such as ``"1 shelter"`` or ``"5 shelters"``."""
    return f"{count} {one if count == 1 else many or one + 's'}"


def light_words(march: March) -> str:
    """When useful light ends, as a clause."""
    if march.useful_light_end is not None:
        return f"dark at {clock(march.useful_light_end, march.depart.date())}"
    if march.sun.kind in ("midnight sun", "white night"):
        return "light all night"
    return "no daylight at all"


def measure_words(measure: Measure) -> str:
    """A measure's value with its unit, or that it isn't known."""
    if measure.value is None:
        return "not known"
    return _amount(measure.value, measure.unit)


def limit_words(measure: Measure) -> str:
    """The limits of a measure, or a dash where there are none."""
    parts = []
    if measure.limit_min is not None:
        parts.append(f"at least {_amount(measure.limit_min, measure.unit)}")
    if measure.limit_max is not None:
        parts.append(f"at most {_amount(measure.limit_max, measure.unit)}")
    return " and ".join(parts) or "no limit"


def _amount(value: float, unit: str) -> str:
    if unit == "share":
        return f"{100 * value:.0f} %"
    digits = 0 if abs(value) >= 20 or value == round(value) else 1
    number = f"{value:.{digits}f}".replace("-", "−")
    return f"{number}{unit}" if unit == "°" else f"{number} {unit}".rstrip()


def spaced_mgrs(reference: str) -> str:
    """A grid reference with its parts apart.

    >>> spaced_mgrs("34WDA6741326991")
    '34W DA 67413 26991'
    """
    digits = len(reference) - len(reference.rstrip("0123456789"))
    head, numbers = reference[: len(reference) - digits], reference[len(reference) - digits :]
    half = digits // 2
    return f"{head[:-2]} {head[-2:]} {numbers[:half]} {numbers[half:]}"


def grid_reference(grid: Grid, east_m: float, north_m: float) -> str:
    """Grid reference of a place as people read it, made from the same centimetres as the files tell."""
    return spaced_mgrs(grid.mgrs(round(east_m, 2), round(north_m, 2)))


def shelter_name(shelter: Shelter) -> str:
    """A shelter's name, the leader's told as such."""
    if shelter.is_leaders and "leader" not in shelter.name.lower():
        return f"{shelter.name} (leader's)"
    return shelter.name


def people_words(answer: Tonight) -> str:
    """Who sleeps in how many shelters, such as ``"38 people in 5 shelters"``."""
    people = "1 person" if answer.plan.unit.people == 1 else f"{answer.plan.unit.people} people"
    return f"{people} in {count_words(len(answer.plan.unit.shelters), 'shelter')}"


def along_words(answer: Tonight, site: Site) -> str:
    """How far a site lies, such as ``"10.9 km on skis"``, with the way off the route where there is one."""
    moving = mode_words(answer.plan.march.mode)
    extra_min = f"{site.detour_min:.0f}"  # rounded as in the site's measures
    if site.leave_distance_m < AT_THE_START_M:
        return f"{extra_min} min {moving}, off the route from the start"
    way = f"{kilometres(site.leave_distance_m)} {moving}"
    return way if site.detour_min < 1.0 else f"{way} and {extra_min} min off the route"


def way_back_words(site: Site) -> str:
    """The next day's way back to the route, as a sentence with a space after it; empty where there is next to none."""
    if not site.return_min >= 1.0:
        return ""
    return f"Back on the route next day in {math.ceil(site.return_min)} min, at {kilometres(site.rejoin_distance_m)}. "


def bearing_words(bearing_deg: float) -> str:
    """A bearing in whole degrees, three digits.

    >>> bearing_words(359.7)
    '000°'
    """
    return f"{round(bearing_deg) % 360:03d}°"


def sector_words(post: Post) -> tuple[str, ...]:
    """What a post watches: its two bearings, from left to right, or that it watches all round."""
    if post.is_all_round:
        return ("all round",)
    return bearing_words(post.left_bearing_deg), bearing_words(post.right_bearing_deg)
