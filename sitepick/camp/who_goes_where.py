"""Which shelter takes which place: the leader in the middle, each section together, in turn from the way in."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sitepick.camp.places import Layout
from sitepick.camp.stands import Stand
from sitepick.grid import DoubleArray, MaskArray
from sitepick.units import bearing_deg

_TREELESS_COST = 10.0  # in spacings; ours: a shelter that wants trees goes where they are, whoever's it is
_TINY = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Sharing:
    """What is to be shared out.

    Attributes
    ----------
    layout : Layout
    spacing_m : float
    entry_m : (east_m, north_m)
        Where the way in meets the site.
    has_trees : bool array of shape (count,)
        Of each place of the layout.
    """

    layout: Layout
    spacing_m: float
    entry_m: tuple[float, float]
    has_trees: MaskArray


def who_goes_where(sharing: Sharing) -> list[tuple[Stand, tuple[float, float]]]:
    """Share the places out among the stands.

    Parameters
    ----------
    sharing : Sharing

    Returns
    -------
    list of (Stand, (east_m, north_m))
        In the order of the layout's stands.

    Notes
    -----
    Begins clockwise from the way in, section after section, and exchanges two places as long as that brings sections
    closer together: what counts is the sum of the distances within each section.
    """
    stands, places_m = sharing.layout.stands, sharing.layout.places_m
    if not stands:
        return []
    place_of = _in_turn(sharing)
    apart = np.hypot(*(places_m[:, None, :] - places_m[None, :, :]).transpose(2, 0, 1)) / sharing.spacing_m
    sections = sorted({stand.section for stand in stands})
    belongs = np.array([[stand.section == section for section in sections] for stand in stands], dtype=float)
    wants_trees = np.array([any(one.kind.needs_trees for one in stand.shelters) for stand in stands])
    is_movable = np.zeros(len(stands), bool)
    is_movable[_movable(sharing)] = True
    may_change = is_movable[:, None] & is_movable[None, :]
    for _ in range(len(stands) ** 2):
        gain = _gains(apart, place_of, belongs, wants_trees, sharing.has_trees)
        gain[~may_change] = 0.0
        best = int(np.argmax(gain))
        one, other = divmod(best, len(stands))
        if gain[one, other] <= _TINY:
            break
        place_of[[one, other]] = place_of[[other, one]]
    return [(stand, (float(places_m[k, 0]), float(places_m[k, 1]))) for stand, k in zip(stands, place_of, strict=True)]


def _in_turn(sharing: Sharing) -> np.ndarray:
    """A first sharing: who can't be moved keeps its place, the others follow round the middle."""
    stands, places_m = sharing.layout.stands, sharing.layout.places_m
    place_of = np.arange(len(stands))
    free = _movable(sharing)
    place_of[: len(stands)] = _leaders_inmost(sharing)
    middle = places_m[place_of[0]]
    way_in = np.array(sharing.entry_m)
    turn = {k: bearing_deg(_bearing(middle, places_m[k]) - _bearing(middle, way_in)) for k in place_of[free].tolist()}
    ranks: dict[str, int] = {}
    for stand in stands:
        ranks.setdefault(stand.section, len(ranks))
    by_section = sorted(free, key=lambda k: ranks[stands[k].section])
    place_of[by_section] = sorted(place_of[free].tolist(), key=lambda k: turn[k])
    return place_of


def _movable(sharing: Sharing) -> list[int]:
    """Which stands may change places: leaders, joined shelters and those put by hand keep theirs."""
    layout = sharing.layout
    return [
        k
        for k, stand in enumerate(layout.stands)
        if not stand.is_leaders and len(stand.shelters) == 1 and not layout.is_held[k]
    ]


def _leaders_inmost(sharing: Sharing) -> np.ndarray:
    """Places of the stands with further leaders of one shelter each put where the ways to all are least."""
    stands, places_m = sharing.layout.stands, sharing.layout.places_m
    place_of = np.arange(len(stands))
    is_held = sharing.layout.is_held
    single = [k for k, stand in enumerate(stands) if len(stand.shelters) == 1 and k > 0 and not is_held[k]]
    leaders = [k for k in single if stands[k].is_leaders]
    if not leaders:
        return place_of
    away = np.hypot(*(places_m - places_m[0]).T)
    by_way = sorted(single, key=lambda k: away[k])
    order = leaders + [k for k in single if k not in leaders]
    place_of[order] = by_way
    return place_of


def _gains(
    apart: DoubleArray, place_of: np.ndarray, belongs: DoubleArray, wants_trees: MaskArray, has_trees: MaskArray
) -> DoubleArray:  # fmt: skip
    """By how much the toll falls when two stands change places, for every two."""
    between = apart[np.ix_(place_of, place_of)]
    near = between @ belongs  # from each stand's place to the places of each section
    own = np.argmax(belongs, axis=1)
    to_own = near[np.arange(len(own)), own]
    to_others = near[:, own]  # from the place of the row's stand to the section of the column's
    is_same = own[:, None] == own[None, :]
    gain = to_own[:, None] + to_own[None, :] - to_others - to_others.T + 2.0 * between
    gain = np.where(is_same, 0.0, gain)
    lacks = ~has_trees[place_of]
    toll = _TREELESS_COST * np.outer(wants_trees, lacks)  # the row's stand on the place of the column's
    return np.asarray(gain + np.diag(toll)[:, None] + np.diag(toll)[None, :] - toll - toll.T)


def _bearing(start: DoubleArray, end: DoubleArray) -> float:
    return float(np.degrees(np.arctan2(end[0] - start[0], end[1] - start[1])))
