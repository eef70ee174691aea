"""The best chain of nights along one route, exactly, by dynamic programming over place, day and supplies.

Nothing here knows ground or clocks: only what a leg costs on each day, whether it can be made, and what each
place is worth. Every chain that the limits allow is weighed, none by the way it begins.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from functools import lru_cache

import numpy as np
import numpy.typing as npt

from sitepick.grid import DoubleArray, MaskArray

NOTHING_WEAK = 100.0  # what a journey without nights is worth: nothing in it is weak
_BARE = 1e6  # a night without a site outweighs any sum of scores
_SUM, _LEAST, _EFFORT = "sum", "least", "effort"


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Question:
    """What is to be linked. Place 0 is the start, the last one the end; others are where a night may fall.

    Attributes
    ----------
    score : float64 array of shape (places, days + 1)
        What a night at a place is worth on each day, 0-100; column 0 isn't read.
    is_bare : bool array of shape (places,)
        Places on the route without a site, taken only where there is nothing else.
    leg_min : callable
        ``leg_min(day, since)``: minutes on the move from each place to each on a day that begins so many days after
        supplies were taken up, infinite where the day isn't long enough; float64 of shape (places, places).
    days_max : int
    rest_days : frozenset of int
    held : bool array of shape (places, days + 1)
        Where the night of each day may fall.
    supplies : bool array of shape (places, places)
        Legs on which supplies are taken up.
    supply_days_max : int
        How long supplies last.
    comes_to_camp : bool
        Supplies come to the camp when they run out, instead of lying on the route.
    """

    score: DoubleArray
    is_bare: MaskArray
    leg_min: Callable[[int, int], DoubleArray]
    days_max: int
    rest_days: frozenset[int]
    held: MaskArray
    supplies: MaskArray
    supply_days_max: int
    comes_to_camp: bool = False

    @property
    def place_count(self) -> int:
        """How many places there are, start and end among them."""
        return len(self.is_bare)


@dataclass(frozen=True, slots=True, kw_only=True)
class Chain:
    """Where each day ends.

    Attributes
    ----------
    places : tuple of int
        One a day; the last is the end. A rest day ends where it began.
    since : tuple of int
        Days since supplies were taken up, at each day's departure.
    scores : tuple of float
        Of the nights, one for each day but the last; a bare night counts 0.
    leg_min : tuple of float
        Minutes on the move, one a day; 0 on a rest day.
    bare_count : int
    """

    places: tuple[int, ...]
    since: tuple[int, ...]
    scores: tuple[float, ...]
    leg_min: tuple[float, ...]
    bare_count: int

    @property
    def weakest(self) -> float:
        """Score of the weakest night."""
        return min(self.scores, default=NOTHING_WEAK)

    @property
    def mean(self) -> float:
        """Mean score of the nights."""
        return sum(self.scores) / len(self.scores) if self.scores else NOTHING_WEAK

    @property
    def effort_min(self) -> float:
        """Minutes on the move in all."""
        return sum(self.leg_min)


def best_chain(question: Question, rule: str) -> Chain | None:
    """The best chain by a rule; of those with the fewest nights without a site.

    Parameters
    ----------
    question : Question
    rule : str
        Out of `plan.journey.RULES`. Of chains with the same weakest night the mean decides, of those with the fewest
        days the weakest night, then the mean; else fewer days.

    Returns
    -------
    Chain or None
        None where no chain reaches the end within the days, with nights anywhere on the route.
    """
    search = _Search(question, allows_bare=False)
    if not search.lengths():
        search = _Search(question, allows_bare=True)
        if not search.lengths():
            return None
        # The fewest nights without a site first; the rule chooses among those.
        chains = [search.chain(_SUM, days) for days in search.lengths()]
        fewest = min(chain.bare_count for chain in chains)
        return max((chain for chain in chains if chain.bare_count == fewest), key=lambda chain: chain.mean)
    return _RULES[rule](search)


def greedy_chain(question: Question) -> Chain | None:
    """What someone gets who takes the best site in reach each evening; for telling what the chain gains.

    Rest days and supplies count as for `best_chain`; None where the evening's best leads nowhere.
    """
    at, since = 0, 0
    places: list[int] = []
    sinces: list[int] = []
    scores: list[float] = []
    legs: list[float] = []
    end = question.place_count - 1
    for day in range(1, question.days_max + 1):
        sinces.append(since)
        leg = question.leg_min(day, since)[at].copy()
        leg[question.is_bare | ~question.held[:, day]] = np.inf
        if day in question.rest_days:
            to = at
        elif np.isfinite(leg[end]):
            to = end
        else:
            worth = np.where(np.isfinite(leg), question.score[:, day], -np.inf)
            worth[at] = -np.inf
            to = int(np.argmax(worth))
            if not np.isfinite(worth[to]):
                return None
        places.append(to)
        legs.append(0.0 if to == at else float(leg[to]))
        if to == end:
            return Chain(
                places=tuple(places), since=tuple(sinces), scores=tuple(scores), leg_min=tuple(legs), bare_count=0
            )
        since = _since_after(question, since, bool(question.supplies[at, to]) and to != at)
        if since > question.supply_days_max:
            return None
        scores.append(float(question.score[to, day]))
        at = to
    return None


def _since_after(question: Question, since: int, is_supplied: bool) -> int:
    """Days since supplies were taken up, on the evening of a day; what comes to the camp comes when they run out."""
    later = 0 if is_supplied else since + 1
    return 0 if question.comes_to_camp and later >= question.supply_days_max else later


@dataclass(slots=True, kw_only=True)
class _Step:
    """The best value of being at each place on an evening, with so many days since supplies, and where from."""

    value: DoubleArray
    came_from: npt.NDArray[np.int64]
    came_since: npt.NDArray[np.int64]


@dataclass(slots=True)
class _Search:
    """Chains of one question; each aim is worked out once."""

    question: Question
    allows_bare: bool
    _runs: dict[tuple[str, float], list[dict[int, _Step]]] = field(default_factory=dict)

    def lengths(self) -> tuple[int, ...]:
        """In how many days the end can be reached."""
        return self.lengths_with(-np.inf)

    def lengths_with(self, threshold: float) -> tuple[int, ...]:
        """The same where no night may be worth less than so much."""
        run = self._run(_SUM, threshold)
        return tuple(day for day in range(1, len(run)) if self._end(run, day) is not None)

    def value(self, aim: str, days: int, threshold: float = -np.inf) -> float:
        """The best value of reaching the end on a day."""
        run = self._run(aim, threshold)
        since = self._end(run, days)
        assert since is not None
        return float(run[days][since].value[-1])

    def chain(self, aim: str, days: int, threshold: float = -np.inf) -> Chain:
        """The best chain that reaches the end on a day."""
        run = self._run(aim, threshold)
        since = self._end(run, days)
        assert since is not None
        at = self.question.place_count - 1
        places, sinces = [at], []
        for day in range(days, 0, -1):
            step = run[day][since]
            at, since = int(step.came_from[at]), int(step.came_since[at])
            places.append(at)
            sinces.append(since)
        places.reverse()
        sinces.reverse()
        return self._told(places, sinces)

    def _told(self, places: list[int], sinces: list[int]) -> Chain:
        """A chain from its places, the start among them."""
        question = self.question
        scores, legs, bare = [], [], 0
        for day, (start, stop, since) in enumerate(zip(places[:-1], places[1:], sinces, strict=True), start=1):
            legs.append(0.0 if start == stop else float(question.leg_min(day, since)[start, stop]))
            if stop < question.place_count - 1:
                is_bare = bool(question.is_bare[stop])
                bare += is_bare
                scores.append(0.0 if is_bare else float(question.score[stop, day]))
        return Chain(
            places=tuple(places[1:]), since=tuple(sinces), scores=tuple(scores), leg_min=tuple(legs), bare_count=bare
        )

    def _end(self, run: list[dict[int, _Step]], day: int) -> int | None:
        """The days since supplies with which the end is best reached on a day; None where it isn't."""
        values = {since: float(step.value[-1]) for since, step in run[day].items() if np.isfinite(step.value[-1])}
        return max(values, key=lambda since: (values[since], -since)) if values else None

    def _run(self, aim: str, threshold: float) -> list[dict[int, _Step]]:
        key = (aim, threshold)
        if key not in self._runs:
            self._runs[key] = _run(self.question, aim, threshold, allows_bare=self.allows_bare)
        return self._runs[key]


