"""Where a compass needle points: magnetic declination by the World Magnetic Model.

The coefficients are the model's own for its five years, as they come along with ``pygeomag``; outside those years
there is no answer. Source: NOAA/NCEI and British Geological Survey, World Magnetic Model 2025, valid 2025.0 to 2030.0.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime
from functools import lru_cache

from pygeomag import GeoMag

MODEL_NAME = "WMM2025"
FIRST_YEAR, LAST_YEAR = 2025.0, 2030.0
_MODEL_OF_YEAR = 2025


@dataclass(frozen=True, slots=True, kw_only=True)
class Declination:
    """The needle at a place and a time.

    Attributes
    ----------
    declination_deg : float
        True bearing of magnetic north, positive to the east, -180 to 180.
    change_deg_a_year : float
        Positive: it moves to the east.
    is_unsteady : bool
        The field pulls the needle so weakly here (2000 to 6000 nT, level part) that a compass wanders.
    """

    declination_deg: float
    change_deg_a_year: float
    is_unsteady: bool


def declination(lon_deg: float, lat_deg: float, moment: datetime, *, height_km: float = 0.0) -> Declination | str:
    """Magnetic declination at a place of the globe.

    Parameters
    ----------
    lon_deg, lat_deg : float
        WGS 84.
    moment : datetime
        With its zone.
    height_km : float
        Above the ellipsoid; a kilometre changes the answer by some thousandths of a degree.

    Returns
    -------
    Declination or str
        Why there is none, as a sentence: the model doesn't hold for that year, or no compass works there.
    """
    year = decimal_year(moment)
    if not FIRST_YEAR <= year <= LAST_YEAR:
        return (
            f"Magnetic north is not given: {MODEL_NAME} holds from {FIRST_YEAR:.0f} to the end of {LAST_YEAR - 1:.0f} "
            "only. Take it from a chart of this year."
        )
    now = _model().calculate(glat=lat_deg, glon=lon_deg, alt=height_km, time=year)
    if now.in_blackout_zone:
        return "Magnetic north is not given: so near to the magnetic pole no compass can be trusted."
    # Half a year to each side, held within the model's years; the field changes all but evenly.
    before, after = max(FIRST_YEAR, year - 0.5), min(LAST_YEAR, year + 0.5)
    turned = _at(lon_deg, lat_deg, after, height_km) - _at(lon_deg, lat_deg, before, height_km)
    return Declination(
        declination_deg=_half_turn(float(now.d)),
        change_deg_a_year=_half_turn(turned) / (after - before),
        is_unsteady=bool(now.in_caution_zone),
    )


def decimal_year(moment: datetime) -> float:
    """A time as a year with its fraction, in UTC.

    >>> decimal_year(datetime(2027, 7, 2, 12, tzinfo=UTC))
    2027.5
    """
    at = moment.astimezone(UTC)
    begin, end = datetime(at.year, 1, 1, tzinfo=UTC), datetime(at.year + 1, 1, 1, tzinfo=UTC)
    return at.year + (at - begin) / (end - begin)


def _at(lon_deg: float, lat_deg: float, year: float, height_km: float) -> float:
    return float(_model().calculate(glat=lat_deg, glon=lon_deg, alt=height_km, time=year).d)


@lru_cache(maxsize=1)
def _model() -> GeoMag:
    return GeoMag(base_year=_MODEL_OF_YEAR)


def _half_turn(angle_deg: float) -> float:
    return (angle_deg + 180.0) % 360.0 - 180.0
