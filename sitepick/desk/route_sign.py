"""The route as the map draws it: its points, the times there, the line up to the reach's end. No Qt."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import TYPE_CHECKING

import numpy as np

from sitepick.desk.translation import tr
from sitepick.desk.words import clock
from sitepick.grid import DoubleArray, Grid
from sitepick.plan.model import Plan, Route

if TYPE_CHECKING:
    from sitepick.march.model import March

LABELLED_POINTS_MAX = 20  # times at every point of a longer route would hide it


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class RouteSign:
    """The route as it is drawn.

    Attributes
    ----------
    points_m : float64 array of shape (n, 2)
        The points the person set; grid coordinates.
    labels : tuple of str
        Beside each point: its name, and the time where the unit gets there before camp-by. Of a recorded
        route only the named points and the ends have one.
    reached_m, beyond_m : float64 arrays of shape (n, 2)
        The line up to the reach's end and past it.
    selected : int or None
        The point in hand.
    turn_back_m : (east_m, north_m) or None
        The last place from which base is reached in time, with its word; None where that is the whole day's way.
    """

    points_m: DoubleArray
    labels: tuple[str, ...]
    reached_m: DoubleArray
    beyond_m: DoubleArray
    selected: int | None = None
    turn_back_m: tuple[float, float] | None = None
    turn_back_text: str = ""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ReachLines:
    """Where the reach ends at fast, likely and slow pace; grid coordinates."""

    early: tuple[DoubleArray, ...] = ()
    likely: tuple[DoubleArray, ...] = ()
    late: tuple[DoubleArray, ...] = ()


def route_sign(plan: Plan, grid: Grid, march: March | None, selected: int | None) -> RouteSign:
    """The route's line and the times beside its points.

    Parameters
    ----------
    plan : Plan
    grid : Grid
        The projection in use.
    march : March or None
        None, or a march along another route: no times, and no part of the line is past the reach.
    selected : int or None
        The point in hand.
    """
    points_m = np.column_stack(grid.from_lonlat(*zip(*plan.route.points, strict=True)))
    nothing = np.zeros((0, 2))
    if march is None:
        labels = tuple(name or "" for name in plan.route.names_by_point)
        return RouteSign(points_m=points_m, labels=labels, reached_m=points_m, beyond_m=nothing, selected=selected)
    is_reached = march.station_distance_m <= march.reach_along_route_m + 0.5
    last = int(np.flatnonzero(is_reached)[-1]) if is_reached.any() else 0
    return RouteSign(
        points_m=points_m,
        labels=_labels(plan.route, march, points_m, last),
        reached_m=march.route_m[: last + 1],
        beyond_m=march.route_m[last:],
        selected=selected,
        turn_back_m=_turn_back_m(march),
        turn_back_text="" if march.turn_back is None else tr("turn back {at}", at=clock(march.turn_back.at)),
    )


def _turn_back_m(march: March) -> tuple[float, float] | None:
    turn = march.turn_back
    if turn is None or turn.is_whole_day:
        return None
    east_m, north_m = march.route_m[turn.station].tolist()
    return east_m, north_m


def nearest_station(march: March, east_m: float, north_m: float) -> tuple[int, float]:
    """Station nearest to a point, and the distance to it in grid metres."""
    distance_m = np.hypot(march.route_m[:, 0] - east_m, march.route_m[:, 1] - north_m)
    index = int(np.argmin(distance_m))
    return index, float(distance_m[index])


def time_at_station(march: March, index: int) -> datetime | None:
    """When the unit is at a station; None past a wall."""
    moving_min = float(march.station_moving_min[index])
    if not np.isfinite(moving_min):
        return None
    return march.depart + timedelta(minutes=march.halt_rule.elapsed_min(moving_min))


def station_at(march: March, moment: datetime) -> tuple[float, float] | None:
    """Where on the route the unit is at a time; None before it leaves and after the route's end."""
    elapsed_min = (moment - march.depart).total_seconds() / 60.0
    known = np.isfinite(march.station_moving_min)
    if elapsed_min < 0.0 or not known.any():
        return None
    moving_min = march.halt_rule.moving_min(elapsed_min)
    stations = march.station_moving_min[known]
    if moving_min > stations[-1]:
        return None
    line_m = march.route_m[known]
    east_m = float(np.interp(moving_min, stations, line_m[:, 0]))
    return east_m, float(np.interp(moving_min, stations, line_m[:, 1]))


def _labels(route: Route, march: March, points_m: DoubleArray, last: int) -> tuple[str, ...]:
    labels = []
    station, end = 0, len(points_m) - 1
    for index, (point_m, name) in enumerate(zip(points_m, route.names_by_point, strict=True)):
        station = _station_from(march, station, point_m)
        is_told = name is not None or end < LABELLED_POINTS_MAX or index in (0, end)
        moment = time_at_station(march, station) if is_told and station <= last else None
        labels.append(" ".join(part for part in (name, clock(moment) if moment else "") if part))
    return tuple(labels)


def _station_from(march: March, first: int, point_m: DoubleArray) -> int:
    """The first station from another one on that stands at a point: a route may pass it again on the way back."""
    distance_m = np.hypot(*(march.route_m[first:] - point_m).T)
    return first + int(np.flatnonzero(distance_m <= distance_m.min() + 0.5)[0])
