"""Camp: who goes where on the picked site."""

from sitepick.camp.lay_out import lay_out_camp
from sitepick.camp.model import Camp, Facility, PlacedShelter

__all__ = ["Camp", "Facility", "PlacedShelter", "lay_out_camp"]
