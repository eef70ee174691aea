"""Answers in a table (CSV): a row a trainee, or several rows where a layout goes with it."""

from __future__ import annotations

import csv
import difflib
import io
import re
from dataclasses import dataclass, field, replace
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

from sitepick.errors import PlanFileError, SettingsError
from sitepick.exercise.grid_reference import ReferenceFaultError, read_place
from sitepick.exercise.model import Submission
from sitepick.grid import Grid
from sitepick.plan.exercise import HandedIn, PlacedThing

SIZE_MAX_BYTES = 5_000_000
ROW_COUNT_MAX = 20_000

# What a column holds, and the words that may stand over it.
_COLUMNS = {
    "trainee": ("trainee", "name", "who"),
    "pick": ("pick", "site"),
    "alternate": ("alternate", "second pick"),
    "what": ("what", "thing"),
    "place": ("place", "grid reference", "reference"),
    "door": ("door", "door bearing"),
    "arrive": ("arrive", "arrival"),
    "ready": ("ready", "under shelter"),
    "reasons": ("reasons", "reason", "why"),
}
_COLUMN_BY_WORD = {word: column for column, words in _COLUMNS.items() for word in words}
_CLOCK = re.compile(r"^(\d{1,2})[:.hH ]?(\d{2})$")
_FAULTS_TOLD_MAX = 20


@dataclass
class _Reading:
    """What has been read of a table so far."""

    path: Path
    grid: Grid
    depart: datetime
    faults: list[str] = field(default_factory=list)
    found: dict[str, Submission] = field(default_factory=dict)
    first_row: dict[tuple[str, str], int] = field(default_factory=dict)


def read_csv(path: Path, grid: Grid, depart: datetime) -> tuple[Submission, ...]:
    """Answers out of a table.

    Parameters
    ----------
    path : Path
        With a heading: ``trainee`` and any of ``pick``, ``alternate``, ``arrive``, ``ready``, ``reasons``; for layouts
        also ``what``, ``place`` and ``door``, one thing a row. Columns apart by commas, semicolons or tabs.
    grid : Grid
        Of the ground, from which short references are filled in.
    depart : datetime
        Hours of the day follow it.

    Raises
    ------
    PlanFileError
        Something in it can't be read; every fault is told with its row, its column and what was read.
    """
    rows = _rows(path)
    columns = _columns(rows[0] if rows else [], path)
    reading = _Reading(path=path, grid=grid, depart=depart)
    for number, row in enumerate(rows[1:], start=2):
        if not any(cell.strip() for cell in row):
            continue
        if len(row) > len(columns):
            reading.faults.append(
                f"row {number} has {len(row)} fields under {len(columns)} headings: put a place with a comma in quotes"
            )
            continue
        cells = {column: cell.strip() for column, cell in zip(columns, row, strict=False)}
        _take_row(reading, number, cells)
    if reading.faults:
        told = reading.faults[:_FAULTS_TOLD_MAX]
        more = len(reading.faults) - len(told)
        told += [f"and {more} more"] if more else []
        raise PlanFileError("; ".join(told), where=str(path), fix="mend the table and read it again")
    return tuple(reading.found.values())


def _rows(path: Path) -> list[list[str]]:
    try:
        if path.stat().st_size > SIZE_MAX_BYTES:
            raise PlanFileError("the table is larger than 5 MB", where=str(path), fix="keep only the answers in it")
        data = path.read_bytes()
    except OSError as fault:
        raise PlanFileError(
            f"the file can't be read: {fault.strerror or fault}", where=str(path), fix="check the file and its rights"
        ) from fault
    text = _text(data)
    if "\0" in text:
        raise PlanFileError("this is no table of text", where=str(path), fix="save it as CSV")
    heading = text.split("\n", 1)[0]
    delimiter = max(",;\t", key=heading.count)
    try:
        rows = list(csv.reader(io.StringIO(text, newline=""), delimiter=delimiter))
    except csv.Error as fault:
        raise PlanFileError(f"the table is broken ({fault})", where=str(path), fix="save it as CSV again") from fault
    if len(rows) > ROW_COUNT_MAX:
        raise PlanFileError(
            f"the table has more than {ROW_COUNT_MAX} rows", where=str(path), fix="keep only the answers in it"
        )
    return rows


def _text(data: bytes) -> str:
    """Text as spreadsheets save it: UTF-8, UTF-16 with its mark, or the old one-byte letters."""
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        return data.decode("utf-16", errors="replace")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        return data.decode("cp1252", errors="replace")


def _columns(heading: list[str], path: Path) -> list[str]:
    columns, faults = [], []
    for number, word in enumerate(heading, start=1):
        plain = " ".join(word.replace("_", " ").split()).casefold()
        column = _COLUMN_BY_WORD.get(plain)
        if column is None and plain:
            near = difflib.get_close_matches(plain, list(_COLUMN_BY_WORD), n=1)
            meant = f" (is {near[0]} meant?)" if near else ""
            faults.append(f"row 1, column {number}: {word.strip()!r} is no heading that is known{meant}")
        elif column in columns:
            faults.append(f"row 1, column {number}: {word.strip()!r} stands there twice")
        columns.append(column or "")
    if "trainee" not in columns and not faults:
        faults.append("row 1: no heading says which column holds the trainee")
    if faults:
        known = ", ".join(_COLUMNS)
        raise PlanFileError("; ".join(faults), where=str(path), fix=f"use the headings {known}")
    return columns


