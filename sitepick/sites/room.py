"""How many shelters find room around each place, however the ground that holds them is shaped."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from sitepick.grid import MaskArray
from sitepick.sites import _kernels
from sitepick.sites.packing import Room, pack_widely
from sitepick.work import Watch

CountArray = npt.NDArray[np.int32]
CellArray = npt.NDArray[np.int64]
PartArray = npt.NDArray[np.int32]

_ASKED_AT_ONCE = 50_000  # cells between two questions whether to stop


def reach_cells(room: Room, need_count: int) -> float:
    """How far from its middle a camp may reach: half the length of all its shelters in a row, as along a bench."""
    return room.spacing * (max(need_count, 1) / 2.0 + 0.5)


def room_around(can_pitch: MaskArray, part_of: PartArray, cells: CellArray, room: Room, need_count: int, *,
                watch: Watch) -> CountArray:  # fmt: skip
    """How many shelters a camp around each of some cells holds at least, on ground that hangs together.

    Parameters
    ----------
    can_pitch : bool array
        Cells that a footprint may cover.
    part_of : int32 array of its shape
        Which connected part each of them belongs to.
    cells : int64 array of shape (n, 2)
        Row and column of those asked about.
    room : Room
    need_count : int
        Shelters wanted; no more are counted.
    watch : Watch
        Can stop the work.

    Returns
    -------
    int32 array of shape (n,)
        Shelters of one packing of all the ground that stand within reach of the cell, round about or along a strip:
        each keeps the spacing, so that so many do fit. A longer search for one camp finds some more.
    """
    places = pack_widely(can_pitch, room, watch=watch)
    counts = np.zeros(len(cells), np.int32)
    reach = reach_cells(room, need_count)
    for first in range(0, len(cells), _ASKED_AT_ONCE):
        watch.tick("room for the unit", first, len(cells))
        asked = slice(first, first + _ASKED_AT_ONCE)
        _kernels.count_near(part_of, room.spacing, places, cells[asked], reach, need_count, counts[asked])
    return counts
