"""The day's march as a whole: what quickens it reaches farther, and what it crosses is said."""

from __future__ import annotations

from dataclasses import replace
from datetime import time, timedelta

import numpy as np
import pytest

from sitepick.caution import joined_by_place
from sitepick.errors import MarchError
from sitepick.march import plan_march
from sitepick.plan.model import Route, Weather
from sitepick.plan.pace import PaceSettings
from sitepick.terrain.model import MAPPED_STREAM
from sitepick.work import JobStopped, Watch
from tests.helpers.made import LAKE, OPEN, made_relief, make_ground, make_plan, make_terrain

ROWS, COLS = 60, 400


def march_over(ground=None, *, terrain=None, weather=None, **march):
    """A march from west to east over four kilometres, short enough to end before the route does."""
    ground = ground or make_ground(np.zeros((ROWS, COLS)))
    plan = make_plan(ground)
    march = {"has_sled": False, "camp_by_hour": time(9, 0), "halt_min": 0.0, **march}  # departs at 8
    plan = replace(plan, march=replace(plan.march, **march), weather=weather or plan.weather)
    return plan_march(plan, ground, terrain or make_terrain(ground))


def kinds(cautions):
    return [caution.kind for caution in cautions]


def test_an_hour_on_the_level_reaches_the_level_rate():
    march = march_over()
    assert march.moving_min_limit == pytest.approx(60.0)
    assert march.reach_along_route_m == pytest.approx(3200.0, rel=1e-3)
    assert march.arrive_at_reach_end == march.camp_by


def test_early_and_late_reach_lie_by_the_pace_error_on_both_sides():
    march = march_over(pace_error_frac=0.2)
    assert march.early_reach_m == pytest.approx(1.2 * 3200.0, rel=1e-3)
    assert march.late_reach_m == pytest.approx(0.8 * 3200.0, rel=1e-3)
    assert np.nanmax(march.moving_min) <= march.early_moving_min_limit
    assert np.nanmax(march.moving_min) > march.moving_min_limit > march.late_moving_min_limit


def test_an_earlier_departure_reaches_farther():
    base = march_over()
    early = march_over(depart=base.depart - timedelta(minutes=10))
    assert early.reach_along_route_m > base.reach_along_route_m
    assert np.isfinite(early.moving_min).sum() > np.isfinite(base.moving_min).sum()


@pytest.mark.parametrize(
    ("change", "farther"),
    [
        ({"trail_broken": True}, True),
        ({"has_sled": True}, False),
        ({"halt_min": 10.0}, False),
        ({"delay_min": 20.0}, False),
        ({"mode": "foot"}, False),  # in 60 cm of snow
        ({"level_kmh": 3.5}, True),
        ({"long_halt_at": time(8, 20), "long_halt_min": 15.0}, False),
    ],
)
def test_what_quickens_reaches_farther_and_what_slows_less_far(change, farther):
    base, changed = march_over().reach_along_route_m, march_over(**change).reach_along_route_m
    assert (changed > 1.05 * base) if farther else (changed < 0.95 * base)


def test_halts_take_their_share_of_the_clock():
    march = march_over(halt_min=10.0, first_halt_after_min=20.0, halt_every_min=30.0)
    assert march.moving_min_limit == pytest.approx(40.0)  # halts at 20 and 50 min
    assert march.legs[-1].arrive <= march.camp_by


def test_the_cells_of_the_route_are_reached_when_the_unit_is_there():
    march = march_over()
    for station in (0, 100, 250):
        cell = march.grid.cell_at(*march.route_m[station])
        assert march.moving_min[cell] == pytest.approx(march.station_moving_min[station], abs=0.2)
        assert march.detour_min[cell] == pytest.approx(0.0, abs=0.2)
        assert march.arrive_at(*cell) == pytest.approx(
            march.depart + timedelta(minutes=float(march.station_moving_min[station])), abs=timedelta(seconds=15)
        )


