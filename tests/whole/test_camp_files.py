"""Every rule of the camp, judged from the written files alone: on the sample and two real places, three unit sizes."""

from __future__ import annotations

import itertools
import json
from dataclasses import replace

import geopandas
import numpy as np
import pytest
import rasterio
from pyproj import Geod
from rasterio.windows import Window

from sitepick.plan import read_plan
from sitepick.plan.edits import with_people
from sitepick.resource import sample_plan_path
from sitepick.sheet import layers
from sitepick.sheet.handout import write_handout
from sitepick.tonight import tonight
from tests.helpers.real_places import coast_plan, mountain_plan

pytestmark = pytest.mark.slow

GLOBE = Geod(ellps="WGS84")
PEOPLE = (10, 38, 150)
QUICK = (("sample", 38), ("sample", 150))
HAZARDS = ("is_water", "is_wet", "is_avalanche_release", "is_avalanche_runout", "unsafe_unknown")
MAPS = (*HAZARDS, "water_kind", "slope_deg", "slope_30m_deg")
SMOOTHED_M = 10.0  # outlines of cells are smoothed by less than a cell
PLACES = {"sample": lambda: read_plan(sample_plan_path()), "coast": coast_plan, "mountains": mountain_plan}


def roomy(plan):
    """The plan with a spacing at which each of the places takes 150 people."""
    return replace(plan, camp=replace(plan.camp, spacing_m=15.0))


class Written:
    """What one run of the whole job left in its folder."""

    def __init__(self, plan, folder, maps):
        self.plan, self.maps = plan, maps
        self.layers = {
            name: geopandas.read_file(folder / "tonight.gpkg", layer=name)
            for name in ("shelters", "sites", "subareas", "facilities", "hazards", "water", "posts")
        }
        self.document = json.loads((folder / "tonight.json").read_text())
        self.camp = self.document["camp"]

    def under(self, name, point, width_m):
        """A layer's values in all cells under a round footprint."""
        with rasterio.open(self.maps / f"{name}.tif") as layer:
            west, north, cell_m = layer.transform.c, layer.transform.f, layer.transform.a
            row, col, radius = (north - point.y) / cell_m, (point.x - west) / cell_m, width_m / 2.0 / cell_m * 0.999
            first_row, first_col, side = int(row - radius), int(col - radius), int(2.0 * radius) + 2
            values = layer.read(1, window=Window(first_col, first_row, side, side))
        rows, cols = np.indices(values.shape)
        away = np.hypot(
            np.maximum(np.abs(rows + first_row + 0.5 - row) - 0.5, 0.0),
            np.maximum(np.abs(cols + first_col + 0.5 - col) - 0.5, 0.0),
        )
        return values[away < max(radius, 1e-6)]

    def globe(self, layer):
        return [(point.x, point.y) for point in self.layers[layer].to_crs("EPSG:4326").geometry]

    def ground_m(self, grid_m):
        """Metres on the ground, at least, of so many on the grid: the scale's range within a zone."""
        return grid_m / 1.001


@pytest.fixture(scope="module")
def runs(sample_answer, tmp_path_factory):
    """The whole job for so many people at a place, each made once; the same ground for all of a place."""
    answers, maps, done = {"sample": sample_answer}, {}, {}

    def run(place, people):
        if (place, people) not in done:
            plan = with_people(PLACES[place](), people)
            plan = roomy(plan) if people == 150 else plan
            answers[place] = answer = tonight(plan, previous=answers.get(place))
            if place not in maps:
                maps[place] = tmp_path_factory.mktemp(f"{place}maps")
                for name in MAPS:
                    values = getattr(answer.terrain, name)
                    values = values.astype(np.uint8) if values.dtype == np.bool_ else values
                    layer = layers.layer_geotiff(name, values, answer.ground.grid)
                    (maps[place] / f"{name}.tif").write_bytes(layer)
            folder = tmp_path_factory.mktemp(f"{place}{people}")
            write_handout(answer, folder, draw_pdf=None)
            done[place, people] = Written(plan, folder, maps[place])
        return done[place, people]

    return run


RUNS = [
    pytest.param(
        (place, people), id=f"{place}-{people}", marks=() if (place, people) in QUICK else pytest.mark.thorough
    )
    for place in PLACES
    for people in PEOPLE
]


@pytest.fixture(params=RUNS)
def camp(request, runs):
    made = runs(*request.param)
    assert made.camp is not None, made.document.get("reasons")
    return made


def test_everyone_has_a_shelter_on_the_pick(camp):
    assert camp.camp["missing_shelters"] == []
    assert sum(one["people"] for one in camp.camp["shelters"]) == camp.plan.unit.people
    pick = camp.layers["sites"].query("rank == 1").geometry.iloc[0]
    radii_m = [shelter.kind.footprint_m / 2.0 for shelter in camp.plan.unit.shelters]
    for point, radius_m in zip(camp.layers["shelters"].geometry, radii_m, strict=True):
        assert point.buffer(radius_m * 0.999 - 0.02).within(pick.buffer(0.01))


def test_shelters_keep_the_spacing_on_the_ground(camp):
    least_m = np.inf
    for one, other in itertools.combinations(camp.globe("shelters"), 2):
        least_m = min(least_m, GLOBE.inv(*one, *other)[2])
    assert least_m >= camp.plan.camp.spacing_m
    if np.isfinite(least_m):
        assert camp.camp["min_distance_m"] == pytest.approx(least_m, abs=0.02)


