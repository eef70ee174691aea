"""The whole job on real ground: open elevation and land cover of two places (see tests/data/SOURCES.md)."""

from __future__ import annotations

import itertools
import json

import geopandas
import numpy as np
import pytest
from pyproj import Geod

from sitepick.sheet.document import tonight_document
from sitepick.sheet.handout import write_handout
from sitepick.tonight import tonight
from tests.helpers.real_places import coast_plan, mountain_plan

pytestmark = pytest.mark.slow


@pytest.fixture(
    scope="module",
    params=[
        pytest.param(coast_plan, marks=pytest.mark.thorough, id="coast"),
        pytest.param(mountain_plan, id="mountains"),
    ],
)
def place(request, tmp_path_factory):
    answer = tonight(request.param())
    folder = tmp_path_factory.mktemp("place")
    write_handout(answer, folder, draw_pdf=None)
    return answer, folder


def test_there_is_a_site_with_every_shelter_on_it(place):
    answer, _ = place
    assert answer.sites.sites
    assert len(answer.camp.shelters) == len(answer.plan.unit.shelters)


def test_the_files_alone_show_shelters_at_their_spacing_within_the_site(place):
    answer, folder = place
    shelters = geopandas.read_file(folder / "tonight.gpkg", layer="shelters")
    sites = geopandas.read_file(folder / "tonight.gpkg", layer="sites")
    pick = sites[sites["rank"] == 1].geometry.iloc[0]
    assert shelters.within(pick.buffer(0.01)).all()
    geod = Geod(ellps="WGS84")
    globe = shelters.to_crs("EPSG:4326").geometry
    for one, other in itertools.combinations(globe, 2):
        assert geod.inv(one.x, one.y, other.x, other.y)[2] >= answer.plan.camp.spacing_m - 0.01


def test_nobody_sleeps_in_the_sea(place):
    answer, _ = place
    for shelter in answer.camp.shelters:
        assert not answer.terrain.is_water[answer.ground.grid.cell_at(shelter.east_m, shelter.north_m)]


@pytest.mark.thorough
def test_worldcover_knows_trees_and_not_needles():
    # ESA WorldCover v200, class 10 "tree cover": the legend gives no leaf type.
    answer = tonight(coast_plan())
    document = tonight_document(answer)
    trees = answer.ground.share("canopy_frac") > 0.5
    assert np.isnan(answer.terrain.evergreen_frac[trees]).all()
    assert any("evergreen" in caution["text"] for caution in document["data"]["cautions"])
    # In the open no evergreens are known to stand; among trees it is not known, and the score is a range.
    values = {site.name: site.measure("forest").value for site in answer.sites.sites}
    assert all(value is None or value < 0.05 for value in values.values())
    assert all(site.score_high > site.score for site in answer.sites.sites if values[site.name] is None)


def test_what_the_user_says_of_the_leaf_type_is_believed(place):
    answer, folder = place
    told = answer.plan.ground.evergreen_of_forest_frac
    document = json.loads((folder / "tonight.json").read_text())
    values = [site["measures"]["forest"]["value"] for site in document["sites"]]
    if told is None:
        assert all(value is None or value < 0.05 for value in values)
    else:
        assert max(value for value in values if value is not None) > 0.3
