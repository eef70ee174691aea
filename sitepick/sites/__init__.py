"""Sites: where the whole unit can camp, ranked, with reasons."""

from sitepick.sites.find import find_sites, rank_again
from sitepick.sites.model import Hindrance, Measure, OwnSite, Site, Sites, Topple
from sitepick.sites.place import PlaceAnswer, why_here

__all__ = [
    "Hindrance", "Measure", "OwnSite", "PlaceAnswer", "Site", "Sites", "Topple", "find_sites", "rank_again", "why_here",
]  # fmt: skip
