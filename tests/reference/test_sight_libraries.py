"""Sight against another program's, on made and on real ground: GDAL's viewshed, where it is installed."""

from __future__ import annotations

import shutil
import subprocess

import numpy as np
import pytest
import rasterio
from affine import Affine
from scipy.ndimage import zoom

from sitepick.terrain import read_sight
from sitepick.terrain.sight import SightRule
from tests.helpers.made import made_relief, make_ground, make_plan
from tests.helpers.real_places import DATA

PROGRAM = shutil.which("gdal_viewshed")

pytestmark = [pytest.mark.slow, pytest.mark.skipif(PROGRAM is None, reason="GDAL's programs are not installed")]
CURVE_LEFT = 0.87  # of the earth's curve, after refraction


def seen_by_program(folder, z, eye, rule, cell_m):
    """The same question put to GDAL: heights straight between cells, sight carried from ring to ring."""
    source, target = folder / "heights.tif", folder / "seen.tif"
    corner = Affine(cell_m, 0.0, 0.0, 0.0, -cell_m, 0.0)
    with rasterio.open(source, "w", driver="GTiff", height=z.shape[0], width=z.shape[1], count=1, dtype="float32",
                       crs="EPSG:32634", transform=corner) as file:  # fmt: skip
        file.write(z.astype(np.float32), 1)
    east, north = corner * (eye[1] + 0.5, eye[0] + 0.5)
    subprocess.run(
        [PROGRAM, "-q", "-ox", str(east), "-oy", str(north), "-oz", str(rule.eye_m), "-tz", str(rule.target_m),
         "-md", str(rule.reach_m), "-cc", str(CURVE_LEFT), str(source), str(target)],
        check=True, capture_output=True,
    )  # fmt: skip
    with rasterio.open(target) as file:
        return file.read(1) > 0


def made(seed, roughness, height_m):
    return made_relief(400, 400, seed=seed, roughness=roughness, height_m=height_m)


def real(name):
    with rasterio.open(DATA / f"{name}_elevation.tif") as file:
        heights = file.read(1)
    heights = heights[: min(heights.shape), : min(heights.shape)]
    return zoom(heights, 400 / heights.shape[0], order=1).astype(np.float32)


@pytest.mark.parametrize(("ground_of", "which"), [
    (made, (1, 2.0, 90.0)), (made, (2, 3.0, 90.0)), (made, (3, 2.5, 300.0)), (real, ("n57e011",)), (real, ("n44e005",)),
], ids=["rough", "smooth", "high", "coast", "mountains"])  # fmt: skip
def test_sight_is_that_of_another_program(tmp_path, ground_of, which):
    z = ground_of(*which)
    ground, rule = make_ground(z, cell_m=30.0), SightRule(reach_m=20_000.0)
    shares = []
    for eye in ((200, 190), tuple(int(place) for place in np.unravel_index(np.argmax(z), z.shape))):
        seen = read_sight(make_plan(), ground, np.array([ground.grid.cell_centre_m(*eye)]), rule=rule) > 0.0
        theirs = seen_by_program(tmp_path, z, eye, rule, ground.grid.ground_cell_m)
        shares.append(np.mean(seen != theirs))
        assert 0.01 < seen.mean() < 1.0
    print(which, [f"{100 * share:.3f} % differ" for share in shares])
    assert max(shares) <= 0.01  # theirs carries sight from ring to ring and so smooths it; ours is held to 0.2 % of a plain line
