"""Cells become outlines and lines."""

from __future__ import annotations

import numpy as np
import pytest

from sitepick.sheet.shape import (
    cell_lines,
    mask_polygons,
    reach_polygons,
    route_parts,
    route_point_m,
    way_off_route_m,
)
from tests.helpers.made import make_grid
from tests.helpers.made_tonight import made_tonight


def test_a_block_of_cells_is_outlined_exactly() -> None:
    mask = np.zeros((20, 30), dtype=bool)
    mask[5:10, 4:16] = True
    shape = mask_polygons(mask, make_grid(20, 30))
    assert shape.area == pytest.approx(5 * 12 * 100.0)


def test_a_hole_stays_a_hole_and_small_pieces_can_be_left_out() -> None:
    mask = np.ones((20, 20), dtype=bool)
    mask[8:12, 8:12] = False
    assert len(mask_polygons(mask, make_grid(20, 20)).geoms[0].interiors) == 1
    speck = np.zeros((20, 20), dtype=bool)
    speck[3, 3] = True
    assert mask_polygons(speck, make_grid(20, 20), least_cells=2).is_empty
    assert not mask_polygons(speck, make_grid(20, 20)).is_empty


def test_nothing_has_no_outline() -> None:
    assert mask_polygons(np.zeros((5, 5), dtype=bool), make_grid(5, 5)).is_empty


@pytest.mark.parametrize("turns", range(4))
def test_a_stream_of_cells_becomes_one_line_whichever_way_it_runs(turns: int) -> None:
    mask = np.zeros((12, 12), dtype=bool)
    mask[2, 1:6] = True
    mask[np.arange(3, 9), np.arange(6, 12)] = True  # on down a diagonal
    lines = cell_lines(np.rot90(mask, turns), make_grid(12, 12))
    assert len(lines.geoms) == 1
    assert lines.length == pytest.approx(10.0 * (4 + 6 * np.sqrt(2.0)))


def test_early_reach_holds_likely_reach_holds_late_reach() -> None:
    shapes = reach_polygons(made_tonight().march)
    assert shapes["early"].area > shapes["likely"].area > shapes["late"].area > 0.0
    # Smoothing may move an outline by less than a cell.
    assert shapes["early"].buffer(10.0).covers(shapes["likely"])
    assert shapes["likely"].buffer(10.0).covers(shapes["late"])


def test_route_is_cut_where_the_reach_ends() -> None:
    march = made_tonight().march
    reached, rest = route_parts(march)
    assert (reached[-1] == rest[0]).all()
    assert reached[-1, 0] - reached[0, 0] == pytest.approx(march.reach_along_route_m, abs=11.0)
    assert route_point_m(march, 1000.0) == pytest.approx((march.route_m[0, 0] + 1000.0, march.route_m[0, 1]))


def test_way_off_the_route_leads_from_it_to_the_site() -> None:
    answer = made_tonight()
    pick = answer.sites.sites[0]
    way = way_off_route_m(answer.march, pick.east_m, pick.north_m)
    assert tuple(way[0]) == pytest.approx(route_point_m(answer.march, pick.leave_distance_m), abs=10.0)
    assert tuple(way[-1]) == (pick.east_m, pick.north_m)
    steps = np.hypot(*np.diff(way, axis=0).T)
    assert steps.max() < 25.0
    assert steps.sum() == pytest.approx(150.0, abs=60.0)


def test_no_way_leads_past_the_reach() -> None:
    march = made_tonight().march
    assert len(way_off_route_m(march, march.grid.east_m - 1.0, march.grid.north_m - 1.0)) == 0
    assert len(way_off_route_m(march, march.grid.east_m + 500.0, march.grid.north_m)) == 0
