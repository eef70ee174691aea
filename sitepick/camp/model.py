"""What the camp stage hands on: who goes where on the picked site."""

from __future__ import annotations

from dataclasses import dataclass

from sitepick.caution import Caution
from sitepick.plan.shelter import Shelter


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedShelter:
    """A shelter and its place.

    Attributes
    ----------
    shelter : Shelter
    east_m, north_m : float
        Middle, grid coordinates.
    door_bearing_deg : float
        True bearing that the door looks to.
    slope_deg : float
        Steepest cell under the footprint.
    """

    shelter: Shelter
    east_m: float
    north_m: float
    door_bearing_deg: float
    slope_deg: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Facility:
    """Something else a camp needs.

    Attributes
    ----------
    kind, name : str
    east_m, north_m : float
        Grid coordinates.
    """

    kind: str
    name: str
    east_m: float
    north_m: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Camp:
    """The camp laid out.

    Attributes
    ----------
    site_rank : int
        Rank of the site it lies on.
    site_name : str
    spacing_m, min_distance_m : float
        Asked for, and kept: least distance between the middles of two shelters, on the ground;
        `min_distance_m` is 0 for a single shelter.
    shelters : tuple of PlacedShelter
    missing : tuple of Shelter
        Those that found no place; empty when everyone fits.
    facilities : tuple of Facility
    entry_east_m, entry_north_m : float
        Where the way in meets the site, grid coordinates.
    cautions : tuple of Caution
    """

    site_rank: int
    site_name: str
    spacing_m: float
    min_distance_m: float
    shelters: tuple[PlacedShelter, ...]
    missing: tuple[Shelter, ...]
    facilities: tuple[Facility, ...]
    entry_east_m: float
    entry_north_m: float
    cautions: tuple[Caution, ...] = ()