def test_nobody_sleeps_on_water_or_near_it_nor_on_hazardous_ground(camp):
    clear_m = camp.plan.preferences.water_clear_m
    shelters = camp.layers["shelters"].geometry
    told = " ".join(caution["text"] for caution in camp.camp["cautions"])
    for _, water in camp.layers["water"].iterrows():
        away_m = camp.ground_m(shelters.distance(water.geometry).min())
        if water.geometry.geom_type.endswith("Polygon"):
            assert away_m >= clear_m - SMOOTHED_M, water["kind"]
        else:  # a brook is kept by its height, and told where it is near
            assert away_m > 0.0
            assert away_m >= clear_m - SMOOTHED_M or "from a stream or brook" in told
    for _, hazard in camp.layers["hazards"].iterrows():
        assert shelters.distance(hazard.geometry).min() > 0.0, hazard["kind"]


def test_no_cell_of_the_layers_under_a_shelter_is_water_wet_in_a_runout_or_too_steep(camp):
    limit_deg = camp.plan.preferences.slope.limit_max
    for shelter, point in zip(camp.plan.unit.shelters, camp.layers["shelters"].geometry, strict=True):
        width_m = shelter.kind.footprint_m
        for name in HAZARDS:
            assert (camp.under(name, point, width_m) == 0).all(), name
        assert (camp.under("water_kind", point, width_m) == 0).all()
        assert camp.under("slope_deg", point, width_m).max() <= camp.plan.preferences.cell_slope_max_deg
        assert camp.under("slope_30m_deg", point, width_m).max() <= limit_deg + 1e-4


def test_shelters_keep_clear_of_every_cell_of_open_water(camp):
    with rasterio.open(camp.maps / "is_water.tif") as layer:
        west, north, cell_m, values = layer.transform.c, layer.transform.f, layer.transform.a, layer.read(1)
    rows, cols = np.nonzero(values == 1)
    half = cell_m / 2.0
    middles = np.column_stack((west + cols * cell_m + half, north - rows * cell_m - half))
    for point in camp.layers["shelters"].geometry:
        beyond = np.maximum(np.abs(middles - (point.x, point.y)) - half, 0.0)
        assert camp.ground_m(np.hypot(*beyond.T).min(initial=np.inf)) >= camp.plan.preferences.water_clear_m - half


def test_ground_under_every_footprint_is_within_the_slope_limit(camp):
    assert camp.layers["shelters"]["slope_deg"].max() <= camp.plan.preferences.cell_slope_max_deg


def test_doors_stand_oblique_to_the_wind(camp):
    from_deg, off_deg = camp.plan.weather.main_wind_from_deg, camp.plan.camp.door_off_wind_deg
    for bearing_deg in camp.layers["shelters"]["door_bearing_deg"]:
        off = abs((bearing_deg - from_deg + 180.0) % 360.0 - 180.0)
        assert off == pytest.approx(off_deg, abs=0.06)
        assert 120.0 <= off <= 150.0


def test_every_shelter_stands_in_its_sections_part_of_the_camp(camp):
    areas = camp.layers["subareas"]
    for _, shelter in camp.layers["shelters"].iterrows():
        inside = areas[areas.geometry.buffer(0.01).contains(shelter.geometry)]["section"]
        assert list(inside) == [shelter["section"]]
    for (_, one), (_, other) in itertools.combinations(areas.iterrows(), 2):
        assert one.geometry.intersection(other.geometry).area < 0.1


def test_the_leader_stands_in_the_middle(camp):
    shelters = camp.layers["shelters"]
    if shelters["is_leaders"].any() and len(shelters) > 3:
        ways = [shelters.geometry.distance(point).sum() for point in shelters.geometry]
        assert shelters["is_leaders"].iloc[int(np.argmin(ways))]


def test_latrines_keep_their_distances_or_a_caution_says_that_they_can_not(camp):
    rules = camp.plan.camp.facilities
    latrines = camp.layers["facilities"].query("kind == 'latrine'").geometry
    assert len(latrines)
    told = " ".join(caution["text"] for caution in camp.camp["cautions"]) + " ".join(
        camp.layers["facilities"].query("kind == 'latrine'")["reason"]
    )
    shelters = camp.layers["shelters"].geometry
    for latrine in latrines:
        from_shelters_m = camp.ground_m(shelters.distance(latrine).min())
        assert from_shelters_m >= rules.latrine_from_shelters_m - 1.0 or "from shelters (" in told
        waters = [water for water in camp.layers["water"].geometry if water.geom_type.endswith("Polygon")]
        from_water_m = min((camp.ground_m(latrine.distance(water)) for water in waters), default=np.inf)
        assert from_water_m >= rules.latrine_from_water_m - 1.0 or "from water (" in told
    for shelter in shelters:
        walk_m = min(shelter.distance(latrine) for latrine in latrines)
        assert walk_m <= rules.latrine_walk_max_m * 1.001 + 1.0 or "walk" in told


def test_the_files_agree_with_each_other(camp):
    for told, (_, shelter) in zip(camp.camp["shelters"], camp.layers["shelters"].iterrows(), strict=True):
        assert told["name"] == shelter["name"]
        assert np.hypot(told["easting_m"] - shelter.geometry.x, told["northing_m"] - shelter.geometry.y) < 0.01
        assert told["slope_deg"] == pytest.approx(shelter["slope_deg"], abs=0.06)
        assert told["joined_to"] is None
    assert camp.camp["what_gives"] == []
