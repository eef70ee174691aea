"""Who watches which side, and how one comes in."""

from __future__ import annotations

import itertools
from dataclasses import replace
from datetime import UTC, datetime

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from sitepick.camp import lay_out_camp
from sitepick.camp.approach import DUMMY_TRAIL_M, dummy_trail, find_way_in
from sitepick.camp.model import Facility, PlacedShelter
from sitepick.camp.security import APART_LEAST_M, POSTS_MOST, Pool, choose_posts, secure
from sitepick.camp.shade import Shade, shade_at
from sitepick.camp.sub_areas import sub_areas_of
from sitepick.camp.surroundings import surroundings_of
from sitepick.plan.edits import with_values
from sitepick.plan.security import SecuritySettings
from sitepick.plan.shelter import shelters_for
from sitepick.sites import find_sites
from sitepick.sky import sun_positions, upper_rim_deg
from sitepick.units import bearing_between_deg
from sitepick.work import Watch
from tests.helpers.made import OPEN, SPRUCE, make_ground, make_plan, make_terrain
from tests.helpers.made_march import make_march


def camp_and_ground(*, cover=OPEN, heights=None, people=38, **security):
    ground = make_ground(np.full((90, 90), 300.0) if heights is None else heights, cover)
    plan = make_plan(ground, people=people)
    plan = with_values(plan, "camp", security=SecuritySettings(**security))
    terrain, march = make_terrain(ground), make_march(plan, ground)
    sites = find_sites(plan, ground, terrain, march)
    return lay_out_camp(plan, ground, terrain, march, sites), ground, march


@pytest.mark.slow
def test_on_open_level_ground_few_posts_see_all_approaches():
    camp, _, _ = camp_and_ground()
    assert 2 <= len(camp.security.posts) <= 3
    assert camp.security.seen_frac > 0.95
    assert not camp.security.dead_ground.any()


@pytest.mark.slow
def test_in_thick_forest_more_posts_see_less_and_the_dead_ground_is_shown():
    camp, _, _ = camp_and_ground(cover=SPRUCE)
    assert len(camp.security.posts) > 3
    assert camp.security.seen_frac < 0.6
    assert camp.security.dead_ground.any()


@pytest.mark.slow
@pytest.mark.parametrize("count", [1, 2, 5, 8])
def test_sectors_meet_and_leave_no_side_unwatched(count):
    camp, ground, _ = camp_and_ground(cover=SPRUCE, post_count=count)
    posts = camp.security.posts
    assert len(posts) == count
    if count == 1:
        return
    for one, following in zip(posts, [*posts[1:], posts[0]], strict=True):
        # Both edges run to one point, far out: from neighbouring posts they nearly have the same bearing.
        assert bearing_between_deg(one.right_bearing_deg, following.left_bearing_deg) < 75.0
    centre = shapely.centroid(camp.security.perimeter_m)
    far = [(centre.x + 230.0 * np.sin(turn), centre.y + 230.0 * np.cos(turn)) for turn in np.linspace(0, 6.28, 60)]
    for east, north in far:
        assert any(watches(post, east, north, ground) for post in posts)


def watches(post, east_m, north_m, ground):
    to_deg = np.degrees(np.arctan2(east_m - post.east_m, north_m - post.north_m))
    to_deg += ground.grid.convergence_deg(post.east_m, post.north_m)
    width = (post.right_bearing_deg - post.left_bearing_deg) % 360.0
    return (to_deg - post.left_bearing_deg + 3.0) % 360.0 <= width + 6.0


def test_a_bank_makes_dead_ground_behind_it_unless_a_post_stands_on_it():
    heights = np.full((90, 90), 300.0)
    heights[:, 56:58] = 315.0
    around, ground, march = placed_on(heights, OPEN, col=45)
    security = secure(around, (), ground, march, watch=Watch())
    _, left = security.dead_ground_corner
    _, cols = np.nonzero(security.dead_ground)
    assert (cols + left >= 57).all()  # the far side of the bank and what lies behind
    assert (cols + left >= 58).sum() > 50


