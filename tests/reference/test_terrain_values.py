"""Terrain against published formulas, tables and worked examples; the source stands beside each."""

from __future__ import annotations

import math

import numpy as np
import pytest

from sitepick.grid import with_neighbours
from sitepick.plan.avalanche import AvalancheSettings
from sitepick.terrain import frostbite, wind_chill_c
from sitepick.terrain.avalanche import limits_for, runout_source
from sitepick.terrain.cold import position_m, roughness_m
from sitepick.terrain.drainage import flow_over
from sitepick.terrain.melt import fuel_l_per_l, heat_kj_per_l, snow_l_per_l
from sitepick.terrain.slope import slope_and_aspect, surroundings_slope_deg
from sitepick.terrain.stand import LEAST_HEIGHT_M, Stand, forest_share
from sitepick.terrain.upwind import upwind_slope_deg
from sitepick.terrain.wind import CURVATURE_WEIGHT, FAN_DEG, SLOPE_WEIGHT, Relief, relief_share
from sitepick.units import KMH_PER_MPS
from sitepick.work import Watch
from tests.helpers.made import make_grid

QUIET = Watch()


class PlainGrid:
    """A grid whose ground is as wide as its cells and whose north is true."""

    def __init__(self, shape, cell_m):
        self.shape, self.rows, self.ground_cell_m, self.centre_m = shape, shape[0], cell_m, (0.0, 0.0)

    def convergence_deg(self, east_m, north_m):
        return 0.0


def fall_of(heights, cell_m):
    z = np.array(heights, np.float32)
    slope, aspect = slope_and_aspect(z, PlainGrid(z.shape, cell_m), watch=QUIET)
    return slope[1, 1], aspect[1, 1]


def test_horn_slope_of_a_worked_window():
    # Horn 1981 on the window that textbooks of terrain analysis work through, worked by hand.
    slope, _ = fall_of([[50, 45, 50], [30, 30, 30], [8, 10, 10]], 5.0)
    assert slope == pytest.approx(75.258, abs=5e-4)


def test_horn_aspect_of_a_worked_window():
    # The same, for the way that the ground falls.
    _, aspect = fall_of([[101, 92, 85], [101, 92, 85], [101, 91, 84]], 5.0)
    assert aspect == pytest.approx(92.64, abs=5e-3)


@pytest.mark.parametrize(
    ("heights", "slope_deg", "aspect_deg"),
    [
        ([[10, 5, 0]] * 3, 9.4623, 90.0),  # falling 5 m each 30 m to the east
        ([[0, 5, 10]] * 3, 9.4623, 270.0),
        ([[0, 0, 0], [5, 5, 5], [10, 10, 10]], 9.4623, 0.0),  # rising to the south: it faces north
        ([[10, 10, 10], [5, 5, 5], [0, 0, 0]], 9.4623, 180.0),
    ],
)
def test_slope_and_aspect_of_planes(heights, slope_deg, aspect_deg):
    slope, aspect = fall_of(heights, 30.0)
    assert slope == pytest.approx(slope_deg, abs=1e-4)
    assert aspect == pytest.approx(aspect_deg, abs=1e-4)


@pytest.mark.parametrize(
    ("percent", "deg"), [(1.746, 1.0), (5.241, 3.0), (10.0, 5.711), (17.633, 10.0), (57.735, 30.0), (100.0, 45.0)]
)
def test_slopes_in_per_cent_and_degrees(percent, deg):
    # Trigonometry: tan.
    z = np.broadcast_to(np.arange(9) * percent / 10.0, (9, 9)).astype(np.float32)
    grid = PlainGrid(z.shape, 10.0)
    slope, _ = slope_and_aspect(z, grid, watch=QUIET)
    assert slope[4, 4] == pytest.approx(deg, abs=1e-3)
    assert surroundings_slope_deg(z, grid, watch=QUIET)[4, 4] == pytest.approx(deg, abs=1e-3)


