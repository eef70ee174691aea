"""What is known of one point of the ground, in the person's terms. No Qt."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from sitepick.desk.words import clock
from sitepick.grid import Grid

if TYPE_CHECKING:
    from sitepick.tonight import Tonight

NOT_KNOWN = "not known"


def spaced_mgrs(reference: str) -> str:
    """A grid reference as it is read aloud: ``34W EC 12345 67890``."""
    figures = reference[-10:]
    return f"{reference[:-12]} {reference[-12:-10]} {figures[:5]} {figures[5:]}"


def reading_at(answer: Tonight | None, grid: Grid, east_m: float, north_m: float) -> tuple[tuple[str, str], ...]:
    """Rows of label and value for a point; only its reference where no ground is read there.

    Parameters
    ----------
    answer : Tonight or None
    grid : Grid
        The projection in use.
    east_m, north_m : float
        Grid coordinates.
    """
    rows = [("", spaced_mgrs(grid.mgrs(east_m, north_m)))]
    if answer is None or not answer.ground.grid.contains(east_m, north_m):
        return tuple(rows)
    row, col = answer.ground.grid.cell_at(east_m, north_m)
    ground, terrain = answer.ground, answer.terrain
    index = int(ground.cover_index[row, col])
    arrive = answer.march.arrive_at(row, col)
    rows += [
        ("Height", _number(float(ground.elevation_m[row, col]), "{:.0f} m")),
        ("Slope", _number(float(terrain.slope_deg[row, col]), "{:.1f}°")),
        ("Cover", ground.legend.classes[index].name if index >= 0 else NOT_KNOWN),
        ("Wind at shelter", _wind(float(terrain.wind_share[row, col]), answer.plan.weather.mean_wind_kmh)),
        ("Reached", clock(arrive) if arrive is not None else "not before camp-by"),
    ]
    return tuple(rows)


def _number(value: float, form: str) -> str:
    return form.format(value) if math.isfinite(value) else NOT_KNOWN


def _wind(share: float, open_kmh: float | None) -> str:
    if not math.isfinite(share):
        return NOT_KNOWN
    if open_kmh is None:
        return f"{100 * share:.0f} % of the open wind"
    return f"{share * open_kmh:.0f} of {open_kmh:.0f} km/h"
