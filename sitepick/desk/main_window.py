"""The window: puts the pieces in their places and wires them. No piece reads another."""

from __future__ import annotations

from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtGui import QCloseEvent, QDragEnterEvent, QDropEvent, QGuiApplication
from PySide6.QtWidgets import QApplication, QMainWindow, QSplitter, QVBoxLayout, QWidget

from sitepick.desk import plan_files
from sitepick.desk.answer_line import AnswerLine
from sitepick.desk.asking import Asker
from sitepick.desk.day_line import DayLine
from sitepick.desk.desk_work import DeskWork, Drawing
from sitepick.desk.display import Display, show_by
from sitepick.desk.edit import PlanEdit
from sitepick.desk.exercise_desk import ExerciseDesk, connect_exercise
from sitepick.desk.field_book import PAGE_NAMES, USUAL_PX, FieldBook
from sitepick.desk.ground_places import missing_files, with_file_moved
from sitepick.desk.guide import GuideBar
from sitepick.desk.handing_out import HandingOut
from sitepick.desk.help_window import HelpWindow, show_about
from sitepick.desk.history import PlanHistory
from sitepick.desk.jobs import JobRunner
from sitepick.desk.journey_asking import JourneyAsker
from sitepick.desk.journey_desk import connect_journey
from sitepick.desk.journey_strip import JourneyStrip
from sitepick.desk.kit_files import KitFiles
from sitepick.desk.look import look_named, wear
from sitepick.desk.map_view import MapView
from sitepick.desk.mark_tool import MarkInHand, mark_name, renamed
from sitepick.desk.menus import Menus
from sitepick.desk.notices import NoticeBar
from sitepick.desk.page import rule
from sitepick.desk.plan_keeper import Keepsakes, PlanKeeper
from sitepick.desk.route_menu import TURN
from sitepick.desk.translation import marked, tr
from sitepick.desk.window_place import window_place
from sitepick.desk.words import handed_out_sentence, way_sentence
from sitepick.errors import GroundError, SitepickError
from sitepick.plan.edits import (
    with_alternative_chosen,
    with_alternative_dropped,
    with_ground,
    with_route_point_named,
    with_route_points_added,
    with_routes_taken,
)
from sitepick.plan.model import LonLat, Plan, Route

