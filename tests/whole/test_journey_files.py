"""Several days as a real process on a piece of the sample: files, exit code, what they say."""

from __future__ import annotations

import json
from dataclasses import replace

import pyogrio
import pytest

from sitepick.plan import read_plan, write_plan
from sitepick.plan.journey import JourneySettings
from sitepick.resource import sample_path
from tests.whole.test_command_line import sitepick

pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def journey(tmp_path_factory):
    """The sample's first kilometres in two days."""
    folder = tmp_path_factory.mktemp("journey")
    plan = read_plan(sample_path("ulvmark_days.geojson"))
    short = replace(
        plan,
        route=replace(plan.route, points=plan.route.points[:6]),
        alternatives=(),
        journey=JourneySettings(days_max=2, hours_max=6.0),
    )
    write_plan(short, folder / "short.geojson")
    done = sitepick("journey", folder / "short.geojson", "--out", folder / "out")
    assert done.returncode == 0, done.stderr
    return folder / "out", done


def test_the_journey_leaves_the_files_that_it_promises(journey):
    folder, done = journey
    assert sorted(path.name for path in folder.iterdir()) == [
        "comparison.pdf", "day-1.md", "day-1.pdf", "journey.gpkg", "journey.json",
    ]  # fmt: skip
    assert "Day 1, 11 February" in done.stdout


def test_the_document_and_the_layers_tell_the_same_night(journey):
    folder, _ = journey
    (route,) = json.loads((folder / "journey.json").read_text())["routes"]
    first, last = route["days"]
    nights = pyogrio.read_dataframe(folder / "journey.gpkg", layer="nights")
    assert list(nights["name"]) == [first["night"]["name"]]
    assert last["night"] is None
    assert first["arrive"] <= first["camp_by"]


def test_the_days_own_answer_ends_at_the_night_of_the_chain(journey):
    folder, _ = journey
    (route,) = json.loads((folder / "journey.json").read_text())["routes"]
    day = route["days"][0]
    assert day["detail"]["site"].lower().endswith(day["night"]["name"].lower())
    assert day["detail"]["arrive"][:15] == day["arrive"][:15]
    assert day["detail"]["score"] == pytest.approx(day["night"]["score"], abs=2.0)


def test_no_folder_is_a_fault_of_usage():
    assert sitepick("journey", sample_path("ulvmark_days.geojson")).returncode == 2
