"""What the map draws of an answer, made beside the window's thread."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from PySide6.QtCore import QPoint
from PySide6.QtGui import QImage, QPainter

from sitepick.desk.desk_work import draw_answer
from sitepick.desk.jobs import JobRunner
from sitepick.desk.look import Look, look_named
from sitepick.desk.map_frame import MapFrame
from sitepick.desk.map_picture import CHUNK_POINTS, LineSet, picture_levels
from sitepick.desk.map_tiles import TileStore
from sitepick.tonight import Tonight
from sitepick.work import JobStopped, Watch
from tests.helpers.made import make_grid


def test_each_level_is_half_as_wide(qapp: object):
    levels = picture_levels(np.zeros((1100, 2100, 3), dtype=np.uint8))
    assert [(level.width(), level.height()) for level in levels] == [(2100, 1100), (1050, 550), (525, 275)]


def test_a_picture_keeps_its_pixels_after_the_array_is_gone(qapp: object):
    pixels = np.zeros((4, 5, 3), dtype=np.uint8)
    pixels[1, 2] = (180, 71, 11)
    (level,) = picture_levels(pixels)
    pixels[:] = 0
    assert level.pixelColor(2, 1).getRgb()[:3] == (180, 71, 11)


def test_lines_in_pieces_leave_no_gap_and_only_those_near_are_given():
    grid = make_grid(100, 100)
    x = np.linspace(grid.west_m, grid.east_m, 3 * CHUNK_POINTS)
    lines = LineSet([np.column_stack([x, np.full(len(x), grid.north_m - 500.0)])], grid)
    pieces = lines.in_box(0.0, 0.0, 1000.0, 1000.0)
    for piece, following in pairwise(pieces):
        assert piece.last() == following.first()
    assert pieces[0].first().x() == 0.0
    assert pieces[-1].last().x() == pytest.approx(1000.0)
    assert lines.in_box(0.0, 0.0, 1000.0, 400.0) == []
    assert len(lines.in_box(0.0, 450.0, 100.0, 550.0)) == 1


def test_the_reach_lines_lie_where_their_minutes_end(answer: Tonight, look: Look):
    drawing = draw_answer(answer, look.palette, None, Watch())
    march = answer.march
    for lines, limit in (
        (drawing.reach.likely, march.moving_min_limit),
        (drawing.reach.late, march.late_moving_min_limit),
    ):
        assert lines
        for east_m, north_m in np.concatenate(lines):
            row, col = march.grid.cell_at(east_m, north_m)
            around = march.moving_min[max(row - 1, 0) : row + 2, max(col - 1, 0) : col + 2]
            assert np.nanmin(around) <= limit <= np.nanmax(around) or np.isnan(around).any()
    assert drawing.reach.early


def test_the_grounds_picture_is_kept_while_ground_and_colours_are_the_same(answer: Tonight, look: Look):
    first = draw_answer(answer, look.palette, None, Watch())
    again = draw_answer(replace(answer, plan=replace(answer.plan, name="Another")), look.palette, first, Watch())
    other = draw_answer(answer, look_named("dark").palette, first, Watch())
    assert again.picture is first.picture
    assert other.picture is not first.picture


def test_drawing_stops_when_told(answer: Tonight, look: Look):
    watch = Watch()
    watch.stop()
    with pytest.raises(JobStopped):
        draw_answer(answer, look.palette, None, watch)


@pytest.mark.shape
@pytest.mark.parametrize("m_per_px", [3.0, 9.0, 40.0])
def test_tiles_lie_where_the_ground_lies(answer: Tonight, look: Look, m_per_px: float):
    drawing = draw_answer(answer, look.palette, None, Watch())
    grid = answer.ground.grid
    lake = grid.cell_centre_m(40, 220)
    frame = MapFrame(east_m=lake[0], north_m=lake[1], m_per_px=m_per_px, width_px=300, height_px=200)
    store = TileStore(drawing.picture, look, JobRunner(run_now=True))
    image = QImage(300, 200, QImage.Format.Format_RGB32)
    for _ in range(2):  # the first asks for the tiles, the second has them
        image.fill(look.paper)
        painter = QPainter(image)
        is_missing = store.paint(painter, frame, 1.0)
        painter.end()
        if not is_missing:
            break
    assert not is_missing
    at_lake = image.pixelColor(QPoint(150, 100))
    water = look_named("day").palette.water.lstrip("#")
    expected = tuple(int(water[start : start + 2], 16) for start in (0, 2, 4))
    assert np.abs(np.array(at_lake.getRgb()[:3]) - expected).max() <= 24
    west_px = frame.to_px(grid.west_m, lake[1])[0]
    if west_px > 20:
        assert image.pixelColor(int(west_px) - 10, 100) == look.paper


def test_no_reach_line_rings_a_lake_that_lies_within_the_reach(answer: Tonight, look: Look):
    march = answer.march
    rows, cols = slice(70, 76), slice(60, 90)
    moving, going = march.moving_min.copy(), march.minutes_per_100m.copy()
    moving[rows, cols], going[rows, cols] = np.nan, np.nan
    lake = replace(answer, march=replace(march, moving_min=moving, minutes_per_100m=going))
    bare = draw_answer(answer, look.palette, None, Watch()).reach
    with_lake = draw_answer(lake, look.palette, None, Watch()).reach
    for one, other in ((bare.early, with_lake.early), (bare.likely, with_lake.likely), (bare.late, with_lake.late)):
        assert len(one) == len(other)
