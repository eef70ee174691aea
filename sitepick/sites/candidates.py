"""Pieces of ground that could be a camp: of the right size, apart from each other, the best first."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
from scipy import ndimage

from sitepick.grid import DoubleArray, FloatArray, Grid, MaskArray
from sitepick.sites import _kernels
from sitepick.sites.packing import HEXAGON, QUICK, THOROUGH, Effort, Room, most_that_could_fit, pack
from sitepick.sites.pressing import pressed_in
from sitepick.sites.room import CellArray, PartArray, room_around
from sitepick.work import Watch

SPARE_COUNT = 3  # a piece grows until so many shelters more than needed fit, or its ground ends
_GROWTH = 1.25  # each try is so much larger than the one before
_LARGEST_IN_NEEDS = 8.0  # narrow ground may take up so many times the room of wide ground
_ATTEMPTS_A_SITE = 6
_SURE_FRAC = 0.7  # ground of which a packing of everything holds less of the unit is tried after all other
_STEP = "camp-sized pieces of ground"


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Piece:
    """A camp-sized piece of ground.

    Attributes
    ----------
    cells : int64 array of shape (n, 2)
        Row and column of each cell; joined by their sides.
    capacity : int
        Shelters that fit.
    """

    cells: CellArray
    capacity: int

    @property
    def index(self) -> tuple[CellArray, CellArray]:
        """The cells as an index into a layer."""
        return self.cells[:, 0], self.cells[:, 1]

    def mask(self) -> tuple[MaskArray, int, int]:
        """The cells as a mask of their own, with the row and column of its corner."""
        return _mask_of(self.cells)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Candidates:
    """What was found.

    Attributes
    ----------
    pieces : tuple of Piece
        Each holds the unit; none overlaps another.
    largest_count : int
        The most shelters that one piece holds, also where that is too few.
    largest : Piece or None
        That piece; None where no shelter stands anywhere.
    small_frac : float
        Share of the ground to pitch on that lies in parts too small for the unit.
    roomy_ground : bool array
        Ground in parts that might be large enough, as far as a quick count tells.
    """

    pieces: tuple[Piece, ...]
    largest_count: int
    largest: Piece | None
    small_frac: float
    roomy_ground: MaskArray

    @property
    def is_roomy(self) -> bool:
        """Whether some ground might be large enough."""
        return bool(self.roomy_ground.any())


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Search:
    """What is looked for, and where.

    Attributes
    ----------
    can_pitch : bool array
    quality : float32 array
        0-1, how good each cell is for a camp around it; -1 where no camp may be begun.
    room : Room
    need_count : int
    piece_count_max : int
    begin_at : tuple of (row, col)
        Where pieces begin before all others; may lie outside.
    """

    can_pitch: MaskArray
    quality: FloatArray
    room: Room
    need_count: int
    piece_count_max: int
    begin_at: tuple[tuple[int, int], ...] = ()


def camp_radius_cells(room: Room, need_count: int) -> float:
    """Half the width of a round camp, in cells."""
    return math.sqrt(max(need_count, 1) * HEXAGON * room.spacing**2 / math.pi)


def find_candidates(search: Search, *, watch: Watch) -> Candidates:
    """Cut camp-sized pieces out of the ground, the best beginning first.

    Parameters
    ----------
    search : Search
    watch : Watch
        Ticked once a piece.

    Returns
    -------
    Candidates
    """
    watch.tick(_STEP)
    labelled, part_count = ndimage.label(search.can_pitch)
    part_of: PartArray = np.asarray(labelled, np.int32)
    watch.tick(_STEP)
    bounds = _most_a_part(part_of, part_count, search.room)
    watch.tick(_STEP)
    is_large = bounds >= search.need_count
    is_large[0] = False
    is_free = is_large[part_of]
    pitch_count = int(np.count_nonzero(search.can_pitch))
    small_frac = 1.0 - np.count_nonzero(is_free) / pitch_count if pitch_count else 0.0
    roomy_ground = is_free.copy()
    watch.tick(_STEP)
    cutter = _Cutter(search, is_free)
    watch.tick(_STEP)
    pieces: list[Piece] = []
    seeds = _seeds(search, is_free)
    watch.tick(_STEP)
    seeds = _roomiest_first(seeds, search, part_of, is_free, watch)
    for number, (row, col) in enumerate(seeds):
        if len(pieces) >= search.piece_count_max or cutter.attempt_count >= _ATTEMPTS_A_SITE * search.piece_count_max:
            break
        watch.tick(_STEP, number, len(seeds))
        piece = cutter.cut(int(row), int(col))
        if piece is not None and piece.capacity >= search.need_count:
            pieces.append(piece)
    largest = cutter.largest
    if largest is None and pitch_count and not is_large.any():
        largest = _largest_part(part_of, bounds, search.room)
    return Candidates(
        pieces=tuple(pieces),
        largest_count=largest.capacity if largest else 0,
        largest=largest,
        small_frac=float(small_frac),
        roomy_ground=roomy_ground,
    )


class _Cutter:
    """Cuts one piece after another out of what is still free."""

    def __init__(self, search: Search, is_free: MaskArray) -> None:
        self.attempt_count = 0
        self.largest: Piece | None = None
        self._search = search
        self._is_free = np.ascontiguousarray(is_free)
        self._reluctance: FloatArray = (2.0 - np.clip(search.quality, 0.0, 1.0)).astype(np.float32)
        self._stamps = np.zeros(is_free.shape, np.int32)
        self._gap = max(2, math.ceil(camp_radius_cells(search.room, search.need_count)))

    def cut(self, row: int, col: int) -> Piece | None:
        """The piece that begins here, if the ground is still free; it is taken then, with a belt around it."""
        if not self._is_free[row, col]:
            return None
        self.attempt_count += 1
        need, room = self._search.need_count, self._search.room
        most = max(64, math.ceil(_LARGEST_IN_NEEDS * (need + SPARE_COUNT) * room.cell_count))
        cells = np.empty((min(most, self._is_free.size), 2), np.int64)
        count = _kernels.grow_piece(self._is_free, self._reluctance, row, col, self._stamps, self.attempt_count, cells)
        piece = _sized(cells[:count], room, need)
        if self.largest is None or piece.capacity > self.largest.capacity:
            self.largest = piece
        self._take(piece, is_whole=count < len(cells))
        return piece

    def _take(self, piece: Piece, *, is_whole: bool) -> None:
        """Keep other pieces off; a piece too small is given up whole where its ground ends, else only at its heart."""
        if piece.capacity < self._search.need_count:
            kept = piece.cells if is_whole else piece.cells[: max(1, len(piece.cells) // 8)]
            self._is_free[kept[:, 0], kept[:, 1]] = False
            return
        mask, top, left = piece.mask()
        gap = self._gap
        near = ndimage.distance_transform_edt(~np.pad(mask, gap)) <= gap
        rows, cols = self._is_free.shape
        first_row, first_col = max(0, top - gap), max(0, left - gap)
        last_row, last_col = min(rows, top + mask.shape[0] + gap), min(cols, left + mask.shape[1] + gap)
        near = near[first_row - top + gap : last_row - top + gap, first_col - left + gap : last_col - left + gap]
        self._is_free[first_row:last_row, first_col:last_col] &= ~near


def piece_around(
    can_pitch: MaskArray, row: int, col: int, room: Room, need_count: int, *, effort: Effort = THOROUGH
) -> Piece:  # fmt: skip
    """The camp-sized piece round a cell that can be pitched on; its cells as those of `can_pitch`."""
    most = min(can_pitch.size, max(64, math.ceil(_LARGEST_IN_NEEDS * (need_count + SPARE_COUNT) * room.cell_count)))
    # Ground farther off than this is taken only along the thinnest of strips.
    reach = math.ceil(2.0 * math.sqrt(most))
    top, left = max(0, row - reach), max(0, col - reach)
    near = np.ascontiguousarray(can_pitch[top : row + reach + 1, left : col + reach + 1])
    cells = np.empty((min(most, near.size), 2), np.int64)
    count = _kernels.grow_piece(
        near, np.ones(near.shape, np.float32), row - top, col - left, np.zeros(near.shape, np.int32), 1, cells
    )
    return _sized(cells[:count] + np.array((top, left)), room, need_count, effort)


def _sized(cells: CellArray, room: Room, need_count: int, effort: Effort = THOROUGH) -> Piece:
    """The first part of some cells that holds the unit with a few shelters to spare, or all of them."""
    size = min(len(cells), max(1, math.ceil(0.6 * need_count * room.cell_count)))
    while size < len(cells):
        mask, _, _ = _mask_of(cells[:size])
        wanted = need_count + SPARE_COUNT
        if (
            room.held(wanted, size) == wanted
            and most_that_could_fit(mask, room) >= wanted
            and len(pack(mask, room, QUICK)) >= wanted
        ):
            break
        size = min(len(cells), math.ceil(size * _GROWTH) + 1)
    return piece_of(np.array(cells[:size]), room, effort, need_count=need_count)


def piece_of(cells: CellArray, room: Room, effort: Effort = THOROUGH, *, need_count: int = 0) -> Piece:
    """Some cells as a piece, with the shelters that fit on them; the last one of those needed is pressed in."""
    mask, _, _ = _mask_of(cells)
    places = pack(mask, room, effort)
    if effort == THOROUGH and len(places) == need_count - 1 and room.held(need_count, len(cells)) == need_count:
        places = pressed_in(mask, room, places, need_count)
    return Piece(cells=cells, capacity=room.held(len(places), len(cells)))


def _mask_of(cells: CellArray) -> tuple[MaskArray, int, int]:
    top, left = cells.min(axis=0)
    bottom, right = cells.max(axis=0)
    mask = np.zeros((bottom - top + 1, right - left + 1), bool)
    mask[cells[:, 0] - top, cells[:, 1] - left] = True
    return mask, int(top), int(left)


def _most_a_part(part_of: PartArray, part_count: int, room: Room) -> npt.NDArray[np.int64]:
    """A count for each connected part that no packing can exceed; see `packing.most_that_could_fit`."""
    rows, cols = np.nonzero(part_of)
    parts = part_of[rows, cols].astype(np.int64)
    side = int(room.spacing * _kernels.BUCKET_FRAC)
    if side < 1:
        a_cell = math.ceil(1.0 / (room.spacing * _kernels.BUCKET_FRAC)) ** 2
        return np.bincount(parts, minlength=part_count + 1) * a_cell
    height, width = part_of.shape[0] // side + 1, part_of.shape[1] // side + 1
    squares = (rows // side) * width + cols // side
    if squares.size:
        # Along a row, most neighbours share their part and square.
        is_other = np.append(True, (squares[1:] != squares[:-1]) | (parts[1:] != parts[:-1]))
        squares, parts = squares[is_other], parts[is_other]
    counts = np.zeros(part_count + 1, np.int64)
    owner = np.zeros(height * width, np.int64)
    # Each round counts one part in every square that holds any still uncounted.
    while squares.size:
        owner[:] = 0
        owner[squares] = parts
        counts += np.bincount(owner[owner > 0], minlength=part_count + 1)
        is_left = parts != owner[squares]
        squares, parts = squares[is_left], parts[is_left]
    return counts


def _seeds(search: Search, is_free: MaskArray) -> CellArray:
    """Where pieces may begin: the best cell of each square half a camp wide, best first."""
    side = max(1, int(camp_radius_cells(search.room, search.need_count) / 2.0))
    rows, cols = is_free.shape
    high, wide = -(-rows // side), -(-cols // side)
    quality = np.full((high * side, wide * side), -1.0, np.float32)
    quality[:rows, :cols] = np.where(is_free, search.quality, np.float32(-1.0))
    squares = quality.reshape(high, side, wide, side).swapaxes(1, 2).reshape(high * wide, side * side)
    # Of equal cells the first by row and column, as of equal squares.
    best = np.argmax(squares, axis=1)
    worth = squares[np.arange(len(squares)), best]
    square = np.flatnonzero(worth >= 0.0)
    best_rows = (square // wide) * side + best[square] // side
    best_cols = (square % wide) * side + best[square] % side
    order = np.lexsort((best_cols, best_rows, -worth[square]))
    return np.stack((best_rows[order], best_cols[order]), axis=1)


def _roomiest_first(
    seeds: CellArray, search: Search, part_of: PartArray, is_free: MaskArray, watch: Watch
) -> CellArray:  # fmt: skip
    """The places asked for, then those with room around them as they came, then the others, the roomiest first."""
    rows, cols = is_free.shape
    asked = [cell for cell in search.begin_at if 0 <= cell[0] < rows and 0 <= cell[1] < cols]
    if len(seeds):
        held = room_around(is_free, part_of, seeds, search.room, search.need_count, watch=watch)
        lack = np.maximum(math.ceil(_SURE_FRAC * search.need_count) - held, 0)
        seeds = seeds[np.argsort(lack, kind="stable")]
    return np.concatenate((np.array(asked, np.int64).reshape(-1, 2), seeds))


def _largest_part(part_of: PartArray, bounds: npt.NDArray[np.int64], room: Room) -> Piece:
    """The part that holds most, among the few largest; for telling how much room there is."""
    best: Piece | None = None
    for part in np.argsort(-bounds, kind="stable")[:5]:
        if part == 0 or bounds[part] == 0:
            continue
        cells = np.argwhere(part_of == part)
        piece = piece_of(cells, room, QUICK)
        if best is None or piece.capacity > best.capacity:
            best = piece
    assert best is not None  # some ground can be pitched on, so some part has a bound
    return best


def piece_places_m(piece: Piece, grid: Grid, room: Room) -> DoubleArray:
    """Grid coordinates (east, north) of the places that a thorough search finds on a piece."""
    mask, top, left = piece.mask()
    places = pressed_in(mask, room, pack(mask, room, THOROUGH), piece.capacity)
    return np.column_stack(
        (grid.west_m + (places[:, 1] + left) * grid.cell_m, grid.north_m - (places[:, 0] + top) * grid.cell_m)
    )
