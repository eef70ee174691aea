"""Every value that a person decides can be shown and checked the same way everywhere."""

from __future__ import annotations

import dataclasses

import pytest

from sitepick import errors
from sitepick.plan import avalanche, exercise, mark, model, pace, weighting
from sitepick.plan.facility import FacilitySettings
from sitepick.plan.factor import Factor
from sitepick.plan.handout import HandoutSettings
from sitepick.plan.journey import DayForecast, JourneyPoint, JourneySettings, PinnedNight
from sitepick.plan.kit import KitItem
from sitepick.plan.load import LoadSettings
from sitepick.plan.observer import Observer
from sitepick.plan.security import SecuritySettings
from sitepick.plan.setting import Setting
from sitepick.plan.work_order import WorkSettings

PARTS = (
    model.GroundSource,
    model.Unit,
    model.Weather,
    avalanche.AvalancheSettings,
    model.MarchSettings,
    pace.ModePace,
    pace.PaceSettings,
    Factor,
    model.Preferences,
    model.CampSettings,
    Observer,
    FacilitySettings,
    SecuritySettings,
    weighting.Weighting,
    WorkSettings,
    LoadSettings,
    KitItem,
    HandoutSettings,
    JourneySettings,
    JourneyPoint,
    PinnedNight,
    DayForecast,
    mark.Mark,
    exercise.Rubric,
    exercise.Overrule,
    exercise.PlacedThing,
)


def described_settings():
    for part in PARTS:
        for field in dataclasses.fields(part):
            described = field.metadata.get("sitepick.setting")
            if isinstance(described, Setting):
                yield pytest.param(field.name, described, id=f"{part.__name__}.{field.name}")


@pytest.mark.parametrize(("name", "described"), list(described_settings()))
def test_a_number_that_carries_a_unit_in_its_name_shows_that_unit(name, described):
    shown = {
        "_person_min": "person-minutes",
        "_min": "min",
        "_m": "m",
        "_cm": "cm",
        "_kmh": "km/h",
        "_deg": "°",
        "_c": "°C",
        "_kg": "kg",
        "_kcal": "kcal",
    }
    for ending, unit in shown.items():
        if name.endswith(ending) and described.low is not None:
            assert described.unit == unit
            break
    assert described.label


@pytest.mark.parametrize(
    "kind",
    [kind for kind in vars(errors).values() if isinstance(kind, type) and issubclass(kind, errors.SitepickError)],
)
def test_every_error_says_what_and_where_and_what_to_do(kind):
    fault = kind("the file is empty", where="a.tif", fix="choose another")
    assert str(fault) == "a.tif: the file is empty; choose another."
    with pytest.raises(TypeError):
        kind("without a way out")
