"""Asks for answers as the plan changes: waits until a drag pauses, drops what comes too late."""

from __future__ import annotations

from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QTimer, Signal, Slot

from sitepick.desk.desk_work import DeskWork, Drawing
from sitepick.desk.jobs import JobRunner, Work
from sitepick.desk.translation import tr
from sitepick.errors import MarchError, SitepickError
from sitepick.plan.edits import is_weights_only
from sitepick.plan.model import LonLat, Plan, Route
from sitepick.sheet.palette import Palette

if TYPE_CHECKING:
    from sitepick.tonight import Tonight

DEBOUNCE_MS = 80
ANSWER, RANKING, DRAWING = "answer", "ranking", "drawing"
PLACE, HANDOUT, WAY, ROUTES = "place", "handout", "way", "routes"
LAYER, FILES = "layer", "files"
_TOLD = {ROUTES: "routes_read", LAYER: "layered", FILES: "dropped"}


class Asker(QObject):
    """Keeps the last answer and asks for the next one.

    Parameters
    ----------
    runner : JobRunner
    work : DeskWork
    palette : Palette
        Colours of the map.

    Signals
    -------
    asked()
        The plan changed; the answer shown is old from now on.
    progressed(str, int, int)
    answered(Tonight)
    ranked(Tonight)
        The sites in their new order, at once, while the whole answer is still to be worked out.
    drawn(Drawing)
    explained(float, float, str)
        A place, grid coordinates, and what speaks for and against it.
    handed_out(tuple of Path)
    way_found(Route, int, Proposal)
        The route that it was asked for, and the point of it that the way starts from.
    routes_read(RouteFile)
    layered(LayerPicture)
    dropped(Dropped)
    declined(SitepickError or None)
        A way, a factor or a file that came to nothing; None: stopped. The answer stands as it was.
    stopped()
        By the person; no answer will come.
    refused(SitepickError)
        The plan or its files will not serve.
    broken(BaseException)
        Our own mistake.
    """

    asked = Signal()
    progressed = Signal(str, int, int)
    answered = Signal(object)
    ranked = Signal(object)
    drawn = Signal(object)
    explained = Signal(float, float, str)
    handed_out = Signal(object)
    way_found = Signal(object, int, object)
    routes_read = Signal(object)
    layered = Signal(object)
    dropped = Signal(object)
    declined = Signal(object)
    stopped = Signal()
    refused = Signal(object)
    broken = Signal(object)

    def __init__(self, runner: JobRunner, work: DeskWork, palette: Palette, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._runner = runner
        self._work = work
        self._palette = palette
        self._plan: Plan | None = None
        self._answer: Tonight | None = None
        self._drawing: Drawing | None = None
        self._newest: dict[str, int] = {}
        self._place: tuple[float, float] = (0.0, 0.0)
        self._way: tuple[Route, int] | None = None
        self._pause = QTimer(self)
        self._pause.setSingleShot(True)
        self._pause.setInterval(DEBOUNCE_MS)
        self._pause.timeout.connect(self._on_paused)
        runner.progressed.connect(self._on_progressed)
        runner.finished.connect(self._on_finished)
        runner.failed.connect(self._on_failed)
        runner.stopped.connect(self._on_stopped)

    @property
    def answer(self) -> Tonight | None:
        """The last answer; may be older than the plan."""
        return self._answer

    @property
    def is_fresh(self) -> bool:
        """Whether the last answer is the answer to the plan as it is now."""
        return self._answer is not None and self._answer.plan == self._plan

    def show_plan(self, plan: Plan) -> None:
        """Ask about a plan, once no newer one has come for a moment."""
        self._plan = plan
        self._runner.stop(PLACE)
        if self.is_fresh and ANSWER not in self._newest:
            self._pause.stop()
            self.answered.emit(self._answer)
            return
        self._pause.start()
        self.asked.emit()
        self._rank_at_once(plan)

    def _rank_at_once(self, plan: Plan) -> None:
        """Show the new order under a weight that moves, long before the whole answer."""
        answer = self._answer
        if answer is None or answer.sites.kept is None or not is_weights_only(answer.plan, plan):
            return
        # The older question in hand would only keep this one waiting, and a newer one is on its way.
        self._newest.pop(ANSWER, None)
        self._runner.stop(ANSWER)
        self._submit(RANKING, partial(self._work.rank_at_once, plan, answer))

    def show_palette(self, palette: Palette) -> None:
        """Draw in other colours."""
        self._palette = palette
        if self._answer is not None:
            self._draw(self._answer)

    @Slot()
    def stop(self) -> None:
        """Stop whatever is being worked out."""
        is_waiting = self._pause.isActive()
        self._pause.stop()
        for group in (ANSWER, RANKING, PLACE, HANDOUT, WAY, ROUTES, LAYER, FILES):
            self._runner.stop(group)
        if is_waiting and ANSWER not in self._newest:
            self.stopped.emit()

    def shutdown(self) -> None:
        """Ask nothing more, and wait for whatever is in hand to end."""
        self._pause.stop()
        self._newest.clear()
        self._runner.shutdown()

    @Slot(float, float)
    def ask_place(self, east_m: float, north_m: float) -> None:
        """Ask what speaks for and against a place of the last answer."""
        if self._answer is not None:
            self._place = (east_m, north_m)
            self._submit(PLACE, partial(self._work.explain_place, self._answer, east_m, north_m))

    def hand_out(self, folder: Path) -> None:
        """Write the handout of the last answer into a folder."""
        if self._answer is not None:
            self._submit(HANDOUT, partial(self._work.hand_out, self._answer, folder))

    def find_way(self, plan: Plan, index: int, goal: LonLat | None) -> None:
        """Ask for a quick way from a point of the route to a goal, or to its next point."""
        if self._answer is None:
            fault = tr("the ground isn't read yet, so no way can be looked for")
            self.declined.emit(MarchError(fault, fix=tr("wait for the first answer, or mend what it asks for")))
            return
        self._way = (plan.route, index)
        ends = (plan.route.points[index], plan.route.points[index + 1] if goal is None else goal)
        self._submit(WAY, partial(self._work.find_way, self._answer, plan, ends))

    def read_routes(self, path: Path, plan: Plan) -> None:
        """Read a file's routes, for a plan's ground."""
        self._submit(ROUTES, partial(self._work.take_route_file, path, plan))

    def look_through(self, key: str) -> None:
        """Ask for a factor's picture of the last answer."""
        if self._answer is not None:
            self._submit(LAYER, partial(self._work.look_through, self._answer, key, self._palette))

    def drop_layer(self) -> None:
        """No factor is wanted any more."""
        self._newest.pop(LAYER, None)
        self._runner.stop(LAYER)

    def read_dropped(self, paths: tuple[Path, ...], plan: Plan) -> None:
        """Ask what files are good for."""
        self._submit(FILES, partial(self._work.read_dropped, paths, plan))

    def _submit(self, group: str, work: Work) -> None:
        self._newest[group] = self._runner.submit(group, work)

    def _draw(self, answer: Tonight) -> None:
        self._submit(DRAWING, partial(self._work.draw_answer, answer, self._palette, self._drawing))

    def _group_of(self, job_id: int) -> str | None:
        """The group that a job is the newest of; None for one that a newer one has replaced."""
        return next((group for group, newest in self._newest.items() if newest == job_id), None)

    @Slot()
    def _on_paused(self) -> None:
        if self._plan is not None:
            self._submit(ANSWER, partial(self._work.work_out_tonight, self._plan, self._answer))

    @Slot(int, str, int, int)
    def _on_progressed(self, job_id: int, step: str, done_count: int, total_count: int) -> None:
        if self._group_of(job_id) in (ANSWER, HANDOUT, WAY, ROUTES, LAYER, FILES):
            self.progressed.emit(step, done_count, total_count)

    @Slot(int, object)
    def _on_finished(self, job_id: int, result: object) -> None:
        group = self._group_of(job_id)
        if group is None:
            return
        del self._newest[group]
        if group == ANSWER:
            self._answer = result  # type: ignore[assignment]
            if not self._pause.isActive():
                self.answered.emit(result)
            self._draw(result)  # type: ignore[arg-type]
        elif group == RANKING:
            if result is not None and self._is_awaited(result):
                self.ranked.emit(result)
        elif group == DRAWING:
            self._drawing = result  # type: ignore[assignment]
            self.drawn.emit(result)
        elif group == PLACE:
            self.explained.emit(*self._place, result)
        elif group == WAY and self._way is not None:
            self.way_found.emit(*self._way, result)
        elif group in _TOLD:
            getattr(self, _TOLD[group]).emit(result)
        else:
            self.handed_out.emit(result)

    def _is_awaited(self, ranking: object) -> bool:
        """Whether an order is that of the plan in view, and its whole answer isn't there yet."""
        return getattr(ranking, "plan", None) == self._plan and not self.is_fresh

    @Slot(int, object)
    def _on_failed(self, job_id: int, fault: BaseException) -> None:
        group = self._group_of(job_id)
        if group is None:
            return
        del self._newest[group]
        if isinstance(fault, SitepickError) and group in (WAY, ROUTES, LAYER, FILES):
            self.declined.emit(fault)
        elif isinstance(fault, SitepickError):
            self.refused.emit(fault)
        else:
            self.broken.emit(fault)

    @Slot(int)
    def _on_stopped(self, job_id: int) -> None:
        group = self._group_of(job_id)
        if group is None:
            return
        del self._newest[group]
        if group in (ANSWER, HANDOUT):
            self.stopped.emit()
        elif group in (WAY, ROUTES, LAYER, FILES):
            self.declined.emit(None)
