"""How the camp is watched, drawn on its plan: perimeter, posts with their sectors, the way in, the trail past it."""

from __future__ import annotations

import math

from sitepick.camp.model import Post, Security
from sitepick.sheet.map_frame import MapFrame
from sitepick.sheet.model import Area, Line, Stroke
from sitepick.sheet.palette import Palette
from sitepick.sheet.shape import as_multipolygon
from sitepick.sheet.typeface import text_line
from sitepick.tonight import Tonight

_POST_MM = 2.5  # from the middle of its sign to a corner
_EDGE_MM = 11.0  # of a sector's edges, drawn from the post
_LABEL_MM = 2.0


def security_strokes(answer: Tonight, security: Security, frame: MapFrame, palette: Palette) -> list[Stroke]:
    """Strokes of a camp's security on its plan.

    Parameters
    ----------
    answer : Tonight
    security : Security
    frame : MapFrame
    palette : Palette
    """
    strokes: list[Stroke] = []
    strokes += frame.outline(as_multipolygon(security.perimeter_m), 0.25, palette.text, dash_mm=(0.4, 1.0))
    strokes += frame.lines([security.way_in_m[:-1]], 0.45, palette.text, dash_mm=(2.2, 0.7))
    strokes += frame.lines([security.dummy_trail_m], 0.3, palette.text, dash_mm=(0.8, 1.6))
    for number, post in enumerate(security.posts, start=1):
        strokes += _post(answer, post, number, frame, palette)
    return strokes


def _post(answer: Tonight, post: Post, number: int, frame: MapFrame, palette: Palette) -> list[Stroke]:
    """A triangle with the post's number, and the edges of its sector where it has any."""
    x, y = frame.point(post.east_m, post.north_m)
    left, top, right, bottom = frame.box_mm
    if not (left < x < right and top < y < bottom):
        return []
    convergence = answer.ground.grid.convergence_deg(post.east_m, post.north_m)
    strokes: list[Stroke] = []
    for bearing in () if post.is_all_round else (post.left_bearing_deg, post.right_bearing_deg):
        turn = math.radians(bearing - convergence)
        end = (x + _EDGE_MM * math.sin(turn), y - _EDGE_MM * math.cos(turn))
        if left < end[0] < right and top < end[1] < bottom:
            strokes.append(Line(points_mm=((x, y), (round(end[0], 3), round(end[1], 3))), width_mm=0.2,
                                colour=palette.text))  # fmt: skip
    corners = [
        (round(x + _POST_MM * math.sin(turn), 3), round(y - _POST_MM * math.cos(turn), 3))
        for turn in (0.0, 2.0 * math.pi / 3.0, 4.0 * math.pi / 3.0)
    ]
    strokes.append(Area(rings_mm=(tuple(corners),), fill=palette.paper))
    strokes.append(Line(points_mm=(*corners, corners[0]), width_mm=0.3, colour=palette.text))
    strokes.append(text_line(str(number), (x, y + 0.85), _LABEL_MM, palette.text, is_bold=True, anchor="middle"))
    return strokes
