"""Water over real and made ground against RichDEM and SciPy.

Ways may differ at ties, and where RichDEM takes the lowest neighbour without regard to its distance; catchments
and heights above the drain are held against linear systems over RichDEM's own ways. Heights are taken to whole
centimetres first, as the stage reads them, so that both see the same ground.
"""

from __future__ import annotations

import numpy as np
import pytest
from scipy import sparse
from scipy.sparse.linalg import spsolve

from sitepick.terrain.drainage import LEVEL_STEP_M, catchment_count, flow_over, height_above_drain_m
from sitepick.work import Watch
from tests.helpers.made import made_relief
from tests.reference.test_terrain_libraries import real_ground, theirs
from tests.unit.terrain.slow_flow import steepest_falls

richdem = pytest.importorskip("richdem", reason="no wheel for this Python", exc_type=ImportError)
CELL_M = 10.0
# RichDEM's neighbours 1 to 8: from the west clockwise, as (down, right).
THEIR_WAYS = ((0, -1), (-1, -1), (-1, 0), (-1, 1), (0, 1), (1, 1), (1, 0), (1, -1))
GROUNDS = {
    "made": lambda: made_relief(150, 160, height_m=400.0),
    "alps": lambda: real_ground("n44e005_elevation.tif")[40:190, 30:200],
    "coast": lambda: real_ground("n57e011_elevation.tif")[20:170, 10:180],
    "alps below the sea": lambda: real_ground("n44e005_elevation.tif")[40:140, 30:130] - 3000.0,
}


@pytest.fixture(scope="module", params=GROUNDS)
def water(request):
    """Ground, our flow over it, and every cell's receiver by RichDEM, -1 where it tells none."""
    z = (np.rint(GROUNDS[request.param]() / LEVEL_STEP_M) * LEVEL_STEP_M).astype(np.float32)
    assert np.isfinite(z).all()
    flow = flow_over(z, watch=Watch())
    level = np.rint((flow.filled_m.astype(np.float64) - z.min()) / LEVEL_STEP_M)
    shares = np.asarray(richdem.FlowProportions(theirs(level, CELL_M), method="D8"))
    receiver = np.full(z.shape, -1)
    rows, cols = np.indices(z.shape)
    for way, (down, right) in enumerate(THEIR_WAYS, start=1):
        goes = shares[:, :, way] > 0.0
        receiver[goes] = ((rows + down) * z.shape[1] + cols + right)[goes]
    return z, flow, level, receiver


def test_filled_ground_is_theirs(water, capfd):
    z, flow, _, _ = water
    want = np.asarray(richdem.FillDepressions(theirs(z, CELL_M), epsilon=False, in_place=False))
    assert np.abs(flow.filled_m - want).max() <= LEVEL_STEP_M / 2
    assert (flow.filled_m - z).max() > 0.3, "there are hollows to fill"


