"""What people weigh, carry, pull and eat: the settings behind effort and needs."""

from __future__ import annotations

from dataclasses import dataclass, field

from sitepick.plan.kit import KitItem, check_kit, usual_kit
from sitepick.plan.setting import check_settings, setting


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadSettings:
    """Bodies, loads, sleds and food.

    Attributes
    ----------
    body_kg : float
        Of one person, without clothing.
    carried_kg : float or None
        On one person's back, clothing included; None: what the kit list comes to.
    sled_limit_kg, sled_own_kg : float
        What may lie on one sled, and what the empty sled weighs.
    sled_count : int or None
        Sleds of the unit; None: one a section.
    pullers_per_sled : int
        People in harness at a time.
    sled_drag_frac : float
        Pull on the level against the sled's weight.
    ration_kcal : float
        What one person's food for the day holds.
    kit : tuple of KitItem
        In the order told.
    """

    body_kg: float = setting(
        80.0, label="body weight", unit="kg", low=30.0, high=200.0, help="Of one person, without clothing."
    )
    carried_kg: float | None = setting(
        None, label="load on the back", unit="kg", low=0.0, high=200.0,
        help="Clothing included; leave empty for what the kit list comes to.",
    )  # fmt: skip
    sled_limit_kg: float = setting(
        90.7, label="limit of a sled", unit="kg", low=5.0, high=1000.0, help="Common practice: 200 lb a section."
    )
    sled_own_kg: float = setting(
        15.0, label="empty sled", unit="kg", low=0.0, high=200.0, help="Pulled besides what lies on it."
    )
    sled_count: int | None = setting(None, label="sleds", low=1, high=200, help="Leave empty for one a section.")
    pullers_per_sled: int = setting(
        3, label="pullers of a sled", low=1, high=12, help="In harness at a time; from memory 3 to 4."
    )
    sled_drag_frac: float = setting(
        0.10, label="drag of a sled", low=0.01, high=1.0,
        help="Pull against weight: 0.05 to 0.15 on cold dry snow, more below −30 °C and on bare ground.",
    )  # fmt: skip
    ration_kcal: float = setting(
        4500.0, label="ration", unit="kcal", low=0.0, high=12_000.0, help="Food of one person for the day."
    )
    kit: tuple[KitItem, ...] = field(default_factory=usual_kit)

    def __post_init__(self) -> None:
        check_settings(self)
        check_kit(self.kit)