@pytest.mark.parametrize(("rise_m", "away_m", "deg"), [(10.0, 100.0, 5.711), (30.0, 90.0, 18.435), (0.0, 100.0, 0.0)])
def test_steepest_rise_upwind(rise_m, away_m, deg):
    # Winstral, Elder & Davis 2002: arc tangent of rise by distance, the greatest along the ray.
    z = np.zeros((9, 80), np.float32)
    z[:, : 60 - int(away_m / 10.0) + 1] = rise_m
    mean, least = upwind_slope_deg(z, (270.0,), cell_m=10.0, watch=QUIET)
    assert mean[4, 60] == least[4, 60] == pytest.approx(deg, abs=1e-3)


def test_a_crest_has_no_shelter_and_the_fan_has_seven_rays():
    # Winstral, Elder & Davis 2002: below 0 exposed; mean over 15 degrees either side in steps of 5.
    z = -np.abs(np.arange(81) - 40.0)[None, :].repeat(81, axis=0).astype(np.float32)
    mean, _ = upwind_slope_deg(z, (270.0,), cell_m=10.0, watch=QUIET)
    assert mean[40, 40] < 0.0
    assert FAN_DEG == (-15.0, -10.0, -5.0, 0.0, 5.0, 10.0, 15.0)


def relief_of(facing, curved, upwind_rise=0.0):
    shape = (3, 3)
    z = np.zeros(shape, np.float32)
    z[1, 0] = upwind_rise * 10.0
    layers = {"to_north": np.full(shape, facing, np.float32), "to_east": np.zeros(shape, np.float32)}
    relief = Relief(
        grid=make_grid(3, 3), elevation_m=z, curved=np.full(shape, curved, np.float32), **layers
    )  # fmt: skip
    return relief_share(relief, 0.0, (270.0,), watch=QUIET).mean[1, 1]


@pytest.mark.parametrize(
    ("facing", "curved", "share"),
    [(0.5, 0.5, 1.50), (-0.5, -0.5, 0.50), (0.5, 0.0, 1.29), (0.0, 0.5, 1.21), (0.0, 0.0, 1.0)],
)
def test_weights_of_slope_and_curvature(facing, curved, share):
    # Liston & Elder 2006: W = 1 + 0.58 slope + 0.42 curvature, both from -0.5 to 0.5.
    assert (SLOPE_WEIGHT, CURVATURE_WEIGHT) == (0.58, 0.42)
    assert relief_of(facing, curved) == pytest.approx(share, abs=1e-6)


@pytest.mark.parametrize(
    ("rise_deg", "share"), [(0.0, 1.0), (5.711, 1 - 0.8 * 5.711 / 30), (15.0, 0.6), (30.0, 0.2), (60.0, 0.2)]
)
def test_shelter_by_rising_ground(rise_deg, share):
    # The house formula: level to 30 degrees takes up to four fifths.
    assert relief_of(0.0, 0.0, math.tan(math.radians(rise_deg))) == pytest.approx(share, abs=5e-4)


def stand_of(height_row, density_row, cell_m):
    height, (density, kind) = np.array([height_row], np.float32), np.unique(density_row, return_inverse=True)
    deep = np.interp(density, [0.0, 0.3, 0.5, 0.8, 1.0], [1.0, 0.6, 0.35, 0.15, 0.1]).astype(np.float32)
    return Stand(
        height_m=height, kind=kind.astype(np.int16)[None, :], density_frac=density.astype(np.float32), deep_frac=deep,
        cell_m=cell_m,
    )  # fmt: skip


@pytest.mark.parametrize(
    ("density", "shares"),
    [
        (0.3, {5: 0.50, 10: 0.65, 15: 0.80, 20: 0.85, 30: 0.95}),  # leaf-shedding row
        (0.5, {5: 0.30, 10: 0.50, 15: 0.60, 20: 0.75, 30: 0.95}),  # row of conifers
        (0.7, {5: 0.25, 10: 0.35, 15: 0.65, 20: 0.85, 30: 0.95}),  # several rows of conifers
    ],
)
def test_wind_behind_a_belt_of_trees(density, shares):
    # Brandle & Finch 1991, University of Nebraska EC91-1763, from memory: share by distance in tree heights.
    tall_m, cell_m = 10.0, 2.0
    heights = [0.0] * 20 + [tall_m] * 5 + [0.0] * 200
    share = forest_share(stand_of(heights, [density] * 225, cell_m), (270.0,), watch=QUIET).mean[0]
    for away_h, want in shares.items():
        just_before = 25 + round(away_h * tall_m / cell_m) - 1
        assert share[just_before] == pytest.approx(want, abs=0.006)
    assert share[25 + round(31 * tall_m / cell_m)] == 1.0
    assert (share[:20] == 1.0).all(), "nothing is taken off upwind of the belt: the cautious side"


