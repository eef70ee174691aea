"""Opening files and nothing but files: no addresses, no archives, no code, no network.

A raster format can point at other sources (a virtual raster lists them, web formats name a server).
Whatever is opened here is checked first: it is a plain file on this computer, its sources are too,
and no driver that talks to a network is allowed to look at it.
"""

from __future__ import annotations

import stat
import warnings
import xml.etree.ElementTree as ElementTree
from collections.abc import Iterator
from contextlib import contextmanager
from functools import lru_cache
from pathlib import Path
from typing import Any

import pyogrio
import rasterio
from rasterio.errors import NotGeoreferencedWarning, RasterioError
from rasterio.io import DatasetReader

from sitepick.errors import SettingsError
from sitepick.ground.fault import Fault
from sitepick.plan.file import local_path

ARCHIVES = (".zip", ".gz", ".tgz", ".tar", ".bz2", ".xz", ".7z", ".rar", ".kmz", ".zst")
RASTER_SUFFIXES = (".tif", ".tiff", ".hgt", ".asc", ".vrt", ".img", ".dt0", ".dt1", ".dt2", ".bil", ".flt", ".jp2")
XML_SIZE_MAX_BYTES = 20_000_000
NESTED_MAX = 6

# Nothing listens on the proxy's port: a request that slipped through all else ends there.
_NO_NETWORK = {
    "GDAL_HTTP_PROXY": "127.0.0.1:9",
    "GDAL_HTTP_CONNECTTIMEOUT": "1",
    "GDAL_HTTP_TIMEOUT": "1",
    "GDAL_HTTP_MAX_RETRY": "0",
    "CPL_VSIL_CURL_ALLOWED_EXTENSIONS": ".none",
    "GDAL_VRT_ENABLE_PYTHON": "NO",
    "GML_DOWNLOAD_SCHEMA": "NO",
}

# Drivers that ask a server, run what a file says, or read something that is no file.
_REFUSED_DRIVERS = frozenset({
    "CSW", "Carto", "DAAS", "DERIVED", "Derived", "EEDA", "EEDAI", "Elastic", "GDALG", "GPSBabel", "GTI", "HTTP",
    "KMLSUPEROVERLAY", "MEM", "MSSQLSpatial", "Memory", "MySQL", "NGW", "OAPIF", "OGCAPI", "OGR_VRT", "PLMOSAIC",
    "PLSCENES", "PostGISRaster", "PostgreSQL", "STACIT", "STACTA", "TileDB", "WCS", "WFS", "WMS", "WMTS", "Zarr",
})  # fmt: skip

_REFUSED_VRT_PARTS = {
    "PixelFunctionType": "computes its values",
    "PixelFunctionCode": "carries program code",
    "PixelFunctionLanguage": "carries program code",
    "ProcessingSteps": "computes its values",
    "Algorithm": "computes its values",
}
_REFUSED_VRT_BANDS = {
    "VRTDerivedRasterBand": "computes its values",
    "VRTRawRasterBand": "reads raw bytes of another file",
    "VRTPansharpenedDataset": "computes its values",
    "VRTProcessedDataset": "computes its values",
}


@contextmanager
def gdal_environment() -> Iterator[None]:
    """Settings under which rasters are read: two decoding threads, no network, no code."""
    with rasterio.Env(GDAL_NUM_THREADS="2", GDAL_DISABLE_READDIR_ON_OPEN="TRUE", **_NO_NETWORK):
        yield


@lru_cache(maxsize=1)
def _raster_drivers() -> tuple[str, ...]:
    with rasterio.Env() as environment:
        return tuple(sorted(set(environment.drivers()) - _REFUSED_DRIVERS))


def file_faults(path: str | Path, *, depth: int = 0) -> list[Fault]:
    """What keeps a path from being a plain local file that points at nothing else.

    Parameters
    ----------
    path : str or Path
        As named by a plan or on the command line.
    depth : int
        How many files pointed to this one.
    """
    where = str(path)
    try:
        local = local_path(where, Path.cwd())
        mode = local.stat().st_mode
    except SettingsError:
        return [Fault(where=where, what="this is not a file on this computer", fix="name a local file, unpacked")]
    except FileNotFoundError:
        return [Fault(where=where, what="there is no such file", fix="check the name and the folder")]
    except (OSError, ValueError) as fault:
        reason = getattr(fault, "strerror", None) or str(fault)
        return [Fault(where=where, what=f"the file can't be opened: {reason}", fix="check the file and its rights")]
    if stat.S_ISDIR(mode):
        return [Fault(where=where, what="this is a folder, not a file", fix="name the file inside it")]
    if not stat.S_ISREG(mode):
        return [Fault(where=where, what="this is a device, not a file", fix="name a file")]
    if local.suffix.lower() in ARCHIVES:
        return [Fault(where=where, what="this is an archive", fix="unpack it and name the file inside")]
    return _content_faults(local, where, depth)


