"""Layers as files: each written for a real reading of the ground, by the rules of the layout that they claim."""

from __future__ import annotations

import struct
from dataclasses import replace
from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pytest
import rasterio
from scipy.ndimage import binary_dilation

from sitepick.plan.model import Weather
from sitepick.sheet.layers import _cold_layers, write_layers
from sitepick.terrain import frostbite, read_terrain, wind_chill_c
from tests.helpers.made import OPEN, SPRUCE, made_relief, make_ground, make_plan

pytestmark = pytest.mark.slow
SUBFILE, WIDTH, TILE_WIDTH, TILE_OFFSETS = 254, 256, 322, 324
SHORT, LONG, LONG8 = 3, 4, 16
LETTER = {SHORT: "H", LONG: "I", LONG8: "Q"}


def directories_of(data: bytes) -> tuple[list[dict[int, list[int]]], int]:
    """Tags of whole numbers by directory, in the order that they are linked in, and where the last of them ends."""
    order = {b"II": "<", b"MM": ">"}[data[:2]]
    assert struct.unpack_from(order + "H", data, 2)[0] == 42
    (at,) = struct.unpack_from(order + "I", data, 4)
    directories, end = [], 0
    while at:
        (count,) = struct.unpack_from(order + "H", data, at)
        tags = {}
        for number in range(count):
            entry = at + 2 + 12 * number
            tag, kind, many = struct.unpack_from(order + "HHI", data, entry)
            if kind in LETTER:
                size = many * struct.calcsize(LETTER[kind])
                (there,) = (entry + 8,) if size <= 4 else struct.unpack_from(order + "I", data, entry + 8)
                tags[tag] = list(struct.unpack_from(f"{order}{many}{LETTER[kind]}", data, there))
                end = max(end, there + size)
        directories.append(tags)
        (at,) = struct.unpack_from(order + "I", data, at + 2 + 12 * count)
    return directories, end


def assert_cloud_optimised(path: Path) -> None:
    """The published rules: tiles, directories before data, overviews by size after the whole, data the other way."""
    data = path.read_bytes()
    directories, end = directories_of(data)
    widths = [tags[WIDTH][0] for tags in directories]
    assert all(TILE_WIDTH in tags for tags in directories), path.name
    assert directories[0].get(SUBFILE, [0]) == [0]
    assert all(tags[SUBFILE] == [1] for tags in directories[1:]), "what follows are overviews"
    assert widths == sorted(widths, reverse=True)
    assert widths[-1] <= 512, "a glance at the whole takes one tile"
    firsts = [min(offset for offset in tags[TILE_OFFSETS] if offset) for tags in directories]
    assert min(firsts) >= end, "all directories stand before the data"
    assert firsts == sorted(firsts, reverse=True), "the smallest overview's data come first"


@pytest.fixture(scope="module")
def surface():
    """Ground told by the tops of its trees, wider than a tile."""
    z = made_relief(180, 620, seed=4, height_m=80.0, roughness=3.0)
    z[:, 300:330] += 5.0 * np.arange(30, dtype=np.float32)  # too steep for any camp
    z[:, 330:] += 145.0
    cover = np.where(made_relief(180, 620, seed=5) > 60.0, SPRUCE, OPEN)
    z = z + np.where(cover == SPRUCE, 14.0, 0.0).astype(np.float32)
    z[20:25, 30:40] = np.nan
    return make_ground(z, cover, elevation_kind="surface")


@pytest.fixture(scope="module")
def written(surface, tmp_path_factory):
    plan = make_plan(surface, weather=Weather(wind_from_deg=300.0, wind_kmh=40.0, temperature_c=-18.0))
    folder = tmp_path_factory.mktemp("layers")
    return folder, write_layers(plan, surface, read_terrain(plan, surface), folder)


def test_every_layer_is_a_cloud_optimised_geotiff_with_its_unit_and_meaning(written):
    _, paths = written
    rasters = [path for path in paths if path.suffix == ".tif"]
    assert len(rasters) > 25
    for path in rasters:
        assert_cloud_optimised(path)
        with rasterio.open(path) as file:
            assert file.overviews(1), path.name
            assert file.descriptions[0], path.name
            has_unit = path.stem.rsplit("_", 1)[-1] in ("m", "deg", "m2", "hours", "frac", "kmh", "c", "min")
            assert bool(file.units[0]) or not has_unit, path.name


