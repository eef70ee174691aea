"""An exercise from end to end as real processes: a pack that gives nothing away, then a class of twenty assessed."""

from __future__ import annotations

import csv
import json
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from pypdf import PdfReader

from sitepick.plan.exercise import AskedParts, Exercise, HandedIn, PlacedThing
from sitepick.plan.file import read_plan, write_plan
from sitepick.plan.mark import Mark

pytestmark = pytest.mark.slow
ROOT = Path(__file__).resolve().parents[2]
SECRET = "Qz7secretmark"
NAMES = tuple(f"Trainee {number:02d}" for number in range(1, 21))


def sitepick(*words):
    return subprocess.run(
        [sys.executable, "-m", "sitepick", *map(str, words)], cwd=ROOT, capture_output=True, text=True, check=False
    )


def lonlat(answer, east_m, north_m):
    lon, lat = answer.ground.grid.to_lonlat(east_m, north_m)
    return float(lon), float(lat)


@pytest.fixture(scope="module")
def trainers(sample_plan, sample_answer, tmp_path_factory):
    """The trainer's plan in a file: one mark that all see, one that trainees don't."""
    folder = tmp_path_factory.mktemp("exercise")
    route = sample_answer.march.route_m
    marks = (
        Mark(kind="check_point", points=(lonlat(sample_answer, *route[len(route) // 2]),), name="Old hut"),
        Mark(kind="other", points=(lonlat(sample_answer, *route[-1]),), name=SECRET, seen_by="trainer"),
    )
    exercise = Exercise(title="A winter night", task="Find the place.", marks=marks, trainees=(*NAMES, "Absent"))
    plan = replace(sample_plan, exercise=replace(exercise, asked=AskedParts(has_layout=True)))
    write_plan(plan, folder / "trainer.geojson")
    return folder, plan


@pytest.fixture(scope="module")
def pack(trainers):
    folder, _ = trainers
    done = sitepick("pack", folder / "trainer.geojson", "--out", folder / "pack")
    assert done.returncode == 0, done.stderr
    return folder / "pack"


def test_the_pack_gives_nothing_away_in_any_of_its_files(pack, sample_answer, trainers):
    _, plan = trainers
    secrets = [SECRET, plan.name, *(site.name for site in sample_answer.sites.sites)]
    files = sorted(pack.iterdir())
    assert len(files) == 1 + 1 + len(NAMES) + 1
    for path in files:
        text = "\n".join(page.extract_text() for page in PdfReader(path).pages) if path.suffix == ".pdf" else ""
        data = path.read_bytes() + text.encode()
        assert [secret for secret in secrets if secret.encode() in data] == [], path.name
    for site in sample_answer.sites.sites:
        place = f"{lonlat(sample_answer, site.east_m, site.north_m)[0]:.5f}"
        assert not any(place.encode() in path.read_bytes() for path in files)


def class_rows(answer):
    """Twenty picks: the best, others over the ground in reach, some past limits, by grid references."""
    grid, rng = answer.ground.grid, np.random.default_rng(20)
    cells = np.argwhere(answer.sites.can_pitch)
    rows = [["trainee", "pick", "alternate", "arrive", "ready", "reasons"]]
    for number, name in enumerate(NAMES[1:], start=2):
        row, col = cells[rng.integers(len(cells))]
        east_m, north_m = grid.cell_centre_m(row, col)
        if number % 6 == 0:
            east_m += 1500.0
        reference = grid.mgrs(east_m, north_m)
        digits = 8 if number % 2 else 10
        half = digits // 2
        short = f"{reference[:3]} {reference[3:5]} {reference[5 : 5 + half]} {reference[10 : 10 + half]}"
        rows.append(
            [name, short, "", f"{12 + number % 4}:30", f"{14 + number % 4}:15", "Near water" if number % 3 else ""]
        )
    return rows


@pytest.fixture(scope="module")
def assessed(trainers, pack, sample_answer):
    """The first trainee hands in the plan file of the pack with the program's own answer in it, the rest a table."""
    folder, _ = trainers
    picks = folder / "picks"
    picks.mkdir()
    site, alternate = sample_answer.sites.sites[0], sample_answer.sites.alternate
    copy = read_plan(pack / "trainee-trainee-01.geojson")
    layout = tuple(
        PlacedThing(
            what=one.shelter.name, place=lonlat(sample_answer, one.east_m, one.north_m),
            door_deg=one.door_bearing_deg % 360.0,
        )
        for one in sample_answer.camp.shelters
    ) + tuple(
        PlacedThing(what=one.name.split(",")[0], place=lonlat(sample_answer, one.east_m, one.north_m))
        for one in sample_answer.camp.facilities
    )  # fmt: skip
    handed_in = HandedIn(
        trainee=NAMES[0], pick=lonlat(sample_answer, site.east_m, site.north_m),
        alternate=lonlat(sample_answer, alternate.east_m, alternate.north_m), layout=layout,
    )  # fmt: skip
    write_plan(replace(copy, exercise=replace(copy.exercise, handed_in=handed_in)), picks / "first.geojson")
    with (picks / "class.csv").open("w", newline="", encoding="utf-8") as handle:
        csv.writer(handle).writerows(class_rows(sample_answer))
    done = sitepick("assess", folder / "trainer.geojson", picks, "--out", folder / "assessed")
    assert done.returncode == 0, done.stderr
    return folder / "assessed", done


def test_a_class_of_twenty_is_assessed(assessed):
    folder, done = assessed
    document = json.loads((folder / "assessment.json").read_text())
    assert [one["trainee"] for one in document["trainees"]] == list(NAMES)
    assert document["class"]["absent"] == ["Absent"]
    assert document["class"]["count"] == 20
    first = document["trainees"][0]
    assert first["notes"] == []
    items = {item["item"]: item for item in first["items"]}
    for item in ("limits", "ground", "alternate", "layout"):
        assert items[item]["points"] == pytest.approx(items[item]["worth"]), items[item]["sentence"]
    assert all(0.0 <= one["percent"] <= 100.0 for one in document["trainees"])
    spread = document["class"]["spread_percent"]
    assert spread["lowest"] < spread["middle"] < spread["highest"]
    assert document["class"]["missed_factors"][0]["count"] >= 1
    assert all(name in done.stdout for name in NAMES)
    assert "Absent: nothing handed in." in done.stdout


def test_better_ground_never_gets_fewer_points_in_the_class(assessed):
    folder, _ = assessed
    document = json.loads((folder / "assessment.json").read_text())
    held = []
    for one in document["trainees"]:
        points = sum(item["points"] for item in one["items"] if item["item"] in ("limits", "ground"))
        held.append((one["pick"]["room_share"], one["pick"]["score"], points))
    for room, score, points in held:
        assert all(points <= other[2] + 0.01 for other in held if other[0] >= room and other[1] >= score)


def test_everyone_gets_a_debrief_and_the_trainer_the_class(assessed):
    folder, _ = assessed
    names = {path.name for path in folder.iterdir()}
    assert {"assessment.json", "class.csv", "class.pdf"} <= names
    debriefs = sorted(name for name in names if name.startswith("debrief-"))
    assert len(debriefs) == 20
    text = "\n".join(page.extract_text() for page in PdfReader(folder / debriefs[4]).pages)
    assert "debrief for Trainee 05" in text
    assert "Trainee 06" not in text
    assert len((folder / "class.csv").read_text(encoding="utf-8-sig").splitlines()) == 22


def test_bad_references_are_one_sentence_and_nothing_is_written(trainers, tmp_path):
    folder, _ = trainers
    (tmp_path / "bad.csv").write_text("trainee,pick\nAino,34WDA12\nBo,34WDA674I326991\n")
    done = sitepick("assess", folder / "trainer.geojson", tmp_path / "bad.csv", "--out", tmp_path / "out")
    assert done.returncode == 3
    assert "row 2, column pick: '34WDA12'" in done.stderr
    assert "row 3, column pick" in done.stderr
    assert "Traceback" not in done.stderr
    assert not (tmp_path / "out").exists()