if TYPE_CHECKING:
    from sitepick.desk.dropped import Dropped
    from sitepick.desk.look_through import LayerPicture
    from sitepick.ground.route_file import RouteFile
    from sitepick.march.propose import Proposal
    from sitepick.tonight import Tonight


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
    keepsakes : Keepsakes, optional
        What the desk remembers, and where it keeps unsaved work; left out: nothing outlives the window.

    Signals
    -------
    broken(BaseException)
        Our own mistake, from a job.
    """

    broken = Signal(object)

    def __init__(
        self,
        plan: Plan,
        path: Path | None,
        runner: JobRunner,
        *,
        work: DeskWork | None = None,
        keepsakes: Keepsakes | None = None,
    ) -> None:
        super().__init__()
        self.setObjectName("desk")
        self._memory = keepsakes.memory if keepsakes is not None else None
        look_name = self._memory.look_name if self._memory is not None else "day"
        look = look_named(look_name)
        self.history = PlanHistory(plan, self)
        self.keeper = PlanKeeper(self.history, path, keepsakes, self)
        self.kit_files = KitFiles(self.history, self.keeper, self)
        self.asker = Asker(runner, work or DeskWork(), look.palette, self)
        self.answer_line = AnswerLine()
        self.notices = NoticeBar()
        self.guide = GuideBar()
        self.map = MapView(look)
        self.field_book = FieldBook(look)
        self.day_line = DayLine(look)
        self.journey_strip = JourneyStrip(look)
        self.journey_asker = JourneyAsker(runner, work or DeskWork(), self)
        self.exercise = ExerciseDesk(
            self.field_book.exercise, runner, lambda: self.history.plan, lambda: self.asker.answer, self
        )
        self.handing_out = HandingOut(runner, parent=self)
        display = self._memory.display if self._memory is not None else Display()
        show_by(display)
        self.menus = Menus(self.menuBar(), self.history.stack, look_name, display)
        self._help: HelpWindow | None = None
        self._layer_key = ""
        self._lost: tuple[Path, ...] = ()
        self.setAcceptDrops(True)
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
        for piece in (self.answer_line, self.notices, self.guide, rule()):
            column.addWidget(piece)
        column.addWidget(self._splitter, 1)
        column.addWidget(rule())
        column.addWidget(self.journey_strip)
        column.addWidget(self.day_line)
        self.setCentralWidget(centre)
        screens = [screen.availableGeometry() for screen in QGuiApplication.screens()]
        place = window_place(self._memory.window_place if self._memory is not None else None, screens)
        self.setGeometry(place)
        sizes = self._memory.splitter_sizes if self._memory is not None else []
        self._splitter.setSizes(sizes or [place.width() - USUAL_PX, USUAL_PX])
        self.map.setFocus()

    def _connect(self) -> None:
        """Every wire of the window."""
        self.history.plan_changed.connect(self._show_plan)
        self.keeper.named.connect(self._show_title)
        for files in (self.keeper, self.kit_files):
            files.refused.connect(self.notices.show_error)
            files.told.connect(self.notices.show_text)
        self.kit_files.edit_requested.connect(self.apply)
        self.notices.wish_chosen.connect(self._on_find_lost)
        for piece in (self.map, self.field_book, self.day_line):
            piece.edit_requested.connect(self.apply)
        for piece in (self.map, self.field_book):
            piece.site_chosen.connect(self.choose_site)
        self.map.mark_name_requested.connect(self._on_mark_name)
        self.guide.page_wanted.connect(self._on_page_wanted)
        self.guide.ended.connect(self._on_guide_ended)
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
        self.asker.layered.connect(self._on_layered)
        self.asker.dropped.connect(self._on_dropped)
        self.asker.declined.connect(self._on_declined)
        self.asker.stopped.connect(self._on_stopped)
        self.asker.refused.connect(self._on_refused)
        self.asker.broken.connect(self._on_broken)
        connect_journey(self)
        connect_exercise(self)
        menus = self.menus
        menus.open_requested.connect(self.keeper.ask_open)
        menus.recent_requested.connect(self.keeper.open_other)
        menus.left_requested.connect(self.keeper.bring_back)
        menus.file_shown.connect(self._on_file_menu)
        menus.save_requested.connect(self.save)
        menus.save_as_requested.connect(self.keeper.ask_save_as)
        menus.layer_requested.connect(self.look_through)
        menus.lens_toggled.connect(self.map.show_lens)
        menus.snap_toggled.connect(self.map.show_snapping)
        menus.display_requested.connect(self.show_display)
        menus.help_requested.connect(self.show_help)
        menus.guide_requested.connect(self.guide.start)
        menus.handout_requested.connect(self._on_handout)
        menus.preview_requested.connect(self._on_preview)
        menus.kit_open_requested.connect(self.kit_files.ask_open)
        menus.kit_save_requested.connect(self.kit_files.ask_save)
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
        menus.about_requested.connect(partial(show_about, self))

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
        wear(self, look)
        for piece in (self.map, self.field_book, self.day_line, self.journey_strip):
            piece.show_look(look)
        self.asker.show_palette(look.palette)
        if self._layer_key:
            self.asker.look_through(self._layer_key)
        if self._memory is not None:
            self._memory.keep_look(name)

    @Slot(object)
    def show_display(self, display: Display) -> None:
        """Tell places, lengths and weights another way, everywhere in the window."""
        show_by(display)
        if self._memory is not None:
            self._memory.keep_display(display)
        self.map.show_display()
        self._show_plan_only(self.history.plan)
        if self.asker.answer is not None:
            for piece in (self.field_book, self.day_line, self.answer_line):
                piece.show_answer(self.asker.answer)
        self._show_stale(self._is_old)

    @Slot(str)
    def look_through(self, key: str) -> None:
        """Show one factor over the map; an empty key shows the ground itself."""
        self._layer_key = key
        if key:
            self.asker.look_through(key)
        else:
            self.asker.drop_layer()
            self.map.show_layer(None)

    @Slot(str)
    def show_help(self, place: str = "") -> None:
        """Open the manual at a place; without one, at the place that has the keyboard."""
        if self._help is None:
            self._help = HelpWindow(self.menus.shortcuts(), self)
        self._help.open_at(place or self._place_name())

    def greet(self) -> None:
        """What a start tells: work that a crash left behind, or the way through at the first start."""
        if self.keeper.left:
            self.keeper.bring_back_own()
        elif self._memory is not None and not self._memory.is_guided:
            self.guide.start()

    def open_plan(self, path: Path) -> None:
        """Open another plan; one that will not serve is told, and this one stays."""
        if self.keeper.open(path):
            self.notices.clear()

    @Slot()
    def save(self) -> bool:
        """Save the plan where it came from; tells whether it is saved."""
        return self.keeper.save()

    def save_to(self, path: Path) -> bool:
        """Save the plan as a file; tells whether it is saved."""
        return self.keeper.save_to(path)

    @Slot()
    def _on_preview(self) -> None:
        self.handing_out.folder = self.keeper.folder
        self.handing_out.show()
        self.handing_out.raise_()

    @Slot()
    def _on_handout(self) -> None:
        if self._is_old:
            self.notices.show_text(
                tr("The plan has changed since this answer: wait for the new one before handing out.")
            )
            return
        folder = plan_files.ask_folder(self, self.keeper.folder)
        if folder is not None:
            self.asker.hand_out(folder)

    @Slot(int)
    def _on_alternative(self, index: int) -> None:
        name = self.history.plan.alternatives[index].name
        self.apply(
            PlanEdit(text=tr("March along {name}", name=name), change=partial(with_alternative_chosen, index=index))
        )
        self.map.show_all()

    @Slot(int)
    def _on_drop(self, index: int) -> None:
        name = self.history.plan.alternatives[index].name
        self.apply(PlanEdit(text=tr("Drop {name}", name=name), change=partial(with_alternative_dropped, index=index)))

    @Slot()
    def _on_route_file(self) -> None:
        path = plan_files.ask_route_file(self, self.keeper.folder)
        if path is not None:
            self.asker.read_routes(path, self.history.plan)

    @Slot(int)
    def _on_name(self, index: int) -> None:
        name = plan_files.ask_point_name(self, index + 1, self.history.plan.route.names_by_point[index] or "")
        if name is not None:
            change = partial(with_route_point_named, index=index, name=name)
            self.apply(PlanEdit(text=tr("Name point {index}", index=index + 1), change=change))

    @Slot(int, object)
    def _on_way(self, index: int, goal: LonLat | None) -> None:
        self.asker.find_way(self.history.plan, index, goal)

    @Slot(object)
    def _on_mark_name(self, mark: MarkInHand) -> None:
        plan = self.history.plan
        name = plan_files.ask_mark_name(self, mark_name(plan, mark))
        if name is not None:
            self.apply(renamed(plan, mark, name))

    @Slot()
    def _on_file_menu(self) -> None:
        self.menus.show_files(self.keeper.recent, self.keeper.left)

    @Slot(str)
    def _on_page_wanted(self, name: str) -> None:
        self.field_book.choose_page(PAGE_NAMES.index(name))

    @Slot()
    def _on_guide_ended(self) -> None:
        if self._memory is not None:
            self._memory.keep_guided()

    @Slot()
    def _on_find_lost(self) -> None:
        """Ask for the new place of the first file that isn't there."""
        if not self._lost:
            return
        old = self._lost[0]
        new = plan_files.ask_new_place(self, old)
        if new is not None:
            ground = with_file_moved(self.history.plan.ground, old, new)
            self.apply(PlanEdit(text=tr("Find {name}", name=old.name), change=partial(with_ground, ground=ground)))

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        if event.mimeData().hasUrls():
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        paths = tuple(Path(url.toLocalFile()) for url in event.mimeData().urls() if url.isLocalFile())
        event.acceptProposedAction()
        if paths:
            self.asker.read_dropped(paths, self.history.plan)

    def closeEvent(self, event: QCloseEvent) -> None:
        self.handing_out.close()
        if not self.keeper.may_leave():
            event.ignore()
            return
        if self._memory is not None:
            self._memory.keep_window(self.geometry(), self._splitter.sizes())
        self.keeper.leave()
        self.asker.shutdown()
        self.map.close()
        event.accept()

    # What is shown

    @Slot(object)
    def _show_plan(self, plan: Plan) -> None:
        self._show_plan_only(plan)
        self.asker.show_plan(plan)
        self.journey_asker.show_plan(plan)

    def _show_plan_only(self, plan: Plan) -> None:
        for piece in (self.map, self.field_book, self.day_line, self.menus, self.handing_out):
            piece.show_plan(plan)

    @Slot()
    def _show_title(self) -> None:
        path = self.keeper.path
        name = path.stem if path is not None else self.history.plan.name
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
        if self._layer_key:
            self.asker.look_through(self._layer_key)

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
            self.notices.show_text(tr("The route has changed while a way was looked for; ask for it again."))
            return
        inside = way.points[1:-1] if index < len(route.points) - 1 else way.points[1:]
        change = partial(with_route_points_added, index=index + 1, points=inside)
        self.apply(PlanEdit(text=tr("Find a quick way"), change=change))
        self.notices.show_text(way_sentence(way))

    @Slot(object)
    def _on_routes_read(self, read: RouteFile) -> None:
        self.answer_line.show_stopped("", is_old=self._is_old)
        change = partial(with_routes_taken, routes=read.routes)
        self.apply(PlanEdit(text=tr("Take the route {name}", name=read.routes[0].name), change=change))
        self.map.show_all()
        self.notices.show_text(" ".join([*read.notes, *(caution.text for caution in read.cautions)]))

    @Slot(object)
    def _on_layered(self, layer: LayerPicture) -> None:
        self.answer_line.show_stopped("", is_old=self._is_old)
        if layer.factor.key == self._layer_key:
            self.map.show_layer(layer)

    @Slot(object)
    def _on_dropped(self, dropped: Dropped) -> None:
        """Take what was let fall on the window: a plan, or rasters and a route."""
        self.answer_line.show_stopped("", is_old=self._is_old)
        if dropped.plan_path is not None:
            self.keeper.open_other(dropped.plan_path)
            return
        if dropped.ground is not None:
            self.apply(PlanEdit(text=tr("Take other ground"), change=partial(with_ground, ground=dropped.ground)))
        if dropped.told:
            self.notices.show_text(dropped.told)
        if dropped.route_path is not None:
            self.asker.read_routes(dropped.route_path, self.history.plan)

    @Slot(object)
    def _on_declined(self, error: SitepickError | None) -> None:
        self.answer_line.show_stopped("", is_old=self._is_old)
        if error is not None:
            self.notices.show_error(error)

    @Slot()
    def _on_stopped(self) -> None:
        self._show_ended(tr("Stopped. Change anything to start again."))

    @Slot(object)
    def _on_refused(self, error: SitepickError) -> None:
        self._show_ended(tr("No answer yet."))
        told = str(error)  # another fault may come first, whatever else is missing
        self._lost = tuple(path for path in missing_files(self.history.plan.ground) if path.name in told)
        if not self._lost:
            self.notices.show_error(error)
            return
        name, where = self._lost[0].name, str(self._lost[0].parent)
        gone = GroundError(
            tr("the file {name} isn't where the plan says", name=name), where=where, fix=tr("tell where it is now")
        )
        self.notices.show_error(gone, wish=tr("Find {name} …", name=name))

    @Slot(object)
    def _on_broken(self, fault: BaseException) -> None:
        self._show_ended(tr("No answer yet."))
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

    def _place_name(self) -> str:
        """Which part of the desk the person is in, as the manual calls it."""
        has_keys = QApplication.focusWidget()
        if has_keys is self.map:
            return marked("Map")
        return marked("Day line") if has_keys is self.day_line else self.field_book.page_name
