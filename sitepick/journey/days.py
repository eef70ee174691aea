"""What each day of a journey starts from: its date, its weather, its loads and its tiredness, as a plan of its own."""

from __future__ import annotations

from dataclasses import replace
from datetime import time, timedelta

from sitepick.plan.journey import SUPPLY, JourneySettings
from sitepick.plan.kit import KitItem
from sitepick.plan.model import MarchSettings, Plan, Preferences, Weather

MORE_SUPPLIES = "Food and fuel for the days to come"


def supply_days(settings: JourneySettings) -> int:
    """For how many days supplies are taken up at a time."""
    return settings.supply_every_days or settings.days_max


def comes_to_camp(settings: JourneySettings) -> bool:
    """Whether supplies are brought to the camp when they run out: nobody said where they lie."""
    return settings.supply_every_days is not None and not any(point.kind == SUPPLY for point in settings.points)


def fresh_frac(settings: JourneySettings, day: int) -> float:
    """What tiredness leaves of the speed on a day: a share less for each day on the march since the last rest."""
    rests = [rest for rest in settings.rest_days if rest < day]
    marched = day - 1 - max(rests, default=0)
    return 1.0 - min(settings.tired_most_frac, settings.tired_frac * marched)


def day_plan(plan: Plan, day: int, *, since: int) -> Plan:
    """The plan of one day, still with the whole route.

    Parameters
    ----------
    plan : Plan
        The journey's.
    day : int
        The first is 1.
    since : int
        Days since supplies were taken up, at the departure.
    """
    settings = plan.journey
    return replace(
        plan,
        name=f"{plan.name}, day {day}",
        weather=_weather(plan, day),
        march=_march(plan, day),
        preferences=_preferences(plan.preferences),
        load=replace(plan.load, kit=(*plan.load.kit, *_more_supplies(plan, supply_days(settings) - since - 1))),
        alternatives=(),
    )


def _weather(plan: Plan, day: int) -> Weather:
    forecast = plan.journey.forecast(day)
    if forecast is None:
        return plan.weather
    weather = plan.weather
    if forecast.wind_from_deg is not None or forecast.wind_kmh is not None:
        weather = replace(
            weather,
            wind_rose=(),
            wind_from_deg=weather.main_wind_from_deg if forecast.wind_from_deg is None else forecast.wind_from_deg,
            wind_kmh=weather.mean_wind_kmh if forecast.wind_kmh is None else forecast.wind_kmh,
        )
    if forecast.temperature_c is not None:
        weather = replace(weather, temperature_c=forecast.temperature_c)
    return weather if forecast.snow_cm is None else replace(weather, snow_cm=forecast.snow_cm)


def _march(plan: Plan, day: int) -> MarchSettings:
    settings, march = plan.journey, plan.march
    depart = settings.departure(march.depart, day)
    hour = march.camp_by_hour
    if settings.hours_max is not None:
        latest = (depart + timedelta(hours=settings.hours_max)).time().replace(tzinfo=None, second=0, microsecond=0)
        hour = latest if hour is None else min(hour, latest, key=lambda one: _hours_after(one, depart.time()))
    pace = replace(march.pace, fresh_frac=march.pace.fresh_frac * fresh_frac(settings, day))
    return replace(march, depart=depart, camp_by_hour=hour, pace=pace)


def _hours_after(hour: time, depart: time) -> float:
    """Hours from one reading of the clock to the next of another."""
    return ((hour.hour - depart.hour) + (hour.minute - depart.minute) / 60.0) % 24.0


def _preferences(preferences: Preferences) -> Preferences:
    """Nights are weighed by their ground: how far each day goes is the chain's business."""
    return replace(preferences, progress=replace(preferences.progress, weight=0.0, limit_min=None))


def on_the_day(preferences: Preferences) -> Preferences:
    """The same on the day itself, whose march may cut a corner for an hour to a place near the route."""
    return replace(preferences, detour=replace(preferences.detour, limit_max=None))


def _more_supplies(plan: Plan, days: int) -> tuple[KitItem, ...]:
    if days <= 0 or plan.journey.supplies_kg == 0.0:
        return ()
    return (
        KitItem(
            name=MORE_SUPPLIES, weight_kg=plan.journey.supplies_kg, number=days, whose="person", carried="sled",
            stowed="forward",
        ),
    )  # fmt: skip
