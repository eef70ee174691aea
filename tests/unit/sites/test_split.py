"""Where no place holds the whole unit, two near ones may."""

from __future__ import annotations

import numpy as np
import pytest
import shapely
from scipy.spatial.distance import pdist

from sitepick.plan.model import CampSettings
from tests.helpers.made import LAKE, SPRUCE, make_plan
from tests.unit.sites.made_sites import only, sites_on, spruce

LEFT, RIGHT, FAR = (10, 22, 5, 17), (10, 22, 30, 37), (40, 52, 100, 112)  # for 9, 6 and 9 shelters


def split_on(*boxes, people=90, cover=None, cols=130, **known):
    slope = only(*boxes, rows=60, cols=cols)
    cover = spruce(60, cols) if cover is None else cover
    return sites_on(cover, plan=make_plan(people=people), slope_30m_deg=slope, slope_deg=slope, **known)


def test_two_groves_take_the_unit_that_neither_holds():
    sites = split_on(LEFT, RIGHT)
    assert not sites.sites
    split = sites.split
    larger, smaller = split.parts
    assert len(larger.shelters) + len(smaller.shelters) == sites.need_count
    assert set(larger.shelters).isdisjoint(smaller.shelters)
    assert len(larger.shelters) <= larger.capacity < sites.need_count
    assert len(smaller.shelters) <= smaller.capacity
    assert larger.people + smaller.people == 90
    assert "Leader's tent" in larger.shelters
    assert larger.east_m < smaller.east_m
    between = np.hypot(larger.east_m - smaller.east_m, larger.north_m - smaller.north_m)
    assert split.apart_m == pytest.approx(between, rel=1e-3)
    assert larger.outline_m.intersection(smaller.outline_m).area == 0.0
    assert all(name in split.text for name in (*smaller.shelters, larger.name, smaller.name))
    assert any("two watches" in caution.text for caution in split.cautions)


def test_the_near_grove_is_taken_rather_than_one_far_away():
    near = split_on(LEFT, RIGHT, FAR).split
    assert near.apart_m < 400.0


def test_groves_too_far_apart_are_no_split():
    sites = split_on((5, 17, 2, 14), (40, 52, 180, 192), cols=200)
    assert not sites.sites
    assert sites.split is None


def test_no_split_with_avalanche_ground_in_between():
    is_bad = np.zeros((60, 130), bool)
    is_bad[:, 21:25] = True
    assert split_on(LEFT, RIGHT, is_avalanche_runout=is_bad).split is None
    assert split_on(LEFT, RIGHT).split is not None


def test_water_in_between_is_told():
    cover = np.full((60, 130), SPRUCE)
    cover[:, 22:24] = LAKE
    split = split_on(LEFT, RIGHT, cover=cover).split
    assert any("water" in caution.text for caution in split.cautions)


def test_one_shelter_is_never_split_and_a_unit_that_fits_is_whole():
    assert split_on((10, 11, 10, 11), people=8).split is None
    assert split_on((5, 55, 5, 55), people=30).split is None


def test_no_ground_makes_no_split():
    assert sites_on(np.full((20, 20), -1)).split is None


def test_a_unit_of_150_splits_over_a_bench_and_a_grove():
    sites = split_on((10, 13, 2, 62), (20, 32, 40, 52), people=150)
    assert not sites.sites
    assert sum(len(part.shelters) for part in sites.split.parts) == 16
    assert sum(part.people for part in sites.split.parts) == 150


def test_each_part_holds_what_it_says():
    from sitepick.sites.hindrance import unit_room
    from sitepick.sites.packing import THOROUGH, pack

    plan = make_plan(people=90, camp=CampSettings(spacing_m=54.864))
    slope = only(LEFT, RIGHT, rows=60, cols=130)
    sites = sites_on(spruce(60, 130), plan=plan, slope_30m_deg=slope, slope_deg=slope)
    room = unit_room(plan, sites.grid)
    for part, box in zip(sites.split.parts, (LEFT, RIGHT), strict=True):
        mask = np.zeros((60, 130), bool)
        mask[box[0] : box[1], box[2] : box[3]] = True
        places = pack(mask, room, THOROUGH)
        assert part.capacity <= len(places)
        assert pdist(places).min() >= room.spacing - 1e-9
        ground = shapely.box(sites.grid.west_m + box[2] * 10, sites.grid.north_m - box[1] * 10,
                             sites.grid.west_m + box[3] * 10, sites.grid.north_m - box[0] * 10)  # fmt: skip
        assert part.outline_m.difference(ground).area < 1e-6
