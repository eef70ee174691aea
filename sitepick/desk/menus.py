"""The menus: everything the window can do, with its shortcut."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import partial
from pathlib import Path

from PySide6.QtCore import QObject, Signal, SignalInstance, Slot
from PySide6.QtGui import QAction, QActionGroup, QKeySequence, QUndoStack
from PySide6.QtWidgets import QMenu, QMenuBar

from sitepick.desk.display import Display
from sitepick.desk.field_book import PAGE_NAMES
from sitepick.desk.help_window import SHORTCUTS
from sitepick.desk.look_through import FACTORS
from sitepick.desk.map_cards import VERBS
from sitepick.desk.route_menu import TURN
from sitepick.desk.side_copy import LeftOver
from sitepick.desk.translation import marked, tr
from sitepick.plan.model import Plan

LOOKS = (("day", marked("&Light")), ("dark", marked("&Dark")), ("night", marked("&Night, dim red")))
FORM_WORDS = (
    ("mgrs", marked("Military grid reference")),
    ("utm", marked("Zone, easting and northing")),
    ("latlon", marked("Latitude and longitude")),
)
_Keys = QKeySequence.StandardKey | str | None


class Menus(QObject):
    """Fills a menu bar and tells what is wished for.

    Signals
    -------
    recent_requested(Path)
    left_requested(LeftOver)
        Bring back unsaved work.
    file_shown()
        The file menu opens; `show_files` fills in what it can't know.
    layer_requested(str)
        A factor's key, empty for the ground itself.
    lens_toggled(bool), snap_toggled(bool)
    display_requested(Display)
    help_requested(str)
        A chapter, empty for that of the place one is in.
    guide_requested()
    open_requested(), save_requested(), save_as_requested(), handout_requested(), quit_requested(), about_requested()
    preview_requested()
        Look at what is handed out, and print it.
    kit_open_requested(), kit_save_requested()
    route_file_requested()
        Take a route from a file.
    zoom_in_requested(), zoom_out_requested(), show_all_requested()
    page_requested(int), verb_requested(str), look_requested(str)
    field_book_toggled(bool)
    alternative_requested(int), drop_requested(int)
        March along another of the plan's routes; drop it.
    turn_requested()
        March the route the other way.
    """

    recent_requested = Signal(object)
    left_requested = Signal(object)
    file_shown = Signal()
    layer_requested = Signal(str)
    lens_toggled = Signal(bool)
    snap_toggled = Signal(bool)
    display_requested = Signal(object)
    help_requested = Signal(str)
    guide_requested = Signal()
    open_requested = Signal()
    save_requested = Signal()
    save_as_requested = Signal()
    handout_requested = Signal()
    preview_requested = Signal()
    kit_open_requested = Signal()
    kit_save_requested = Signal()
    quit_requested = Signal()
    zoom_in_requested = Signal()
    zoom_out_requested = Signal()
    show_all_requested = Signal()
    page_requested = Signal(int)
    verb_requested = Signal(str)
    look_requested = Signal(str)
    field_book_toggled = Signal(bool)
    alternative_requested = Signal(int)
    drop_requested = Signal(int)
    turn_requested = Signal()
    route_file_requested = Signal()
    about_requested = Signal()

    def __init__(self, bar: QMenuBar, stack: QUndoStack, look_name: str, display: Display) -> None:
        super().__init__(bar)
        self._bar = bar
        self._display = display
        self._fill_file(bar.addMenu(tr("&File")))
        edit = bar.addMenu(tr("&Edit"))
        undo, redo = stack.createUndoAction(edit, tr("Undo")), stack.createRedoAction(edit, tr("Redo"))
        undo.setShortcuts(QKeySequence.StandardKey.Undo)
        redo.setShortcuts(QKeySequence.StandardKey.Redo)
        edit.addActions([undo, redo])
        self._fill_map(bar.addMenu(tr("&Map")))
        self._routes = bar.addMenu(tr("&Routes"))
        self._fill_through(bar.addMenu(tr("&Look through")))
        self._fill_view(bar.addMenu(tr("&View")), look_name)
        self._fill_help(bar.addMenu(tr("&Help")))

    def show_plan(self, plan: Plan) -> None:
        """List the plan's other routes."""
        self._routes.clear()
        now = self._add(self._routes, tr("Tonight: {name}", name=plan.route.name), _nothing)
        now.setEnabled(False)
        for index, route in enumerate(plan.alternatives):
            self._add(
                self._routes, tr("March along {name}", name=route.name), partial(self.alternative_requested.emit, index)
            )
        self._routes.addSeparator()
        self._add(self._routes, tr(TURN.text), self.turn_requested.emit)
        for index, route in enumerate(plan.alternatives):
            self._add(self._routes, tr("Drop {name}", name=route.name), partial(self.drop_requested.emit, index))

    def show_has_answer(self, has_answer: bool) -> None:
        """The handout can be looked at and written once there is an answer."""
        self._preview.setEnabled(has_answer)
        self._handout.setEnabled(has_answer)

    def show_files(self, recent: Sequence[Path], left: Sequence[LeftOver]) -> None:
        """List plans opened before, and unsaved work that was left behind."""
        self._recent.clear()
        for number, path in enumerate(recent, start=1):
            self._add(
                self._recent, f"&{number} {path.name}, in {path.parent}", partial(self.recent_requested.emit, path)
            )
        self._recent.setEnabled(bool(recent))
        self._left.clear()
        for one in left:
            self._add(self._left, f"{one.plan.name}, {one.at:%d %B %H:%M}", partial(self.left_requested.emit, one))
        self._left.menuAction().setVisible(bool(left))

    def shortcuts(self) -> list[tuple[str, str]]:
        """Every entry that has a shortcut, with its keys."""
        found: list[tuple[str, str]] = []
        for menu in self._bar.findChildren(QMenu):
            for action in menu.actions():
                if not action.shortcut().isEmpty():
                    keys = action.shortcut().toString(QKeySequence.SequenceFormat.NativeText)
                    found.append((action.text().replace("&", "").removesuffix(" …"), keys))
        return found

    @property
    def routes(self) -> QMenu:
        """The submenu of routes."""
        return self._routes

    def _fill_file(self, menu: QMenu) -> None:
        keys = QKeySequence.StandardKey
        self._add(menu, tr("&Open plan …"), self.open_requested.emit, keys.Open)
        self._recent = menu.addMenu(tr("Open &recent"))
        self._left = menu.addMenu(tr("&Bring back unsaved work"))
        self._left.menuAction().setVisible(False)
        menu.aboutToShow.connect(self.file_shown)
        self._add(menu, tr("&Take a route from a file …"), self.route_file_requested.emit)
        menu.addSeparator()
        self._add(menu, tr("&Save"), self.save_requested.emit, keys.Save)
        self._add(menu, tr("Save &as …"), self.save_as_requested.emit, "Ctrl+Shift+S")
        menu.addSeparator()
        self._preview = self._add(menu, tr("&Preview and print …"), self.preview_requested.emit, keys.Print)
        self._handout = self._add(menu, tr("Write &handout to folder …"), self.handout_requested.emit, "Ctrl+Shift+P")
        self.show_has_answer(False)
        menu.addSeparator()
        self._add(menu, tr("&Take over a kit list …"), self.kit_open_requested.emit)
        self._add(menu, tr("Save &kit list as …"), self.kit_save_requested.emit)
        menu.addSeparator()
        self._add(menu, tr("&Quit"), self.quit_requested.emit, keys.Quit)

    def _fill_map(self, menu: QMenu) -> None:
        for verb, text, tip in VERBS:
            action = self._add(menu, tr(text), partial(self.verb_requested.emit, verb))
            action.setStatusTip(tr(tip))
        self._add_check(menu, tr("Route points take to &tracks"), self.snap_toggled, "Ctrl+T")
        menu.addSeparator()
        self._add(menu, tr("Zoom &in"), self.zoom_in_requested.emit, "Ctrl++")
        self._add(menu, tr("Zoom &out"), self.zoom_out_requested.emit, "Ctrl+-")
        self._add(menu, tr("Show a&ll"), self.show_all_requested.emit, "Ctrl+0")

    def _fill_through(self, menu: QMenu) -> None:
        group = QActionGroup(menu)
        for key, label in (("", marked("&Nothing: the ground itself")), *((one.key, one.label) for one in FACTORS)):
            action = QAction(tr(label), group, checkable=True, checked=not key)
            action.triggered.connect(partial(self._tell_layer, key))
            menu.addAction(action)
        menu.actions()[0].setShortcut("Ctrl+Shift+0")
        menu.addSeparator()
        self._add_check(menu, tr("Only in a &lens round the pointer"), self.lens_toggled, "Ctrl+L")

    def _fill_help(self, menu: QMenu) -> None:
        self._add(menu, tr("&Manual for this place"), partial(self.help_requested.emit, ""), "F1")
        self._add(menu, tr("&First steps, a worked example"), partial(self.help_requested.emit, marked("First steps")))
        self._add(menu, tr("&Shortcuts"), partial(self.help_requested.emit, SHORTCUTS), "Ctrl+F1")
        self._add(menu, tr("&Tour of the desk"), self.guide_requested.emit)
        menu.addSeparator()
        self._add(menu, tr("&About sitepick"), self.about_requested.emit)

    def _fill_view(self, menu: QMenu, look_name: str) -> None:
        for index, name in enumerate(PAGE_NAMES):
            self._add(
                menu,
                tr("{name} page", name=tr(name)),
                partial(self.page_requested.emit, index),
                f"Ctrl+{index + 1}",
            )
        menu.addSeparator()
        book = self._add_check(menu, tr("&Field book"), None, "F9")
        book.setChecked(True)
        book.toggled.connect(self.field_book_toggled)
        menu.addSeparator()
        looks = QActionGroup(menu)
        for name, text in LOOKS:
            action = QAction(tr(text), looks, checkable=True, checked=name == look_name)
            action.triggered.connect(partial(self._tell_look, name))
            menu.addAction(action)
        menu.addSeparator()
        forms = QActionGroup(menu)
        for form, text in FORM_WORDS:
            action = QAction(tr(text), forms, checkable=True, checked=form == self._display.form)
            action.triggered.connect(partial(self._tell_form, form))
            menu.addAction(action)
        menu.addSeparator()
        imperial = self._add_check(menu, tr("&Miles, feet, pounds and °F"), None, None)
        imperial.setChecked(self._display.is_imperial)
        imperial.toggled.connect(self._tell_imperial)

    def _tell_form(self, form: str, is_checked: bool) -> None:
        self._display = replace(self._display, form=form)
        self.display_requested.emit(self._display)

    @Slot(bool)
    def _tell_imperial(self, is_imperial: bool) -> None:
        self._display = replace(self._display, is_imperial=is_imperial)
        self.display_requested.emit(self._display)

    def _tell_layer(self, key: str, is_checked: bool) -> None:
        self.layer_requested.emit(key)

    def _tell_look(self, name: str, is_checked: bool) -> None:
        self.look_requested.emit(name)

    @staticmethod
    def _add_check(menu: QMenu, text: str, told: SignalInstance | None, keys: str | None) -> QAction:
        action = QAction(text, menu, checkable=True)
        if told is not None:
            action.toggled.connect(told)
        if keys is not None:
            action.setShortcut(keys)
        menu.addAction(action)
        return action

    @staticmethod
    def _add(menu: QMenu, text: str, wish: Callable[[], object], keys: _Keys = None) -> QAction:
        action = menu.addAction(text)
        action.triggered.connect(partial(_tell, wish))
        if keys is not None:
            action.setShortcut(QKeySequence(keys))
        return action


def _tell(wish: Callable[[], object], is_checked: bool = False) -> None:
    wish()


def _nothing() -> None:
    """What tonight's own route does when it is chosen."""
