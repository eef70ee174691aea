"""A party that goes ahead and breaks the trail: how long before the main body it must leave."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import timedelta

import numpy as np

from sitepick.grid import DoubleArray, Grid
from sitepick.march.clock import DayClock
from sitepick.march.going import Going
from sitepick.march.pace import Pace
from sitepick.march.route import Progress, Stations, follow


def lead_h(distance_km: float, break_kmh: float, track_kmh: float) -> float:
    """Hours by which a lead party must be ahead on even ground, so that the main body doesn't close up.

    Notes
    -----
    D (1/v_break - 1/v_track): plain algebra, the two arrive at the end together.
    """
    return distance_km * (1.0 / break_kmh - 1.0 / track_kmh)


def lead_min(
    stations: Stations, going: Going, main: Progress, paces: tuple[Pace, Pace], clock: DayClock, grid: Grid
) -> DoubleArray:
    """How long before the main body the lead party must leave, to have broken the trail up to each station.

    Parameters
    ----------
    stations : Stations
    going : Going
        Of the main body; what is off its route is unbroken.
    main : Progress
        The main body's minutes on the move, darkness counted.
    paces : tuple of (Pace, Pace)
        The main body's, and that of the people without sleds who lead.
    clock : DayClock
    grid : Grid

    Returns
    -------
    ndarray of shape (stations,), float64
        Minutes by the clock, never falling; NaN past a wall.

    Notes
    -----
    The sum of `lead_h` over the stations, with slopes, cover and tracks. The party halts as often as the main body, and
    what it marches before civil dawn is slower.
    """
    body, party = paces
    unbroken = replace(
        going, route_s_per_m=going.off_route_s_per_m * np.float32(body.unbroken_kmh / party.unbroken_kmh)
    )
    party_min = follow(stations, unbroken, party, grid).moving_min
    with_halts = clock.halt_rule.elapsed_min(clock.moving_min) / clock.moving_min
    if clock.sun.kind == "polar night":
        ahead_min = (party_min / party.night_frac - main.moving_min) * with_halts
    else:
        ahead_min = _with_dark((party_min - main.moving_min) * with_halts, party.night_frac, clock)
    known = np.isfinite(ahead_min)
    return np.where(known, np.maximum.accumulate(np.where(known, np.maximum(ahead_min, 0.0), 0.0)), math.nan)


def _with_dark(ahead_min: DoubleArray, night_frac: float, clock: DayClock) -> DoubleArray:
    """Minutes ahead, longer by what the dark before dawn costs the party."""
    if clock.sun.civil_dawn is None:
        return ahead_min
    dawn_min = (clock.sun.civil_dawn - clock.depart) / timedelta(minutes=1)
    # From `ahead` before the main body's departure until dawn only a share of the time counts:
    # ahead = ahead_by_day + (1 - share) (dawn + ahead).
    in_dark = (ahead_min + (1.0 - night_frac) * dawn_min) / night_frac
    return np.where(ahead_min + dawn_min > 0.0, in_dark, ahead_min)
