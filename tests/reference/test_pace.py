"""Walking and skiing speeds against published values."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sitepick.march.clock import halt_rule
from sitepick.march.functions import ski_min_per_km, tobler_kmh
from sitepick.march.pace import pace_of, slope_factor
from sitepick.plan.model import Weather
from tests.helpers.made import make_plan


@pytest.mark.parametrize(
    ("tangent", "kmh"),
    [
        (-0.5, 1.2420),
        (-0.2, 3.5493),
        (-0.1, 5.0367),
        (-0.05, 6.0),
        (0.0, 5.0367),
        (0.1, 3.5493),
        (0.2, 2.5012),
        (0.3, 1.7625),
    ],
)
def test_tobler_walks_as_published(tangent, kmh):
    """Tobler 1993, NCGIA Technical Report 93-1: v = 6 exp(-3.5 |S + 0.05|), worked by hand."""
    assert float(tobler_kmh(tangent)) == pytest.approx(kmh, abs=5e-5)


def test_tobler_takes_a_tangent_and_never_degrees():
    assert float(tobler_kmh(1.0)) == pytest.approx(0.152, abs=0.001)  # 45° as a tangent


def test_the_ski_rule_gives_three_and_a_half_hours_for_10_km_and_400_m_up():
    """(km + vertical / 100) / rate at 4 up (Munter, figures partly confirmed): 10 km + 400 m take 3.5 h.

    The rule's own example lies on a mean slope of 4 %, where ours already runs towards the level, so it is
    asked on a slope of 8 %: 5 km + 400 m take (5 + 4) / 4 h.
    """
    assert 5 * float(ski_min_per_km(0.08)) == pytest.approx(60 * (5 + 4) / 4)


def test_the_ski_rule_on_the_level_and_down():
    assert float(ski_min_per_km(0.0)) == pytest.approx(10.0)  # 6 km/h
    assert float(ski_min_per_km(-0.1)) == pytest.approx(60 * (1 + 1) / 10)  # 1 km + 100 m at 10


def test_ten_minutes_halt_an_hour_leave_five_sixths_of_it():
    """Common march practice: 50 minutes of 60 on the move, 0.8333."""
    march = make_plan().march
    rule = halt_rule(march, until_min=6000.0)
    assert rule.moving_min(6000.0) / 6000.0 == pytest.approx(0.8333, abs=0.002)


def test_the_walkers_slope_shape_is_toblers():
    walker = pace_of(replace(make_plan().march, mode="foot", has_sled=False), Weather())
    assert float(slope_factor(walker, 0.2)) == pytest.approx(5.0367 / 2.5012, rel=1e-4)
