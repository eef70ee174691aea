"""The long work that the window asks for. Everything heavy is imported here, beside the window's thread."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, cast

import numpy as np

from sitepick.desk.map_picture import HeightLabels, LineSet, MapPicture, picture_levels
from sitepick.desk.route_sign import ReachLines
from sitepick.desk.translation import tr
from sitepick.grid import DoubleArray, FloatArray
from sitepick.plan.model import LonLat, Plan
from sitepick.sheet.palette import Palette
from sitepick.work import Watch

if TYPE_CHECKING:
    from sitepick.desk.dropped import Dropped
    from sitepick.desk.look_through import LayerPicture
    from sitepick.ground.route_file import RouteFile
    from sitepick.journey.model import Journey
    from sitepick.march.model import March
    from sitepick.march.propose import Proposal
    from sitepick.tonight import Tonight

SPECK_M = 300.0


def work_out_tonight(plan: Plan, previous: Tonight | None, watch: Watch) -> Tonight:
    """Tonight's answer; what the plan left unchanged is taken from the previous one; no sites on a trainee's copy."""
    watch.tick(tr("loading the tools"))
    from sitepick.exercise.withheld import withheld
    from sitepick.tonight import tonight

    answer = tonight(plan, watch=watch, previous=previous)
    return answer if plan.exercise.handed_in is None else withheld(answer)


def rank_at_once(plan: Plan, previous: Tonight, watch: Watch) -> Tonight | None:
    """The sites in their new order, where only what counts has changed; the whole answer follows."""
    from sitepick.tonight import tonight_at_once

    return tonight_at_once(plan, previous)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Drawing:
    """An answer as the map draws it.

    Attributes
    ----------
    answer : Tonight
        What was drawn.
    palette : Palette
        In which colours.
    picture : MapPicture
    reach : ReachLines
    """

    answer: Tonight
    palette: Palette
    picture: MapPicture
    reach: ReachLines


def draw_answer(answer: Tonight, palette: Palette, previous: Drawing | None, watch: Watch) -> Drawing:
    """Draw an answer's ground and reach; the ground's picture is kept while ground and colours are the same."""
    old = previous
    if (
        old is not None
        and old.answer.ground is answer.ground
        and np.array_equal(old.answer.terrain.is_water, answer.terrain.is_water)
        and old.palette == palette
    ):
        picture = old.picture
    else:
        picture = _draw_ground(answer, palette, watch)
    watch.tick(tr("drawing the reach"))
    return Drawing(answer=answer, palette=palette, picture=picture, reach=_reach_lines(answer))


def _draw_ground(answer: Tonight, palette: Palette, watch: Watch) -> MapPicture:
    from sitepick.sheet.relief import contour_interval_m, contour_lines, ground_picture

    ground = answer.ground
    watch.tick(tr("drawing the ground"), 0, 2)
    levels = picture_levels(ground_picture(ground, answer.terrain, palette))
    watch.tick(tr("drawing the contours"), 1, 2)
    interval_m = contour_interval_m(ground)
    lines = contour_lines(ground, interval_m)
    return MapPicture(
        grid=ground.grid,
        levels=levels,
        contours=LineSet((line.points_m for line in lines if not line.is_fifth), ground.grid),
        index_contours=LineSet((line.points_m for line in lines if line.is_fifth), ground.grid),
        streams=LineSet(ground.stream_lines, ground.grid),
        tracks=LineSet(ground.track_lines, ground.grid),
        interval_m=interval_m,
        heights=HeightLabels((line.height_m, line.points_m) for line in lines if line.is_fifth),
    )


def _reach_lines(answer: Tonight) -> ReachLines:
    """Lines of equal minutes on the move; smoother than the outlines of cells."""
    import contourpy
    from shapely import LineString

    march = answer.march
    grid = march.grid
    if min(grid.shape) < 2:
        return ReachLines()
    east_m = grid.west_m + (np.arange(grid.cols) + 0.5) * grid.cell_m
    north_m = grid.north_m - (np.arange(grid.rows) + 0.5) * grid.cell_m
    maker = contourpy.contour_generator(east_m, north_m, _open_minutes(march), line_type=contourpy.LineType.Separate)
    limits = (march.early_moving_min_limit, march.moving_min_limit, march.late_moving_min_limit)
    early, likely, late = (_long_lines(cast("list[DoubleArray]", maker.lines(limit))) for limit in limits)
    # the early line lies where the known minutes end, which is a stair of cells
    early = tuple(np.asarray(LineString(line).simplify(grid.cell_m).coords) for line in early)
    return ReachLines(early=early, likely=likely, late=late)


def _open_minutes(march: March) -> FloatArray:
    """Minutes on the move everywhere: past the reach just over its limit, on lakes and other walls as at their edge.

    So a line is drawn where the time runs out, and none around every lake that lies within the reach.
    """
    from scipy.ndimage import distance_transform_edt

    past_min = march.early_moving_min_limit * 1.02 + 0.1
    minutes = np.where(np.isfinite(march.moving_min), march.moving_min, np.float32(past_min))
    is_wall = np.isnan(march.minutes_per_100m) & ~np.isfinite(march.moving_min)
    if not is_wall.any() or is_wall.all():
        return minutes
    rows, cols = distance_transform_edt(is_wall, return_distances=False, return_indices=True)
    return np.asarray(minutes[rows, cols], dtype=np.float32)


def _long_lines(lines: Iterable[DoubleArray]) -> tuple[DoubleArray, ...]:
    """The lines but for specks, which only confuse the eye."""
    return tuple(line for line in lines if np.hypot(*np.diff(line, axis=0).T).sum() >= SPECK_M)


def explain_place(answer: Tonight, east_m: float, north_m: float, watch: Watch) -> str:
    """What speaks for and against a place."""
    from sitepick.exercise.withheld import PLACE_WORDS
    from sitepick.sites import why_here

    if answer.plan.exercise.handed_in is not None:
        return PLACE_WORDS
    watch.tick(tr("looking at the place"))
    place = why_here(answer.plan, answer.ground, answer.terrain, answer.march, answer.sites, east_m, north_m)
    return place.text


def hand_out(answer: Tonight, folder: Path, watch: Watch) -> tuple[Path, ...]:
    """Write the sheet, the order, the layers and the answer into a folder."""
    from sitepick.paint import write_pdf
    from sitepick.sheet.handout import write_handout

    return write_handout(answer, folder, draw_pdf=write_pdf, watch=watch)


def find_way(answer: Tonight, plan: Plan, ends: tuple[LonLat, LonLat], watch: Watch) -> Proposal:
    """A quick way between two places over an answer's ground, for a unit that moves as a plan says."""
    from sitepick.march import propose_way

    return propose_way((plan.march, plan.weather), answer.ground, answer.terrain, ends, watch=watch)


