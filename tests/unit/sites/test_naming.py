"""Names from the lie of the land."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import ndimage

from sitepick.sites.candidates import Piece
from sitepick.sites.naming import land_form, name_pieces
from tests.helpers.made import LAKE, OPEN, SPRUCE, make_ground, make_plan, make_terrain
from tests.helpers.made_march import make_march

ROWS, COLS = np.indices((80, 80)).astype(float)
AWAY = np.hypot(ROWS - 40, COLS - 40)


def middle_piece(size: int = 6) -> Piece:
    return Piece(cells=np.argwhere(np.ones((size, size), bool)) + 40 - size // 2, capacity=5)


def sloped(relief: np.ndarray, **known):
    ground = make_ground(relief, SPRUCE)
    rise = np.hypot(*np.gradient(ndimage.uniform_filter(relief, 3), 10.0))
    return ground, make_terrain(ground, slope_30m_deg=np.degrees(np.arctan(rise)).astype(np.float32), **known)


@pytest.mark.parametrize(
    ("form", "relief"),
    [
        ("flat", np.full((80, 80), 100.0)),
        ("slope", 300.0 - 2.0 * ROWS),
        ("bench", 300.0 - 2.0 * ROWS + np.clip(2.0 * (ROWS - 40), -12.0, 12.0)),
        ("knoll", 300.0 - 1.5 * AWAY),
        ("hollow", 300.0 + 1.5 * AWAY),
        ("spur", 300.0 - 0.6 * ROWS - 1.5 * np.abs(COLS - 40)),
    ],
)
def test_land_forms(form, relief):
    assert land_form(middle_piece(), *sloped(relief)) == form


@pytest.mark.parametrize(
    ("lake", "side"), [((slice(0, 25), slice(0, 80)), "south"), ((slice(0, 80), slice(60, 80)), "west")]
)
def test_the_side_of_the_water_is_the_side_that_the_site_is_on(lake, side):
    cover = np.full((80, 80), SPRUCE)
    cover[lake] = LAKE
    ground = make_ground(np.full((80, 80), 100.0), cover)
    plan = make_plan(ground)
    names = name_pieces((middle_piece(),), ground, make_terrain(ground), make_march(plan, ground))
    assert names == (f"Wooded flat {side} of the lake",)


def test_names_differ_even_on_ground_that_is_all_alike():
    ground = make_ground(np.full((80, 80), 100.0), OPEN)
    plan = make_plan(ground)
    pieces = tuple(
        Piece(cells=np.argwhere(np.ones((3, 3), bool)) + np.array([20, col]), capacity=5) for col in (20, 21, 40, 60)
    )
    names = name_pieces(pieces, ground, make_terrain(ground), make_march(plan, ground))
    assert len(set(names)) == 4
