"""The made answer with posts, work and turns, and the same answer elsewhere on the globe."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from shapely import Polygon, affinity

from sitepick.camp.model import Job, Post, Security, Turn, WorkOrder
from sitepick.grid import Grid
from sitepick.tonight import Tonight


def watched(answer: Tonight) -> Tonight:
    """The same with posts, work and turns."""
    camp = answer.camp
    assert camp is not None
    east_m, north_m = answer.sites.sites[0].east_m, answer.sites.sites[0].north_m
    begin, end = answer.sites.sites[0].arrive, answer.sites.sites[0].arrive.replace(hour=20, minute=0)
    ring = Polygon([(east_m + x, north_m + y) for x, y in ((-200, -130), (200, -130), (200, 130), (-200, 130))])
    posts = tuple(
        Post(name=f"Post {index + 1}", east_m=east_m + x, north_m=north_m + y, left_bearing_deg=left,
             right_bearing_deg=(left + 90.0) % 360.0, seen_frac=0.5)
        for index, (x, y, left) in enumerate(((-200.0, 0.0, 225.0), (0.0, 130.0, 315.0), (200.0, 0.0, 45.0)))
    )  # fmt: skip
    security = Security(
        perimeter_m=ring, posts=posts, seen_frac=0.6, dead_ground=None, dead_ground_corner=(0, 0),
        alarm_east_m=east_m + 3.0, alarm_north_m=north_m,
        way_in_m=np.array([[east_m, north_m - 300.0], [east_m, north_m - 110.0], [east_m, north_m]]),
        dummy_trail_m=np.array([[east_m, north_m - 300.0], [east_m + 150.0, north_m - 300.0]]),
    )  # fmt: skip
    names = [placed.shelter.name for placed in camp.shelters]
    work = WorkOrder(
        jobs=(Job(what="Pitch", who="Section 1", begin=begin, end=end, people=5),), ready=end, is_done_by_dark=True,
        turns=tuple(
            Turn(duty=f"Post {post}", who=names[(hour + post) % len(names)], begin=end.replace(hour=hour),
                 end=end.replace(hour=hour + 1))
            for hour in range(20, 23) for post in (1, 2)
        ),
        snow_l=None, fuel_l=None, boughs_m3=None, firewood_m3=None, way_out="Back.", ticks=("Count everyone",),
    )  # fmt: skip
    return replace(answer, camp=replace(camp, security=security, work=work))


def moved_to(answer: Tonight, grid: Grid) -> Tonight:
    """A made answer on another grid of the same size."""
    old = answer.ground.grid
    east, north = grid.west_m - old.west_m, grid.north_m - old.north_m
    step = np.array([east, north])
    lon, lat = grid.to_lonlat(*(answer.march.route_m[[0, -1]] + step).T)
    route = replace(answer.plan.route, points=tuple(zip(lon.tolist(), lat.tolist(), strict=True)))

    def shifted(one):
        return replace(one, east_m=one.east_m + east, north_m=one.north_m + north)

    sites = tuple(replace(shifted(one), outline_m=affinity.translate(one.outline_m, east, north))
                  for one in answer.sites.sites)  # fmt: skip
    camp, security = answer.camp, answer.camp.security if answer.camp else None
    assert camp is not None
    assert security is not None
    camp = replace(
        camp, shelters=tuple(map(shifted, camp.shelters)), facilities=tuple(map(shifted, camp.facilities)),
        entry_east_m=camp.entry_east_m + east, entry_north_m=camp.entry_north_m + north,
        security=replace(
            security, posts=tuple(map(shifted, security.posts)), alarm_east_m=security.alarm_east_m + east,
            alarm_north_m=security.alarm_north_m + north, way_in_m=security.way_in_m + step,
            dummy_trail_m=security.dummy_trail_m + step,
            perimeter_m=affinity.translate(security.perimeter_m, east, north),
        ),
    )  # fmt: skip
    return replace(
        answer,
        plan=replace(answer.plan, route=route),
        ground=replace(
            answer.ground, grid=grid, stream_lines=tuple(line + step for line in answer.ground.stream_lines)
        ),
        terrain=replace(answer.terrain, grid=grid),
        march=replace(answer.march, grid=grid, route_m=answer.march.route_m + step),
        sites=replace(answer.sites, grid=grid, sites=sites),
        camp=camp,
    )
