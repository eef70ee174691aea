"""What is doubtful about the ground, in whole sentences."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from sitepick.caution import Caution
from sitepick.ground.align import Findings
from sitepick.ground.model import Ground
from sitepick.ground.raster import RasterFile
from sitepick.plan.model import Route

UNKNOWN_TOLD_FROM = 0.001
COARSER_TOLD_FROM = 1.2  # source cells per grid cell
ROUTE_STEP_M = 50.0


def file_cautions(files: Sequence[RasterFile], findings: Findings) -> Iterator[Caution]:
    """What the files themselves leave open."""
    for file in files:
        yield from file.cautions
    for (name, value), count in sorted(findings.undeclared.items()):
        yield Caution(
            kind="data",
            text=(
                f"{name} holds {value:g} and the like in {count} cells without declaring it as no data; "
                "that ground counts as unknown."
            ),
        )


def ground_cautions(ground: Ground, cover: Sequence[RasterFile], route: Route) -> Iterator[Caution]:
    """What the ground as a whole leaves open."""
    cell_m = ground.grid.ground_cell_m
    for name, source_m in (
        ("The heights", ground.source_cell_m),
        ("The land-cover classes", max(file.coarsest_cell_m for file in cover)),
    ):
        if source_m > COARSER_TOLD_FROM * cell_m:
            yield Caution(
                kind="data",
                text=(
                    f"{name} come from cells of {source_m:.0f} m, resampled to {cell_m:.0f} m; "
                    "smaller things don't show, go and look."
                ),
            )
    for name, known in (
        ("height", np.isfinite(ground.elevation_m)),
        ("land cover", ground.cover_index >= 0),
    ):
        share = 1.0 - float(np.count_nonzero(known)) / known.size
        if share >= UNKNOWN_TOLD_FROM:
            text = f"The {name} of {_percent(share)} of the ground is not known; nothing is picked there."
            yield Caution(kind="data", text=text)
    share = _route_outside_frac(ground, route)
    if share > 0.0:
        text = f"{_percent(share)} of the route lies where no height is known; the march is not worked out there."
        yield Caution(kind="data", text=text)


def _route_outside_frac(ground: Ground, route: Route) -> float:
    """Share of the route's length without a known height."""
    grid = ground.grid
    lon_deg, lat_deg = np.array(route.points, dtype=float).T
    east_m, north_m = grid.from_lonlat(lon_deg, lat_deg)
    along_m = np.concatenate([[0.0], np.cumsum(np.hypot(np.diff(east_m), np.diff(north_m)))])
    places = np.linspace(0.0, along_m[-1], max(2, int(along_m[-1] / ROUTE_STEP_M)))
    row = np.floor((grid.north_m - np.interp(places, along_m, north_m)) / grid.cell_m).astype(int)
    col = np.floor((np.interp(places, along_m, east_m) - grid.west_m) / grid.cell_m).astype(int)
    is_inside = (row >= 0) & (row < grid.rows) & (col >= 0) & (col < grid.cols)
    known = np.zeros(len(places), dtype=bool)
    known[is_inside] = np.isfinite(ground.elevation_m[row[is_inside], col[is_inside]])
    return 1.0 - float(known.mean())


def _percent(share: float) -> str:
    return f"{100 * share:.0f} %" if share >= 0.01 else "under 1 %"
