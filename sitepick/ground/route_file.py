"""Routes out of a file (GPX, GeoJSON, GeoPackage, KML), cleaned, with the named points that lie on them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path

import numpy as np
import shapely
from pyproj import Geod

from sitepick.caution import Caution
from sitepick.errors import GroundError
from sitepick.grid import DoubleArray, Grid, MaskArray, metric_crs
from sitepick.ground.fault import raise_faults
from sitepick.ground.gpx_file import is_gpx, read_gpx
from sitepick.ground.line_file import read_line_file
from sitepick.ground.local_file import file_faults
from sitepick.ground.raw_line import RawFile, RawLine, RawPlace
from sitepick.ground.route_clean import clean_line, joined
from sitepick.plan.model import Route

LINES_MAX = 12  # a file with more is a map, not a choice of routes
NEAR_M = 100.0  # a named point so near to the line lies on the route
AT_POINT_M = 10.0  # and so near to one of its points names that one
LEAST_M = 1.0  # a shorter line leads nowhere
GAP_M = 200.0  # a wider gap between two parts is a caution

_GLOBE = Geod(ellps="WGS84")


@dataclass(frozen=True, slots=True, kw_only=True)
class RouteFile:
    """The routes of a file.

    Attributes
    ----------
    routes : tuple of Route
        At least one. The first is the one to march; GPX routes come before tracks, then the file's order.
    notes : tuple of str
        What was read, left out and named, a sentence each.
    cautions : tuple of Caution
    """

    routes: tuple[Route, ...]
    notes: tuple[str, ...] = ()
    cautions: tuple[Caution, ...] = ()


def read_route(path: str | Path) -> Route:
    """Read the first route of a file; as `read_routes`."""
    return read_routes(path).routes[0]


def read_routes(path: str | Path) -> RouteFile:
    """Read the lines of a file as routes.

    Parameters
    ----------
    path : str or Path
        A local file of lines. The parts of a line in several parts are joined. Points are left out as
        `route_clean` tells; named points near a line become named points of it.

    Returns
    -------
    RouteFile

    Raises
    ------
    GroundError
        The file is missing, is no file of lines, or holds none that can be marched.
    """
    path = Path(path)
    raise_faults(file_faults(path))
    raw = read_gpx(path) if is_gpx(path) else read_line_file(path, LINES_MAX)
    if not raw.lines:
        raise _no_line(path, raw)
    routes: list[Route] = []
    notes: list[str] = []
    cautions = list(raw.cautions)
    refused: list[GroundError] = []
    near: set[int] = set()
    for line in raw.lines[:LINES_MAX]:
        try:
            read = _read_line(path, line, [route.name for route in routes])
        except GroundError as fault:
            refused.append(fault)
            continue
        near |= {index for index, place in enumerate(raw.places) if read.stops.take(place)}
        route = read.route()
        routes.append(route)
        notes += read.notes(route)
        cautions += read.cautions
    if not routes:
        raise refused[0]
    notes = [*_choice(raw, routes, len(refused)), *notes, *_far(len(raw.places) - len(near))]
    return RouteFile(routes=tuple(routes), notes=tuple(notes), cautions=tuple(cautions))


def _no_line(path: Path, raw: RawFile) -> GroundError:
    if raw.places:
        count = len(raw.places)
        what = f"there is no line in it, only {count} named point{'s' * (count != 1)}"
        return GroundError(what, where=str(path), fix="export the route or track itself, or draw it on the desk")
    return GroundError("there is no line in it", where=str(path), fix="name a file with a route or a track")


def _choice(raw: RawFile, routes: Sequence[Route], refused_count: int) -> list[str]:
    """Which lines of the file were taken."""
    told = []
    if len(routes) > 1:
        others = joined([route.name for route in routes[1:]])
        kept = "kept as other routes" if len(routes) > 2 else "kept as another route"
        told.append(f"The file holds {raw.line_count:,} lines; {routes[0].name} is taken, {others} {kept}.")
    unread = raw.line_count - min(len(raw.lines), LINES_MAX)
    if unread > 0:
        told.append(f"The {unread:,} lines after the first {LINES_MAX} were not looked at.")
    if refused_count:
        told.append(
            f"{refused_count} {'lines that lead' if refused_count > 1 else 'line that leads'} nowhere left out."
        )
    return told


class _Stops:
    """The points of a route while named places are put among them."""

    def __init__(self, grid: Grid, points_m: DoubleArray, points: DoubleArray, names: list[str | None]) -> None:
        self._grid = grid
        self._points_m = points_m
        self.lonlat = [(float(lon), float(lat)) for lon, lat in points.round(6)]
        self.names = names

    def take(self, place: RawPlace) -> bool:
        """Name the point of the line nearest to a place, a new one where there is none; tells whether it lies near."""
        if not (abs(place.lon_deg) <= 180.0 and abs(place.lat_deg) <= 90.0):
            return False
        east_m, north_m = (float(value) for value in self._grid.from_lonlat(place.lon_deg, place.lat_deg))
        spot, line = shapely.Point(east_m, north_m), shapely.LineString(self._points_m)
        if not (np.isfinite([east_m, north_m]).all() and spot.distance(line) <= NEAR_M):
            return False
        foot = shapely.get_coordinates(line.interpolate(line.project(spot)))[0]
        off_m = np.hypot(*(self._points_m - foot).T)
        free = [index for index in np.argsort(off_m, kind="stable").tolist() if off_m[index] <= AT_POINT_M]
        free = [index for index in free if self.names[index] in (None, place.name)]
        if free:
            self.names[free[0]] = place.name
            return True
        along_m = np.concatenate(([0.0], np.cumsum(np.hypot(*np.diff(self._points_m, axis=0).T))))
        index = int(np.clip(np.searchsorted(along_m, line.project(spot), side="right"), 1, len(self.names) - 1))
        lon, lat = self._grid.to_lonlat(foot[0], foot[1])
        self._points_m = np.insert(self._points_m, index, foot, axis=0)
        self.lonlat.insert(index, (round(float(lon), 6), round(float(lat), 6)))
        self.names.insert(index, place.name)
        return True

    def sentence(self) -> str:
        """The names along the line; empty where there are none."""
        named = [name for name in self.names if name is not None]
        if not named:
            return ""
        shown = named if len(named) <= 8 else [*named[:7], f"{len(named) - 7} more"]
        return f"{len(named)} named point{'s' * (len(named) != 1)}: {joined(shown)}."


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Read:
    """One line of the file, cleaned."""

    name: str
    stops: _Stops
    told: tuple[str, ...]
    cautions: tuple[Caution, ...]

    def route(self) -> Route:
        return Route(name=self.name, points=tuple(self.stops.lonlat), point_names=tuple(self.stops.names))

    def notes(self, route: Route) -> list[str]:
        lon, lat = zip(*route.points, strict=True)
        length = f"{_GLOBE.line_length(lon, lat) / 1000.0:.1f} km, {len(route.points):,} points."
        return [f"{self.name}: {note}" for note in (length, *self.told, self.stops.sentence()) if note]


def _read_line(path: Path, line: RawLine, taken: Sequence[str]) -> _Read:
    is_place = _are_places(path, line.points)
    points = line.points[is_place]
    if len(points) < 2:
        what = f"its line has {'only one point' if len(points) == 1 else 'no point'}"
        raise GroundError(what, where=str(path), fix="name a file with a whole route")
    names = [name for name, held in zip(line.point_names, is_place, strict=True) if held]
    grid = Grid(
        crs=metric_crs(float(points[0, 0]), float(points[0, 1])), west_m=0.0, north_m=0.0, cell_m=1.0, rows=1, cols=1
    )
    points_m = np.column_stack(grid.from_lonlat(points[:, 0], points[:, 1]))
    if not np.isfinite(points_m).all():
        raise GroundError(
            "its line runs around half the globe", where=str(path), fix="check longitude and latitude of its points"
        )
    if np.ptp(points_m, axis=0).max() < LEAST_M:
        raise GroundError(
            "the line never leaves its first point", where=str(path), fix="name a file with a whole route"
        )
    cleaned = clean_line(points_m, line.seconds[is_place], np.array([name is not None for name in names]))
    name = _name_apart(line.name or path.stem, taken)
    return _Read(
        name=name,
        stops=_Stops(grid, points_m[cleaned.kept], points[cleaned.kept], [names[index] for index in cleaned.kept]),
        told=(_parts(line), _nonsense(len(is_place) - len(points)), cleaned.sentence()),
        cautions=(*_gaps(name, line, is_place, points_m), *_first_jump(name, points_m)),
    )


def _are_places(path: Path, points: DoubleArray) -> MaskArray:
    """Which points are places on the globe; figures in the wrong order are told."""
    lon, lat = points.T
    with np.errstate(invalid="ignore"):
        is_place = (np.abs(lon) <= 180.0) & (np.abs(lat) <= 90.0)
        is_swapped = (np.abs(lat) <= 180.0) & (np.abs(lon) <= 90.0) & ~is_place
    if is_swapped.sum() > 0.5 * len(points):
        raise GroundError(
            "longitude and latitude look swapped: most points have a latitude over 90°",
            where=str(path),
            fix="export the route again with longitude first",
        )
    return np.asarray(is_place)


def _name_apart(name: str, taken: Sequence[str]) -> str:
    """The name, or the name with a number where another route has it."""
    number, apart = 2, name
    while apart in taken:
        apart = f"{name} {number}"
        number += 1
    return apart


def _far(count: int) -> list[str]:
    if not count:
        return []
    return [f"{count} named point{'s' * (count != 1)} farther than {NEAR_M:.0f} m from every line left out."]


def _nonsense(count: int) -> str:
    return f"{count:,} point{'s' * (count != 1)} without a place on the globe left out." if count else ""


def _parts(line: RawLine) -> str:
    return f"Its {len(line.part_starts)} parts are joined in their order." if len(line.part_starts) > 1 else ""


def _gaps(name: str, line: RawLine, is_place: MaskArray, points_m: DoubleArray) -> list[Caution]:
    """Wide gaps between the parts, which the route crosses in a straight line that nobody recorded."""
    number = np.cumsum(is_place) - 1  # of each point of the file among those that are places
    told = []
    for part, (_, start) in enumerate(pairwise(line.part_starts), start=1):
        before, after = int(number[start - 1]), int(number[start - 1]) + 1
        if before < 0 or after >= len(points_m):
            continue
        gap_m = float(np.hypot(*(points_m[after] - points_m[before])))
        if gap_m > GAP_M:
            told.append(
                Caution(
                    kind="march",
                    text=f"{name}: between part {part} and part {part + 1} the file leaves {gap_m / 1000.0:.1f} km "
                    "open, which the route crosses in a straight line: draw the way there.",
                )
            )
    return told


def _first_jump(name: str, points_m: DoubleArray) -> list[Caution]:
    """A receiver switched on indoors often begins far off."""
    step_m = np.hypot(*np.diff(points_m[:12], axis=0).T)
    rest_m = float(step_m[1:].max()) if len(step_m) >= 6 else np.inf
    if step_m[0] > max(GAP_M, 10.0 * rest_m):
        return [
            Caution(
                kind="march",
                text=f"{name}: its first point lies {step_m[0] / 1000.0:.1f} km from the next, the others close "
                "together: see whether it belongs to the route.",
            )
        ]
    return []
