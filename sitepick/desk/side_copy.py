"""A copy of unsaved work in the user's own folder, for the day when the program or the machine dies.

Every window that holds a plan keeps one copy under a name of its own beside a lock. A copy whose lock nobody
holds was left by a window that died; the next start brings it back.
"""

from __future__ import annotations

import json
import uuid
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from PySide6.QtCore import QLockFile

from sitepick.desk.translation import tr
from sitepick.errors import PlanFileError, SitepickError
from sitepick.output import whole_file
from sitepick.plan.file import read_plan, write_plan
from sitepick.plan.model import Plan

_COPY, _ORIGIN, _LOCK = "plan.geojson", "origin.json", "lock"


@dataclass(frozen=True, slots=True, kw_only=True)
class LeftOver:
    """Unsaved work that a window left behind.

    Attributes
    ----------
    folder : Path
        Where its copy lies.
    plan : Plan
    path : Path or None
        The plan's own file; None where it had none.
    at : datetime
        When the copy was written.
    """

    folder: Path
    plan: Plan
    path: Path | None
    at: datetime


class SideCopy:
    """The copy of one window.

    Parameters
    ----------
    root : Path
        Where all copies lie; made when the first is written.
    """

    def __init__(self, root: Path) -> None:
        self._folder = root / uuid.uuid4().hex
        self._lock: QLockFile | None = None

    def write(self, plan: Plan, path: Path | None) -> None:
        """Keep a plan with unsaved changes.

        Raises
        ------
        PlanFileError
            The folder can't be written to.
        """
        if self._lock is None:
            try:
                self._folder.mkdir(parents=True, exist_ok=True)
            except OSError as fault:
                raise PlanFileError(
                    tr("unsaved work can't be kept for a crash: {fault}", fault=fault.strerror),
                    where=str(self._folder), fix=tr("save the plan often"),
                ) from fault  # fmt: skip
            self._lock = QLockFile(str(self._folder / _LOCK))
            self._lock.setStaleLockTime(0)
            self._lock.tryLock(0)
        with whole_file(self._folder / _ORIGIN, error=PlanFileError) as target:
            target.write_text(json.dumps({"path": None if path is None else str(path)}), encoding="utf-8")
        write_plan(plan, self._folder / _COPY)

    def drop(self) -> None:
        """Forget the copy: the plan is saved, or the person let it go."""
        if self._lock is not None:
            _remove(self._folder)
            self._lock.unlock()
            self._lock = None
            self._folder.rmdir()


def left_overs(root: Path) -> tuple[LeftOver, ...]:
    """What windows that died left behind, the newest first; each is locked for nobody else."""
    found = [one for folder in sorted(root.glob("*")) if folder.is_dir() for one in _left_in(folder)]
    return tuple(sorted(found, key=lambda one: one.at, reverse=True))


def forget(left: LeftOver) -> None:
    """Take away what was brought back or let go."""
    _remove(left.folder)
    (left.folder / _LOCK).unlink(missing_ok=True)
    left.folder.rmdir()


def _left_in(folder: Path) -> list[LeftOver]:
    lock = QLockFile(str(folder / _LOCK))
    lock.setStaleLockTime(0)  # age says nothing: a window may stand open for days
    if not lock.tryLock(0):
        return []
    lock.unlock()
    copy = folder / _COPY
    try:
        origin = json.loads((folder / _ORIGIN).read_text(encoding="utf-8"))["path"]
        plan = read_plan(copy)
        at = datetime.fromtimestamp(copy.stat().st_mtime).astimezone()
    except (SitepickError, OSError, ValueError, KeyError, TypeError):
        return []
    return [LeftOver(folder=folder, plan=plan, path=None if origin is None else Path(origin), at=at)]


def _remove(folder: Path) -> None:
    for name in (_COPY, _ORIGIN):
        (folder / name).unlink(missing_ok=True)
