"""Sentries and stove watch through the night."""

from __future__ import annotations

import math
from datetime import datetime, timedelta

from sitepick.camp.model import Camp, Post, Turn
from sitepick.plan.model import Plan

PER_POST = 2  # common practice: two to a post at night


def night_turns(plan: Plan, camp: Camp, begin: datetime) -> tuple[Turn, ...]:
    """Turns on the posts that can be manned all night, section by section, and the watch in every shelter.

    Parameters
    ----------
    plan : Plan
        Its work settings: length of a turn, what may be asked of one person, when the unit wakes.
    camp : Camp
        With its security.
    begin : datetime
        When the work is done.

    Returns
    -------
    tuple of Turn
        By their begin. Nobody is asked for a post who sleeps in the leader's shelter.
    """
    end = _wake(plan, begin)
    posts = manned_posts(plan, camp, begin)
    sections = [placed.shelter for placed in camp.shelters if not placed.shelter.is_leaders and placed.shelter.people]
    sections = sections or [placed.shelter for placed in camp.shelters if placed.shelter.people]
    turns: list[Turn] = []
    if posts and sections:
        step = timedelta(minutes=plan.camp.work.sentry_turn_min)
        at, number = begin, 0
        queue = [shelter.name for shelter in sections for _ in range(max(1, shelter.people // PER_POST))]
        # One after the other through the tents, so that nobody is called twice before all were called once.
        queue = [name for start in range(len(sections)) for name in queue[start :: len(sections)]]
        while at < end:
            until = min(at + step, end)
            for post in posts:
                turns.append(Turn(duty=post.name, who=queue[number % len(queue)], begin=at, end=until))
                number += 1
            at = until
    stove_min = (end - begin).total_seconds() / 60.0
    for placed in camp.shelters:
        people = placed.shelter.people
        if people > 1:
            duty = f"stove watch while it burns, up to {stove_min / people:.0f} min each"
            turns.append(Turn(duty=duty, who=placed.shelter.name, begin=begin, end=end))
    return tuple(turns)


def manned_posts(plan: Plan, camp: Camp, begin: datetime) -> tuple[Post, ...]:
    """The posts that see most, as many as can be manned all night within what one person may be asked for."""
    if camp.security is None:
        return ()
    hours = (_wake(plan, begin) - begin).total_seconds() / 3600.0
    people = sum(placed.shelter.people for placed in camp.shelters if not placed.shelter.is_leaders)
    people = people or sum(placed.shelter.people for placed in camp.shelters)
    if hours <= 0.0 or people < PER_POST:
        return ()
    most = math.floor(people * plan.camp.work.sentry_hours_max / (PER_POST * hours) + 1e-9)
    seeing = sorted(camp.security.posts, key=lambda post: -post.seen_frac)[: max(1, most)]
    return tuple(post for post in camp.security.posts if post in seeing)


def _wake(plan: Plan, begin: datetime) -> datetime:
    wake = plan.camp.work.wake_at
    at = begin.replace(hour=wake.hour, minute=wake.minute, second=0, microsecond=0)
    return at if at > begin else at + timedelta(days=1)
