"""Terrain: what the ground means to people who march over it and sleep on it."""

from sitepick.terrain.chill import Frostbite, frostbite, wind_chill_c
from sitepick.terrain.lookers import observers_on_route, observers_on_tracks, places_along
from sitepick.terrain.model import Terrain
from sitepick.terrain.shape import GroundShape, read_shape
from sitepick.terrain.sight import read_sight
from sitepick.terrain.slope_error import chance_within
from sitepick.terrain.sunshine import DirectSun, read_sun_hours, sun_at
from sitepick.terrain.survey import read_terrain

__all__ = [
    "DirectSun",
    "Frostbite",
    "GroundShape",
    "Terrain",
    "chance_within",
    "frostbite",
    "observers_on_route",
    "observers_on_tracks",
    "places_along",
    "read_shape",
    "read_sight",
    "read_sun_hours",
    "read_terrain",
    "sun_at",
    "wind_chill_c",
]