@pytest.mark.parametrize("depth_h", [1.0, 2.0, 5.0])
def test_wind_inside_a_stand(depth_h):
    # Common practice: it falls over some two to five tree heights to 10-30 % in closed conifers.
    tall_m, cell_m, density = 10.0, 1.0, 0.8
    share = forest_share(stand_of([tall_m] * 200, [density] * 200, cell_m), (270.0,), watch=QUIET).mean[0]
    at = np.arange(200) * cell_m + cell_m / 2
    want = 0.15 + 0.85 * np.exp(-at / (2 * tall_m))
    np.testing.assert_allclose(share, want, atol=1e-5)
    assert np.interp(depth_h * tall_m, at, share) == pytest.approx(0.15 + 0.85 * math.exp(-depth_h / 2), abs=1e-3)
    assert share[round(5 * tall_m / cell_m)] <= 0.30
    assert LEAST_HEIGHT_M == 3.0


@pytest.mark.parametrize(
    ("temperature_f", "wind_mph", "chill_f"), [(40, 5, 36), (-10, 55, -46), (-45, 25, -84), (20, 15, 6)]
)
def test_wind_chill_of_the_published_vectors(temperature_f, wind_mph, chill_f):
    # Test vectors that meteorology libraries publish for the index of 2001 (°F, miles an hour). The metric form
    # rounds its factors otherwise: a degree Fahrenheit at most.
    chill_c = wind_chill_c((temperature_f - 32) / 1.8, wind_mph * 1.609344)
    assert chill_c * 1.8 + 32 == pytest.approx(chill_f, abs=1.0)


def test_wind_chill_of_a_metric_vector():
    # As above: -5 °C at 35 m/s feels like -18.94 °C.
    assert wind_chill_c(-5.0, 35.0 * KMH_PER_MPS) == pytest.approx(-18.94, abs=0.05)


@pytest.mark.parametrize(
    ("temperature_c", "wind_kmh", "chart_c"),
    [(0, 20, -5), (-5, 10, -9), (-10, 20, -18), (-15, 10, -21), (-20, 30, -33), (-25, 30, -39), (-35, 50, -56),
     (-40, 20, -56)],
)  # fmt: skip
def test_wind_chill_of_the_chart(temperature_c, wind_kmh, chart_c):
    # Chart of Canada's weather service (°C, km/h), cells worked from its formula.
    assert round(wind_chill_c(temperature_c, wind_kmh)) == chart_c


@pytest.mark.parametrize(
    ("temperature_c", "wind_kmh", "chill_c"), [(-20, 2, -21.71), (-40, 4, -45.58), (-10, 0, -10.0)]
)
def test_wind_chill_of_light_air(temperature_c, wind_kmh, chill_c):
    # Under 5 km/h T + (-1.59 + 0.1345 T) V / 5, from memory; worked by hand.
    assert wind_chill_c(temperature_c, wind_kmh) == pytest.approx(chill_c, abs=0.005)


@pytest.mark.parametrize(
    ("temperature_c", "wind_kmh", "minutes"), [(-25, 30, 9.99), (-30, 30, 6.91), (-35, 30, 5.11), (-40, 40, 3.53)]
)
def test_minutes_to_frostbite(temperature_c, wind_kmh, minutes):
    # Formula of Canada's weather service for the most susceptible 5 %, from memory; worked by hand.
    assert frostbite(temperature_c, wind_kmh).minutes == pytest.approx(minutes, abs=0.01)


@pytest.mark.parametrize(
    ("temperature_c", "wind_kmh", "words"),
    [(-20, 30, "10 to 30"), (-30, 30, "5 to 10"), (-35, 35, "2 to 5"), (-40, 40, "under 2")],
)
def test_bands_of_the_index(temperature_c, wind_kmh, words):
    # Hazard bands of Canada's weather service: -28, -40, -48 and -55.
    assert words in frostbite(temperature_c, wind_kmh).text


WINDOW = np.array([[10, 12, 11], [9, 10, 13], [8, 10, 12]], np.float32)


