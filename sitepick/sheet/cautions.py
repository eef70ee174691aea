"""Which cautions go with what is handed out, none told twice."""

from __future__ import annotations

from sitepick.caution import Caution, gravest_first, joined_by_place
from sitepick.sites.model import Site
from sitepick.tonight import Tonight

# Common practice; stand on every sheet whatever the ground.
STANDING_CAUTIONS = (
    Caution(
        kind="ground",
        text="A map can't see the ground: the leader walks the site before anyone pitches, "
        "and moves on if it won't do.",
    ),
    Caution(
        kind="fire",
        text="Stoves and fires: keep air moving through every shelter, someone awake while anything burns, "
        "nobody asleep beside a closed vent. Carbon monoxide has no smell.",
    ),
    Caution(
        kind="timber",
        text="Look up before pitching: dead trees, hung branches and loaded crowns fall in wind and thaw.",
    ),
    Caution(
        kind="cold",
        text="Watch each other for white skin, shivering and slurred words; warm a casualty before anything else.",
    ),
    Caution(
        kind="rules",
        text="Local rules, the land owner's permission and trained judgement on the ground come before this paper.",
    ),
)

_ALWAYS = ("ground", "rules")


def cautions_of_site(answer: Tonight, site: Site) -> tuple[Caution, ...]:
    """What to look at on the way to a site and on it: the site's, the camp's where it lies there, the legs' before it.

    Parameters
    ----------
    answer : Tonight
    site : Site
    """
    told = list(site.cautions)
    if answer.camp is not None and answer.camp.site_rank == site.rank:
        told += answer.camp.cautions
    begun_m = 0.0
    for leg in answer.march.legs:
        if begun_m < site.leave_distance_m:
            told += leg.cautions
        begun_m += leg.distance_m
    return gravest_first(joined_by_place(told))


def tonight_cautions(answer: Tonight) -> tuple[Caution, ...]:
    """What to look at tonight, the gravest first: the one list that the terminal counts and sheet, order and desk show.

    The pick's (without one, every leg's), the alternate's under its number, then the data's and the march's. Those
    that always stand are not among them.

    Parameters
    ----------
    answer : Tonight
    """
    found = answer.sites.sites
    if found:
        told = list(cautions_of_site(answer, found[0]))
    else:
        told = [caution for leg in answer.march.legs for caution in leg.cautions]
    alternate = answer.sites.alternate
    if alternate is not None:
        same = {caution.text for caution in told}
        told += [
            Caution(kind=caution.kind, text=f"Site {alternate.rank}, the alternate: {_lower_first(caution.text)}")
            for caution in alternate.cautions
            if caution.text not in same
        ]
    return gravest_first(joined_by_place([*told, *answer.data_cautions()]))


def standing_cautions(answer: Tonight) -> tuple[Caution, ...]:
    """Those that always stand, less the ones that tonight's own cautions tell already."""
    told = {caution.kind for caution in tonight_cautions(answer)}
    return tuple(caution for caution in STANDING_CAUTIONS if caution.kind not in told or caution.kind in _ALWAYS)


def general_cautions(answer: Tonight) -> tuple[Caution, ...]:
    """What holds for the whole answer: the data's, the march's and those that always stand."""
    return gravest_first(answer.data_cautions() + STANDING_CAUTIONS)


def _lower_first(text: str) -> str:
    return text[0].lower() + text[1:]
