"""Three norths: how they are told, drawn and corrected for."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from sitepick.grid import Grid
from sitepick.magnetic import Declination
from sitepick.sheet.document import tonight_document
from sitepick.sheet.model import Text
from sitepick.sheet.norths import Norths, compass_words, north_strokes, north_words, norths_at
from sitepick.sheet.palette import read_palette
from tests.helpers.made_tonight import made_tonight

WHEN = datetime(2027, 2, 11, tzinfo=UTC)


def norths(convergence_deg: float, declination_deg: float) -> Norths:
    needle = Declination(declination_deg=declination_deg, change_deg_a_year=0.2, is_unsteady=False)
    return Norths(convergence_deg=convergence_deg, needle=needle)


def test_grid_magnetic_angle_is_declination_less_convergence() -> None:
    assert norths(-2.0, 11.0).grid_magnetic_deg == pytest.approx(13.0)
    assert norths(2.0, -11.0).grid_magnetic_deg == pytest.approx(-13.0)


def test_a_needle_to_the_east_takes_off_and_one_to_the_west_adds() -> None:
    # Common practice: true = magnetic + east declination, so a compass wants the true bearing less it.
    assert compass_words(norths(-2.0, 11.0)) == (
        "For the compass take 11.0° off a true bearing, take 13.0° off a grid bearing."
    )
    assert "add 11.0° to a true bearing, add 13.0° to a grid" in compass_words(norths(2.0, -11.0))


@pytest.mark.parametrize(
    ("crs", "east_m", "north_m"),
    [
        ("EPSG:32634", 500_000.0, 7_480_000.0),
        ("EPSG:32633", 832_000.0, 7_480_000.0),  # the zone's edge: the grid leans most
        ("EPSG:32635", 250_000.0, 9_320_000.0),  # 83.7 N
        ("EPSG:5041", 2_305_540.0, 1_470_788.0),  # 84.5 N, the polar grid
        ("EPSG:32601", 366_000.0, 7_200_000.0),  # beside 180
    ],
)
def test_north_is_told_wherever_the_job_is_done(crs: str, east_m: float, north_m: float) -> None:
    grid = Grid(crs=crs, west_m=east_m, north_m=north_m, cell_m=10.0, rows=10, cols=10)
    found = norths_at(grid, east_m, north_m, WHEN)
    # A step to grid north seen on the globe: the convergence's meaning, told by another library call.
    from pyproj import Geod

    lon, lat = grid.to_lonlat([east_m, east_m], [north_m, north_m + 1000.0])
    bearing, _, _ = Geod(ellps="WGS84").inv(lon[0], lat[0], lon[1], lat[1])
    assert (found.convergence_deg - bearing + 180.0) % 360.0 - 180.0 == pytest.approx(0.0, abs=0.05)
    assert found.grid_magnetic_deg is not None
    assert "WMM2025, February 2027" in north_words(found, WHEN)


def test_outside_the_models_years_the_sheet_says_so_and_draws_two_norths() -> None:
    grid = Grid(crs="EPSG:32634", west_m=500_000.0, north_m=7_480_000.0, cell_m=10.0, rows=10, cols=10)
    late = norths_at(grid, 520_000.0, 7_480_000.0, datetime(2031, 2, 11, tzinfo=UTC))
    assert "Magnetic north is not given" in north_words(late, WHEN)
    assert compass_words(late) == ""
    names = [s.text for s in north_strokes(late, (20.0, 20.0), read_palette("paper")) if isinstance(s, Text)]
    assert sorted(names) == ["grid", "true"]


def test_arrows_stand_in_the_order_of_their_angles() -> None:
    def order(convergence_deg: float, declination_deg: float) -> list[str]:
        drawn = north_strokes(norths(convergence_deg, declination_deg), (20.0, 20.0), read_palette("paper"))
        texts = [stroke for stroke in drawn if isinstance(stroke, Text)]
        return [stroke.text for stroke in sorted(texts, key=lambda stroke: stroke.x_mm)]

    assert order(-2.0, 11.0) == ["grid", "true", "magnetic"]
    assert order(2.0, 11.0) == ["true", "grid", "magnetic"]
    assert order(2.0, -11.0) == ["magnetic", "true", "grid"]
    assert order(0.01, 11.0) == ["true and grid", "magnetic"]


def test_the_file_tells_the_norths() -> None:
    told = tonight_document(made_tonight())["norths"]
    assert told["grid_magnetic_deg"] == pytest.approx(told["declination_deg"] - told["convergence_deg"], abs=0.011)
    assert told["model"] == "WMM2025"
