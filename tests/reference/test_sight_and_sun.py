"""Sight and sun against closed answers, published figures, tables of the sky and a plain line of sight."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import UTC, datetime, timedelta

import ephem
import numpy as np
import pytest
import rasterio
from scipy.ndimage import map_coordinates

from sitepick import work
from sitepick.grid import Grid, metric_crs
from sitepick.sky import sun_day
from sitepick.terrain import horizon, read_sight, read_sun_hours, sun_at
from sitepick.terrain.horizon import DROP_PER_M2, EARTH_RADIUS_M, horizon_deg
from sitepick.terrain.sight import SightRule
from sitepick.work import Watch
from tests.helpers.made import OPEN, SPRUCE, made_relief, make_grid, make_ground, make_plan
from tests.helpers.real_places import DATA

QUIET = Watch()
CELL_M = 10.0


def look(z, bearing_deg, cell_m=CELL_M):
    return horizon_deg(np.asarray(z, np.float32), bearing_deg, cell_m=cell_m, watch=QUIET)


# --- the earth's curve -----------------------------------------------------------------------------------


@pytest.mark.parametrize(("away_km", "drop_m"), [(1.0, 0.0683), (5.0, 1.707), (10.0, 6.828)])
def test_what_the_earth_hides_of_a_tower(away_km, drop_m):
    # d^2 / 2R (1 - k), R = 6371 km, k = 0.13: common practice in surveying, worked by hand.
    strip = np.zeros((1, round(away_km * 1000 / CELL_M) + 1))
    strip[0, -1] = 100.0
    height_seen_m = math.tan(math.radians(float(look(strip, 90.0)[0, 0]))) * away_km * 1000
    assert 100.0 - height_seen_m == pytest.approx(drop_m, abs=0.002)


@pytest.mark.parametrize(("refraction", "eye_m", "horizon_km"), [
    (0.0, 1.7, 4.654), (0.13, 1.7, 4.990), (0.25, 1.7, 5.374), (0.0, 10.0, 11.289),
])  # fmt: skip
def test_how_far_eyes_see_the_ground_itself(refraction, eye_m, horizon_km):
    # 3.57 sqrt(h) km without air, common practice; with air sqrt(2 R h / (1 - k)), worked by hand.
    ground = make_ground(np.zeros((1, 600)), cell_m=20.0)
    rule = SightRule(eye_m=eye_m, target_m=0.0, reach_m=11_900.0, drop_per_m2=(1 - refraction) / 2 / EARTH_RADIUS_M)
    eye = np.array([ground.grid.cell_centre_m(0, 0)])
    seen = read_sight(make_plan(), ground, eye, rule=rule)[0]
    last = int(np.flatnonzero(seen > 0.0)[-1])
    assert last * ground.grid.ground_cell_m / 1000 == pytest.approx(horizon_km, abs=0.025)
    assert (seen[: last + 1] == 1.0).all()


def test_how_far_eyes_see_a_tent():
    # The two horizons add: of the eyes (4.990 km) and of a ridge 2.5 m up (6.051 km).
    ground = make_ground(np.zeros((600, 1)), cell_m=20.0)
    eye = np.array([ground.grid.cell_centre_m(599, 0)])
    seen = read_sight(make_plan(), ground, eye, rule=SightRule(reach_m=11_900.0))[:, 0]
    far = 599 - int(np.flatnonzero(seen > 0.0)[0])
    assert far * ground.grid.ground_cell_m / 1000 == pytest.approx(4.990 + 6.051, abs=0.025)


# --- horizons with a closed answer -----------------------------------------------------------------------


@pytest.mark.parametrize("bearing_deg", [90.0, 80.0, 60.0, 46.0, 130.0])
def test_a_long_wall_stands_as_high_as_its_height_by_distance(bearing_deg):
    z = np.zeros((301, 61))
    z[:, 40] = 30.0
    away_m = np.arange(40, 0, -1) * CELL_M / math.cos(math.radians(bearing_deg - 90.0))
    want = np.degrees(np.arctan(30.0 / away_m - DROP_PER_M2 * away_m))
    np.testing.assert_allclose(look(z, bearing_deg)[150, :40], want, atol=1e-4)


def test_across_a_valley_the_horizon_is_the_other_rim():
    across_m = (np.arange(201) - 100) * CELL_M
    z = np.repeat(np.abs(across_m)[None, :] * math.tan(math.radians(20.0)), 5, axis=0)
    east = look(z, 90.0)[2]
    assert east[100] == pytest.approx(20.0, abs=1e-3)  # from the floor, the flank itself
    np.testing.assert_allclose(east[101:200], 20.0, atol=1e-3)
    rim_m, from_m = 1000.0, 500.0  # half-way up the west flank the far rim is seen
    rise = (rim_m - from_m) * math.tan(math.radians(20.0)) / (rim_m + from_m) - DROP_PER_M2 * (rim_m + from_m)
    assert east[50] == pytest.approx(math.degrees(math.atan(rise)), abs=1e-3)


def test_from_a_cone_the_horizon_is_level_and_on_its_foot_the_flank():
    south, east = np.indices((81, 81)) - 40
    cone = 200.0 - np.hypot(south, east) * CELL_M * math.tan(math.radians(15.0))
    for bearing_deg in (0.0, 30.0, 45.0, 90.0, 200.0):
        assert look(cone, bearing_deg)[40, 40] == 0.0
    assert look(cone, 180.0)[10, 40] == pytest.approx(15.0, abs=0.01)
    assert look(cone, 135.0)[20, 20] == pytest.approx(15.0, abs=0.01)


# --- laws ------------------------------------------------------------------------------------------------


def rough_ground():
    z = made_relief(41, 53, seed=8, height_m=40.0)
    z[5:8, 30:33] = np.nan
    return z


@pytest.mark.parametrize("bearing_deg", [0.0, 33.0, 45.0, 110.0, 290.0])
def test_turned_ground_turns_the_horizon(bearing_deg):
    z = rough_ground()
    turned = look(np.rot90(z), bearing_deg - 90.0)
    np.testing.assert_allclose(turned, np.rot90(look(z, bearing_deg)), atol=1e-5)


def test_raised_ground_keeps_its_horizon():
    z = rough_ground()
    np.testing.assert_allclose(look(z + 512.0, 70.0), look(z, 70.0), atol=1e-3)


def test_turned_ground_turns_what_is_seen():
    z = rough_ground()
    ground, turned = make_ground(z), make_ground(np.rot90(z))
    eye = np.array([ground.grid.cell_centre_m(20, 26)])
    eye_turned = np.array([turned.grid.cell_centre_m(53 - 1 - 26, 20)])
    rule = SightRule(reach_m=240.0)
    seen = read_sight(make_plan(), ground, eye, rule=rule)
    # The two grids' middles differ, and with them the ground width of a cell in the eighth figure.
    assert np.mean(np.nan_to_num(np.rot90(seen), nan=-1) != np.nan_to_num(
        read_sight(make_plan(), turned, eye_turned, rule=rule), nan=-1)) < 0.002  # fmt: skip
    assert 0.02 < np.nanmean(seen) < 0.9


@pytest.mark.parametrize("bearing_deg", [0.0, 33.0, 45.0, 110.0, 290.0])
def test_mirrored_ground_mirrors_the_horizon(bearing_deg):
    z = rough_ground()
    np.testing.assert_allclose(look(z[:, ::-1], -bearing_deg), look(z, bearing_deg)[:, ::-1], atol=1e-5)


@pytest.mark.parametrize("bearing_deg", [0.0, 33.0, 290.0])
def test_twice_as_wide_and_high_stands_as_high(bearing_deg, monkeypatch):
    monkeypatch.setattr(horizon, "DROP_PER_M2", 0.0)  # the earth doesn't grow with it
    z = rough_ground()
    np.testing.assert_array_equal(look(2.0 * z, bearing_deg, 2.0 * CELL_M), look(z, bearing_deg))


def what_is_seen(ground, cells, reach_m=240.0, **known):
    eyes = np.array([ground.grid.cell_centre_m(*cell) for cell in cells])
    return np.nan_to_num(read_sight(make_plan(), ground, eyes, rule=SightRule(reach_m=reach_m, **known)), nan=-1.0)


def test_mirrored_raised_and_widened_ground_shows_the_same():
    z = rough_ground()
    plain = what_is_seen(make_ground(z), [(20, 26), (9, 40)])
    mirrored = what_is_seen(make_ground(z[:, ::-1]), [(20, 52 - 26), (9, 52 - 40)])
    raised = what_is_seen(make_ground(z - 512.0), [(20, 26), (9, 40)])  # far below the sea
    assert np.mean(mirrored[:, ::-1] != plain) < 0.002
    assert np.mean(raised != plain) < 0.002
    flat = {"drop_per_m2": 0.0}
    wide = read_sight(
        make_plan(), make_ground(2.0 * z, cell_m=2.0 * CELL_M), np.array([make_grid_cell(2.0 * CELL_M)]),
        rule=SightRule(reach_m=480.0, eye_m=3.4, target_m=5.0, **flat),
    )  # fmt: skip
    narrow = what_is_seen(make_ground(z), [(20, 26)], **flat)
    assert np.mean(np.nan_to_num(wide, nan=-1.0) != narrow) < 0.002


def make_grid_cell(cell_m):
    return make_grid(41, 53, cell_m=cell_m).cell_centre_m(20, 26)


@pytest.mark.parametrize("threads", [1, 2, 5])
def test_any_number_of_threads_gives_the_same_to_the_bit(monkeypatch, threads):
    z = made_relief(300, 280, seed=2, height_m=60.0)
    ground = make_ground(z, np.where(z > np.median(z), SPRUCE, OPEN))
    cells, plan = [(20, 26), (140, 130), (280, 30)], make_plan()
    eyes = np.array([ground.grid.cell_centre_m(*cell) for cell in cells])
    usual = look(z, 33.0), read_sun_hours(plan, ground), read_sight(plan, ground, eyes)
    monkeypatch.setattr(work, "thread_count", lambda: threads)
    for got, want in zip(
        (look(z, 33.0), read_sun_hours(plan, ground), read_sight(plan, ground, eyes)), usual, strict=True
    ):
        assert np.array_equal(got, want, equal_nan=True)


def test_level_sea_and_ground_below_it_are_seen_all_over():
    for height_m in (0.0, -3.5):
        z = np.full((12, 15), height_m)
        assert (look(z, 70.0) == 0.0).all()
        assert (what_is_seen(make_ground(z), [(3, 4)]) == 1.0).all()


@pytest.mark.parametrize("shape", [(1, 1), (1, 40), (40, 1), (2, 2)])
def test_strips_and_single_cells_have_sight(shape):
    assert (what_is_seen(make_ground(np.zeros(shape)), [(shape[0] - 1, 0)], 500.0) == 1.0).all()


def test_a_gap_takes_nothing_from_the_ground_around_it():
    z = np.zeros((21, 31))
    z[8:12, 14:18] = np.nan
    for bearing_deg in (0.0, 33.0, 90.0):
        assert np.array_equal(np.isnan(look(z, bearing_deg)), np.isnan(z))
    assert np.array_equal(what_is_seen(make_ground(z), [(10, 3)], 500.0) == 1.0, np.isfinite(z))


def test_unknown_ground_is_unknown_and_hides_nothing():
    z = np.zeros((9, 30))
    z[:, 20] = 50.0
    assert look(z, 90.0)[4, 5] > 10.0
    z[:, 20] = np.nan
    east = look(z, 90.0)
    assert east[4, 5] == 0.0
    assert np.array_equal(np.isnan(east), np.isnan(z))
    seen = read_sight(make_plan(), make_ground(z), np.array([make_ground(z).grid.cell_centre_m(4, 2)]))
    assert np.array_equal(np.isnan(seen), np.isnan(z))
    assert (seen[:, 21:] == 1.0).all()


# --- sight against a plain line of sight -----------------------------------------------------------------


def clearance(z, eye, cell, cell_m, rule):
    """How far a sight line runs over the highest ground before its end, as a slope; heights from cell to cell."""
    south, east = cell[0] - eye[0], cell[1] - eye[1]
    steps = max(abs(south), abs(east))
    share = np.arange(1, steps) / steps
    row, col = eye[0] + south * share, eye[1] + east * share
    low_row, low_col = np.floor(np.round(row, 9)).astype(int), np.floor(np.round(col, 9)).astype(int)
    part = (row - low_row) + (col - low_col)
    far_row, far_col = np.ceil(np.round(row, 9)).astype(int), np.ceil(np.round(col, 9)).astype(int)
    height = z[low_row, low_col] * (1 - part) + z[far_row, far_col] * part
    own = float(z[eye]) + rule.eye_m
    away_m = share * math.hypot(south, east) * cell_m
    whole_m = math.hypot(south, east) * cell_m
    target = (float(z[cell]) + rule.target_m - own) / whole_m - rule.drop_per_m2 * whole_m
    return target - np.max((height - own) / away_m - rule.drop_per_m2 * away_m, initial=-np.inf)


def known_heights(place):
    """The middle of real ground, 91 x 97 cells."""
    with rasterio.open(DATA / f"{place}_elevation.tif") as file:
        heights = file.read(1)
    top, left = (heights.shape[0] - 91) // 2, (heights.shape[1] - 97) // 2
    return heights[top : top + 91, left : left + 97].astype(np.float32)


@pytest.mark.slow
@pytest.mark.parametrize("of", [(1, 2.0, 90.0), (2, 3.0, 90.0), (3, 2.5, 300.0), "n57e011", "n44e005"])
def test_sight_is_that_of_a_plain_line_but_where_it_grazes(of):
    is_real = isinstance(of, str)
    z = known_heights(of) if is_real else made_relief(91, 97, seed=of[0], roughness=of[1], height_m=of[2])
    ground, rule = make_ground(z, cell_m=30.0 if is_real else CELL_M), SightRule()
    eye = np.unravel_index(np.argmax(z[30:60, 30:60]), (30, 30))
    eye = int(eye[0]) + 30, int(eye[1]) + 30
    seen = read_sight(make_plan(), ground, np.array([ground.grid.cell_centre_m(*eye)]), rule=rule) > 0.0
    over = np.array([
        [clearance(z, eye, (row, col), ground.grid.ground_cell_m, rule) if (row, col) != eye else 1.0
         for col in range(97)] for row in range(91)
    ])  # fmt: skip
    differs = seen != (over >= 0.0)
    print(
        of, f"{100 * np.mean(differs):.3f} % differ, {100 * np.mean(differs & ~seen):.3f} % seen by the plain line only"
    )
    assert np.mean(differs) <= 0.005
    assert 0.02 < seen.mean() < 0.95
    steepest = np.abs(np.gradient(z, ground.grid.ground_cell_m)).max()
    assert np.abs(over[differs]).max(initial=0.0) < 0.5 * steepest  # half a cell aside is the most that it is off


# --- the sun ---------------------------------------------------------------------------------------------


def sunny(lon_deg, lat_deg, depart, heights=None):
    """A plan and ground about a place on the globe, flat unless heights are given."""
    z = np.zeros((9, 9)) if heights is None else heights
    crs = metric_crs(lon_deg, lat_deg)
    seed = Grid(crs=crs, west_m=0.0, north_m=0.0, cell_m=CELL_M, rows=1, cols=1)
    east, north = seed.from_lonlat(lon_deg, lat_deg)
    rows, cols = np.shape(z)
    grid = Grid(crs=crs, west_m=float(east) - cols * CELL_M / 2, north_m=float(north) + rows * CELL_M / 2,
                cell_m=CELL_M, rows=rows, cols=cols)  # fmt: skip
    plan = make_plan()
    return replace(plan, march=replace(plan.march, depart=datetime.fromisoformat(depart))), make_ground(z, grid=grid)


@pytest.mark.parametrize(("lat_deg", "lon_deg", "depart", "rise_utc", "set_utc"), [
    # Sunrise and sunset by the ephemeris DE421 and by an independent low-precision formula, which agree.
    (59.9139, 10.7522, "2026-01-15T07:00+01:00", "2026-01-15T08:04:00Z", "2026-01-15T14:49:17Z"),
    (67.8558, 20.2253, "2026-02-15T08:00+01:00", "2026-02-15T06:56:23Z", "2026-02-15T14:51:19Z"),
    (62.4540, -114.3718, "2026-12-21T08:00-07:00", "2026-12-21T17:07:01Z", "2026-12-21T22:04:24Z"),
    (0.0, 0.0, "2026-03-20T03:00+00:00", "2026-03-20T06:04:11Z", "2026-03-20T18:10:41Z"),
])  # fmt: skip
def test_flat_ground_has_sun_from_sunrise_to_sunset(lat_deg, lon_deg, depart, rise_utc, set_utc):
    plan, ground = sunny(lon_deg, lat_deg, depart)
    first, last = datetime.fromisoformat(rise_utc), datetime.fromisoformat(set_utc)
    length_h = (last - first) / timedelta(hours=1)
    np.testing.assert_allclose(read_sun_hours(plan, ground), length_h, atol=0.03)
    sun = sun_at(plan, ground, (4, 4))
    assert abs(sun.first - first) < timedelta(minutes=1)
    assert abs(sun.last - last) < timedelta(minutes=1)
    assert sun.first.utcoffset() == plan.march.depart.utcoffset()
    assert sun.hours == pytest.approx(length_h, abs=0.03)


@pytest.mark.parametrize("month", range(1, 13))
def test_flat_ground_has_the_day_of_the_sky_all_year(month):
    plan, ground = sunny(20.0, 64.0, f"2027-{month:02d}-10T08:00+01:00")
    day = sun_day(20.0, 64.0, plan.march.depart.date(), plan.march.depart.tzinfo)
    length_h = (day.sunset - day.sunrise) / timedelta(hours=1)
    assert read_sun_hours(plan, ground)[4, 4] == pytest.approx(length_h, abs=0.03)


def test_the_polar_night_has_no_sun_anywhere():
    relief = made_relief(30, 30, height_m=200.0)
    relief[4, 4] = np.nan
    plan, ground = sunny(18.9553, 69.6492, "2026-12-21T08:00+01:00", relief)  # noon altitude -3.09 degrees
    hours = read_sun_hours(plan, ground)
    assert np.array_equal(np.isnan(hours), np.isnan(relief))
    assert np.nanmax(hours) == 0.0
    sun = sun_at(plan, ground, (15, 15))
    assert (sun.hours, sun.first, sun.last) == (0.0, None, None)
    assert sun_at(plan, ground, (4, 4)).hours is None


@pytest.mark.slow
def test_the_midnight_sun_shines_all_day_on_flat_ground_and_not_behind_a_hill():
    plan, ground = sunny(27.0289, 69.9078, "2026-06-21T08:00+03:00")
    np.testing.assert_allclose(read_sun_hours(plan, ground), 24.0, atol=1e-3)
    sun = sun_at(plan, ground, (4, 4))
    assert (sun.first, sun.last) == (None, None)
    assert sun.hours == pytest.approx(24.0)
    hill = np.zeros((41, 401))
    hill[:10] = 300.0  # to the north, where the sun stands low
    plan, ground = sunny(27.0289, 69.9078, "2026-06-21T08:00+03:00", hill)
    hours = read_sun_hours(plan, ground)
    sun = sun_at(plan, ground, (20, 200))
    assert 8.0 < hours[20, 200] < 20.0
    assert hours[20, 200] == pytest.approx(sun.hours, abs=0.25)
    assert sun.first is not None
    assert sun.last is not None


@pytest.mark.slow
def test_a_wall_in_the_south_takes_the_sun_while_it_stands_higher():
    # On 2027-02-11 the sun comes to 8.5 degrees at 67.4 N: over a wall of 7 degrees, not over one of 10.
    for wall_deg, has_noon in ((7.0, True), (10.0, False)):
        z = np.zeros((61, 2001))
        z[-1] = 300.0 * math.tan(math.radians(wall_deg))
        plan, ground = sunny(21.0, 67.4, "2027-02-11T08:00+01:00", z)
        hours = read_sun_hours(plan, ground)[30, 1000]
        flat = sun_day(21.0, 67.4, plan.march.depart.date(), plan.march.depart.tzinfo)
        length_h = (flat.sunset - flat.sunrise) / timedelta(hours=1)
        assert hours < length_h
        assert hours == pytest.approx(sun_at(plan, ground, (30, 1000)).hours, abs=0.25)
        assert (hours > 3.0) == has_noon


# --- a second opinion on the sky -------------------------------------------------------------------------


def sky_by_library(lon_deg, lat_deg, start, minutes):
    """Azimuth and height of the sun's upper rim, air and all, from ephem's own theory (VSOP87)."""
    place = ephem.Observer()
    place.lon, place.lat, place.pressure, place.elevation = math.radians(lon_deg), math.radians(lat_deg), 0, 0
    sun, told = ephem.Sun(), []
    for minute in minutes.tolist():
        place.date = ephem.Date((start + timedelta(minutes=minute)).astimezone(UTC).replace(tzinfo=None))
        sun.compute(place)
        true_deg = math.degrees(sun.alt)
        # Saemundsson 1986, from true altitude, minutes of arc: from memory; flat below -1 degree, where it is unfit.
        bent = 1.02 / math.tan(math.radians(max(true_deg, -1.0) + 10.3 / (max(true_deg, -1.0) + 5.11)))
        told.append((math.degrees(sun.az), true_deg + bent / 60.0 + math.degrees(sun.radius)))
    return np.array(told).T


@pytest.mark.slow
@pytest.mark.parametrize("day", ["2027-02-11", "2027-04-20", "2027-06-21"])
def test_first_and_last_sun_among_hills_are_those_of_another_ephemeris_and_a_plain_look(day):
    z = made_relief(61, 61, seed=4, height_m=90.0, roughness=3.5)  # smooth: what lies between cells is no question
    lon_deg, lat_deg = 21.0, 65.5
    plan, ground = sunny(lon_deg, lat_deg, f"{day}T08:00+01:00", z)
    cell = 25, 31
    east, north = ground.grid.cell_centre_m(*cell)
    lon, lat = ground.grid.to_lonlat(east, north)
    start = datetime.fromisoformat(f"{day}T00:00+01:00")
    minutes = np.arange(0, 24 * 60)
    azimuth, rim_deg = sky_by_library(float(lon), float(lat), start, minutes)
    up = np.flatnonzero(rim_deg > 0.0)
    convergence = ground.grid.convergence_deg(east, north)
    over = np.zeros(len(minutes), bool)
    over[up] = [rim_deg[m] > plain_horizon(z, cell, azimuth[m] - convergence, ground.grid.ground_cell_m) for m in up]
    sun = sun_at(plan, ground, cell)
    assert sun.hours == pytest.approx(over.sum() / 60.0, abs=0.1)
    # Five minutes: a sun that creeps along a ridge.
    assert abs(sun.first - (start + timedelta(minutes=int(np.flatnonzero(over)[0])))) <= timedelta(minutes=5)
    assert abs(sun.last - (start + timedelta(minutes=int(np.flatnonzero(over)[-1])))) <= timedelta(minutes=5)
    assert read_sun_hours(plan, ground)[cell] == pytest.approx(over.sum() / 60.0, abs=0.4)
    assert 0.1 < over.sum() / up.size <= 1.0


def plain_horizon(z, cell, bearing_deg, cell_m):
    """Highest of the ground along a ray, in steps of a tenth of a cell between four cells each."""
    away = np.arange(0.5, 90.0, 0.1)
    row = cell[0] - away * math.cos(math.radians(bearing_deg))
    col = cell[1] + away * math.sin(math.radians(bearing_deg))
    inside = (row >= 0) & (row <= z.shape[0] - 1) & (col >= 0) & (col <= z.shape[1] - 1)
    height = map_coordinates(z.astype(float), [row[inside], col[inside]], order=1)
    away_m = away[inside] * cell_m
    rise = (height - float(z[cell])) / away_m - DROP_PER_M2 * away_m
    return math.degrees(math.atan(max(0.0, rise.max(initial=0.0))))


def test_sun_hours_of_strips():
    for shape in ((1, 40), (40, 1), (1, 1)):
        plan, ground = sunny(21.0, 67.4, "2027-02-11T08:00+01:00", np.zeros(shape))
        np.testing.assert_allclose(read_sun_hours(plan, ground), 7.44, atol=0.03)
