"""A trainee's layout on the ground: what each thing is, where it stands, how far it lies from others and from water."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass

import numpy as np

from sitepick.camp.model import FACILITY_KINDS
from sitepick.exercise.standard import Standard
from sitepick.grid import DoubleArray
from sitepick.plan.exercise import PlacedThing
from sitepick.plan.shelter import Shelter
from sitepick.terrain.model import NO_WATER

_LOOK_M = 400.0  # more than any distance from water that is asked for
_NUMBER = re.compile(r"[\s_,.#-]*\d+\D*$")
_KIND_BY_WORD = {word.casefold(): key for key, name in FACILITY_KINDS for word in (key, name, key.replace("_", " "))}
_KIND_BY_WORD |= {"water": "drinking_water", "snow": "snow_for_water", "sleds": "sled_park", "wash": "washing"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """One thing of a layout.

    Attributes
    ----------
    kind, name : str
        ``"shelter"`` or out of `camp.model.FACILITY_KINDS`; as told to people.
    east_m, north_m : float
        Grid coordinates.
    door_deg : float or None
    shelter : Shelter or None
        None for everything else.
    """

    kind: str
    name: str
    east_m: float
    north_m: float
    door_deg: float | None
    shelter: Shelter | None


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Layout:
    """All of it, with the ground round it.

    Attributes
    ----------
    standard : Standard
    things : tuple of Standing
    not_known : tuple of str
        Names that belong to no shelter of the unit and to no kind of facility.
    off_ground : tuple of str
        Things outside the ground that was read.
    water_m : float64 array of shape (n, 2)
        Middles of the cells of any water near it, grid coordinates.
    """

    standard: Standard
    things: tuple[Standing, ...]
    not_known: tuple[str, ...]
    off_ground: tuple[str, ...]
    water_m: DoubleArray

    @property
    def shelters(self) -> tuple[Standing, ...]:
        """The shelters among them."""
        return tuple(one for one in self.things if one.shelter is not None)

    def of_kind(self, *kinds: str) -> tuple[Standing, ...]:
        """Those of some kinds."""
        return tuple(one for one in self.things if one.kind in kinds)

    @property
    def centre_m(self) -> tuple[float, float]:
        """The middle of the shelters; there must be one."""
        middle = np.mean([(one.east_m, one.north_m) for one in self.shelters], axis=0)
        return float(middle[0]), float(middle[1])

    def apart_m(self, one: Standing, other: Standing) -> float:
        """Between two things, on the ground."""
        return self.ground_m(one.east_m - other.east_m, one.north_m - other.north_m)

    def ground_m(self, east_m: float, north_m: float) -> float:
        """Length on the ground of a step in grid coordinates."""
        grid = self.standard.answer.ground.grid
        return math.hypot(east_m, north_m) * grid.ground_cell_m / grid.cell_m

    def from_water_m(self, one: Standing) -> float:
        """From the nearest edge of any water; infinite where none is near."""
        if not len(self.water_m):
            return math.inf
        half_m = self.standard.answer.ground.grid.cell_m / 2.0
        beyond = np.maximum(np.abs(self.water_m - (one.east_m, one.north_m)) - half_m, 0.0)
        nearest = beyond[int(np.argmin(np.einsum("ij,ij->i", beyond, beyond)))]
        return self.ground_m(float(nearest[0]), float(nearest[1]))


def read_layout(standard: Standard, placed: tuple[PlacedThing, ...]) -> Layout:
    """Find out what each thing of a trainee's layout is, and where.

    Parameters
    ----------
    standard : Standard
    placed : tuple of PlacedThing
    """
    grid = standard.answer.ground.grid
    shelters = {shelter.name.casefold(): shelter for shelter in standard.answer.plan.unit.shelters}
    things, not_known, off_ground = [], [], []
    for one in placed:
        word = " ".join(one.what.split())
        shelter = shelters.get(word.casefold())
        kind = "shelter" if shelter is not None else _kind_of(word)
        east, north = (float(value) for value in grid.from_lonlat(*one.place))
        if kind is None:
            not_known.append(word)
        elif not grid.contains(east, north):
            off_ground.append(word)
        else:
            things.append(
                Standing(kind=kind, name=word, east_m=east, north_m=north, door_deg=one.door_deg, shelter=shelter)
            )
    return Layout(
        standard=standard,
        things=tuple(things),
        not_known=tuple(not_known),
        off_ground=tuple(off_ground),
        water_m=_water_near(standard, things),
    )


def _kind_of(word: str) -> str | None:
    """The kind of facility that a word names, with or without a number after it."""
    bare = _NUMBER.sub("", word).strip()
    return _KIND_BY_WORD.get(word.casefold()) or _KIND_BY_WORD.get(bare.casefold())


def _water_near(standard: Standard, things: list[Standing]) -> DoubleArray:
    if not things:
        return np.empty((0, 2))
    grid = standard.answer.ground.grid
    reach = math.ceil(_LOOK_M / grid.ground_cell_m)
    cells = np.array([grid.cell_at(one.east_m, one.north_m) for one in things])
    top, left = np.maximum(cells.min(axis=0) - reach, 0)
    bottom, right = cells.max(axis=0) + reach + 1
    rows, cols = np.nonzero(standard.answer.terrain.water_kind[top:bottom, left:right] != NO_WATER)
    east, north = grid.cell_centre_m(rows + top, cols + left)
    return np.column_stack((east, north))
