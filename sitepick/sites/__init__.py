"""Sites: where the whole unit can camp, ranked, with reasons."""

from sitepick.sites.find import find_sites
from sitepick.sites.model import Hindrance, Measure, Site, Sites
from sitepick.sites.place import PlaceAnswer, why_here

__all__ = ["Hindrance", "Measure", "PlaceAnswer", "Site", "Sites", "find_sites", "why_here"]