def _take_row(reading: _Reading, number: int, cells: dict[str, str]) -> None:
    """Add what a row says to what its trainee has handed in."""
    name = " ".join(cells.get("trainee", "").split())
    if not name:
        reading.faults.append(f"row {number}, column trainee: nothing stands there")
        return
    key = name.casefold()
    held = reading.found.get(key)
    if held is None:
        held = Submission(handed_in=HandedIn(trainee=name), source=f"{reading.path.name}, row {number}")
    for column in ("pick", "alternate"):
        held = _with_place(reading, held, number, column, cells.get(column, ""))
    for column in ("arrive", "ready"):
        held = _with_time(reading, held, number, column, cells.get(column, ""))
    if cells.get("reasons"):
        held = _with_reasons(reading, held, number, cells["reasons"])
    if cells.get("what") or cells.get("place"):
        held = _with_thing(reading, held, number, cells)
    reading.found[key] = held


def _with_place(reading: _Reading, held: Submission, number: int, column: str, text: str) -> Submission:
    if not text or not _is_first(reading, held, number, column):
        return held
    try:
        read = read_place(text, reading.grid)
    except ReferenceFaultError as fault:
        reading.faults.append(f"row {number}, column {column}: {text!r}: {fault}")
        return held
    values: dict[str, Any] = {column: read.place}
    handed = replace(held.handed_in, **values)
    notes = (*held.notes, *([read.note] if read.note else []))
    return replace(held, handed_in=handed, precision_m=max(held.precision_m, read.precision_m), notes=notes)


def _with_time(reading: _Reading, held: Submission, number: int, column: str, text: str) -> Submission:
    if not text or not _is_first(reading, held, number, column):
        return held
    moment = _moment(text, reading.depart)
    if moment is None:
        reading.faults.append(f"row {number}, column {column}: {text!r} is no time of day such as 14:30")
        return held
    values: dict[str, Any] = {column: moment}
    return replace(held, handed_in=replace(held.handed_in, **values))


def _with_reasons(reading: _Reading, held: Submission, number: int, text: str) -> Submission:
    try:
        reasons = "\n".join(part for part in (held.handed_in.reasons, text) if part)
        return replace(held, handed_in=replace(held.handed_in, reasons=reasons))
    except SettingsError as fault:
        reading.faults.append(f"row {number}, column reasons: {fault.what}")
        return held


def _with_thing(reading: _Reading, held: Submission, number: int, cells: dict[str, str]) -> Submission:
    """A thing of the layout; ``pick`` and ``alternate`` may stand among them."""
    what, place = cells.get("what", ""), cells.get("place", "")
    if not what or not place:
        lacking = "what" if not what else "place"
        reading.faults.append(f"row {number}, column {lacking}: nothing stands there")
        return held
    if what.casefold() in ("pick", "alternate"):
        return _with_place(reading, held, number, what.casefold(), place)
    if not _is_first(reading, held, number, what):
        return held
    try:
        read = read_place(place, reading.grid)
    except ReferenceFaultError as fault:
        reading.faults.append(f"row {number}, column place: {place!r}: {fault}")
        return held
    door = _door(reading, number, cells.get("door", ""))
    layout = (*held.handed_in.layout, PlacedThing(what=what, place=read.place, door_deg=door))
    return replace(
        held,
        handed_in=replace(held.handed_in, layout=layout),
        precision_m=max(held.precision_m, read.precision_m),
    )


def _door(reading: _Reading, number: int, text: str) -> float | None:
    bare = text.removesuffix("°").strip().replace(",", ".")
    if not bare:
        return None
    if re.fullmatch(r"\d{1,3}(\.\d+)?", bare) and float(bare) <= 360.0:
        return float(bare)
    reading.faults.append(f"row {number}, column door: {text!r} is no bearing of 0 to 360°")
    return None


def _is_first(reading: _Reading, held: Submission, number: int, what: str) -> bool:
    """Whether a trainee tells a thing for the first time; a fault otherwise: two may share a name."""
    key = held.trainee.casefold(), what.casefold()
    first = reading.first_row.setdefault(key, number)
    if first == number:
        return True
    reading.faults.append(
        f"row {number}: {held.trainee} has {what} in row {first} already; give two people of one name a name each"
    )
    return False


def _moment(text: str, depart: datetime) -> datetime | None:
    """A time of day after the departure, or a whole date and time."""
    found = _CLOCK.match(text.strip())
    if found is not None:
        hour, minute = int(found.group(1)), int(found.group(2))
        if hour > 23 or minute > 59:
            return None
        moment = depart.replace(hour=hour, minute=minute, second=0, microsecond=0)
        return moment if moment >= depart else moment + timedelta(days=1)
    try:
        moment = datetime.fromisoformat(text.strip())
    except ValueError:
        return None
    return moment if moment.tzinfo is not None else moment.replace(tzinfo=depart.tzinfo)
