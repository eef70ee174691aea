"""Outlines are drawn without stairs, within the ground, and hold every shelter."""

from __future__ import annotations

import numpy as np
import pytest
import shapely
from scipy import ndimage

from sitepick.grid import Grid
from sitepick.sites.outline import eased, outline_of
from sitepick.sites.packing import THOROUGH, Room, pack
from tests.helpers.made import make_grid

ROOM = Room(spacing=5.4864, radius=0.265)


def largest_part(mask: np.ndarray) -> np.ndarray:
    labelled, _ = ndimage.label(mask)
    return np.argwhere(labelled == 1 + int(np.argmax(np.bincount(labelled.ravel())[1:])))


def shapes() -> dict[str, np.ndarray]:
    row, col = np.indices((40, 40))
    away = np.hypot(row - 20, col - 20)
    bumps = ndimage.uniform_filter(np.random.default_rng(5).random((40, 40)), 5)
    return {
        "clearing": away < 14,
        "ring": (away > 10) & (away < 15),
        "crescent": (away > 12) & (away < 17) & (col < 22),
        "slanting bench": np.abs(row - 0.5 * col - 10) < 1.6,
        "patch with holes": bumps > 0.47,
        "one cell": (row == 3) & (col == 4),
        "square": (row < 9) & (col < 9),
    }


def places_m(cells: np.ndarray, grid: Grid) -> np.ndarray:
    top, left = cells.min(axis=0)
    mask = np.zeros(tuple(cells.max(axis=0) - (top, left) + 1), bool)
    mask[cells[:, 0] - top, cells[:, 1] - left] = True
    places = pack(mask, ROOM, THOROUGH)
    return np.column_stack(
        (grid.west_m + (places[:, 1] + left) * grid.cell_m, grid.north_m - (places[:, 0] + top) * grid.cell_m)
    )


@pytest.mark.parametrize("name", shapes())
def test_a_plainer_outline_stays_within_the_ground_and_holds_every_shelter(name):
    grid, cells = make_grid(40, 40), largest_part(shapes()[name])
    whole, kept = outline_of(cells, grid), places_m(cells, grid)
    plain = eased(whole, kept, ROOM.radius * 10.0, 10.0)
    assert plain.is_valid
    assert plain.is_simple
    assert plain.difference(whole).area < 1e-6
    assert plain.area >= 0.879 * whole.area
    assert len(plain.exterior.coords) <= len(whole.exterior.coords)
    for east_m, north_m in kept:
        assert shapely.Point(east_m, north_m).buffer(ROOM.radius * 10.0 - 1e-3).difference(plain).area < 1e-6


def test_stairs_become_a_slope():
    grid, cells = make_grid(40, 40), largest_part(shapes()["clearing"])
    whole = outline_of(cells, grid)
    plain = eased(whole, places_m(cells, grid), ROOM.radius * 10.0, 10.0)
    assert len(plain.exterior.coords) < 0.6 * len(whole.exterior.coords)


def test_a_square_keeps_its_corners_where_shelters_stand_in_them():
    grid, cells = make_grid(40, 40), largest_part(shapes()["square"])
    whole = outline_of(cells, grid)
    corners = shapely.get_coordinates(whole)[:4]
    inward = corners + 3.0 * np.sign(np.array(whole.centroid.coords[0]) - corners)
    assert eased(whole, inward, 2.9, 10.0).equals(whole)


def test_neighbours_stay_apart():
    grid = make_grid(40, 40)
    row, col = np.indices((40, 40))
    one, other = np.argwhere(row > col), np.argwhere(row <= col)
    plain = [eased(outline_of(cells, grid), places_m(cells, grid), 2.65, 10.0) for cells in (one, other)]
    assert plain[0].intersection(plain[1]).area < 1e-6
