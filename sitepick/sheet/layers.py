"""Every layer of the ground and terrain as files: a cloud-optimised GeoTIFF to measure in, a PNG to look at."""

from __future__ import annotations

import warnings
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

import numpy as np
from rasterio.errors import NotGeoreferencedWarning
from rasterio.io import MemoryFile

from sitepick.errors import MarchError, SheetError
from sitepick.grid import Grid
from sitepick.ground.model import NOT_KNOWN, Ground
from sitepick.output import whole_files
from sitepick.plan.factor_words import FACTOR_WORDS
from sitepick.plan.model import Plan
from sitepick.sheet.layer_look import LayerArray, look_at
from sitepick.sheet.layer_sheet import DOTS_PER_INCH, layer_sheet
from sitepick.sheet.model import Sheet
from sitepick.sheet.palette import read_palette
from sitepick.sheet.relief import PictureArray, ground_picture
from sitepick.sites.score_layers import measure_layers, score_layer
from sitepick.sites.score_map import score_map
from sitepick.terrain.chill import BAND_NAMES, chill_layers
from sitepick.terrain.model import WATER_KIND_NAMES, Terrain
from sitepick.terrain.shape import read_shape
from sitepick.terrain.sight import read_sight
from sitepick.terrain.slope_error import chance_within
from sitepick.terrain.sunshine import read_sun_hours
from sitepick.tonight import Tonight, way_to_water_min
from sitepick.work import Watch

DrawPng = Callable[[Sheet, int, Path, float], None]

_MASK_NOT_KNOWN = 255

# Unit and meaning of each layer, as they stand in the GeoTIFF.
MEANINGS = {
    "elevation_m": ("m", "height above sea level"),
    "bare_elevation_m": ("m", "height above sea level with the trees taken off, which the rest was read from"),
    "cover_code": ("", "land cover, codes of the legend"),
    "canopy_height_m": ("m", "height of the trees, as measured"),
    "slope_deg": ("degree", "steepest fall of the cell"),
    "slope_30m_deg": ("degree", "slope of the mean ground over 30 m"),
    "slope_error_deg": ("degree", "error of the slope over 30 m, one standard deviation"),
    "slope_chance_frac": ("1", "chance that the slope over 30 m lies within the plan's limit"),
    "aspect_deg": ("degree", "true bearing of the steepest fall"),
    "wind_share": ("1", "share of the open wind that reaches a shelter, mean of the rays around the wind"),
    "wind_share_worst": ("1", "share of the open wind that reaches a shelter, worst ray"),
    "wind_kmh": ("km/h", "wind that reaches a shelter"),
    "wind_chill_c": ("°C", "wind chill at a shelter: as cold as this would feel without wind"),
    "frostbite_band": ("", ", ".join(f"{number} {name}" for number, name in enumerate(BAND_NAMES))),
    "water_and_back_min": ("min", "walking minutes to the nearest water and back, as far as the plan's score goes"),
    "evergreen_frac": ("1", "share of the ground under evergreen crowns"),
    "canopy_frac": ("1", "share of the ground under any crowns"),
    "height_above_drainage_m": ("m", "height above the nearest stream or lake, along the flow"),
    "position_near_m": ("m", "height above the mean of the ground out to 300 m"),
    "position_far_m": ("m", "height above the mean of the ground out to 1.5 km"),
    "cold_pool_frac": ("1", "how far cold air gathers on clear, calm nights"),
    "roughness_m": ("m", "steps to the eight neighbours, root of the summed squares"),
    "water_kind": ("", ", ".join(f"{kind} {name}" for kind, name in enumerate(WATER_KIND_NAMES))),
    "is_water": ("", "1 on lakes, rivers and sea"),
    "draw_here": ("", "1 on water that the exercise's marks allow to be drawn"),
    "is_wet": ("", "1 on bog, marsh and ground that floods"),
    "is_avalanche_release": ("", "1 on slopes that can release an avalanche"),
    "is_avalanche_runout": ("", "1 on ground that an avalanche can reach, the releases themselves left out"),
    "avalanche_angle_deg": ("degree", "steepness of the line up to the release that a place lies below"),
    "avalanche_area_m2": ("m²", "area of the release that a place lies below"),
    "unsafe_unknown": ("", "1 where slope, water or avalanche hazard is not known"),
    "score": ("1", "score of a camp around this cell; none where no shelter may stand"),
    "moving_min": ("min", "minutes on the move from the start, at likely pace"),
    "detour_min": ("min", "of them off the route"),
    "can_pitch": ("", "1 where a shelter may stand: within every limit and in reach"),
    "sun_hours": ("h", "direct sun on the day of arrival over the relief; the shade of trees is not counted"),
    "seen_share": ("1", "share of those who may look that see a tent here: on tracks and roads, the route, observers"),
    "seen_tracks_share": ("1", "share of the places every 250 m along tracks and roads that see a tent here"),
    "forest_depth_m": ("m", "metres inside the edge of the forest, up to 300"),
    "boughs_near_share": ("1", "share of the ground within 150 m under evergreen crowns"),
    "fuel_near_share": ("1", "dead wood within 150 m, on the scale of the cover's legend"),
    "seen_route_share": ("1", "share of the places every 250 m along the route that see a tent here"),
    "seen_observers_share": ("1", "share of the marked observers who see a tent here"),
    "open_to_air_share": ("1", "share of the ground that a look from the air falls on"),
    "hazard_distance_m": ("m", "distance to avalanche ground, dead forest or glacier, up to 1000"),
}
# What the measures of the further factors are called here; those without a name stand among the layers already.
_MEASURE_NAMES = {
    "depth": "forest_depth_m", "boughs": "boughs_near_share", "fuel": "fuel_near_share",
    "seen_tracks": "seen_tracks_share", "seen_route": "seen_route_share",
    "seen_observers": "seen_observers_share", "seen_air": "open_to_air_share", "hazards": "hazard_distance_m",
}  # fmt: skip


