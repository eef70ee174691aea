"""A plan file is plain GeoJSON, is read strictly and is written whole or not at all."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import time
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sitepick.errors import PlanFileError, SettingsError
from sitepick.plan.edits import with_factor, with_values
from sitepick.plan.file import VERSION, local_path, looks_like_plan, read_plan, write_plan
from sitepick.plan.further import FurtherFactors
from sitepick.plan.model import Area, GroundSource, Route, Weather
from sitepick.plan.observer import Observer
from sitepick.plan.pace import ModePace, PaceSettings
from sitepick.plan.weighting import SiteMark, Weighting
from tests.helpers.made import make_plan


@pytest.fixture
def plan(tmp_path):
    files = GroundSource(
        elevation=(tmp_path / "høyde a.tif",), cover=(tmp_path.parent / "cover.tif",), legend=tmp_path / "mine.csv",
        evergreen_of_forest_frac=0.7,
    )  # fmt: skip
    made = make_plan(
        ground=None,
        alternatives=(Route(name="Over the ridge", points=((21.0, 67.4), (21.05, 67.5))),),
        areas=(Area(name="Enclosure", ring=((21.0, 67.4), (21.01, 67.4), (21.0, 67.41), (21.0, 67.4))),),
    )
    march = replace(made.march, long_halt_at=time(12, 0), long_halt_min=30.0, camp_by_hour=time(14, 30))
    return replace(made, ground=files, march=march)


@pytest.fixture
def written(plan, tmp_path):
    path = tmp_path / "plan.geojson"
    write_plan(plan, path)
    return path


def edited(path: Path, **settings) -> Path:
    document = json.loads(path.read_text())
    for place, value in settings.items():
        part, _, name = place.partition("__")
        if name:
            document["sitepick"][part][name] = value
        else:
            document["sitepick"][part] = value
    path.write_text(json.dumps(document))
    return path


def test_what_is_written_is_read_back(plan, written):
    assert read_plan(written) == plan


def test_the_file_is_a_feature_collection_with_the_route_as_a_line(written):
    document = json.loads(written.read_text())
    assert document["type"] == "FeatureCollection"
    assert document["features"][0]["geometry"]["type"] == "LineString"  # RFC 7946, section 3.1.4
    ring = document["features"][-1]["geometry"]["coordinates"][0]
    assert ring[0] == ring[-1]  # RFC 7946, section 3.1.6: a ring is closed
    assert document["sitepick"]["version"] == VERSION


def test_the_pace_is_written_and_read_back(plan, tmp_path):
    pace = PaceSettings(
        foot=ModePace(function="rees", level_from="function", unbroken_kmh=2.5, broken_kmh=3.5, steepest_deg=28.0),
        breaking="lead_party", sinking_cm=12.5, night_frac=0.8, load_kg=25.0, sled_team_count=4, is_towed=True,
    )  # fmt: skip
    path = tmp_path / "pace.geojson"
    write_plan(replace(plan, march=replace(plan.march, pace=pace)), path)
    assert read_plan(path).march.pace == pace


def test_a_plan_from_before_the_pace_could_be_edited_still_loads(written, plan):
    document = json.loads(written.read_text())
    del document["sitepick"]["march"]["pace"]
    written.write_text(json.dumps(document))
    assert read_plan(written) == replace(plan, march=replace(plan.march, pace=PaceSettings()))
    ski = {"function": "ski_rule", "unbroken_kmh": 2.0, "broken_kmh": 4.0, "steepest_deg": 25.0}
    edited(written, march__pace={"night_frac": 0.7, "ski": ski})
    pace = read_plan(written).march.pace
    assert (pace.night_frac, pace.ski.broken_kmh, pace.load_kg) == (0.7, 4.0, PaceSettings().load_kg)


@pytest.mark.parametrize(
    ("pace", "why"),
    [
        ({"load_kg": 200}, "load on each back is 200 kg, outside 0 to 80 kg"),
        ({"lod_kg": 20}, "lod_kg: not a setting (is load_kg meant?)"),
        ({"night_frac": "slow"}, "march.pace.night_frac: 'slow' is not a number"),
        ({"sled_team_count": 2.5}, "not a whole number"),
        ({"is_towed": 1}, "neither true nor false"),
        ({"foot": {"function": "tobler"}}, "march.pace.foot.unbroken_kmh: missing"),
        ("fast", "not a group of settings"),
    ],
)
def test_a_pace_that_makes_no_sense_is_refused(written, pace, why):
    with pytest.raises(PlanFileError) as told:
        read_plan(edited(written, march__pace=pace))
    assert why in str(told.value)


def test_a_wind_rose_is_written_and_read_back(plan, tmp_path):
    rose = ((300.0, 0.6, 25.0), (210.0, 0.4, 12.5))
    blown = replace(plan, weather=Weather(temperature_c=-12.0, wind_rose=rose))
    path = tmp_path / "rose.geojson"
    write_plan(blown, path)
    assert json.loads(path.read_text())["sitepick"]["weather"]["wind_rose"] == [list(ray) for ray in rose]
    assert read_plan(path) == blown


@pytest.mark.parametrize(
    ("rose", "why"),
    [
        ([[300.0, 0.6, 25.0], [210.0, 0.3, 12.5]], "sum to 0.90"),
        ([[300.0, 1.0, 900.0]], "900 km/h"),
        ([[-5.0, 1.0, 20.0]], "-5°"),
        ([[300.0, 1.0]], "wind_rose"),
        ([[300.0, "all", 25.0]], "not a number"),
        (300.0, "wind_rose"),
    ],
)
def test_a_wind_rose_that_makes_no_sense_is_refused(plan, tmp_path, rose, why):
    path = tmp_path / "rose.geojson"
    write_plan(replace(plan, weather=Weather()), path)
    with pytest.raises(PlanFileError, match=r"wind_rose|wind rose") as told:
        read_plan(edited(path, weather__wind_rose=rose))
    assert why in str(told.value)


def test_one_wind_and_a_rose_are_one_too_many():
    with pytest.raises(SettingsError, match="both one wind and a wind rose"):
        Weather(wind_kmh=20.0, wind_rose=((300.0, 1.0, 20.0),))


def test_a_rose_within_rounding_is_taken_and_its_main_wind_is_the_most_frequent():
    weather = Weather(wind_rose=((300.0, 0.33, 30.0), (120.0, 0.34, 15.0), (30.0, 0.33, 0.0)))
    assert weather.main_wind_from_deg == 120.0
    assert weather.mean_wind_kmh == pytest.approx(15.0)
    assert Weather(wind_from_deg=40.0, wind_kmh=9.0).main_wind_from_deg == 40.0
    assert Weather().mean_wind_kmh is None


def test_files_beside_the_plan_move_with_it(plan, written, tmp_path):
    moved = tmp_path / "moved"
    moved.mkdir()
    (moved / "plan.geojson").write_text(written.read_text())
    assert read_plan(moved / "plan.geojson").ground.elevation == (moved / "høyde a.tif",)


def test_every_fault_is_told_at_once_with_its_place(written):
    document = json.loads(written.read_text())
    del document["sitepick"]["unit"]["shelters"][0]["section"]
    written.write_text(json.dumps(document))
    edited(written, ground__legend="nothing", weather__windkmh=3, camp__spacing_m="wide", march__depart="soon")
    with pytest.raises(PlanFileError) as told:
        read_plan(written)
    for words in (
        "unit.shelters[0].section: missing",
        "ground: the legend 'nothing' is not known",
        "windkmh: not a setting (is wind_kmh meant?)",
        "camp.spacing_m: 'wide' is not a number",
        "march.depart: 'soon' is not a date and time",
    ):
        assert words in str(told.value)


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("", "not valid JSON"),
        ("[1, 2]", "not a GeoJSON feature collection"),
        ('{"type": "FeatureCollection", "features": []}', 'no "sitepick" member'),
        ('{"type": "FeatureCollection", "features": [], "sitepick": {}}', "version is missing"),
        ("[" * 100_000, "nested too deep"),
        ('{"type": NaN}', "NaN is not a number"),
    ],
)
def test_what_is_no_plan_says_so(tmp_path, text, why):
    path = tmp_path / "plan.geojson"
    path.write_text(text)
    with pytest.raises(PlanFileError, match="not a sitepick plan") as told:
        read_plan(path)
    assert why in str(told.value)


def test_a_missing_file_and_a_folder_are_told(tmp_path):
    with pytest.raises(PlanFileError, match="no such file"):
        read_plan(tmp_path / "none.geojson")
    with pytest.raises(PlanFileError, match="can't be read"):
        read_plan(tmp_path)


def test_a_picture_named_geojson_is_no_plan(tmp_path):
    path = tmp_path / "plan.geojson"
    path.write_bytes(b"\x89PNG\xff\xfe\x00")
    with pytest.raises(PlanFileError, match="not a text file"):
        read_plan(path)


def test_a_plan_from_a_newer_version_is_left_alone(written):
    edited(written, version=VERSION + 1)
    with pytest.raises(PlanFileError, match="newer version"):
        read_plan(written)


def test_a_departure_without_a_zone_is_refused(written):
    edited(written, march__depart="2027-02-11T08:00")
    with pytest.raises(PlanFileError, match="no time zone"):
        read_plan(written)


def test_a_route_of_one_point_is_refused(written):
    document = json.loads(written.read_text())
    document["features"][0]["geometry"]["coordinates"] = [[21.0, 67.4]]
    written.write_text(json.dumps(document))
    with pytest.raises(PlanFileError, match="has 1 point"):
        read_plan(written)


@pytest.mark.parametrize(
    "text",
    [
        "https://example.org/a.tif", "/vsicurl/example.org/a.tif", "zip:///a.zip!b.tif", "NETCDF:a.nc:height",
        "\\\\server\\share\\a.tif", "//server/a.tif", "<VRTDataset/>", "", " ",
    ],
)  # fmt: skip
def test_a_plan_names_local_files_only(text, tmp_path):
    with pytest.raises(SettingsError, match="not the path of a local file"):
        local_path(text, tmp_path)


def test_an_interrupted_save_leaves_the_old_plan(plan, written, monkeypatch):
    before = written.read_bytes()

    def full_disk(*_args, **_kwargs):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "write_text", full_disk)
    with pytest.raises(PlanFileError, match="No space left"):
        write_plan(replace(plan, name="changed"), written)
    assert written.read_bytes() == before
    assert [path.name for path in written.parent.iterdir()] == [written.name]


json_values = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats(allow_nan=False, allow_infinity=False) | st.text(max_size=8),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=8), inner, max_size=3),
    max_leaves=8,
)


@pytest.fixture(scope="module")
def nonsense(tmp_path_factory):
    return tmp_path_factory.mktemp("nonsense") / "plan.geojson"


@settings(deadline=None)
@given(
    place=st.sampled_from(["ground", "unit", "weather", "march", "preferences", "camp", "name", "version"]),
    value=json_values,
)
def test_nonsense_in_any_place_is_one_sentence_and_never_a_crash(nonsense, place, value):
    write_plan(make_plan(), nonsense)
    edited(nonsense, **{place: value})
    try:
        read_plan(nonsense)
    except PlanFileError as fault:
        assert "\n" not in str(fault)  # noqa: PT017 - reading may also succeed


def test_names_of_points_are_written_and_read_back(plan, tmp_path):
    named = replace(plan, route=replace(plan.route, point_names=("Base", None)))
    path = tmp_path / "named.geojson"
    write_plan(named, path)
    assert read_plan(path) == named


def test_a_plan_without_names_of_points_holds_no_trace_of_them(written):
    assert "point_names" not in written.read_text()


@pytest.mark.parametrize(
    ("names", "told"),
    [(["one"], "2 points and 1 names"), ("Base", "not a GeoJSON feature"), ([1, 2], "not a GeoJSON feature")],
)
def test_names_that_fit_no_points_are_told(written, names, told):
    document = json.loads(written.read_text())
    document["features"][0]["properties"]["point_names"] = names
    written.write_text(json.dumps(document))
    with pytest.raises(PlanFileError, match=told):
        read_plan(written)


def test_a_file_of_lines_is_no_plan_and_a_damaged_plan_is_one(written, tmp_path):
    assert looks_like_plan(written)
    written.write_text(written.read_text()[:-20])
    assert looks_like_plan(written)
    lines = tmp_path / "walk.geojson"
    lines.write_text('{"type": "LineString", "coordinates": [[21, 67], [21, 68]]}')
    assert not looks_like_plan(lines)


def test_weighting_marks_and_own_sites_are_written_and_read_back(plan, tmp_path):
    own = Area(name="Ours", role="site", ring=((21.0, 67.4), (21.01, 67.4), (21.0, 67.41), (21.0, 67.4)))
    marks = (
        SiteMark(place=(21.02, 67.41), name="The bend", is_pinned=True),
        SiteMark(place=(21.03, 67.42), is_hidden=True),
    )
    marked = replace(
        plan,
        areas=(*plan.areas, own),
        site_marks=marks,
        preferences=replace(
            plan.preferences, weighting=Weighting(mean="geometric", weight_error_frac=0.4, wind_error_deg=45.0)
        ),
    )
    path = tmp_path / "marked.geojson"
    write_plan(marked, path)
    assert read_plan(path) == marked


def test_observers_are_written_and_read_back(plan, tmp_path):
    watched = replace(
        plan, observers=(Observer(place=(21.02, 67.41), name="Far shore"), Observer(place=(21.0, 67.4), eye_m=12.0))
    )
    path = tmp_path / "watched.geojson"
    write_plan(watched, path)
    assert read_plan(path) == watched


@pytest.mark.parametrize("eye_m", ["high", True, -1.0, 1e9])
def test_an_observer_with_odd_eyes_is_told_by_its_feature(plan, tmp_path, eye_m):
    path = tmp_path / "watched.geojson"
    write_plan(replace(plan, observers=(Observer(place=(21.02, 67.41)),)), path)
    document = json.loads(path.read_text())
    document["features"][-1]["properties"]["eye_m"] = eye_m
    path.write_text(json.dumps(document))
    with pytest.raises(PlanFileError, match=f"feature {len(document['features'])}"):
        read_plan(path)


def test_nobody_looks_from_off_the_earth():
    with pytest.raises(SettingsError, match="latitude 91"):
        Observer(place=(21.0, 91.0))


def test_further_factors_are_written_and_read_back(plan, tmp_path):
    asked = with_factor(with_factor(plan, "sun", weight=7.0, limit_min=1.5), "cold", curve=((0.0, 1.0), (0.3, 0.0)))
    path = tmp_path / "asked.geojson"
    write_plan(asked, path)
    assert read_plan(path) == asked
    assert [name for name, _ in asked.preferences.measured_factors()][-1] == "sun"


def test_a_plan_from_before_there_were_further_factors_still_loads(plan, written):
    document = json.loads(written.read_text())
    del document["sitepick"]["preferences"]["further"]
    written.write_text(json.dumps(document))
    assert read_plan(written) == with_values(plan, "preferences", further=FurtherFactors())


def test_faults_in_further_factors_are_told_with_their_place(written):
    document = json.loads(written.read_text())
    further = document["sitepick"]["preferences"]["further"]
    further["sun"]["curve"] = [[0.0, 0.0], [2.0, 1.0], [4.0, 0.5]]
    further["cold"]["weight"] = -1.0
    further["moon"] = further["view"]
    written.write_text(json.dumps(document))
    with pytest.raises(PlanFileError) as caught:
        read_plan(written)
    assert "preferences.further.sun: a curve's scores must lie between 0 and 1 and never turn back" in str(caught.value)
    assert "preferences.further.cold: weight is -1" in str(caught.value)
    assert "moon: not a setting" in str(caught.value)


def test_a_plan_from_before_there_were_marks_and_errors_still_loads(plan, written):
    document = json.loads(written.read_text())
    del document["sitepick"]["preferences"]["weighting"]
    written.write_text(json.dumps(document))
    assert read_plan(written) == plan


def test_faults_in_marks_and_own_sites_are_told(written):
    document = json.loads(written.read_text())
    document["features"] += [
        {"type": "Feature", "properties": {"role": "site_mark", "pinned": "yes"},
         "geometry": {"type": "Point", "coordinates": [21.0, 67.4]}},
        {"type": "Feature", "properties": {"role": "site", "name": "Bow"},
         "geometry": {"type": "Polygon", "coordinates": [[[0, 0], [1, 1], [1, 0], [0, 1], [0, 0]]]}},
    ]  # fmt: skip
    document["sitepick"]["preferences"]["weighting"]["mean"] = "median"
    written.write_text(json.dumps(document))
    with pytest.raises(PlanFileError) as told:
        read_plan(written)
    for part in ("feature 4", "crosses itself", "way to the score"):
        assert part in str(told.value)
