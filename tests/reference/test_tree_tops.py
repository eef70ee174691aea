"""Trees over real relief and real cover, seen as several kinds of surface model show them: what is left of their steps.

Heights (SRTM) and cover (ESA WorldCover) are those of ``tests/data/SOURCES.md``; the trees on them are drawn. How far
up the crowns a source sees, its cells and its error between neighbours are common practice.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from scipy import ndimage

from sitepick.ground import read_ground
from sitepick.terrain.slope import surroundings_slope_deg
from sitepick.terrain.stand import LEAST_HEIGHT_M, tree_height_m
from sitepick.terrain.treetops import bare_ground
from sitepick.work import Watch
from tests.helpers.real_places import coast_plan, mountain_plan

pytestmark = pytest.mark.slow
SIDE = 420
PLACES = {"coast": (coast_plan, 900, 700), "mountain": (mountain_plan, 900, 800)}
# Share of the trees' height that is seen, width of the cells, error of a height, all m; and what the error of the
# slope at forest edges falls to, at least.
SOURCES = {
    "radar": (0.6, 30, 0.8, 0.5),
    "optical": (0.95, 30, 1.5, 0.5),
    "air photographs": (0.95, 10, 0.5, 0.3),
    "leafless": (0.15, 30, 0.8, 0.85),
    "bare ground after all": (0.0, 30, 0.8, 1.0),
    "fine bare ground after all": (0.0, 10, 0.3, 1.0),
}
NEVER_WORSE_DEG = 0.3  # what smoothing an edge may add to the error of the open ground, where it reaches across
INNER = np.s_[8:-8, 8:-8]


@pytest.fixture(scope="module", params=PLACES)
def land(request):
    """A window of 4 km of real ground, with glades in its forests."""
    plan, row, col = PLACES[request.param]
    whole = read_ground(plan())
    box = np.s_[row : row + SIDE, col : col + SIDE]
    names = ("elevation_m", "cover_index", "is_stream", "is_track", "is_no_go")
    layers = {name: getattr(whole, name)[box].copy() for name in names}
    grass = [cover.name for cover in whole.legend.classes].index("grassland")
    layers["cover_index"][waves(5, 80.0) > 1.2] = grass
    west_m, north_m = (whole.grid.west_m + col * whole.grid.cell_m, whole.grid.north_m - row * whole.grid.cell_m)
    grid = replace(whole.grid, west_m=west_m, north_m=north_m, rows=SIDE, cols=SIDE)
    return replace(whole, grid=grid, elevation_kind="surface", **layers)


def waves(seed, width_m):
    """Normal noise of a width, over the window."""
    noise = ndimage.gaussian_filter(np.random.default_rng(seed).standard_normal((SIDE, SIDE)), width_m / 10.0)
    return noise / noise.std()


def seen_from_above(land, seen_frac, cell_m, error_m):
    """Trees of uneven height with gaps between their crowns, seen by a source."""
    rng = np.random.default_rng(3)
    tall_m = tree_height_m(land)
    uneven_m = np.maximum(tall_m * (1.0 + 0.25 * waves(4, 60.0)), 2.0) * (rng.random(tall_m.shape) < 0.85)
    tops_m = land.elevation_m + np.where(tall_m >= LEAST_HEIGHT_M, seen_frac * uneven_m, 0.0)
    wide = cell_m // 10
    cells_m = tops_m.reshape(SIDE // wide, wide, SIDE // wide, wide).mean(axis=(1, 3))
    cells_m += error_m * rng.standard_normal(cells_m.shape)
    middle = [(1.0 / wide - 1.0) / 2.0] * 2
    shown_m = ndimage.affine_transform(cells_m, [1.0 / wide] * 2, middle, (SIDE, SIDE), order=1, mode="nearest")
    return replace(land, elevation_m=shown_m.astype(np.float32), source_cell_m=float(cell_m))


def slope_of(ground):
    return surroundings_slope_deg(np.ascontiguousarray(ground.elevation_m), ground.grid, watch=Watch())


@pytest.mark.parametrize("source", SOURCES)
def test_steps_of_trees_go_and_no_ground_gets_worse(land, source):
    *seen, left_frac = SOURCES[source]
    surface = seen_from_above(land, *seen)
    found = bare_ground(surface, watch=Watch())
    true_deg = slope_of(land)
    raw_off, off = slope_of(surface) - true_deg, slope_of(found.ground) - true_deg
    is_deep, is_far = found.is_under_trees & ~found.is_edge, ~found.is_under_trees & ~found.is_edge

    def error_deg(off_deg, is_there):
        return float(np.sqrt(np.nanmean(off_deg[INNER][is_there[INNER]] ** 2)))

    assert 0.02 < found.is_edge.mean() < 0.4
    assert f"{np.count_nonzero(found.is_edge)} cells at forest edges" in found.cautions[0].text
    assert error_deg(off, found.is_edge) <= left_frac * error_deg(raw_off, found.is_edge)
    assert error_deg(off, is_deep) <= 0.9 * error_deg(raw_off, is_deep), "roofs are rougher than the ground"
    assert error_deg(off, is_far) <= error_deg(raw_off, is_far) + NEVER_WORSE_DEG
    is_untouched = is_far & _far_from(found)
    np.testing.assert_array_equal(found.ground.elevation_m[is_untouched], surface.elevation_m[is_untouched])


def _far_from(found):
    """Cells that neither trees nor what a source of 30 m makes of them reach."""
    return ndimage.minimum_filter((~found.is_under_trees).astype(np.uint8), 15) > 0


def test_terrain_models_of_the_same_ground_are_never_touched(land):
    terrain = replace(land, elevation_kind="terrain")
    assert bare_ground(terrain, watch=Watch()).ground is terrain
