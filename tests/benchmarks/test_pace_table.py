"""Hours by each walking function over tracks that people walked. Prints a table; off by default.

``pytest -m benchmark -s tests/benchmarks/test_pace_table.py``
"""

from __future__ import annotations

import pytest

from sitepick.march.functions import MINUTES_PER_KM
from tests.helpers.real_tracks import TRACKS, WALKING, hours, length_and_climb

pytestmark = pytest.mark.benchmark


def test_hours_over_real_tracks():
    """Each function at its own level speed, without load, snow or halts: h:min, and km/h over the whole track."""
    tracks = {name: read() for name, read in TRACKS.items()}
    told = {name: "{:.1f} km, {:.0f} m up".format(*length_and_climb(tangents)) for name, tangents in tracks.items()}
    print(f"\n{'function':<20}{'level km/h':>11}" + "".join(f"{name:>22}" for name in tracks))
    print(f"{'':<31}" + "".join(f"{text:>22}" for text in told.values()))
    for key in WALKING:
        row = f"{key:<20}{60.0 / float(MINUTES_PER_KM[key](0.0)):>11.1f}"
        for tangents in tracks.values():
            taken_h = hours(key, tangents)
            whole_h, minutes = divmod(round(60.0 * taken_h), 60)
            speed = length_and_climb(tangents)[0] / taken_h
            row += f"{f'{whole_h}:{minutes:02d} ({speed:.1f} km/h)':>22}"
        print(row)
    naismith = {name: hours("naismith", tangents) for name, tangents in tracks.items()}
    assert max(naismith, key=naismith.get) == max(tracks, key=lambda name: length_and_climb(tracks[name])[1])
