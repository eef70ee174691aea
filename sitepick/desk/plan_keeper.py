"""Which file the plan is: opening, saving, other windows, and the copy that outlives a crash.

Asks questions through `plan_files`, and is the only one in the desk that reads and writes plans.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from hashlib import sha256
from pathlib import Path

from PySide6.QtCore import QObject, QTimer, Signal, Slot
from PySide6.QtWidgets import QWidget

from sitepick.desk import plan_files
from sitepick.desk.edit import PlanEdit
from sitepick.desk.history import PlanHistory
from sitepick.desk.memory import Memory
from sitepick.desk.side_copy import LeftOver, SideCopy, forget, left_overs
from sitepick.desk.translation import tr
from sitepick.errors import SitepickError
from sitepick.plan.file import read_plan, write_plan
from sitepick.plan.model import Plan

COPY_AFTER_MS = 700  # so much work may be lost at worst


@dataclass(frozen=True, slots=True, kw_only=True)
class Keepsakes:
    """Where the desk keeps what outlives it.

    Attributes
    ----------
    memory : Memory
    copies : Path
        Folder of the copies of unsaved work.
    """

    memory: Memory
    copies: Path


class PlanKeeper(QObject):
    """Keeps the plan's file.

    Parameters
    ----------
    history : PlanHistory
    path : Path or None
        None for a plan that has no file.
    keepsakes : Keepsakes or None
        None: nothing is kept beyond the window, as for pictures.
    window : QWidget
        Over which questions are asked.

    Signals
    -------
    named()
        The plan's file, or whether it is saved, is another.
    refused(SitepickError)
    told(str)
        Something worth a word.
    """

    named = Signal()
    refused = Signal(object)
    told = Signal(str)

    def __init__(self, history: PlanHistory, path: Path | None, keepsakes: Keepsakes | None, window: QWidget) -> None:
        super().__init__(window)
        self._history = history
        self._window = window
        self._keepsakes = keepsakes
        self._copy = SideCopy(keepsakes.copies) if keepsakes is not None else None
        self._left: tuple[LeftOver, ...] = left_overs(keepsakes.copies) if keepsakes is not None else ()
        self._pause = QTimer(self)
        self._pause.setSingleShot(True)
        self._pause.setInterval(COPY_AFTER_MS)
        self._pause.timeout.connect(self._on_paused)
        self._has_told = False
        self.path = path
        self._digest = _digest(path)
        self._remember()
        history.plan_changed.connect(self._on_plan_changed)
        history.clean_changed.connect(self._on_clean_changed)

    @property
    def folder(self) -> Path:
        """Where questions about files begin."""
        if self.path is None or plan_files.is_sample(self.path):
            return Path.home()
        return self.path.parent

    @property
    def recent(self) -> tuple[Path, ...]:
        """Plans opened before."""
        return self._keepsakes.memory.recent if self._keepsakes is not None else ()

    @property
    def left(self) -> tuple[LeftOver, ...]:
        """Unsaved work that windows before this one left behind."""
        return self._left

    # Opening

    def ask_open(self) -> None:
        """Open another plan, once this one may be left."""
        if self.may_leave():
            path = plan_files.ask_open(self._window, self.folder)
            if path is not None:
                self.open(path)

    def open_other(self, path: Path) -> None:
        """Open a plan that was named, once this one may be left."""
        if self.may_leave():
            self.open(path)

    def open(self, path: Path) -> bool:
        """Open another plan; one that will not serve is told, and this one stays."""
        try:
            plan = read_plan(path)
        except SitepickError as error:
            self.refused.emit(error)
            return False
        self._hold(plan, path)
        return True

    def bring_back_own(self) -> None:
        """Bring back unsaved work on the plan in view, or any where that is the sample; other work is only told."""
        own = [one for one in self._left if one.path == self.path or plan_files.is_sample(self.path)]
        if own:
            self.bring_back(own[0])
        elif self._left:
            names = ", ".join(one.plan.name for one in self._left)
            self.told.emit(
                tr("Unsaved work was left behind on {names}: File, Bring back unsaved work has it.", names=names)
            )

    def bring_back(self, left: LeftOver) -> None:
        """Bring unsaved work back, as an edit of the plan as it was saved."""
        self._left = tuple(one for one in self._left if one != left)
        if left.path is not None and left.path != self.path and left.path.is_file():
            self.open(left.path)
        elif left.path is None or not left.path.is_file():
            self._hold(left.plan, None)
        self._history.apply(PlanEdit(text=tr("Bring back unsaved work"), change=partial(_instead, plan=left.plan)))
        if self.path is None:
            self._history.mark_unsaved()
        self._write_copy()
        forget(left)
        self.told.emit(
            tr(
                "Unsaved work of {at:%d %B %H:%M} on {name} is back. Save it to keep it, or undo to see the "
                "plan as it was saved.",
                at=left.at,
                name=left.plan.name,
            )
        )

    # Saving

    def save(self) -> bool:
        """Save the plan where it came from; tells whether it is saved."""
        if self.path is None or plan_files.is_sample(self.path):
            return self.ask_save_as()
        if self._digest is not None and _digest(self.path) not in (self._digest, None):
            wish = plan_files.ask_changed_elsewhere(self._window, self.path.name)
            if wish != "replace":
                return wish == "other" and self.ask_save_as()
        return self.save_to(self.path)

    def ask_save_as(self) -> bool:
        """Save the plan under a name that is asked for."""
        name = self.path.name if self.path is not None else f"plan{plan_files.SUFFIX}"
        path = plan_files.ask_save(self._window, self.folder / name)
        return path is not None and self.save_to(path)

    def save_to(self, path: Path) -> bool:
        """Save the plan as a file; tells whether it is saved."""
        try:
            write_plan(self._history.plan, path)
        except SitepickError as error:
            self.refused.emit(error)
            return False
        self.path = path
        self._digest = _digest(path)
        self._history.mark_saved()
        self._remember()
        self._drop_copy()
        self.named.emit()
        return True

    # Leaving

    def may_leave(self) -> bool:
        """Whether the plan may be left: saved, or the person says so."""
        if self._history.is_saved:
            return True
        wish = plan_files.ask_unsaved(self._window, self._history.plan.name)
        return wish == "discard" or (wish == "save" and self.save())

    def leave(self) -> None:
        """The window closes, and whatever isn't saved by now was let go."""
        self._drop_copy()

    # Small steps of the above

    def _hold(self, plan: Plan, path: Path | None) -> None:
        self._drop_copy()
        self.path = path
        self._digest = _digest(path)
        self._history.open(plan)
        self._remember()
        self.named.emit()

    def _remember(self) -> None:
        if self._keepsakes is not None and self.path is not None and not plan_files.is_sample(self.path):
            self._keepsakes.memory.add_recent(self.path)

    @Slot()
    def _on_plan_changed(self) -> None:
        # not started anew by every edit: a drag that never ends would never be kept
        if self._copy is not None and not self._pause.isActive():
            self._pause.start()

    @Slot()
    def _on_clean_changed(self) -> None:
        self.named.emit()

    @Slot()
    def _on_paused(self) -> None:
        if self._history.is_saved:
            self._drop_copy()
        else:
            self._write_copy()

    def _write_copy(self) -> None:
        if self._copy is None:
            return
        try:
            self._copy.write(self._history.plan, self.path)
        except SitepickError as error:
            if not self._has_told:  # once: the same full disk would be told with every edit
                self._has_told = True
                self.refused.emit(error)

    def _drop_copy(self) -> None:
        self._pause.stop()
        if self._copy is not None:
            self._copy.drop()


def _digest(path: Path | None) -> str | None:
    """What a file holds, in short; None where there is none to read."""
    try:
        return sha256(path.read_bytes()).hexdigest() if path is not None else None
    except OSError:
        return None


def _instead(before: Plan, *, plan: Plan) -> Plan:
    return plan