def _told(name: str) -> tuple[str, str]:
    """Unit and meaning of a layer."""
    if name not in MEANINGS:
        return "1", f"score of the measure: {FACTOR_WORDS[name.removeprefix('score_')].label}"
    return MEANINGS[name]


def write_layers(
    plan: Plan, ground: Ground, terrain: Terrain, folder: Path, *, answer: Tonight | None = None,
    draw_png: DrawPng | None = None, watch: Watch | None = None,
) -> tuple[Path, ...]:  # fmt: skip
    """Write each layer as ``NAME.tif`` and ``NAME.png``, all of them or none.

    The shape of the ground, hours of sun and the share of places along tracks that see a place are found here, and
    the scores of forest, slope, wind and what else the plan lets count.

    Parameters
    ----------
    plan : Plan
        Its day of arrival, its limit of slope, its route and observers, what it says of forest of unknown leaf type.
        The wind in km/h, wind chill and frostbite are written if it tells wind and temperature, the way to water
        and back if somebody can march on its route.
    ground : Ground
    terrain : Terrain
        Of the same grid.
    folder : Path
        Made when missing; files of the same names are replaced.
    answer : Tonight, optional
        Its score and reach are written too.
    draw_png : callable, optional
        Draws a sheet's page into a file, as `paint.write_png` does. Without it the pictures have no legend.
    watch : Watch, optional
        Hears of the progress and can stop the work.

    Returns
    -------
    tuple of Path
        The files written. Names carry the unit. In the GeoTIFFs ground that isn't known is NaN
        (255 in layers of yes and no, -1 in the cover's codes); in the PNGs it has the palette's
        tint for it, and values run from dark to light.

    Raises
    ------
    SheetError
        The folder is read-only, the disk is full and the like; older files stay as they were.
    SettingsError
        The sun isn't known for the plan's year.
    work.JobStopped
        The watch was stopped; older files stay as they were.
    """
    watch = watch or Watch()
    palette = read_palette("day")
    layers = _layers(ground, terrain)
    limit_deg = plan.preferences.slope.limit_max
    if limit_deg is not None:
        chance = chance_within(terrain.slope_30m_deg, terrain.slope_error_deg, limit_deg)
        layers["slope_chance_frac"] = chance.astype(np.float32)
    shape = read_shape(ground, watch=watch)
    layers.update({name: getattr(shape, name) for name in shape.__slots__})
    layers["sun_hours"] = read_sun_hours(plan, ground, watch=watch)
    layers["seen_share"] = read_sight(plan, ground, watch=watch)
    layers.update(_cold_layers(plan, terrain))
    with suppress(MarchError):
        march = None if answer is None else answer.march
        layers["water_and_back_min"] = way_to_water_min(plan, ground, terrain, march=march, watch=watch)
    for name, measure in measure_layers(plan, ground, terrain, watch=watch).items():
        if name in _MEASURE_NAMES:
            layers[_MEASURE_NAMES[name]] = measure
        layers[f"score_{name}"] = score_layer(plan.preferences.factor(name), measure)
    if answer is not None:
        layers.update(answer_layers(answer))
    with whole_files(folder, error=SheetError) as staging:
        for index, (name, values) in enumerate(layers.items()):
            watch.tick("writing the layers", index, len(layers))
            (staging / f"{name}.tif").write_bytes(layer_geotiff(name, values, ground.grid))
            if draw_png is None:
                plain = look_at(name, values, _told(name)[0], ground, palette).picture
                (staging / f"{name}.png").write_bytes(_png(plain))
            else:
                page = layer_sheet(name, values, _told(name), ground, palette)
                draw_png(page, 0, staging / f"{name}.png", DOTS_PER_INCH)
        (staging / "ground.png").write_bytes(_png(ground_picture(ground, terrain, palette)))
        names = sorted(path.name for path in staging.iterdir())
    return tuple(folder / name for name in names)


