"""What is handed out: on which paper, and the leader's own lines in the order."""

from __future__ import annotations

from dataclasses import dataclass, field, fields

from sitepick.errors import SettingsError
from sitepick.plan.setting import check_settings, setting

PAPERS = ("A4", "A3", "Letter")
NOTE_LETTERS_MAX = 4000  # of one section
# The sections of the order, in the sequence in which they are told.
SECTION_TITLES = {
    "situation": "Situation",
    "task": "Task",
    "march": "March",
    "supplies": "Effort and supplies",
    "before_leaving": "Before leaving",
    "halt_site": "Halt site",
    "layout": "Layout",
    "security": "Security",
    "work": "Work on arrival",
    "duties": "Duties of the night",
    "sanitation": "Sanitation and fire",
    "timings": "Timings",
    "signals": "Command and signals",
    "casualties": "Casualties",
    "cautions": "Cautions",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderNotes:
    """The leader's own lines, told in the order at the end of their section, one paragraph a line.

    They belong to the plan, so they stay when the answer is worked out anew.

    Attributes
    ----------
    situation, task, march, supplies, before_leaving, halt_site, layout, security, work, duties : str
        One a section of the order.
    sanitation, timings, signals, casualties, cautions : str
        The same.
    """

    situation: str = ""
    task: str = ""
    march: str = ""
    supplies: str = ""
    before_leaving: str = ""
    halt_site: str = ""
    layout: str = ""
    security: str = ""
    work: str = ""
    duties: str = ""
    sanitation: str = ""
    timings: str = ""
    signals: str = ""
    casualties: str = ""
    cautions: str = ""

    def __post_init__(self) -> None:
        for one in fields(self):
            if len(getattr(self, one.name)) > NOTE_LETTERS_MAX:
                raise SettingsError(
                    f"the notes on {one.name} have more than {NOTE_LETTERS_MAX} letters", fix="shorten them"
                )

    def lines(self, section: str) -> tuple[str, ...]:
        """The lines of one section, without blank ones."""
        text: str = getattr(self, section)
        return tuple(line.strip() for line in text.splitlines() if line.strip())


@dataclass(frozen=True, slots=True, kw_only=True)
class HandoutSettings:
    """How the answer is handed out.

    Attributes
    ----------
    paper : str
        One of `PAPERS`; the sheet is upright on each.
    notes : OrderNotes
    """

    paper: str = setting("A4", label="paper", choices=PAPERS, help="A3 gets larger maps.")
    notes: OrderNotes = field(default_factory=OrderNotes)

    def __post_init__(self) -> None:
        check_settings(self)
