"""The window: puts the pieces in their places and wires them. No piece reads another."""

from __future__ import annotations

from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtGui import QCloseEvent
from PySide6.QtWidgets import QApplication, QMainWindow, QMessageBox, QSplitter, QVBoxLayout, QWidget

from sitepick import __version__
from sitepick.desk import plan_files
from sitepick.desk.answer_line import AnswerLine
from sitepick.desk.asking import Asker
from sitepick.desk.day_line import DayLine
from sitepick.desk.desk_work import DeskWork, Drawing
from sitepick.desk.edit import PlanEdit
from sitepick.desk.field_book import USUAL_PX, FieldBook
from sitepick.desk.handing_out import HandingOut
from sitepick.desk.history import PlanHistory
from sitepick.desk.jobs import JobRunner
from sitepick.desk.look import look_named, wear
from sitepick.desk.map_view import MapView
from sitepick.desk.menus import Menus
from sitepick.desk.notices import NoticeBar
from sitepick.desk.page import rule
from sitepick.desk.route_menu import TURN
from sitepick.desk.words import handed_out_sentence, way_sentence
from sitepick.errors import SitepickError
from sitepick.plan.edits import (
    with_alternative_chosen,
    with_alternative_dropped,
    with_route_point_named,
    with_route_points_added,
    with_routes_taken,
)
from sitepick.plan.file import read_plan, write_plan
from sitepick.plan.kit import read_kit, write_kit
from sitepick.plan.kit_edits import with_kit
from sitepick.plan.model import LonLat, Plan, Route

if TYPE_CHECKING:
    from sitepick.ground.route_file import RouteFile
    from sitepick.march.propose import Proposal
    from sitepick.tonight import Tonight

ABOUT = (
    "sitepick {version} picks tonight's bivouac site and lays out its camp.\n\n"
    "It reads maps; it can't see the ground. Local rules, the land owner's permission and trained judgement on the "
    "ground come first."
)


