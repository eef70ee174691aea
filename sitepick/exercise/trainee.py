"""The trainee's copy of a plan: built anew from what is given, part by part, so that nothing else can be in it."""

from __future__ import annotations

from dataclasses import replace
from typing import Any, TypeVar

from sitepick.plan.exercise import Exercise, HandedIn
from sitepick.plan.facility import FacilitySettings
from sitepick.plan.mark import Mark
from sitepick.plan.model import Area, CampSettings, GroundSource, MarchSettings, Plan, Preferences, Route, Unit, Weather
from sitepick.plan.shelter import shelters_for

_Part = TypeVar("_Part")
_PEOPLE = 10  # of a plan that doesn't say how many there are
_HOUR = 8  # of a departure that isn't given
_USUAL_TITLE = "Exercise"

# What of each part is given. A name that isn't here stays behind, whatever is added to the part one day.
_GROUND = (
    "elevation", "cover", "legend", "elevation_unit", "elevation_kind", "elevation_error_m", "canopy_height", "streams",
    "tracks", "no_go", "evergreen_of_forest_frac",
)  # fmt: skip
_WEATHER = ("wind_from_deg", "wind_kmh", "temperature_c", "snow_cm", "snow_density_kg_m3", "wind_rose")
_MARCH_OF_UNIT = (
    "mode", "has_sled", "level_kmh", "pace_error_frac", "first_halt_after_min", "halt_every_min", "halt_min",
    "pitching_min", "pitching", "pace",
)  # fmt: skip
_MARCH_OF_ROUTE = ("trail_broken", "tracks_packed", "delays")
_MARCH_OF_TIME = ("long_halt_at", "long_halt_min", "delay_min", "camp_by_hour", "camp_in_dark")
_MARCH_OF_WEATHER = ("ice_cm",)
_CAMP = ("spacing_m", "door_off_wind_deg")
_FACILITIES = (
    "has_common_cooking", "has_open_fire", "has_pick_up", "people_per_seat", "latrine_from_water_m",
    "latrine_from_cooking_m", "latrine_from_shelters_m", "latrine_walk_max_m", "waste_from_water_m",
    "fire_from_shelters_m", "fuel_from_fire_m", "pick_up_clear_m",
)  # fmt: skip
_WHAT_COUNTS = ("cell_slope_max_deg", "water_clear_m")
_MARK = ("kind", "shape", "points", "name", "note", "seen_by", "holds_from", "holds_until")


def trainee_title(plan: Plan) -> str:
    """What the exercise is called towards trainees."""
    return " ".join(plan.exercise.title.split()) or _USUAL_TITLE


def trainee_plan(plan: Plan, trainee: str = "") -> Plan:
    """The plan that a trainee is given.

    Parameters
    ----------
    plan : Plan
        The trainer's.
    trainee : str
        Whose copy it is; empty: to be filled in.

    Returns
    -------
    Plan
        Without sites, notes, areas of the trainer's own, other routes, marks that trainees don't see, points or names
        of others; an answer to be filled in stands in it.
    """
    given = plan.exercise.given
    return Plan(
        name=trainee_title(plan),
        ground=_only(GroundSource, plan.ground, _GROUND),
        unit=plan.unit if given.has_unit else Unit(people=_PEOPLE, shelters=shelters_for(_PEOPLE)),
        weather=_only(Weather, plan.weather, _WEATHER if given.has_weather else ()),
        march=_march(plan),
        route=_route(plan),
        preferences=_preferences(plan),
        camp=_camp(plan),
        load=plan.load if given.has_unit else type(plan.load)(),
        areas=tuple(
            Area(name=area.name, role=area.role, ring=area.ring) for area in plan.areas if area.role == "no_go"
        ),
        exercise=Exercise(
            title=trainee_title(plan),
            task=plan.exercise.task,
            marks=tuple(_only(Mark, mark, _MARK) for mark in plan.exercise.marks if mark.is_for_trainees),
            given=given,
            asked=plan.exercise.asked,
            handed_in=HandedIn(trainee=trainee),
        ),
    )


def _only(kind: type[_Part], source: Any, names: tuple[str, ...]) -> _Part:
    """A new part with some values of another, everything else as usual."""
    return kind(**{name: getattr(source, name) for name in names})


def _march(plan: Plan) -> MarchSettings:
    given, depart = plan.exercise.given, plan.march.depart
    if not given.has_time:
        depart = depart.replace(hour=_HOUR, minute=0, second=0, microsecond=0)
    names = (
        *(_MARCH_OF_UNIT if given.has_unit else ()),
        *(_MARCH_OF_ROUTE if given.has_route else ()),
        *(_MARCH_OF_TIME if given.has_time else ()),
        *(_MARCH_OF_WEATHER if given.has_weather else ()),
    )
    return replace(MarchSettings(depart=depart), **{name: getattr(plan.march, name) for name in names})


def _route(plan: Plan) -> Route:
    """The whole line, or only its ends."""
    route = plan.route
    if plan.exercise.given.has_route:
        return Route(name=route.name, points=route.points, point_names=route.point_names)
    return Route(name="From start to finish", points=(route.points[0], route.points[-1]))


def _preferences(plan: Plan) -> Preferences:
    if not plan.exercise.given.has_what_counts:
        return Preferences()
    given = Preferences()
    for name, factor in plan.preferences.factors():
        given = given.with_factor(name, factor)
    return replace(given, **{name: getattr(plan.preferences, name) for name in _WHAT_COUNTS})


def _camp(plan: Plan) -> CampSettings:
    if not plan.exercise.given.has_unit:
        return CampSettings()
    rules = _only(FacilitySettings, plan.camp.facilities, _FACILITIES)
    return replace(_only(CampSettings, plan.camp, _CAMP), facilities=rules)


# What a trainee has no reason to change: everything but the answer and what helps to find it.
_HELD = ("name", "unit", "weather", "avalanche", "march", "route", "camp", "load", "areas", "exercise")


def changed_parts(plan: Plan, copy: Plan) -> tuple[str, ...]:
    """Parts of a trainee's copy that aren't as they were given; answer, weights, own sites and pins are theirs.

    Parameters
    ----------
    plan : Plan
        The trainer's.
    copy : Plan
        As it came back.
    """
    given = trainee_plan(plan)
    back = replace(
        copy,
        exercise=replace(copy.exercise, handed_in=given.exercise.handed_in),
        camp=replace(copy.camp, pins=()),
        areas=tuple(area for area in copy.areas if area.role == "no_go"),
    )
    return tuple(name for name in _HELD if getattr(given, name) != getattr(back, name))
