"""How a camp is watched."""

from __future__ import annotations

from dataclasses import dataclass

from sitepick.plan.setting import check_settings, setting


@dataclass(frozen=True, slots=True, kw_only=True)
class SecuritySettings:
    """Posts and how far out they watch. Common practice; the leader's own orders come first.

    Attributes
    ----------
    post_count : int
        0: as many as still add ground that is seen.
    watch_out_to_m : float
        Approaches are watched so far beyond the perimeter.
    perimeter_clear_m : float
        The perimeter runs so far outside everything in the camp.
    """

    post_count: int = setting(
        0, label="posts", unit="posts", low=0, high=8, help="0: as many as still add ground that is seen, 2 to 6."
    )
    watch_out_to_m: float = setting(150.0, label="watched out to", unit="m", low=30.0, high=600.0)
    perimeter_clear_m: float = setting(25.0, label="perimeter clear of the camp", unit="m", low=10.0, high=100.0)

    def __post_init__(self) -> None:
        check_settings(self)
