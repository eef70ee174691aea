"""The whole sheet: the way with its times and cautions, the camp drawn large, then everything else in words."""

from __future__ import annotations

from dataclasses import dataclass

from sitepick.camp.model import Camp
from sitepick.sheet.block import camp_blocks, other_blocks, way_blocks
from sitepick.sheet.camp_plan import camp_map
from sitepick.sheet.flow import Block, set_in_columns
from sitepick.sheet.map_frame import MapFrame, fitted_map
from sitepick.sheet.map_margin import GRID_LABEL_MM, grid_labels, map_notes
from sitepick.sheet.map_sheet import DrawnMap, map_strokes
from sitepick.sheet.model import Page, Sheet, Stroke
from sitepick.sheet.page_frame import MARGIN_MM, Paper, first_head, foot, is_note_short, next_head, paper_named
from sitepick.sheet.palette import Palette, read_palette
from sitepick.sheet.shape import route_parts
from sitepick.sheet.site_marks import split_parts
from sitepick.sheet.summary import alternate_words, answer_facts, answer_name
from sitepick.sheet.typeface import text_line
from sitepick.sheet.word_pages import carried_over, word_pages
from sitepick.tonight import Tonight

MAP_SCALES = (
    5000, 10_000, 15_000, 20_000, 25_000, 30_000, 40_000, 50_000, 60_000, 75_000, 100_000,
    150_000, 200_000, 250_000, 500_000, 1_000_000,
)  # fmt: skip

_NOTES_MM = 31.0  # under a map, about: scale, norths, signs, a gap
_HEIGHT_STEP_MM = 4.0
_LEAST_MAP_FRAC, _MIDDLING_MAP_FRAC = 0.34, 0.42  # of the paper's height
_FIT_EDGE_MM = 9.0  # between what must show and the frame
_INVENTED_WORD = "invented"


@dataclass(frozen=True, slots=True, kw_only=True)
class _MapPage:
    """A page of a map over columns of words, and the words that it had no room for."""

    strokes: list[Stroke]
    frame: MapFrame
    rest: tuple[Block, ...]


def lay_out_sheet(answer: Tonight, *, paper_name: str | None = None) -> Sheet:
    """Everything that is printed, as strokes in millimetres.

    Parameters
    ----------
    answer : Tonight
        With or without a pick.
    paper_name : str, optional
        One of `plan.handout.PAPERS`; the plan's own when left out.

    Returns
    -------
    Sheet
        Upright. The maps' scales are true on the ground when printed at 100 %.
    """
    palette = read_palette("paper")
    paper = paper_named(paper_name or answer.plan.handout.paper)
    first = _way_page(answer, paper, palette)
    drawn = [first.strokes]
    camp_rest: tuple[Block, ...] = ()
    if answer.camp is not None:
        second = _camp_page(answer, answer.camp, paper, palette)
        drawn.append(second.strokes)
        camp_rest = second.rest
    drawn += _word_pages(answer, first.rest, camp_rest, paper, palette)
    pages = tuple(
        Page(
            width_mm=paper.width_mm,
            height_mm=paper.height_mm,
            strokes=(*strokes, *foot(paper, index, len(drawn), palette)),
        )
        for index, strokes in enumerate(drawn)
    )
    return Sheet(
        title=f"{answer.plan.name}: {answer_name(answer)}",
        subject=f"{answer_facts(answer)} {alternate_words(answer)}".strip(),
        scale_denominator=first.frame.scale_denominator,
        pages=pages,
    )


def _way_page(answer: Tonight, paper: Paper, palette: Palette) -> _MapPage:
    head, top_mm = first_head(answer, paper, palette)
    blocks = way_blocks(answer, paper.column_mm, palette)
    bounds = way_bounds_m(answer)

    frame = fitted_map(bounds, _map_box(paper, top_mm, blocks, palette), _FIT_EDGE_MM, answer.ground.grid, MAP_SCALES)
    page = _map_page(answer, frame, map_strokes(answer, frame, palette), blocks, paper, palette)
    if _INVENTED_WORD in answer.plan.note.lower():
        _, _, right, bottom = frame.box_mm
        page.strokes.append(
            text_line("Invented ground: no place on earth", (right - 2.0, bottom - 2.0), 4.0, palette.text,
                      is_bold=True, anchor="end", halo=palette.paper)
        )  # fmt: skip
    return _MapPage(strokes=[*head, *page.strokes], frame=frame, rest=page.rest)


