"""Terrain: what the ground means to people who march over it and sleep on it."""

from sitepick.terrain.chill import Frostbite, frostbite, wind_chill_c
from sitepick.terrain.model import Terrain
from sitepick.terrain.survey import read_terrain

__all__ = ["Frostbite", "Terrain", "frostbite", "read_terrain", "wind_chill_c"]
