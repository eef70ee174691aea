"""The manual's score by hand is the program's."""

from __future__ import annotations

import pytest

from sitepick.plan.model import Preferences
from sitepick.resource import resource_path
from sitepick.sites.factors import score_frac
from sitepick.sites.score import whole_score

MEASURES = {"forest": 0.6, "slope": 3.0, "wind": 0.3, "water": 15.0, "room": 3.0, "progress": 0.9, "detour": 20.0,
            "cold": 0.5}  # fmt: skip


def score_by_the_program(preferences, measures):
    factors = preferences.measured_factors()
    scores = [score_frac(factor, measures[name]) for name, factor in factors]
    return 100.0 * float(whole_score(scores, [factor.weight for _, factor in factors], mean="arithmetic"))


def told(score):
    return f"**{score:.1f} of 100**" in resource_path("manual", "manual.md").read_text(encoding="utf-8")


def test_the_manuals_score_by_hand_is_the_programs():
    score = score_by_the_program(Preferences(), MEASURES)
    assert score == pytest.approx(84.6 / 1.1)
    assert told(score)
