"""The day as a leader reads it out: light and moon first, then a line for each thing that happens."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime, timedelta
from itertools import pairwise

from sitepick.march.clock import HALT, moonlight_words
from sitepick.march.model import March
from sitepick.plan.pitching import pitching_words
from sitepick.sheet.timetable import DEPART, Entry, named_halts, timetable, turn_back_words
from sitepick.sheet.words import clock, count_words, light_words, zone_words
from sitepick.tonight import Tonight


def day_lines(answer: Tonight) -> tuple[str, ...]:
    """The whole day in few lines.

    Parameters
    ----------
    answer : Tonight

    Returns
    -------
    tuple of str
        First the sky, then what happens by the clock up to the pick (without one, to the reach's end), last the
        turn-back place and what the pitching time is made of.
    """
    march = answer.march
    day = march.depart.date()
    halts = named_halts(answer)
    entries = [_held_at_the_start(entry, halts) for entry in timetable(answer) if entry.is_intent]
    entries += [
        Entry(at=begin, what=f"{reason}, {length_min:.0f} min")
        for begin, length_min, reason in halts
        if reason != HALT and begin > march.depart
    ]
    first = f"The day, {march.depart.day} {march.depart:%B %Y}, {zone_words(march.depart)}: {sky_words(march)}"
    lines = [
        f"  {clock(entry.at, day)}  {entry.said or entry.what}" for entry in sorted(entries, key=lambda entry: entry.at)
    ]
    usual = [begin for begin, _, reason in halts if reason == HALT]
    if usual:
        lines.append(f"  {usual_halts_words(usual, answer.plan.march.halt_min)}")
    turn = turn_back_words(march)
    if turn and (march.turn_back is None or march.turn_back.is_whole_day):
        lines.append(f"  {turn}")
    lines.append(f"  Pitching takes {pitching_words(answer.plan)}.")
    return (first, *lines)


def _held_at_the_start(entry: Entry, halts: tuple[tuple[datetime, float, str], ...]) -> Entry:
    """The departure with the delay that counts as lost there, so that it isn't read out as a halt."""
    held = [(length_min, reason) for begin, length_min, reason in halts if begin == entry.at]
    if not held or entry.what != DEPART:
        return entry
    return replace(entry, what=f"{DEPART}; {held[0][1]} of {held[0][0]:.0f} min counted in at the start")


def usual_halts_words(begins: Sequence[datetime], halt_min: float) -> str:
    """The halts by the clock as one sentence, told by their rhythm where they keep one."""
    day = begins[0].date()
    steps = {(after - before) / timedelta(minutes=1) for before, after in pairwise(begins)}
    if len(begins) > 2 and len(steps) == 1:
        every = f"every {steps.pop():.0f} min from {clock(begins[0], day)} to {clock(begins[-1], day)}"
        return f"{len(begins)} halts of {halt_min:.0f} min, {every}."
    told = ", ".join(clock(begin, day) for begin in begins)
    return f"{count_words(len(begins), 'halt')} of {halt_min:.0f} min, at {told}."


def sky_words(march: March) -> str:
    """Sun, twilight and moon of the day, as one sentence."""
    day = march.depart.date()
    told = [
        f"{word} {clock(at, day)}"
        for word, at in (("sunrise", march.sun.sunrise), ("sunset", march.sun.sunset))
        if at is not None
    ]
    told.append(light_words(march))
    text = ", ".join(told)
    return f"{text}; {moon_words(march)}." if march.moon is not None else f"{text}."


def moon_words(march: March) -> str:
    """The moon of the night, as a clause; empty where it wasn't looked up."""
    moon = march.moon
    if moon is None:
        return ""
    day = march.depart.date()
    share = f"moon {100.0 * moon.lit_frac:.0f} % lit and {'growing' if moon.is_waxing else 'shrinking'}"
    if not moon.up:
        return f"{share}, down all day and night"
    if not moon.rises and not moon.sets:
        return f"{share}, up all day and night"
    told = sorted([(at, "rises") for at in moon.rises] + [(at, "sets") for at in moon.sets])
    return f"{share}, " + ", ".join(f"{word} {clock(at, day)}" for at, word in told)


def dark_march_words(march: March) -> str:
    """Whether the moon lights the dark hours of the march, as a sentence; empty where none of it is dark."""
    if not march.dark or march.moon is None:
        return ""
    return moonlight_words(march.moon, march.dark)
