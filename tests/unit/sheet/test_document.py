"""What tonight.json promises."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import datetime
from itertools import combinations
from typing import Any

import numpy as np
import pytest
import shapely
from pyproj import Geod, Transformer

from sitepick.camp.sub_areas import sub_areas_of
from sitepick.caution import Caution
from sitepick.grid import mgrs_reference
from sitepick.sheet.document import tonight_document, tonight_text, write_tonight_json
from sitepick.sheet.order import order_text
from sitepick.sheet.summary import answer_lines
from sitepick.tonight import Tonight
from tests.helpers.made_tonight import made_tonight, with_named_end, with_split
from tests.helpers.moved import watched


@pytest.fixture(scope="module")
def answer() -> Tonight:
    return made_tonight()


@pytest.fixture(scope="module")
def document(answer: Tonight) -> dict[str, Any]:
    return json.loads(tonight_text(tonight_document(answer)))


def test_promised_keys_are_there(document: dict[str, Any]) -> None:
    assert document["schema"] == 1
    assert document["plan"] == "Made plan"
    assert document["crs"] == "EPSG:32634"
    assert document["cell_m"] == 10.0
    assert set(document["data"]) >= {"unknown_share", "cautions"}
    assert set(document["march"]) >= {
        "depart", "camp_by", "sunset", "useful_light_end", "route_length_m", "reach_along_route_m",
        "arrive_at_reach_end", "legs",
    }  # fmt: skip
    assert set(document["march"]["legs"][0]) >= {
        "from", "to", "depart", "arrive", "distance_m", "climb_m", "descent_m", "cautions",
    }  # fmt: skip
    for site in document["sites"]:
        assert set(site) >= {
            "rank", "name", "score", "easting_m", "northing_m", "lat", "lon", "mgrs", "area_m2", "capacity", "arrive",
            "detour_min", "measures", "firm_share", "top_three_share", "out_of_limits_share", "is_own", "reason",
            "cautions",
        }  # fmt: skip
        for measure in site["measures"].values():
            assert set(measure) >= {"value", "unit", "score", "weight", "limit", "within_limit"}
    assert set(document["camp"]) >= {
        "site", "spacing_m", "min_distance_m", "shelters", "facilities", "entry", "cautions",
    }  # fmt: skip


def test_times_carry_their_offset(document: dict[str, Any]) -> None:
    march = document["march"]
    for name in ("depart", "camp_by", "sunset", "useful_light_end", "arrive_at_reach_end"):
        assert datetime.fromisoformat(march[name]).utcoffset() is not None
    assert march["depart"] == "2027-02-11T08:00:00+01:00"


def test_weights_sum_to_one(document: dict[str, Any]) -> None:
    for site in document["sites"]:
        assert sum(measure["weight"] for measure in site["measures"].values()) == pytest.approx(1.0, abs=1e-6)


def test_a_limit_names_only_the_bounds_there_are(document: dict[str, Any]) -> None:
    measures = document["sites"][0]["measures"]
    assert measures["slope"]["limit"] == {"max": 5.7}
    assert measures["room"]["limit"] == {"min": 0.0}
    assert measures["forest"]["limit"] == {}


def test_a_value_not_known_is_null_with_its_range_of_score(document: dict[str, Any]) -> None:
    forest = document["sites"][2]["measures"]["forest"]
    assert forest["value"] is None
    assert forest["score"] < forest["score_high"] == 1.0


def test_grid_reference_longitude_and_easting_agree(document: dict[str, Any]) -> None:
    to_globe = Transformer.from_crs(document["crs"], "EPSG:4326", always_xy=True)
    for site in document["sites"]:
        lon, lat = to_globe.transform(site["easting_m"], site["northing_m"])
        assert (site["lon"], site["lat"]) == pytest.approx((lon, lat), abs=1e-6)
        assert site["mgrs"] == mgrs_reference(lon, lat)
        assert site["mgrs"][-10:].isdigit()


@pytest.mark.parametrize("people", [10, 38, 150])
def test_shelters_keep_their_spacing_when_measured_from_the_file(people: int) -> None:
    camp = tonight_document(made_tonight(people=people))["camp"]
    distances = _distances_m(camp["shelters"])
    if distances:
        assert min(distances) >= camp["spacing_m"]
        assert camp["min_distance_m"] == pytest.approx(min(distances), abs=0.001)
    else:
        assert camp["min_distance_m"] == 0.0


def test_rounding_never_brings_two_shelters_below_the_spacing() -> None:
    answer = made_tonight(people=20)
    camp = answer.camp
    assert camp is not None
    rng = np.random.default_rng(5)
    scale = answer.ground.grid.point_scale(camp.shelters[0].east_m, camp.shelters[0].north_m)
    for _ in range(10):
        turn = rng.uniform(0.0, 2.0 * np.pi)
        step_m = camp.spacing_m * scale * (1.0 + 2e-6)  # a tenth of a millimetre to spare
        first = replace(camp.shelters[0], east_m=502_444.0049, north_m=7_479_289.0051)
        second = replace(
            camp.shelters[1],
            east_m=first.east_m + step_m * float(np.cos(turn)),
            north_m=first.north_m + step_m * float(np.sin(turn)),
        )
        close = replace(answer, camp=replace(camp, shelters=(first, second)))
        told = tonight_document(close)["camp"]
        assert min(_distances_m(told["shelters"])) >= camp.spacing_m
        assert told["min_distance_m"] >= camp.spacing_m


def test_without_a_site_there_is_no_camp_but_reasons(document: dict[str, Any]) -> None:
    nothing = tonight_document(made_tonight(site_count=0))
    assert nothing["camp"] is None
    assert nothing["sites"] == []
    assert [reason["name"] for reason in nothing["reasons"]] == ["slope", "room"]
    assert all(reason["text"] and reason["fix"] for reason in nothing["reasons"])
    assert document["reasons"] == []


def test_a_unit_on_two_sites_is_told_everywhere(document: dict[str, Any]) -> None:
    nothing = with_split(made_tonight(site_count=0))
    told = tonight_document(nothing)["split"]
    names = [name for part in told["parts"] for name in part["shelters"]]
    assert sorted(names) == sorted(shelter.name for shelter in nothing.plan.unit.shelters)
    assert told["apart_m"] == 300.0
    assert sum(part["people"] for part in told["parts"]) == nothing.plan.unit.people
    for part in told["parts"]:
        assert mgrs_reference(part["lon"], part["lat"]) == part["mgrs"]
    assert document["split"] is None
    for text in (" ".join(answer_lines(nothing)), order_text(nothing)):
        assert "Long Bench" in text
        assert "300 m apart" in text
        assert "Two camps need two watches." in text
    assert nothing.sites.sites == ()


def test_cautions_have_a_kind_and_a_sentence_and_the_standing_ones_are_told(document: dict[str, Any]) -> None:
    cautions = document["data"]["cautions"]
    assert all(set(caution) == {"kind", "text"} and caution["text"].endswith(".") for caution in cautions)
    assert {"rules", "fire", "timber", "cold", "data"} <= {caution["kind"] for caution in cautions}


def test_more_cautions_are_told_under_data(answer: Tonight) -> None:
    extra = Caution(kind="data", text="No sheet: nothing to draw with.")
    told = tonight_document(answer, more_cautions=(extra,))["data"]["cautions"]
    assert {"kind": "data", "text": extra.text} in told


def test_a_number_that_is_not_known_is_null_never_nan(answer: Tonight) -> None:
    march = replace(answer.march, route_length_m=float("nan"), useful_light_end=None)
    told = json.loads(tonight_text(tonight_document(replace(answer, march=march))))
    assert told["march"]["route_length_m"] is None
    assert told["march"]["useful_light_end"] is None


def test_the_file_holds_the_document(tmp_path: Any, answer: Tonight) -> None:
    told = tonight_document(answer)
    write_tonight_json(told, tmp_path / "tonight.json")
    assert json.loads((tmp_path / "tonight.json").read_text(encoding="utf-8")) == json.loads(json.dumps(told))


def _distances_m(shelters: list[dict[str, Any]]) -> list[float]:
    to_globe = Transformer.from_crs("EPSG:32634", "EPSG:4326", always_xy=True)
    places = [to_globe.transform(shelter["easting_m"], shelter["northing_m"]) for shelter in shelters]
    globe = Geod(ellps="WGS84")
    return [globe.inv(*one, *other)[2] for one, other in combinations(places, 2)]


def test_named_points_of_the_route_stand_under_the_march() -> None:
    answer = with_named_end(made_tonight())
    lon, lat = answer.plan.route.points[1]
    point = tonight_document(answer)["march"]["points"]
    told = {"number": 2, "name": "Upper hut", "lon": round(lon, 6), "lat": round(lat, 6)}
    assert point == [{**told, "mgrs": mgrs_reference(lon, lat)}]


def test_the_camps_ground_is_told_as_it_was_laid_out(answer: Tonight) -> None:
    made = watched(answer)
    assert made.camp is not None
    assert made.camp.security is not None
    ring = made.camp.security.perimeter_m
    security = replace(made.camp.security, sentences=("The way in follows cover.",))
    areas = sub_areas_of(made.camp.shelters, ring)
    made = replace(made, camp=replace(made.camp, security=security, sub_areas=areas))
    camp = json.loads(tonight_text(tonight_document(made)))["camp"]
    parts = [(area["section"], shapely.Polygon(area["rings_m"][0], area["rings_m"][1:])) for area in camp["sub_areas"]]
    assert len(parts) == len(areas) > 1
    inside = [one for one in camp["shelters"] if ring.contains(shapely.Point(one["easting_m"], one["northing_m"]))]
    assert inside
    for shelter in inside:
        place = shapely.Point(shelter["easting_m"], shelter["northing_m"])
        assert [section for section, part in parts if part.covers(place)] == [shelter["section"]]
    perimeter = shapely.Polygon(camp["perimeter"]["rings_m"][0])
    assert shapely.hausdorff_distance(perimeter, ring) < 0.01
    assert camp["perimeter"]["area_m2"] == pytest.approx(400.0 * 260.0, rel=0.002)
    assert sum(area["area_m2"] for area in camp["sub_areas"]) == pytest.approx(camp["perimeter"]["area_m2"], rel=1e-4)
    assert camp["way_in"]["line_m"] == [pytest.approx(point, abs=0.01) for point in security.way_in_m.tolist()]
    assert camp["way_in"]["length_m"] == pytest.approx(300.0, rel=0.001)
    assert camp["dummy_trail"]["length_m"] == pytest.approx(150.0, rel=0.001)
    assert camp["watched_out_to_m"] == answer.plan.camp.security.watch_out_to_m
    sectors = [(post["left_bearing_deg"], post["right_bearing_deg"]) for post in camp["posts"]]
    assert sectors == [(225.0, 315.0), (315.0, 45.0), (45.0, 135.0)]
    assert camp["security_words"] == ["The way in follows cover."]


def test_a_camp_without_its_watch_has_none_of_its_lines(document: dict[str, Any]) -> None:
    keys = ("sub_areas", "perimeter", "way_in", "dummy_trail", "watched_out_to_m", "security_words")
    assert [document["camp"][key] for key in keys] == [[], None, None, None, None, []]
