"""How many shelters find room around a place, whatever the ground is shaped like."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from scipy import ndimage

from sitepick.plan.model import Area, CampSettings
from sitepick.sites import _kernels
from sitepick.sites.candidates import Candidates, Search, find_candidates
from sitepick.sites.packing import THOROUGH, Room, pack
from sitepick.sites.room import reach_cells, room_around
from sitepick.work import JobStopped, Watch
from tests.helpers.made import SPRUCE, make_grid, make_plan
from tests.unit.sites import slow
from tests.unit.sites.made_sites import only, sites_on, spruce

TENT = Room(spacing=5.4864, radius=0.265)  # a ten-person tent at the usual spacing, on cells of 10 m


def band(rows: int, cols: int, inner: float, outer: float, side: float = 1e9) -> np.ndarray:
    """A ring round the middle, cut off past a column."""
    row, col = np.indices((rows, cols))
    away = np.hypot(row - rows / 2, col - cols / 2)
    return (away > inner) & (away < outer) & (col < side)


def bench(length: int = 90, width: int = 3) -> np.ndarray:
    allowed = np.zeros((20, length + 10), bool)
    allowed[8 : 8 + width, 5 : 5 + length] = True
    return allowed


def found_on(allowed: np.ndarray, need: int, *, room: Room = TENT, **known: object) -> Candidates:
    quality = np.where(allowed, np.float32(0.5), np.float32(-1.0))
    values = {"can_pitch": allowed, "quality": quality, "room": room, "need_count": need, "piece_count_max": 40}
    return find_candidates(Search(**{**values, **known}), watch=Watch())


def around(allowed: np.ndarray, need: int, room: Room = TENT) -> np.ndarray:
    part_of = np.asarray(ndimage.label(allowed)[0], np.int32)
    cells = np.argwhere(np.ones_like(allowed))
    return room_around(allowed, part_of, cells, room, need, watch=Watch()).reshape(allowed.shape)


@pytest.mark.kernel
@pytest.mark.parametrize("seed", range(4))
def test_counting_near_agrees_with_its_twin(seed):
    random = np.random.default_rng(seed)
    allowed = random.random((15, 18)) < 0.7
    part_of = np.asarray(ndimage.label(allowed)[0], np.int32)
    spacing, reach = random.uniform(1.0, 4.0), random.uniform(0.5, 9.0)
    places = pack(allowed, Room(spacing=spacing, radius=0.1), THOROUGH)
    cells = np.argwhere(allowed)
    counts = np.zeros(len(cells), np.int32)
    _kernels.count_near(part_of, spacing, places, cells, reach, 7, counts)
    assert counts.tolist() == slow.count_near(part_of, places, cells, reach, 7)


@pytest.mark.parametrize(
    ("allowed", "need"),
    [
        (bench(), 16),
        (band(80, 80, 16, 20, side=45), 8),
        (band(80, 80, 12, 16), 12),
        (np.ones((26, 26), bool), 16),
    ],
    ids=["bench of 900 m by 30 m", "crescent", "ring", "clearing"],
)
def test_ground_of_every_shape_that_holds_the_unit_is_a_candidate(allowed, need):
    found = found_on(allowed, need)
    assert found.pieces
    for piece in found.pieces:
        mask, _, _ = piece.mask()
        assert allowed[piece.index].all()
        assert piece.capacity >= need
        assert len(pack(mask, TENT, THOROUGH)) == piece.capacity
        assert ndimage.label(mask)[1] == 1
    everywhere = np.concatenate([piece.cells for piece in found.pieces])
    assert len(np.unique(everywhere, axis=0)) == len(everywhere)


def test_the_middle_of_a_bench_holds_more_than_its_end_and_other_ground_nothing():
    counts = around(bench(), need=16)
    assert not counts[:8].any()
    middle, end = counts[9, 50], counts[9, 6]
    assert middle >= 14
    assert end < middle


@pytest.mark.parametrize("seed", range(6))
def test_no_cell_is_promised_more_than_its_ground_holds(seed):
    allowed = np.random.default_rng(seed).random((24, 24)) < 0.75
    counts = around(allowed, need=30)
    labelled, part_count = ndimage.label(allowed)
    for part in range(1, part_count + 1):
        most = len(pack(labelled == part, TENT, THOROUGH))
        assert counts[labelled == part].max() <= max(most, 1) + 1


def test_two_groves_side_by_side_are_not_one():
    allowed = np.zeros((12, 41), bool)
    allowed[:, :20] = allowed[:, 21:] = True
    whole = np.ones((12, 41), bool)
    assert around(allowed, 20)[6, 18] < around(whole, 20)[6, 18]


def test_a_camp_reaches_as_far_as_its_shelters_in_a_row():
    assert reach_cells(TENT, 16) == pytest.approx(8.5 * TENT.spacing)


def test_scraps_that_look_better_dont_hide_the_one_place_with_room():
    # Crosses of thin arms: a quick count by squares thinks each of them large enough.
    allowed = np.zeros((700, 700), bool)
    quality = np.full(allowed.shape, -1.0, np.float32)
    for row in range(5, 560, 18):
        for col in range(5, 680, 18):
            allowed[row : row + 15, col + 7] = allowed[row + 7, col : col + 15] = True
    quality[allowed] = 0.9
    allowed[600:625, 300:325] = True
    quality[600:625, 300:325] = 0.3
    found = found_on(allowed, 12, quality=quality, piece_count_max=10)
    assert [piece.cells[0, 0] >= 600 for piece in found.pieces] == [True]


def test_shelters_side_by_side_leave_no_ground_to_stand_on():
    close = Room(spacing=0.6, radius=0.25, standing=1.0)
    assert close.held(20, 12) == 10
    assert replace(close, standing=0.0).held(20, 12) == 20
    allowed = np.ones((3, 4), bool)
    assert max(piece.capacity for piece in found_on(allowed, 5, room=close).pieces) <= 10


@pytest.mark.parametrize("need", [1, 16])
def test_islands_of_one_cell(need):
    allowed = np.zeros((60, 60), bool)
    allowed[::3, ::3] = True
    found = found_on(allowed, need)
    assert bool(found.pieces) == (need == 1)
    assert found.largest_count == 1
    assert all(piece.capacity == 1 for piece in found.pieces)


@pytest.mark.parametrize("allowed", [np.zeros((30, 30), bool), np.zeros((1, 1), bool)])
def test_no_ground_at_all_holds_nothing(allowed):
    found = found_on(allowed, 5)
    assert not found.pieces
    assert found.largest is None
    assert found.largest_count == 0


def test_a_spacing_wider_than_the_ground_leaves_room_for_one():
    found = found_on(np.ones((20, 20), bool), 1, room=Room(spacing=90.0, radius=0.265))
    assert [piece.capacity for piece in found.pieces] == [1]
    assert not found_on(np.ones((20, 20), bool), 2, room=Room(spacing=90.0, radius=0.265)).pieces


@pytest.mark.parametrize(("people", "holds"), [(1, 1), (150, 16)])
def test_a_bench_of_the_users_own_is_measured_along_its_length(people, holds):
    grid = make_grid(40, 110)
    corners = np.array([(8, 10), (98, 10), (98, 13), (8, 13), (8, 10)]) * 10.0
    lon, lat = grid.to_lonlat(grid.west_m + corners[:, 0], grid.north_m - corners[:, 1])
    ring = tuple(zip(map(float, lon), map(float, lat), strict=True))
    plan = make_plan(people=people)
    plan = replace(plan, areas=(Area(name="Our bench", role="site", ring=ring),))
    sites = sites_on(np.full((40, 110), SPRUCE), plan=plan)
    (own,) = [site for site in sites.sites if site.is_own]
    assert own.capacity >= holds
    assert own.outline_m.bounds[2] - own.outline_m.bounds[0] == pytest.approx(900.0, abs=20.0)


def test_telling_a_smaller_spacing_or_a_steeper_slope_that_would_do():
    slope = only((10, 20, 10, 20))
    slope[10:30, 20:45] = 6.5
    plan = replace(make_plan(people=90), camp=CampSettings(spacing_m=60.0))
    sites = sites_on(spruce(), plan=plan, slope_30m_deg=slope, slope_deg=slope)
    assert not sites.sites
    room = next(reason for reason in sites.hindrances if reason.name == "room")
    assert f"set the spacing to {room.spacing_m:g} m" in room.fix
    assert "allow 6.7° over 30 m" in room.fix
    steeper = replace(plan.preferences, slope=replace(plan.preferences.slope, limit_max=6.7))
    opened = sites_on(spruce(), plan=replace(plan, preferences=steeper), slope_30m_deg=slope, slope_deg=slope)
    assert opened.sites


def test_a_stop_ends_the_search_for_room_at_its_next_question():
    asked: list[str] = []

    def hear(step: str, done_count: int, total_count: int) -> None:
        asked.append(step)
        if step == "room for shelters":
            watch.stop()

    watch = Watch(hear)
    allowed = np.ones((60, 60), bool)
    search = Search(
        can_pitch=allowed, quality=np.full(allowed.shape, 0.5, np.float32), room=TENT, need_count=5, piece_count_max=40
    )
    with pytest.raises(JobStopped):
        find_candidates(search, watch=watch)
    assert asked[-1] == "room for shelters"
