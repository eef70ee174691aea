"""One value a person decides: its default, its unit, its limits and a word of help.

Written once beside each field of the plan and read by everything that shows or checks it: the
plan itself when it is made, the reader of plan files, the field book and the command line.
"""

from __future__ import annotations

import dataclasses
import math
from dataclasses import dataclass
from typing import Any

from sitepick.errors import SettingsError

_KEY = "sitepick.setting"


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """What is known about one field.

    Attributes
    ----------
    label : str
        The plain name a person reads ("people").
    unit : str
        Unit as shown, empty for counts and words.
    low, high : float or None
        Limits, both included.
    help : str
        One sentence.
    choices : tuple of str
        The words allowed, where the value is one of a few.
    """

    label: str
    unit: str = ""
    low: float | None = None
    high: float | None = None
    help: str = ""
    choices: tuple[str, ...] = ()

    def fault(self, value: object) -> str | None:
        """What is wrong with a value, as a clause; None when it will do."""
        if value is None:
            return None
        if self.choices:
            if value not in self.choices:
                return f"{self.label} is {value!r}, which is none of {', '.join(self.choices)}"
            return None
        if isinstance(value, bool) or not isinstance(value, int | float):
            return None
        if not math.isfinite(value):
            return f"{self.label} is not a number"
        if (self.low is not None and value < self.low) or (self.high is not None and value > self.high):
            return f"{self.label} is {_short(value)}{self.unit and ' ' + self.unit}, outside {self.range_text()}"
        return None

    def range_text(self) -> str:
        """The limits in words, such as ``1 to 400``."""
        unit = f" {self.unit}" if self.unit else ""
        if self.low is None:
            return f"at most {_short(self.high)}{unit}"
        if self.high is None:
            return f"at least {_short(self.low)}{unit}"
        return f"{_short(self.low)} to {_short(self.high)}{unit}"


def _short(value: float | None) -> str:
    return "no limit" if value is None else f"{value:g}"


def setting(
    default: Any = dataclasses.MISSING,
    *,
    label: str,
    unit: str = "",
    low: float | None = None,
    high: float | None = None,
    help: str = "",
    choices: tuple[str, ...] = (),
) -> Any:
    """A dataclass field that carries its `Setting`."""
    described = Setting(label=label, unit=unit, low=low, high=high, help=help, choices=choices)
    return dataclasses.field(default=default, metadata={_KEY: described})


def setting_of(owner: type, field_name: str) -> Setting:
    """The `Setting` of a field of one of the plan's classes."""
    for field in dataclasses.fields(owner):
        if field.name == field_name:
            found = field.metadata.get(_KEY)
            if isinstance(found, Setting):
                return found
    raise KeyError(f"{owner.__name__}.{field_name} carries no setting")


def check_settings(value: Any) -> None:
    """Check every described field of a dataclass; every fault is told at once.

    Raises
    ------
    SettingsError
        One or more values lie outside their limits.
    """
    faults = []
    for field in dataclasses.fields(value):
        described = field.metadata.get(_KEY)
        if isinstance(described, Setting):
            held = getattr(value, field.name)
            fault = described.fault(held)
            if fault is not None:
                faults.append(fault)
    if faults:
        raise SettingsError("; ".join(faults), fix="give a value within the limits")
