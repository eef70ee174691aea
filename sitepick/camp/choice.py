"""Choosing a cell for something: rules in order of gravity, then the least cost."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sitepick.camp.surroundings import Surroundings
from sitepick.grid import DoubleArray, MaskArray


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Rule:
    """A distance that a place must keep, at least or at most.

    Attributes
    ----------
    text : str
        As told when no ground keeps it: ``"from water"``.
    distance_m : float64, of the window's shape
    least_m, most_m : float
    """

    text: str
    distance_m: DoubleArray
    least_m: float = 0.0
    most_m: float = np.inf

    def keeps(self) -> MaskArray:
        """Cells where it is kept."""
        kept: MaskArray = (self.distance_m >= self.least_m) & (self.distance_m <= self.most_m)
        return kept


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """A chosen place.

    Attributes
    ----------
    row, col : int
        In the window.
    east_m, north_m : float
        Grid coordinates of the cell's middle.
    broken : tuple of str
        Rules that no ground could keep, each with what is kept: ``"from water (45 m instead of 61 m)"``.
    """

    row: int
    col: int
    east_m: float
    north_m: float
    broken: tuple[str, ...]


def choose(around: Surroundings, allowed: MaskArray, rules: tuple[Rule, ...], cost: DoubleArray) -> Choice | None:
    """The cheapest allowed cell that keeps every rule, or as many of the first ones as can be kept.

    Parameters
    ----------
    around : Surroundings
    allowed : bool array
        Cells out of the question are False, whatever the rules.
    rules : tuple of Rule
        The gravest first: one that can't be kept along with those before it is kept as nearly as can be.
    cost : float64 array
        What makes one cell worse than another.

    Returns
    -------
    Choice or None
        None where nothing is allowed.
    """
    if not allowed.any():
        return None
    left, broken = allowed, []
    for rule in rules:
        kept = left & rule.keeps()
        if kept.any():
            left = kept
            continue
        short_m = np.maximum(rule.least_m - rule.distance_m, rule.distance_m - rule.most_m)
        least_short_m = float(np.min(short_m[left]))
        left = left & (short_m <= least_short_m + around.grid.ground_cell_m / 2.0)
        broken.append(rule)
    index = int(np.argmin(np.where(left, cost, np.inf)))
    row, col = divmod(index, around.grid.cols)
    return Choice(
        row=row,
        col=col,
        east_m=float(around.east_m[row, col]),
        north_m=float(around.north_m[row, col]),
        broken=tuple(_told(rule, float(rule.distance_m[row, col])) for rule in broken),
    )


def _told(rule: Rule, distance_m: float) -> str:
    asked_m = rule.least_m if distance_m < rule.least_m else rule.most_m
    return f"{rule.text} ({distance_m:.0f} m instead of {asked_m:.0f} m)"
