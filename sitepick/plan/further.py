"""What else can count beside the main factors. But for cold air, nothing does until it is given a weight or a limit."""

from __future__ import annotations

from dataclasses import dataclass, fields

from sitepick.plan.factor import Factor


@dataclass(frozen=True, slots=True, kw_only=True)
class FurtherFactors:
    """Factors that are measured only where the plan gives them a weight or a limit.

    Attributes
    ----------
    cold : Factor
        Measure: how far cold air gathers on clear, calm nights, 0-1.
    depth : Factor
        Measure: metres from the edge of the forest to the middle of the site, inside it.
    boughs, fuel : Factor
        Measures: share of the ground within a short walk under evergreens; how much dead wood stands there, 0-1.
    steepest : Factor
        Measure: the steepest cell of the site's ground, degrees.
    level_chance : Factor
        Measure: chance that the ground keeps the slope's limit, by the error of the heights, 0-1.
    seen_tracks, seen_route, seen_observers : Factor
        Measures: share of the places along mapped tracks and roads, of those along the route, and of the marked
        observers that see a tent on the site, 0-1.
    seen_air : Factor
        Measure: share of the ground that lies open to a look from the air, 0-1.
    sun : Factor
        Measure: hours of direct sun on the day of arrival.
    way_slope, way_going : Factor
        Measures: the steepest bit of the way from the route to the site over 30 m, degrees; its slowest ground, in
        times of the minutes over open ground.
    approaches : Factor
        Measure: how steeply the ground rises to the site over the last 150 m, mean of all sides, degrees.
    view : Factor
        Measure: share of the ground within 300 m that is seen from the site's edge, 0-1.
    morning : Factor
        Measure: minutes on the move back to the route next morning.
    hazards : Factor
        Measure: metres to the nearest known hazard: avalanche ground, dead or burnt forest, glacier.

    Notes
    -----
    Where each curve comes from stands beside its rule in `sites.further`, and is told on the desk.
    """

    cold: Factor = Factor(weight=10.0, curve=((0.1, 1.0), (0.5, 0.4), (1.0, 0.0)))
    depth: Factor = Factor(weight=0.0, curve=((0.0, 0.0), (30.0, 0.5), (100.0, 1.0)))
    boughs: Factor = Factor(weight=0.0, curve=((0.0, 0.0), (0.2, 0.7), (0.5, 1.0)))
    fuel: Factor = Factor(weight=0.0, curve=((0.0, 0.0), (0.3, 0.6), (0.7, 1.0)))
    steepest: Factor = Factor(weight=0.0, curve=((3.0, 1.0), (6.0, 0.6), (10.0, 0.0)))
    level_chance: Factor = Factor(weight=0.0, curve=((0.5, 0.0), (0.9, 0.8), (1.0, 1.0)))
    seen_tracks: Factor = Factor(weight=0.0, curve=((0.0, 1.0), (0.05, 0.6), (0.3, 0.0)))
    seen_route: Factor = Factor(weight=0.0, curve=((0.0, 1.0), (0.05, 0.6), (0.3, 0.0)))
    seen_observers: Factor = Factor(weight=0.0, curve=((0.0, 1.0), (0.5, 0.0)))
    seen_air: Factor = Factor(weight=0.0, curve=((0.2, 1.0), (0.6, 0.4), (1.0, 0.0)))
    sun: Factor = Factor(weight=0.0, curve=((0.0, 0.0), (2.0, 0.6), (5.0, 1.0)))
    way_slope: Factor = Factor(weight=0.0, curve=((5.0, 1.0), (10.0, 0.6), (20.0, 0.0)))
    way_going: Factor = Factor(weight=0.0, curve=((1.0, 1.0), (1.5, 0.6), (3.0, 0.0)))
    approaches: Factor = Factor(weight=0.0, curve=((-5.0, 0.0), (0.0, 0.4), (6.0, 1.0)))
    view: Factor = Factor(weight=0.0, curve=((0.05, 0.0), (0.3, 0.6), (0.7, 1.0)))
    morning: Factor = Factor(weight=0.0, curve=((5.0, 1.0), (20.0, 0.7), (60.0, 0.0)))
    hazards: Factor = Factor(weight=0.0, curve=((0.0, 0.0), (100.0, 0.6), (500.0, 1.0)))


FURTHER_NAMES = tuple(part.name for part in fields(FurtherFactors))
