"""A place as people write it: a grid reference, UTM coordinates, or latitude and longitude."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass

import mgrs
from pyproj import Transformer

from sitepick.grid import WGS84, Grid, mgrs_reference
from sitepick.plan.mark import LonLat

_ZONED = re.compile(r"^(\d{1,2}[C-HJ-NP-X])([A-HJ-NP-Z][A-HJ-NP-V])(\d*)$")
_POLAR = re.compile(r"^([ABYZ])([A-HJ-NP-Z]{2})(\d*)$")
_SQUARED = re.compile(r"^([A-HJ-NP-Z][A-HJ-NP-V])(\d+)$")
_UTM = re.compile(
    r"^(?:(\d{1,2})\s*([C-HJ-NP-X])\s+)?(\d{6}(?:\.\d+)?)\s*(?:m?E)?[\s,;]+(\d{6,8}(?:\.\d+)?)\s*(?:m?N)?$",
    re.I,
)
_DEGREES = re.compile(
    r"^(?P<hemi>[NSEW])?\s*(?P<sign>[-−+])?\s*(?P<deg>\d+(?:\.\d+)?)\s*[°d]?\s*"
    r"(?:(?P<min>\d+(?:\.\d+)?)\s*['′m]\s*)?(?:(?P<sec>\d+(?:\.\d+)?)\s*(?:\"|″|'')\s*)?(?P<after>[NSEW])?$",
    re.I,
)
_LEAST_DIGITS = 3  # of each half: a square of 100 m


class ReferenceFaultError(ValueError):
    """A text names no place; its words are a clause that says why."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadPlace:
    """A place that was read.

    Attributes
    ----------
    place : (lon_deg, lat_deg)
        The middle of the square that a grid reference names.
    precision_m : float
        Width of that square; 0 where the place is exact.
    note : str
        What was filled in to read it, a sentence; empty: nothing.
    """

    place: LonLat
    precision_m: float = 0.0
    note: str = ""


def read_place(text: str, grid: Grid) -> ReadPlace:
    """Read a place.

    Parameters
    ----------
    text : str
        Such as ``34W DA 67413 26991``, ``DA 674 269``, ``674 269``, ``34W 467413 7426991`` or ``67.1234, 21.5678``.
    grid : Grid
        Of the ground: what a reference leaves out is filled in from it.

    Raises
    ------
    ReferenceFaultError
        It names no place.
    """
    bare = " ".join(text.replace("\u00a0", " ").split())
    utm = _UTM.match(bare)
    if utm is not None:
        return _utm(utm, grid)
    degrees = _lonlat(bare)
    if degrees is not None:
        return ReadPlace(place=degrees)
    return _military(re.sub(r"[\s.,/-]", "", bare).upper(), grid)


def _utm(found: re.Match[str], grid: Grid) -> ReadPlace:
    zone, band, east, north = found.groups()
    code = int(grid.crs.rpartition(":")[2])
    note = ""
    if zone is None:
        if code // 100 not in (326, 327):
            raise ReferenceFaultError("its zone is missing")
        note = f"Read in the map's own zone, {code % 100}."
    else:
        if not 1 <= int(zone) <= 60:
            raise ReferenceFaultError(f"there is no zone {zone}")
        # The letter is a band of latitude; from N on it lies in the north.
        code = (32600 if band.upper() >= "N" else 32700) + int(zone)
    lon, lat = Transformer.from_crs(f"EPSG:{code}", WGS84, always_xy=True).transform(float(east), float(north))
    if not (math.isfinite(lon) and math.isfinite(lat)):
        raise ReferenceFaultError("there is no such place in that zone")
    return ReadPlace(place=(float(lon), float(lat)), note=note)


def _lonlat(text: str) -> LonLat | None:
    """Latitude and longitude, latitude first unless letters say otherwise; None where it is something else."""
    halves = _halves(text)
    if halves is None:
        return None
    values = {}
    for axis, half in zip(("lat", "lon"), halves, strict=True):
        found = _DEGREES.match(half.strip())
        if found is None:
            return None
        letter = (found["hemi"] or found["after"] or "").upper()
        value = float(found["deg"]) + float(found["min"] or 0.0) / 60.0 + float(found["sec"] or 0.0) / 3600.0
        is_negative = letter in ("S", "W") or found["sign"] in ("-", "−")
        named = {"N": "lat", "S": "lat", "E": "lon", "W": "lon"}.get(letter, axis)
        values[named] = -value if is_negative else value
    if len(values) != 2:
        raise ReferenceFaultError("it tells the same coordinate twice")
    if abs(values["lat"]) > 90.0 or abs(values["lon"]) > 180.0:
        raise ReferenceFaultError("latitude reaches to 90°, longitude to 180°")
    return values["lon"], values["lat"]


