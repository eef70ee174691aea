"""Ground: elevation, cover and vector files become one aligned metric grid."""

from sitepick.ground.examine import examine_files
from sitepick.ground.first_route import route_across
from sitepick.ground.legend import legends_that_fit, read_legend
from sitepick.ground.model import NOT_KNOWN, CoverClass, FileFacts, Ground, Legend
from sitepick.ground.reading import read_ground
from sitepick.ground.route_file import read_route
from sitepick.ground.window import GroundWindow, ground_window

__all__ = [
    "NOT_KNOWN",
    "CoverClass",
    "FileFacts",
    "Ground",
    "GroundWindow",
    "Legend",
    "examine_files",
    "ground_window",
    "legends_that_fit",
    "read_ground",
    "read_legend",
    "read_route",
    "route_across",
]