def test_each_layer_has_a_picture(written):
    folder, paths = written
    stems = {path.stem for path in paths if path.suffix == ".tif"}
    assert {path.stem for path in paths if path.suffix == ".png"} == stems | {"ground"}
    assert all((folder / f"{stem}.png").read_bytes()[:8] == b"\x89PNG\r\n\x1a\n" for stem in stems)


def test_the_ground_without_its_trees_is_told_where_trees_were_taken_off(written, surface):
    folder, _ = written
    with rasterio.open(folder / "bare_elevation_m.tif") as file:
        off_m = surface.elevation_m - file.read(1)
    assert 8.0 < np.nanmedian(off_m[surface.cover_index == SPRUCE]) < 16.0


def test_the_chance_to_lie_within_the_slope_limit_falls_with_the_slope_and_under_trees(written, surface):
    folder, _ = written
    with rasterio.open(folder / "slope_chance_frac.tif") as file, rasterio.open(folder / "slope_30m_deg.tif") as slopes:
        chance, slope_deg = file.read(1), slopes.read(1)
    assert np.nanmin(chance) >= 0.0
    assert np.nanmax(chance) <= 1.0
    level = slope_deg < 2.0
    is_open, is_wood = level & (surface.cover_index == OPEN), level & (surface.cover_index == SPRUCE)
    assert np.nanmedian(chance[is_open]) > max(0.9, np.nanmedian(chance[is_wood]))
    assert np.nanmedian(chance[slope_deg > 12.0]) < 0.1


def test_the_wind_at_a_shelter_is_told_by_what_it_means(written):
    folder, _ = written
    layers, units = {}, {}
    for name in ("wind_share", "wind_kmh", "wind_chill_c", "frostbite_band"):
        with rasterio.open(folder / f"{name}.tif") as file:
            layers[name], units[name] = file.read(1), file.units[0]
            meaning = file.descriptions[0]
    np.testing.assert_allclose(layers["wind_kmh"], 40.0 * layers["wind_share"], rtol=1e-6)
    assert (units["wind_kmh"], units["wind_chill_c"]) == ("km/h", "°C")
    row, col = np.unravel_index(np.nanargmax(layers["wind_kmh"]), layers["wind_kmh"].shape)
    most_kmh = float(layers["wind_kmh"][row, col])
    assert layers["wind_chill_c"][row, col] == pytest.approx(wind_chill_c(-18.0, most_kmh), abs=1e-3)
    told = meaning.split(", ")[layers["frostbite_band"][row, col]]
    assert told == f"{layers['frostbite_band'][row, col]} {frostbite(-18.0, most_kmh).band}: " + (
        frostbite(-18.0, most_kmh).text
    )
    assert len(np.unique(layers["frostbite_band"])) > 1


def test_the_way_to_water_and_back_is_told_in_minutes(written):
    folder, _ = written
    with rasterio.open(folder / "water_and_back_min.tif") as file, rasterio.open(folder / "water_kind.tif") as kinds:
        minutes, kind = file.read(1), kinds.read(1)
        assert file.units[0] == "min"
    is_water = kind > 0
    assert is_water.any()
    assert (minutes[is_water] == 0.0).all()
    beside = binary_dilation(is_water) & ~is_water & np.isfinite(minutes)
    farther = ~binary_dilation(is_water, iterations=20) & np.isfinite(minutes)
    assert np.median(minutes[beside]) < 5.0 < np.median(minutes[farther])


def test_what_the_plan_does_not_tell_has_no_layer(surface):
    terrain = SimpleNamespace(wind_share=np.ones((2, 2), np.float32))
    nothing = Weather(wind_from_deg=None, wind_kmh=None, temperature_c=None)
    assert _cold_layers(make_plan(surface, weather=nothing), terrain) == {}
    assert set(_cold_layers(make_plan(surface, weather=replace(nothing, wind_kmh=20.0)), terrain)) == {"wind_kmh"}
