"""Compares pictures, and shows where they differ."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

PictureArray = npt.NDArray[np.uint8]


def different_pixels(got: PictureArray, want: PictureArray, *, tolerance: int) -> int:
    """How many pixels differ in any channel by more than `tolerance`; all of them where the shapes differ."""
    if got.shape != want.shape:
        return max(got.shape[0] * got.shape[1], want.shape[0] * want.shape[1])
    apart = np.abs(got.astype(np.int16) - want.astype(np.int16))
    return int((apart > tolerance).any(axis=-1).sum())


def side_by_side(got: PictureArray, want: PictureArray) -> PictureArray:
    """Got, want and their difference in one picture."""
    rows, cols = max(got.shape[0], want.shape[0]), max(got.shape[1], want.shape[1])

    def padded(picture: PictureArray) -> PictureArray:
        room = np.full((rows, cols, 3), 255, dtype=np.uint8)
        room[: picture.shape[0], : picture.shape[1]] = picture
        return room

    one, other = padded(got), padded(want)
    apart = np.abs(one.astype(np.int16) - other.astype(np.int16)).astype(np.uint8)
    return np.concatenate([one, other, 255 - apart], axis=1)
