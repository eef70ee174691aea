"""Declination against the World Magnetic Model's own test values."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest

from sitepick.magnetic import Declination, decimal_year, declination

# From WMM2025_TEST_VALUE_TABLE_FOR_REPORT.txt, NOAA/NCEI (github CIRES-Geomagnetism/wmm), and from the fuller
# WMM2025_TEST_VALUES.txt: year, height in km, latitude, longitude, declination.
PUBLISHED = (
    (2025.0, 0.0, 80.0, 0.0, 1.28),
    (2025.0, 0.0, 0.0, 120.0, -0.16),
    (2025.0, 0.0, -80.0, 240.0, 68.78),
    (2025.0, 100.0, 80.0, 0.0, 0.85),
    (2027.5, 0.0, 80.0, 0.0, 2.59),
    (2027.5, 0.0, 0.0, 120.0, -0.24),
    (2027.5, 100.0, -80.0, 240.0, 67.93),
    (2025.0, 48.0, 80.0, -96.0, -29.91),
    (2025.0, 54.0, 82.0, 87.0, 54.89),
    (2025.0, 65.0, 43.0, 93.0, 0.50),
    (2025.0, 51.0, -33.0, 109.0, -5.49),
    (2025.0, 39.0, -59.0, -8.0, -15.75),
)


def moment(year: float) -> datetime:
    begin = datetime(int(year), 1, 1, tzinfo=UTC)
    return begin + (year % 1.0) * (datetime(int(year) + 1, 1, 1, tzinfo=UTC) - begin)


@pytest.mark.parametrize(("year", "height_km", "lat", "lon", "published_deg"), PUBLISHED)
def test_declination_is_the_models(year: float, height_km: float, lat: float, lon: float, published_deg: float) -> None:
    found = declination(lon, lat, moment(year), height_km=height_km)
    assert isinstance(found, Declination)
    assert found.declination_deg == pytest.approx(published_deg, abs=0.0051)


def test_yearly_change_is_the_models() -> None:
    # The same table: +0.52 degrees a year at 80 N 0 E.
    found = declination(0.0, 80.0, moment(2025.0))
    assert isinstance(found, Declination)
    assert found.change_deg_a_year == pytest.approx(0.52, abs=0.01)


@pytest.mark.parametrize("at", [moment(2025.0) - timedelta(hours=1), moment(2030.0) + timedelta(hours=1)])
def test_outside_its_five_years_the_model_gives_nothing(at: datetime) -> None:
    told = declination(20.0, 67.0, at)
    assert isinstance(told, str)
    assert "holds from 2025 to the end of 2029" in told


def test_the_first_and_the_last_moment_are_inside() -> None:
    for year in (2025.0, 2030.0):
        assert isinstance(declination(20.0, 67.0, moment(year)), Declination)


def test_beside_the_magnetic_pole_no_compass_is_trusted() -> None:
    # The dip pole of 2025 lies near 85.8 N 139.3 E (NOAA/NCEI).
    assert "no compass can be trusted" in str(declination(139.3, 85.8, moment(2025.5)))
    # A row of the test values whose level field is under 2000 nT: 89 N 121 W, 28 km up.
    assert "no compass can be trusted" in str(declination(-121.0, 89.0, moment(2025.0), height_km=28.0))


def test_the_year_is_counted_in_world_time() -> None:
    from datetime import timezone

    local = datetime(2025, 1, 1, 0, 30, tzinfo=timezone(timedelta(hours=1)))
    assert decimal_year(local) < 2025.0