def _camp_page(answer: Tonight, camp: Camp, paper: Paper, palette: Palette) -> _MapPage:
    head, top_mm = next_head(answer, f"Site {camp.site_rank}, {camp.site_name}", paper, palette)
    blocks = camp_blocks(answer, camp, paper.column_mm, palette)
    box = _map_box(paper, top_mm, blocks, palette)
    frame, drawn = camp_map(answer, camp, box, palette)
    page = _map_page(answer, frame, drawn, blocks, paper, palette)
    return _MapPage(strokes=[*head, *page.strokes], frame=frame, rest=page.rest)


def _map_page(
    answer: Tonight, frame: MapFrame, drawn: DrawnMap, blocks: tuple[Block, ...], paper: Paper, palette: Palette
) -> _MapPage:
    notes, notes_mm = map_notes(
        answer.ground.grid, frame, answer.march.depart, drawn.contour_m, drawn.keys, palette
    )  # fmt: skip
    strokes = [*drawn.strokes, *grid_labels(frame, palette), *notes]
    columns = paper.columns(0, frame.box_mm[3] + notes_mm + 3.0)
    set_strokes, rest = set_in_columns(blocks, columns, paper.column_mm, palette)
    return _MapPage(strokes=[*strokes, *set_strokes.get(0, [])], frame=frame, rest=rest)


def _map_box(
    paper: Paper, top_mm: float, blocks: tuple[Block, ...], palette: Palette
) -> tuple[float, float, float, float]:
    """Left, top, width and height of the highest map that leaves room for its words.

    Where the words need more room than the least map leaves, the map takes a middling height and the words go on.
    """
    height_mm = paper.bottom_mm - top_mm - _NOTES_MM
    least_mm = _LEAST_MAP_FRAC * paper.height_mm
    while height_mm >= least_mm:
        columns = paper.columns(0, top_mm + height_mm + _NOTES_MM)
        if not blocks or (columns and not set_in_columns(blocks, columns, paper.column_mm, palette)[1]):
            break
        height_mm -= _HEIGHT_STEP_MM
    else:
        height_mm = _MIDDLING_MAP_FRAC * paper.height_mm
    return MARGIN_MM + GRID_LABEL_MM, top_mm, paper.inner_mm - GRID_LABEL_MM, height_mm


def _word_pages(
    answer: Tonight, way_rest: tuple[Block, ...], camp_rest: tuple[Block, ...], paper: Paper, palette: Palette
) -> list[list[Stroke]]:
    """What the maps' pages had no room for, then everything else."""
    camp = answer.camp

    def make_blocks(width_mm: float) -> tuple[Block, ...]:
        blocks = carried_over(way_blocks(answer, width_mm, palette), way_rest)
        if camp is not None:
            blocks += carried_over(camp_blocks(answer, camp, width_mm, palette), camp_rest)
        return blocks + other_blocks(answer, width_mm, palette, is_note_told=is_note_short(answer, paper))

    head, top_mm = next_head(answer, f"{answer_name(answer)} In words.", paper, palette)
    return [[*head, *strokes] for strokes in word_pages(make_blocks, top_mm, paper, palette)]


def way_bounds_m(answer: Tonight) -> tuple[float, float, float, float]:
    """What must show on the first map: the reached route, the pick and the alternate or what stands for them."""
    reached, _ = route_parts(answer.march)
    west, south = reached.min(axis=0)
    east, north = reached.max(axis=0)
    boxes = [site.outline_m.bounds for site in answer.sites.pick_and_alternate()]
    boxes += [part.outline_m.bounds for part in split_parts(answer)]
    for box in boxes:
        west, south = min(west, box[0]), min(south, box[1])
        east, north = max(east, box[2]), max(north, box[3])
    return float(west), float(south), float(east), float(north)
