"""The bearing and the end of each leg, as a person with a map, a ruler and a compass reads them."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from pyproj import Geod

from sitepick.sheet.leg_words import heading, leg_headings
from sitepick.sheet.norths import norths_at
from sitepick.sheet.order import order_text
from sitepick.sheet.shape import route_point_m
from sitepick.sheet.timetable import timetable
from sitepick.sheet.words import grid_reference
from sitepick.tonight import Tonight
from tests.helpers.made_tonight import made_tonight


def turned(answer: Tonight, bearing_deg: float) -> Tonight:
    """The same day along a straight route on another grid bearing."""
    grid, distance_m = answer.ground.grid, answer.march.station_distance_m
    turn = np.radians(bearing_deg)
    start = np.array([grid.west_m + 1500.0, grid.south_m + 800.0])
    along_m = distance_m[:, None] * grid.point_scale(*start) * np.array([[np.sin(turn), np.cos(turn)]])
    return replace(answer, march=replace(answer.march, route_m=start + along_m))


@pytest.mark.parametrize("bearing_deg", [0.0, 47.0, 135.0, 271.0])
def test_a_leg_is_told_the_bearing_that_leads_to_its_end(bearing_deg: float) -> None:
    """The geodesic between the two ends (WGS 84) sets out on the bearing that is told."""
    answer = turned(made_tonight(), bearing_deg)
    grid = answer.ground.grid
    told = heading(answer, 0.0, 1000.0)
    lon, lat = grid.to_lonlat(*np.array([route_point_m(answer.march, at) for at in (0.0, 1000.0)]).T)
    azimuth, _, _ = Geod(ellps="WGS84").inv(lon[0], lat[0], lon[1], lat[1])
    assert told.true_deg is not None
    assert (told.true_deg - azimuth + 180.0) % 360.0 - 180.0 == pytest.approx(0.0, abs=0.05)
    norths = norths_at(grid, *route_point_m(answer.march, 0.0), answer.march.depart)
    assert norths.needle is not None
    assert told.compass_deg == pytest.approx((told.true_deg - norths.needle.declination_deg) % 360.0)
    assert told.words.endswith(f"to {told.end_reference}")


def test_a_winding_leg_gets_no_bearing_that_would_lead_astray() -> None:
    answer = made_tonight()
    bent = answer.march.route_m.copy()
    bent[:, 1] += 200.0 * np.sin(np.linspace(0.0, 6.0, len(bent)))
    steps_m = np.hypot(*np.diff(bent, axis=0).T) / answer.ground.grid.point_scale(*bent[0])
    march = replace(answer.march, route_m=bent, station_distance_m=np.concatenate([[0.0], np.cumsum(steps_m)]))
    told = heading(replace(answer, march=march), 0.0, 2000.0)
    assert told.true_deg is None
    assert told.words == f"to {told.end_reference}"


def test_outside_the_models_years_there_is_the_true_bearing_alone() -> None:
    answer = made_tonight()
    march = replace(answer.march, depart=answer.march.depart.replace(year=2040))
    told = heading(replace(answer, march=march), 0.0, 1000.0)
    assert told.true_deg is not None
    assert told.compass_deg is None
    assert "compass" not in told.words


def test_timetable_and_order_tell_every_leg_and_the_site() -> None:
    answer = made_tonight()
    where = [entry.where for entry in timetable(answer)]
    headings = leg_headings(answer)
    assert headings[0].words in where
    pick = answer.sites.sites[0]
    assert f"at {grid_reference(answer.ground.grid, pick.east_m, pick.north_m)}" in where
    text = order_text(answer)
    assert all(one.words in text for one in headings)