def _content_faults(path: Path, where: str, depth: int) -> list[Fault]:
    try:
        with path.open("rb") as handle:
            head = handle.read(4096).decode("utf-8", errors="replace").lstrip("\ufeff \t\r\n")
    except OSError as fault:
        return [Fault(where=where, what=f"the file can't be read: {fault.strerror}", fix="check the file's rights")]
    if not head:
        return [Fault(where=where, what="the file is empty", fix="copy or download it again")]
    if "<VRTDataset" in head:
        return _virtual_raster_faults(path, where, depth)
    if head.startswith("<") and any(mark in head for mark in ("<OGRVRT", "<OGRWFS", "<GDAL_W", "<WCS_", "<GDALTileIn")):
        return [Fault(where=where, what="this file only points elsewhere", fix="name the data file itself")]
    return []


def _virtual_raster_faults(path: Path, where: str, depth: int) -> list[Fault]:
    refused = "this virtual raster will not be opened: "
    if depth >= NESTED_MAX:
        return [Fault(where=where, what=refused + "its sources are nested too deep", fix="name the data files")]
    try:
        text = path.read_text(encoding="utf-8-sig") if path.stat().st_size <= XML_SIZE_MAX_BYTES else ""
        root = ElementTree.fromstring(text) if "<!DOCTYPE" not in text and "<!ENTITY" not in text else None
    except (ValueError, OSError, ElementTree.ParseError):
        root = None
    if root is None:
        return [Fault(where=where, what=refused + "it is damaged or too large", fix="name the data files")]
    faults = []
    for part in root.iter():
        why = _REFUSED_VRT_PARTS.get(part.tag) or _REFUSED_VRT_BANDS.get(part.get("subClass", ""))
        if why:
            return [Fault(where=where, what=refused + f"it {why}", fix="name the data files themselves")]
        if part.tag in ("SourceFilename", "SourceDataset", "SourceBandFile", "MaskBandFile"):
            faults += _source_faults(part, path, where, depth)
    return faults


def _source_faults(part: ElementTree.Element, path: Path, where: str, depth: int) -> list[Fault]:
    name = (part.text or "").strip()
    is_relative = part.get("relativeToVRT") == "1" or part.get("relativetoVRT") == "1"
    try:
        source = local_path(name, path.parent if is_relative else Path.cwd())
    except SettingsError:
        source = None
    inner = file_faults(source, depth=depth + 1) if source is not None else []
    if source is not None and not inner:
        return []
    what = inner[0].what if inner else "it is not a file on this computer"
    return [
        Fault(
            where=where,
            what=f"this virtual raster points to {name[:80]!r}: {what}",
            fix="name the data files themselves",
        )
    ]


@contextmanager
def open_raster(path: Path) -> Iterator[Any]:
    """Open a raster that `file_faults` found nothing wrong with; inside `gdal_environment`.

    Raises
    ------
    rasterio.errors.RasterioError
        No driver that reads local files knows it.
    """
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", NotGeoreferencedWarning)
        dataset = DatasetReader(path, driver=list(_raster_drivers()))
    try:
        yield dataset
    finally:
        dataset.close()


def is_raster(path: Path) -> bool:
    """Whether a raster driver knows the file and finds pixels in it; inside `gdal_environment`."""
    try:
        with open_raster(path) as dataset:
            return bool(dataset.count) or bool(dataset.subdatasets)
    except RasterioError:
        return path.suffix.lower() in RASTER_SUFFIXES


def prepare_vector_reading() -> None:
    """Take the network away from the vector library; its settings hold for the whole process."""
    pyogrio.set_gdal_config_options(_NO_NETWORK)


def is_vector_driver_allowed(driver: str) -> bool:
    """Whether a vector format reads plain files only."""
    return driver not in _REFUSED_DRIVERS


__all__ = [
    "RasterioError",
    "file_faults",
    "gdal_environment",
    "is_raster",
    "is_vector_driver_allowed",
    "open_raster",
    "prepare_vector_reading",
]
