"""Tonight's site on the sample: right by what a leader would check, and moved by what a leader would expect."""

from __future__ import annotations

import itertools
from dataclasses import replace
from datetime import timedelta

import numpy as np
import pytest
from pyproj import Geod
from scipy import ndimage

from sitepick.march import plan_march
from sitepick.plan import edits
from sitepick.plan.model import Route
from sitepick.sheet import answer_lines, day_lines
from sitepick.tonight import tonight

pytestmark = pytest.mark.slow


def lonlat(answer, east_m, north_m):
    lon, lat = answer.ground.grid.to_lonlat(east_m, north_m)
    return float(lon), float(lat)


def cells_of(answer, site):
    """Rows and columns of the cells whose middle lies on a site."""
    import shapely

    grid = answer.ground.grid
    west, south, east, north = site.outline_m.bounds
    first_row, first_col = grid.cell_at(west, north)
    last_row, last_col = grid.cell_at(east, south)
    rows, cols = np.mgrid[first_row : last_row + 1, first_col : last_col + 1]
    east_m, north_m = grid.cell_centre_m(rows, cols)
    inside = shapely.contains_xy(site.outline_m, east_m, north_m)
    return rows[inside], cols[inside]


def test_there_is_a_pick_and_an_alternate(sample_answer):
    assert len(sample_answer.sites.sites) >= 2
    assert [site.rank for site in sample_answer.sites.sites] == list(range(1, len(sample_answer.sites.sites) + 1))
    scores = [site.score for site in sample_answer.sites.sites]
    assert scores == sorted(scores, reverse=True)
    assert len({site.name for site in sample_answer.sites.sites}) == len(scores)


def test_every_shelter_stands_at_the_spacing_from_every_other(sample_answer):
    geod = Geod(ellps="WGS84")
    camp = sample_answer.camp
    assert len(camp.shelters) == 5
    assert not camp.missing
    for one, other in itertools.combinations(camp.shelters, 2):
        _, _, apart_m = geod.inv(
            *lonlat(sample_answer, one.east_m, one.north_m), *lonlat(sample_answer, other.east_m, other.north_m)
        )
        assert apart_m >= camp.spacing_m - 0.001


def test_every_shelter_stands_on_ground_within_limits(sample_answer, sample_plan):
    grid, terrain = sample_answer.ground.grid, sample_answer.terrain
    for placed in sample_answer.camp.shelters:
        reach = placed.shelter.kind.footprint_m / 2 / np.sqrt(2) - 0.1
        for east, north in itertools.product((-reach, 0, reach), repeat=2):
            cell = grid.cell_at(placed.east_m + east, placed.north_m + north)
            assert terrain.slope_deg[cell] <= sample_plan.preferences.cell_slope_max_deg
            assert terrain.slope_30m_deg[cell] <= sample_plan.preferences.slope.limit_max
            assert not terrain.is_water[cell]
            assert not terrain.is_avalanche_release[cell]
            assert not terrain.is_avalanche_runout[cell]
            assert not terrain.is_wet[cell]


def test_sites_dont_overlap_and_each_holds_the_unit(sample_answer):
    for site in sample_answer.sites.sites:
        assert site.capacity >= 5
        assert site.outline_m.is_valid
    for one, other in itertools.combinations(sample_answer.sites.sites, 2):
        assert one.outline_m.intersection(other.outline_m).area < 1.0


def test_every_site_is_reached_before_camp_by(sample_answer):
    for site in sample_answer.sites.sites:
        assert sample_answer.march.depart < site.arrive <= sample_answer.march.camp_by


def test_no_site_lies_past_the_reach_and_the_way_to_it_keeps_the_timetable(sample_answer):
    march = sample_answer.march
    for site in sample_answer.sites.sites:
        assert site.leave_distance_m <= march.reach_along_route_m + 1.0
        along_min = float(np.interp(site.leave_distance_m, march.station_distance_m, march.station_moving_min))
        assert site.moving_min == pytest.approx(along_min + site.detour_min, abs=0.5)


def test_the_pick_is_where_a_person_would_camp(sample_answer):
    rows, cols = cells_of(sample_answer, sample_answer.sites.sites[0])
    terrain = sample_answer.terrain
    assert terrain.evergreen_frac[rows, cols].mean() > 0.5
    assert terrain.slope_30m_deg[rows, cols].mean() < 5.7
    assert terrain.wind_share[rows, cols].mean() < 0.5
    assert not terrain.is_water[rows, cols].any()


