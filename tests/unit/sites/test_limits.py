"""Where a shelter may stand at all."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from sitepick.plan.edits import with_values
from sitepick.sites.limits import DEAD_STAND_CLEAR_M, read_limits
from tests.helpers.made import BOG, LAKE, LEGEND, SPRUCE, cover_class, make_ground, make_plan, make_terrain
from tests.helpers.made_march import make_march

BURNT, GLACIER, TOWN = range(6, 9)
WIDER = replace(
    LEGEND,
    classes=(
        *LEGEND.classes,
        cover_class(BURNT, "burnt areas"),
        cover_class(GLACIER, "glacier", ice_frac=1.0, open_frac=0.0),
        cover_class(TOWN, "town", built_frac=0.8, open_frac=0.2),
    ),
)


def limits_on(cover, *, plan=None, limit_min=1e6, ground_values=None, **terrain):
    cover = np.asarray(cover)
    ground = make_ground(np.full(cover.shape, 300.0), cover, legend=WIDER, **(ground_values or {}))
    plan = plan or make_plan(ground)
    return read_limits(plan, ground, make_terrain(ground, **terrain), make_march(plan, ground, limit_min=limit_min))


def with_spot(code: int, size: int = 30) -> np.ndarray:
    cover = np.full((size, size), SPRUCE)
    cover[size // 2, size // 2] = code
    return cover


def gap_m(row: int, col: int, spot: int) -> float:
    """Distance between the sides of two cells of 10 m on the zone's middle line."""
    return 10.0 / 0.9996 * float(np.hypot(max(abs(row - spot) - 1, 0), max(abs(col - spot) - 1, 0)))


@pytest.mark.parametrize("clear_m", [0.0, 5.0, 30.0, 75.0, 140.0])
def test_no_part_of_a_cell_lies_nearer_to_water_than_the_plan_allows(clear_m):
    plan = with_values(make_plan(), "preferences", water_clear_m=clear_m)
    can_pitch = limits_on(with_spot(LAKE), plan=plan).can_pitch
    expected = [[(r, c) != (15, 15) and gap_m(r, c, 15) >= clear_m for c in range(30)] for r in range(30)]
    assert np.array_equal(can_pitch, np.array(expected))


@pytest.mark.parametrize(("code", "name"), [(BOG, "wet"), (GLACIER, "ice"), (TOWN, "built")])
def test_cover_nobody_pitches_on_is_out_by_name(code, name):
    limits = limits_on(with_spot(code))
    assert not limits.can_pitch[15, 15]
    assert limits.can_pitch.sum() == 30 * 30 - 1
    assert [limit.name for limit in limits.limits if limit.is_out.any()] == [name]


def test_dead_forest_keeps_two_tree_heights_clear():
    can_pitch = limits_on(with_spot(BURNT)).can_pitch
    for col in range(30):
        assert can_pitch[15, col] == (gap_m(15, col, 15) >= DEAD_STAND_CLEAR_M)


def test_ground_marked_out_of_bounds_is_out():
    is_no_go = np.zeros((30, 30), bool)
    is_no_go[:, :10] = True
    limits = limits_on(np.full((30, 30), SPRUCE), ground_values={"is_no_go": is_no_go})
    assert np.array_equal(limits.can_pitch, ~is_no_go)


def test_without_one_limit_more_ground_is_left_and_never_less():
    random = np.random.default_rng(2)
    limits = limits_on(
        random.choice([SPRUCE, BOG, LAKE], (30, 30)),
        slope_30m_deg=random.random((30, 30)).astype(np.float32) * 9.0,
        is_avalanche_runout=random.random((30, 30)) < 0.2,
    )
    left = int(limits.can_pitch.sum())
    assert all(limits.left_count(without=limit.name) >= left for limit in limits.limits)
    assert limits.left_count(without="nothing") == left


def test_unknown_ground_counts_as_in_reach_only_as_far_as_one_could_have_walked():
    cover = np.full((21, 60), SPRUCE)
    cover[:, 30:] = -1
    ground = make_ground(np.full(cover.shape, 300.0), cover)
    plan = make_plan(ground)
    march = make_march(plan, ground, limit_min=8.0)
    # Nobody marches on unknown ground: the reach ends at it, two minutes short of the limit on the route.
    stopped = replace(
        march,
        moving_min=np.where(cover < 0, np.nan, march.moving_min).astype(np.float32),
        leave_station=np.where(cover < 0, -1, march.leave_station).astype(np.int32),
    )
    limits = read_limits(plan, ground, make_terrain(ground), stopped)
    assert limits.unknown_count == np.count_nonzero((march.moving_min <= 8.0) & (cover < 0))
