"""Laws of the layout, whatever the ground: apart, on allowed cells, sections together, the leader in the middle."""

from __future__ import annotations

import itertools
import time
from dataclasses import replace

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from sitepick.camp.lay_out import slope_under
from sitepick.camp.places import choose_places, place_cost
from sitepick.camp.stands import stands_of
from sitepick.camp.who_goes_where import Sharing, who_goes_where
from sitepick.plan.layout import LayoutSettings
from sitepick.plan.model import CampSettings, Unit
from sitepick.plan.shelter import Shelter, shelter_kind
from tests.helpers.made import SPRUCE, made_relief, make_ground, make_plan, make_terrain

TEN, FIVE = shelter_kind("ten_person_tent"), shelter_kind("five_person_tent")


def shelter(name, section, people=2, kind=FIVE, **values):
    return Shelter(name=name, section=section, people=people, kind=kind, **values)


def plan_of(*shelters, spacing_m=25.0, **layout):
    unit = Unit(people=sum(one.people for one in shelters), shelters=shelters)
    return make_plan(unit=unit, camp=CampSettings(spacing_m=spacing_m, layout=LayoutSettings(**layout)))


def level_terrain(shape, **known):
    ground = make_ground(np.full(shape, 300.0), SPRUCE)
    return make_terrain(ground, **known)


def laid_out(plan, mask, terrain=None):
    terrain = terrain or level_terrain(mask.shape)
    return choose_places(mask, (0, 0), plan, terrain), terrain


def spots_of(layout, *, turn_deg=0.0):
    """Middle and footprint of every shelter, with joined ones turned as told."""
    along = np.radians(turn_deg)
    return [
        (one, place_m + offset_m * 0.9996 * np.array((np.sin(along), np.cos(along))))
        for stand, place_m in zip(layout.stands, layout.places_m, strict=True)
        for one, offset_m in zip(stand.shelters, stand.offsets_m, strict=True)
    ]


def broken_rules(layout, plan, mask, grid, *, turn_deg=0.0):
    """Every rule that a layout breaks, judged with shapes alone."""
    told = []
    spots = spots_of(layout, turn_deg=turn_deg)
    scale = 0.9996  # of the zone at its middle line
    names = {one.name for one, _ in spots}
    for (one, here), (other, there) in itertools.combinations(spots, 2):
        apart_m = np.hypot(*(here - there)) / scale
        is_pair = one.joined_to == other.name or other.joined_to == one.name
        if is_pair and any(len(stand.shelters) == 2 for stand in layout.stands):
            if abs(apart_m - (one.kind.footprint_m + other.kind.footprint_m) / 2.0) > 0.01:
                told.append(f"{one.name} and {other.name} don't touch: {apart_m}")
        elif apart_m < plan.camp.spacing_m:
            told.append(f"{one.name} and {other.name} stand {apart_m} m apart")
    for one, (east_m, north_m) in spots:
        disc = shapely.Point(east_m, north_m).buffer(one.kind.footprint_m * scale / 2.0 - 0.02, quad_segs=32)
        west, south, east, north = disc.bounds
        (top, left), (bottom, right) = grid.cell_at(west, north), grid.cell_at(east, south)
        for row, col in itertools.product(range(top, bottom + 1), range(left, right + 1)):
            middle_east, middle_north = grid.cell_centre_m(row, col)
            cell = shapely.box(middle_east - 5, middle_north - 5, middle_east + 5, middle_north + 5)
            inside = 0 <= row < grid.rows and 0 <= col < grid.cols and mask[row, col]
            if disc.intersects(cell) and not inside:
                told.append(f"{one.name} covers the cell {row}, {col}")
    assert len(names) == len(spots)
    return told


