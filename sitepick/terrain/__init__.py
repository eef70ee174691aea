"""Terrain: what the ground means to people who march over it and sleep on it."""

from sitepick.terrain.chill import Frostbite, frostbite, wind_chill_c
from sitepick.terrain.model import Terrain
from sitepick.terrain.slope_error import chance_within
from sitepick.terrain.survey import read_terrain

__all__ = ["Frostbite", "Terrain", "chance_within", "frostbite", "read_terrain", "wind_chill_c"]
