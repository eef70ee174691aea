"""The walking functions over tracks that people walked and over real heights: hours that a leader would believe."""

from __future__ import annotations

import pytest

from tests.helpers.real_tracks import TRACKS, WALKING, hours, length_and_climb


@pytest.fixture(scope="module", params=TRACKS)
def tangents(request):
    return TRACKS[request.param]()


@pytest.mark.parametrize("key", WALKING)
def test_a_walk_takes_hours_that_a_leader_would_believe(tangents, key):
    """Common practice: hill walkers make 1 to 5.5 km/h, and Naismith's sum for the whole walk, 5 km/h and 600 m up an
    hour, is quick (0.85 of it at the least) but never out by more than two (steep, trackless, snow)."""
    km, up_m = length_and_climb(tangents)
    taken_h = hours(key, tangents)
    assert 1.0 < km / taken_h < 5.5
    assert 0.85 < taken_h / (km / 5.0 + up_m / 600.0) < 2.0


def test_off_paths_takes_longer_than_on_them(tangents):
    assert hours("irmischer_off_path", tangents) > 1.2 * hours("irmischer_path", tangents)


def test_the_walk_turned_round_is_another_walk_but_for_rees(tangents):
    back = -tangents[::-1]
    assert hours("rees", back) == pytest.approx(hours("rees", tangents))
    assert hours("tobler", back) != pytest.approx(hours("tobler", tangents), rel=1e-4)