class MainWindow(QMainWindow):
    """The desk.

    Parameters
    ----------
    plan : Plan
    path : Path or None
        The plan's file; None for a plan that has none.
    runner : JobRunner
        Shut down when the window closes.
    work : DeskWork, optional
        Tests put quicker work in.
    look_name : str

    Signals
    -------
    broken(BaseException)
        Our own mistake, from a job.
    """

    broken = Signal(object)

    def __init__(
        self, plan: Plan, path: Path | None, runner: JobRunner, *, work: DeskWork | None = None, look_name: str = "day"
    ) -> None:
        super().__init__()
        self.setObjectName("desk")
        self._path = path
        look = look_named(look_name)
        self.history = PlanHistory(plan, self)
        self.asker = Asker(runner, work or DeskWork(), look.palette, self)
        self.answer_line = AnswerLine()
        self.notices = NoticeBar()
        self.map = MapView(look)
        self.field_book = FieldBook(look)
        self.day_line = DayLine(look)
        self.handing_out = HandingOut(runner, parent=self)
        self.menus = Menus(self.menuBar(), self.history.stack, look_name)
        self._lay_out()
        self._connect()
        self.show_look(look_name)
        self._show_plan(plan)
        self._show_title()

    def _lay_out(self) -> None:
        self._splitter = QSplitter(Qt.Orientation.Horizontal)
        self._splitter.addWidget(self.map)
        self._splitter.addWidget(self.field_book)
        self._splitter.setHandleWidth(1)
        self._splitter.setStretchFactor(0, 1)
        self._splitter.setStretchFactor(1, 0)
        self._splitter.setCollapsible(0, False)
        centre = QWidget()
        column = QVBoxLayout(centre)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        for piece in (self.answer_line, self.notices, rule()):
            column.addWidget(piece)
        column.addWidget(self._splitter, 1)
        column.addWidget(rule())
        column.addWidget(self.day_line)
        self.setCentralWidget(centre)
        self.resize(1440, 900)
        self._splitter.setSizes([1440 - USUAL_PX, USUAL_PX])
        self.map.setFocus()

    def _connect(self) -> None:
        """Every wire of the window."""
        self.history.plan_changed.connect(self._show_plan)
        self.history.clean_changed.connect(self._show_title)
        for piece in (self.map, self.field_book):
            piece.edit_requested.connect(self.apply)
            piece.site_chosen.connect(self.choose_site)
        camp = self.field_book.camp
        self.map.thing_chosen.connect(camp.show_thing)
        self.map.left_for_list.connect(camp.take_focus)
        camp.thing_chosen.connect(self.map.show_thing)
        camp.hand_requested.connect(self.map.take_thing)
        camp.dead_ground_toggled.connect(self.map.show_dead_ground)
        self.map.ask_requested.connect(self.asker.ask_place)
        self.map.name_requested.connect(self._on_name)
        self.map.way_requested.connect(self._on_way)
        self.map.moment_pointed.connect(self.day_line.show_moment)
        self.day_line.moment_pointed.connect(self.map.show_moment)
        self.handing_out.edit_requested.connect(self.apply)
        self.handing_out.broken.connect(self.broken)
        self.answer_line.stop_requested.connect(self.asker.stop)
        self.asker.asked.connect(self._on_asked)
        self.asker.progressed.connect(self._on_progressed)
        self.asker.answered.connect(self._on_answered)
        self.asker.ranked.connect(self._on_ranked)
        self.asker.drawn.connect(self._on_drawn)
        self.asker.explained.connect(self.map.show_why)
        self.asker.handed_out.connect(self._on_handed_out)
        self.asker.way_found.connect(self._on_way_found)
        self.asker.routes_read.connect(self._on_routes_read)
        self.asker.declined.connect(self._on_declined)
        self.asker.stopped.connect(self._on_stopped)
        self.asker.refused.connect(self._on_refused)
        self.asker.broken.connect(self._on_broken)
        menus = self.menus
        menus.open_requested.connect(self._on_open)
        menus.save_requested.connect(self.save)
        menus.save_as_requested.connect(self._on_save_as)
        menus.handout_requested.connect(self._on_handout)
        menus.preview_requested.connect(self._on_preview)
        menus.kit_open_requested.connect(self._on_kit_open)
        menus.kit_save_requested.connect(self._on_kit_save)
        menus.quit_requested.connect(self.close)
        menus.zoom_in_requested.connect(self.map.zoom_in)
        menus.zoom_out_requested.connect(self.map.zoom_out)
        menus.show_all_requested.connect(self.map.show_all)
        menus.page_requested.connect(self.field_book.choose_page)
        menus.verb_requested.connect(self.map.choose_verb)
        menus.look_requested.connect(self.show_look)
        menus.field_book_toggled.connect(self.field_book.setVisible)
        menus.alternative_requested.connect(self._on_alternative)
        menus.drop_requested.connect(self._on_drop)
        menus.turn_requested.connect(partial(self.apply, TURN))
        menus.route_file_requested.connect(self._on_route_file)
        menus.about_requested.connect(self._on_about)

    # What the person asked for

    @Slot(object)
    def apply(self, edit: PlanEdit) -> None:
        """Carry out an edit; what can't be is told, and the old value shows again."""
        try:
            self.history.apply(edit)
        except SitepickError as error:
            self.notices.show_error(error)
            self._show_plan_only(self.history.plan)

    @Slot(int)
    def choose_site(self, rank: int) -> None:
        """Bring a site to the middle of the map and mark it in the list."""
        self.map.show_site(rank)
        self.field_book.show_site(rank)

    @Slot(str)
    def show_look(self, name: str) -> None:
        """Dress the whole window in other colours."""
        look = look_named(name)
        application = QApplication.instance()
        if isinstance(application, QApplication):
            wear(application, look)
        for piece in (self.map, self.field_book, self.day_line):
            piece.show_look(look)
        self.asker.show_palette(look.palette)

    def open_plan(self, path: Path) -> None:
        """Open another plan; one that will not serve is told, and this one stays."""
        try:
            plan = read_plan(path)
        except SitepickError as error:
            self.notices.show_error(error)
            return
        self._path = path
        self.notices.clear()
        self.history.open(plan)
        self._show_title()

    @Slot()
    def save(self) -> bool:
        """Save the plan where it came from; tells whether it is saved."""
        if self._path is None or plan_files.is_sample(self._path):
            return self._on_save_as()
        return self.save_to(self._path)

    def save_to(self, path: Path) -> bool:
        """Save the plan as a file; tells whether it is saved."""
        try:
            write_plan(self.history.plan, path)
        except SitepickError as error:
            self.notices.show_error(error)
            return False
        self._path = path
        self.history.mark_saved()
        self._show_title()
        return True

    @Slot()
    def _on_open(self) -> None:
        if self._may_leave():
            path = plan_files.ask_open(self, self._folder())
            if path is not None:
                self.open_plan(path)

    @Slot()
    def _on_save_as(self) -> bool:
        name = self._path.name if self._path is not None else f"plan{plan_files.SUFFIX}"
        path = plan_files.ask_save(self, self._folder() / name)
        return path is not None and self.save_to(path)

    @Slot()
    def _on_preview(self) -> None:
        self.handing_out.folder = self._folder()
        self.handing_out.show()
        self.handing_out.raise_()

    @Slot()
    def _on_handout(self) -> None:
        if self._is_old:
            self.notices.show_text("The plan has changed since this answer: wait for the new one before handing out.")
            return
        folder = plan_files.ask_folder(self, self._folder())
        if folder is not None:
            self.asker.hand_out(folder)

    @Slot()
    def _on_kit_open(self) -> None:
        path = plan_files.ask_open_kit(self, self._folder())
        if path is not None:
            self.take_over_kit(path)

    def take_over_kit(self, path: Path) -> None:
        """Take over the kit list of a file, to be undone like every edit; one that will not serve is told."""
        try:
            kit = read_kit(path)
        except SitepickError as error:
            self.notices.show_error(error)
            return
        self.apply(PlanEdit(text="Take over a kit list", change=partial(with_kit, kit=kit)))

    @Slot()
    def _on_kit_save(self) -> None:
        path = plan_files.ask_save_kit(self, self._folder())
        if path is not None:
            self.save_kit(path)

    def save_kit(self, path: Path) -> None:
        """Save the kit list by itself, for other plans."""
        try:
            write_kit(self.history.plan.load.kit, path)
        except SitepickError as error:
            self.notices.show_error(error)
            return
        self.notices.show_text(f"Kit list saved as {path}.")

    @Slot(int)
    def _on_alternative(self, index: int) -> None:
        name = self.history.plan.alternatives[index].name
        self.apply(PlanEdit(text=f"March along {name}", change=partial(with_alternative_chosen, index=index)))
        self.map.show_all()

    @Slot(int)
    def _on_drop(self, index: int) -> None:
        name = self.history.plan.alternatives[index].name
        self.apply(PlanEdit(text=f"Drop {name}", change=partial(with_alternative_dropped, index=index)))

    @Slot()
    def _on_route_file(self) -> None:
        path = plan_files.ask_route_file(self, self._folder())
        if path is not None:
            self.asker.read_routes(path, self.history.plan)

    @Slot(int)
    def _on_name(self, index: int) -> None:
        name = plan_files.ask_point_name(self, index + 1, self.history.plan.route.names_by_point[index] or "")
        if name is not None:
            change = partial(with_route_point_named, index=index, name=name)
            self.apply(PlanEdit(text=f"Name point {index + 1}", change=change))

    @Slot(int, object)
    def _on_way(self, index: int, goal: LonLat | None) -> None:
        self.asker.find_way(self.history.plan, index, goal)

    @Slot()
    def _on_about(self) -> None:
        QMessageBox.about(self, "About sitepick", ABOUT.format(version=__version__))

    def closeEvent(self, event: QCloseEvent) -> None:
        self.handing_out.close()
        if not self._may_leave():
            event.ignore()
            return
        self.asker.shutdown()
        event.accept()

    # What is shown

    @Slot(object)
    def _show_plan(self, plan: Plan) -> None:
        self._show_plan_only(plan)
        self.asker.show_plan(plan)

    def _show_plan_only(self, plan: Plan) -> None:
        for piece in (self.map, self.field_book, self.day_line, self.menus, self.handing_out):
            piece.show_plan(plan)

    @Slot()
    def _show_title(self) -> None:
        name = self._path.stem if self._path is not None else self.history.plan.name
        self.setWindowTitle(f"{name}[*] – sitepick")
        self.setWindowModified(not self.history.is_saved)

    def _show_stale(self, is_stale: bool) -> None:
        self.map.show_stale(is_stale)
        self.day_line.show_stale(is_stale)

    @Slot()
    def _on_asked(self) -> None:
        self.handing_out.show_stale(True)
        self.answer_line.show_started(is_old=True)

    @Slot(str, int, int)
    def _on_progressed(self, step: str, done_count: int, total_count: int) -> None:
        self.answer_line.show_started(is_old=not self.asker.is_fresh)
        self.answer_line.show_progress(step, done_count, total_count)
        if self.answer_line.is_working:
            self._show_stale(self._is_old)

    @Slot(object)
    def _on_answered(self, answer: Tonight) -> None:
        self._show_stale(False)
        self.notices.clear_error()
        self.menus.show_has_answer(True)
        for piece in (self.map, self.field_book, self.day_line, self.answer_line, self.handing_out):
            piece.show_answer(answer)

    @Slot(object)
    def _on_ranked(self, answer: Tonight) -> None:
        self.map.show_answer(answer)
        self.field_book.sites.show_answer(answer)

    @Slot(object)
    def _on_drawn(self, drawing: Drawing) -> None:
        self.map.show_picture(drawing.picture, drawing.reach)

    @Slot(object)
    def _on_handed_out(self, paths: tuple[Path, ...]) -> None:
        self.answer_line.show_stopped("", is_old=self._is_old)
        self.notices.show_text(handed_out_sentence(paths))

    @Slot(object, int, object)
    def _on_way_found(self, route: Route, index: int, way: Proposal) -> None:
        """Put a way into the route, unless the route has changed since it was asked for."""
        self.answer_line.show_stopped("", is_old=self._is_old)
        if route != self.history.plan.route:
            self.notices.show_text("The route has changed while a way was looked for; ask for it again.")
            return
        inside = way.points[1:-1] if index < len(route.points) - 1 else way.points[1:]
        change = partial(with_route_points_added, index=index + 1, points=inside)
        self.apply(PlanEdit(text="Find a quick way", change=change))
        self.notices.show_text(way_sentence(way))

    @Slot(object)
    def _on_routes_read(self, read: RouteFile) -> None:
        self.answer_line.show_stopped("", is_old=self._is_old)
        change = partial(with_routes_taken, routes=read.routes)
        self.apply(PlanEdit(text=f"Take the route {read.routes[0].name}", change=change))
        self.map.show_all()
        self.notices.show_text(" ".join([*read.notes, *(caution.text for caution in read.cautions)]))

    @Slot(object)
    def _on_declined(self, error: SitepickError | None) -> None:
        self.answer_line.show_stopped("", is_old=self._is_old)
        if error is not None:
            self.notices.show_error(error)

    @Slot()
    def _on_stopped(self) -> None:
        self._show_ended("Stopped. Change anything to start again.")

    @Slot(object)
    def _on_refused(self, error: SitepickError) -> None:
        self._show_ended("No answer yet.")
        self.notices.show_error(error)

    @Slot(object)
    def _on_broken(self, fault: BaseException) -> None:
        self._show_ended("No answer yet.")
        self.broken.emit(fault)

    # Small steps of the above

    @property
    def _is_old(self) -> bool:
        """Whether the answer in view is not the plan's any more."""
        return self.asker.answer is not None and not self.asker.is_fresh

    def _show_ended(self, text: str) -> None:
        """No answer will come; one that is old stays faded and says so."""
        self.answer_line.show_stopped(text, is_old=self._is_old)
        self._show_stale(self._is_old)

    def _folder(self) -> Path:
        if self._path is None or plan_files.is_sample(self._path):
            return Path.home()
        return self._path.parent

    def _may_leave(self) -> bool:
        """Whether the plan may be left: saved, or the person says so."""
        if self.history.is_saved:
            return True
        wish = plan_files.ask_unsaved(self, self.history.plan.name)
        return wish == "discard" or (wish == "save" and self.save())
