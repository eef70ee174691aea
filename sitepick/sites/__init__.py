"""Sites: where the whole unit can camp, ranked, with reasons."""

from sitepick.sites.find import find_sites, rank_again
from sitepick.sites.model import Hindrance, Measure, OwnSite, Site, Sites, Split, SplitPart, Topple
from sitepick.sites.place import PlaceAnswer, why_here

__all__ = [
    "Hindrance", "Measure", "OwnSite", "PlaceAnswer", "Site", "Sites", "Split", "SplitPart", "Topple", "find_sites",
    "rank_again", "why_here",
]  # fmt: skip