def take_route_file(path: Path, plan: Plan, watch: Watch) -> RouteFile:
    """The routes of a file, which must lie on the plan's ground."""
    watch.tick(tr("reading the route's file"))
    from sitepick.ground import check_route_lies_on, read_routes

    read = read_routes(path)
    check_route_lies_on(read.routes[0], plan.ground, path)
    return read


def work_out_journey(plan: Plan, previous: Journey | None, watch: Watch) -> Journey:
    """The plan's routes cut into days; what the plan left unchanged is taken from the previous answer."""
    watch.tick(tr("loading the tools"))
    from sitepick.exercise.withheld import refuse_trainees_copy
    from sitepick.journey import plan_journey

    refuse_trainees_copy(plan)
    return plan_journey(plan, watch=watch, previous=previous)


def work_out_days(journey: Journey, watch: Watch) -> Journey:
    """The journey with the full answer of every day."""
    from sitepick.journey import with_days

    return with_days(journey, watch=watch)


def write_journey(plan: Plan, folder: Path, watch: Watch) -> tuple[Path, ...]:
    """Work a journey out in full and write what is handed out of it; the files."""
    watch.tick(tr("loading the tools"))
    from sitepick.exercise.withheld import refuse_trainees_copy
    from sitepick.paint import write_pdf
    from sitepick.sheet import write_journey as write_files

    refuse_trainees_copy(plan)
    before = {path: path.stat().st_mtime_ns for path in folder.rglob("*") if path.is_file()}
    write_files(plan, folder, draw_pdf=write_pdf, watch=watch)
    found = sorted(path for path in folder.rglob("*") if path.is_file())
    return tuple(path for path in found if before.get(path) != path.stat().st_mtime_ns)


def look_through(answer: Tonight, key: str, palette: Palette, watch: Watch) -> LayerPicture:
    """Draw one factor of an answer."""
    from sitepick.desk.look_through import draw_layer

    return draw_layer(answer, key, palette, watch)


def read_dropped(paths: tuple[Path, ...], plan: Plan, watch: Watch) -> Dropped:
    """What files let fall on the window are, and what they would change."""
    watch.tick(tr("looking at the files"))
    from sitepick.desk.dropped import dropped_files

    return dropped_files(paths, plan)


@dataclass(frozen=True, slots=True, kw_only=True)
class DeskWork:
    """What the window may ask for; tests put quicker work in its place.

    Attributes
    ----------
    work_out_tonight, rank_at_once, draw_answer, explain_place, hand_out, find_way, take_route_file,
    look_through, read_dropped, work_out_journey, work_out_days, write_journey : callable
        As the functions of this module.
    """

    work_out_tonight: Callable[[Plan, Tonight | None, Watch], Tonight] = work_out_tonight
    rank_at_once: Callable[[Plan, Tonight, Watch], Tonight | None] = rank_at_once
    draw_answer: Callable[[Tonight, Palette, Drawing | None, Watch], Drawing] = draw_answer
    explain_place: Callable[[Tonight, float, float, Watch], str] = explain_place
    hand_out: Callable[[Tonight, Path, Watch], tuple[Path, ...]] = hand_out
    find_way: Callable[[Tonight, Plan, tuple[LonLat, LonLat], Watch], Proposal] = find_way
    take_route_file: Callable[[Path, Plan, Watch], RouteFile] = take_route_file
    work_out_journey: Callable[[Plan, Journey | None, Watch], Journey] = work_out_journey
    work_out_days: Callable[[Journey, Watch], Journey] = work_out_days
    write_journey: Callable[[Plan, Path, Watch], tuple[Path, ...]] = write_journey
    look_through: Callable[[Tonight, str, Palette, Watch], LayerPicture] = look_through
    read_dropped: Callable[[tuple[Path, ...], Plan, Watch], Dropped] = read_dropped
