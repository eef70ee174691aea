"""Who may look at a camp: people on mapped tracks and roads, those who follow the unit's route, marked observers."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from sitepick.caution import Caution
from sitepick.grid import DoubleArray
from sitepick.ground.model import Ground
from sitepick.plan.model import Plan

OBSERVER_STEP_M = 250.0  # ours: between two who look from a track

CellsArray = npt.NDArray[np.int64]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Lookers:
    """Places somebody looks from, each once.

    Attributes
    ----------
    cell : int64 array of shape (n, 2)
        Row and column, in that order of them.
    eye_m : float64 array of shape (n,)
        Height of the eyes over the ground.
    share : float64 array of shape (n,)
        How much each counts, 1 in all.
    """

    cell: CellsArray
    eye_m: DoubleArray
    share: DoubleArray


def who_looks(plan: Plan, ground: Ground, eye_m: float) -> Lookers:
    """People all along tracks and roads, those all along the route, and each marked observer: all alike.

    Parameters
    ----------
    plan : Plan
        Its route and its observers, who look from their own height.
    ground : Ground
    eye_m : float
        Height of the eyes of people on tracks and on the route.

    Returns
    -------
    Lookers
        Of one who stands outside the ground or on ground of unknown height nothing is told; nobody, if all do.

    Notes
    -----
    All the tracks together count as much as the whole route and as each marked observer (ours): one watcher among
    a hundred places of a long road would count next to nothing else.
    """
    groups = [(observers_on_tracks(ground), eye_m), (observers_on_route(plan, ground), eye_m)]
    groups += [(_on_grid(ground, observer.place), observer.eye_m) for observer in plan.observers]
    return _together([(_known_cells(ground, places_m), height_m) for places_m, height_m in groups])


def lookers_at(ground: Ground, places_m: DoubleArray, eye_m: float) -> Lookers:
    """People at given places, all of one height; those outside the ground or on unknown heights left out."""
    return _together([(_known_cells(ground, places_m), eye_m)])


def observer_cautions(plan: Plan, ground: Ground) -> tuple[Caution, ...]:
    """Marked observers who can't be reckoned with: who stand off the ground, or where its height isn't known.

    Parameters
    ----------
    plan : Plan
    ground : Ground
    """
    told = []
    grid = ground.grid
    for observer in plan.observers:
        east_m, north_m = _on_grid(ground, observer.place)[0]
        if not grid.contains(east_m, north_m):
            past_m = (
                max(grid.west_m - east_m, east_m - grid.west_m - grid.cols * grid.cell_m, 0.0),
                max(north_m - grid.north_m, grid.north_m - grid.rows * grid.cell_m - north_m, 0.0),
            )
            away_km = math.hypot(*past_m) * grid.ground_cell_m / grid.cell_m / 1000.0
            where = f"stands {away_km:.1f} km off the ground that was read"
        elif np.isnan(ground.elevation_m[grid.cell_at(east_m, north_m)]):
            where = "stands where the height of the ground is not known"
        else:
            continue
        told.append(
            Caution(
                kind="data",
                text=f"The marked observer {observer.name!r} {where}: what can be seen from there is not counted. "
                "Move the mark to where they are nearest to the route, or look at the site from there yourself.",
            )
        )
    return tuple(told)


def _together(groups: list[tuple[CellsArray, float]]) -> Lookers:
    groups = [(cells, eye_m) for cells, eye_m in groups if len(cells)]
    shares: dict[tuple[int, int, float], float] = {}
    for cells, eye_m in groups:
        for row, col in cells.tolist():
            place = (row, col, eye_m)
            shares[place] = shares.get(place, 0.0) + 1.0 / (len(groups) * len(cells))
    found = sorted(shares)
    return Lookers(
        cell=np.array([place[:2] for place in found], np.int64).reshape(-1, 2),
        eye_m=np.array([place[2] for place in found], float),
        share=np.array([shares[place] for place in found], float),
    )


def _known_cells(ground: Ground, places_m: DoubleArray) -> CellsArray:
    """Cells that somebody looks from, each once: where tracks meet, nobody counts twice."""
    grid = ground.grid
    inside = [grid.cell_at(*place) for place in places_m.tolist() if grid.contains(*place)]
    known = [cell for cell in inside if not np.isnan(ground.elevation_m[cell])]
    return np.array(sorted(set(known)), np.int64).reshape(-1, 2)


def observers_on_tracks(ground: Ground) -> DoubleArray:
    """Places along the mapped tracks and roads, every 250 m, that somebody may look from.

    Parameters
    ----------
    ground : Ground

    Returns
    -------
    float64 array of shape (n, 2)
        ``(east_m, north_m)``; none where no track is mapped.
    """
    return places_along(ground.track_lines, _step_m(ground))


def observers_on_route(plan: Plan, ground: Ground) -> DoubleArray:
    """Places along the unit's route, every 250 m, that somebody may look from; shape and meaning as on tracks."""
    return places_along([_on_grid(ground, *plan.route.points)], _step_m(ground))


def places_along(lines: Iterable[DoubleArray], step_m: float) -> DoubleArray:
    """Even places along lines, both ends included, no farther apart than a step.

    Parameters
    ----------
    lines : iterable of float64 arrays of shape (n, 2)
        ``(east_m, north_m)``.
    step_m : float
        In the lines' own metres, > 0.

    Returns
    -------
    float64 array of shape (n, 2)
    """
    places = [np.empty((0, 2))]
    for line in lines:
        way_m = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(line, axis=0).T))])
        at_m = np.linspace(0.0, way_m[-1], 1 + math.ceil(way_m[-1] / step_m - 1e-9))
        places.append(np.column_stack([np.interp(at_m, way_m, line[:, axis]) for axis in (0, 1)]))
    return np.concatenate(places)


def _step_m(ground: Ground) -> float:
    return OBSERVER_STEP_M * ground.grid.cell_m / ground.grid.ground_cell_m


def _on_grid(ground: Ground, *places: tuple[float, float]) -> DoubleArray:
    lon_deg, lat_deg = np.array(places, float).T
    return np.column_stack(ground.grid.from_lonlat(lon_deg, lat_deg))
