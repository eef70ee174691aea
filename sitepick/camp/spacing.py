"""How far shelters stand apart on the ground."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations

import numpy as np
from pyproj import Geod

from sitepick.camp.model import PlacedShelter
from sitepick.grid import Grid

_GLOBE = Geod(ellps="WGS84")


def least_distance_m(placed: Sequence[PlacedShelter], grid: Grid) -> float:
    """Least distance on the ground (geodesic, WGS 84) between two shelters that aren't joined; 0 where no two are."""
    pairs = [
        (k, n)
        for k, n in combinations(range(len(placed)), 2)
        if placed[k].touches != placed[n].shelter.name and placed[n].touches != placed[k].shelter.name
    ]
    if not pairs:
        return 0.0
    lon, lat = grid.to_lonlat([one.east_m for one in placed], [one.north_m for one in placed])
    one, other = (list(side) for side in zip(*pairs, strict=True))
    _, _, distance_m = _GLOBE.inv(lon[one], lat[one], lon[other], lat[other])
    return float(np.min(distance_m))
