"""Recorded tracks made fit to be marched and edited: doubles, spikes, milling at halts, too many points.

Points are only ever left out, never moved: the ends stay, the way gets no longer, and a way out and back
stays one. Everything works on indices into the points, so that names follow.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import shapely

from sitepick.grid import DoubleArray, MaskArray

DETAIL_M = 5.0  # half a working cell: what is finer doesn't show on the ground that is read
DETAIL_MAX_M = 10.0
POINTS_WANTED = 400  # more than that can't be dragged about by hand
DOUBLE_M = 0.1
# A jump is a spike where the receiver's own steps beside it are short and even. All from memory of recorded tracks.
SPIKE_LEAST_M = 30.0
SPIKE_TIMES_MEDIAN = 10.0
SPIKE_TIMES_LONGEST = 3.0
SPIKE_POINTS_MAX = 3
NEIGHBOUR_STEPS = 5
NEIGHBOUR_STEPS_LEAST = 4
TRUSTED_KMH = 60.0  # a jump that was made slower than this may have been marched or driven
HALT_RADIUS_M = 15.0  # what a resting receiver wanders
HALT_WAY_M = 60.0

Indices = npt.NDArray[np.int64]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Cleaned:
    """Which points of a line stay, and why the others don't.

    Attributes
    ----------
    kept : int64 array
        Indices of the points that stay, rising; the first and the last are among them.
    double_count, spike_count, halt_count, thinned_count : int
        Points left out as doubles, as spikes, as milling at halts, and because the line stays within
        `detail_m` without them.
    detail_m : float
    """

    kept: Indices
    double_count: int
    spike_count: int
    halt_count: int
    thinned_count: int
    detail_m: float

    def sentence(self) -> str:
        """What was left out; empty where nothing was."""
        told = [
            f"{count:,} {one if count == 1 else several}"
            for count, one, several in (
                (self.double_count, "double point", "double points"),
                (self.spike_count, "spike", "spikes"),
                (self.halt_count, "point at halts", "points at halts"),
            )
            if count
        ]
        left_out = f"{joined(told)} left out" if told else ""
        thinned = ""
        if self.thinned_count:
            before = len(self.kept) + self.thinned_count
            thinned = f"thinned from {before:,} to {len(self.kept):,} points within {self.detail_m:g} m"
        text = "; ".join(part for part in (left_out, thinned) if part)
        return f"{text[0].upper()}{text[1:]}." if text else ""


def clean_line(points_m: DoubleArray, seconds: DoubleArray, is_pinned: MaskArray) -> Cleaned:
    """Leave out what no one marched, and thin the rest.

    Parameters
    ----------
    points_m : float64 array of shape (n, 2)
        In a metric projection; n at least 2.
    seconds : float64 array of shape (n,)
        When each was recorded; NaN: not known.
    is_pinned : bool array of shape (n,)
        Points that stay whatever happens, such as named ones.

    Returns
    -------
    Cleaned
    """
    is_pinned = is_pinned.copy()
    is_pinned[[0, -1]] = True
    every = np.arange(len(points_m))
    single = every[_without_doubles(points_m, is_pinned)]
    smooth = single[_without_spikes(points_m[single], seconds[single], is_pinned[single])]
    # what stood on both sides of a spike may be one place
    steady = smooth[_without_doubles(points_m[smooth], is_pinned[smooth])]
    rested = steady[_without_milling(points_m[steady], is_pinned[steady])]
    detail_m = DETAIL_M
    kept = _thinned(points_m, rested, is_pinned, detail_m)
    if len(kept) > POINTS_WANTED:
        detail_m = DETAIL_MAX_M
        kept = _thinned(points_m, rested, is_pinned, detail_m)
    return Cleaned(
        kept=kept,
        double_count=len(every) - len(single) + len(smooth) - len(steady),
        spike_count=len(single) - len(smooth),
        halt_count=len(steady) - len(rested),
        thinned_count=len(rested) - len(kept),
        detail_m=detail_m,
    )


def _without_doubles(points_m: DoubleArray, is_pinned: MaskArray) -> MaskArray:
    """All but points in the very place of the one before them; of such a run a pinned point stays."""
    step_m = np.hypot(*np.diff(points_m, axis=0).T)
    run = np.concatenate(([0], np.cumsum(step_m > DOUBLE_M)))
    keep = np.concatenate(([True], step_m > DOUBLE_M)) | is_pinned
    has_pinned = np.zeros(run[-1] + 1, bool)
    has_pinned[run[is_pinned]] = True
    return np.asarray(keep & (is_pinned | ~has_pinned[run]))


def _without_spikes(points_m: DoubleArray, seconds: DoubleArray, is_pinned: MaskArray) -> MaskArray:
    """All but up to three points in a row that jump out and back, where all steps around are short and even."""
    count = len(points_m)
    keep = np.ones(count, bool)
    step_m = np.hypot(*np.diff(points_m, axis=0).T)
    # only a long step can begin a spike
    typical_m = float(np.median(step_m)) if len(step_m) else 0.0
    for before in np.flatnonzero(step_m >= max(SPIKE_LEAST_M, 2.0 * typical_m)).tolist():
        if not keep[before]:
            continue
        for length in range(1, SPIKE_POINTS_MAX + 1):
            after = before + length + 1
            if after >= count or is_pinned[before + 1 : after].any():
                break
            if _is_spike(points_m, step_m, seconds, before, after):
                keep[before + 1 : after] = False
                break
    return keep


def _is_spike(points_m: DoubleArray, step_m: DoubleArray, seconds: DoubleArray, before: int, after: int) -> bool:
    jump_m = float(min(step_m[before], step_m[after - 1]))
    around = np.concatenate(
        (step_m[max(0, before - NEIGHBOUR_STEPS) : before], step_m[after : after + NEIGHBOUR_STEPS])
    )
    if jump_m < SPIKE_LEAST_M or len(around) < NEIGHBOUR_STEPS_LEAST:
        return False
    longest_m = float(around.max())
    across_m = float(np.hypot(*(points_m[after] - points_m[before])))
    if jump_m < SPIKE_TIMES_MEDIAN * float(np.median(around)) or jump_m < SPIKE_TIMES_LONGEST * longest_m:
        return False
    if across_m > max(longest_m, 0.3 * jump_m):
        return False
    passed_s = float(seconds[after] - seconds[before])
    is_trusted = passed_s > 0.0 and 3.6 * (step_m[before] + step_m[after - 1]) / passed_s < TRUSTED_KMH
    return not is_trusted


def _without_milling(points_m: DoubleArray, is_pinned: MaskArray) -> MaskArray:
    """All but the first and the last point of each run that wanders far within a few metres."""
    count = len(points_m)
    keep = np.ones(count, bool)
    way_m = np.concatenate(([0.0], np.cumsum(np.hypot(*np.diff(points_m, axis=0).T))))
    past = np.minimum(np.searchsorted(way_m, way_m + HALT_WAY_M), count - 1)
    is_near = (way_m[past] - way_m >= HALT_WAY_M) & (np.hypot(*(points_m[past] - points_m).T) <= HALT_RADIUS_M)
    done = 0
    for first in np.flatnonzero(is_near).tolist():
        if first < done:
            continue
        last = first
        while last + 1 < count and np.hypot(*(points_m[last + 1] - points_m[first])) <= HALT_RADIUS_M:
            last += 1
        if way_m[last] - way_m[first] >= HALT_WAY_M:
            keep[first + 1 : last] = is_pinned[first + 1 : last]
            done = last
    return keep


def _thinned(points_m: DoubleArray, held: Indices, is_pinned: MaskArray, detail_m: float) -> Indices:
    """Those of the points held that the line needs to stay within so many metres (Douglas and Peucker 1973)."""
    pins = np.flatnonzero(is_pinned[held])
    kept = [held[:1]]
    for first, last in zip(pins[:-1].tolist(), pins[1:].tolist(), strict=True):
        kept += _stretch(points_m, held[first : last + 1], detail_m)
    return np.concatenate(kept)


def _stretch(points_m: DoubleArray, held: Indices, detail_m: float) -> list[Indices]:
    """The points of one stretch that stay, but for its first."""
    line = points_m[held]
    off_m = np.hypot(*(line - line[0]).T)
    if off_m[-1] == 0.0:  # a ring has no straight line between its ends: halve it at its farthest point
        turn = int(np.argmax(off_m))
        if off_m[turn] <= detail_m:
            return [held[-1:]]
        return _stretch(points_m, held[: turn + 1], detail_m) + _stretch(points_m, held[turn:], detail_m)
    thin = shapely.get_coordinates(shapely.simplify(shapely.LineString(line), detail_m, preserve_topology=False))
    places: list[int] = []
    at = 0
    for point in thin[1:-1]:
        at = at + 1 + int(np.argmax((line[at + 1 :] == point).all(axis=1)))
        places.append(at)
    return [held[np.array([*places, len(held) - 1], dtype=np.int64)]]


def joined(words: list[str]) -> str:
    """Words as a list in a sentence, at least one."""
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"
