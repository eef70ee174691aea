"""The day's bulletin and fresh snow, as the plan holds them."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest

from sitepick.errors import SettingsError
from sitepick.plan.avalanche import AvalancheSettings
from sitepick.plan.file import read_plan, write_plan
from tests.helpers.made import make_plan


def test_the_settings_come_back_from_the_file_as_they_went(tmp_path):
    settings = AvalancheSettings(bulletin_level=4, fresh_24h_cm=35.0, fresh_72h_cm=60.0, runout_deg=20.0, path_deg=17.0)
    plan = replace(make_plan(), avalanche=settings)
    write_plan(plan, tmp_path / "plan.geojson")
    assert read_plan(tmp_path / "plan.geojson").avalanche == settings


def test_an_older_plan_without_them_takes_the_usual_limits_and_knows_no_bulletin(tmp_path):
    path = tmp_path / "plan.geojson"
    write_plan(make_plan(), path)
    document = json.loads(path.read_text())
    del document["sitepick"]["avalanche"]
    path.write_text(json.dumps(document))
    assert read_plan(path).avalanche == AvalancheSettings()


@pytest.mark.parametrize("level", [0, 6, -1])
def test_a_level_off_the_scale_is_told(level):
    with pytest.raises(SettingsError, match="level of the bulletin"):
        AvalancheSettings(bulletin_level=level)


@pytest.mark.parametrize(
    ("level", "above"), [(None, 0), (1, 0), (2, 0), (3, 1), (4, 2), (5, 3)]
)  # European scale: 3, considerable, is where most are caught
def test_levels_up_to_moderate_change_nothing(level, above):
    assert AvalancheSettings(bulletin_level=level).levels_above_usual == above


@pytest.mark.parametrize(
    ("day_cm", "days_cm", "level"),
    [(None, None, None), (29.0, 49.0, None), (30.0, None, 3), (50.0, None, 4), (10.0, 50.0, 3), (None, 80.0, 4),
     (30.0, 120.0, 5), (50.0, 50.0, 4)],
)  # fmt: skip
def test_fresh_snow_counts_as_a_level_of_its_own(day_cm, days_cm, level):
    # From memory of common practice: 30 cm in a day or 50 cm in three days is where slides become likely.
    assert AvalancheSettings(fresh_24h_cm=day_cm, fresh_72h_cm=days_cm).fresh_level == level


def test_the_graver_of_bulletin_and_fresh_snow_counts():
    assert AvalancheSettings(bulletin_level=2, fresh_24h_cm=50.0).levels_above_usual == 2
    assert AvalancheSettings(bulletin_level=5, fresh_24h_cm=30.0).levels_above_usual == 3


def test_what_is_known_of_the_day_is_told_in_one_sentence():
    assert AvalancheSettings().day_words() == "No bulletin is known here."
    assert AvalancheSettings(fresh_72h_cm=40.0).day_words() == "No bulletin is known here, fresh snow 40 cm in 72 h."
    both = AvalancheSettings(bulletin_level=3, fresh_24h_cm=20.0, fresh_72h_cm=45.0)
    assert both.day_words() == "The bulletin says level 3, considerable, fresh snow 20 cm in 24 h and 45 cm in 72 h."
