"""The further factors on made ground: measured only where asked for, each by what a person could check with a tape."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sitepick.plan.edits import with_factor, with_values, with_weight, with_weights
from sitepick.plan.factor_words import FACTOR_WORDS
from sitepick.plan.further import FURTHER_NAMES
from sitepick.plan.model import MAIN_NAMES, Preferences, Route
from sitepick.plan.observer import Observer
from sitepick.sites import around, find_sites, rank_again, why_here
from sitepick.sites.asked_layers import LAYER_MAKERS, LayerGround, asked_layers
from sitepick.sites.candidates import Piece
from sitepick.sites.factors import measure_piece, score_frac
from sitepick.sites.reading import PieceGround
from sitepick.sites.way_in import way_cells
from sitepick.terrain import read_terrain
from sitepick.terrain.sight import SightRule, read_sight
from sitepick.work import Watch, run_row_blocks
from tests.helpers.made import (
    BIRCH,
    LEGEND,
    OPEN,
    SPRUCE,
    TREES_OF_UNKNOWN_LEAF,
    made_relief,
    make_ground,
    make_plan,
    make_terrain,
)
from tests.helpers.made_march import make_march
from tests.unit.sites.made_sites import grove, sites_on

ROWS, COLS = 60, 80
CAMP = (24, 36, 34, 46)  # first row, past last row, first column, past last column


def box(top: int, bottom: int, left: int, right: int) -> np.ndarray:
    """The cells of a box."""
    return np.argwhere(np.ones((bottom - top, right - left), bool)) + np.array((top, left))


def measured(name, cover=OPEN, *, heights=None, cells=None, plan=None, ground_has=None, march_has=None, **terrain):
    """One further factor of a camp-sized piece in the middle of the ground."""
    heights = np.full((ROWS, COLS), 300.0) if heights is None else heights
    ground = make_ground(heights, cover, **(ground_has or {}))
    plan = plan or make_plan(ground)
    if not plan.preferences.factor(name).is_asked:
        plan = with_weight(plan, name, 10.0)
    made, march = make_terrain(ground, **terrain), make_march(plan, ground, **(march_has or {}))
    whole = slice(0, ROWS), slice(0, COLS)
    on = LayerGround(plan=plan, ground=ground, terrain=made, march=march, window=whole, watch=Watch())
    piece = PieceGround(
        plan=plan, ground=ground, terrain=made, march=march, water_min=np.full((ROWS, COLS), 10.0, np.float32),
        water_limit_min=60.0, piece=Piece(cells=box(*CAMP) if cells is None else cells, capacity=7), need_count=5,
        layers=asked_layers(on),
    )  # fmt: skip
    return next(measure for measure in measure_piece(piece) if measure.name == name)


def test_a_plan_that_asks_for_nothing_further_measures_and_makes_nothing_further():
    sites = sites_on(np.full((60, 60), SPRUCE))
    assert sites.layers == {}
    assert all(tuple(measure.name for measure in site.measures) == MAIN_NAMES for site in sites.sites)


def test_cold_air_alone_counts_from_the_start():
    assert [name for name, _ in Preferences().measured_factors()] == [*MAIN_NAMES, "cold"]


@pytest.mark.parametrize("name", FURTHER_NAMES)
def test_each_is_measured_when_asked_and_scores_by_its_curve(name):
    measure = measured(name, SPRUCE)
    factor = make_plan().preferences.factor(name)
    assert (measure.label, measure.unit) == (FACTOR_WORDS[name].label, FACTOR_WORDS[name].unit)
    assert measure.weight > 0.0
    if measure.value is not None:
        assert measure.score == measure.score_high == pytest.approx(score_frac(factor, measure.value))
    assert measure.sentence.endswith(".")


@pytest.mark.parametrize("name", FURTHER_NAMES)
def test_a_limit_alone_asks_too_and_weighs_nothing(name):
    side = f"limit_{FACTOR_WORDS[name].limit}"
    far = 2000.0 if side == "limit_max" else -2000.0
    ground_has = {"track_lines": (np.array([[500_010.0, 7_479_900.0], [500_700.0, 7_479_900.0]]),)}
    measure = measured(
        name, SPRUCE, plan=with_factor(make_plan(make_ground(np.zeros((ROWS, COLS)))), name, **{side: far}),
        ground_has=ground_has,
    )  # fmt: skip
    assert measure.weight == 0.0
    assert measure.within_limit
    tight = with_factor(make_plan(make_ground(np.zeros((ROWS, COLS)))), name, **{side: -far})
    assert not measured(name, SPRUCE, plan=tight, ground_has=ground_has).within_limit


# Cold, trees, wood


def test_a_hollow_is_cold_and_cold_that_is_not_known_is_a_range():
    assert measured("cold", cold_pool_frac=0.9).value == pytest.approx(0.9)
    unknown = measured("cold", cold_pool_frac=np.full((ROWS, COLS), np.nan, np.float32))
    assert unknown.value is None
    assert (unknown.score, unknown.score_high) == (0.0, 1.0)


def test_depth_in_the_forest_is_read_from_its_edge():
    wood = grove((10, 50, 20, 60), rows=ROWS, cols=COLS)
    at_heart = measured("depth", wood, cells=box(29, 31, 39, 41))
    assert at_heart.value == pytest.approx(195.0, abs=1.0)  # 19 cells and a half of 10 m to the wood's nearest side
    assert measured("depth", wood, cells=box(29, 31, 20, 22)).value == pytest.approx(5.0, abs=6.0)
    assert measured("depth", OPEN).value == 0.0
    no_crowns = np.full((ROWS, COLS), np.nan, np.float32)
    assert measured("depth", SPRUCE, canopy_frac=no_crowns).value is None


def test_boughs_and_fuel_are_what_stands_within_a_short_walk():
    beside = grove((10, 24, 0, COLS), rows=ROWS, cols=COLS)
    cells = box(29, 30, 39, 40)
    # 31 x 31 cells around the place; rows 14 to 44 hold ten rows of spruce.
    assert measured("boughs", beside, cells=cells).value == pytest.approx(0.85 * 10 / 31, abs=1e-3)
    assert measured("fuel", beside, cells=cells).value == pytest.approx(0.8 * 10 / 31, abs=1e-3)
    assert measured("boughs", TREES_OF_UNKNOWN_LEAF).value is None
    assert measured("boughs", TREES_OF_UNKNOWN_LEAF).score_high == 1.0


def test_evergreens_hide_from_the_air_and_bare_crowns_hide_half():
    assert measured("seen_air", SPRUCE).value == pytest.approx(0.15)
    assert measured("seen_air", BIRCH).value == pytest.approx(1.0 - 0.3)
    unknown = measured("seen_air", TREES_OF_UNKNOWN_LEAF)  # 0.7 of crowns: green or bare
    assert unknown.value is None
    factor = make_plan().preferences.further.seen_air
    assert unknown.score == pytest.approx(score_frac(factor, 0.65))
    assert unknown.score_high == pytest.approx(score_frac(factor, 0.30))


# Slope over the footprint


def test_one_steep_cell_is_told():
    slopes = np.full((ROWS, COLS), 2.0, np.float32)
    slopes[30, 40] = 9.0
    assert measured("steepest", slope_deg=slopes).value == pytest.approx(9.0)


def test_the_chance_of_level_ground_falls_with_the_error_of_the_heights():
    sure = measured("level_chance", slope_30m_deg=5.0, slope_error_deg=0.1).value
    less = measured("level_chance", slope_30m_deg=5.0, slope_error_deg=2.0).value
    assert sure > 0.99
    assert 0.4 < less < 0.7
    assert measured("level_chance", slope_30m_deg=2.0, slope_error_deg=0.0).value == 1.0


# Concealment


def ridge(row: int, height_m: float = 20.0) -> np.ndarray:
    """Level ground with a wall of earth across it from west to east."""
    heights = np.full((ROWS, COLS), 300.0)
    heights[row] += height_m
    return heights


def route_along(ground, row):
    west, _, east, north = ground.grid.bounds_m
    y_m = north - (row + 0.5) * ground.grid.cell_m
    lon, lat = ground.grid.to_lonlat([west + 15.0, east - 15.0], [y_m, y_m])
    return Route(name="r", points=tuple(zip(map(float, lon), map(float, lat), strict=True)))


@pytest.mark.kernel
def test_a_camp_in_the_open_is_seen_from_the_route_and_one_behind_a_ridge_is_not():
    ground = make_ground(np.full((ROWS, COLS), 300.0))
    plan = replace(make_plan(ground), route=route_along(ground, 4))
    assert measured("seen_route", plan=plan).value == pytest.approx(1.0, abs=0.02)
    hidden = measured("seen_route", plan=plan, heights=ridge(12))
    assert hidden.value == pytest.approx(0.0, abs=0.02)
    assert hidden.sentence.startswith("Hidden from the places along the route")


@pytest.mark.kernel
def test_tracks_look_too_and_without_any_who_passes_is_not_known():
    ground = make_ground(np.full((ROWS, COLS), 300.0))
    west, _, east, north = ground.grid.bounds_m
    line = np.array([[west + 5.0, north - 45.0], [east - 5.0, north - 45.0]])
    assert measured("seen_tracks", ground_has={"track_lines": (line,)}).value == pytest.approx(1.0, abs=0.02)
    nobody = measured("seen_tracks")
    assert nobody.value is None
    assert (nobody.score, nobody.score_high) == (0.0, 1.0)


@pytest.mark.kernel
def test_marked_observers_count_each_with_eyes_of_its_own_height():
    ground = make_ground(ridge(12))
    grid = ground.grid
    lon, lat = grid.to_lonlat(*grid.cell_centre_m(6, 40))
    low = Observer(place=(float(lon), float(lat)), eye_m=1.7)
    tower = Observer(place=(float(lon), float(lat)), eye_m=150.0)
    plan = make_plan(ground)
    nobody = measured("seen_observers", heights=ridge(12), plan=plan)
    assert (nobody.value, nobody.sentence) == (0.0, "No observer is marked.")
    one = replace(plan, observers=(low,))
    assert measured("seen_observers", heights=ridge(12), plan=one).value == pytest.approx(0.0, abs=0.02)
    both = replace(plan, observers=(low, tower))
    assert measured("seen_observers", heights=ridge(12), plan=both).value == pytest.approx(0.5, abs=0.02)
    far = replace(plan, observers=(Observer(place=(10.0, 60.0)),))
    assert measured("seen_observers", plan=far).value is None


@pytest.mark.kernel
def test_a_ridge_to_the_south_takes_the_sun():
    heights = np.full((ROWS, COLS), 300.0)
    heights[40:44] += 200.0
    shaded, sunny = measured("sun", heights=heights), measured("sun")
    assert shaded.value < 0.5 * sunny.value
    assert 4.0 < sunny.value < 9.0  # at 67° N on 11 February


# The way in


def test_the_way_in_leads_from_the_place_to_the_route_without_a_gap():
    ground = make_ground(np.full((ROWS, COLS), 300.0))
    march = make_march(make_plan(ground), ground)
    way = way_cells(march, 10, 33)
    assert way[0].tolist() == [10, 33]
    assert way[-1].tolist() == [ROWS // 2, 33]
    assert np.abs(np.diff(way, axis=0)).max() == 1


def test_a_place_on_the_route_has_no_way_in_but_itself():
    ground = make_ground(np.full((ROWS, COLS), 300.0))
    assert way_cells(make_march(make_plan(ground), ground), ROWS // 2, 33).tolist() == [[ROWS // 2, 33]]


def test_the_steepest_bit_and_the_slowest_ground_lie_on_the_way_not_beside_it():
    slopes = np.full((ROWS, COLS), 2.0, np.float32)
    slopes[20, 30:50], slopes[20, 60:] = 14.0, 40.0
    cells = box(6, 12, 36, 44)  # north of the route, so that its way in crosses row 20
    assert measured("way_slope", slope_30m_deg=slopes, cells=cells).value == pytest.approx(14.0)
    cover = np.full((ROWS, COLS), OPEN)
    cover[20, 30:50] = SPRUCE
    assert measured("way_going", cover, cells=cells).value == pytest.approx(1.2)
    is_track = np.zeros((ROWS, COLS), bool)
    is_track[20] = True
    assert measured("way_going", cover, cells=cells, ground_has={"is_track": is_track}).value == pytest.approx(1.0)


def test_a_way_in_that_is_not_known_is_a_range():
    unknown = np.full((ROWS, COLS), np.nan, np.float32)
    measure = measured("way_slope", slope_30m_deg=unknown)
    assert measure.value is None
    assert (measure.score, measure.score_high) == (0.0, 1.0)


# All-round defence


def test_a_knoll_falls_away_all_round_and_a_bowl_is_looked_down_on():
    row, col = np.indices((ROWS, COLS))
    away_m = 10.0 * np.hypot(row - 29.5, col - 39.5)
    slope = math.tan(math.radians(6.0))
    assert measured("approaches", heights=300.0 - slope * away_m).value == pytest.approx(6.0, abs=0.3)
    bowl = measured("approaches", heights=300.0 + slope * away_m)
    assert bowl.value == pytest.approx(-6.0, abs=0.3)
    assert "looks down on it" in bowl.sentence
    assert measured("approaches").value == 0.0


@pytest.mark.kernel
def test_in_the_open_all_is_in_view_and_trees_close_it():
    assert measured("view").value > 0.95
    assert measured("view", SPRUCE).value < 0.35
    gaps = np.full((ROWS, COLS), np.nan)
    gaps[CAMP[0] : CAMP[1], CAMP[2] : CAMP[3]] = 300.0
    assert measured("view", heights=gaps).value is None


@pytest.mark.kernel
@pytest.mark.parametrize("corner", [(24, 34), (0, 0), (50, 70)])
def test_the_view_is_the_most_that_one_of_six_sees_each_read_alone(corner):
    cover = np.full((ROWS, COLS), OPEN, np.int16)
    cover[::7, ::5] = SPRUCE
    cover[40:, :30] = BIRCH
    heights = 300.0 + made_relief(ROWS, COLS, height_m=25.0)
    ground = make_ground(heights, cover)
    plan, (top, left) = make_plan(ground), corner
    cells = box(top, top + 10, left, left + 10)
    on = PieceGround(
        plan=plan, ground=ground, terrain=make_terrain(ground), march=make_march(plan, ground),
        water_min=np.full((ROWS, COLS), 10.0, np.float32), water_limit_min=60.0,
        piece=Piece(cells=cells, capacity=7), need_count=5,
    )  # fmt: skip
    cell_m = ground.grid.ground_cell_m
    rule = SightRule(eye_m=1.5, target_m=1.0, reach_m=around.VIEW_M + cell_m)
    alone = [
        read_sight(plan, ground, np.array([ground.grid.cell_centre_m(row, col)]), rule=rule)
        for row, col in around._edge_places(on, 6).tolist()
    ]
    rows, cols = np.indices((ROWS, COLS))
    away = np.min([np.hypot(rows - row, cols - col) for row, col in cells.tolist()], axis=0) * cell_m
    is_near = (away > 0.0) & (away <= around.VIEW_M)
    assert around.view_frac(on) == pytest.approx(np.fmax.reduce(alone)[is_near].mean(), abs=1e-4)


# Next morning, hazards


@pytest.mark.kernel
def test_the_morning_is_the_way_back_and_a_long_one_is_past_its_limit():
    near, far = measured("morning", cells=box(27, 33, 34, 40)), measured("morning", cells=box(2, 6, 34, 40))
    assert near.value < far.value
    plan = with_factor(
        make_plan(make_ground(np.zeros((ROWS, COLS)))), "morning", limit_max=0.5, curve=((0.1, 1.0), (0.2, 0.0))
    )
    late = measured("morning", cells=box(2, 6, 34, 40), plan=plan)
    assert not late.within_limit
    assert late.score == 0.0


def test_hazards_are_measured_to_their_nearest_side():
    runout = np.zeros((ROWS, COLS), bool)
    runout[:10] = True
    # From the camp's first row, 24, to the side of row 9: fourteen cells and a half less half a cell.
    assert measured("hazards", is_avalanche_runout=runout).value == pytest.approx(145.0, abs=1.0)
    assert measured("hazards").value == 1000.0
    burnt = replace(LEGEND, classes=(*LEGEND.classes, replace(LEGEND.classes[SPRUCE], code=9, name="burnt forest")))
    cover = np.full((ROWS, COLS), OPEN)
    cover[:, :10] = len(LEGEND.classes)
    assert measured("hazards", cover, ground_has={"legend": burnt}).value == pytest.approx(245.0, abs=1.0)


# In the search


def test_who_wants_depth_gets_the_deep_wood():
    cover = grove((26, 34, 2, 38), (0, 24, 44, 80), rows=ROWS, cols=COLS)
    plain = sites_on(cover, people=20)
    plan = with_weight(make_plan(make_ground(np.zeros(cover.shape)), people=20), "depth", 200.0)
    deep = sites_on(cover, plan=plan)
    assert deep.sites[0].measure("depth").value > 50.0
    assert all("depth" not in [measure.name for measure in site.measures] for site in plain.sites)


def test_a_limit_on_a_further_factor_keeps_sites_out_and_is_named_where_none_is_left():
    cold = np.where(np.arange(COLS) < 40, 0.9, 0.1) + np.zeros((ROWS, 1))
    plan = with_factor(make_plan(make_ground(np.zeros((ROWS, COLS))), people=20), "cold", limit_max=0.4)
    sites = sites_on(np.full((ROWS, COLS), SPRUCE), plan=plan, cold_pool_frac=cold.astype(np.float32))
    assert sites.sites
    assert all(site.measure("cold").value <= 0.4 for site in sites.sites)
    none = sites_on(np.full((ROWS, COLS), SPRUCE), plan=plan, cold_pool_frac=0.8)
    assert not none.sites
    assert "cold air gathering" in next(reason.text for reason in none.hindrances if reason.name == "limits")


@pytest.fixture(scope="module")
def scene():
    ground = make_ground(np.full((ROWS, COLS), 300.0), SPRUCE)
    plan = with_weights(make_plan(ground, people=20), {"depth": 10.0, "cold": 5.0})
    cold = np.where(np.arange(COLS) < 40, 0.9, 0.1) + np.zeros((ROWS, 1))
    terrain, march = make_terrain(ground, cold_pool_frac=cold.astype(np.float32)), make_march(plan, ground)
    return plan, ground, terrain, march, find_sites(plan, ground, terrain, march)


def test_a_weight_that_moves_uses_the_layers_again_and_one_that_is_new_is_looked_for(scene):
    plan, ground, terrain, march, sites = scene
    again = rank_again(with_weight(plan, "depth", 30.0), ground, terrain, march, sites)
    assert again.sites[0].measure("depth").weight > sites.sites[0].measure("depth").weight
    assert rank_again(with_weight(plan, "steepest", 5.0), ground, terrain, march, sites) is None
    assert rank_again(with_weight(plan, "depth", 0.0), ground, terrain, march, sites) is None
    more = find_sites(with_weight(plan, "steepest", 5.0), ground, terrain, march, earlier=sites)
    assert more.layers["depth"] is sites.layers["depth"]
    assert "steepest" in more.layers


def test_why_here_tells_the_further_measures_and_the_limits_that_fail(scene):
    plan, ground, terrain, march, _ = scene
    limited = with_factor(plan, "cold", limit_max=0.3)
    sites = find_sites(limited, ground, terrain, march)
    cold = why_here(limited, ground, terrain, march, sites, *ground.grid.cell_centre_m(30, 10))
    assert [one.name for one in cold.failed] == ["cold"]
    assert "Past its limit by cold air gathering: at most 30 %." in cold.text
    assert cold.nearest == "" or "nearest ground" in cold.nearest
    good = why_here(limited, ground, terrain, march, sites, *ground.grid.cell_centre_m(30, 65))
    assert not good.failed
    assert "inside the forest's edge" in good.text


def test_the_reason_tells_a_further_factor_that_decides(scene):
    plan, ground, terrain, march, _ = scene
    every = with_values(with_weight(plan, "cold", 400.0), "preferences", site_count_max=40)
    heavy = find_sites(every, ground, terrain, march)
    warm, cold = heavy.sites[0], heavy.sites[-1]
    assert warm.measure("cold").value < cold.measure("cold").value
    assert any("cold air" in site.reason for site in heavy.sites)


@pytest.mark.slow
@settings(max_examples=40, deadline=None, derandomize=True)
@given(
    name=st.sampled_from(sorted(set(LAYER_MAKERS) - {"seen_air", "steepest", "morning"})),
    low=st.floats(0, 1),
    high=st.floats(0, 1),
)
def test_better_ground_in_one_further_factor_never_lowers_a_site(name, low, high):
    factor = make_plan().preferences.factor(name)
    (first, first_score), (last, last_score) = factor.curve[0], factor.curve[-1]
    worst, best = (first, last) if first_score < last_score else (last, first)
    ground = make_ground(np.full((ROWS, COLS), 300.0), SPRUCE)
    plan = with_weight(replace(make_plan(ground), observers=(Observer(place=(21.0, 67.4)),)), name, 10.0)
    made, march = make_terrain(ground), make_march(plan, ground)

    def score(part):
        layer = np.full((ROWS, COLS), worst + part * (best - worst), np.float32)
        on = PieceGround(
            plan=plan, ground=ground, terrain=made, march=march, water_min=layer, water_limit_min=60.0,
            piece=Piece(cells=box(*CAMP), capacity=7), need_count=5, layers={name: layer},
        )  # fmt: skip
        return next(measure.score for measure in measure_piece(on) if measure.name == name)

    assert score(max(low, high)) >= score(min(low, high)) - 1e-6


@pytest.mark.slow
@pytest.mark.kernel
def test_order_and_scores_hang_on_no_thread_and_no_tile(monkeypatch):
    heights = 300.0 + made_relief(90, 110, seed=3, height_m=40.0)
    cover = np.where(np.random.default_rng(2).random((9, 11)).repeat(10, 0).repeat(10, 1) < 0.7, SPRUCE, OPEN)
    ground = make_ground(heights, cover)
    names = ("cold", "depth", "fuel", "seen_route", "sun", "morning", "hazards", "view", "way_slope")
    plan = with_weights(make_plan(ground, people=20), dict.fromkeys(names, 8.0))
    told = []
    for threads, rows in ((1, 256), (5, 7)):
        monkeypatch.setattr("sitepick.work.thread_count", lambda threads=threads: threads)
        monkeypatch.setitem(run_row_blocks.__kwdefaults__, "block_rows", rows)
        sites = find_sites(plan, ground, read_terrain(plan, ground), make_march(plan, ground))
        told.append([(site.name, round(site.score, 6), site.reason) for site in sites.sites])
    assert len(told[0]) >= 3
    assert told[0] == told[1]
