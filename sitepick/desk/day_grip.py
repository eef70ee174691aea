"""Departure and camp-by taken in hand on the day line. No widgets."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime, time, timedelta
from functools import partial

from sitepick.desk.day_strip import DayStrip
from sitepick.desk.edit import PlanEdit, new_gesture
from sitepick.desk.translation import tr
from sitepick.plan.edits import with_values
from sitepick.plan.model import Plan

DEPART, CAMP_BY = "depart", "camp-by"
GRIP_PX = 9.0
STEP_MIN = 5


@dataclass(frozen=True, slots=True, kw_only=True)
class DayGrip:
    """One of the two in hand.

    Attributes
    ----------
    what : str
        `DEPART` or `CAMP_BY`.
    plan : Plan
        Its departure tells the day and the zone.
    gesture : int or None
    """

    what: str
    plan: Plan
    gesture: int | None

    def moved(self, moment: datetime) -> PlanEdit:
        """Move it to a time, to the nearest five minutes."""
        minute = round((moment - _midnight(moment)).total_seconds() / 60.0 / STEP_MIN) * STEP_MIN
        at = _midnight(moment) + timedelta(minutes=minute)
        if self.what == DEPART:
            change = partial(with_values, part="march", depart=at)
            return PlanEdit(text=tr("Move the departure"), change=change, gesture=self.gesture)
        hour = time(at.hour, at.minute)
        change = partial(with_values, part="march", camp_by_hour=hour)
        return PlanEdit(text=tr("Move camp-by"), change=change, gesture=self.gesture)


def grip_at(strip: DayStrip, plan: Plan, x_of: Callable[[datetime], float], x_px: float) -> DayGrip | None:
    """What is to be taken in hand under a pixel of the strip."""
    for what in (CAMP_BY, DEPART):
        at = _moment(strip, what)
        if at is not None and abs(x_of(at) - x_px) <= GRIP_PX:
            return DayGrip(what=what, plan=plan, gesture=new_gesture())
    return None


def nudged(strip: DayStrip, plan: Plan, what: str, step: int) -> PlanEdit:
    """Move departure or camp-by by so many steps of five minutes."""
    shown_at = _moment(strip, CAMP_BY)
    if what == DEPART or shown_at is None:
        grip, at = DayGrip(what=DEPART, plan=plan, gesture=None), plan.march.depart
    else:
        hour = plan.march.camp_by_hour
        at = shown_at if hour is None else shown_at.replace(hour=hour.hour, minute=hour.minute)
        grip = DayGrip(what=CAMP_BY, plan=plan, gesture=None)
    return grip.moved(at + timedelta(minutes=STEP_MIN * step))


def _moment(strip: DayStrip, what: str) -> datetime | None:
    return next((moment.at for moment in strip.moments if moment.kind == what), None)


def _midnight(moment: datetime) -> datetime:
    return moment.replace(hour=0, minute=0, second=0, microsecond=0)
