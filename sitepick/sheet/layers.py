"""Every layer of the ground and terrain as files: a cloud-optimised GeoTIFF to measure in, a PNG to look at."""

from __future__ import annotations

import warnings
from pathlib import Path

import numpy as np
import numpy.typing as npt
from rasterio.errors import NotGeoreferencedWarning
from rasterio.io import MemoryFile

from sitepick.errors import SheetError
from sitepick.grid import FloatArray, Grid
from sitepick.ground.model import NOT_KNOWN, Ground
from sitepick.output import whole_files
from sitepick.sheet.palette import Palette, read_palette, rgb
from sitepick.sheet.relief import PictureArray, ground_picture
from sitepick.terrain.model import Terrain
from sitepick.work import Watch

LayerArray = npt.NDArray[np.float32] | npt.NDArray[np.uint8] | npt.NDArray[np.int16]

_MASK_NOT_KNOWN = 255


def write_layers(ground: Ground, terrain: Terrain, folder: Path, *, watch: Watch | None = None) -> tuple[Path, ...]:
    """Write each layer as ``NAME.tif`` and ``NAME.png``, all of them or none.

    Parameters
    ----------
    ground : Ground
    terrain : Terrain
        Of the same grid.
    folder : Path
        Made when missing; files of the same names are replaced.
    watch : Watch, optional
        Ticked before each layer.

    Returns
    -------
    tuple of Path
        The files written. Names carry the unit. In the GeoTIFFs ground that isn't known is NaN
        (255 in layers of yes and no, -1 in the cover's codes); in the PNGs it has the palette's
        tint for it, and lowest to highest value run from dark to light.

    Raises
    ------
    SheetError
        The folder is read-only, the disk is full and the like; older files stay as they were.
    work.JobStopped
        The watch was stopped; older files stay as they were.
    """
    watch = watch or Watch()
    palette = read_palette("day")
    layers = _layers(ground, terrain)
    with whole_files(folder, error=SheetError) as staging:
        for index, (name, values) in enumerate(layers.items()):
            watch.tick("writing the layers", index, len(layers))
            (staging / f"{name}.tif").write_bytes(_geotiff(values, ground.grid))
            (staging / f"{name}.png").write_bytes(_png(_picture(values, palette)))
        (staging / "ground.png").write_bytes(_png(ground_picture(ground, terrain, palette)))
        names = sorted(path.name for path in staging.iterdir())
    return tuple(folder / name for name in names)


def _layers(ground: Ground, terrain: Terrain) -> dict[str, LayerArray]:
    codes = np.array([cover.code for cover in ground.legend.classes] + [NOT_KNOWN], dtype=np.int16)
    layers: dict[str, LayerArray] = {"elevation_m": ground.elevation_m, "cover_code": codes[ground.cover_index]}
    if ground.canopy_height_m is not None:
        layers["canopy_height_m"] = ground.canopy_height_m
    for name in terrain.__slots__:
        values = getattr(terrain, name)
        if isinstance(values, np.ndarray):
            layers[name] = values.astype(np.uint8) if values.dtype == np.bool_ else values
    return layers


def _geotiff(values: LayerArray, grid: Grid) -> bytes:
    """Packed in memory first: the format's own writer tells of a full disk too late and in words of its own."""
    rows, cols = values.shape
    not_known = {"f": float("nan"), "u": _MASK_NOT_KNOWN, "i": NOT_KNOWN}[values.dtype.kind]
    with MemoryFile() as packed:
        with packed.open(
            driver="COG", width=cols, height=rows, count=1, dtype=values.dtype, crs=grid.crs,
            transform=grid.affine, nodata=not_known, compress="DEFLATE",
        ) as target:  # fmt: skip
            target.write(values, 1)
        return bytes(packed.read())


def _png(picture: PictureArray) -> bytes:
    rows, cols, _ = picture.shape
    with warnings.catch_warnings(), MemoryFile() as packed:
        # A picture has no place on earth, and the library warns of it.
        warnings.simplefilter("ignore", NotGeoreferencedWarning)
        with packed.open(driver="PNG", width=cols, height=rows, count=3, dtype="uint8") as target:
            target.write(np.moveaxis(picture, -1, 0))
        return bytes(packed.read())


def _picture(values: LayerArray, palette: Palette) -> PictureArray:
    """Low to high from dark to light; ground that isn't known in its own tint."""
    heights: FloatArray = values.astype(np.float32)
    if values.dtype.kind == "i":
        heights[values == NOT_KNOWN] = np.nan
    known = np.isfinite(heights)
    low, high = (float(heights[known].min()), float(heights[known].max())) if known.any() else (0.0, 1.0)
    share = np.nan_to_num((heights - low) / max(high - low, 1e-9))[..., None]
    dark, light = np.array(rgb(palette.grade_good)), np.array(rgb(palette.grade_poor))
    picture = np.asarray(np.rint(dark + share * (light - dark)), dtype=np.uint8)
    picture[~known] = rgb(palette.unknown)
    return picture
