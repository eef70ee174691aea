"""The last place on the route from which the unit can still be back at base in useful light."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta

import numpy as np

from sitepick.grid import DoubleArray, Grid
from sitepick.march.clock import DayClock
from sitepick.march.going import Going
from sitepick.march.model import TurnBack
from sitepick.march.pace import Pace
from sitepick.march.route import Stations, follow


def find_turn_back(
    stations: Stations, moving_min: DoubleArray, back_min: DoubleArray, clock: DayClock
) -> TurnBack | None:
    """The turn-back place.

    Parameters
    ----------
    stations : Stations
    moving_min, back_min : float64 arrays
        Minutes on the move to each station that can be followed to, and from it back to the start.
    clock : DayClock

    Returns
    -------
    TurnBack or None
        None where the light is gone at the departure.

    Notes
    -----
    Halts follow the clock on the way back as on the way out; delays at places along the route count once. Where the
    day has no dusk, base must be reached by camp-by.
    """
    by = clock.camp_by if clock.useful_light_end is None else clock.useful_light_end
    limit_min = (by - clock.depart) / timedelta(minutes=1)
    total_min = clock.halt_rule.elapsed_array_min((moving_min + back_min).astype(np.float32))
    in_time = np.flatnonzero((total_min <= limit_min) & (moving_min <= clock.moving_min))
    if limit_min <= 0.0 or in_time.size == 0:
        return None
    last = int(in_time[-1])

    def told(minutes: float) -> datetime:
        return clock.depart + timedelta(minutes=clock.halt_rule.elapsed_min(minutes))

    next_on = last + 1 < moving_min.size and moving_min[last + 1] <= clock.moving_min
    return TurnBack(
        station=last,
        distance_m=float(stations.distance_m[last]),
        at=told(float(moving_min[last])),
        back_at=told(float(moving_min[last] + back_min[last])),
        by=by,
        is_whole_day=not next_on,
    )


def back_to_start_min(stations: Stations, count: int, going: Going, pace: Pace, grid: Grid) -> DoubleArray:
    """Minutes on the move from each of the first so many stations back to the start, at the route's own pace."""
    reverse = replace(
        stations,
        east_m=stations.east_m[:count][::-1],
        north_m=stations.north_m[:count][::-1],
        row=stations.row[:count][::-1],
        col=stations.col[:count][::-1],
        distance_m=(stations.distance_m[count - 1] - stations.distance_m[:count])[::-1],
    )
    done_min = follow(reverse, going, pace, grid).moving_min
    return np.asarray((done_min[-1] - done_min)[::-1], float)
