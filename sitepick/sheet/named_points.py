"""The named points of tonight's route, as every output tells them."""

from __future__ import annotations

from dataclasses import dataclass

from sitepick.tonight import Tonight


@dataclass(frozen=True, slots=True, kw_only=True)
class NamedPoint:
    """A point of the route that carries a name.

    Attributes
    ----------
    number : int
        Among all points of the route, from 1.
    name : str
    lon_deg, lat_deg, east_m, north_m : float
    mgrs : str
        To 1 m.
    """

    number: int
    name: str
    lon_deg: float
    lat_deg: float
    east_m: float
    north_m: float
    mgrs: str


def named_points(answer: Tonight) -> tuple[NamedPoint, ...]:
    """The route's named points in the order in which it leads by them."""
    route, grid = answer.plan.route, answer.ground.grid
    found = []
    for number, ((lon, lat), name) in enumerate(zip(route.points, route.names_by_point, strict=True), start=1):
        if name is not None:
            east_m, north_m = (round(float(value), 2) for value in grid.from_lonlat(lon, lat))
            found.append(
                NamedPoint(
                    number=number, name=name, lon_deg=lon, lat_deg=lat, east_m=east_m, north_m=north_m,
                    mgrs=grid.mgrs(east_m, north_m),
                )
            )  # fmt: skip
    return tuple(found)
