"""Ground: elevation, cover and vector files become one aligned metric grid."""

from sitepick.ground.examine import examine_files
from sitepick.ground.first_route import route_across
from sitepick.ground.legend import legends_that_fit, read_legend
from sitepick.ground.model import NOT_KNOWN, CoverClass, FileFacts, Ground, Legend
from sitepick.ground.reading import read_ground
from sitepick.ground.route_file import RouteFile, read_route, read_routes
from sitepick.ground.route_place import check_route_lies_on
from sitepick.ground.window import GroundWindow, ground_window

__all__ = [
    "NOT_KNOWN",
    "CoverClass",
    "FileFacts",
    "Ground",
    "GroundWindow",
    "Legend",
    "RouteFile",
    "check_route_lies_on",
    "examine_files",
    "ground_window",
    "legends_that_fit",
    "read_ground",
    "read_legend",
    "read_route",
    "read_routes",
    "route_across",
]
