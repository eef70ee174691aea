"""The manual's score by hand is the program's."""

from __future__ import annotations

import pytest

from sitepick.plan.model import Preferences
from sitepick.resource import resource_path
from sitepick.sites.factors import score_frac

MEASURES = {"forest": 0.6, "slope": 3.0, "wind": 0.3, "water": 15.0, "room": 3.0, "progress": 0.9, "detour": 20.0}


def test_the_manuals_score_by_hand_is_the_programs():
    factors = Preferences().factors()
    whole = sum(factor.weight for _, factor in factors)
    score = 100.0 * sum(factor.weight / whole * score_frac(factor, MEASURES[name]) for name, factor in factors)
    assert score == pytest.approx(80.6)
    assert f"**{score:.1f} of 100**" in resource_path("manual", "manual.md").read_text(encoding="utf-8")
