"""What posts see, against lines of sight walked step by step from eye to target over small open ground."""

from __future__ import annotations

import math

import numpy as np
import pytest

from sitepick.camp.model import PlacedShelter
from sitepick.camp.security import EYE_M, TARGET_M, approaches, secure
from sitepick.camp.surroundings import surroundings_of
from sitepick.plan.edits import with_values
from sitepick.plan.security import SecuritySettings
from sitepick.work import Watch
from tests.helpers.made import OPEN, made_relief, make_ground, make_plan, make_terrain
from tests.helpers.made_march import make_march

SIZE, MIDDLE = 46, 23


def watched(seed):
    """Two posts round one tent on rolling open ground, and everything that is watched."""
    heights = 300.0 + made_relief(SIZE, SIZE, seed=seed, height_m=25.0)
    ground = make_ground(heights, OPEN)
    plan = with_values(
        make_plan(ground, people=10), "camp", security=SecuritySettings(post_count=2, watch_out_to_m=90.0)
    )
    march = make_march(plan, ground)
    east_m, north_m = ground.grid.cell_centre_m(MIDDLE, MIDDLE)
    placed = (
        PlacedShelter(
            shelter=plan.unit.shelters[0], east_m=east_m, north_m=north_m, door_bearing_deg=0.0, slope_deg=0.0
        ),
    )
    around = surroundings_of(plan, ground, make_terrain(ground), placed, (east_m, north_m - 40.0), watch=Watch())
    security = secure(around, (), ground, march, watch=Watch())
    return around, security, ground


def is_seen(elevation_m, grid, post, row, col):
    """Whether nothing on the way, walked metre by metre over planes between the cells' middles, hides the target."""
    middle_east, middle_north = grid.cell_centre_m(row, col)
    home = grid.cell_at(post.east_m, post.north_m)
    eye_m, target_m = elevation_m[home] + EYE_M, elevation_m[row, col] + TARGET_M
    length = math.hypot(middle_east - post.east_m, middle_north - post.north_m)
    for walked in np.arange(2.0, length - 1.0, 2.0):
        part = walked / length
        height_m = height_at(
            elevation_m, grid, post.east_m + part * (middle_east - post.east_m),
            post.north_m + part * (middle_north - post.north_m),
        )  # fmt: skip
        if height_m > eye_m + part * (target_m - eye_m):
            return False
    return True


def height_at(elevation_m, grid, east_m, north_m):
    """Bilinear between the middles of four cells."""
    down, right = (grid.north_m - north_m) / grid.cell_m - 0.5, (east_m - grid.west_m) / grid.cell_m - 0.5
    row, col = min(int(down), grid.rows - 2), min(int(right), grid.cols - 2)
    v, u = down - row, right - col
    four = elevation_m[row : row + 2, col : col + 2]
    return float(
        (1 - v) * ((1 - u) * four[0, 0] + u * four[0, 1]) + v * ((1 - u) * four[1, 0] + u * four[1, 1])
    )  # fmt: skip


@pytest.mark.slow
@pytest.mark.parametrize("seed", [0, 1, 3])
def test_the_share_that_is_told_is_seen_by_lines_walked_step_by_step(seed):
    around, security, ground = watched(seed)
    grid, heights = ground.grid, np.asarray(ground.elevation_m, dtype=float)
    top, left = around.corner
    cells = np.argwhere(approaches(around, security.perimeter_m)) + np.array((top, left))
    seen = np.array(
        [any(is_seen(heights, grid, post, row, col) for post in security.posts) for row, col in cells.tolist()]
    )
    # Cells whose sight grazes the ground go either way; the share is the same but for those.
    assert security.seen_frac == pytest.approx(seen.mean(), abs=0.04)
    assert seen.mean() < 0.97  # there is dead ground, and it is where the lines say
    dead = security.dead_ground[tuple((cells - (top, left)).T)]
    assert np.mean(dead == ~seen) >= 0.93
