"""How a layer of the ground is coloured, and what its legend tells."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from sitepick.grid import FloatArray
from sitepick.ground.model import Ground
from sitepick.sheet.palette import Palette, mixed, rgb
from sitepick.sheet.relief import PictureArray, class_tint
from sitepick.terrain.chill import BAND_NAMES
from sitepick.terrain.model import WATER_KIND_NAMES

LayerArray = npt.NDArray[np.float32] | npt.NDArray[np.uint8] | npt.NDArray[np.int16]

STEP_COUNT = 5  # about as many numbers as stand beside a ramp
_OUTSIDE = 0.01  # share of the ground at either end that the ramp doesn't spread for
_SHARE, _YES_NO = "1", ("no", "yes")
# Ends of the ramps that are the same on every map, so that two maps compare.
_ENDS = {"slope_deg": (0.0, 40.0), "slope_30m_deg": (0.0, 20.0), "aspect_deg": (0.0, 360.0), "wind_share": (0.0, 1.5),
         "wind_share_worst": (0.0, 1.5), "avalanche_angle_deg": (15.0, 45.0)}  # fmt: skip
_NO_VALUE = {"cold_pool_frac": "open water, or not known", "aspect_deg": "level, or not known",
             "avalanche_angle_deg": "no avalanche ground", "avalanche_area_m2": "no avalanche ground",
             "water_and_back_min": "no water within reach, or not known"}  # fmt: skip
_TURNING = ("aspect_deg",)
_SMALL_SHARES = ("seen_share",)  # a ramp to 1 would show next to nothing of them
_TINT_STRENGTH = 2.4  # the map's tints are quiet so that a plan stands out; a picture of the cover alone may speak up
_ROUND_STEPS = (1.0, 2.0, 2.5, 5.0, 10.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Ramp:
    """Colours between two values.

    Attributes
    ----------
    marks : tuple of float
        Values that are told, rising; the first and the last are the ramp's ends.
    has_lower, has_higher : bool
        Whether values past an end take its colour.
    is_turning : bool
        The last value means the same as the first, as with bearings, and has its colour.
    """

    marks: tuple[float, ...]
    has_lower: bool
    has_higher: bool
    is_turning: bool = False


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LayerLook:
    """A layer as a picture with what its colours mean.

    Attributes
    ----------
    picture : uint8 array of shape (rows, cols, 3)
    ramp : Ramp or None
        Of a layer of values.
    swatches : tuple of (colour, words)
        Of a layer of kinds; what isn't known comes last, where there is any.
    """

    picture: PictureArray
    ramp: Ramp | None
    swatches: tuple[tuple[str, str], ...]


def look_at(name: str, values: LayerArray, unit: str, ground: Ground, palette: Palette) -> LayerLook:
    """Colour a layer.

    Parameters
    ----------
    name : str
        The layer's.
    values : ndarray of shape (rows, cols)
        float32 values with NaN for what isn't known, or uint8 and int16 kinds.
    unit : str
        ``"1"`` for shares.
    ground : Ground
        Its legend names the kinds of cover.
    palette : Palette
    """
    if values.dtype.kind == "f":
        return _look_at_values(name, values.astype(np.float32), unit, palette)
    kinds = _kinds(name, ground, palette)
    picture = np.empty((*values.shape, 3), np.uint8)
    picture[:] = rgb(palette.unknown)
    for code, (colour, _) in kinds.items():
        picture[values == code] = rgb(colour)
    there = set(np.unique(values).tolist())
    swatches = [swatch for code, swatch in kinds.items() if code in there]
    return LayerLook(
        picture=picture, ramp=None, swatches=(*swatches, *_unknown_swatch(not there <= set(kinds), palette))
    )


def ramp_colour(part: float, palette: Palette, *, is_turning: bool = False) -> tuple[int, int, int]:
    """Colour at a part of a ramp, 0-1: from dark to light; round and back to the first where it turns."""
    bands = _ramp_bands(np.array([part], np.float32), palette, is_turning=is_turning)
    red, green, blue = (int(band[0]) for band in bands)
    return red, green, blue


def _ramp_bands(part: FloatArray, palette: Palette, *, is_turning: bool) -> list[npt.NDArray[np.uint8]]:
    colours = [palette.grade_good, palette.grade_middle, palette.grade_poor]
    if is_turning:
        colours += [palette.grade_turn, palette.grade_good]
    stops = np.array([rgb(colour) for colour in colours], np.float64)
    places = np.linspace(0.0, 1.0, len(colours))
    return [np.rint(np.interp(part, places, stops[:, band])).astype(np.uint8) for band in range(3)]


def _look_at_values(name: str, values: FloatArray, unit: str, palette: Palette) -> LayerLook:
    is_known = np.isfinite(values)
    known = values[is_known]
    marks = _marks(name, known, unit)
    part = np.nan_to_num((values - np.float32(marks[0])) / np.float32(marks[-1] - marks[0]))
    is_turning = name in _TURNING
    picture = np.stack(_ramp_bands(part, palette, is_turning=is_turning), axis=-1)
    picture[~is_known] = rgb(palette.unknown)
    ramp = Ramp(
        marks=marks,
        has_lower=bool(known.size) and float(known.min()) < marks[0],
        has_higher=bool(known.size) and float(known.max()) > marks[-1],
        is_turning=is_turning,
    )
    return LayerLook(picture=picture, ramp=ramp, swatches=_unknown_swatch(not is_known.all(), palette, name))


def _marks(name: str, known: FloatArray, unit: str) -> tuple[float, ...]:
    """Round values from about the lowest to about the highest."""
    if name in _ENDS:
        low, high = _ENDS[name]
        return tuple(np.linspace(low, high, STEP_COUNT + (name.startswith("wind"))).tolist())
    if unit == _SHARE and name not in _SMALL_SHARES:
        return tuple(np.linspace(0.0, 1.0, STEP_COUNT + 1).tolist())
    low, high = (float(end) for end in np.quantile(known, (_OUTSIDE, 1.0 - _OUTSIDE))) if known.size else (0.0, 1.0)
    rough = max((high - low) / STEP_COUNT, 1e-3)
    size = 10.0 ** math.floor(math.log10(rough))
    step = next(factor * size for factor in _ROUND_STEPS if factor * size >= rough * (1.0 - 1e-9))
    first, last = math.floor(low / step + 1e-6), math.ceil(high / step - 1e-6)
    return tuple(round(number * step, 6) for number in range(first, max(last, first + 1) + 1))


def _kinds(name: str, ground: Ground, palette: Palette) -> dict[int, tuple[str, str]]:
    """Colour and words of each kind that a layer tells apart."""
    if name == "cover_code":
        return {
            cover.code: (_hex(_strong(class_tint(cover, palette), palette)), cover.name)
            for cover in ground.legend.classes
        }
    if name == "water_kind":
        colours = (
            palette.paper, palette.water, palette.reach, palette.grade_good,
            mixed(palette.grade_good, palette.paper, 0.5), palette.grade_middle,
            mixed(palette.water, palette.text, 0.5),
        )  # fmt: skip
        return {kind: (colours[kind], words) for kind, words in enumerate(WATER_KIND_NAMES)}
    if name == "frostbite_band":
        parts = [number / (len(BAND_NAMES) - 1) for number in range(len(BAND_NAMES))]
        return {band: (_hex(ramp_colour(part, palette)), BAND_NAMES[band]) for band, part in enumerate(parts)}
    return {kind: (colour, _YES_NO[kind]) for kind, colour in enumerate((palette.paper, palette.grade_good))}


def _unknown_swatch(is_there: bool, palette: Palette, name: str = "") -> tuple[tuple[str, str], ...]:
    return ((palette.unknown, _NO_VALUE.get(name, "not known")),) if is_there else ()


def _strong(tint: tuple[float, float, float], palette: Palette) -> tuple[float, float, float]:
    """A tint farther from the paper's colour."""
    paper = rgb(palette.paper)
    red, green, blue = (
        min(max(under + _TINT_STRENGTH * (band - under), 0.0), 255.0) for band, under in zip(tint, paper, strict=True)
    )
    return red, green, blue


def _hex(bands: tuple[float, float, float]) -> str:
    return "#" + "".join(f"{round(band):02X}" for band in bands)
