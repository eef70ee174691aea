"""Whether a trainee's timetable is honest: reckoned with the pace, the pitching time and the light."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta

from sitepick.exercise.model import PickGround, RuleCheck
from sitepick.march.model import March
from sitepick.plan.exercise import HandedIn
from sitepick.plan.model import Plan

_SPAN_MIN = 60.0  # ours: so many minutes off, a time counts for nothing
_SLACK_MIN = 5.0  # ours: times are told to five minutes


def check_timetable(
    handed_in: HandedIn, pick: PickGround | None, plan: Plan, march: March
) -> tuple[RuleCheck, ...]:  # fmt: skip
    """Every rule of a timetable.

    Parameters
    ----------
    handed_in : HandedIn
    pick : PickGround or None
        Where they say they go; None: nobody said, so the way there isn't held against anything.
    plan : Plan
    march : March
    """
    checks = list(_arrival(handed_in.arrive, pick, plan, march))
    checks.append(_pitching(handed_in, march))
    return tuple(checks)


def _arrival(arrive: datetime | None, pick: PickGround | None, plan: Plan, march: March) -> Iterator[RuleCheck]:
    if arrive is None:
        yield RuleCheck(name="arrival", kept_frac=0.0, sentence="No time of arrival was told.")
        yield RuleCheck(name="camp_by", kept_frac=0.0, sentence="So nobody knows whether light is left to pitch by.")
        return
    if pick is not None:
        yield _honest(arrive, pick, plan, march)
    camp_by = march.camp_by.astimezone(arrive.tzinfo)
    late_min = (arrive - camp_by).total_seconds() / 60.0
    sentence = f"Arrival by {camp_by:%H:%M} leaves light to pitch by."
    if late_min > 0.0:
        sentence = f"Arrival {late_min:.0f} min after {camp_by:%H:%M}: too late to pitch before dark."
    yield RuleCheck(name="camp_by", kept_frac=_frac(late_min), sentence=sentence)


def _honest(arrive: datetime, pick: PickGround, plan: Plan, march: March) -> RuleCheck:
    """The arrival that was told against the one that the pace allows, within the error of the pace."""
    if not pick.moving_min >= 0.0:
        return RuleCheck(
            name="arrival", kept_frac=0.0, sentence="The pick can't be reached in the day, whatever time is told."
        )
    error = plan.march.pace_error_frac

    def at(moving_min: float) -> datetime:
        return (march.depart + timedelta(minutes=march.halt_rule.elapsed_min(moving_min))).astimezone(arrive.tzinfo)

    early, late = at(pick.moving_min / (1.0 + error)), at(pick.moving_min / (1.0 - error))
    off_min = max((early - arrive).total_seconds(), (arrive - late).total_seconds()) / 60.0 - _SLACK_MIN
    told = f"Arrival at {arrive:%H:%M}; by the pace between {early:%H:%M} and {late:%H:%M}"
    if off_min <= 0.0:
        return RuleCheck(name="arrival", kept_frac=1.0, sentence=f"{told}: an honest time.")
    side = "earlier than the unit can be there" if arrive < early else "later than need be"
    return RuleCheck(name="arrival", kept_frac=_frac(off_min), sentence=f"{told}: {side}.")


def _pitching(handed_in: HandedIn, march: March) -> RuleCheck:
    arrive, ready = handed_in.arrive, handed_in.ready
    if arrive is None or ready is None:
        return RuleCheck(name="pitching", kept_frac=0.0, sentence="When everyone is under shelter was not told.")
    told_min = (ready - arrive).total_seconds() / 60.0
    needed_min = march.pitching_min
    sentence = f"{told_min:.0f} min to pitch; {needed_min:.0f} are needed."
    kept = 1.0 if told_min + _SLACK_MIN >= needed_min else max(0.0, (told_min + _SLACK_MIN) / needed_min)
    return RuleCheck(name="pitching", kept_frac=kept, sentence=sentence)


def _frac(off_min: float) -> float:
    return min(1.0, max(0.0, 1.0 - off_min / _SPAN_MIN))
