"""How the ground looks on a quiet paper map: tints of the cover under light and shade, and contour lines."""

from __future__ import annotations

from dataclasses import dataclass

import contourpy
import numpy as np
import numpy.typing as npt

from sitepick.grid import DoubleArray, FloatArray
from sitepick.ground.model import CoverClass, Ground
from sitepick.sheet.palette import Palette, rgb
from sitepick.terrain.model import Terrain

PictureArray = npt.NDArray[np.uint8]

# Light from the north-west, as maps have it, so that hills don't turn into hollows.
_LIGHT_FROM_DEG = 315.0
_LIGHT_HEIGHT_DEG = 45.0
_EXAGGERATION = 2.5  # gentle forest relief would not show otherwise
_HATCH_STEP_CELLS = 6
_ROUND_INTERVALS_M = (1.0, 2.0, 5.0, 10.0, 20.0, 25.0, 50.0, 100.0, 200.0)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ContourLine:
    """One line of equal height.

    Attributes
    ----------
    height_m : float
    is_fifth : bool
        Drawn stronger, and labelled.
    points_m : float64 array of shape (n, 2)
        Grid coordinates.
    """

    height_m: float
    is_fifth: bool
    points_m: DoubleArray


def ground_picture(ground: Ground, terrain: Terrain, palette: Palette) -> PictureArray:
    """The ground as a picture, a pixel a cell.

    Parameters
    ----------
    ground : Ground
    terrain : Terrain
        Says where the water is.
    palette : Palette

    Returns
    -------
    ndarray of shape (rows, cols, 3), uint8
        Ground that isn't known is hatched.
    """
    tints = np.array(
        [class_tint(cover, palette) for cover in ground.legend.classes] + [rgb(palette.unknown)], dtype=np.float32
    )
    picture = tints[ground.cover_index]
    picture[terrain.is_water] = rgb(palette.water)
    light = _light_and_shade(ground.elevation_m, ground.grid.ground_cell_m, palette)
    light[terrain.is_water] = 1.0
    picture *= light[..., None]

    unknown = ~ground.is_known()
    if unknown.any():
        rows, cols = np.indices(ground.grid.shape, sparse=True)
        picture[unknown] = rgb(palette.unknown)
        picture[unknown & ((rows + cols) % _HATCH_STEP_CELLS == 0)] = rgb(palette.hatch)
    return np.clip(picture, 0, 255).astype(np.uint8)


def contour_interval_m(ground: Ground, *, line_count_max: int = 25) -> float:
    """A round interval that draws the ground's relief in at most so many heights."""
    heights = ground.elevation_m[np.isfinite(ground.elevation_m)]
    relief_m = float(np.ptp(heights)) if heights.size else 0.0
    return next((step for step in _ROUND_INTERVALS_M if relief_m / step <= line_count_max), _ROUND_INTERVALS_M[-1])


def contour_lines(ground: Ground, interval_m: float) -> tuple[ContourLine, ...]:
    """Contour lines of the whole ground, chained; none across gaps.

    Parameters
    ----------
    ground : Ground
    interval_m : float
        Height between two lines, > 0; every fifth is marked.
    """
    grid = ground.grid
    if min(grid.shape) < 2 or not np.isfinite(ground.elevation_m).any():
        return ()
    east = grid.west_m + (np.arange(grid.cols) + 0.5) * grid.cell_m
    north = grid.north_m - (np.arange(grid.rows) + 0.5) * grid.cell_m
    heights = np.ma.masked_invalid(ground.elevation_m)
    maker = contourpy.contour_generator(east, north, heights, line_type=contourpy.LineType.Separate)
    first = int(np.floor(float(heights.min()) / interval_m)) + 1
    last = int(np.ceil(float(heights.max()) / interval_m))
    return tuple(
        ContourLine(height_m=step * interval_m, is_fifth=step % 5 == 0, points_m=np.asarray(points, dtype=np.float64))
        for step in range(first, last)
        for points in maker.lines(step * interval_m)
    )


def class_tint(cover: CoverClass, palette: Palette) -> tuple[float, float, float]:
    """Red, green and blue of a class of cover, 0-255: its parts' tints by their shares."""
    known_leaf = cover.evergreen_frac is not None and cover.deciduous_frac is not None
    parts = [
        (cover.evergreen_frac or 0.0 if known_leaf else 0.0, palette.evergreen),
        (cover.deciduous_frac or 0.0 if known_leaf else 0.0, palette.deciduous),
        (0.0 if known_leaf else cover.canopy_frac, palette.forest),
        (cover.wet_frac, palette.bog),
        (cover.water_frac, palette.water),
        (cover.ice_frac, palette.ice),
        (cover.built_frac, palette.built),
    ]
    covered = sum(share for share, _ in parts)
    parts.append((max(0.0, 1.0 - covered), palette.snow))
    total = sum(share for share, _ in parts)
    red, green, blue = (sum(share * rgb(colour)[band] for share, colour in parts) / total for band in range(3))
    return red, green, blue


def _light_and_shade(elevation_m: FloatArray, cell_m: float, palette: Palette) -> FloatArray:
    """What each cell's tint is multiplied by: 1 on level ground, 1 where the height isn't known."""
    if min(elevation_m.shape) < 2:
        return np.ones(elevation_m.shape, dtype=np.float32)
    down_rows, along_cols = np.gradient(elevation_m, cell_m / _EXAGGERATION)
    to_light = np.radians(_LIGHT_FROM_DEG)
    height = np.radians(_LIGHT_HEIGHT_DEG)
    # The cell's normal is (-dz/deast, -dz/dnorth, 1); rows run south.
    toward = np.cos(height) * (-along_cols * np.sin(to_light) + down_rows * np.cos(to_light))
    light = (toward + np.sin(height)) / np.sqrt(1.0 + along_cols**2 + down_rows**2)
    factor = 1.0 + 0.55 * (light - np.sin(height))
    factor = np.nan_to_num(factor, nan=1.0)
    return np.asarray(np.clip(factor, palette.relief_low, palette.relief_high), dtype=np.float32)
