"""Values that are allowed and still look like a slip."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sitepick.plan.doubt import plan_cautions
from sitepick.plan.model import Unit
from sitepick.plan.shelter import shelters_for
from tests.helpers.made import make_plan


def told(plan):
    return " ".join(caution.text for caution in plan_cautions(plan))


@pytest.mark.parametrize(("people", "is_doubtful"), [(9, True), (10, False), (150, False), (151, True)])
def test_a_unit_smaller_or_larger_than_the_rates_are_made_for_is_told(people, is_doubtful):
    plan = replace(make_plan(), unit=Unit(people=people, shelters=shelters_for(people)))
    assert (f"says {people}" in told(plan)) == is_doubtful


def test_snow_in_the_warm_and_skis_without_snow_are_told():
    plan = make_plan()
    warm = replace(plan, weather=replace(plan.weather, temperature_c=40.0, snow_cm=30.0))
    assert "40 °C and 30 cm of snow" in told(warm)
    bare = replace(plan, weather=replace(plan.weather, temperature_c=-4.0, snow_cm=0.0))
    skis = replace(bare, march=replace(bare.march, mode="ski"))
    assert "there is no snow" in told(skis)
    assert "no snow" not in told(replace(bare, march=replace(bare.march, mode="foot")))


def test_a_usual_plan_leaves_nothing_in_doubt():
    plan = replace(make_plan(), unit=Unit(people=38, shelters=shelters_for(38)))
    assert told(replace(plan, weather=replace(plan.weather, temperature_c=-20.0, snow_cm=60.0))) == ""
