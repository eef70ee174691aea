"""Recorded tracks: what nobody marched is left out, the way itself stays."""

from __future__ import annotations

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from sitepick.ground.route_clean import DETAIL_M, HALT_RADIUS_M, POINTS_WANTED, clean_line

STEP_M = 8.0


def straight(count: int, *, step_m: float = STEP_M) -> np.ndarray:
    """A track to the east with a little sway, so that no thinning makes it a line of two points."""
    along = step_m * np.arange(count)
    return np.column_stack([along, 30.0 * np.sin(along / 60.0)])


def cleaned(points, *, seconds=None, pinned=()):
    points = np.asarray(points, float)
    is_pinned = np.zeros(len(points), bool)
    is_pinned[list(pinned)] = True
    known = np.full(len(points), np.nan) if seconds is None else np.asarray(seconds, float)
    return clean_line(points, known, is_pinned)


def way_m(points) -> float:
    return float(np.hypot(*np.diff(np.asarray(points, float), axis=0).T).sum())


def test_points_told_twice_are_counted_once():
    points = np.repeat(straight(40), 3, axis=0)
    found = cleaned(points)
    assert found.double_count == 80
    assert found.sentence().startswith("80 double points left out; thinned")


def test_a_point_that_jumps_out_and_back_is_a_spike():
    points = straight(60)
    points[25] += (40.0, 700.0)
    found = cleaned(points)
    assert found.spike_count == 1
    assert 25 not in found.kept
    assert "1 spike left out" in found.sentence()


@pytest.mark.parametrize("length", [2, 3])
def test_a_receiver_may_jump_for_some_points(length):
    points = straight(60)
    points[25 : 25 + length] += (0.0, 900.0)
    assert cleaned(points).spike_count == length


def test_a_jump_that_someone_had_the_time_for_is_a_way():
    points = straight(60)
    points[25] += (0.0, 700.0)
    minutes = np.concatenate([np.arange(25), [40], 60 + np.arange(34)])
    assert cleaned(points, seconds=60.0 * minutes).spike_count == 0
    assert cleaned(points, seconds=np.arange(60.0)).spike_count == 1


def test_a_way_out_and_back_stays():
    out = straight(40)
    spur = np.column_stack([np.full(60, out[-1, 0]), out[-1, 1] + STEP_M * np.arange(1, 61)])
    points = np.vstack([out, spur, spur[-2::-1], out[-1:] + straight(30)])
    found = cleaned(points)
    assert found.spike_count == found.halt_count == 0
    assert points[found.kept][:, 1].max() == points[:, 1].max()
    assert way_m(points[found.kept]) == pytest.approx(way_m(points), rel=0.03)


@pytest.mark.parametrize("points", [
    [(0, 0), (1000, 0), (0, 0)],
    [(0, 0), (900, 10), (1000, 800), (900, 10), (2000, 0), (2600, 300), (3300, 250), (4000, 0)],
], ids=["three points", "among others"])  # fmt: skip
def test_a_drawn_way_out_and_back_stays(points):
    assert len(cleaned(points).kept) == len(points)


def test_milling_at_a_halt_is_left_out_and_the_halt_itself_stays():
    random = np.random.default_rng(4)
    before, after = straight(40), straight(40)
    halt = before[-1] + random.uniform(-6.0, 6.0, (200, 2))
    points = np.vstack([before, halt, before[-1] + after])
    found = cleaned(points)
    assert found.halt_count > 190
    assert way_m(points[found.kept]) < way_m(before) + way_m(after) + 4 * HALT_RADIUS_M


def test_named_points_stay_whatever_they_look_like():
    points = straight(60)
    points[25] += (0.0, 700.0)
    points[30] = points[29]
    found = cleaned(points, pinned=(25, 30))
    assert {25, 30} <= set(found.kept.tolist())
    assert found.spike_count == 0


def test_a_dense_track_is_thinned_to_what_a_hand_can_drag():
    along = np.linspace(0.0, 40_000.0, 20_000)
    points = np.column_stack([along, 400.0 * np.sin(along / 900.0) + 12.0 * np.sin(along / 70.0)])
    found = cleaned(points)
    off_m = shapely.distance(shapely.points(points), shapely.LineString(points[found.kept]))
    assert off_m.max() <= found.detail_m + 1e-6
    assert len(found.kept) < 20_000 / 20
    assert found.detail_m == 10.0 if len(found.kept) > POINTS_WANTED else found.detail_m >= DETAIL_M


def test_a_ring_stays_a_ring():
    angle = np.linspace(0.0, 2.0 * np.pi, 400)
    points = 500.0 * np.column_stack([np.cos(angle), np.sin(angle)])
    points[-1] = points[0]
    kept = points[cleaned(points).kept]
    assert kept[0].tolist() == kept[-1].tolist() == points[0].tolist()
    assert way_m(kept) == pytest.approx(way_m(points), rel=0.01)


def test_nothing_left_out_is_not_worth_a_sentence():
    assert cleaned([(0, 0), (500, 200), (900, 0)]).sentence() == ""


steps = st.tuples(st.sampled_from([0.0, 0.05, 1.0, 8.0, 60.0, 900.0]), st.floats(0.0, 6.28))


@settings(max_examples=150, deadline=None)
@given(moves=st.lists(steps, min_size=1, max_size=60), is_retraced=st.booleans())
def test_any_line_keeps_its_ends_grows_no_longer_and_loses_only_points(moves, is_retraced):
    length, angle = np.array(moves).T
    points = np.concatenate([np.zeros((1, 2)), np.cumsum(length[:, None] * np.column_stack(
        [np.cos(angle), np.sin(angle)]), axis=0)])  # fmt: skip
    if is_retraced:
        points = np.vstack([points, points[-2::-1]])
    found = cleaned(points)
    assert found.kept[0] == 0
    assert found.kept[-1] == len(points) - 1
    assert (np.diff(found.kept) > 0).all()
    lost = found.double_count + found.spike_count + found.halt_count + found.thinned_count
    assert lost == len(points) - len(found.kept)
    assert way_m(points[found.kept]) <= way_m(points) + 1e-6
    again = cleaned(points[found.kept])
    assert way_m(points[found.kept][again.kept]) <= way_m(points[found.kept]) + 1e-6


@settings(max_examples=60, deadline=None)
@given(bends=st.lists(st.floats(-0.5, 0.5), min_size=20, max_size=80), step_m=st.sampled_from([2.0, 5.0, 12.0, 25.0]))
def test_any_recorded_way_out_and_back_reaches_its_turn(bends, step_m):
    heading = np.cumsum(np.array(bends) * 0.3)
    out = np.concatenate([np.zeros((1, 2)), np.cumsum(step_m * np.column_stack(
        [np.cos(heading), np.sin(heading)]), axis=0)])  # fmt: skip
    points = np.vstack([out, out[-2::-1]])
    kept = points[cleaned(points).kept]
    assert np.hypot(*(kept - out[-1]).T).min() <= max(DETAIL_M, HALT_RADIUS_M)