@pytest.mark.slow
@settings(max_examples=30, deadline=None, derandomize=True)
@given(
    seed=st.integers(0, 10_000),
    share=st.floats(0.2, 1.0),
    spacing_m=st.floats(3.0, 70.0),
    count=st.integers(1, 12),
    joined=st.booleans(),
    turn_deg=st.floats(0.0, 360.0),
)
def test_no_rule_is_broken_whatever_the_ground(seed, share, spacing_m, count, joined, turn_deg):
    mask = np.random.default_rng(seed).random((14, 17)) < share
    shelters = [shelter(f"Tent {k}", f"Section {k // 3}", kind=(TEN, FIVE)[k % 2]) for k in range(count)]
    if joined and count > 1:
        shelters[1] = replace(shelters[1], joined_to="Tent 0")
    plan = plan_of(*shelters, spacing_m=spacing_m)
    slope = made_relief(14, 17, seed=seed, height_m=9.0)
    layout, terrain = laid_out(plan, mask, level_terrain(mask.shape, slope_deg=slope, slope_30m_deg=slope))
    assert broken_rules(layout, plan, mask, terrain.grid, turn_deg=turn_deg) == []
    steepest = slope[mask].max() if mask.any() else 0.0
    assert all(
        slope_under(terrain, *place, one.kind.footprint_m - 0.05) <= steepest
        for one, place in spots_of(layout, turn_deg=turn_deg)
    )
    again, _ = laid_out(plan, mask, terrain)
    assert (again.places_m == layout.places_m).all()


@pytest.mark.parametrize(
    ("drawn", "count"),
    [
        (["#"], 1),  # one cell
        (["######", "#....#", "#....#", "#....#", "######"], 5),  # a ring
        (["##....##", "##....##"], 2),  # two islands
        (["........"], 0),
    ],
)
def test_ground_of_any_shape_takes_what_fits(drawn, count):
    mask = np.array([[sign == "#" for sign in line] for line in drawn])
    plan = plan_of(*(shelter(f"Tent {k}", "One") for k in range(7)), spacing_m=26.0)
    layout, terrain = laid_out(plan, mask)
    assert len(layout.stands) == len(layout.places_m) >= count
    assert (count == 0) == (len(layout.stands) == 0)
    assert broken_rules(layout, plan, mask, terrain.grid) == []


def test_a_spacing_that_only_just_fits_is_kept():
    # Two footprints of 4 m in opposite corners of 60 x 10 m of ground: the root of 56² + 6² is 56.3 m.
    mask = np.ones((1, 6), bool)
    for spacing_m, count in ((56.0, 2), (56.5, 1)):
        plan = plan_of(shelter("One", "A"), shelter("Two", "A"), spacing_m=spacing_m)
        layout, terrain = laid_out(plan, mask)
        assert len(layout.stands) == count
        assert broken_rules(layout, plan, mask, terrain.grid) == []


def test_shelters_wider_than_the_spacing_do_not_overlap():
    plan = plan_of(*(shelter(f"Tent {k}", "A", kind=TEN) for k in range(4)), spacing_m=3.0)
    layout, _ = laid_out(plan, np.ones((6, 6), bool))
    apart = [np.hypot(*(one - other)) for one, other in itertools.combinations(layout.places_m, 2)]
    assert min(apart) >= 5.3 * 0.9996


def test_two_joined_shelters_touch_and_count_once():
    # Room for three stands in a row, not for four.
    mask = np.ones((2, 10), bool)
    tents = [shelter(name, "A", kind=FIVE) for name in ("One", "Two", "Three")]
    aid = [*tents, shelter("Aid post's store", "A", kind=FIVE, joined_to="Two")]
    plan = plan_of(*aid, spacing_m=40.0)
    layout, terrain = laid_out(plan, mask)
    assert [len(stand.shelters) for stand in layout.stands] == [1, 2, 1]
    assert broken_rules(layout, plan, mask, terrain.grid, turn_deg=90.0) == []


def test_joined_shelters_that_find_no_room_together_stand_apart():
    mask = np.zeros((1, 9), bool)
    mask[0, [0, 8]] = True  # two cells that hold a tent each
    plan = plan_of(shelter("One", "A", kind=TEN), shelter("Two", "A", kind=TEN, joined_to="One"), spacing_m=40.0)
    layout, _ = laid_out(plan, mask)
    assert [len(stand.shelters) for stand in layout.stands] == [1, 1]


def test_a_level_sheltered_hollow_draws_the_camp():
    slope = np.full((40, 40), 5.0, np.float32)
    slope[20:32, 22:34] = 0.5
    terrain = level_terrain((40, 40), slope_30m_deg=slope)
    tents = [shelter(f"Tent {k}", "A") for k in range(5)]
    on_level = {}
    for cost in (0.0, 1.0):
        layout, _ = laid_out(plan_of(*tents, slope_cost=cost), np.ones((40, 40), bool), terrain)
        cells = [terrain.grid.cell_at(*place) for place in layout.places_m.tolist()]
        on_level[cost] = sum(slope[cell] < 1.0 for cell in cells)
    assert on_level[1.0] == 5
    assert on_level[0.0] < 5


