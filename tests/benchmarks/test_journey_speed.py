"""How long a journey takes: three routes of 100 km in five days each on 10 m ground, and planning anew after a pin."""

from __future__ import annotations

import multiprocessing
import os
import resource
import threading
import time
from dataclasses import replace
from datetime import datetime, timedelta, timezone

import numpy as np
import pytest
import rasterio
from affine import Affine

from sitepick.grid import Grid
from sitepick.journey import plan_journey, with_days
from sitepick.plan.journey import JourneySettings, PinnedNight
from sitepick.plan.journey_edits import with_night_pinned
from sitepick.plan.model import GroundSource, MarchSettings, Plan, Route, Unit, Weather
from sitepick.plan.shelter import shelters_for
from sitepick.work import Watch
from tests.helpers.made import made_relief

pytestmark = pytest.mark.benchmark
CRS, WEST_M, NORTH_M = "EPSG:32634", 400_000.0, 7_460_000.0
LENGTH_KM, WIDTH_KM = 110, 50
CONIFERS, BOG, GRASS = 111, 90, 30  # codes of the CGLS-LC100 legend


def made_files(folder):
    """Rolling wooded country, larger than any one day's ground."""
    shape = (WIDTH_KM * 100, LENGTH_KM * 100)
    coarse = made_relief(shape[0] // 10, shape[1] // 10, height_m=350.0, roughness=2.2, seed=3)
    heights = np.kron(coarse, np.ones((10, 10), np.float32))
    for axis in (0, 1):
        heights = np.asarray((np.roll(heights, 5, axis) + heights + np.roll(heights, -5, axis)) / 3.0, np.float32)
    wood = np.kron(made_relief(shape[0] // 20, shape[1] // 20, height_m=1.0, seed=5), np.ones((20, 20), np.float32))
    cover = np.where(wood > 0.45, CONIFERS, np.where(wood > 0.3, GRASS, BOG)).astype(np.uint8)
    told = {"driver": "GTiff", "width": shape[1], "height": shape[0], "count": 1, "crs": CRS, "tiled": True,
            "transform": Affine(10.0, 0.0, WEST_M, 0.0, -10.0, NORTH_M)}  # fmt: skip
    for name, values in (("elevation", heights), ("cover", cover)):
        with rasterio.open(folder / f"{name}.tif", "w", dtype=values.dtype, compress="deflate", **told) as out:
            out.write(values, 1)


def made_plan(folder):
    grid = Grid(crs=CRS, west_m=WEST_M, north_m=NORTH_M, cell_m=10.0, rows=WIDTH_KM * 100, cols=LENGTH_KM * 100)

    def route(name, bend_km):
        east = np.linspace(5.0, 103.0, 40)
        north = 25.0 + bend_km * np.sin((east - 5.0) / 98.0 * np.pi) + 1.2 * np.sin(east / 3.0)
        lon, lat = grid.to_lonlat(WEST_M + 1000.0 * east, NORTH_M - 1000.0 * (WIDTH_KM - north))
        return Route(name=name, points=tuple(zip(lon.tolist(), lat.tolist(), strict=True)))

    return Plan(
        name="Long way",
        ground=GroundSource(
            elevation=(folder / "elevation.tif",), cover=(folder / "cover.tif",), legend="cgls_lc100",
            elevation_unit="metre", elevation_kind="terrain",
        ),
        unit=Unit(people=38, shelters=shelters_for(38)),
        weather=Weather(wind_from_deg=300.0, wind_kmh=20.0, temperature_c=-12.0, snow_cm=30.0),
        march=MarchSettings(
            depart=datetime(2027, 4, 5, 7, 0, tzinfo=timezone(timedelta(hours=1))), mode="ski", trail_broken=True,
            level_kmh=4.0,
        ),
        route=route("Middle", 0.0),
        alternatives=(route("North", 12.0), route("South", -12.0)),
        journey=JourneySettings(days_max=5, tired_frac=0.0),
    )  # fmt: skip


class Gaps:
    """The longest time between two looks at the watch, thread by thread."""

    def __init__(self):
        self.longest_s, self.before, self._last = 0.0, "", {}

    def tick(self, step, done_count, total_count):
        now, thread = time.perf_counter(), threading.get_ident()
        gap_s = now - self._last.get(thread, now)
        if gap_s > self.longest_s:
            self.longest_s, self.before = gap_s, step
        self._last[thread] = now


def measured(folder, told):
    """Plan and answer the journey in a process of its own, whose memory is that of the journey alone."""
    plan = made_plan(folder)
    first = replace(plan, route=replace(plan.route, points=plan.route.points[:5]), alternatives=())
    with_days(plan_journey(replace(first, journey=replace(first.journey, days_max=2))))  # compiled
    compiled_gib = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024**2
    gaps = Gaps()
    began, began_cpu = time.perf_counter(), time.process_time()
    journey = plan_journey(plan, watch=Watch(gaps.tick))
    surveyed, surveyed_cpu = time.perf_counter(), time.process_time()
    whole = with_days(journey, watch=Watch(gaps.tick))
    done, done_cpu = time.perf_counter(), time.process_time()
    peak_gib = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024**2
    lines = []
    for one in whole.routes:
        days = one.trouble or f"{len(one.days)} days"
        lines.append(
            f"{one.name}: {one.survey.line.length_m / 1000:.0f} km, {len(one.survey.candidates)} places, {days}"
        )
    day_count = sum(day.detail is not None for one in whole.routes for day in one.days)
    lines += [
        f"surveys and chains {surveyed - began:.1f} s ({surveyed_cpu - began_cpu:.1f} s of the processor)",
        f"{day_count} full days {done - surveyed:.1f} s ({done_cpu - surveyed_cpu:.1f} s of the processor)",
        f"all of it {done - began:.1f} s ({done_cpu - began_cpu:.1f} s of the processor)",
        f"most memory {peak_gib:.2f} GiB ({compiled_gib:.2f} GiB after a short journey)",
        f"longest between two looks at the watch {gaps.longest_s:.2f} s, before {gaps.before!r}",
    ]
    night = next(day.night for one in whole.routes for day in one.days if day.night is not None)
    place = min(whole.routes[0].survey.candidates, key=lambda one: abs(one.along_m - night.along_m - 1500.0)).place
    pinned = with_night_pinned(plan, PinnedNight(route="Middle", day=1, place=place))
    began = time.perf_counter()
    plan_journey(pinned, previous=whole)
    lines.append(f"planned anew after a pin in {time.perf_counter() - began:.2f} s")
    lines.append(f"load average {os.getloadavg()[0]:.1f}")
    told.put((day_count, lines))


def test_three_routes_of_a_hundred_kilometres_in_five_days(tmp_path):
    made_files(tmp_path)
    apart = multiprocessing.get_context("spawn")
    told = apart.Queue()
    child = apart.Process(target=measured, args=(tmp_path, told))
    child.start()
    day_count, lines = told.get()
    child.join()
    print("\n".join(lines))
    assert day_count
