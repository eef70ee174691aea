"""The legs that the march falls into, and what each crosses."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta
from itertools import pairwise

import numpy as np

from sitepick.caution import Caution
from sitepick.grid import MaskArray
from sitepick.march.clock import DayClock
from sitepick.march.going import Going
from sitepick.march.model import Leg
from sitepick.march.route import Progress, Stations, climb_and_descent
from sitepick.terrain.model import Terrain

START, END, REACH_END = "Start", "Route's end", "End of reach"


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Way:
    """The route with the unit's progress on it and what it crosses."""

    stations: Stations
    progress: Progress
    going: Going
    terrain: Terrain

    def distance_m(self, moving_min: float) -> float:
        """How far along the route the unit is after so many minutes on the move."""
        count = self.progress.passable_count
        return float(np.interp(moving_min, self.progress.moving_min[:count], self.stations.distance_m[:count]))


def make_legs(way: Way, clock: DayClock) -> tuple[Leg, ...]:
    """The legs between the route's points, as far as the unit gets at likely pace."""
    stations, progress = way.stations, way.progress
    last = progress.passable_count - 1
    end_min = min(clock.moving_min, float(progress.moving_min[last]))
    point_count = len(stations.point_index)
    names = [START, *(f"Point {number}" for number in range(2, point_count)), END]
    legs = []
    for number, (first, past) in enumerate(pairwise(stations.point_index)):
        if first == past:
            continue
        if first > last or progress.moving_min[first] >= end_min:
            break
        is_whole = past <= last and progress.moving_min[past] <= end_min
        legs.append(
            _leg(
                way,
                clock,
                names=(names[number], names[number + 1] if is_whole else REACH_END),
                first=first,
                until_min=float(progress.moving_min[past]) if is_whole else end_min,
            )
        )
    return tuple(legs)


def _leg(way: Way, clock: DayClock, *, names: tuple[str, str], first: int, until_min: float) -> Leg:
    stations, progress = way.stations, way.progress
    moving_min = progress.moving_min
    inside = np.flatnonzero(moving_min[: progress.passable_count] <= until_min)
    span = slice(first, int(inside[-1]) + 1)
    end_m = way.distance_m(until_min)
    end_height_m = np.interp(
        end_m, stations.distance_m[: progress.passable_count], progress.height_m[: progress.passable_count]
    )
    climb_m, descent_m = climb_and_descent(np.append(progress.height_m[span], end_height_m))
    return Leg(
        start_name=names[0],
        end_name=names[1],
        depart=clock.depart + timedelta(minutes=clock.halt_rule.elapsed_min(float(moving_min[first]))),
        arrive=clock.depart + timedelta(minutes=clock.halt_rule.elapsed_min(until_min)),
        distance_m=end_m - float(stations.distance_m[first]),
        climb_m=climb_m,
        descent_m=descent_m,
        cautions=_cautions(way, span),
    )


def _cautions(way: Way, span: slice) -> tuple[Caution, ...]:
    row, col = way.stations.row[span], way.stations.col[span]
    distance_m = way.stations.distance_m[span]
    going, terrain = way.going, way.terrain

    def told(kind: str, mask: MaskArray, text: str) -> list[Caution]:
        hit = np.flatnonzero(mask[row, col])
        if not hit.size:
            return []
        place = f"{float(distance_m[hit[0]]) / 1000.0:.1f} km"
        return [Caution(kind=kind, text=text.format(f"{place} from the start"), place=place)]

    return (
        *told(
            "ice", going.is_ice,
            "The route crosses ice {}: measure it on the spot before anyone steps on it; inlets, outlets and narrows "
            "are weak, and white ice counts half.",
        ),
        *told("water", going.is_stream, "The route crosses a stream {}: look for thin ice, open water and banks."),
        *told("water", going.is_bridge, "The route crosses water on a mapped track {}: see that the bridge stands."),
        *told(
            "avalanche", terrain.is_avalanche_release | terrain.is_avalanche_runout,
            "The route crosses ground that an avalanche can reach {}: heed the bulletin, and go one by one or around.",
        ),
    )  # fmt: skip
