"""What can go wrong, told to a person.

::

    SitepickError(what, *, fix, where=None)   what went wrong; what to do now; file, row or place
      GroundError      elevation, cover or vector files that will not serve
      MarchError       a route or a time that cannot be marched
      SettingsError    a value in the plan that makes no sense
      PlanFileError    a plan file that cannot be read or written
      SheetError       an output that cannot be written
    ValueError, TypeError, AssertionError     our own mistake: the crash window
    work.JobStopped (BaseException)           not an error; never shown

Readers gather every fault they find and raise once. Words belong to the error; showing them
belongs to the window or the command line.
"""

from __future__ import annotations


class SitepickError(Exception):
    """A fault that a person can mend.

    Attributes
    ----------
    what : str
        What went wrong, one clause without a full stop.
    fix : str
        What to do now, one clause without a full stop.
    where : str or None
        The file, row, cell or setting.
    """

    def __init__(self, what: str, *, fix: str, where: str | None = None) -> None:
        super().__init__(what, fix, where)
        self.what = what
        self.fix = fix
        self.where = where

    def __str__(self) -> str:
        place = f"{self.where}: " if self.where else ""
        return f"{place}{self.what}; {self.fix}."


class GroundError(SitepickError):
    """Elevation, cover or vector files that will not serve."""


class MarchError(SitepickError):
    """A route or a time that cannot be marched."""


class SettingsError(SitepickError):
    """A value in the plan that makes no sense."""


class PlanFileError(SitepickError):
    """A plan file that cannot be read or written."""


class SheetError(SitepickError):
    """An output that cannot be written."""
