"""The kit list: what is taken along, for whom, what it weighs and where it travels; and its file.

A list goes from plan to plan as a small CSV file, described in ``resources/kit/README.md``.
"""

from __future__ import annotations

import csv
import difflib
import io
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from sitepick.errors import PlanFileError, SettingsError
from sitepick.output import whole_file
from sitepick.plan.setting import check_settings, setting
from sitepick.resource import resource_path

WHOSE = ("person", "section")
CARRIED = ("back", "sled")
STOWED = ("low aft", "forward", "to hand", "anywhere")
ITEM_COUNT_MAX = 200
NAME_LENGTH_MAX = 80
SIZE_MAX_BYTES = 1_000_000

_COLUMNS = ("name", "weight_kg", "number", "for", "carried", "stowed")


@dataclass(frozen=True, slots=True, kw_only=True)
class KitItem:
    """One thing on the list.

    Attributes
    ----------
    name : str
        Unlike any other on the list.
    weight_kg : float
        Of one.
    number : int
        How many for each person or each section; 0: left at base this time.
    whose : str
        Out of `WHOSE`.
    carried : str
        Out of `CARRIED`; without a sled all of it is carried.
    stowed : str
        Where on the sled, out of `STOWED`.
    is_ticked : bool
        Checked before leaving base.
    """

    name: str
    weight_kg: float = setting(1.0, label="weight", unit="kg", low=0.0, high=200.0, help="Of one.")
    number: int = setting(
        1, label="number", low=0, high=200, help="For each person or each section; 0 leaves it at base."
    )
    whose: str = setting("section", label="for", choices=WHOSE, help="Each person has one, or each section.")
    carried: str = setting("sled", label="carried", choices=CARRIED, help="Without a sled all of it is carried.")
    stowed: str = setting("anywhere", label="stowed", choices=STOWED, help="Where it lies on the sled.")
    is_ticked: bool = False

    def __post_init__(self) -> None:
        if not self.name.strip():
            raise SettingsError("a thing on the kit list has no name", fix="give it a name")
        if not self.name.isprintable() or self.name != self.name.strip():
            raise SettingsError(
                f"the name {self.name[:20]!r} holds signs that don't print, or begins or ends with a blank",
                fix="write it in plain letters",
            )
        if len(self.name) > NAME_LENGTH_MAX:
            raise SettingsError(
                f"the name {self.name[:20]!r}... is longer than {NAME_LENGTH_MAX} letters", fix="shorten the name"
            )
        try:
            check_settings(self)
        except SettingsError as fault:
            raise SettingsError(f"{self.name}: {fault.what}", fix=fault.fix) from fault


def check_kit(kit: Sequence[KitItem]) -> None:
    """Check a whole list.

    Raises
    ------
    SettingsError
        It is longer than `ITEM_COUNT_MAX`, or a name stands there twice.
    """
    if len(kit) > ITEM_COUNT_MAX:
        raise SettingsError(f"the kit list holds {len(kit)} things", fix=f"keep it to {ITEM_COUNT_MAX}")
    seen: set[str] = set()
    for item in kit:
        if item.name.casefold() in seen:
            raise SettingsError(
                f"{item.name} stands on the kit list twice", fix="change its number, or give it another name"
            )
        seen.add(item.name.casefold())


@lru_cache(maxsize=1)
def usual_kit() -> tuple[KitItem, ...]:
    """What a new plan starts from: a short list of common practice."""
    return read_kit(resource_path("kit", "usual.csv"))


def read_kit(path: Path) -> tuple[KitItem, ...]:
    """Read a kit list; nothing on it is ticked.

    Raises
    ------
    PlanFileError
        The file is missing, is no kit list or holds faults; all of them are told, by row and column.
    """
    faults: list[str] = []
    rows = _rows(_text(path), faults)
    kit = [item for number, row in rows if (item := _item(row, number, faults)) is not None]
    if not faults:
        try:
            check_kit(kit)
        except SettingsError as fault:
            faults.append(fault.what)
    if faults:
        more = f"; and {len(faults) - 10} more" if len(faults) > 10 else ""
        raise PlanFileError("; ".join(faults[:10]) + more, where=str(path), fix="mend the kit list")
    return tuple(kit)


def write_kit(kit: Sequence[KitItem], path: Path) -> None:
    """Write a kit list, whole or not at all.

    Raises
    ------
    PlanFileError
        The folder is read-only, the disk is full and the like; an older file stays as it was.
    """
    text = io.StringIO()
    # Words in quotes, so that no name begins like a note.
    writer = csv.writer(text, lineterminator="\n", quoting=csv.QUOTE_NONNUMERIC)
    writer.writerow(_COLUMNS)
    for item in kit:
        writer.writerow((item.name, item.weight_kg, item.number, item.whose, item.carried, item.stowed))
    with whole_file(path.resolve(), error=PlanFileError) as target:
        target.write_text(text.getvalue(), encoding="utf-8")


def _text(path: Path) -> str:
    try:
        if path.stat().st_size > SIZE_MAX_BYTES:
            raise PlanFileError("this is too large for a kit list", where=str(path), fix="name the list's CSV file")
        return path.read_text(encoding="utf-8-sig")
    except FileNotFoundError as fault:
        raise PlanFileError("there is no such kit list", where=str(path), fix="check the name and folder") from fault
    except UnicodeDecodeError as fault:
        raise PlanFileError("this is not a text file", where=str(path), fix="save the list as CSV in UTF-8") from fault
    except OSError as fault:
        raise PlanFileError(
            f"the kit list can't be read: {fault.strerror or fault}", where=str(path), fix="check the file's rights"
        ) from fault


def _rows(text: str, faults: list[str]) -> list[tuple[int, dict[str, str]]]:
    """Each row with its line's number, by column."""
    lines = [(number, line) for number, line in enumerate(text.splitlines(), 1) if line.strip() and line[0] != "#"]
    try:
        rows = [next(csv.reader([line], strict=True)) for _, line in lines]
    except csv.Error as fault:
        faults.append(f"this is not CSV ({fault})")
        return []
    header = [name.strip().lower() for name in rows[0]] if rows else []
    faults += [f"the column {name!r} is missing" for name in _COLUMNS if name not in header]
    for column in header:
        if column not in _COLUMNS or header.count(column) > 1:
            near = difflib.get_close_matches(column, _COLUMNS, n=1)
            faults.append(f"the column {column[:30]!r} is not known" + (f" (is {near[0]} meant?)" if near else ""))
    if faults:
        return []
    told = []
    for (number, _), row in zip(lines[1:], rows[1:], strict=True):
        if len(row) != len(header):
            faults.append(f"row {number}: {len(row)} values for {len(header)} columns")
        else:
            told.append((number, dict(zip(header, map(str.strip, row), strict=True))))
    return told


def _item(row: dict[str, str], number: int, faults: list[str]) -> KitItem | None:
    try:
        return KitItem(
            name=row["name"],
            weight_kg=float(row["weight_kg"]),
            number=int(row["number"]),
            whose=row["for"],
            carried=row["carried"],
            stowed=row["stowed"],
        )
    except ValueError:
        faults.append(f"row {number}: the weight or the number is not a number")
    except SettingsError as fault:
        faults.append(f"row {number}: {fault.what}")
    return None
