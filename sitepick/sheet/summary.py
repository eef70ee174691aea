"""The answer as sentences: the first line says where, when and how much light is left."""

from __future__ import annotations

from datetime import timedelta

from sitepick.plan.pitching import pitching_time_min
from sitepick.sheet.cautions import cautions_of_site, tonight_cautions
from sitepick.sheet.words import along_words, clock, count_words, kilometres, light_words
from sitepick.sites.model import Site
from sitepick.tonight import Tonight

_REASONS_TOLD = 4


def answer_lines(answer: Tonight) -> tuple[str, ...]:
    """The whole answer in a few lines.

    Parameters
    ----------
    answer : Tonight

    Returns
    -------
    tuple of str
        First the answer as one sentence or two, then a line a site, then how many cautions there are with the
        gravest; without a site, the unit on two sites if they hold it, then a line a reason, most limiting first,
        each with what to relax.
    """
    if not answer.sites.sites:
        return (_nothing_line(answer), *split_lines(answer), *_reason_lines(answer))
    first = f"{answer_name(answer)} {answer_facts(answer)} {alternate_words(answer)}"
    return (first, *(_site_line(answer, site) for site in answer.sites.sites), *_gravest_line(answer))


def answer_name(answer: Tonight) -> str:
    """The pick by name: ``"Tonight: site 1, Long Bench."``; without one, that there is none."""
    if not answer.sites.sites:
        return _name_of_nothing(answer)
    pick = answer.sites.sites[0]
    return f"Tonight: site {pick.rank}, {pick.name}."


def _name_of_nothing(answer: Tonight) -> str:
    """That no site was found; on a trainee's copy that none is told, which is no finding."""
    if answer.plan.exercise.handed_in is not None:
        return "Exercise: where to stop is yours to find."
    return "Tonight: no site found."


def answer_facts(answer: Tonight) -> str:
    """Distance, arrival and light of the pick, as a sentence; without one, what was looked through."""
    if not answer.sites.sites:
        return _nothing_line(answer).removeprefix(answer_name(answer)).strip()
    march = answer.march
    pick = answer.sites.sites[0]
    day = march.depart.date()
    shelters_up = pick.arrive + timedelta(minutes=pitching_time_min(answer.plan))
    blocked = f" The route is blocked after {kilometres(march.reach_along_route_m)}." if march.is_blocked else ""
    return (
        f"{along_words(answer, pick)}, arrive {clock(pick.arrive, day)}, "
        f"shelters up by {clock(shelters_up, day)}, {light_words(march)}.{blocked}"
    )


def caution_count(answer: Tonight) -> int:
    """How many things there are to go and look at tonight; those that always stand are not counted."""
    return len(tonight_cautions(answer))


def alternate_words(answer: Tonight) -> str:
    """The alternate by name and where it lies; empty where there is no pick either."""
    found = answer.sites.sites
    if not found:
        return ""
    pick, alternate = found[0], answer.sites.alternate
    if alternate is None:
        return "No alternate found."
    gap_m = alternate.leave_distance_m - pick.leave_distance_m
    if abs(gap_m) < 50.0:
        place = "at the same stretch of the route"
    else:
        place = f"{kilometres(abs(gap_m))} {'beyond' if gap_m > 0 else 'short of'} it"
    why = f" {answer.sites.alternate_words}" if answer.sites.alternate_words else ""
    return f"Alternate: site {alternate.rank}, {alternate.name}, {place}.{why}"


def firmness_words(answer: Tonight) -> str:
    """How firm the pick is and what would topple it; empty where that wasn't worked out."""
    found, topple = answer.sites.sites, answer.sites.topple
    if not found or not answer.sites.is_drawn or found[0].firm_share is None:
        return ""
    text = f"The pick stays first in {100 * found[0].firm_share:.0f} of 100 draws."
    if topple is None:
        return f"{text} No single change that was tried takes its place."
    if topple.then_first is None:
        then = "another place is first then, or none"
    else:
        then = f"site {topple.then_first} is first then"
    return f"{text} What would topple it soonest: {topple.text}; {then}."


def _site_line(answer: Tonight, site: Site) -> str:
    firm = "" if site.firm_share is None else f", first in {100 * site.firm_share:.0f} of 100 draws"
    cautions = count_words(len(cautions_of_site(answer, site)), "caution")
    # The way to the pick stands in the first line already.
    way = f"{along_words(answer, site)}, arrive {clock(site.arrive, answer.march.depart.date())}; "
    return (
        f"{site.rank}  {site.name}: score {site.score:.0f} of 100{firm}; {'' if site.rank == 1 else way}"
        f"room for {count_words(site.capacity, 'shelter')}; {cautions}. {site.reason}"
    )


def _gravest_line(answer: Tonight) -> tuple[str, ...]:
    told = tonight_cautions(answer)
    if not told:
        return ()
    return (f"{count_words(len(told), 'caution')} on the sheet and in the order; the gravest: {told[0].text}",)


def _nothing_line(answer: Tonight) -> str:
    march = answer.march
    is_withheld = answer.plan.exercise.handed_in is not None
    return (
        f"{_name_of_nothing(answer)} {kilometres(march.reach_along_route_m)} of the route and "
        f"{answer.sites.reach_area_m2 / 1e6:.1f} km² of ground are in reach by "
        f"{clock(march.camp_by, march.depart.date())}{'' if is_withheld else ', and none of it serves'}."
    )


def split_lines(answer: Tonight) -> tuple[str, ...]:
    """The unit on two sites, with what to mind then; nothing where one holds it, or no two do."""
    split = answer.sites.split
    if split is None:
        return ()
    day = answer.march.depart.date()
    arrivals = " and ".join(clock(part.arrive, day) for part in split.parts)
    return (f"{split.text} Arrive {arrivals}. {' '.join(caution.text for caution in split.cautions)}",)


def _reason_lines(answer: Tonight) -> tuple[str, ...]:
    return tuple(f"{reason.text} To relax: {reason.fix}." for reason in answer.sites.hindrances[:_REASONS_TOLD])