def test_ground_of_unknown_slope_or_wind_is_taken_at_its_worst():
    terrain = level_terrain((5, 5), slope_30m_deg=np.nan, wind_share=np.nan)
    cost = place_cost((5, 5), (0, 0), plan_of(shelter("One", "A")), terrain)
    assert cost == pytest.approx(0.1 * 10.0 + 1.0)


def sharing_of(plan, mask, **known):
    layout, _ = laid_out(plan, mask)
    values = {"has_trees": np.ones(len(layout.stands), bool), "entry_m": (500_000.0, 7_479_800.0), **known}
    return Sharing(layout=layout, spacing_m=plan.camp.spacing_m, **values)


def within_sections(shared):
    total = 0.0
    for (one, here), (other, there) in itertools.combinations(shared, 2):
        if one.section == other.section:
            total += np.hypot(here[0] - there[0], here[1] - there[1])
    return total


@pytest.mark.parametrize("seed", range(3))
def test_each_sections_shelters_stand_together(seed):
    random = np.random.default_rng(seed)
    order = random.permutation(12)
    tents = [shelter(f"Tent {k}", f"Section {k % 4}") for k in order.tolist()]
    plan = plan_of(shelter("Leader", "Staff", is_leaders=True), *tents)
    sharing = sharing_of(plan, np.ones((40, 40), bool))
    shared = who_goes_where(sharing)
    ours = within_sections(shared)
    tried = []
    for _ in range(300):
        places = [place for _, place in shared[1:]]
        random.shuffle(places)
        tried.append(within_sections(list(zip([stand for stand, _ in shared[1:]], places, strict=True))))
    assert ours <= min(tried)


def test_the_leader_has_the_shortest_ways_to_everyone():
    tents = [shelter(f"Tent {k}", f"Section {k}") for k in range(9)]
    plan = plan_of(*tents, shelter("Leader", "Staff", is_leaders=True), shelter("Second", "Staff", is_leaders=True))
    shared = who_goes_where(sharing_of(plan, np.ones((40, 40), bool)))
    places = np.array([place for _, place in shared])
    ways = np.hypot(*(places[:, None] - places[None]).transpose(2, 0, 1)).sum(axis=1)
    assert int(np.argmin(ways)) == 0
    assert shared[0][0].is_leaders
    assert shared[1][0].is_leaders
    away = np.hypot(*(places - places[0]).T)
    assert away[1] <= away[2:].min() + 1e-6


def test_a_lean_to_goes_where_the_trees_are():
    tents = [shelter(f"Tent {k}", f"Section {k}") for k in range(4)]
    lean_to = shelter("Lean-to", "Section 9", kind=shelter_kind("lean_to"))
    plan = plan_of(*tents, lean_to)
    for tree in range(1, 5):
        sharing = sharing_of(plan, np.ones((30, 30), bool), has_trees=np.arange(5) == tree)
        shared = {stand.shelters[0].name: place for stand, place in who_goes_where(sharing)}
        assert shared["Lean-to"] == pytest.approx(tuple(sharing.layout.places_m[tree]))


def test_stands_are_the_leaders_first_and_joined_ones_once():
    unit = (shelter("A", "1"), shelter("B", "1", joined_to="A"), shelter("C", "2", is_leaders=True))
    names = [[one.name for one in stand.shelters] for stand in stands_of(unit)]
    assert names == [["C"], ["A", "B"]]
    assert len(stands_of(unit, joined=False)) == 3


@pytest.mark.benchmark
@pytest.mark.parametrize(("count", "limit_s"), [(5, 0.2), (15, 0.3)])
def test_a_layout_on_forty_hectares_takes_a_moment(count, limit_s):
    slope = made_relief(64, 64, seed=1, height_m=8.0)
    terrain = level_terrain((64, 64), slope_30m_deg=slope)
    tents = [shelter(f"Tent {k}", f"Section {k}", kind=TEN) for k in range(count)]
    plan = plan_of(*tents, spacing_m=54.864)
    mask = slope < 6.0
    laid_out(plan, mask, terrain)
    begin = time.perf_counter()
    layout, _ = laid_out(plan, mask, terrain)
    took_s = time.perf_counter() - begin
    print(f"{count} shelters on {mask.sum() / 100:.0f} ha: {took_s:.3f} s")
    assert len(layout.stands) == count
    assert took_s <= limit_s
