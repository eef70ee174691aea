"""What a raster file is, and whether it will serve as elevation, cover or canopy height."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from affine import Affine
from pyproj import CRS, Geod, Transformer
from pyproj.exceptions import ProjError

from sitepick.caution import Caution
from sitepick.grid import WGS84
from sitepick.ground.fault import Fault
from sitepick.ground.local_file import RasterioError, file_faults, open_raster
from sitepick.units import FEET_M, US_SURVEY_FEET_M

ELEVATION, COVER, CANOPY_HEIGHT = "elevation", "cover", "canopy height"

UNIT_M = {
    "metre": 1.0,
    "foot": FEET_M,
    "us_survey_foot": US_SURVEY_FEET_M,
    "centimetre": 0.01,
    "decimetre": 0.1,
}
_UNIT_WORDS = {
    "metre": ("m", "metre", "metres", "meter", "meters", "mt", "metre (m)"),
    "foot": ("ft", "foot", "feet", "international foot", "foot_international", "'"),
    "us_survey_foot": ("us-ft", "us_ft", "usft", "ftus", "sft", "us survey foot", "us survey feet", "foot_us"),
    "centimetre": ("cm", "centimetre", "centimetres", "centimeter", "centimeters"),
    "decimetre": ("dm", "decimetre", "decimetres", "decimeter", "decimeters"),
}  # fmt: skip
_UNIT_NAMES = {word: unit for unit, words in _UNIT_WORDS.items() for word in words}
_HEIGHT_BAND = re.compile(r"elev|height|dem\b|dtm\b|dsm\b|altitude", re.IGNORECASE)
_SURFACE_WORDS = re.compile(r"\bdsm\b|digital surface model", re.IGNORECASE)
_TERRAIN_WORDS = re.compile(r"\bdtm\b|digital terrain model|bare[- ]earth", re.IGNORECASE)
_GEOD = Geod(ellps="WGS84")


@dataclass(frozen=True, slots=True, kw_only=True)
class RasterFile:
    """A raster that will serve.

    Attributes
    ----------
    path : Path
    role : str
        `ELEVATION`, `COVER` or `CANOPY_HEIGHT`.
    driver : str
        Format, as the library calls it.
    crs : CRS
        Horizontal.
    transform : Affine
        Cell corner (col, row) to the projection's coordinates.
    cols, rows, band : int
        Size; which band is read.
    dtype : str
    nodata : float or None
        As declared.
    metres_per_unit, offset_m : float
        Stored value to metres: unit, scale and offset together.
    unit_name : str
        Of the heights.
    cell_ground_m : tuple of float
        Width and height of a cell on the ground, in the middle of the file.
    has_overviews : bool
    declared_kind : str
        ``"terrain"``, ``"surface"`` or ``"unknown"``, as the file's own words tell.
    cautions : tuple of Caution
    """

    path: Path
    role: str
    driver: str
    crs: CRS
    transform: Affine
    cols: int
    rows: int
    band: int
    dtype: str
    nodata: float | None
    metres_per_unit: float
    offset_m: float
    unit_name: str
    cell_ground_m: tuple[float, float]
    has_overviews: bool
    declared_kind: str
    cautions: tuple[Caution, ...]

    @property
    def coarsest_cell_m(self) -> float:
        """Longer side of a cell on the ground."""
        return max(self.cell_ground_m)


def inspect_raster(path: Path, role: str, *, unit: str | None = None) -> tuple[RasterFile | None, list[Fault]]:
    """Open a raster's head and tell what it is; inside `gdal_environment`.

    Parameters
    ----------
    path : Path
    role : str
        What it is to serve as.
    unit : str or None
        Unit of the heights that the user gives; None: what the file says.

    Returns
    -------
    RasterFile or None, list of Fault
        One of them is empty.
    """
    where = str(path)
    faults = file_faults(path)
    if faults:
        return None, faults
    try:
        with open_raster(path) as dataset:
            return _inspect(dataset, path, role, unit)
    except RasterioError as fault:
        return None, [_unreadable(where, str(fault))]
    except ProjError as fault:
        return None, [Fault(where=where, what=f"its projection can't be used ({fault})", fix="reproject the file")]


def _unreadable(where: str, reason: str) -> Fault:
    if "not recognized" in reason or "not a supported" in reason:
        return Fault(where=where, what="this is not a raster that can be read", fix="name a raster, such as a GeoTIFF")
    return Fault(where=where, what="the file is damaged or cut off", fix="copy or download it again")


def _inspect(dataset: Any, path: Path, role: str, unit: str | None) -> tuple[RasterFile | None, list[Fault]]:
    where = str(path)
    if dataset.count == 0:
        return None, [Fault(where=where, what="it holds several data sets and no band of its own",
                            fix="save the wanted one as a GeoTIFF")]  # fmt: skip
    faults = _shape_faults(dataset, where) + _content_faults(dataset, where, role)
    crs = None
    if dataset.crs is None or not dataset.crs.to_wkt():
        faults.append(Fault(where=where, what="it has no projection (CRS)", fix="assign the right one, then try again"))
    else:
        whole = CRS.from_wkt(dataset.crs.to_wkt())
        crs = horizontal_crs(whole)
        faults += _place_faults(dataset, crs, where)
    if faults or crs is None:
        return None, faults
    cautions: list[Caution] = []
    band = _band(dataset, role, path.name, cautions)
    unit_name = "metre" if role != ELEVATION else _unit(dataset, band, whole, unit, path.name, cautions)
    if unit_name not in UNIT_M:
        return None, [Fault(where=where, what=f"its heights are in {unit_name!r}, an unknown unit",
                            fix=f"set the plan's elevation_unit to one of {', '.join(UNIT_M)}")]  # fmt: skip
    scale, offset = dataset.scales[band - 1], dataset.offsets[band - 1]
    words = " ".join([*dataset.tags().values(), *(text or "" for text in dataset.descriptions)])
    return RasterFile(
        path=path,
        role=role,
        driver=dataset.driver,
        crs=crs,
        transform=dataset.transform,
        cols=dataset.width,
        rows=dataset.height,
        band=band,
        dtype=dataset.dtypes[band - 1],
        nodata=dataset.nodatavals[band - 1],
        metres_per_unit=scale * UNIT_M[unit_name],
        offset_m=offset * UNIT_M[unit_name],
        unit_name=unit_name,
        cell_ground_m=_cell_ground_m(dataset, crs),
        has_overviews=bool(dataset.overviews(band)),
        declared_kind=_declared_kind(words),
        cautions=tuple(cautions),
    ), []


def map_point(transform: Affine, col: Any, row: Any) -> tuple[Any, Any]:
    """Map coordinates of a place in a raster; numbers or arrays."""
    return transform.a * col + transform.b * row + transform.c, transform.d * col + transform.e * row + transform.f


def _declared_kind(words: str) -> str:
    is_surface, is_terrain = bool(_SURFACE_WORDS.search(words)), bool(_TERRAIN_WORDS.search(words))
    if is_surface == is_terrain:
        return "unknown"
    return "surface" if is_surface else "terrain"


def horizontal_crs(crs: CRS) -> CRS:
    """The part of a projection that tells where on the map a point lies."""
    if crs.is_compound:
        crs = crs.sub_crs_list[0]
    # A projection bound to its own shift to WGS 84 keeps it; without it the map lies off by 100 m.
    return crs if crs.is_bound else crs.to_2d()


def _shape_faults(dataset: Any, where: str) -> list[Fault]:
    if dataset.width < 2 or dataset.height < 2:
        what = f"it has only {dataset.width} x {dataset.height} cells"
        return [Fault(where=where, what=what, fix="name a raster that covers the route")]
    if dataset.transform.is_degenerate or dataset.transform in (Affine.identity(), Affine.scale(1.0, -1.0)):
        what = "it doesn't say where on the map it lies"
        return [Fault(where=where, what=what, fix="georeference it, or name its original")]
    return []


def _content_faults(dataset: Any, where: str, role: str) -> list[Fault]:
    colours = {interpretation.name for interpretation in dataset.colorinterp}
    is_picture = all(kind == "uint8" for kind in dataset.dtypes) and (
        "red" in colours or dataset.count in (3, 4) or (role != COVER and "palette" in colours)
    )
    if is_picture:
        fix = "name the raster with the heights" if role != COVER else "name the raster with the class codes"
        return [Fault(where=where, what=f"this is a picture, not {role}", fix=fix)]
    if any(kind.startswith("complex") for kind in dataset.dtypes):
        return [Fault(where=where, what="it holds complex numbers", fix="name a raster of plain numbers")]
    return []


def _place_faults(dataset: Any, crs: CRS, where: str) -> list[Fault]:
    if not (crs.is_geographic or crs.is_projected):
        what = f"its projection {crs.name!r} is a local one without a place on the globe"
        return [Fault(where=where, what=what, fix="assign the projection it was surveyed in")]
    west, south, east, north = _bounds(dataset)
    spare = 0.51 * max(abs(dataset.transform.a), abs(dataset.transform.e), abs(dataset.transform.b))
    if crs.is_geographic:
        if (
            max(abs(south), abs(north)) > 90.0 + spare
            or min(west, east) < -360.0 - spare
            or max(west, east) > 360.0 + spare
        ):
            what = f"its coordinates ({west:.0f}, {south:.0f}) can't be the degrees of its projection {crs.name!r}"
            return [Fault(where=where, what=what, fix="assign the metric projection it was made in")]
        return []
    if max(abs(west), abs(east)) <= 360.0 and max(abs(south), abs(north)) <= 90.0 and spare < 1.0:
        what = (
            f"its coordinates ({west:.2f}, {south:.2f}) look like degrees, but its projection {crs.name!r} is in metres"
        )
        return [Fault(where=where, what=what, fix="assign the geographic projection, most often EPSG:4326")]
    lon, lat = Transformer.from_crs(crs, CRS.from_user_input(WGS84), always_xy=True).transform(
        (west + east) / 2, (south + north) / 2
    )
    if not (math.isfinite(lon) and math.isfinite(lat)):
        what = f"its coordinates ({west:.0f}, {south:.0f}) lie outside its projection {crs.name!r}"
        return [Fault(where=where, what=what, fix="assign the projection it was made in")]
    return []


def _bounds(dataset: Any) -> tuple[float, float, float, float]:
    corners = [map_point(dataset.transform, col, row) for col in (0, dataset.width) for row in (0, dataset.height)]
    xs, ys = [x for x, _ in corners], [y for _, y in corners]
    return min(xs), min(ys), max(xs), max(ys)


def _band(dataset: Any, role: str, name: str, cautions: list[Caution]) -> int:
    bands = [index for index in range(1, dataset.count + 1) if dataset.colorinterp[index - 1].name != "alpha"] or [1]
    if len(bands) == 1:
        return bands[0]
    band = bands[0]
    if role == ELEVATION:
        named = [index for index in bands if _HEIGHT_BAND.search(dataset.descriptions[index - 1] or "")]
        band = named[0] if named else band
    cautions.append(Caution(kind="data", text=f"{name} has {len(bands)} bands; band {band} was read as {role}."))
    return band


def _unit(dataset: Any, band: int, crs: CRS, unit: str | None, name: str, cautions: list[Caution]) -> str:
    tag = (dataset.units[band - 1] or "").strip().lower()
    if not tag and crs.is_compound:
        tag = crs.sub_crs_list[1].axis_info[0].unit_name.lower()
    declared = _UNIT_NAMES.get(tag) if tag else None
    if unit is not None:
        if declared is not None and declared != unit:
            text = f"{name} says its heights are in {_words(declared)}; the plan says {_words(unit)}, which was taken."
            cautions.append(Caution(kind="data", text=text))
        return unit
    return declared or tag or "metre"


def _words(unit: str) -> str:
    return unit.replace("_", " ")


def _cell_ground_m(dataset: Any, crs: CRS) -> tuple[float, float]:
    """Sides of the middle cell, measured on the ellipsoid."""
    col, row = dataset.width / 2, dataset.height / 2
    corners = [map_point(dataset.transform, col + right, row + down) for right, down in ((0, 0), (1, 0), (0, 1))]
    to_globe = Transformer.from_crs(crs, CRS.from_user_input(WGS84), always_xy=True)
    lon, lat = to_globe.transform([x for x, _ in corners], [y for _, y in corners])
    _, _, across_m = _GEOD.inv(lon[0], lat[0], lon[1], lat[1])
    _, _, down_m = _GEOD.inv(lon[0], lat[0], lon[2], lat[2])
    return float(across_m), float(down_m)
