"""Faults of the ground's files, gathered and told at once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sitepick.errors import GroundError


@dataclass(frozen=True, slots=True, kw_only=True)
class Fault:
    """One thing that is wrong with one file.

    Attributes
    ----------
    where : str
        The file, as told to people.
    what, fix : str
        What is wrong and what to do, one clause each, without a full stop.
    """

    where: str
    what: str
    fix: str

    def sentence(self) -> str:
        """The whole fault, without the file."""
        return f"{self.what[0].upper()}{self.what[1:]}; {self.fix}."


def raise_faults(faults: Sequence[Fault]) -> None:
    """Raise everything that is wrong as one error; do nothing when nothing is.

    Raises
    ------
    GroundError
        There is at least one fault.
    """
    if not faults:
        return
    if len(faults) == 1:
        raise GroundError(faults[0].what, where=faults[0].where, fix=faults[0].fix)
    told = "; ".join(f"{fault.where}: {fault.what} ({fault.fix})" for fault in faults)
    raise GroundError(f"{len(faults)} faults: {told}", fix="mend them or name other files in the plan")
