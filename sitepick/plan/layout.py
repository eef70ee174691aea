"""What makes one place for a shelter better than another."""

from __future__ import annotations

from dataclasses import dataclass

from sitepick.plan.setting import check_settings, setting


@dataclass(frozen=True, slots=True, kw_only=True)
class LayoutSettings:
    """What a worse place costs, in spacings walked to the middle of the camp. Ours.

    Attributes
    ----------
    slope_cost : float
        For each degree of slope.
    wind_cost : float
        For all of the open wind against none of it.
    """

    slope_cost: float = setting(
        0.1, label="worth of a degree of slope", unit="spacings", low=0.0, high=10.0,
        help="How much longer a walk to the middle of the camp a leveller place is worth.",
    )  # fmt: skip
    wind_cost: float = setting(
        1.0, label="worth of shelter from the wind", unit="spacings", low=0.0, high=100.0,
        help="How much longer a walk to the middle of the camp a place without any wind is worth.",
    )  # fmt: skip

    def __post_init__(self) -> None:
        check_settings(self)
