"""The scales that a map by itself may have; kept apart because the desk shows them before anything heavy is loaded."""

from __future__ import annotations

PICTURE_SCALES: dict[str, tuple[int, ...]] = {
    "way": (5000, 10_000, 20_000, 25_000, 50_000, 100_000, 250_000),
    "camp": (500, 1000, 2000, 2500, 5000, 10_000),
}
