"""The menus: everything the window can do, with its shortcut."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QAction, QActionGroup, QKeySequence, QUndoStack
from PySide6.QtWidgets import QMenu, QMenuBar

from sitepick.desk.field_book import PAGE_NAMES
from sitepick.desk.map_cards import VERBS
from sitepick.desk.route_menu import TURN
from sitepick.plan.model import Plan

LOOKS = (("day", "&Light"), ("dark", "&Dark"))
_Keys = QKeySequence.StandardKey | str | None


class Menus(QObject):
    """Fills a menu bar and tells what is wished for.

    Signals
    -------
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

    def __init__(self, bar: QMenuBar, stack: QUndoStack, look_name: str) -> None:
        super().__init__(bar)
        self._bar = bar
        self._fill_file(bar.addMenu("&File"))
        edit = bar.addMenu("&Edit")
        undo, redo = stack.createUndoAction(edit, "Undo"), stack.createRedoAction(edit, "Redo")
        undo.setShortcuts(QKeySequence.StandardKey.Undo)
        redo.setShortcuts(QKeySequence.StandardKey.Redo)
        edit.addActions([undo, redo])
        self._fill_map(bar.addMenu("&Map"))
        self._routes = bar.addMenu("&Routes")
        self._fill_view(bar.addMenu("&View"), look_name)
        self._add(bar.addMenu("&Help"), "&About sitepick", self.about_requested.emit)

    def show_plan(self, plan: Plan) -> None:
        """List the plan's other routes."""
        self._routes.clear()
        now = self._add(self._routes, f"Tonight: {plan.route.name}", _nothing)
        now.setEnabled(False)
        for index, route in enumerate(plan.alternatives):
            self._add(self._routes, f"March along {route.name}", partial(self.alternative_requested.emit, index))
        self._routes.addSeparator()
        self._add(self._routes, TURN.text, self.turn_requested.emit)
        for index, route in enumerate(plan.alternatives):
            self._add(self._routes, f"Drop {route.name}", partial(self.drop_requested.emit, index))

    def show_has_answer(self, has_answer: bool) -> None:
        """The handout can be looked at and written once there is an answer."""
        self._preview.setEnabled(has_answer)
        self._handout.setEnabled(has_answer)

    @property
    def routes(self) -> QMenu:
        """The submenu of routes."""
        return self._routes

    def _fill_file(self, menu: QMenu) -> None:
        keys = QKeySequence.StandardKey
        self._add(menu, "&Open plan …", self.open_requested.emit, keys.Open)
        self._add(menu, "&Take a route from a file …", self.route_file_requested.emit)
        menu.addSeparator()
        self._add(menu, "&Save", self.save_requested.emit, keys.Save)
        self._add(menu, "Save &as …", self.save_as_requested.emit, "Ctrl+Shift+S")
        menu.addSeparator()
        self._preview = self._add(menu, "&Preview and print …", self.preview_requested.emit, keys.Print)
        self._handout = self._add(menu, "Write &handout to folder …", self.handout_requested.emit, "Ctrl+Shift+P")
        self.show_has_answer(False)
        menu.addSeparator()
        self._add(menu, "&Take over a kit list …", self.kit_open_requested.emit)
        self._add(menu, "Save &kit list as …", self.kit_save_requested.emit)
        menu.addSeparator()
        self._add(menu, "&Quit", self.quit_requested.emit, keys.Quit)

    def _fill_map(self, menu: QMenu) -> None:
        for verb, text, tip in VERBS:
            action = self._add(menu, text, partial(self.verb_requested.emit, verb))
            action.setStatusTip(tip)
        menu.addSeparator()
        self._add(menu, "Zoom &in", self.zoom_in_requested.emit, "Ctrl++")
        self._add(menu, "Zoom &out", self.zoom_out_requested.emit, "Ctrl+-")
        self._add(menu, "Show a&ll", self.show_all_requested.emit, "Ctrl+0")

    def _fill_view(self, menu: QMenu, look_name: str) -> None:
        for index, name in enumerate(PAGE_NAMES):
            self._add(menu, f"{name} page", partial(self.page_requested.emit, index), f"Ctrl+{index + 1}")
        menu.addSeparator()
        book = QAction("&Field book", menu, checkable=True, checked=True)
        book.setShortcut("F9")
        book.toggled.connect(self.field_book_toggled)
        menu.addAction(book)
        menu.addSeparator()
        looks = QActionGroup(menu)
        for name, text in LOOKS:
            action = QAction(text, looks, checkable=True, checked=name == look_name)
            action.triggered.connect(partial(self._tell_look, name))
            menu.addAction(action)

    def _tell_look(self, name: str, is_checked: bool) -> None:
        self.look_requested.emit(name)

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
