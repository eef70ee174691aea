"""Edits of the wind rose: its shares always sum to 1. Pure functions from one plan to the next."""

from __future__ import annotations

from sitepick.plan.edits import with_values
from sitepick.plan.model import Plan
from sitepick.plan.setting import Setting

RAYS_MAX = 8
USUAL_KMH = 15.0
Ray = tuple[float, float, float]

# How a ray's figures are shown and limited; the weather's own limits hold for the rest.
RAY_FROM = Setting(label="wind from", unit="°", low=0.0, high=360.0, help="Where it comes from, true.")
RAY_SHARE = Setting(
    label="share of the time", unit="%", low=1.0, high=99.0, help="The other shares give way, so that all make 100 %."
)
RAY_KMH = Setting(label="wind speed", unit="km/h", low=0.0, high=250.0)


def with_rose_begun(plan: Plan) -> Plan:
    """The plan with its one wind as the larger part of a rose of two."""
    weather = plan.weather
    from_deg = weather.wind_from_deg if weather.wind_from_deg is not None else 270.0
    kmh = weather.wind_kmh if weather.wind_kmh is not None else USUAL_KMH
    rose = ((from_deg, 0.7, kmh), ((from_deg + 90.0) % 360.0, 0.3, kmh))
    return with_values(plan, "weather", wind_from_deg=None, wind_kmh=None, wind_rose=rose)


def with_one_wind(plan: Plan) -> Plan:
    """The plan with the most frequent wind of its rose as the only one."""
    from_deg, _, kmh = max(plan.weather.wind_rose, key=lambda ray: ray[1])
    return with_values(plan, "weather", wind_rose=(), wind_from_deg=from_deg, wind_kmh=kmh)


def with_ray(plan: Plan, index: int, ray: Ray) -> Plan:
    """The plan with one wind of its rose changed; the others share what is left as they did."""
    rose = list(plan.weather.wind_rose)
    rest = 1.0 - rose[index][1]
    scale = (1.0 - ray[1]) / rest if rest > 0.0 else 0.0
    changed = [ray if at == index else (one[0], one[1] * scale, one[2]) for at, one in enumerate(rose)]
    return _with_rose(plan, changed)


def with_ray_added(plan: Plan) -> Plan:
    """The plan with another wind, which takes half the time of the most frequent one."""
    rose = list(plan.weather.wind_rose)
    at = max(range(len(rose)), key=lambda index: rose[index][1])
    from_deg, share, kmh = rose[at]
    rose[at] = (from_deg, share / 2.0, kmh)
    return _with_rose(plan, [*rose, ((from_deg + 180.0) % 360.0, share / 2.0, kmh)])


def without_ray(plan: Plan, index: int) -> Plan:
    """The plan with one wind fewer; of the last two the other is the only one."""
    rose = [ray for at, ray in enumerate(plan.weather.wind_rose) if at != index]
    if len(rose) == 1:
        return with_values(plan, "weather", wind_rose=(), wind_from_deg=rose[0][0], wind_kmh=rose[0][2])
    total = sum(share for _, share, _ in rose)
    return _with_rose(plan, [(from_deg, share / total, kmh) for from_deg, share, kmh in rose])


def _with_rose(plan: Plan, rose: list[Ray]) -> Plan:
    return with_values(plan, "weather", wind_rose=tuple((a, round(share, 4), kmh) for a, share, kmh in rose))
