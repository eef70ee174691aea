"""Who carries what: loads on backs and sleds from the kit list, held against the sleds' limit.

Each section's goods lie on its own sleds. A sled over its limit gives up the least weight that brings it
under; what a neighbour's sled has room for goes there, the rest stays and the sled is told as over.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from sitepick.plan.kit import STOWED, KitItem
from sitepick.plan.model import MarchSettings, Plan

WEIGHT_STEP_KG = 0.1  # goods are weighed up in such steps when the least to take off is looked for
EXACT_OVER_MAX_KG = 500.0  # ours: a sled so far over is a mistake in the list; the heaviest goods are named then
_SLACK_KG = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """People who sleep and march together.

    Attributes
    ----------
    name : str
    people : int
    """

    name: str
    people: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Goods:
    """Some of one thing of one section.

    Attributes
    ----------
    name, section : str
    weight_kg : float
        Of one.
    count : int
    stowed : str
        Out of `plan.kit.STOWED`.
    """

    name: str
    section: str
    weight_kg: float
    count: int
    stowed: str

    @property
    def total_kg(self) -> float:
        """Weight of all of them."""
        return self.weight_kg * self.count


@dataclass(frozen=True, slots=True, kw_only=True)
class Sled:
    """One loaded sled.

    Attributes
    ----------
    name : str
        As told to people.
    section : str
        Who pulls it.
    limit_kg : float
    goods : tuple of Goods
        From low and aft forward and up.
    pullers : int
        People in harness at a time: no more than the section has for each of its sleds.
    too_much : tuple of Goods
        Least that must come off to be under the limit; empty where it is.
    guests : tuple of Goods
        What lies here for other sections.
    """

    name: str
    section: str
    limit_kg: float
    goods: tuple[Goods, ...]
    pullers: int
    too_much: tuple[Goods, ...] = ()
    guests: tuple[Goods, ...] = ()

    @property
    def load_kg(self) -> float:
        """Weight of what lies on it."""
        return math.fsum(goods.total_kg for goods in self.goods)

    @property
    def over_kg(self) -> float:
        """How far it is over its limit; 0 where it isn't."""
        over = self.load_kg - self.limit_kg
        return over if over > _SLACK_KG else 0.0


def sections_of(plan: Plan) -> tuple[Section, ...]:
    """The unit's sections with people in them, in the plan's order."""
    people: dict[str, int] = {}
    for shelter in plan.unit.shelters:
        people[shelter.section] = people.get(shelter.section, 0) + shelter.people
    return tuple(Section(name=name, people=count) for name, count in people.items() if count > 0)


# The limits of the pace's own settings: past them a march is told as at them, and a caution names the load.
_LOAD_MOST_KG, _SLED_MOST_KG, _TEAM_MOST = 80.0, 300.0, 12


def has_sleds(plan: Plan) -> bool:
    """Whether people pull sleds."""
    return plan.march.has_sled and plan.march.mode != "vehicle"


def section_load_kg(plan: Plan, section: Section) -> float:
    """What one person of a section has on the back.

    The plan's own figure where it holds one; else the kit list, with the sled's goods shared out where
    there is neither sled nor vehicle for them.
    """
    if plan.load.carried_kg is not None:
        return plan.load.carried_kg
    rides = plan.march.has_sled or plan.march.mode == "vehicle"
    carried = [item for item in plan.load.kit if item.carried == "back" or not rides]
    total = math.fsum(item.weight_kg * _count(item, section) for item in carried)
    return total / section.people


def person_load_kg(plan: Plan) -> float:
    """Load on one person's back in the section that carries most."""
    return max(section_load_kg(plan, section) for section in sections_of(plan))


def _mean_load_kg(plan: Plan) -> float:
    sections = sections_of(plan)
    total_kg = math.fsum(section_load_kg(plan, section) * section.people for section in sections)
    return total_kg / sum(section.people for section in sections)


def march_with_loads(plan: Plan) -> MarchSettings:
    """How the unit moves, with loads and sleds by the kit list where the user gave no figure for the pace.

    The heaviest sled and the smallest team set the pace of all. Loads on backs can be shared out, so their mean does;
    a section that carries more than people should is told by a caution.
    """
    pace, sleds = plan.march.pace, load_sleds(plan)
    heaviest_kg = max((sled.load_kg for sled in sleds), default=0.0) + plan.load.sled_own_kg
    team = min((sled.pullers for sled in sleds if sled.pullers), default=plan.load.pullers_per_sled)
    filled = replace(
        pace,
        load_kg=min(_mean_load_kg(plan), _LOAD_MOST_KG) if pace.load_kg is None else pace.load_kg,
        sled_kg=min(heaviest_kg, _SLED_MOST_KG) if pace.sled_kg is None else pace.sled_kg,
        sled_team_count=min(max(1, team), _TEAM_MOST) if pace.sled_team_count is None else pace.sled_team_count,
    )
    return replace(plan.march, pace=filled)


