"""GPX and KML against the schemas that define them, whatever the names and wherever on the globe."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import lru_cache
from pathlib import Path

import pytest
from lxml import etree

from sitepick.grid import Grid
from sitepick.plan.model import Route
from sitepick.sheet.document import tonight_document
from sitepick.sheet.exchange import gpx_bytes, kml_bytes
from sitepick.sheet.globe import globe_features
from sitepick.tonight import Tonight
from tests.helpers.made_tonight import made_tonight, with_named_end
from tests.helpers.moved import moved_to, watched

DATA = Path(__file__).resolve().parents[1] / "data"
GPX = "{http://www.topografix.com/GPX/1/1}"
KML = "{http://www.opengis.net/kml/2.2}"
ANY_NAME = "a|b <i> & \"c\" 'd' Αθήνα Якутск 雪山 خيمة \x07\x0b 𝔘 \ufffe"


@lru_cache(maxsize=2)
def schema(name: str) -> etree.XMLSchema:
    """GPX 1.1 (topografix.com) or KML 2.2 (OGC 07-147r2), as their editors publish them; see tests/data/SOURCES.md."""
    return etree.XMLSchema(etree.parse(str(DATA / name)))


def on_grid(crs: str, west_m: float, north_m: float) -> Tonight:
    grid = Grid(crs=crs, west_m=west_m, north_m=north_m, cell_m=10.0, rows=160, cols=320)
    return moved_to(watched(made_tonight()), grid)


def over_the_date_line() -> Tonight:
    answer = on_grid("EPSG:32660", 634_000.0, 7_200_000.0)
    route = Route(name="Across", points=((179.95, 64.8), (180.0, 64.85), (-179.95, 64.9)))
    return replace(answer, plan=replace(answer.plan, route=route))


ANSWERS: dict[str, Callable[[], Tonight]] = {
    "usual": lambda: with_named_end(watched(made_tonight())),
    "150 people": lambda: watched(made_tonight(people=150)),
    "one tent": lambda: made_tonight(people=9),
    "no site": lambda: made_tonight(site_count=0),
    "any name": lambda: with_named_end(watched(made_tonight(name=ANY_NAME)), ANY_NAME),
    "zone's edge": lambda: on_grid("EPSG:32634", 744_000.0, 7_480_000.0),
    "past 84 N": lambda: on_grid("EPSG:5041", 2_300_000.0, 1_480_000.0),
    "across 180": over_the_date_line,
}


@pytest.mark.slow
@pytest.mark.parametrize("name", ANSWERS)
def test_gpx_and_kml_keep_to_their_schemas(name: str) -> None:
    answer = ANSWERS[name]()
    features = globe_features(answer)
    told = tonight_document(answer)
    gpx, kml = (etree.fromstring(make(answer, features)) for make in (gpx_bytes, kml_bytes))
    schema("gpx_1_1.xsd").assertValid(gpx)
    schema("ogckml22.xsd").assertValid(kml)
    camp = told["camp"] or {"shelters": [], "facilities": [], "posts": [], "alarm": None}
    of_camp = sum(len(camp[layer]) for layer in ("shelters", "facilities", "posts")) + (camp["alarm"] is not None)
    assert len(gpx.findall(f"{GPX}wpt")) == len(told["sites"]) + of_camp
    assert len(gpx.findall(f"{GPX}rte/{GPX}rtept")) == len(answer.plan.route.points)
    assert len(kml.findall(f".//{KML}Placemark")) == len(features)
    folder = kml.xpath("//k:Folder[k:name='Shelters']//k:Point", namespaces={"k": KML[1:-1]})
    assert len(folder) == len(camp["shelters"])


def test_the_schemas_themselves_refuse_what_is_wrong() -> None:
    """A schema that lets everything pass would show nothing."""
    answer = made_tonight(people=9)
    gpx = gpx_bytes(answer, globe_features(answer))
    for right, wrong in ((b"<src>", b"<elevation>1</elevation><src>"), (b'lat="', b'lat="9'), (b"T07", b" 07")):
        assert right in gpx
        assert not schema("gpx_1_1.xsd").validate(etree.fromstring(gpx.replace(right, wrong)))
    kml = kml_bytes(answer, globe_features(answer))
    for right, wrong in ((b"<color>", b"<color>x"), (b"<Document>", b"<Document><style/>")):
        assert right in kml
        assert not schema("ogckml22.xsd").validate(etree.fromstring(kml.replace(right, wrong)))
