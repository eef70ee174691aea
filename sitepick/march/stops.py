"""Which of the route's points end a leg, and what they are called."""

from __future__ import annotations

from dataclasses import dataclass

from sitepick.march.route import Stations

START, END = "Start", "Route's end"
DRAWN_POINTS_MAX = 20  # a route with more came from a recording or a proposal: they are shape, not places
LEG_LEAST_M = 2000.0  # ours: at most so often a recording is cut into legs


@dataclass(frozen=True, slots=True, kw_only=True)
class Stop:
    """A point of the route that ends a leg.

    Attributes
    ----------
    station : int
    name : str
    """

    station: int
    name: str


def leg_stops(stations: Stations) -> tuple[Stop, ...]:
    """The points that legs run between, the route's ends among them.

    Every point of a route drawn by hand; of a longer one, recorded or proposed, the named points, or points some
    kilometres apart where none between the ends has a name.
    """
    last = len(stations.point_index) - 1
    chosen = list(range(1, last))
    if last >= DRAWN_POINTS_MAX:
        chosen = [number for number in chosen if stations.point_names[number] is not None] or _spaced(stations)
    usual = {0: START, last: END}
    return tuple(
        Stop(
            station=stations.point_index[number],
            name=stations.point_names[number] or usual.get(number, f"Point {number + 1}"),
        )
        for number in (0, *chosen, last)
    )


def _spaced(stations: Stations) -> list[int]:
    chosen: list[int] = []
    along_m = stations.distance_m[list(stations.point_index)].tolist()
    done_m = 0.0
    for number in range(1, len(along_m) - 1):
        if min(along_m[number] - done_m, along_m[-1] - along_m[number]) >= LEG_LEAST_M:
            chosen.append(number)
            done_m = along_m[number]
    return chosen