def sled_load_kg(plan: Plan) -> float:
    """Weight on the heaviest sled, the sled's own not counted; 0 without sleds."""
    return max((sled.load_kg for sled in load_sleds(plan)), default=0.0)


def load_sleds(plan: Plan) -> tuple[Sled, ...]:
    """Every sled with its goods; none where people pull no sleds.

    Notes
    -----
    The least weight to take off is exact to `WEIGHT_STEP_KG`; where it goes is best fit, heaviest first.
    Tent and fuel stay with their section while anything else will do.
    """
    if not has_sleds(plan):
        return ()
    sections = sections_of(plan)
    goods = {section.name: _goods_of(plan.load.kit, section) for section in sections}
    sleds = _sleds_of(plan, sections, goods)
    moved = _even_out(sleds)
    return tuple(_finished(sled) for sled in moved)


def least_off(goods: Sequence[Goods], over_kg: float) -> tuple[Goods, ...]:
    """The least weight of goods that is at least `over_kg`; all of them where that isn't enough.

    Among equal weights the one with fewer pieces. Beyond `EXACT_OVER_MAX_KG` the heaviest first.
    """
    if over_kg <= _SLACK_KG:
        return ()
    if math.fsum(one.total_kg for one in goods) <= over_kg or over_kg > EXACT_OVER_MAX_KG:
        return _heaviest_first(goods, over_kg)
    # Weights are cut to whole steps, so that what comes off is never less than it is counted for.
    every = [(bundle, math.floor(bundle.total_kg / WEIGHT_STEP_KG + 1e-6)) for one in goods for bundle in _bundles(one)]
    bundles, steps = [bundle for bundle, step in every if step], [step for _, step in every if step]
    need = math.ceil(over_kg / WEIGHT_STEP_KG - 1e-6)
    if sum(steps) < need:
        return _heaviest_first(goods, over_kg)
    width = need + max(steps) + 1
    pieces = np.full((len(bundles) + 1, width), np.inf)
    pieces[0, 0] = 0.0
    for index, (bundle, step) in enumerate(zip(bundles, steps, strict=True)):
        pieces[index + 1] = pieces[index]
        np.minimum(pieces[index + 1, step:], pieces[index, :-step] + bundle.count, out=pieces[index + 1, step:])
    at = need + int(np.argmax(np.isfinite(pieces[-1, need:])))
    taken = []
    for index in range(len(bundles), 0, -1):
        if pieces[index, at] != pieces[index - 1, at]:
            taken.append(bundles[index - 1])
            at -= steps[index - 1]
    return _merged(reversed(taken))


def _count(item: KitItem, section: Section) -> int:
    return item.number * (section.people if item.whose == "person" else 1)


def _goods_of(kit: Sequence[KitItem], section: Section) -> tuple[Goods, ...]:
    counted = ((item, _count(item, section)) for item in kit if item.carried == "sled")
    return tuple(
        Goods(name=item.name, section=section.name, weight_kg=item.weight_kg, count=count, stowed=item.stowed)
        for item, count in counted
        if count > 0
    )