def test_ground_off_the_route_costs_the_way_from_the_station_where_it_is_left():
    march = march_over()
    row, col = ROWS // 2 + 20, 150
    station = march.leave_station[row, col]
    east_m, north_m = march.route_m[station] - np.array(march.grid.cell_centre_m(row, col))
    way_m = np.hypot(east_m, north_m)
    assert march.detour_min[row, col] == pytest.approx(way_m / 3200.0 * 60.0, rel=0.06)
    by_that_way_min = march.station_moving_min[station] + march.detour_min[row, col]
    assert march.moving_min[row, col] <= by_that_way_min < 1.1 * march.moving_min[row, col]


def test_between_two_arms_of_a_hairpin_the_arm_that_is_reached_first_is_left():
    ground = make_ground(np.zeros((120, 120)))
    points = [
        ground.grid.to_lonlat(*ground.grid.cell_centre_m(*cell)) for cell in ((30, 5), (30, 110), (90, 110), (90, 5))
    ]
    plan = make_plan(ground, route=Route(name="Hairpin", points=tuple((float(lon), float(lat)) for lon, lat in points)))
    plan = replace(plan, march=replace(plan.march, has_sled=False, camp_by_hour=time(10, 0)))
    march = plan_march(plan, ground, make_terrain(ground))
    distance_m = march.station_distance_m[march.leave_station[55, 20]]
    assert distance_m < 400.0  # and not the other arm, 10 m farther off and 2.5 km later


def test_with_a_broken_trail_the_route_is_left_late():
    """Skis make 4.8 km/h on the trail and 3.2 off it, and a minute off it counts for one and a half."""
    march = march_over(trail_broken=True)
    row, col = ROWS // 2 + 20, 150
    east = march.route_m[march.leave_station[row, col], 0]
    ahead_cells = col - march.grid.cell_at(east, march.route_m[0, 1])[1]
    assert ahead_cells == pytest.approx(20 * np.tan(np.arcsin(3.2 / 4.8 / 1.5)), abs=5)


def test_past_the_reach_nothing_is_known():
    march = march_over()
    far = march.moving_min[:, -1]
    assert np.isnan(far).all()
    assert (march.leave_station[:, -1] == -1).all()
    assert np.isnan(march.detour_min[:, -1]).all()
    assert march.arrive_at(0, COLS - 1) is None


