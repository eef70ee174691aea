"""The main job as a real process: files, exit codes, one sentence for bad input."""

from __future__ import annotations

import json
import shutil
import signal
import subprocess
import sys
from pathlib import Path

import pyogrio
import pytest

from sitepick.resource import sample_path, sample_plan_path

pytestmark = pytest.mark.slow
ROOT = Path(__file__).resolve().parents[2]


def sitepick(*words, **options):
    return subprocess.run(
        [sys.executable, "-m", "sitepick", *map(str, words)],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
        **options,
    )


@pytest.fixture(scope="module")
def handed_out(tmp_path_factory):
    folder = tmp_path_factory.mktemp("out") / "tonight"
    done = sitepick("tonight", sample_plan_path(), "--out", folder)
    assert done.returncode == 0, done.stderr
    return folder, done


def test_the_main_job_leaves_what_the_contract_lists(handed_out):
    folder, done = handed_out
    assert sorted(path.name for path in folder.iterdir()) == [
        "order.md", "order.txt", "score.tif", "sheet.pdf", "tonight.geojson", "tonight.gpkg",
        "tonight.gpx", "tonight.json", "tonight.kml",
    ]  # fmt: skip
    document = json.loads((folder / "tonight.json").read_text())
    assert document["schema"] == 1
    assert document["sites"][0]["name"] in done.stdout
    assert done.stderr == ""


def test_the_geopackage_holds_every_layer(handed_out):
    folder, _ = handed_out
    layers = {str(name) for name, _ in pyogrio.list_layers(folder / "tonight.gpkg")}
    assert layers >= {"route", "reach", "sites", "shelters", "facilities", "subareas", "posts", "hazards", "water"}


@pytest.mark.thorough
def test_json_goes_to_standard_output_alone():
    done = sitepick("tonight", sample_plan_path(), "--json")
    assert done.returncode == 0
    assert json.loads(done.stdout)["camp"]["shelters"]


def test_a_wrong_word_is_a_fault_of_usage():
    assert sitepick("tonight", sample_plan_path()).returncode == 2
    assert sitepick("tonight", "--nothing").returncode == 2


def test_layers_want_a_folder():
    done = sitepick("tonight", sample_plan_path(), "--layers", "--json")
    assert done.returncode == 2
    assert "--out DIR" in done.stderr


def test_a_missing_plan_is_one_sentence(tmp_path):
    done = sitepick("tonight", tmp_path / "none.geojson", "--out", tmp_path / "out")
    assert done.returncode == 3
    assert done.stderr.count("\n") == 1
    assert "there is no such file" in done.stderr
    assert not (tmp_path / "out").exists()


def edited_sample(folder: Path, change) -> Path:
    shutil.copytree(sample_path(), folder / "sample", ignore=shutil.ignore_patterns("*.py", "*.md"))
    path = folder / "sample" / sample_plan_path().name
    document = json.loads(path.read_text())
    change(document["sitepick"], document["features"])
    path.write_text(json.dumps(document))
    return path


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (lambda settings, features: settings["ground"].update(elevation=["gone.tif"]), "gone.tif"),
        (lambda settings, features: settings["unit"].update(people=0), "people is 0"),
        (lambda settings, features: settings["camp"].update(spacing_m=0), "spacing is 0"),
        (
            lambda settings, features: features[0]["geometry"].update(coordinates=[[10.0, 50.0], [10.1, 50.1]]),
            "route",
        ),
        (lambda settings, features: settings["ground"].update(legend="nlcd"), "cgls_lc100"),
    ],
    ids=["missing file", "nobody", "no spacing", "route elsewhere", "wrong legend"],
)
def test_bad_input_is_one_sentence_and_writes_nothing(tmp_path, change, words):
    path = edited_sample(tmp_path, change)
    done = sitepick("tonight", path, "--out", tmp_path / "out")
    assert done.returncode == 3, done.stdout + done.stderr
    assert words in done.stderr
    assert "Traceback" not in done.stderr
    assert done.stderr.count("\n") == 1
    assert not (tmp_path / "out").exists()


def test_no_site_is_told_with_its_reasons_and_what_to_relax(tmp_path):
    def no_room(settings, features):
        settings["camp"].update(spacing_m=500.0)
        settings["preferences"]["slope"].update(limit_max=2.0)

    path = edited_sample(tmp_path, no_room)
    done = sitepick("tonight", path, "--out", tmp_path / "out")
    assert done.returncode == 4, done.stdout + done.stderr
    document = json.loads((tmp_path / "out" / "tonight.json").read_text())
    assert document["sites"] == []
    assert document["camp"] is None
    first = document["reasons"][0]
    assert first["text"] in done.stdout
    assert first["fix"] in done.stdout


def test_stopping_leaves_the_old_files_as_they_were(tmp_path):
    folder = tmp_path / "out"
    folder.mkdir()
    (folder / "tonight.json").write_text("old")
    process = subprocess.Popen(
        [sys.executable, "-m", "sitepick", "tonight", str(sample_plan_path()), "--out", str(folder)],
        cwd=ROOT, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
    )  # fmt: skip
    try:
        process.communicate(timeout=1.5)
    except subprocess.TimeoutExpired:
        process.send_signal(signal.SIGINT)
    _, told = process.communicate(timeout=60)
    assert process.returncode == 130, told
    assert "stopped" in told
    assert (folder / "tonight.json").read_text() == "old"
    assert [path.name for path in folder.iterdir()] == ["tonight.json"]


def test_a_plan_is_made_from_files(tmp_path):
    plan = tmp_path / "mine.geojson"
    files = ["--elevation", sample_path("ulvmark_elevation.tif"), "--cover", sample_path("ulvmark_cover.tif")]
    done = sitepick(
        "new", plan, *files, "--legend", "cgls_lc100", "--people", "25", "--depart", "2027-02-11T08:00+01:00"
    )
    assert done.returncode == 0, done.stderr
    assert sitepick("ground", plan).returncode == 0
    again = sitepick("new", plan, *files, "--legend", "cgls_lc100")
    assert again.returncode == 3
    assert "already" in again.stderr


def test_files_are_told_for_what_they_are(tmp_path):
    (tmp_path / "text.tif").write_text("not a raster")
    done = sitepick(
        "ground", sample_path("ulvmark_elevation.tif"), sample_path("ulvmark_cover.tif"), tmp_path / "text.tif"
    )
    assert done.returncode == 3
    assert done.stdout.count("It will serve.") == 2
    assert done.stdout.count("It will not serve.") == 1
    assert "Traceback" not in done.stderr


def test_a_new_plan_never_takes_the_place_of_anything_but_a_plan(tmp_path):
    elevation = tmp_path / "dem.tif"
    shutil.copy(sample_path("ulvmark_elevation.tif"), elevation)
    before = elevation.read_bytes()
    files = ["--elevation", elevation, "--cover", sample_path("ulvmark_cover.tif"), "--legend", "cgls_lc100"]
    done = sitepick("new", elevation, *files, "--force")
    assert done.returncode == 3
    assert "is no plan" in done.stderr
    assert elevation.read_bytes() == before


def test_files_that_will_not_serve_say_why(tmp_path):
    (tmp_path / "text.tif").write_text("not a raster")
    done = sitepick("ground", tmp_path / "text.tif")
    assert done.returncode == 3
    assert len(done.stdout.splitlines()) >= 2
