"""General-purpose libraries and programs at the questions of the terrain table, each loaded when it is asked."""

from __future__ import annotations

import contextlib
import importlib
import shutil
import subprocess
import tempfile
from importlib.metadata import PackageNotFoundError, packages_distributions, version
from pathlib import Path

import numpy as np
import rasterio
from affine import Affine
from scipy import ndimage

CELL_M = 10.0
AZIMUTHS_DEG = tuple(45.0 * number for number in range(8))
POSITION_CELLS = 30
HORIZON_DEG = 130.0
EYE_M, TARGET_M = 1.7, 2.5


def peer_name(module):
    """Name and version of a library, or name of a program; None where it isn't installed."""
    if module == "gdal_viewshed":
        return module if shutil.which(module) else None
    with contextlib.suppress(KeyError, PackageNotFoundError):
        name = packages_distributions()[module][0]
        return f"{name} {version(name)}"
    return None


def horn_rates_of_opencv(z):
    cv2 = importlib.import_module("cv2")
    return (cv2.Sobel(z, cv2.CV_32F, *way, scale=1.0 / (8.0 * CELL_M)) for way in ((1, 0), (0, 1)))


def opencv_slope(z):
    cv2 = importlib.import_module("cv2")
    return np.degrees(np.arctan(cv2.magnitude(*horn_rates_of_opencv(z))))


def opencv_slope_and_aspect(z):
    cv2 = importlib.import_module("cv2")
    rate, aspect_deg = cv2.cartToPolar(*horn_rates_of_opencv(z), angleInDegrees=True)
    return np.degrees(np.arctan(rate)), aspect_deg


def richdem_layer(z, *names):
    richdem = importlib.import_module("richdem")
    array = richdem.rdarray(z, no_data=-9999.0)
    array.geotransform = (0.0, CELL_M, 0.0, 0.0, 0.0, -CELL_M)
    return [richdem.TerrainAttribute(array, attrib=name) for name in names]


def xrspatial_layer(z, *names):
    xarray = importlib.import_module("xarray")
    array = xarray.DataArray(z, dims=("y", "x"), attrs={"res": (CELL_M, CELL_M)})
    return [getattr(importlib.import_module("xrspatial"), name)(array) for name in names]


def numpy_upwind(z, reach_m):
    """Nearest cells along the eight ways, shifted whole."""
    rows, cols = z.shape
    for ray_deg in AZIMUTHS_DEG:
        down, right = (round(f(np.radians(ray_deg)) * 1.1) for f in (lambda a: -np.cos(a), np.sin))
        best = np.full(z.shape, -np.inf, np.float32)
        step_m = CELL_M * float(np.hypot(down, right))
        for away in range(1, min(int(reach_m / step_m), rows - 1, cols - 1) + 1):
            here = tuple(
                slice(max(0, -way * away), size - max(0, way * away))
                for way, size in ((down, rows), (right, cols))
            )  # fmt: skip
            there = tuple(
                slice(max(0, way * away), size - max(0, -way * away))
                for way, size in ((down, rows), (right, cols))
            )  # fmt: skip
            np.maximum(best[here], (z[there] - z[here]) / np.float32(away * step_m), out=best[here])
        np.degrees(np.arctan(best))


def topo_descriptors_upwind(z, reach_m):
    """One of the eight ways, since they take minutes: its time counts eight times."""
    xarray = importlib.import_module("xarray")
    topo = importlib.import_module("topo_descriptors.topo")
    away_m = CELL_M * np.arange(len(z), dtype=float)
    data = xarray.Dataset({"z": (("y", "x"), z)}, {"y": away_m[::-1], "x": away_m}, {"crs": "EPSG:32634"})
    topo.sx(data, AZIMUTHS_DEG[3], reach_m, height=0.0, azimuth_arc=0)


def opencv_position(z):
    cv2 = importlib.import_module("cv2")
    return z - cv2.blur(z, (2 * POSITION_CELLS + 1,) * 2)


def opencv_distance(z):
    cv2 = importlib.import_module("cv2")
    return cv2.distanceTransform((z > 60.0).astype(np.uint8), cv2.DIST_L2, cv2.DIST_MASK_PRECISE)


def opencv_parts(z):
    cv2 = importlib.import_module("cv2")
    return cv2.connectedComponentsWithStats(rough_mask(z).astype(np.uint8), connectivity=8)


def scipy_parts(z):
    label, count = ndimage.label(rough_mask(z), np.ones((3, 3)))
    return np.bincount(label.reshape(-1), minlength=count + 1)


def rough_mask(z):
    return (z * np.float32(7.0)) % np.float32(5.0) > 3.9


def richdem_flow(z):
    """Fill with a fall over flats, then catchments; no heights above the drain."""
    richdem = importlib.import_module("richdem")
    array = richdem.rdarray(z, no_data=-9999.0)
    array.geotransform = (0.0, CELL_M, 0.0, 0.0, 0.0, -CELL_M)
    return richdem.FlowAccumulation(richdem.FillDepressions(array, epsilon=True, in_place=False), method="D8")


def heights_file(z):
    """The heights in a file of their own, for those who read nothing else."""
    path = Path(tempfile.mkdtemp()) / "heights.tif"
    turned = Affine(CELL_M, 0.0, 0.0, 0.0, -CELL_M, 0.0)
    with rasterio.open(
        path, "w", driver="GTiff", height=len(z), width=len(z[0]), count=1, dtype="float32", crs="EPSG:32634",
        transform=turned,
    ) as file:  # fmt: skip
        file.write(z, 1)
    return path


def whitebox_raster(z):
    """What the library reads, and the library."""
    environment = importlib.import_module("whitebox_workflows").WbEnvironment()
    return environment, environment.read_raster(str(heights_file(z)))


def whitebox_horizon(ready):
    environment, raster = ready
    return environment.horizon_angle(raster, azimuth=HORIZON_DEG, max_dist=1e9)


def gdal_sight(path):
    """From file to file, as the program is used."""
    with rasterio.open(path) as file:
        middle_m = (file.width // 2 + 0.5) * CELL_M
    words = [
        "gdal_viewshed",
        "-q",
        "-ox",
        str(middle_m),
        "-oy",
        str(-middle_m),
        "-oz",
        str(EYE_M),
        "-tz",
        str(TARGET_M),
    ]
    words += ["-md", "1000000", "-cc", "0.87", str(path), str(path.with_name("seen.tif"))]
    subprocess.run(words, check=True, capture_output=True)


def xrspatial_sight(z):
    xarray, middle_m = importlib.import_module("xarray"), (len(z) // 2) * CELL_M
    away_m = CELL_M * np.arange(len(z), dtype=float)
    array = xarray.DataArray(z, {"y": away_m, "x": away_m}, dims=("y", "x"))
    return importlib.import_module("xrspatial").viewshed(
        array, x=middle_m, y=middle_m, observer_elev=EYE_M, target_elev=TARGET_M
    )