def placed_on(heights, cover, *, col, row=40, people=20):
    """Two shelters side by side in a row of cells, the way in from the south."""
    ground = make_ground(heights, cover)
    plan = make_plan(ground, people=people)
    march = make_march(plan, ground)
    placed = tuple(
        PlacedShelter(
            shelter=shelter, east_m=ground.grid.west_m + 10.0 * col + 5.0 + 15.0 * k,
            north_m=ground.grid.north_m - 10.0 * row - 5.0, door_bearing_deg=0.0, slope_deg=0.0,
        )
        for k, shelter in enumerate(plan.unit.shelters)
    )  # fmt: skip
    entry_m = (placed[0].east_m, placed[0].north_m - 60.0)
    return surroundings_of(plan, ground, make_terrain(ground), placed, entry_m, watch=Watch()), ground, march


@settings(max_examples=40, deadline=None, derandomize=True)
@given(seed=st.integers(0, 10_000), wanted=st.integers(1, 4))
def test_posts_see_nearly_as_much_as_the_best_set_of_as_many(seed, wanted):
    random = np.random.default_rng(seed)
    seen = random.random((7, 40)) * (random.random((7, 40)) < 0.4)
    chosen = choose_posts(Pool(seen_frac=seen, is_near=np.eye(7, dtype=bool)), wanted, most=POSTS_MOST)
    assert len(set(chosen)) == wanted

    def covered(some):
        return 1.0 - np.prod(1.0 - seen[list(some)], axis=0).mean()

    best = max(covered(some) for some in itertools.combinations(range(7), wanted))
    assert covered(chosen) >= 0.63 * best  # Nemhauser, Wolsey & Fisher 1978: 1 - 1/e


def test_a_post_that_adds_nothing_is_not_manned():
    seen = np.array([[1.0, 1.0, 1.0, 1.0], [1.0, 1.0, 0.0, 0.0], [0.0, 0.0, 1.0, 0.0]])
    apart = np.eye(3, dtype=bool)
    assert len(choose_posts(Pool(seen_frac=seen, is_near=apart), 0, most=POSTS_MOST)) == 2  # never fewer than two
    assert len(choose_posts(Pool(seen_frac=seen, is_near=apart), 0, most=1)) == 1  # but for very few people
    assert len(choose_posts(Pool(seen_frac=seen, is_near=~apart | apart), 0, most=POSTS_MOST)) == 1  # nor two in one


@pytest.mark.slow
@pytest.mark.parametrize(("people", "most"), [(1, 1), (10, 2), (38, 6)])
def test_posts_are_as_many_as_the_unit_can_spare_and_stand_apart(people, most):
    camp, _, _ = camp_and_ground(cover=SPRUCE, people=people)
    posts = camp.security.posts
    assert 1 <= len(posts) <= most
    for one, other in itertools.combinations(posts, 2):
        assert np.hypot(one.east_m - other.east_m, one.north_m - other.north_m) >= 0.999 * APART_LEAST_M


@pytest.mark.slow
def test_everything_in_the_camp_lies_inside_the_perimeter_and_posts_on_it():
    camp, _, _ = camp_and_ground(cover=SPRUCE, people=60)
    security = camp.security
    for placed in camp.shelters:
        assert security.perimeter_m.contains(shapely.Point(placed.east_m, placed.north_m))
    for post in security.posts:
        assert security.perimeter_m.exterior.distance(shapely.Point(post.east_m, post.north_m)) <= 26.0
    alarm = shapely.Point(security.alarm_east_m, security.alarm_north_m)
    assert security.perimeter_m.contains(alarm)
    assert min(alarm.distance(shapely.Point(one.east_m, one.north_m)) for one in camp.shelters) >= 8.0


@pytest.mark.slow
def test_every_shelter_stands_in_its_own_sections_part_and_parts_do_not_overlap():
    camp, _, _ = camp_and_ground(cover=SPRUCE, people=120)
    for placed in camp.shelters:
        [own] = [
            area for area in camp.sub_areas if area.outline_m.contains(shapely.Point(placed.east_m, placed.north_m))
        ]
        assert own.section == placed.shelter.section
    whole = shapely.union_all([area.outline_m for area in camp.sub_areas])
    assert sum(area.outline_m.area for area in camp.sub_areas) == pytest.approx(whole.area, rel=1e-9)
    assert whole.area == pytest.approx(camp.security.perimeter_m.area, rel=1e-6)


