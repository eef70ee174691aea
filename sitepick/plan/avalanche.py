"""What counts as avalanche ground, and what is known of the day's snow."""

from __future__ import annotations

from dataclasses import dataclass

from sitepick.plan.setting import check_settings, setting

LEVEL_WORDS = ("low", "moderate", "considerable", "high", "very high")  # European scale, levels 1 to 5
USUAL_LEVEL = 2  # up to it the limits stand as they are

# Level that so much fresh snow counts as at least, from memory of common practice: 30 to 50 cm in a day,
# or 50 to 80 cm in three, make slides likely; 120 cm in three bring them far down the valleys.
_FRESH_24H_CM = ((50.0, 4), (30.0, 3))
_FRESH_72H_CM = ((120.0, 5), (80.0, 4), (50.0, 3))


@dataclass(frozen=True, slots=True, kw_only=True)
class AvalancheSettings:
    """Limits of avalanche ground, and the day's bulletin and fresh snow that tighten them.

    Attributes
    ----------
    bulletin_level : int or None
        Danger level of the day's bulletin, 1-5; None: not known.
    fresh_24h_cm, fresh_72h_cm : float or None
        Snow fallen in the last day and the last three; None: not known.
    release_min_deg, release_max_deg : float
        Slopes between them can release, on heights every 10 m or finer; coarser heights lower the first.
    least_area_m2 : float
        Steep patches smaller than this are left out.
    dense_canopy_frac : float
        Forest whose crowns cover this share holds the snow.
    runout_deg : float
        Snow stops where the straight line up to its release is flatter.
    path_deg : float
        The same along the way that the snow takes downhill; matters where it is flatter than `runout_deg`.
    release_per_level_deg, runout_per_level_deg : float
        Taken off those slopes for each level above `USUAL_LEVEL`.
    """

    bulletin_level: int | None = setting(
        None, label="level of the bulletin", low=1, high=5, help="Of today's avalanche bulletin; leave empty if unread."
    )
    fresh_24h_cm: float | None = setting(
        None, label="fresh snow in 24 h", unit="cm", low=0.0, high=300.0, help="Fallen since yesterday."
    )
    fresh_72h_cm: float | None = setting(
        None, label="fresh snow in 72 h", unit="cm", low=0.0, high=500.0, help="Fallen in the last three days."
    )
    release_min_deg: float = setting(
        28.0, label="gentlest slope that releases", unit="°", low=15.0, high=45.0,
        help="Read on heights every 10 m; coarser heights lower it by themselves.",
    )  # fmt: skip
    release_max_deg: float = setting(
        55.0, label="steepest slope that releases", unit="°", low=45.0, high=90.0,
        help="Steeper ground sheds its snow as it falls.",
    )  # fmt: skip
    least_area_m2: float = setting(
        1000.0, label="smallest slope that counts", unit="m²", low=0.0, high=100_000.0,
        help="Smaller steep patches are left out.",
    )  # fmt: skip
    dense_canopy_frac: float = setting(
        0.7, label="crowns that hold the snow", low=0.3, high=1.0,
        help="Share of the ground under crowns from which on a forest keeps its snow.",
    )  # fmt: skip
    runout_deg: float = setting(
        18.0, label="runout angle", unit="°", low=10.0, high=35.0,
        help="Snow stops where the line up to its release is flatter; 18 is strict, 20 to 22 usual.",
    )  # fmt: skip
    path_deg: float = setting(
        18.0, label="runout angle along the path", unit="°", low=8.0, high=35.0,
        help="The same along the way downhill: set it flatter where gullies carry snow far.",
    )  # fmt: skip
    release_per_level_deg: float = setting(
        2.0, label="slope taken off the release a level", unit="°", low=0.0, high=6.0,
        help="For each bulletin level above 2.",
    )  # fmt: skip
    runout_per_level_deg: float = setting(
        1.0, label="slope taken off the runout a level", unit="°", low=0.0, high=4.0,
        help="For each bulletin level above 2.",
    )  # fmt: skip

    def __post_init__(self) -> None:
        check_settings(self)

    @property
    def fresh_level(self) -> int | None:
        """Level that the fresh snow alone counts as; None where it asks for none above the usual, or isn't known."""
        told = [
            next((level for least_cm, level in table if fallen_cm >= least_cm), None)
            for fallen_cm, table in ((self.fresh_24h_cm, _FRESH_24H_CM), (self.fresh_72h_cm, _FRESH_72H_CM))
            if fallen_cm is not None
        ]
        return max((level for level in told if level is not None), default=None)

    @property
    def levels_above_usual(self) -> int:
        """By how many levels the limits are tightened: the bulletin's or the fresh snow's, whichever is more."""
        return max(0, (self.bulletin_level or 0) - USUAL_LEVEL, (self.fresh_level or 0) - USUAL_LEVEL)

    def day_words(self) -> str:
        """What is known of the day's snow, as one sentence."""
        fresh = [
            f"{fallen_cm:.0f} cm in {span}"
            for fallen_cm, span in ((self.fresh_24h_cm, "24 h"), (self.fresh_72h_cm, "72 h"))
            if fallen_cm is not None
        ]
        fallen = f"fresh snow {' and '.join(fresh)}" if fresh else ""
        if self.bulletin_level is None:
            return f"No bulletin is known here{', ' + fallen if fallen else ''}."
        words = f"The bulletin says level {self.bulletin_level}, {LEVEL_WORDS[self.bulletin_level - 1]}"
        return f"{words}{', ' + fallen if fallen else ''}."
