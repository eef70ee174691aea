"""Which site to fall back on: one that a slow unit still reaches, and that doesn't fail with the pick."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from sitepick.grid import MaskArray

_TELLING_FRAC = 0.01  # a pick that is out less often than this has no reason to fail that counts
_STANDS_FRAC = 0.5  # of the draws in which the pick is out, that the alternate must stand in


@dataclass(frozen=True, slots=True, kw_only=True)
class Alternate:
    """The site to fall back on.

    Attributes
    ----------
    index : int
        Among the listed sites.
    words : str
        Why it isn't simply the second in rank, as a sentence; empty where it is.
    """

    index: int
    words: str


def choose_alternate(
    way_min: Sequence[float], late_min: float, is_out: MaskArray | None
) -> Alternate | None:  # fmt: skip
    """The first site in rank after the pick that serves as an alternate.

    Parameters
    ----------
    way_min : sequence of float
        Minutes on the move to each listed site, by rank.
    late_min : float
        Minutes on the move, at likely pace, that still fit before camp-by when the pace turns out slow.
    is_out : bool array of shape (draws, sites) or None
        In which draws each site is past a limit or out of reach; None: nothing was drawn.

    Returns
    -------
    Alternate or None
        None with fewer than two sites. Where no site passes both tests, the first that passes one, the reach at
        the late pace before the other.
    """
    others = range(1, len(way_min))
    if not others:
        return None
    in_time = [k for k in others if way_min[k] <= late_min]
    stands = [k for k in others if _stands_when_pick_falls(is_out, k)]
    both = [k for k in in_time if k in stands]
    index = (both or in_time or stands or list(others))[0]
    return Alternate(index=index, words=_words(index, in_time, stands))


def _stands_when_pick_falls(is_out: MaskArray | None, k: int) -> bool:
    if is_out is None or float(np.mean(is_out[:, 0])) < _TELLING_FRAC:
        return True
    return float(np.mean(~is_out[is_out[:, 0], k])) >= _STANDS_FRAC


def _words(index: int, in_time: list[int], stands: list[int]) -> str:
    if index not in in_time:
        return "No other site can be reached at the late pace, the alternate neither: turn back or stop early if slow."
    if index not in stands:
        return "The alternate is likely to fail for the same reason as the pick: no other site is better there."
    passed = range(1, index)
    if not passed:
        return ""
    late = [k + 1 for k in passed if k not in in_time]
    same = [k + 1 for k in passed if k in in_time]
    reasons = []
    if late:
        reasons.append(f"{_sites(late)} can't be reached at the late pace")
    if same:
        reasons.append(f"{_sites(same)} would mostly fail together with the pick")
    return f"It is the alternate because {' and '.join(reasons)}."


def _sites(ranks: list[int]) -> str:
    if len(ranks) == 1:
        return f"site {ranks[0]}"
    return f"sites {', '.join(str(rank) for rank in ranks[:-1])} and {ranks[-1]}"
