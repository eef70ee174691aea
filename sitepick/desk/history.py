"""The only writer of the plan: every edit goes through here and can be undone."""

from __future__ import annotations

from PySide6.QtCore import QObject, Signal, Slot
from PySide6.QtGui import QUndoCommand, QUndoStack

from sitepick.desk.edit import PlanEdit
from sitepick.desk.translation import tr
from sitepick.plan.model import Plan

_DRAG_ID = 1


class _PlanStep(QUndoCommand):
    """One step of the history: the plan before and after it."""

    def __init__(self, history: PlanHistory, edit: PlanEdit, before: Plan, after: Plan) -> None:
        super().__init__(tr(edit.text))
        self._history = history
        self.gesture = edit.gesture
        self.before = before
        self.after = after

    def id(self) -> int:
        return -1 if self.gesture is None else _DRAG_ID

    def mergeWith(self, other: QUndoCommand) -> bool:
        if not isinstance(other, _PlanStep) or other.gesture != self.gesture:
            return False
        self.after = other.after
        self.setObsolete(self.after == self.before)
        return True

    def redo(self) -> None:
        self._history._hold(self.after)

    def undo(self) -> None:
        self._history._hold(self.before)


class PlanHistory(QObject):
    """Holds the plan, changes it, and takes changes back.

    Plans are frozen and share their parts, so a step keeps two whole plans at next to no cost.

    Attributes
    ----------
    stack : QUndoStack
        For the menu's Undo and Redo, which carry the names of the steps.
    plan : Plan
        As it is now.

    Signals
    -------
    plan_changed(Plan)
        After every edit, undo, redo and opening.
    clean_changed(bool)
        Whether the plan is as it was last saved.
    """

    plan_changed = Signal(object)
    clean_changed = Signal(bool)

    def __init__(self, plan: Plan, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.stack = QUndoStack(self)
        self._plan = plan
        self.stack.cleanChanged.connect(self.clean_changed)

    @property
    def plan(self) -> Plan:
        """The plan as it is now."""
        return self._plan

    def apply(self, edit: PlanEdit) -> None:
        """Carry out an edit; one that changes nothing leaves no step.

        Raises
        ------
        SettingsError
            The edit would break one of the plan's limits; the plan stays as it was.
        """
        after = edit.change(self._plan)
        if after != self._plan:
            self.stack.push(_PlanStep(self, edit, self._plan, after))

    def open(self, plan: Plan) -> None:
        """Hold another plan, with nothing to undo and nothing unsaved."""
        self.stack.clear()
        self._hold(plan)

    @Slot()
    def mark_saved(self) -> None:
        """The plan as it is now is on the disk."""
        self.stack.setClean()

    def mark_unsaved(self) -> None:
        """The plan as it is now is on no disk."""
        self.stack.resetClean()

    @property
    def is_saved(self) -> bool:
        """Whether the plan is as it was last saved."""
        return self.stack.isClean()

    def _hold(self, plan: Plan) -> None:
        self._plan = plan
        self.plan_changed.emit(plan)
