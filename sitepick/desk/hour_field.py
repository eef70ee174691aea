"""A time of day chosen inside a sentence, or none."""

from __future__ import annotations

from datetime import time

from PySide6.QtCore import QSignalBlocker

from sitepick.desk.fields import ChoiceField

STEP_MIN = 15


class HourField(ChoiceField):
    """A quarter of an hour, or the phrase for none; an odd minute of the plan's is added as it comes.

    Parameters
    ----------
    name, help_text : str
    none_phrase : str, optional
        What stands where no time is given; left out where one always is.
    """

    def __init__(self, name: str, help_text: str, none_phrase: str | None = None) -> None:
        quarters = [time(minutes // 60, minutes % 60) for minutes in range(0, 24 * 60, STEP_MIN)]
        none: list[tuple[object, str]] = [] if none_phrase is None else [(None, none_phrase)]
        super().__init__(name, [*none, *((quarter, f"{quarter:%H:%M}") for quarter in quarters)], help_text)

    def show_value(self, value: object) -> None:
        """Show a time without telling it as chosen."""
        if isinstance(value, time) and value not in self._values:
            with QSignalBlocker(self):
                self._values.append(value)
                self.addItem(f"{value:%H:%M}")
        super().show_value(value)
