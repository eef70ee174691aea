"""Plans on two real places, small enough for the whole job; see ``tests/data/SOURCES.md``."""

from __future__ import annotations

from datetime import datetime, timedelta, timezone
from pathlib import Path
from typing import Any

from sitepick.plan.model import CampSettings, GroundSource, MarchSettings, Plan, Route, Unit, Weather
from sitepick.plan.shelter import shelters_for

DATA = Path(__file__).resolve().parent.parent / "data"
PEOPLE = 24

# Low wooded country behind a skerry coast: knolls, fields, sea to the west.
COAST_ROUTE = ((11.800, 57.812), (11.818, 57.838), (11.842, 57.862), (11.846, 57.893))
# Wooded benches and terraces between 700 and 1000 m, with mountains on both sides.
MOUNTAIN_ROUTE = ((5.752, 44.520), (5.738, 44.478), (5.770, 44.452), (5.782, 44.436))


def coast_plan(**known: Any) -> Plan:
    """Wooded coast at 57.8° N on foot in March, snow-free; changed by what is given."""
    values: dict[str, Any] = {
        "name": "Wooded coast",
        "ground": _source("n57e011"),
        "unit": Unit(people=PEOPLE, shelters=shelters_for(PEOPLE)),
        "weather": Weather(wind_from_deg=240.0, wind_kmh=30.0, temperature_c=-3.0, snow_cm=0.0),
        "march": MarchSettings(depart=datetime(2027, 3, 9, 9, 0, tzinfo=timezone(timedelta(hours=1))), mode="foot"),
        "camp": CampSettings(spacing_m=30.0),
        "route": Route(name="Over the knolls", points=COAST_ROUTE),
    }
    return Plan(**{**values, **known})


def mountain_plan(**known: Any) -> Plan:
    """Wooded mountains at 44.5° N on ski in February; changed by what is given."""
    values: dict[str, Any] = {
        "name": "Wooded mountains",
        "ground": _source("n44e005", evergreen_of_forest_frac=0.6),
        "unit": Unit(people=PEOPLE, shelters=shelters_for(PEOPLE)),
        "weather": Weather(wind_from_deg=330.0, wind_kmh=35.0, temperature_c=-11.0, snow_cm=50.0),
        "march": MarchSettings(
            depart=datetime(2027, 2, 4, 8, 0, tzinfo=timezone(timedelta(hours=1))), mode="ski", has_sled=True
        ),
        "camp": CampSettings(spacing_m=30.0),
        "route": Route(name="Along the benches", points=MOUNTAIN_ROUTE),
    }
    return Plan(**{**values, **known})


def _source(place: str, **known: Any) -> GroundSource:
    return GroundSource(
        elevation=(DATA / f"{place}_elevation.tif",), cover=(DATA / f"{place}_cover.tif",), legend="worldcover", **known
    )
