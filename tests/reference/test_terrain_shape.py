"""Shelter, position and roughness against other libraries (topo-descriptors, SciPy) on real and made ground."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
import rasterio
from scipy import ndimage

from sitepick.terrain.cold import position_m, roughness_m
from sitepick.terrain.upwind import upwind_slope_deg
from sitepick.work import Watch
from tests.helpers.made import made_relief

DATA = Path(__file__).resolve().parents[1] / "data"
QUIET = Watch()


def mountain():
    with rasterio.open(DATA / "n44e005_elevation.tif") as file:
        return file.read(1)[100:150, 150:200].astype(np.float32)


@pytest.fixture(params=["mountain", "made"])
def heights(request):
    return mountain() if request.param == "mountain" else made_relief(60, 70, height_m=900.0)


@pytest.mark.parametrize("number", range(8))
def test_maximum_upwind_slope(number):
    # topo-descriptors 0.5.0; how the array was made stands in tests/data/SOURCES.md. It leaves out the tenth cell.
    want = np.load(DATA / "n44e005_upwind_slope.npy")[number]
    mean, least = upwind_slope_deg(mountain(), (45.0 * number,), cell_m=30.0, watch=QUIET, reach_m=270.0)
    assert want.min() < -5.0
    assert want.max() > 30.0
    np.testing.assert_allclose(mean[10:40, 10:40], want, atol=1e-4)
    np.testing.assert_array_equal(mean, least)


@pytest.mark.parametrize("reach", [1, 4, 12])
def test_height_against_the_surroundings(heights, reach):
    # SciPy's moving mean, in double precision; the place itself is taken out of it by hand (Weiss 2001).
    count = (2 * reach + 1) ** 2
    z = heights.astype(float)
    others = (count * ndimage.uniform_filter(z, 2 * reach + 1) - z) / (count - 1)
    got = position_m(heights, reach * 10.0, cell_m=10.0, watch=QUIET)
    inner = np.s_[reach:-reach, reach:-reach]
    np.testing.assert_allclose(got[inner], (z - others)[inner], atol=2e-4)


def test_roughness(heights):
    # Riley, DeGloria & Elliot 1999, by SciPy's convolution: sum (there - here)^2 over the eight neighbours.
    z = heights.astype(float) - float(heights.mean())
    ring = np.array([[1, 1, 1], [1, 0, 1], [1, 1, 1]])
    squares = ndimage.convolve(z * z, ring) - 2 * z * ndimage.convolve(z, ring) + 8 * z * z
    got = roughness_m(heights, watch=QUIET)[1:-1, 1:-1]
    np.testing.assert_allclose(got, np.sqrt(np.maximum(squares, 0.0))[1:-1, 1:-1], atol=2e-3)