def _sleds_of(plan: Plan, sections: Sequence[Section], goods: dict[str, tuple[Goods, ...]]) -> list[Sled]:
    """The sleds with their sections' goods: one a section, fewer shared by neighbours, more where most is to pull.

    A sled that nobody is left to pull stays at base.
    """
    count = plan.load.sled_count or len(sections)
    if count < len(sections):
        groups = [
            [section for index, section in enumerate(sections) if index * count // len(sections) == number]
            for number in range(count)
        ]
    else:
        groups = [[section] for section in sections]
    weights = [math.fsum(one.total_kg for section in group for one in goods[section.name]) for group in groups]
    shares = [1] * len(groups)
    for _ in range(count - len(groups)):
        pulled = [index for index, group in enumerate(groups) if shares[index] < _people(group)]
        if not pulled:
            break
        shares[max(pulled, key=lambda index: (weights[index] / shares[index], -index))] += 1
    sleds: list[Sled] = []
    for group, share in zip(groups, shares, strict=True):
        name = " and ".join(section.name for section in group)
        pullers = min(plan.load.pullers_per_sled, _people(group) // share)
        every = [one for section in group for one in goods[section.name]]
        for number, part in enumerate(_shared_out(every, share), start=1):
            sleds.append(
                Sled(
                    name=f"Sled {len(sleds) + 1}, {name}" + (f" ({number} of {share})" if share > 1 else ""),
                    section=name,
                    limit_kg=plan.load.sled_limit_kg,
                    goods=part,
                    pullers=pullers,
                )
            )
    return sleds


def _people(group: Sequence[Section]) -> int:
    return sum(section.people for section in group)


def _shared_out(goods: Sequence[Goods], share: int) -> list[tuple[Goods, ...]]:
    """One section's goods on its several sleds: heaviest first, evenly, what is left over on the lightest sleds."""
    if share == 1:
        return [tuple(goods)]
    parts: list[list[Goods]] = [[] for _ in range(share)]
    weights = [0.0] * share
    for one in sorted(goods, key=lambda one: -one.weight_kg):
        each, rest = divmod(one.count, share)
        lightest = sorted(range(share), key=lambda index: (weights[index], index))
        for place, index in enumerate(lightest):
            count = each + (place < rest)
            if count > 0:
                parts[index].append(replace(one, count=count))
                weights[index] += one.weight_kg * count
    return [tuple(part) for part in parts]


def _even_out(sleds: Sequence[Sled]) -> list[Sled]:
    """What is too much on one sled goes where there is room for it."""
    loads = [list(sled.goods) for sled in sleds]
    guests: list[list[Goods]] = [[] for _ in sleds]
    room = [sled.limit_kg - sled.load_kg for sled in sleds]
    roomiest_kg = max(room)
    for index, sled in enumerate(sleds):
        for one in sorted(_off(sled), key=lambda one: -one.weight_kg):
            left = one.count
            while left > 0 and one.weight_kg <= roomiest_kg + _SLACK_KG:
                best, count = _best_place(room, one.weight_kg, left)
                if count == 0:
                    break
                part = replace(one, count=count)
                loads[index] = list(_without(loads[index], part))
                loads[best].append(part)
                guests[best].append(part)
                room[best] -= part.total_kg
                roomiest_kg = max(room)
                left -= count
    return [
        replace(sled, goods=_merged(load), guests=_merged(guest))
        for sled, load, guest in zip(sleds, loads, guests, strict=True)
    ]


def _best_place(room_kg: Sequence[float], weight_kg: float, count: int) -> tuple[int, int]:
    """The sled for some pieces of one weight, and how many go there: the tightest that takes all, else the roomiest."""
    fits = [min(count, math.floor((room + _SLACK_KG) / weight_kg)) if room > 0.0 else 0 for room in room_kg]
    whole = [index for index, fit in enumerate(fits) if fit == count]
    if whole:
        return min(whole, key=lambda index: (room_kg[index], index)), count
    most = max(range(len(fits)), key=lambda index: (fits[index], -index))
    return most, fits[most]


def _off(sled: Sled) -> tuple[Goods, ...]:
    """What a sled over its limit gives up; tent and fuel only where nothing else will do."""
    if sled.over_kg == 0.0:
        return ()
    light = [one for one in sled.goods if one.stowed != "low aft"]
    enough = math.fsum(one.total_kg for one in light) >= sled.over_kg
    return least_off(light if enough else sled.goods, sled.over_kg)


def _finished(sled: Sled) -> Sled:
    """The goods in the order they are stowed: low and aft first, heaviest first; what is too much named."""
    ordered = sorted(sled.goods, key=lambda one: (STOWED.index(one.stowed), -one.weight_kg, one.section, one.name))
    return replace(sled, goods=tuple(ordered), too_much=_off(sled))


def _heaviest_first(goods: Sequence[Goods], over_kg: float) -> tuple[Goods, ...]:
    taken, left_kg = [], over_kg
    for one in sorted(goods, key=lambda one: -one.weight_kg):
        if left_kg <= _SLACK_KG or one.weight_kg <= 0.0:
            break
        count = min(one.count, math.ceil(left_kg / one.weight_kg - 1e-9))
        taken.append(replace(one, count=count))
        left_kg -= count * one.weight_kg
    return tuple(taken)


def _bundles(one: Goods) -> list[Goods]:
    """Counts 1, 2, 4 ... that between them make up every count there is."""
    counts, left, size = [], one.count, 1
    while left > 0:
        counts.append(min(size, left))
        left -= counts[-1]
        size *= 2
    return [replace(one, count=count) for count in counts]


def _merged(pieces: Iterable[Goods]) -> tuple[Goods, ...]:
    """The same goods as few entries, in the order they first come."""
    found: dict[Goods, int] = {}
    for piece in pieces:
        key = replace(piece, count=0)
        found[key] = found.get(key, 0) + piece.count
    return tuple(replace(key, count=count) for key, count in found.items() if count > 0)


def _without(goods: Sequence[Goods], piece: Goods) -> tuple[Goods, ...]:
    """The goods less one piece."""
    left, is_gone = [], False
    for one in goods:
        if not is_gone and replace(one, count=0) == replace(piece, count=0):
            one, is_gone = replace(one, count=one.count - piece.count), True
        left.append(one)
    return tuple(one for one in left if one.count > 0)