def _cold_layers(plan: Plan, terrain: Terrain) -> dict[str, LayerArray]:
    """What the wind means at a shelter, as far as the plan's weather tells."""
    wind_kmh, temperature_c = plan.weather.mean_wind_kmh, plan.weather.temperature_c
    if wind_kmh is None:
        return {}
    at_shelter_kmh = terrain.wind_share * np.float32(wind_kmh)
    if temperature_c is None:
        return {"wind_kmh": at_shelter_kmh}
    chill_c, band = chill_layers(temperature_c, at_shelter_kmh)
    return {"wind_kmh": at_shelter_kmh, "wind_chill_c": chill_c, "frostbite_band": band}


def answer_layers(answer: Tonight) -> dict[str, LayerArray]:
    """Score, reach and where one may pitch."""
    march, sites = answer.march, answer.sites
    return {
        "score": score_map(answer.plan, answer.terrain, march, sites),
        "moving_min": march.moving_min,
        "detour_min": march.detour_min,
        "can_pitch": sites.can_pitch.astype(np.uint8),
    }


def score_geotiff(answer: Tonight) -> bytes:
    """The score as a cloud-optimised GeoTIFF."""
    return layer_geotiff("score", answer_layers(answer)["score"], answer.ground.grid)


def ground_layers(ground: Ground) -> dict[str, LayerArray]:
    """The ground as it was read, as other plans can read it."""
    codes = np.array([cover.code for cover in ground.legend.classes] + [NOT_KNOWN], dtype=np.int16)
    layers: dict[str, LayerArray] = {"elevation_m": ground.elevation_m, "cover_code": codes[ground.cover_index]}
    if ground.canopy_height_m is not None:
        layers["canopy_height_m"] = ground.canopy_height_m
    return layers


def _layers(ground: Ground, terrain: Terrain) -> dict[str, LayerArray]:
    layers = ground_layers(ground)
    for name in terrain.__slots__:
        values = getattr(terrain, name)
        if isinstance(values, np.ndarray):
            layers[name] = values.astype(np.uint8) if values.dtype == np.bool_ else values
    if np.array_equal(layers.get("bare_elevation_m", ground.elevation_m), ground.elevation_m, equal_nan=True):
        layers.pop("bare_elevation_m", None)  # no tree was taken off
    return layers


def layer_geotiff(name: str, values: LayerArray, grid: Grid) -> bytes:
    """A layer as a cloud-optimised GeoTIFF.

    Packed in memory first: the format's own writer tells of a full disk too late and in words of its own.
    """
    rows, cols = values.shape
    not_known = {"f": float("nan"), "u": _MASK_NOT_KNOWN, "i": NOT_KNOWN}[values.dtype.kind]
    with MemoryFile() as packed:
        with packed.open(
            driver="COG", width=cols, height=rows, count=1, dtype=values.dtype, crs=grid.crs,
            transform=grid.affine, nodata=not_known, compress="DEFLATE",
        ) as target:  # fmt: skip
            target.write(values, 1)
            unit, meaning = _told(name)
            target.set_band_unit(1, unit)
            target.set_band_description(1, meaning)
        return bytes(packed.read())


def _png(picture: PictureArray) -> bytes:
    rows, cols, _ = picture.shape
    with warnings.catch_warnings(), MemoryFile() as packed:
        # A picture has no place on earth, and the library warns of it.
        warnings.simplefilter("ignore", NotGeoreferencedWarning)
        with packed.open(driver="PNG", width=cols, height=rows, count=3, dtype="uint8") as target:
            target.write(np.moveaxis(picture, -1, 0))
        return bytes(packed.read())
