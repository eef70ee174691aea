"""How the desk tells places and quantities: the form of a grid reference, metric or imperial. No Qt.

The plan, the sheet and every file stay metric; this is only how the window reads.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from sitepick.grid import Grid
from sitepick.units import FEET_M

FORMS = ("mgrs", "utm", "latlon")
MILE_M = 1609.344
INCH_CM = 2.54
POUND_KG = 0.45359237
ACRE_M2 = 4046.8564224

# Each metric unit as it is written, and what stands for it: (unit, factor, offset).
_IMPERIAL: dict[str, tuple[str, float, float]] = {
    "km/h": ("mph", 1000.0 / MILE_M, 0.0),
    "km": ("mi", 1000.0 / MILE_M, 0.0),
    "m²": ("ft²", 1.0 / FEET_M**2, 0.0),
    "m": ("ft", 1.0 / FEET_M, 0.0),
    "cm": ("in", 1.0 / INCH_CM, 0.0),
    "kg": ("lb", 1.0 / POUND_KG, 0.0),
    "ha": ("acres", 10_000.0 / ACRE_M2, 0.0),
    "°C": ("°F", 1.8, 32.0),
}
_NUMBER = r"(?<![\w.])([-−]?\d+(?:\.\d+)?)"
# "12 of 28 km/h", "28 to 55 m" and "10-15 m" carry their unit once, and so does "10 x 10 m"
_QUANTITY = re.compile(rf"{_NUMBER}(?:( of | to | and | x |–|-){_NUMBER})? (km/h|km|m²|m|cm|kg|ha|°C)(?![\w/²³])")


@dataclass(frozen=True, slots=True, kw_only=True)
class Display:
    """The person's choice.

    Attributes
    ----------
    form : str
        Out of `FORMS`.
    is_imperial : bool
    """

    form: str = FORMS[0]
    is_imperial: bool = False

    def said(self, text: str) -> str:
        """A text with its metric quantities as the person reads them."""
        return _QUANTITY.sub(_imperial, text) if self.is_imperial else text

    def unit(self, unit: str) -> tuple[str, float, float]:
        """What a metric unit is shown as: unit, factor and offset."""
        return _IMPERIAL.get(unit, (unit, 1.0, 0.0)) if self.is_imperial else (unit, 1.0, 0.0)

    def place(self, grid: Grid, east_m: float, north_m: float) -> str:
        """A point of the ground in the chosen form.

        Parameters
        ----------
        grid : Grid
        east_m, north_m : float
            Grid coordinates.
        """
        if self.form == "utm":
            return f"{_zone(grid)} {east_m:.0f} {north_m:.0f}"
        if self.form == "latlon":
            lon, lat = grid.to_lonlat(east_m, north_m)
            return f"{_angle(float(lat), 'N', 'S')} {_angle(float(lon), 'E', 'W')}"
        return spaced_mgrs(grid.mgrs(east_m, north_m))


def spaced_mgrs(reference: str) -> str:
    """A grid reference as it is read aloud: ``34W EC 12345 67890``."""
    figures = reference[-10:]
    return f"{reference[:-12]} {reference[-12:-10]} {figures[:5]} {figures[5:]}"


def _zone(grid: Grid) -> str:
    """The projection in a word: ``34 north``; past the zones ``polar``."""
    code = int(grid.crs.partition(":")[2])
    if 32601 <= code <= 32660:
        return f"{code - 32600} north"
    if 32701 <= code <= 32760:
        return f"{code - 32700} south"
    return "polar"


def _angle(value_deg: float, positive: str, negative: str) -> str:
    return f"{abs(value_deg):.5f}° {positive if value_deg >= 0.0 else negative}"


def _imperial(found: re.Match[str]) -> str:
    first, joint, second, unit = found.groups()
    figures = _converted(first, unit)
    if second is not None:
        figures += f"{joint}{_converted(second, unit)}"
    return f"{figures} {_IMPERIAL[unit][0]}"


def _converted(figure: str, unit: str) -> str:
    """A figure in the other unit, about as finely told."""
    _, factor, offset = _IMPERIAL[unit]
    plain = figure.replace("−", "-")
    value = float(plain) * factor + offset
    decimals = len(plain.partition(".")[2])
    if unit == "km" and decimals == 0:
        decimals = 1
    elif decimals and factor > 3.0:
        decimals -= 1
    return f"{value:.{decimals}f}"


_shown: list[Display] = [Display()]


def shown() -> Display:
    """What the person chose; one choice for the whole desk, as with the application's type."""
    return _shown[0]


def show_by(display: Display) -> None:
    """Read by another choice from now on; whoever shows texts must be shown them again."""
    _shown[0] = display
