"""Who sees a place: trees, tops of trees, who looks, and what isn't known."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from sitepick.plan.observer import Observer
from sitepick.terrain import observers_on_route, observers_on_tracks, places_along, read_sight, sight
from sitepick.terrain.lookers import observer_cautions
from sitepick.terrain.sight import BARE_HIDES_FRAC, EVERGREEN_SIGHT_M
from sitepick.work import JobStopped, Watch
from tests.helpers.made import (
    BIRCH,
    NORTH_M,
    OPEN,
    SPRUCE,
    TREES_OF_UNKNOWN_LEAF,
    WEST_M,
    made_relief,
    make_ground,
    make_plan,
)


def eye_at(ground, row, col):
    return np.array([ground.grid.cell_centre_m(row, col)])


def behind_belt(cover, cells, **known):
    """Share seen of a tent on flat open ground behind a belt of trees, from a place before it."""
    covers = np.full((5, 60), OPEN)
    covers[:, 20 : 20 + cells] = cover
    ground = make_ground(np.zeros(covers.shape), covers, **known)
    return float(read_sight(make_plan(), ground, eye_at(ground, 2, 5))[2, 50])


def test_on_open_level_ground_everything_is_seen():
    ground = make_ground(np.zeros((20, 30)))
    assert (read_sight(make_plan(), ground, eye_at(ground, 3, 4)) == 1.0).all()


def test_dense_spruce_lets_a_third_through_after_forty_five_metres():
    # Common practice: exp(-x / V) with V 30-60 m in dense evergreens.
    seen = behind_belt(SPRUCE, 10)
    assert -100.0 / math.log(seen) == pytest.approx(45.0, abs=1.0)


def test_open_pine_lets_a_third_through_after_a_hundred_and_fifteen_metres():
    assert pytest.approx(115.0, abs=1.0) == EVERGREEN_SIGHT_M / 0.33  # common practice: 80-150 m


@pytest.mark.parametrize("cover", [BIRCH, TREES_OF_UNKNOWN_LEAF])
def test_bare_trees_and_trees_of_unknown_leaf_hide_next_to_nothing(cover):
    assert 0.85 < behind_belt(cover, 10) < 1.0


def test_trees_of_unknown_leaf_hide_by_what_the_user_says_of_them():
    covers = np.full((5, 60), TREES_OF_UNKNOWN_LEAF)
    ground, plan = make_ground(np.zeros(covers.shape), covers), make_plan()
    sure = replace(plan, ground=replace(plan.ground, evergreen_of_forest_frac=1.0))
    eye = eye_at(ground, 2, 5)
    assert read_sight(sure, ground, eye)[2, 20] < 0.2 < 0.8 < read_sight(plan, ground, eye)[2, 20]
    assert BARE_HIDES_FRAC < 0.1


def test_deeper_in_the_wood_less_is_seen():
    ground = make_ground(np.zeros((5, 60)), SPRUCE)
    seen = read_sight(make_plan(), ground, eye_at(ground, 2, 0))[2]
    assert (np.diff(seen[:30]) < 0.0).all()
    assert seen[0] == 1.0


def test_growth_lower_than_the_eyes_hides_nothing():
    low = np.full((5, 60), 1.5, np.float32)
    assert behind_belt(SPRUCE, 10, canopy_height_m=low) == 1.0


def test_a_slope_over_the_way_is_seen_above_the_trees_in_the_valley():
    # The eye 60 m up, the slope 60 m up, spruce of 15 m on the valley floor between them.
    z = np.zeros((5, 81))
    z[:, :10] = z[:, 70:] = 60.0
    covers = np.where(z == 0.0, SPRUCE, OPEN)
    ground = make_ground(z, covers)
    seen = read_sight(make_plan(), ground, eye_at(ground, 2, 8))[2]
    assert seen[70] == 1.0
    assert (seen[10:40] == 0.0).all()  # under the brow
    assert (seen[45:60] > 0.0).all()
    assert (seen[45:60] < 0.6).all()  # a tent on the floor stands among the trees


def test_heights_of_the_tree_tops_are_brought_down_to_the_ground():
    covers = np.full((9, 60), OPEN)
    covers[:, 20:40] = SPRUCE
    bare = make_ground(np.zeros(covers.shape), covers)
    tops = make_ground(np.where(covers == SPRUCE, 15.0, 0.0), covers, elevation_kind="surface")
    for col in (3, 30):
        np.testing.assert_array_equal(
            read_sight(make_plan(), tops, eye_at(tops, 4, col)), read_sight(make_plan(), bare, eye_at(bare, 4, col))
        )


def test_the_share_counts_who_sees_and_who_does_not():
    z = np.zeros((7, 41))
    z[:, 20] = 50.0
    ground = make_ground(z)
    eyes = np.concatenate([eye_at(ground, 3, 2), eye_at(ground, 3, 5), eye_at(ground, 3, 38)])
    seen = read_sight(make_plan(), ground, eyes)
    assert seen[3, 10] == pytest.approx(2 / 3)
    assert seen[3, 30] == pytest.approx(1 / 3)


def test_those_outside_or_on_unknown_ground_and_those_on_one_spot_do_not_count_again():
    z = np.zeros((7, 41))
    z[:, 20] = 50.0
    z[0, 0] = np.nan
    ground = make_ground(z)
    one = eye_at(ground, 3, 2)
    others = np.array([[WEST_M - 50.0, NORTH_M - 5.0], [WEST_M + 1.0, NORTH_M - 1.0], [np.inf, NORTH_M - 5.0]])
    eyes = np.concatenate([one, one + 2.0, others])
    np.testing.assert_array_equal(read_sight(make_plan(), ground, eyes), read_sight(make_plan(), ground, one))


def test_with_nobody_to_look_nothing_is_known():
    ground, plan = make_ground(np.zeros((4, 5))), make_plan()
    assert len(observers_on_tracks(ground)) == 0
    assert not any(ground.grid.contains(*place) for place in observers_on_route(plan, ground))
    assert np.isnan(read_sight(plan, ground)).all()


def walled_ground(**known):
    """Two long strips of level ground with a wall between them; routes made on it run along the wall's top."""
    z = np.zeros((41, 120))
    z[20] = 50.0
    return make_ground(z, **known)


