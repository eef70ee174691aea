"""Which cautions go with what is handed out, none told twice."""

from __future__ import annotations

from sitepick.caution import Caution
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
    return tuple(dict.fromkeys(told))


def tonight_cautions(answer: Tonight) -> tuple[Caution, ...]:
    """What to look at tonight: the pick's (without one, every leg's), then the data's and the march's."""
    if answer.sites.sites:
        own = cautions_of_site(answer, answer.sites.sites[0])
    else:
        own = tuple(caution for leg in answer.march.legs for caution in leg.cautions)
    return tuple(dict.fromkeys(own + answer.data_cautions()))


def general_cautions(answer: Tonight) -> tuple[Caution, ...]:
    """What holds for the whole answer: the data's, the march's and those that always stand."""
    return tuple(dict.fromkeys(answer.data_cautions() + STANDING_CAUTIONS))