def test_one_shelter_has_the_whole_of_the_ground():
    shelter = shelters_for(8)[0]
    square = shapely.box(0.0, 0.0, 100.0, 100.0)
    placed = PlacedShelter(shelter=shelter, east_m=30.0, north_m=30.0, door_bearing_deg=0.0, slope_deg=0.0)
    assert sub_areas_of((placed,), square)[0].outline_m.equals(square)
    assert sub_areas_of((), square) == ()


@pytest.mark.slow
def test_the_way_in_goes_round_the_open_where_there_is_cover():
    cover = np.full((90, 90), SPRUCE)
    cover[20:45, 40:50] = OPEN
    ground = make_ground(np.full((90, 90), 300.0), cover)
    plan = make_plan(ground, people=20)
    terrain, march = make_terrain(ground), make_march(plan, ground)
    placed = tuple(
        PlacedShelter(
            shelter=shelter, east_m=ground.grid.west_m + 505.0 + 60.0 * k, north_m=ground.grid.north_m - 205.0,
            door_bearing_deg=0.0, slope_deg=0.0,
        )
        for k, shelter in enumerate(plan.unit.shelters)
    )  # fmt: skip
    around = surroundings_of(plan, ground, terrain, placed, (placed[0].east_m, placed[0].north_m - 60.0), watch=Watch())
    line = secure(around, (), ground, march, watch=Watch()).way_in_m
    cells = [ground.grid.cell_at(*point) for point in line[:-2].tolist()]
    assert len(cells) > 5
    assert np.mean([cover[cell] == OPEN for cell in cells]) < 0.2


def test_the_trail_goes_on_past_the_turning_unless_the_route_ends_there():
    ground = make_ground(np.full((60, 120), 300.0))
    march = make_march(make_plan(ground), ground)
    trail = dummy_trail(march, 10, scale=1.0)
    gone_m = float(np.hypot(*np.diff(trail, axis=0).T).sum())
    assert 0.8 * DUMMY_TRAIL_M < gone_m <= DUMMY_TRAIL_M
    assert not len(dummy_trail(march, len(march.route_m) - 1, scale=1.0))
    walled = replace(march, station_moving_min=np.where(np.arange(len(march.route_m)) > 12, np.nan, 1.0))
    assert not len(dummy_trail(walled, 10, scale=1.0))


def test_shade_lies_where_walking_towards_the_sun_meets_higher_ground():
    heights = np.full((90, 90), 300.0)
    heights[:, 46:48] = 312.0
    around, ground, _ = placed_on(heights, OPEN, col=40)
    at = datetime(2027, 2, 1, 9, 30, tzinfo=UTC)
    shade = shade_at(around, ground, at, watch=Watch())
    lon, lat = ground.grid.to_lonlat(*around.centre_m)
    azimuth_deg, altitude_deg = sun_positions(float(lon), float(lat), [at])
    assert 0.5 < altitude_deg[0] < 20.0
    is_shaded = np.zeros(ground.grid.shape, bool)
    top, left = around.corner
    is_shaded[top : top + around.grid.rows, left : left + around.grid.cols] = shade.is_shaded
    sunlit = slow_sunlit(ground, float(azimuth_deg[0]), float(upper_rim_deg(altitude_deg)[0]), rows=(30, 50))
    agree = (is_shaded[30:50, 20:70] != sunlit[:, 20:70]).mean()
    assert agree > 0.95
    assert 0.05 < is_shaded[30:50, 20:70].mean() < 0.95


