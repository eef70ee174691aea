"""Terrain against independent general-purpose libraries (RichDEM, SciPy) on made and on real ground."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
import rasterio
from scipy import sparse
from scipy.sparse.linalg import spsolve

from sitepick.terrain.drainage import LEVEL_STEP_M, catchment_count, flow_over
from sitepick.terrain.slope import slope_and_aspect
from sitepick.work import Watch
from tests.helpers.made import made_relief
from tests.reference.test_terrain_values import PlainGrid

richdem = pytest.importorskip("richdem", reason="no wheel for this Python", exc_type=ImportError)
DATA = Path(__file__).resolve().parents[1] / "data"
GAP = -9999.0


def real_ground(name):
    with rasterio.open(DATA / name) as file:
        return file.read(1, masked=True).astype(np.float32).filled(np.nan)


GROUNDS = {
    "made": lambda: made_relief(300, 320, height_m=400.0),
    "alps": lambda: real_ground("n44e005_elevation.tif"),
    "coast": lambda: real_ground("n57e011_elevation.tif"),
}


def theirs(z, cell_m):
    array = richdem.rdarray(np.where(np.isfinite(z), z, GAP).astype(np.float64), no_data=GAP)
    array.geotransform = (0.0, cell_m, 0.0, 0.0, 0.0, -cell_m)
    return array


@pytest.fixture(params=GROUNDS)
def ground(request):
    return GROUNDS[request.param]()


@pytest.mark.parametrize("cell_m", [10.0, 30.0])
def test_slope_and_aspect(ground, cell_m, capfd):
    slope, aspect = slope_and_aspect(ground, PlainGrid(ground.shape, cell_m), watch=Watch())
    want_slope = np.asarray(richdem.TerrainAttribute(theirs(ground, cell_m), attrib="slope_degrees"))
    want_aspect = np.asarray(richdem.TerrainAttribute(theirs(ground, cell_m), attrib="aspect"))
    known = np.isfinite(slope)
    assert known[1:-1, 1:-1].mean() > 0.95
    assert np.abs(slope - want_slope)[known].max() <= 1e-4
    # Where the ground is all but level the bearing hangs on the last digit of single precision.
    falling = known & (want_slope > 0.05)
    off = (aspect - want_aspect + 180.0) % 360.0 - 180.0
    assert np.abs(off)[falling].max() <= 2e-3
    assert np.quantile(np.abs(off)[falling & (want_slope > 1.0)], 0.99) <= 1e-4
    assert np.isnan(aspect[known & (want_slope == 0.0)]).all()


def test_hollows_fill_to_the_same_spill(ground, capfd):
    z = (np.rint(ground / LEVEL_STEP_M) * LEVEL_STEP_M).astype(np.float32)
    filled = flow_over(z, watch=Watch()).filled_m
    want = np.asarray(richdem.FillDepressions(theirs(z, 10.0), epsilon=False, in_place=False))
    known = np.isfinite(z)
    assert (filled - z)[known].max() > 0.5, "there are hollows to fill"
    assert np.abs(filled - want)[known].max() <= LEVEL_STEP_M / 2


def test_as_much_water_comes_down_as_a_linear_system_says(ground):
    z = ground[60:160, 60:170]
    flow = flow_over(z, watch=Watch())
    count = catchment_count(flow, watch=Watch()).reshape(-1)
    receiver = flow.receiver.reshape(-1)
    rains = np.isfinite(z).reshape(-1)
    drained = np.flatnonzero(receiver >= 0)
    passes_on = sparse.csc_matrix(
        (np.ones(drained.size), (receiver[drained], drained)), shape=(z.size, z.size)
    )  # fmt: skip
    want = spsolve(sparse.identity(z.size, format="csc") - passes_on, rains.astype(float))
    np.testing.assert_allclose(count, want, atol=1e-6)
    assert count[rains & (receiver < 0)].sum() == rains.sum(), "what falls leaves by the outlets"