def test_turning_the_wind_changes_the_shelter_of_the_pick(sample_answer, sample_plan):
    turned = edits.with_values(
        sample_plan, "weather", wind_from_deg=(sample_plan.weather.wind_from_deg + 180.0) % 360.0
    )
    answer = tonight(turned, previous=sample_answer)
    assert answer.ground is sample_answer.ground
    pick = sample_answer.sites.sites[0]
    rows, cols = cells_of(sample_answer, pick)
    before = float(sample_answer.terrain.wind_share[rows, cols].mean())
    after = float(answer.terrain.wind_share[rows, cols].mean())
    assert after != pytest.approx(before, abs=1e-3)
    doors = [placed.door_bearing_deg for placed in sample_answer.camp.shelters]
    turned_doors = [placed.door_bearing_deg for placed in answer.camp.shelters]
    wind = turned.weather.wind_from_deg
    assert all(abs((door - wind + 180.0) % 360.0 - 180.0) >= 89.9 for door in turned_doors)
    assert doors != turned_doors


def test_half_the_day_reaches_about_half_as_far(sample_answer, sample_plan):
    hours = (sample_answer.march.camp_by - sample_answer.march.depart) / 2
    late = edits.with_values(sample_plan, "march", depart=sample_plan.march.depart + hours)
    answer = tonight(late, previous=sample_answer)
    assert answer.terrain is sample_answer.terrain
    ratio = answer.march.reach_along_route_m / sample_answer.march.reach_along_route_m
    assert 0.3 < ratio < 0.7
    assert answer.sites.reach_area_m2 < sample_answer.sites.reach_area_m2


def test_twice_the_unit_needs_more_room(sample_answer, sample_plan):
    answer = tonight(edits.with_people(sample_plan, 76), previous=sample_answer)
    assert answer.terrain is sample_answer.terrain
    assert answer.sites.need_count == 9
    assert all(site.capacity >= 9 for site in answer.sites.sites)
    smallest = min(site.area_m2 for site in sample_answer.sites.sites)
    assert all(site.area_m2 > smallest for site in answer.sites.sites)


def test_moving_a_weight_reads_and_marches_nothing_again(sample_answer, sample_plan):
    answer = tonight(edits.with_weight(sample_plan, "water", 60.0), previous=sample_answer)
    assert answer.march is sample_answer.march
    assert answer.sites is not sample_answer.sites


def test_a_broken_trail_and_a_lighter_sled_each_reach_farther(sample_answer, sample_plan):
    for values in (
        {"trail_broken": True},
        {"has_sled": False},
        {"depart": sample_plan.march.depart - timedelta(hours=1)},
    ):
        answer = tonight(edits.with_values(sample_plan, "march", **values), previous=sample_answer)
        assert answer.march.reach_along_route_m >= sample_answer.march.reach_along_route_m
        assert answer.sites.reach_area_m2 > sample_answer.sites.reach_area_m2


def marched(answer, **march):
    """The march over the sample's ground with something about it changed."""
    plan = answer.plan
    return plan_march(replace(plan, march=replace(plan.march, **march)), answer.ground, answer.terrain)


def pace(answer, **values):
    return {"pace": replace(answer.plan.march.pace, **values)}


def test_what_eases_the_march_never_shortens_it(sample_answer, sample_plan):
    base = sample_answer.march
    spring = sample_plan.march.depart + timedelta(days=28)
    eased = {
        "an earlier departure": {"depart": sample_plan.march.depart - timedelta(minutes=45)},
        "a packed trail": {"trail_broken": True},
        "a lead party": pace(sample_answer, breaking="lead_party"),
        "a lighter sled": pace(sample_answer, sled_kg=45.0),
        "more people at the sled": pace(sample_answer, sled_team_count=5),
        "firmer snow": pace(sample_answer, sinking_cm=5.0),
        "more daylight": {"depart": spring},
        "checked ice": {"ice_cm": 40.0},
    }
    for what, march in eased.items():
        got = marched(sample_answer, **march)
        assert got.reach_along_route_m >= base.reach_along_route_m - 1.0, what
        assert np.isfinite(got.moving_min).sum() >= np.isfinite(base.moving_min).sum(), what
        if what in ("an earlier departure", "a packed trail", "a lighter sled", "more daylight"):
            assert got.reach_along_route_m > base.reach_along_route_m + 50.0, what


