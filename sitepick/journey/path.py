"""A drawn route as a line that can be cut anywhere."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sitepick.grid import DoubleArray, Grid, metric_crs
from sitepick.plan.model import LonLat, Route


def route_crs(route: Route) -> str:
    """One metric projection for a whole route: that of the middle of its bounds."""
    lon, lat = np.array(route.points, float).T
    lon = lon[0] + (lon - lon[0] + 180.0) % 360.0 - 180.0
    middle = ((lon.min() + lon.max()) / 2.0 + 180.0) % 360.0 - 180.0
    return metric_crs(float(middle), float((lat.min() + lat.max()) / 2.0))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Path:
    """A route in metres of a projection.

    Attributes
    ----------
    route : Route
    grid : Grid
        Of one cell: for its projection only.
    along_m : float64 array
        Metres of the projection from the start to each of the route's points.
    east_m, north_m : float64 arrays
    """

    route: Route
    grid: Grid
    along_m: DoubleArray
    east_m: DoubleArray
    north_m: DoubleArray

    @property
    def length_m(self) -> float:
        """In metres of the projection."""
        return float(self.along_m[-1])

    def cut(self, first_m: float, last_m: float, *, before: tuple[LonLat, ...] = ()) -> Route:
        """The stretch between two distances as a route of its own, with what leads up to it.

        Named points keep their names.
        """
        inner = np.flatnonzero((self.along_m > first_m + 0.5) & (self.along_m < last_m - 0.5))
        names = self.route.names_by_point
        points = [*before, self._place(first_m)]
        told: list[str | None] = [None] * len(points)
        points += [self.route.points[index] for index in inner]
        told += [names[index] for index in inner]
        points.append(self._place(last_m))
        told.append(names[-1] if last_m >= self.length_m - 0.5 else None)
        if not before and first_m <= 0.5:
            told[0] = names[0]
        return Route(name=self.route.name, points=tuple(points), point_names=tuple(told))

    def _place(self, along_m: float) -> LonLat:
        east_m = np.interp(along_m, self.along_m, self.east_m)
        north_m = np.interp(along_m, self.along_m, self.north_m)
        lon, lat = self.grid.to_lonlat(east_m, north_m)
        return round(float(lon), 7), round(float(lat), 7)


def path_of(route: Route) -> Path:
    """A route as a path in its own projection."""
    grid = Grid(crs=route_crs(route), west_m=0.0, north_m=0.0, cell_m=1.0, rows=1, cols=1)
    east_m, north_m = grid.from_lonlat(*np.array(route.points, float).T)
    steps = np.hypot(np.diff(east_m), np.diff(north_m))
    along_m = np.concatenate(([0.0], np.cumsum(steps)))
    return Path(route=route, grid=grid, along_m=along_m, east_m=east_m, north_m=north_m)
