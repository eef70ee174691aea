"""The draws told again, one draw, one site and one factor at a time."""

from __future__ import annotations

import math

import numpy as np

from sitepick.sites.spread import SLOPE_SHIFTS

VARIED = ("water", "detour", "progress", "slope", "room", "wind", "steepest", "level_chance", "morning")


def from_bearing(shares, bearing):
    """Between the two nearest of shares a step apart all round."""
    step = 360.0 / len(shares)
    place = (bearing % 360.0) / step
    low = math.floor(place)
    part = place - low
    return shares[low % len(shares)] * (1.0 - part) + shares[(low + 1) % len(shares)] * part


def outcome(spread, preferences, draws):
    """Scores and whether a site is out, for every draw and site."""
    factors = dict(preferences.factors())
    count, (sites, _) = len(draws.pace), spread.scores.shape
    scores, is_out = np.zeros((count, sites)), np.zeros((count, sites), bool)
    for d in range(count):
        for s in range(sites):
            pace = draws.pace[d]
            out = spread.way_min[s] / pace > spread.moving_min_limit
            parts, weights = [], []
            for k, name in enumerate(spread.names):
                factor = factors[name]
                value, worst = spread.values[s, k], -math.inf
                shift = min(max(draws.slope_errors[d, s], 0.0), SLOPE_SHIFTS[-1])
                kept = np.interp(shift, SLOPE_SHIFTS, spread.slope_kept_frac[s])
                if name in ("water", "detour", "morning"):
                    value = worst = value / pace
                elif name == "progress":
                    value += progress(spread, s, pace) - progress(spread, s, 1.0)
                    worst = value
                elif name == "slope":
                    value = max(value + draws.slope_errors[d, s] * spread.slope_error_deg[s], 0.0)
                elif name == "steepest":
                    value = worst = max(value + draws.slope_errors[d, s] * spread.slope_error_deg[s], 0.0)
                elif name == "level_chance":
                    value = worst = value * kept
                elif name == "room":
                    value = worst = math.floor(spread.capacity[s] * kept + 1e-9) - spread.need_count
                    out = out or value < 0
                elif name == "wind":
                    value, worst = wind(spread, s, value, draws.turn_deg[d])
                    value *= draws.wind_speed[d]
                if name in VARIED:
                    out = out or (factor.limit_max is not None and worst > factor.limit_max)
                    out = out or (factor.limit_min is not None and value < factor.limit_min)
                anchors, curve = zip(*factor.curve, strict=True)
                is_varied = name in VARIED and not math.isnan(value)
                parts.append(float(np.interp(value, anchors, curve)) if is_varied else spread.scores[s, k])
                weights.append(factor.weight * draws.weights[d, k])
            total = sum(weights)
            if preferences.weighting.mean == "arithmetic":
                scores[d, s] = sum(w * p for w, p in zip(weights, parts, strict=True)) / total
            elif any(p <= 0.0 < w for w, p in zip(weights, parts, strict=True)):
                scores[d, s] = 0.0
            else:
                scores[d, s] = math.prod(p ** (w / total) for w, p in zip(weights, parts, strict=True) if w > 0.0)
            is_out[d, s] = out
    return scores, is_out


def progress(spread, s, pace):
    """Share of the way along a reach that grows with the pace."""
    home = np.interp(spread.moving_min_limit, spread.station_min, spread.station_m)
    reach = spread.reach_m * np.interp(pace * spread.moving_min_limit, spread.station_min, spread.station_m) / home
    return min(spread.leave_m[s] / reach, 1.0)


def wind(spread, s, value, turn):
    """Mean and worst share for the winds of the forecast turned together."""
    if math.isnan(turn):
        return value, spread.wind_worst[s]
    if not spread.wind_from:
        return from_bearing(spread.wind_mean_from[s], turn), from_bearing(spread.wind_worst_from[s], turn)
    for bearing, share in spread.wind_from:
        value += share * (
            from_bearing(spread.wind_mean_from[s], bearing + turn) - from_bearing(spread.wind_mean_from[s], bearing)
        )
    there = max(from_bearing(spread.wind_worst_from[s], bearing + turn) for bearing, _ in spread.wind_from)
    here = max(from_bearing(spread.wind_worst_from[s], bearing) for bearing, _ in spread.wind_from)
    return max(value, 0.0), spread.wind_worst[s] + there - here