def test_roughness_of_a_worked_window():
    # Riley, DeGloria & Elliot 1999: squares of the steps 0, 2, 1, -1, 3, -2, 0, 2 sum to 23.
    assert roughness_m(WINDOW, watch=QUIET)[1, 1] == pytest.approx(4.7958, abs=5e-5)


def test_position_of_a_worked_window():
    # Weiss 2001: the height less the mean of the eight others, 85 / 8.
    assert position_m(WINDOW, 10.0, cell_m=10.0, watch=QUIET)[1, 1] == pytest.approx(-0.625, abs=1e-6)


@pytest.mark.parametrize(("water_c", "heat_kj"), [(0.0, 375.8), (20.0, 459.5), (100.0, 794.4)])
def test_heat_to_melt_a_litre(water_c, heat_kj):
    # Physics: 2.09 kJ a degree of ice, 334 to melt it, 4.186 a degree of water, from snow at -20 °C.
    assert heat_kj_per_l(-20.0, water_c) == pytest.approx(heat_kj, abs=0.1)


@pytest.mark.parametrize(("water_c", "fuel_ml"), [(0.0, 27), (100.0, 57)])
def test_fuel_to_melt_a_litre(water_c, fuel_ml):
    # White gas, 44 MJ/kg and 0.71 kg/L from memory; 45 % into the pot, common practice.
    assert round(1000.0 * fuel_l_per_l(heat_kj_per_l(-20.0, water_c))) in (fuel_ml, fuel_ml - 1)


@pytest.mark.parametrize(
    ("density_kg_m3", "snow_l"), [(50.0, 20.0), (100.0, 10.0), (200.0, 5.0), (300.0, 3.33), (400.0, 2.5)]
)
def test_snow_to_a_litre_of_water(density_kg_m3, snow_l):
    # Arithmetic: 1000 / density.
    assert snow_l_per_l(density_kg_m3) == pytest.approx(snow_l, abs=0.005)


def test_steepest_of_eight_ways():
    # O'Callaghan & Mark 1984: 10 to 8 straight is steeper than 10 to 7.5 across: 2 / L against 1.768 / L.
    z = np.full((5, 5), 20.0, np.float32)
    z[2, 2], z[2, 3], z[3, 3], z[2, 4], z[3, 4], z[4, 4] = 10.0, 8.0, 7.5, 5.0, 5.0, 5.0
    assert flow_over(z, watch=QUIET).receiver[2, 2] == 2 * 5 + 3


@pytest.mark.parametrize("angle_deg", [0, 20, 45, 70, 90])
def test_reach_of_an_avalanche(angle_deg):
    # Common practice, strict: 18 degrees from the stop up to the release; 200 m of height reach 615.5 m.
    cell_m = 5.0
    z = np.zeros((301, 301), np.float32)
    release = np.zeros(z.shape, bool)
    z[150, 150], release[150, 150] = 200.0, True
    limits, nowhere = limits_for(AvalancheSettings(), cell_m), np.full(z.shape, -1, np.int32)
    reached = with_neighbours(runout_source(z, release, nowhere, limits, cell_m=cell_m, watch=QUIET) >= 0)
    away = np.arange(0, 145) * cell_m
    rows = np.rint(150 - away * math.cos(math.radians(angle_deg)) / cell_m).astype(int)
    cols = np.rint(150 + away * math.sin(math.radians(angle_deg)) / cell_m).astype(int)
    reach_m = away[reached[rows, cols]].max()
    assert 615.5 - cell_m <= reach_m <= 615.5 + 2 * cell_m


@pytest.mark.parametrize(
    ("cell_m", "slope_deg"), [(2.0, 28.0), (10.0, 28.0), (20.0, 25.0), (30.0, 25.0), (50.0, 22.0), (90.0, 22.0)]
)
def test_gentlest_release_by_the_width_of_the_source(cell_m, slope_deg):
    # The 28 degrees are common practice; a bank of 38 degrees and 30 m reads 26.6 over 60 m: atan(30 / 60).
    assert limits_for(AvalancheSettings(), cell_m).release_deg == slope_deg
    assert math.degrees(math.atan(30.0 / 60.0)) == pytest.approx(26.6, abs=0.05)