def _halves(text: str) -> tuple[str, str] | None:
    """The two coordinates of a text that has a mark of degrees in it: a point, a sign, a hemisphere."""
    if not re.search(r"[.°′'NSEW]", text, re.I) or re.search(r"[A-DF-MO-RT-VX-Z]", text, re.I):
        return None
    for cut in (r"\s*[,;]\s+", r"\s*[;,]\s*", r"(?<=[NSEW])\s+", r"\s+(?=[NSEW])", r"\s+"):
        parts = re.split(cut, text, flags=re.I)
        if len(parts) == 2 and all(parts):
            return parts[0], parts[1]
    return None


def _military(text: str, grid: Grid) -> ReadPlace:
    zoned = _ZONED.match(text) or _POLAR.match(text)
    if zoned is not None:
        return _square(zoned.group(1) + zoned.group(2), zoned.group(3), "")
    squared = _SQUARED.match(text)
    if squared is not None:
        return _filled_in(squared.group(2), grid, square=squared.group(1))
    if text.isdigit():
        return _filled_in(text, grid, square="")
    raise ReferenceFaultError(_why_not(text))


def _why_not(text: str) -> str:
    if not text:
        return "nothing stands there"
    if len(re.findall(r"\d", text)) >= 4 and re.search(r"[OIL](?=\d)|(?<=\d)[OIL]", text[-10:]):
        return "it has a letter O, I or L among its digits: a 0 or a 1 may be meant"
    return "it is no grid reference, UTM pair, or latitude and longitude"


def _check_digits(digits: str) -> int:
    """How many digits each half has."""
    if len(digits) % 2:
        raise ReferenceFaultError(f"it has {len(digits)} digits, so one is missing or too many")
    half = len(digits) // 2
    if half < _LEAST_DIGITS:
        raise ReferenceFaultError(f"it is too short: it names a square {10 ** (5 - half) // 1000} km wide")
    if half > 5:
        raise ReferenceFaultError(f"it has {len(digits)} digits; 10 are the most")
    return half


def _square(head: str, digits: str, note: str) -> ReadPlace:
    """The middle of the square that a whole reference names."""
    half = _check_digits(digits)
    zone = re.match(r"\d+", head)
    if zone is not None and not 1 <= int(zone.group()) <= 60:
        raise ReferenceFaultError(f"there is no zone {zone.group()}")
    more = "5" if half < 5 else ""
    whole = f"{head}{digits[:half]}{more}{digits[half:]}{more}"
    try:
        lat, lon = mgrs.MGRS().toLatLon(whole)
        back = mgrs_reference(lon, lat)
    except (mgrs.core.MGRSError, RuntimeError, ValueError) as fault:
        raise ReferenceFaultError("there is no such square") from fault
    # A square that lies in no such zone comes back as another one.
    if not back.startswith(head.lstrip("0")) and not back.startswith(head):
        raise ReferenceFaultError(f"its place lies in {back[:-10]}, not in {head}")
    return ReadPlace(place=(float(lon), float(lat)), precision_m=10.0 ** (5 - half), note=note)


def _filled_in(digits: str, grid: Grid, *, square: str) -> ReadPlace:
    """A reference without its zone, or without its square too, filled in from the ground."""
    _check_digits(digits)
    heads = _heads(grid)
    heads = [head for head in heads if head.endswith(square)] if square else heads
    if not heads:
        raise ReferenceFaultError(f"the ground has no square {square}")
    on_ground = []
    for head in heads:
        try:
            read = _square(head, digits, f"Read as {head} {digits[: len(digits) // 2]} {digits[len(digits) // 2 :]}.")
        except ReferenceFaultError:
            continue
        east, north = grid.from_lonlat(*read.place)
        if grid.contains(float(east), float(north)):
            on_ground.append(read)
    if len(on_ground) == 1:
        return on_ground[0]
    if square and not on_ground:
        return _square(heads[0], digits, f"Read in {heads[0]}.")
    lack = "letters of its square are" if not square else "zone is"
    raise ReferenceFaultError(f"its {lack} missing, and the ground doesn't tell which")


def _heads(grid: Grid) -> list[str]:
    """Zone, band and square of every part of the ground."""
    west, south, east, north = grid.bounds_m
    steps = [k / 4.0 for k in range(5)]
    places = [(west + (east - west) * x, south + (north - south) * y) for x in steps for y in steps]
    return sorted({grid.mgrs(*place)[:-10] for place in places})
