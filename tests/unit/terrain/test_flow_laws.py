"""What holds for water over any ground: turned, mirrored, raised, or drawn twice as large."""

from __future__ import annotations

import numpy as np
import pytest

from sitepick.terrain import drainage
from sitepick.terrain.drainage import catchment_count, flow_over, height_above_drain_m
from sitepick.work import JobStopped, Watch
from tests.helpers.made import made_relief
from tests.unit.terrain import slow_flow as slow

CELL_M = 10.0
TURNS = {
    "a quarter": (lambda a: np.rot90(a), lambda a: np.rot90(a, -1)),
    "a half": (lambda a: np.rot90(a, 2), lambda a: np.rot90(a, 2)),
    "mirrored": (lambda a: a[:, ::-1], lambda a: a[:, ::-1]),
    "upside down": (lambda a: a[::-1], lambda a: a[::-1]),
}


def hollow_ground(seed=3):
    z = np.rint(made_relief(40, 47, seed=seed, height_m=80.0) * 64) / 64
    z[8:11, 30:33] = np.nan
    return z.astype(np.float32)


def untied_ground():
    """Ground without hollows or ties, so that every cell has one steepest way: turned, it must turn."""
    rng = np.random.default_rng(12)
    rows, cols = np.indices((24, 27))
    z = 90.0 * rows + 61.0 * cols + rng.permutation(rows.size).reshape(rows.shape) * 0.0625
    level = np.rint((z - z.min()) * 100).astype(int)
    assert (slow.filled_levels(level) == level).all()
    assert all(len(slow.steepest_falls(level, *cell)[1]) == 1 for cell in np.argwhere(~slow.is_outlet(level)))
    return z.astype(np.float32)


def water_over(z, cell_m=CELL_M):
    flow = flow_over(np.ascontiguousarray(z), watch=Watch())
    count = catchment_count(flow, watch=Watch())
    drain_m = np.where(count >= 20, z, np.float32(np.nan))
    height_m, path_m = height_above_drain_m(flow, z, drain_m, cell_m=cell_m, watch=Watch())
    return flow, count, height_m, path_m


@pytest.mark.parametrize("rows", [1, 3])
def test_streams_followed_in_bands_are_those_of_the_whole(rows, monkeypatch):
    z = np.concatenate([hollow_ground(seed) - 40.0 * seed for seed in (1, 2, 3)])  # falls from band to band
    whole = water_over(z)
    monkeypatch.setattr(drainage, "rows_at_once", lambda shape: rows)
    banded = water_over(z)
    assert whole[1].max() > 5 * 4 * rows * 4  # water comes through many bands
    for one, other in zip(banded[1:], whole[1:], strict=True):
        np.testing.assert_array_equal(one, other)


@pytest.mark.parametrize("turn", TURNS)
def test_filled_ground_turns_with_the_ground(turn):
    there, back = TURNS[turn]
    z = hollow_ground()
    np.testing.assert_array_equal(back(water_over(there(z))[0].filled_m), water_over(z)[0].filled_m)


@pytest.mark.parametrize("turn", TURNS)
def test_catchments_and_heights_above_the_drain_turn_with_ground_that_has_no_ties(turn):
    there, back = TURNS[turn]
    z = untied_ground()
    _, count, height_m, path_m = water_over(z)
    _, turned_count, turned_m, turned_path_m = water_over(there(z))
    inner = np.s_[1:-1, 1:-1]  # a cell of the edge may have two ways as steep
    np.testing.assert_array_equal(back(turned_count)[inner], count[inner])
    np.testing.assert_array_equal(back(turned_m)[inner], height_m[inner])
    np.testing.assert_allclose(back(turned_path_m)[inner], path_m[inner], rtol=1e-6)


@pytest.mark.parametrize("up_m", [-2048.0, 512.0])
def test_raising_the_ground_raises_the_fill_and_changes_no_way(up_m):
    z = hollow_ground()
    flow, count, height_m, path_m = water_over(z)
    raised, raised_count, raised_height_m, raised_path_m = water_over(z + np.float32(up_m))
    np.testing.assert_array_equal(raised.receiver, flow.receiver)
    np.testing.assert_allclose(raised.filled_m - np.float32(up_m), flow.filled_m, atol=1e-3)
    np.testing.assert_array_equal(raised_count, count)
    np.testing.assert_allclose(raised_height_m, height_m, atol=1e-3)
    np.testing.assert_array_equal(raised_path_m, path_m)


def test_twice_the_cell_and_twice_the_height_is_the_same_water_twice_as_large():
    z = (np.rint(hollow_ground() * 4) / 4).astype(np.float32)
    flow, count, height_m, path_m = water_over(z)
    double, double_count, double_height_m, double_path_m = water_over(2 * z, cell_m=2 * CELL_M)
    np.testing.assert_array_equal(double.receiver, flow.receiver)
    np.testing.assert_allclose(double.filled_m, 2 * flow.filled_m, atol=2e-2)
    np.testing.assert_array_equal(double_count, count)
    np.testing.assert_allclose(double_height_m, 2 * height_m, atol=1e-3)
    np.testing.assert_allclose(double_path_m, 2 * path_m, rtol=1e-6)


@pytest.mark.parametrize("shape", [(1, 1), (1, 30), (30, 1), (2, 2), (2, 30), (3, 3)])
def test_strips_of_a_cell_or_two_drain_off_their_edges(shape):
    z = made_relief(40, 40, height_m=50.0)[: shape[0], : shape[1]].copy()
    flow, count, _, _ = water_over(z)
    assert count[flow.receiver < 0].sum() == z.size
    if min(shape) < 3:
        np.testing.assert_allclose(flow.filled_m, z, atol=0.006)


def test_flat_ground_drains_by_the_fewest_steps():
    flow, count, _, _ = water_over(np.full((21, 33), 5.0, np.float32))
    rows, cols = np.indices((21, 33))
    steps = np.minimum(np.minimum(rows, 20 - rows), np.minimum(cols, 32 - cols))
    for cell in range(steps.size):
        assert len(slow.way_down(flow.receiver, cell)) - 1 == steps.flat[cell]
    assert count[flow.receiver < 0].sum() == steps.size


def test_a_lake_at_its_spill_passes_on_all_that_comes_to_it():
    z = 60.0 - np.minimum(np.arange(40), 20.0)[:, None] - np.clip(np.arange(40) - 25.0, 0.0, None)[:, None]
    z = np.broadcast_to(z, (40, 31)) + 3.0 * np.abs(np.arange(31) - 15.0)[None, :]
    z[18:26, 8:23] = 40.0
    flow, count, _, _ = water_over(z.astype(np.float32))
    assert count[27:30, 12:19].max() > 18 * 10, "what comes from above the lake leaves below it"
    assert count[flow.receiver < 0].sum() == z.size


@pytest.mark.parametrize("ticks", [0, 1, 2, 3, 5])
def test_a_stop_ends_the_work_at_the_next_look(ticks):
    seen = []

    def stop_after(*_):
        seen.append(None)
        if len(seen) > ticks:
            watch.stop()

    watch = Watch(stop_after)
    z = made_relief(300, 300, height_m=60.0)
    with pytest.raises(JobStopped):
        flow_over(z, watch=watch)
    assert len(seen) <= ticks + 3