def track_along(row, cols=(2, 117)):
    return np.array([[WEST_M + 10.0 * (col + 0.5), NORTH_M - 10.0 * (row + 0.5)] for col in cols])


def observer_at(ground, row, col, **known):
    lon, lat = ground.grid.to_lonlat(*ground.grid.cell_centre_m(row, col))
    return Observer(place=(float(lon), float(lat)), **known)


def test_whoever_follows_the_route_looks_from_it():
    ground = make_ground(np.zeros((41, 120)))
    plan = make_plan(ground)
    places = observers_on_route(plan, ground)
    np.testing.assert_allclose(np.hypot(*np.diff(places, axis=0).T), 1150.0 / 5, atol=1.0)
    np.testing.assert_array_equal(read_sight(plan, ground), 1.0)


def test_tracks_route_and_each_marked_observer_count_alike():
    ground = walled_ground(track_lines=(track_along(5),))
    plan = make_plan(ground)  # its route lies on the wall and sees both strips
    south = (observer_at(ground, 35, 30), observer_at(ground, 36, 90))
    seen = read_sight(replace(plan, observers=south), ground)
    np.testing.assert_allclose(seen[3, 5:115], 2 / 4, atol=1e-6)  # the track and the route
    np.testing.assert_allclose(seen[38, 5:115], 3 / 4, atol=1e-6)
    np.testing.assert_allclose(read_sight(plan, ground)[38, 5:115], 1 / 2, atol=1e-6)


def test_an_observer_looks_from_their_own_height():
    z = np.zeros((21, 60))
    z[:, 20] = 4.0
    ground = make_ground(z)
    plan = make_plan()  # its route lies elsewhere
    standing, tower = observer_at(ground, 10, 10), observer_at(ground, 10, 10, eye_m=12.0)
    # Over the rise a line from 1.7 m keeps rising; one from 12 m falls 0.8 m a cell, soon under a tent's 2.5 m.
    assert (read_sight(replace(plan, observers=(standing,)), ground)[10, 25:] == 0.0).all()
    assert (read_sight(replace(plan, observers=(tower,)), ground)[10, 25:] == 1.0).all()
    assert (read_sight(replace(plan, observers=(standing, tower)), ground)[10, 25:] == 0.5).all()


