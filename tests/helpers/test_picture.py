"""A comparison that can't see a difference is no test."""

from __future__ import annotations

import numpy as np

from tests.helpers.picture import different_pixels, side_by_side

BLACK = np.zeros((4, 5, 3), dtype=np.uint8)
WHITE = np.full((4, 5, 3), 255, dtype=np.uint8)


def test_black_and_white_differ_everywhere_both_ways() -> None:
    assert different_pixels(BLACK, WHITE, tolerance=200) == 20
    assert different_pixels(WHITE, BLACK, tolerance=200) == 20


def test_a_picture_is_the_same_as_itself() -> None:
    assert different_pixels(BLACK, BLACK.copy(), tolerance=0) == 0


def test_one_pixel_moved_is_two_pixels_changed() -> None:
    one, other = WHITE.copy(), WHITE.copy()
    one[1, 1] = 0
    other[1, 2] = 0
    assert different_pixels(one, other, tolerance=8) == 2


def test_one_channel_off_is_seen_and_tolerance_holds() -> None:
    off = WHITE.copy()
    off[2, 2, 1] = 235
    assert different_pixels(off, WHITE, tolerance=19) == 1
    assert different_pixels(off, WHITE, tolerance=20) == 0


def test_another_shape_is_different_altogether() -> None:
    assert different_pixels(BLACK, BLACK[:2], tolerance=255) == 20


def test_the_shown_picture_holds_all_three() -> None:
    shown = side_by_side(BLACK, WHITE[:2])
    assert shown.shape == (4, 15, 3)
    assert (shown[:2, 10:] == 0).all()