def test_water_takes_their_way_but_at_ties_and_where_the_lowest_neighbour_is_not_the_steepest(water, capfd):
    z, flow, level, receiver = water
    inner = np.zeros(z.shape, bool)
    inner[1:-1, 1:-1] = True  # they send a cell of the edge straight out
    told = inner & (receiver >= 0)
    tie_count = oblique_count = 0
    for row, col in np.argwhere(told & (flow.receiver != receiver)):
        _, steepest = steepest_falls(level.astype(int), row, col)
        ours, other = int(flow.receiver[row, col]), int(receiver[row, col])
        assert ours in steepest
        if other in steepest:
            tie_count += 1
            continue
        # They take the lowest neighbour, we the steepest way: a corner lies root two times as far.
        oblique_count += 1
        assert level.flat[other] == level[row - 1 : row + 2, col - 1 : col + 2].min()
        assert {abs(ours // z.shape[1] - row) + abs(ours % z.shape[1] - col)} == {1}
        assert {abs(other // z.shape[1] - row) + abs(other % z.shape[1] - col)} == {2}
    assert told.mean() > 0.3
    # So many, and no more, on these grounds: whole metres on the coast tie often.
    assert tie_count <= 0.12 * told.sum(), f"{tie_count} ties of {told.sum()} cells"
    assert 0 < oblique_count <= 0.55 * told.sum(), f"{oblique_count} corners of {told.sum()} cells"


def test_water_takes_the_steepest_of_eight_ways_by_plain_arrays(water):
    z, flow, level, _ = water
    rows, cols = z.shape
    ways = [(down, right) for down in (-1, 0, 1) for right in (-1, 0, 1) if down or right]
    inner = level[1:-1, 1:-1]
    falls = np.stack([
        (inner - level[1 + down : rows - 1 + down, 1 + right : cols - 1 + right]) / np.hypot(down, right)
        for down, right in ways
    ])  # fmt: skip
    first = np.array([down * cols + right for down, right in ways])[np.argmax(falls, axis=0)]
    cells = np.arange(z.size).reshape(z.shape)[1:-1, 1:-1]
    falls_away = falls.max(axis=0) > 0.0
    np.testing.assert_array_equal(flow.receiver[1:-1, 1:-1][falls_away], (cells + first)[falls_away])
    assert (level.reshape(-1)[flow.receiver[1:-1, 1:-1][~falls_away]] == inner[~falls_away]).all(), "over flats"


def settled(z, flow, receiver):
    """Their way where they tell one; ours over flats and along the edge, where they tell none or straight out."""
    inner = np.zeros(z.shape, bool)
    inner[1:-1, 1:-1] = True
    return np.where(inner & (receiver >= 0), receiver, flow.receiver).astype(np.int32)


def matrix_of(receiver):
    drained = np.flatnonzero(receiver.reshape(-1) >= 0)
    ones = np.ones(drained.size)
    return sparse.csc_matrix((ones, (receiver.reshape(-1)[drained], drained)), shape=(receiver.size, receiver.size))


def test_catchments_are_those_of_a_linear_system_over_their_ways(water, capfd):
    z, flow, _, receiver = water
    theirs_way = settled(z, flow, receiver)
    system = sparse.identity(z.size, format="csc") - matrix_of(theirs_way)
    want = np.rint(spsolve(system, np.ones(z.size)))
    same_way = type(flow)(receiver=theirs_way, filled_m=flow.filled_m)
    np.testing.assert_array_equal(catchment_count(same_way, watch=Watch()).reshape(-1), want)
    # With our own choice at the ties, only cells below a tie differ.
    ours = catchment_count(flow, watch=Watch())
    is_below = (theirs_way != flow.receiver).reshape(-1).astype(float)
    for way in (theirs_way, flow.receiver):
        solve = sparse.identity(z.size, format="csc") - matrix_of(way)
        is_below = is_below + (spsolve(solve, is_below) > 0.5)
    differs = ours.reshape(-1) != want
    assert not (differs & (is_below == 0)).any()
    assert ours[flow.receiver < 0].sum() == z.size, "what falls leaves by the edge"


def test_heights_above_the_drain_are_those_of_a_linear_system_over_their_ways(water, capfd):
    z, flow, _, receiver = water
    theirs_way = settled(z, flow, receiver)
    same_way = type(flow)(receiver=theirs_way, filled_m=flow.filled_m)
    is_drain = catchment_count(same_way, watch=Watch()) >= 200
    drain_m = np.where(is_drain, z, np.float32(np.nan))
    height_m, path_m = height_above_drain_m(same_way, z, drain_m, cell_m=CELL_M, watch=Watch())
    follows = np.where(is_drain, -1, theirs_way)
    system = sparse.identity(z.size, format="csr") - matrix_of(follows).T
    base = spsolve(system.tocsc(), np.where(is_drain, z, 0.0).reshape(-1).astype(float))
    reaches = np.rint(spsolve(system.tocsc(), is_drain.reshape(-1).astype(float))) > 0.5
    cells = np.arange(z.size)
    goal = np.where(follows.reshape(-1) >= 0, follows.reshape(-1), cells)
    cols = z.shape[1]
    steps_m = CELL_M * np.hypot(goal // cols - cells // cols, goal % cols - cells % cols)
    length_m = spsolve(system.tocsc(), steps_m)
    assert 0.3 < reaches.mean() <= 1.0
    assert np.array_equal(np.isfinite(height_m.reshape(-1)), reaches)
    np.testing.assert_allclose(height_m.reshape(-1)[reaches], np.maximum(z.reshape(-1) - base, 0.0)[reaches], atol=2e-3)
    np.testing.assert_allclose(path_m.reshape(-1)[reaches], length_m[reaches], rtol=1e-4, atol=1e-2)