def test_an_observer_off_the_map_does_not_count():
    ground = walled_ground()
    plan = replace(make_plan(), observers=(observer_at(ground, 5, 30), Observer(place=(21.5, 67.9))))
    assert (read_sight(plan, ground)[3] == 1.0).all()
    assert np.isnan(read_sight(replace(plan, observers=plan.observers[1:]), ground)).all()


def test_marked_observers_who_cannot_be_reckoned_with_are_told():
    z = np.zeros((41, 120))
    z[5, 30] = np.nan
    ground = make_ground(z)
    east_m, north_m = ground.grid.cell_centre_m(20, 119)
    away = Observer(place=tuple(map(float, ground.grid.to_lonlat(east_m + 2000.0, north_m))), name="Ridge")
    blank, known = observer_at(ground, 5, 30, name="Hut"), observer_at(ground, 6, 30)
    told = observer_cautions(replace(make_plan(), observers=(known, away, blank)), ground)
    assert [caution.kind for caution in told] == ["data", "data"]
    assert told[0].text.startswith("The marked observer 'Ridge' stands 2.0 km off the ground that was read: ")
    assert told[1].text.startswith("The marked observer 'Hut' stands where the height of the ground is not known: ")
    assert all("Move the mark" in caution.text for caution in told)
    assert observer_cautions(replace(make_plan(), observers=(known,)), ground) == ()


def test_people_look_from_the_mapped_tracks():
    line = np.array([[WEST_M + 15.0, NORTH_M - 15.0], [WEST_M + 15.0, NORTH_M - 915.0]])
    ground = make_ground(np.zeros((110, 4)), track_lines=(line,))
    places = observers_on_tracks(ground)
    np.testing.assert_allclose(places[:, 1], NORTH_M - np.array([15.0, 240.0, 465.0, 690.0, 915.0]), atol=0.5)
    assert (read_sight(make_plan(), ground) == 1.0).all()


def test_places_along_lines_are_even_and_hold_both_ends():
    bent = np.array([[0.0, 0.0], [300.0, 0.0], [300.0, 400.0]])
    point = np.array([[7.0, 7.0], [7.0, 7.0]])
    places = places_along([bent, point], 250.0)
    np.testing.assert_allclose(places, [[0, 0], [233.333, 0], [300, 166.667], [300, 400], [7, 7]], atol=0.01)
    assert places_along([], 250.0).shape == (0, 2)


def test_nothing_is_made_out_past_five_kilometres():
    ground = make_ground(np.full((1, 300), 0.0), cell_m=20.0)
    seen = read_sight(make_plan(), ground, eye_at(ground, 0, 0))[0]
    far_m = np.arange(300) * ground.grid.ground_cell_m
    assert np.array_equal(seen > 0.0, far_m <= 5000.0)


@pytest.mark.parametrize("cover", [OPEN, SPRUCE])
def test_ground_passed_over_where_nothing_can_be_seen_shows_the_same(cover, monkeypatch):
    z = made_relief(70, 400, seed=3, height_m=60.0, roughness=2.5)
    z[:, 300:] -= 50.0  # low ground behind: most rays end before it
    z[30, 50] = np.nan
    ground = make_ground(z, cover)
    eyes = np.concatenate([eye_at(ground, row, col) for row, col in ((8, 30), (60, 110), (35, 380))])
    ended = read_sight(make_plan(), ground, eyes)
    monkeypatch.setattr(sight, "_tops_of_squares", lambda layers, *_: (np.full((5, 25), np.inf),) * 2)
    np.testing.assert_array_equal(read_sight(make_plan(), ground, eyes), ended)
    assert 0.02 < np.mean(ended > 0.0) < 0.9


def test_stopping_ends_the_work():
    ground = make_ground(np.zeros((30, 30)))
    watch = Watch()
    watch.stop()
    with pytest.raises(JobStopped):
        read_sight(make_plan(), ground, eye_at(ground, 3, 4), watch=watch)
