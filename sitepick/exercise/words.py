"""What is said to a trainee: what is good first, then what would be better, and never a blame."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from sitepick.exercise.model import Assessment, PickGround, RuleCheck
    from sitepick.exercise.standard import Standard

ITEM_LABELS = {
    "limits": "Room within the limits",
    "ground": "How good the ground is",
    "alternate": "The alternate",
    "layout": "The layout",
    "timetable": "The timetable",
    "reasons": "The reasons",
}
_GOOD, _FAIR = 85.0, 60.0  # per cent; ours
_AS_GOOD_FRAC = 0.995


def opening_words(one: Assessment) -> str:
    """The first sentence of a debrief."""
    if one.pick is None:
        return "No pick was handed in this time; here is what the ground offers."
    if one.percent >= _GOOD:
        return "A pick to sleep well on: the ground agrees with you."
    if one.percent >= _FAIR:
        return "A sound answer, with something left to find on this ground."
    return "This ground is not easy to read; here is what it says about your answer."


def limits_words(pick: PickGround | None) -> str:
    """Which limits stand against a pick."""
    if pick is None:
        return "No pick was handed in."
    if not pick.broken:
        moved = f" (counted {pick.moved_m:.0f} m away, within what a map can be read to)" if pick.moved_m >= 1.0 else ""
        return f"The whole unit finds room there, within every limit{moved}."
    room = f"{100.0 * pick.room_frac:.0f} % of the unit would find room close by within the limits."
    told = " ".join(one.sentence for one in pick.broken)
    return f"{told} {room if pick.room_frac > 0.0 else 'Nobody would find room close by within the limits.'}"


def ground_words(pick: PickGround | None, standard: Standard, poor_score: float) -> str:
    """How the ground at a pick compares: with the best, and with what earns nothing."""
    if pick is None:
        return "No pick was handed in."
    if not pick.measures:
        return "The ground there can't be measured."
    best = standard.best_score
    if best is None:
        return f"It scores {pick.score:.0f} of 100; no place in reach holds the unit within every limit."
    if not pick.broken and pick.score >= best * _AS_GOOD_FRAC:
        return f"It scores {pick.score:.0f} of 100: as good as the best that was to be had."
    told = f"It scores {pick.score:.0f} of 100; the best in reach {best:.0f}, the poorest {poor_score:.0f}."
    if pick.better_frac is not None:
        told += f" {_percent(pick.better_frac)} of the ground where the unit could camp is better."
    return told


def _percent(share: float) -> str:
    return f"{100.0 * share:.0f} %" if share >= 0.01 else "Less than 1 %"


def alternate_words(pick: PickGround | None, alternate: PickGround | None, standard: Standard) -> str:
    """How the alternate compares, and whether it is one."""
    if alternate is None:
        return "No alternate was handed in."
    if pick is not None and pick.overlaps(alternate):
        return "It shares ground with the pick, so what spoils the one spoils the other."
    if alternate.broken:
        return limits_words(alternate)
    best = standard.alternate_score
    if best is None or alternate.score >= best * _AS_GOOD_FRAC:
        return f"It scores {alternate.score:.0f} of 100: as good as one could ask for."
    return f"It scores {alternate.score:.0f} of 100; the best alternate {best:.0f}."


def rules_words(checks: Sequence[RuleCheck], what: str) -> str:
    """How many rules a layout or a timetable keeps."""
    if not checks:
        return f"No {what} was handed in."
    kept = sum(one.is_kept for one in checks)
    return f"{kept} of {len(checks)} rules kept{'.' if kept == len(checks) else '; the others are told below.'}"


def reasons_words(reasons: str) -> str:
    """Who marks the reasons."""
    return "Read and marked by the trainer." if reasons.strip() else "No reasons were handed in."


def better_words(one: Assessment, standard: Standard) -> str:
    """What to look for next time, in a sentence or two."""
    if one.pick is None or not one.pick.measures:
        return ""
    if one.pick.broken:
        return "Next time, first look for what rules a place out, then for what makes it good."
    if not one.missed_factor:
        return "Nothing about this place was left to find."
    best = next(measure for measure in standard.best_measures if measure.label == one.missed_factor)
    mine = next(measure for measure in one.pick.measures if measure.label == one.missed_factor)
    return (
        f"What the best place had more of: {one.missed_factor}. There: {_lower_first(best.sentence)} Here: "
        f"{_lower_first(mine.sentence)}"
    )


def _lower_first(text: str) -> str:
    return text[:1].lower() + text[1:]
