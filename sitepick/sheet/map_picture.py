"""One map by itself at a scale of the user's choice, as large as it gets: for a picture, a plotter, a wall."""

from __future__ import annotations

from typing import Literal

from sitepick.errors import SheetError
from sitepick.sheet.camp_plan import camp_bounds_m, camp_map
from sitepick.sheet.layout import way_bounds_m
from sitepick.sheet.map_frame import MapFrame, fitted_frame
from sitepick.sheet.map_margin import GRID_LABEL_MM, grid_labels, map_notes
from sitepick.sheet.map_sheet import DrawnMap, map_strokes
from sitepick.sheet.model import Page, Sheet, Stroke
from sitepick.sheet.page_frame import MARGIN_MM, Paper, next_head
from sitepick.sheet.palette import Palette, read_palette
from sitepick.sheet.summary import answer_facts, answer_name
from sitepick.tonight import Tonight

MapName = Literal["way", "camp"]

_AROUND_MM = 15.0  # of map round what must show
_LEAST_MM = (184.0, 60.0)  # the notes under a map need the width
_MOST_MM = 3000.0


def map_picture(answer: Tonight, name: MapName, scale_denominator: int) -> Sheet:
    """A sheet of one page with one map, the page as large as the map needs.

    Parameters
    ----------
    answer : Tonight
    name : str
        ``"way"``: the route with its sites; ``"camp"``: the camp on the pick.
    scale_denominator : int
        25000 for 1:25 000 on the ground.

    Raises
    ------
    SheetError
        There is no camp to draw, or the map would be larger than 3 m.
    """
    palette = read_palette("paper")
    if name == "camp" and answer.camp is None:
        raise SheetError("there is no camp to draw: no site was found", fix="choose the map of the way")
    bounds_m = way_bounds_m(answer) if answer.camp is None or name == "way" else camp_bounds_m(answer.camp)
    width_mm, height_mm = _size_mm(bounds_m, scale_denominator)
    paper = Paper(width_mm=width_mm + GRID_LABEL_MM + 2 * MARGIN_MM, height_mm=height_mm)
    head, top_mm = next_head(answer, answer_name(answer), paper, palette)
    box_mm = (MARGIN_MM + GRID_LABEL_MM, top_mm, width_mm, height_mm)
    frame, drawn = _drawn(answer, name, box_mm, scale_denominator, palette)
    notes, notes_mm = map_notes(
        answer.ground.grid, frame, answer.march.depart, drawn.contour_m, drawn.keys, palette
    )  # fmt: skip
    strokes: tuple[Stroke, ...] = (*head, *drawn.strokes, *grid_labels(frame, palette), *notes)
    page = Page(width_mm=paper.width_mm, height_mm=top_mm + height_mm + notes_mm + MARGIN_MM, strokes=strokes)
    return Sheet(
        title=f"{answer.plan.name}: {answer_name(answer)}",
        subject=answer_facts(answer),
        scale_denominator=scale_denominator,
        pages=(page,),
    )


def _size_mm(bounds_m: tuple[float, float, float, float], scale_denominator: int) -> tuple[float, float]:
    west, south, east, north = bounds_m
    size_mm = [
        max(least_mm, 1000.0 * span_m / scale_denominator + 2 * _AROUND_MM)
        for span_m, least_mm in zip((east - west, north - south), _LEAST_MM, strict=True)
    ]
    if max(size_mm) > _MOST_MM:
        raise SheetError(
            f"at this scale the map would be {size_mm[0] / 1000:.1f} m wide and {size_mm[1] / 1000:.1f} m high",
            fix="choose a smaller scale",
        )
    return size_mm[0], size_mm[1]


def _drawn(
    answer: Tonight, name: MapName, box_mm: tuple[float, float, float, float], scale_denominator: int, palette: Palette
) -> tuple[MapFrame, DrawnMap]:
    scales = (scale_denominator,)
    if name == "camp" and answer.camp is not None:
        return camp_map(answer, answer.camp, box_mm, palette, scales=scales)
    frame = fitted_frame(box_mm, way_bounds_m(answer), answer.ground.grid, scales)
    return frame, map_strokes(answer, frame, palette)