def test_what_hampers_the_march_never_lengthens_it(sample_answer):
    base = sample_answer.march
    in_the_dark = sample_answer.plan.march.depart - timedelta(hours=3)
    hampered = {
        "a heavier load": pace(sample_answer, load_kg=35.0),
        "a heavier sled": pace(sample_answer, sled_kg=150.0),
        "fewer people at the sled": pace(sample_answer, sled_team_count=1),
        "deep soft snow": pace(sample_answer, sinking_cm=90.0),
        "tracks not packed": {"tracks_packed": False},
    }
    for what, march in hampered.items():
        got = marched(sample_answer, **march)
        assert got.reach_along_route_m <= base.reach_along_route_m + 1.0, what
        assert np.isfinite(got.moving_min).sum() <= np.isfinite(base.moving_min).sum(), what
    early = marched(sample_answer, depart=in_the_dark)
    as_by_day = marched(sample_answer, depart=in_the_dark, **pace(sample_answer, night_frac=1.0))
    assert base.reach_along_route_m <= early.reach_along_route_m < as_by_day.reach_along_route_m


def test_the_answer_is_read_out_in_twenty_five_lines_and_no_way_is_told_twice(sample_answer):
    lines = (*answer_lines(sample_answer), *day_lines(sample_answer))
    assert len(lines) <= 25
    pick = sample_answer.sites.sites[0]
    arrival = f"{pick.arrive:%H:%M}"
    assert sum(arrival in line for line in answer_lines(sample_answer)) == 1
    assert sum("halt" in line.lower() for line in day_lines(sample_answer)) <= 2
    moments = [line[2:7] for line in day_lines(sample_answer) if line[2:4].isdigit()]
    assert moments == sorted(moments)


def route_over_lakes(answer):
    """A straight route over the sample's widest lake that has dry ground on both sides."""
    ground, is_water = answer.ground, answer.terrain.is_water
    part, _ = ndimage.label(is_water)
    for box in sorted(ndimage.find_objects(part), key=lambda box: box[1].start - box[1].stop):
        row = (box[0].start + box[0].stop) // 2
        cols = (box[1].start - 20, box[1].stop + 20)
        if cols[0] < 0 or cols[1] >= ground.grid.cols or np.isnan(answer.march.minutes_per_100m[row, cols]).any():
            continue
        points = [ground.grid.to_lonlat(*ground.grid.cell_centre_m(row, col)) for col in cols]
        return Route(name="Over the ice", points=tuple((float(lon), float(lat)) for lon, lat in points))
    raise AssertionError("the sample has no lake with dry ground on both sides")


def test_every_frozen_crossing_has_its_caution(sample_answer, sample_plan):
    plan = replace(sample_plan, route=route_over_lakes(sample_answer))
    unchecked = plan_march(plan, sample_answer.ground, sample_answer.terrain)
    assert unchecked.reach_along_route_m < unchecked.route_length_m
    plan = edits.with_values(plan, "march", ice_cm=40.0)
    march = plan_march(plan, sample_answer.ground, sample_answer.terrain)
    assert march.reach_along_route_m == pytest.approx(march.route_length_m)
    on_water = [bool(sample_answer.terrain.is_water[march.grid.cell_at(*station)]) for station in march.route_m]
    crossing_count = sum(now and not before for before, now in itertools.pairwise([False, *on_water]))
    told = [caution for leg in march.legs for caution in leg.cautions if caution.kind == "ice"]
    assert len(told) == crossing_count >= 1


def test_the_same_plan_gives_the_same_answer(sample_answer, sample_plan):
    again = tonight(replace(sample_plan, note="another note"))
    assert [(site.name, site.east_m, site.score) for site in again.sites.sites] == [
        (site.name, site.east_m, site.score) for site in sample_answer.sites.sites
    ]
    assert [(placed.east_m, placed.door_bearing_deg) for placed in again.camp.shelters] == [
        (placed.east_m, placed.door_bearing_deg) for placed in sample_answer.camp.shelters
    ]
