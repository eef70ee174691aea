"""Each section's part of the camp."""

from __future__ import annotations

import shapely
from shapely import Polygon

from sitepick.camp.model import PlacedShelter, SubArea


def sub_areas_of(shelters: tuple[PlacedShelter, ...], inside_m: Polygon) -> tuple[SubArea, ...]:
    """Share a piece of ground out among the sections: each place goes to whose shelter lies nearest.

    Parameters
    ----------
    shelters : tuple of PlacedShelter
    inside_m : shapely.Polygon
        Holds every shelter.

    Returns
    -------
    tuple of SubArea
        In the order of the sections' first shelters; a section whose shelters don't lie side by side has
        several parts.
    """
    if not shelters:
        return ()
    points = [shapely.Point(placed.east_m, placed.north_m) for placed in shelters]
    if len(points) == 1:
        return (SubArea(section=shelters[0].shelter.section, outline_m=inside_m),)
    cells = shapely.voronoi_polygons(shapely.MultiPoint(points), extend_to=inside_m, ordered=True)
    by_section: dict[str, list[Polygon]] = {}
    for placed, cell in zip(shelters, shapely.get_parts(cells), strict=True):
        by_section.setdefault(placed.shelter.section, []).append(cell)
    areas = []
    for section, own in by_section.items():
        part = shapely.intersection(shapely.union_all(own), inside_m)
        areas += [
            SubArea(section=section, outline_m=outline)
            for outline in shapely.get_parts(part)
            if isinstance(outline, Polygon) and not outline.is_empty
        ]
    return tuple(areas)
