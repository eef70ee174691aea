"""Sharing people out among jobs: who is free when."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime, timedelta

from sitepick.camp.model import Job


@dataclass(frozen=True, slots=True, kw_only=True)
class Hands:
    """Some people of a section, free from a time on."""

    section: str
    people: int
    free: datetime


@dataclass(slots=True, kw_only=True)
class Crew:
    """Everyone in the camp while the work is shared out."""

    hands: list[Hands] = field(default_factory=list)

    def take(self, section: str, people: int, begin: datetime, minutes: float) -> int:
        """Take people of one section who are free at a time, for so long; how many there were."""
        for index, some in enumerate(self.hands):
            if some.section == section and some.free <= begin and some.people > 0:
                taken = min(people, some.people)
                self._move(index, taken, begin + timedelta(minutes=minutes))
                return taken
        return 0

    def share(self, what: str, person_min: float, *, most: int, not_before: datetime) -> Job | None:
        """Give a job to the section that gets it done first; None where there is nobody or nothing to do."""
        best: tuple[datetime, int, datetime, int] | None = None
        for index, some in enumerate(self.hands):
            if some.people < 1:
                continue
            begin = max(some.free, not_before)
            people = min(most, some.people)
            end = begin + timedelta(minutes=person_min / people)
            if best is None or end < best[0]:
                best = (end, index, begin, people)
        if best is None or person_min <= 0.0:
            return None
        end, index, begin, people = best
        section = self.hands[index].section
        self._move(index, people, end)
        return Job(what=what, who=section, begin=begin, end=end, people=people)

    def _move(self, index: int, people: int, free: datetime) -> None:
        some = self.hands[index]
        self.hands[index] = replace(some, people=some.people - people)
        self.hands.append(Hands(section=some.section, people=people, free=free))


def latest(jobs: Sequence[Job], otherwise: datetime) -> datetime:
    """When the last job ends."""
    return max((job.end for job in jobs), default=otherwise)