def test_past_the_routes_end_the_reach_spreads_on():
    ground = make_ground(np.zeros((ROWS, COLS)))
    plan = make_plan(ground)
    west = plan.route.points[0]
    lon, lat = ground.grid.to_lonlat(*ground.grid.cell_centre_m(ROWS // 2, 100))
    plan = replace(
        plan,
        route=Route(name="Short", points=(west, (float(lon), float(lat)))),
        march=replace(plan.march, has_sled=False, camp_by_hour=time(8, 30), halt_min=0.0),
    )
    march = plan_march(plan, ground, make_terrain(ground))
    assert march.reach_along_route_m == pytest.approx(march.route_length_m)
    assert march.arrive_at_reach_end < march.camp_by
    assert np.isfinite(march.moving_min[ROWS // 2, 150])
    assert march.legs[-1].end_name == "Route's end"


def test_legs_follow_each_other_up_to_the_end_of_the_reach():
    ground = make_ground(made_relief(ROWS, COLS, height_m=60.0))
    plan = make_plan(ground)
    cells = [(30, 3), (20, 100), (40, 250), (30, 390)]
    points = [ground.grid.to_lonlat(*ground.grid.cell_centre_m(*cell)) for cell in cells]
    plan = replace(
        plan,
        route=Route(name="Bent", points=tuple((float(lon), float(lat)) for lon, lat in points)),
        march=replace(plan.march, has_sled=False, camp_by_hour=time(9, 0), mode="snowshoe"),
    )
    march = plan_march(plan, ground, make_terrain(ground))
    assert [(leg.start_name, leg.end_name) for leg in march.legs] == [("Start", "Point 2"), ("Point 2", "End of reach")]
    assert march.legs[0].depart == march.depart
    assert march.legs[0].arrive == march.legs[1].depart
    assert march.legs[1].arrive == march.arrive_at_reach_end
    assert sum(leg.distance_m for leg in march.legs) == pytest.approx(march.reach_along_route_m)
    assert all(leg.climb_m + leg.descent_m > 0.0 for leg in march.legs)


def lake_ahead():
    cover = np.full((ROWS, COLS), OPEN)
    cover[:, 150:153] = LAKE
    return make_ground(np.zeros((ROWS, COLS)), cover)


def test_a_river_ends_the_route_and_the_reach_and_says_so():
    march = march_over(lake_ahead())
    assert march.reach_along_route_m == pytest.approx(1470.0, abs=15.0)
    assert np.isnan(march.moving_min[:, 150:]).all()
    told = [caution.text for caution in march.cautions if "followed for 1.5 km only" in caution.text]
    assert len(told) == 1
    assert "water without ice" in told[0]
    assert march.legs[-1].end_name == "End of reach"


def test_measured_ice_carries_over_the_river_with_cautions():
    march = march_over(lake_ahead(), ice_cm=20.0)
    assert march.reach_along_route_m == pytest.approx(3200.0, rel=1e-3)
    assert "ice" in kinds(march.cautions)
    assert kinds(march.legs[0].cautions) == ["ice"]
    assert "measure it on the spot" in march.legs[0].cautions[0].text


def test_every_frozen_crossing_has_its_caution():
    cover = np.full((ROWS, COLS), OPEN)
    for first in (60, 150, 240):
        cover[:, first : first + 10] = LAKE
    march = march_over(make_ground(np.zeros((ROWS, COLS)), cover), ice_cm=20.0)
    told = [caution for caution in march.legs[0].cautions if caution.kind == "ice"]
    assert [caution.text.split(":")[0] for caution in told] == [
        f"The route crosses ice {km} km (100 m of it) from the start" for km in ("0.6", "1.5", "2.4")
    ]
    (joined,) = joined_by_place(told)
    assert "0.6 km (100 m of it), 1.5 km (100 m of it) and 2.4 km (100 m of it) from the start" in joined.text


def test_water_in_the_way_says_how_much_ice_it_takes():
    told = [caution.text for caution in march_over(lake_ahead(), has_sled=True).cautions if "followed" in caution.text]
    assert "15 cm of clear ice" in told[0]


def test_all_streams_of_a_leg_are_told():
    water_kind = np.zeros((ROWS, COLS), np.uint8)
    water_kind[:, [50, 120, 200]] = MAPPED_STREAM
    ground = make_ground(np.zeros((ROWS, COLS)))
    march = march_over(ground, terrain=replace(make_terrain(ground), water_kind=water_kind))
    assert [caution.text for caution in joined_by_place(march.legs[0].cautions)] == [
        "The route crosses a stream 0.5 km, 1.2 km and 2.0 km from the start: look for thin ice, open water and banks."
    ]


def test_wading_and_heavy_loads_are_cautioned():
    wading = march_over(mode="foot").cautions  # in 60 cm of snow
    assert any("sinks in 50 cm" in caution.text for caution in wading)
    loaded = march_over(pace=PaceSettings(load_kg=40.0)).cautions
    assert any("40 kg on each back" in caution.text for caution in loaded)
    assert not any("on each back" in caution.text for caution in march_over().cautions)


def test_a_functions_own_level_speed_is_cautioned():
    settings = PaceSettings(foot=replace(PaceSettings().foot, level_from="function"))
    told = march_over(mode="foot", pace=settings).cautions
    assert any("that of Tobler 1993, made for other people" in caution.text for caution in told)


def test_ice_too_thin_for_a_sled_carries_nobody_with_one():
    assert march_over(lake_ahead(), ice_cm=12.0).reach_along_route_m > 3000.0
    assert march_over(lake_ahead(), ice_cm=12.0, has_sled=True).reach_along_route_m < 1500.0


def test_a_leg_tells_streams_bridges_and_avalanche_ground_that_it_crosses():
    track = np.zeros((ROWS, COLS), bool)
    track[ROWS // 2 - 1 : ROWS // 2 + 1, 140:160] = True
    ground = replace(lake_ahead(), is_track=track)
    runout = np.zeros((ROWS, COLS), bool)
    runout[:, 200:210] = True
    water_kind = np.zeros((ROWS, COLS), np.uint8)
    water_kind[:, 50] = MAPPED_STREAM
    terrain = replace(make_terrain(ground, is_avalanche_runout=runout), water_kind=water_kind)
    march = march_over(ground, terrain=terrain)
    texts = [caution.text for caution in march.legs[0].cautions]
    assert kinds(march.legs[0].cautions) == ["water", "water", "avalanche"]
    assert "stream 0.5 km from the start" in texts[0]
    assert "mapped track 1.5 km" in texts[1]
    assert "avalanche can reach 2.0 km" in texts[2]


def test_what_lies_past_the_reach_isn_t_told_of_the_leg():
    runout = np.zeros((ROWS, COLS), bool)
    runout[:, 380:] = True
    ground = make_ground(np.zeros((ROWS, COLS)))
    assert march_over(ground, terrain=make_terrain(ground, is_avalanche_runout=runout)).legs[0].cautions == ()


def test_a_reach_that_runs_out_of_the_ground_is_cautioned():
    assert "data" in kinds(march_over().cautions)  # the window is only 600 m high
    ground = make_ground(np.zeros((100, 100)))
    points = [ground.grid.to_lonlat(*ground.grid.cell_centre_m(*cell)) for cell in ((50, 40), (50, 60))]
    plan = make_plan(ground, route=Route(name="Inside", points=tuple((float(lon), float(lat)) for lon, lat in points)))
    plan = replace(plan, march=replace(plan.march, camp_by_hour=time(8, 5)))
    assert "data" not in kinds(plan_march(plan, ground, make_terrain(ground)).cautions)


def test_a_rate_from_memory_is_cautioned_and_the_users_own_isn_t():
    assert any("from memory" in caution.text for caution in march_over().cautions)
    assert not any("from memory" in caution.text for caution in march_over(level_kmh=3.0).cautions)


def test_on_foot_an_unknown_depth_of_snow_is_cautioned():
    told = march_over(mode="foot", weather=Weather()).cautions
    assert any("depth of the snow isn't known" in caution.text for caution in told)
    assert not any("depth of the snow" in caution.text for caution in march_over(mode="foot").cautions)


def test_minutes_per_100_m_are_those_of_the_level_off_the_route():
    march = march_over(lake_ahead())
    assert march.minutes_per_100m[0, 0] == pytest.approx(6.0 / 3.2)
    assert np.isnan(march.minutes_per_100m[0, 151])
    assert march.walking_minutes_per_100m is None
    with_sled = march_over(lake_ahead(), has_sled=True)
    assert with_sled.minutes_per_100m[0, 0] == pytest.approx(6.0 / 3.2 / 0.7)
    assert with_sled.walking_minutes_per_100m[0, 0] == pytest.approx(6.0 / 3.2)


def test_a_start_outside_the_ground_is_refused():
    ground = make_ground(np.zeros((ROWS, COLS)))
    far = make_plan(make_ground(np.zeros((ROWS, 2 * COLS)))).route.points
    plan = make_plan(ground, route=Route(name="Backwards", points=far[::-1]))
    with pytest.raises(MarchError, match="starts on the edge of the ground"):
        plan_march(plan, ground, make_terrain(ground))


def test_the_result_can_t_be_written_to():
    march = march_over()
    for layer in (march.moving_min, march.detour_min, march.leave_station, march.minutes_per_100m):
        with pytest.raises(ValueError, match="read-only"):
            layer[0, 0] = 1


def test_a_stopped_watch_ends_the_march():
    watch = Watch()
    watch.stop()
    ground = make_ground(np.zeros((ROWS, COLS)))
    with pytest.raises(JobStopped):
        plan_march(make_plan(ground), ground, make_terrain(ground), watch=watch)
