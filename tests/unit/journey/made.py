"""Made questions: a straight way with sites along it, walked at one kilometre in ten minutes."""

from __future__ import annotations

import numpy as np

from sitepick.journey.chain import Question, cached

DAY_MIN = 100.0


def make_question(
    sites: dict[float, float],
    *,
    length_km: float,
    days_max: int = 4,
    day_min: float = DAY_MIN,
    rest_days: tuple[int, ...] = (),
    pinned: dict[int, float] | None = None,
    bare_km: tuple[float, ...] = (),
    supplies_km: float | None = None,
    supply_days_max: int = 30,
    comes_to_camp: bool = False,
    slower: float = 0.0,
) -> Question:
    """A question over sites told as kilometre and score; each day is `slower` by a share for every day before it."""
    at = np.array([0.0, *sites, *bare_km, length_km])
    score = np.array([0.0, *sites.values(), *(0.0 for _ in bare_km), 0.0])
    is_bare = np.zeros(len(at), bool)
    is_bare[1 + len(sites) : -1] = True
    held = np.ones((len(at), days_max + 1), bool)
    for day, km in (pinned or {}).items():
        held[:, day] = at == km
    supplies = np.zeros((len(at),) * 2, bool)
    if supplies_km is not None:
        supplies = (at[:, None] < supplies_km) & (at[None, :] >= supplies_km)

    def leg_min(day: int, since: int) -> np.ndarray:
        minutes = 10.0 * (at[None, :] - at[:, None]) * (1.0 + slower * (day - 1))
        return np.where((minutes > 0.0) & (minutes <= day_min), minutes, np.inf)

    return Question(
        score=np.repeat(score[:, None], days_max + 1, axis=1),
        is_bare=is_bare,
        leg_min=cached(leg_min),
        days_max=days_max,
        rest_days=frozenset(rest_days),
        held=held,
        supplies=supplies,
        supply_days_max=supply_days_max,
        comes_to_camp=comes_to_camp,
    )
