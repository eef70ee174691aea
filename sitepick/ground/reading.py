"""Reading the ground: every file of the plan, onto one grid, with what is doubtful about it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np

from sitepick.errors import GroundError
from sitepick.grid import FloatArray, Grid
from sitepick.ground.align import Findings, codes_on_grid, heights_on_grid
from sitepick.ground.cover import check_legend, classified
from sitepick.ground.doubt import file_cautions, ground_cautions
from sitepick.ground.fault import Fault, raise_faults
from sitepick.ground.legend import read_legend, with_evergreen_share
from sitepick.ground.local_file import gdal_environment
from sitepick.ground.marked import closed_shapes
from sitepick.ground.mistaken import cover_given_as_elevation
from sitepick.ground.model import FileFacts, Ground, Legend
from sitepick.ground.raster import CANOPY_HEIGHT, COVER, ELEVATION, RasterFile, inspect_raster
from sitepick.ground.tell import raster_sentence
from sitepick.ground.vector import Geometries, lines_of, marked_areas, mask_of, read_shapes
from sitepick.ground.window import GroundWindow, ground_window
from sitepick.plan.model import GroundSource, Plan, Route
from sitepick.work import Watch

CELL_M = 10.0
FINE_CELL_M = 5.0
FINE_SOURCE_M = 5.05  # "5 m or finer", with room for a projection's scale
CELL_COUNT_MAX = 64_000_000


@dataclass(frozen=True, slots=True, kw_only=True)
class _Sources:
    """The plan's files, opened and found fit."""

    elevation: tuple[RasterFile, ...]
    cover: tuple[RasterFile, ...]
    canopy_height: tuple[RasterFile, ...]
    legend: Legend


@dataclass(frozen=True, slots=True, kw_only=True)
class _Lines:
    """Vector files, carried into the grid's coordinates."""

    streams: Geometries
    tracks: Geometries
    no_go: Geometries


def read_ground(plan: Plan, *, watch: Watch | None = None, window: GroundWindow | None = None) -> Ground:
    """Read the ground that a plan's route needs.

    Parameters
    ----------
    plan : Plan
    watch : Watch, optional
        Progress and stopping.
    window : GroundWindow, optional
        Which ground; what the route needs if not told.

    Returns
    -------
    Ground
        Cut to where there are heights.

    Raises
    ------
    GroundError
        Files that will not serve, or that miss each other or the route; all faults are told.
    JobStopped
        The watch was stopped.
    """
    watch = watch or Watch()
    window = window or ground_window(plan.route)
    watch.tick("opening the ground's files")
    with gdal_environment():
        sources = _open_sources(plan.ground)
        grid = _grid(window, sources)
        findings = Findings()
        elevation_m = heights_on_grid(sources.elevation, grid, findings, watch=watch)
        raise_faults(findings.faults)
        grid, elevation_m = _cut(grid, elevation_m, sources)
        _check_route(plan.route, grid, elevation_m)
        codes = codes_on_grid(sources.cover, grid, findings, watch=watch)
        canopy_m = None
        if sources.canopy_height:
            canopy_m = heights_on_grid(sources.canopy_height, grid, findings, watch=watch)
    lines = _read_lines(plan, grid, findings.faults, watch)
    raise_faults(findings.faults)
    check_legend(codes, sources.legend, sources.cover)
    legend = with_evergreen_share(sources.legend, plan.ground.evergreen_of_forest_frac)
    cover_index, cover_cautions = classified(codes, legend)
    ground = Ground(
        grid=grid,
        elevation_m=elevation_m,
        cover_index=cover_index,
        legend=legend,
        canopy_height_m=canopy_m,
        is_stream=mask_of(lines.streams, grid),
        is_track=mask_of(lines.tracks, grid),
        is_no_go=mask_of(lines.no_go, grid),
        stream_lines=lines_of(lines.streams),
        track_lines=lines_of(lines.tracks),
        elevation_kind=_elevation_kind(plan.ground, sources.elevation),
        source_cell_m=max(file.coarsest_cell_m for file in sources.elevation),
        files=_facts(sources, plan.ground),
    )
    cautions = (
        *file_cautions((*sources.elevation, *sources.cover, *sources.canopy_height), findings),
        *cover_cautions,
        *ground_cautions(ground, sources.cover, plan.route),
    )
    return replace(ground, cautions=cautions)


def _open_sources(source: GroundSource) -> _Sources:
    """Every raster and the legend, or everything that is wrong with any of them."""
    faults: list[Fault] = []

    def opened(paths: Sequence[Path], role: str, unit: str | None = None) -> tuple[RasterFile, ...]:
        files = []
        for path in dict.fromkeys(paths):
            file, found = inspect_raster(path, role, unit=unit)
            faults.extend(found)
            if file is not None:
                files.append(file)
        return tuple(files)

    elevation = opened(source.elevation, ELEVATION, source.elevation_unit)
    cover = opened(source.cover, COVER)
    canopy_height = opened(source.canopy_height, CANOPY_HEIGHT)
    legend = Legend(name="", title="", classes=())
    try:
        legend = read_legend(source.legend)
    except GroundError as fault:
        faults.append(Fault(where=fault.where or "legend", what=fault.what, fix=fault.fix))
    raise_faults(faults or cover_given_as_elevation(elevation, cover))
    return _Sources(elevation=elevation, cover=cover, canopy_height=canopy_height, legend=legend)