def slow_sunlit(ground, azimuth_deg, sun_deg, *, rows):
    """The obvious twin: walk towards the sun cell by cell, by the nearest cell's height."""
    grid, z = ground.grid, ground.elevation_m
    turn = np.radians(azimuth_deg - grid.convergence_deg(*grid.centre_m))
    lit = np.ones((rows[1] - rows[0], grid.cols), bool)
    for row in range(*rows):
        for col in range(grid.cols):
            for step in np.arange(1.0, 60.0, 0.5):
                r, c = round(row - step * np.cos(turn)), round(col + step * np.sin(turn))
                if not (0 <= r < grid.rows and 0 <= c < grid.cols):
                    break
                if z[r, c] - z[row, col] > step * grid.ground_cell_m * np.tan(np.radians(sun_deg)):
                    lit[row - rows[0], col] = False
                    break
    return lit


def test_where_no_cover_grows_the_way_in_keeps_to_the_shade_and_says_so():
    around, _, march = placed_on(np.full((90, 90), 300.0), OPEN, col=40, row=15)
    start, end = (find_way_in(around, march).line_m[k] for k in (0, -2))
    is_shaded = np.zeros(around.grid.shape, bool)
    beside = around.grid.cell_at(*start)[1] + 2
    is_shaded[:, beside : beside + 2] = True
    at = datetime(2027, 2, 1, 14, 5, tzinfo=UTC)
    for shade, share, words in (
        (None, 0.0, "finds no cover: under crowns for 0 % of its length."),
        (Shade(at=at, is_shaded=None), 0.0, "the sun is down on arrival"),
        (Shade(at=at, is_shaded=is_shaded), 0.4, "follows shade: under crowns for 0 % of its length, in the shade"),
        (Shade(at=at, is_shaded=~is_shaded & False), 0.0, "finds neither cover nor shade"),
    ):
        way = find_way_in(around, march, shade)
        assert words in way.sentence
        in_shade = [is_shaded[around.grid.cell_at(*point)] for point in way.line_m[:-2].tolist()]
        assert np.mean(in_shade) >= share if share else np.mean(in_shade) == 0.0
        assert way.line_m[0] == pytest.approx(start)
        assert way.line_m[-2] == pytest.approx(end)


def test_cover_weighs_more_than_shade_for_the_way_in():
    cover = np.full((90, 90), OPEN)
    around, _, march = placed_on(np.full((90, 90), 300.0), cover, col=40, row=15)
    col = around.grid.cell_at(*find_way_in(around, march).line_m[0])[1]
    canopy, is_shaded = np.zeros(around.grid.shape, np.float32), np.zeros(around.grid.shape, bool)
    canopy[:, col + 3 : col + 5] = 0.8
    is_shaded[:, col - 4 : col - 2] = True
    shade = Shade(at=datetime(2027, 2, 1, 14, 5, tzinfo=UTC), is_shaded=is_shaded)
    way = find_way_in(replace(around, canopy_frac=canopy), march, shade)
    cells = [around.grid.cell_at(*point) for point in way.line_m[:-2].tolist()]
    assert np.mean([canopy[cell] > 0.0 for cell in cells]) > 0.4
    assert "follows cover" in way.sentence


def test_nobody_walks_in_over_a_tent_nor_stands_on_one():
    around, ground, march = placed_on(np.full((90, 90), 300.0), OPEN, col=40, row=15)
    straight = find_way_in(around, march).line_m[:-2]
    # A tent in the middle of the straight way in, and the fuel next to where it ends.
    on_way = straight[len(straight) // 2]
    tent = replace(around.shelters[0], east_m=float(on_way[0]), north_m=float(on_way[1]))
    more = replace(around, shelters=(*around.shelters, tent), shelters_m=np.vstack([around.shelters_m, [on_way]]))
    fuel = Facility(kind="fuel", name="Fuel", east_m=float(straight[-3][0]), north_m=float(straight[-3][1]), reason="")
    security = secure(more, (fuel,), ground, march, watch=Watch())
    for east_m, north_m in (*more.shelters_m.tolist(), (fuel.east_m, fuel.north_m)):
        away_m = np.hypot(*(security.way_in_m[:-2] - (east_m, north_m)).T)
        assert away_m.min() >= 8.0
        for post in security.posts:
            assert np.hypot(post.east_m - east_m, post.north_m - north_m) >= 8.0 * 0.999
    assert len(security.posts) >= 2