def _run(question: Question, aim: str, threshold: float, *, allows_bare: bool) -> list[dict[int, _Step]]:
    """Best values by day and days since supplies; the list's entry 0 is the start's."""
    count = question.place_count
    start = np.full(count, -np.inf)
    start[0] = NOTHING_WEAK if aim == _LEAST else 0.0
    nowhere = np.full(count, -1, np.int64)
    run: list[dict[int, _Step]] = [{0: _Step(value=start, came_from=nowhere, came_since=nowhere)}]
    for day in range(1, question.days_max + 1):
        found: dict[int, _Step] = {}
        worth = _worth(question, day, aim, threshold, allows_bare=allows_bare)
        for since, step in run[-1].items():
            # Who is at the end has finished.
            value = step.value.copy()
            value[-1] = -np.inf
            if not np.isfinite(value).any():
                continue
            if day in question.rest_days:
                rested = _joined(aim, value, worth, np.zeros(count))
                _keep(found, question, _since_after(question, since, False), rested, np.arange(count), since)
                continue
            leg = question.leg_min(day, since)
            for is_supplied in (False, True):
                may = np.isfinite(leg) & (question.supplies == is_supplied)
                _spread(found, question, (aim, value, worth, leg), may, since, is_supplied=is_supplied)
        run.append(found)
    return run