def _grid(window: GroundWindow, sources: _Sources) -> Grid:
    width_m, height_m = window.east_m - window.west_m, window.north_m - window.south_m
    is_fine = all(file.coarsest_cell_m <= FINE_SOURCE_M for file in (*sources.elevation, *sources.cover))
    cell_m = FINE_CELL_M if is_fine and width_m * height_m / FINE_CELL_M**2 <= CELL_COUNT_MAX else CELL_M
    if width_m * height_m / cell_m**2 > CELL_COUNT_MAX:
        raise GroundError(
            f"the route needs {width_m / 1000:.0f} x {height_m / 1000:.0f} km of ground, too much to work on at once",
            fix="shorten the route to the days ahead",
        )
    return Grid(
        crs=window.crs,
        west_m=window.west_m,
        north_m=window.north_m,
        cell_m=cell_m,
        rows=round(height_m / cell_m),
        cols=round(width_m / cell_m),
    )


def _cut(grid: Grid, elevation_m: FloatArray, sources: _Sources) -> tuple[Grid, FloatArray]:
    """The grid and its heights, cut to the smallest window that holds every known height."""
    known = np.isfinite(elevation_m)
    rows, cols = np.flatnonzero(known.any(axis=1)), np.flatnonzero(known.any(axis=0))
    if len(rows) < 3 or len(cols) < 3:
        names = ", ".join(str(file.path) for file in sources.elevation)
        raise GroundError(
            "there is no known height on the ground around the route: the files lie elsewhere, hold no data there, "
            "or hold heights in another unit",
            where=names,
            fix="name elevation files that cover the route, and check elevation_unit",
        )
    top, past_bottom, left, past_right = int(rows[0]), int(rows[-1]) + 1, int(cols[0]), int(cols[-1]) + 1
    cut = Grid(
        crs=grid.crs,
        west_m=grid.west_m + left * grid.cell_m,
        north_m=grid.north_m - top * grid.cell_m,
        cell_m=grid.cell_m,
        rows=past_bottom - top,
        cols=past_right - left,
    )
    return cut, np.ascontiguousarray(elevation_m[top:past_bottom, left:past_right])


def _check_route(route: Route, grid: Grid, elevation_m: FloatArray) -> None:
    lon, lat = route.points[0]
    east_m, north_m = grid.from_lonlat(lon, lat)
    row, col = grid.cell_at(float(east_m), float(north_m))
    is_inside = 0 <= row < grid.rows and 0 <= col < grid.cols
    if not is_inside or not np.isfinite(elevation_m[row, col]):
        raise GroundError(
            f"the route {route.name!r} starts at longitude {lon:.5f}, latitude {lat:.5f}, where no height is known",
            fix="move its start, or add the elevation file that covers it",
        )


def _read_lines(plan: Plan, grid: Grid, faults: list[Fault], watch: Watch) -> _Lines:
    def shapes(paths: Sequence[Path], step: str) -> Geometries:
        found: list[Geometries] = [np.empty(0, dtype=object)]
        for path in dict.fromkeys(paths):
            watch.tick(step)
            here, wrong = read_shapes(path, grid)
            faults.extend(wrong)
            found.append(here)
        return np.concatenate(found)

    marked = marked_areas(plan.areas, grid)
    return _Lines(
        streams=shapes(plan.ground.streams, "reading streams"),
        tracks=shapes(plan.ground.tracks, "reading tracks"),
        no_go=np.concatenate([shapes(plan.ground.no_go, "reading no-go ground"), marked, closed_shapes(plan, grid)]),
    )


def _elevation_kind(source: GroundSource, files: Sequence[RasterFile]) -> str:
    if source.elevation_kind != "unknown":
        return source.elevation_kind
    kinds = {file.declared_kind for file in files}
    return kinds.pop() if len(kinds) == 1 else "unknown"


def _facts(sources: _Sources, source: GroundSource) -> tuple[FileFacts, ...]:
    rasters = [
        FileFacts(path=str(file.path), role=file.role, text=raster_sentence(file))
        for file in (*sources.elevation, *sources.cover, *sources.canopy_height)
    ]
    vectors = [
        FileFacts(path=str(path), role=role, text=f"{path.name}: {role}.")
        for role, paths in (("streams", source.streams), ("tracks", source.tracks), ("no-go", source.no_go))
        for path in paths
    ]
    return (*rasters, *vectors)
