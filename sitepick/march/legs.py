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
from sitepick.march.stops import leg_stops
from sitepick.terrain.model import RIVER, Terrain

REACH_END = "End of reach"


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

    def moving_min_at(self, distance_m: float) -> float | None:
        """Minutes on the move to a place along the route; None past where it can be followed."""
        count = self.progress.passable_count
        known_m = self.stations.distance_m[:count]
        if distance_m > known_m[-1] + 0.5:
            return None
        return float(np.interp(distance_m, known_m, self.progress.moving_min[:count]))


def make_legs(way: Way, clock: DayClock) -> tuple[Leg, ...]:
    """The legs between the route's stops, as far as the unit gets at likely pace."""
    stations, progress = way.stations, way.progress
    last = progress.passable_count - 1
    end_min = min(clock.moving_min, float(progress.moving_min[last]))
    legs = []
    for start, stop in pairwise(leg_stops(stations)):
        first, past = start.station, stop.station
        if first == past:
            continue
        if first > last or progress.moving_min[first] >= end_min:
            break
        is_whole = past <= last and progress.moving_min[past] <= end_min
        legs.append(
            _leg(
                way,
                clock,
                names=(start.name, stop.name if is_whole else REACH_END),
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
        cautions=(*_ice_cautions(way, first, span.stop), *_cautions(way, span)),
    )


def _cautions(way: Way, span: slice) -> tuple[Caution, ...]:
    row, col = way.stations.row[span], way.stations.col[span]
    distance_m = way.stations.distance_m[span]
    going, terrain = way.going, way.terrain

    def told(kind: str, mask: MaskArray, text: str) -> list[Caution]:
        begins_m = [float(distance_m[begin]) for begin, _ in stretches(mask[row, col])]
        places = dict.fromkeys(f"{begin_m / 1000.0:.1f} km" for begin_m in begins_m)
        return [Caution(kind=kind, text=text.format(f"{place} from the start"), place=place) for place in places]

    return (
        *told(
            "ice", going.is_ice & (terrain.water_kind == RIVER),
            "The route crosses a river on its ice {}: running water freezes unevenly, so a lake's measure doesn't "
            "hold; go round by a bridge if you can.",
        ),
        *told("water", going.is_stream, "The route crosses a stream {}: look for thin ice, open water and banks."),
        *told("water", going.is_bridge, "The route crosses water on a mapped track {}: see that the bridge stands."),
        *told(
            "avalanche", terrain.is_avalanche_release | terrain.is_avalanche_runout,
            "The route crosses ground that an avalanche can reach {}: heed the bulletin, and go one by one or around.",
        ),
    )  # fmt: skip


def _ice_cautions(way: Way, first: int, past: int) -> tuple[Caution, ...]:
    """One caution for each frozen crossing that begins on a leg."""
    count = way.progress.passable_count
    distance_m = way.stations.distance_m
    told = []
    for begin, end in stretches(way.going.is_ice[way.stations.row[:count], way.stations.col[:count]]):
        if first <= begin < past:
            place = f"{distance_m[begin] / 1000.0:.1f} km ({distance_m[end] - distance_m[begin]:.0f} m of it)"
            text = (
                f"The route crosses ice {place} from the start: measure it on the spot before anyone steps on it; "
                "inlets, outlets and narrows are weak, and white ice counts half."
            )
            told.append(Caution(kind="ice", text=text, place=place))
    return tuple(told)


def stretches(is_hit: MaskArray) -> list[tuple[int, int]]:
    """First station and the one after the last of each stretch of stations."""
    edges = np.flatnonzero(np.diff(np.concatenate(([False], is_hit, [False])).astype(np.int8)))
    return [(int(begin), min(int(end), is_hit.size - 1)) for begin, end in edges.reshape(-1, 2)]
