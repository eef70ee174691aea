"""Who does what on arrival and through the night."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, time, timedelta, timezone
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sitepick.camp import lay_out_camp
from sitepick.camp.crew import Crew, Hands
from sitepick.camp.duties import PER_POST, manned_posts
from sitepick.plan.work_order import WorkSettings
from sitepick.sites import find_sites
from tests.helpers.made import SPRUCE, make_ground, make_plan, make_terrain
from tests.helpers.made_march import make_march

NOON = datetime(2027, 2, 11, 12, 0, tzinfo=timezone(timedelta(hours=1)))


def camp_of(people=38, *, pitching_min=75.0, **work):
    ground = make_ground(np.full((90, 90), 300.0), SPRUCE)
    plan = make_plan(ground, people=people)
    plan = replace(plan, camp=replace(plan.camp, work=WorkSettings(**work)))
    plan = replace(plan, march=replace(plan.march, pitching_min=pitching_min))
    terrain, march = make_terrain(ground), make_march(plan, ground)
    sites = find_sites(plan, ground, terrain, march)
    return lay_out_camp(plan, ground, terrain, march, sites), plan, march, sites.sites[0]


def busy_at(jobs, moment):
    """People at work at a moment, by section."""
    busy = {}
    for job in jobs:
        if job.begin <= moment < job.end and job.who != "Leader":
            busy[job.who] = busy.get(job.who, 0) + job.people
    return busy


@pytest.mark.slow
@pytest.mark.parametrize("people", [1, 2, 9, 38, 150])
def test_nobody_does_two_things_at_once(people):
    camp, plan, _, site = camp_of(people)
    heads = {}
    for shelter in plan.unit.shelters:
        heads[shelter.section] = heads.get(shelter.section, 0) + shelter.people
    for minute in range(0, 400, 5):
        for section, count in busy_at(camp.work.jobs, site.arrive + timedelta(minutes=minute)).items():
            assert count <= heads[section]


@pytest.mark.slow
def test_shelters_are_up_when_the_timetable_says_so_and_everything_is_done_by_dark():
    camp, _, march, site = camp_of()
    pitched = [job for job in camp.work.jobs if "pitch" in job.what]
    assert len(pitched) == len(camp.shelters)
    up = site.arrive + timedelta(minutes=75.0)
    assert all(abs((job.end - up).total_seconds()) < 60.0 for job in pitched)
    assert camp.work.is_done_by_dark == (camp.work.ready <= march.useful_light_end)


@pytest.mark.slow
def test_security_comes_before_all_other_work():
    camp, _, _, site = camp_of()
    manned = [job for job in camp.work.jobs if job.what.startswith("Man post")]
    assert len(manned) == len(camp.security.posts)
    assert all(job.begin <= site.arrive for job in manned)
    assert all(job.who != "Leaders" for job in manned)


@pytest.mark.slow
def test_a_single_person_does_one_thing_after_the_other():
    camp, _, _, _ = camp_of(1)
    own = sorted((job for job in camp.work.jobs if job.who != "Leader"), key=lambda job: job.begin)
    assert len(own) >= 3
    assert all(one.end <= following.begin for one, following in pairwise(own))


@pytest.mark.slow
def test_wood_is_only_cut_where_the_user_says_that_it_may_be():
    camp, _, _, _ = camp_of()
    assert camp.work.boughs_m3 is None
    assert not any("Cut" in job.what for job in camp.work.jobs)
    allowed, _, _, _ = camp_of(may_cut_boughs=True, may_gather_firewood=True)
    assert allowed.work.boughs_m3 == pytest.approx(38 * 0.315)  # common practice: a bed 25 cm deep, 0.7 by 1.8 m
    assert allowed.work.firewood_m3 == pytest.approx(38 * 0.04)  # common practice: 0.4 m³ a night for ten
    assert any("Cut" in job.what for job in allowed.work.jobs)


@pytest.mark.slow
def test_without_water_snow_and_fuel_to_melt_it_are_told():
    camp, _, _, _ = camp_of()
    assert camp.work.snow_l == pytest.approx(38 * 5.5 * 5.0)  # 200 kg/m³: five litres of snow for one of water
    assert camp.work.fuel_l > 5.0


@pytest.mark.slow
@pytest.mark.parametrize("hours_max", [0.5, 2.0, 8.0])
def test_the_night_is_watched_without_a_gap_and_nobody_longer_than_may_be_asked(hours_max):
    camp, plan, _, _ = camp_of(60, sentry_hours_max=hours_max)
    turns = [turn for turn in camp.work.turns if turn.duty.startswith("Post")]
    posts = {turn.duty for turn in turns}
    assert posts
    for post in posts:
        own = [turn for turn in turns if turn.duty == post]
        assert own[0].begin == camp.work.ready
        assert all(one.end == following.begin for one, following in pairwise(own))
        assert own[-1].end.time() == time(6, 0)
    hours = sum((turn.end - turn.begin).total_seconds() for turn in turns) / 3600.0 * PER_POST
    people = sum(shelter.people for shelter in plan.unit.shelters if not shelter.is_leaders)
    assert hours / people <= hours_max or len(posts) == 1


@pytest.mark.slow
def test_the_posts_manned_at_night_are_those_that_see_most():
    camp, plan, _, _ = camp_of(38)
    manned = manned_posts(plan, camp, camp.work.ready)
    others = [post for post in camp.security.posts if post not in manned]
    assert min(post.seen_frac for post in manned) >= max((post.seen_frac for post in others), default=0.0)


@pytest.mark.slow
def test_ice_is_only_tested_where_water_is_drawn():
    camp, _, _, _ = camp_of()
    assert not any("ice" in tick for tick in camp.work.ticks)
    assert any("Probe" in tick for tick in camp.work.ticks)


@settings(max_examples=60, deadline=None, derandomize=True)
@given(
    people=st.lists(st.integers(1, 12), min_size=1, max_size=6),
    work=st.lists(st.tuples(st.floats(1.0, 300.0), st.integers(1, 8)), max_size=8),
)  # fmt: skip
def test_work_goes_to_who_is_done_first_and_none_is_lost(people, work):
    crew = Crew(hands=[Hands(section=f"Section {k}", people=count, free=NOON) for k, count in enumerate(people)])
    for person_min, most in work:
        job = crew.share("work", person_min, most=most, not_before=NOON)
        assert job.begin >= NOON
        assert job.people <= most
        assert (job.end - job.begin).total_seconds() / 60.0 * job.people == pytest.approx(person_min, rel=1e-6)
        assert sum(some.people for some in crew.hands) == sum(people)
    assert crew.share("nothing", 0.0, most=2, not_before=NOON) is None