def _worth(question: Question, day: int, aim: str, threshold: float, *, allows_bare: bool) -> DoubleArray:
    """What ending a day at each place is worth; minus infinity where it may not end."""
    score = np.where(question.is_bare, -_BARE if aim == _SUM else 0.0, question.score[:, day])
    out = ~question.held[:, day] | (question.score[:, day] < threshold) & ~question.is_bare
    if not allows_bare:
        out |= question.is_bare
    score = np.where(out, -np.inf, score)
    score[0] = -np.inf
    score[-1] = {_SUM: 0.0, _LEAST: np.inf, _EFFORT: 0.0}[aim] if question.held[-1, day] else -np.inf
    return np.asarray(score, float)


def _joined(aim: str, value: DoubleArray, worth: DoubleArray, leg: DoubleArray) -> DoubleArray:
    """The value of going on from places of some value to places of some worth."""
    if aim == _LEAST:
        return np.minimum(value, worth)
    if aim == _EFFORT:
        return np.where(np.isneginf(worth), -np.inf, value - leg)
    return value + worth


def _spread(
    found: dict[int, _Step],
    question: Question,
    told: tuple[str, DoubleArray, DoubleArray, DoubleArray],
    may: MaskArray,
    since: int,
    *,
    is_supplied: bool,
) -> None:
    """Go on from every place to every place of a day's legs."""
    aim, value, worth, leg = told
    if not may.any():
        return
    joined = _joined(aim, value[:, None], worth[None, :], np.where(may, leg, 0.0))
    joined = np.where(may, joined, -np.inf)
    best = np.argmax(joined, axis=0)
    reached = joined[best, np.arange(len(best))]
    _keep(found, question, _since_after(question, since, is_supplied), reached, best, since)


def _keep(
    found: dict[int, _Step],
    question: Question,
    later: int,
    value: DoubleArray,
    came_from: npt.NDArray[np.int64],
    since: int,
) -> None:
    """Put values where they beat what was found for the same evening and supplies."""
    if later > question.supply_days_max:
        return
    count = question.place_count
    step = found.get(later)
    if step is None:
        nowhere = np.full(count, -1, np.int64)
        step = found[later] = _Step(value=np.full(count, -np.inf), came_from=nowhere, came_since=nowhere.copy())
    is_better = value > step.value
    step.value[is_better] = value[is_better]
    step.came_from[is_better] = came_from[is_better]
    step.came_since[is_better] = since


def _weakest(search: _Search) -> Chain:
    best = max(search.value(_LEAST, days) for days in search.lengths())
    return _best_mean(search, best)


def _mean(search: _Search) -> Chain:
    return _best_mean(search, -np.inf)


def _fewest(search: _Search) -> Chain:
    days = min(search.lengths())
    return search.chain(_SUM, days, search.value(_LEAST, days))


def _effort(search: _Search) -> Chain:
    days = max(search.lengths(), key=lambda count: (search.value(_EFFORT, count), -count))
    return search.chain(_EFFORT, days)


def _best_mean(search: _Search, threshold: float) -> Chain:
    chains = [search.chain(_SUM, days, threshold) for days in search.lengths_with(threshold)]
    return max(chains, key=lambda chain: (chain.mean, -len(chain.places)))


_RULES = {"weakest": _weakest, "mean": _mean, "fewest": _fewest, "effort": _effort}


def cached(leg_min: Callable[[int, int], DoubleArray]) -> Callable[[int, int], DoubleArray]:
    """The same legs, each day's worked out once."""
    return lru_cache(maxsize=None)(leg_min)
