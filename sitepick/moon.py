"""The moon over a night: when it is up, how much of it is lit, and whether it lights the dark hours of a march."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

import numpy as np

from sitepick.sky import HORIZON_REFRACTION_DEG, even_moments, moon_phase, moon_positions, spans_above

MOONLIGHT_LEAST_FRAC = 0.25  # ours: less of the disc gives little light on snow, and under trees none

Span = tuple[datetime, datetime]


@dataclass(frozen=True, slots=True, kw_only=True)
class MoonNight:
    """The moon through some hours, flat horizon; times carry the zone asked for.

    Attributes
    ----------
    begin, end : datetime
        The hours looked at.
    up : tuple of (datetime, datetime)
        The stretches of them in which its upper rim is over the horizon.
    lit_frac : float
        Share of its disc that is lit, in the middle of those hours.
    is_waxing : bool
    highest_deg : float
        How high its centre gets in those hours, without refraction; below 0 where it doesn't rise.
    """

    begin: datetime
    end: datetime
    up: tuple[Span, ...]
    lit_frac: float
    is_waxing: bool
    highest_deg: float

    @property
    def rises(self) -> tuple[datetime, ...]:
        """When it rises in those hours."""
        return tuple(first for first, _ in self.up if first > self.begin)

    @property
    def sets(self) -> tuple[datetime, ...]:
        """When it sets in those hours."""
        return tuple(last for _, last in self.up if last < self.end)

    def up_min(self, spans: Sequence[Span]) -> float:
        """Minutes of some stretches of time in which it is up."""
        return sum(
            max(0.0, (min(last, until) - max(first, since)) / timedelta(minutes=1))
            for first, last in self.up
            for since, until in spans
        )

    def moonlit_min(self, dark: Sequence[Span]) -> float:
        """Minutes of dark stretches that it lights, clouds aside; 0 where too little of it is lit."""
        return self.up_min(dark) if self.lit_frac >= MOONLIGHT_LEAST_FRAC else 0.0


def moon_night(lon_deg: float, lat_deg: float, begin: datetime, end: datetime) -> MoonNight:
    """The moon between two times.

    Parameters
    ----------
    lon_deg, lat_deg : float
        WGS 84, at sea level.
    begin, end : datetime
        With their zone; the answer carries the first one's. In the years that `sky` covers.

    Notes
    -----
    Up while the upper rim, lifted by 34' of refraction, stands over the horizon. Good to some seconds in the sky; the
    air alone may move a rise by a minute, and by more where the moon grazes the horizon.
    """
    minutes, moments = even_moments(begin, end)
    altitude_deg, radius_deg = moon_positions(lon_deg, lat_deg, moments)
    lit_frac, is_waxing = moon_phase(begin + (end - begin) / 2.0)
    return MoonNight(
        begin=begin,
        end=end,
        up=spans_above(begin, minutes, altitude_deg + radius_deg + HORIZON_REFRACTION_DEG),
        lit_frac=lit_frac,
        is_waxing=is_waxing,
        highest_deg=float(np.max(altitude_deg)),
    )
