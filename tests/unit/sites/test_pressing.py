"""One shelter more on ground that is just full: the search takes its slow twin's way, and never breaks a rule."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.spatial.distance import cdist

from sitepick.sites import _kernels
from sitepick.sites.packing import THOROUGH, Room, pack
from sitepick.sites.pressing import pressed_in
from tests.unit.sites import slow

NOTHING = np.empty((0, 2))


@pytest.mark.kernel
@pytest.mark.parametrize(("seed", "fixed"), [(0, NOTHING), (1, np.array([[3.0, 3.0]]))])
def test_the_compiled_search_takes_the_same_way_as_its_slow_twin(seed, fixed):
    random = np.random.default_rng(seed)
    allowed = random.random((9, 9)) < 0.8
    cells = np.argwhere(allowed).astype(float)
    places, draws = cells[random.permutation(len(cells))[:6]] + 0.5, random.random((1500, 5))
    want, is_won = slow.press_apart(allowed, 2.6, 0.26, cells, fixed, draws, places)
    got = places.copy()
    assert bool(_kernels.press_apart(allowed, 2.6, 0.26, cells, fixed, draws, got)) == is_won
    assert got == pytest.approx(want, abs=1e-9)
    assert (got != places).any()


def test_four_take_the_corners_of_a_square_that_three_had_filled():
    # Footprints 0.5 wide in the corners of 4 x 4 cells: middles 3.5 apart. One in the middle of a side leaves no room.
    allowed, room = np.ones((4, 4), bool), Room(spacing=3.49, radius=0.25)
    places = pressed_in(allowed, room, np.array([[0.3, 0.3], [0.3, 3.7], [3.7, 2.0]]), 4)
    assert len(places) == 4
    corners = np.array([[0.25, 0.25], [0.25, 3.75], [3.75, 0.25], [3.75, 3.75]])
    assert cdist(corners, places).min(axis=1).max() < 0.05


def test_a_fifth_finds_no_room_in_the_square_and_what_was_found_stays():
    allowed, room = np.ones((4, 4), bool), Room(spacing=3.49, radius=0.25)
    four = np.array([[0.25, 0.25], [0.25, 3.75], [3.75, 0.25], [3.75, 3.75]])
    assert pressed_in(allowed, room, four, 5) is four or (pressed_in(allowed, room, four, 5) == four).all()
    assert pressed_in(allowed, room, four, 4) is four
    assert not len(pressed_in(allowed, room, NOTHING, 3))


@pytest.mark.parametrize("seed", range(4))
def test_no_rule_is_broken_and_what_is_held_keeps_its_distance(seed):
    random = np.random.default_rng(seed)
    allowed, room = random.random((14, 14)) < 0.7, Room(spacing=3.0, radius=0.3)
    found = pack(allowed, room, THOROUGH)
    held = found[:1]
    places = pressed_in(allowed, room, found[1:-1], len(found) + 3, held)
    assert len(places) >= len(found) - 2
    apart = cdist(places, places) + 9.0 * np.eye(len(places))
    assert apart.min() >= 3.0 - 1e-9
    assert cdist(places, held).min() >= 3.0 - 1e-9
    assert all(slow.footprint_fits(allowed, *place, 0.3) for place in places)
    assert (pressed_in(allowed, room, found[1:-1], len(found) + 3, held) == places).all()
