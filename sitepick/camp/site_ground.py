"""The site that a camp lies on: all of its ground, and its outline as it is drawn round the camp."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import shapely

from sitepick.camp.model import Camp
from sitepick.grid import Grid
from sitepick.sites.model import Site, Sites
from sitepick.sites.outline import eased, outline_of


def ground_outline(site: Site, grid: Grid) -> shapely.Polygon:
    """Round all the cells of a site, also those past its outline as it is drawn."""
    return site.outline_m if site.cells is None else outline_of(site.cells, grid)


def drawn_round(sites: Sites, camp: Camp, grid: Grid) -> Sites:
    """The sites with the pick's outline drawn anew so that every shelter of the camp lies inside.

    Parameters
    ----------
    sites : Sites
        The camp lies on the first.
    camp : Camp
    grid : Grid

    Notes
    -----
    A site's outline is drawn without the stairs of its cells, round the places that were tried when it was looked for;
    the camp may use others on the same cells.
    """
    pick = sites.sites[0]
    if pick.cells is None or not camp.shelters:
        return sites
    places_m = np.array([(one.east_m, one.north_m) for one in camp.shelters])
    radius_m = max(one.shelter.kind.footprint_m for one in camp.shelters) / 2.0 * grid.point_scale(*places_m[0])
    kept_m = np.vstack((places_m, [(pick.east_m, pick.north_m)]))
    outline_m = eased(outline_of(pick.cells, grid), kept_m, radius_m, grid.cell_m)
    area_m2 = outline_m.area / grid.point_scale(pick.east_m, pick.north_m) ** 2
    return replace(sites, sites=(replace(pick, outline_m=outline_m, area_m2=area_m2), *sites.sites[1:]))
