"""Kit lists as files: taken over from another plan, or saved for one."""

from __future__ import annotations

from functools import partial
from pathlib import Path

from PySide6.QtCore import QObject, Signal, Slot
from PySide6.QtWidgets import QWidget

from sitepick.desk import plan_files
from sitepick.desk.edit import PlanEdit
from sitepick.desk.history import PlanHistory
from sitepick.desk.plan_keeper import PlanKeeper
from sitepick.desk.translation import tr
from sitepick.errors import SitepickError
from sitepick.plan.kit import read_kit, write_kit
from sitepick.plan.kit_edits import with_kit


class KitFiles(QObject):
    """Opens and saves kit lists.

    Parameters
    ----------
    history : PlanHistory
    keeper : PlanKeeper
        Says in which folder questions begin.
    window : QWidget
        Over which they are asked.

    Signals
    -------
    edit_requested(PlanEdit)
    refused(SitepickError)
    told(str)
    """

    edit_requested = Signal(object)
    refused = Signal(object)
    told = Signal(str)

    def __init__(self, history: PlanHistory, keeper: PlanKeeper, window: QWidget) -> None:
        super().__init__(window)
        self._history, self._keeper, self._window = history, keeper, window

    @Slot()
    def ask_open(self) -> None:
        """Take over the kit list of a file that is asked for."""
        path = plan_files.ask_open_kit(self._window, self._keeper.folder)
        if path is not None:
            self.take_over(path)

    def take_over(self, path: Path) -> None:
        """Take over the kit list of a file, to be undone like every edit; one that will not serve is told."""
        try:
            kit = read_kit(path)
        except SitepickError as error:
            self.refused.emit(error)
            return
        self.edit_requested.emit(PlanEdit(text=tr("Take over a kit list"), change=partial(with_kit, kit=kit)))

    @Slot()
    def ask_save(self) -> None:
        """Save the kit list under a name that is asked for."""
        path = plan_files.ask_save_kit(self._window, self._keeper.folder)
        if path is not None:
            self.save(path)

    def save(self, path: Path) -> None:
        """Save the kit list by itself, for other plans."""
        try:
            write_kit(self._history.plan.load.kit, path)
        except SitepickError as error:
            self.refused.emit(error)
            return
        self.told.emit(tr("Kit list saved as {path}.", path=path))
