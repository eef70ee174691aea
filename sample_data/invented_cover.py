"""What grows in Ulvmark, and its hamlet. All invented."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt
from scipy import ndimage

from sample_data.invented_relief import Array, Mask, noise, places, slope_deg

# Codes of the Copernicus CGLS-LC100 legend.
SHRUB, HERB, BUILT, BARE, SNOW, WATER, BOG, LICHEN = 20, 30, 50, 60, 70, 80, 90, 100
SPRUCE, BIRCH, MIXED, OPEN_PINE, OPEN_BIRCH, OPEN_MIXED = 111, 114, 115, 121, 124, 125

TREE_LINE_M = 590.0
HAMLET = (17.95, 5.0)  # east_km, north_km


def grown_cover(height: Array, is_water: Mask, cell_m: float) -> npt.NDArray[np.uint8]:
    """What grows where, by height, slope, wetness and the side that the sun comes to."""
    shape = height.shape
    steep = slope_deg(height, cell_m, 15.0)
    gentle = slope_deg(height, cell_m, 45.0)
    stands = height - ndimage.gaussian_filter(height, 260.0 / cell_m)
    south = -np.gradient(ndimage.gaussian_filter(height, 60.0 / cell_m), cell_m, axis=0)
    sunny = np.clip(-south * 4.0, -1.0, 1.0)
    near_water = np.exp(-ndimage.distance_transform_edt(~is_water) * cell_m / 90.0)
    stand = noise(shape, cell_m, (90.0, 1300.0), 1.5, 70)
    patch = noise(shape, cell_m, (45.0, 420.0), 1.3, 71)
    glade = noise(shape, cell_m, (110.0, 700.0), 1.5, 73)
    edge = noise(shape, cell_m, (50.0, 2500.0), 1.5, 72)
    line = TREE_LINE_M + 20.0 * edge + 16.0 * sunny - np.clip(stands - 6.0, 0.0, 20.0)
    below = line - height
    cover = np.full(shape, SPRUCE, dtype=np.uint8)

    def lay(code: int, where: Mask) -> None:
        cover[where] = code

    dry = stands + 2.2 * stand + 3.0 * sunny
    lay(MIXED, (0.9 * stand - 0.7 * patch + 1.2 * near_water + 0.5 * sunny > 0.85))
    lay(OPEN_PINE, dry > 4.4)
    lay(OPEN_MIXED, (patch > 1.3) & (stand > -0.3))
    lay(BIRCH, (below < 75.0 + 22.0 * stand) | ((near_water > 0.55) & (patch > 0.6)))
    lay(HERB, (glade > 2.3) & (below > 40.0))
    lay(OPEN_BIRCH, below < 26.0 + 14.0 * patch)
    slides = (steep > 29.0) & (below < 230.0) & (gentle > 24.0)
    lay(SHRUB, ndimage.binary_dilation(slides, iterations=max(1, round(20.0 / cell_m))) | (below < 0.0))
    lay(LICHEN, below < -45.0 + 30.0 * patch)
    lay(HERB, (below < -20.0) & (below > -230.0) & (stands < -3.0) & (patch > 0.2))
    wet = (1.5 - gentle) / 1.1 - 0.22 * stands + 0.75 * stand + 0.3 * patch
    lay(BOG, (wet > 1.05) & (below > -120.0))
    lay(OPEN_PINE, (wet > 0.75) & (wet <= 1.05) & (below > 70.0) & (patch > -0.2))
    lay(BARE, (below < -60.0) & ((height + 60.0 * stand + 25.0 * patch > 990.0) | (steep > 34.0)))
    lay(BARE, (steep > 39.0) & (patch > -0.3))
    lay(SNOW, (height > 930.0) & (stands < -7.0) & (steep > 14.0) & (sunny < 0.1))
    cover = _gathered(cover, cell_m)
    east, north = places(cell_m)
    from_hamlet_m = np.hypot(east - HAMLET[0], north - HAMLET[1]) * 1000.0 + 45.0 * patch
    cover[from_hamlet_m < 330.0] = HERB
    cover[(from_hamlet_m < 140.0) & (glade > -0.3)] = BUILT
    cover[is_water] = WATER
    return cover


def _gathered(cover: npt.NDArray[np.uint8], cell_m: float) -> npt.NDArray[np.uint8]:
    """The commonest class round about each cell, so that single cells don't stand alone."""
    best, chosen = np.zeros(cover.shape, dtype=np.float32), cover.copy()
    for code in np.unique(cover):
        share = ndimage.gaussian_filter((cover == code).astype(np.float32), 14.0 / cell_m)
        chosen[share > best] = code
        best = np.maximum(best, share)
    return chosen
