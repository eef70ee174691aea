"""Land-cover legends: reading them, checking a user's own, and telling which could explain a raster."""

from __future__ import annotations

import csv
import difflib
import math
from collections.abc import Iterable
from dataclasses import replace
from functools import lru_cache
from pathlib import Path

from sitepick.errors import GroundError
from sitepick.ground.model import CoverClass, Legend
from sitepick.plan.model import LEGENDS
from sitepick.resource import resource_path

CODE_MAX = 65534
TREE_HEIGHT_MAX_M = 120.0
GOING_MAX = 20.0
SIZE_MAX_BYTES = 1_000_000
SHARE_SLACK = 0.011  # shares are written with two places

_SHARES = ("evergreen", "deciduous", "open", "wet", "water", "ice", "built", "canopy", "firewood")
_COLUMNS = ("code", "name", *_SHARES[:8], "tree_height_m", "going", "firewood")
_MAY_BE_EMPTY = ("evergreen", "deciduous", "canopy", "tree_height_m", "firewood")


def read_legend(name_or_path: str | Path) -> Legend:
    """Read a legend that comes with the program, or the user's own.

    Parameters
    ----------
    name_or_path : str or Path
        A name out of `LEGENDS`, or the path of a CSV file as ``resources/legends/README.md`` tells.

    Returns
    -------
    Legend

    Raises
    ------
    GroundError
        There is no such legend, or the file holds faults; all of them are told, by row and column.
    """
    if isinstance(name_or_path, str) and name_or_path in LEGENDS:
        return _own_legend(name_or_path)
    path = Path(name_or_path)
    if path.suffix.lower() != ".csv":
        near = difflib.get_close_matches(str(name_or_path), LEGENDS, n=1)
        hint = f"is {near[0]} meant? " if near else ""
        raise GroundError(
            f"the legend {str(name_or_path)!r} is not known",
            fix=f"{hint}use one of {', '.join(LEGENDS)}, or a legend of your own (.csv)",
        )
    return _read_csv(path, path.stem)


@lru_cache(maxsize=len(LEGENDS))
def _own_legend(name: str) -> Legend:
    return _read_csv(resource_path("legends", f"{name}.csv"), name)


def legends_that_fit(codes: Iterable[int]) -> tuple[str, ...]:
    """Which of the program's legends know every one of these codes.

    Parameters
    ----------
    codes : iterable of int
        As found in a raster.

    Returns
    -------
    tuple of str
        Names, in the order of `LEGENDS`; several when the codes alone can't tell, none when no
        code is a class of any.
    """
    wanted = set(codes)
    fitting = []
    for name in LEGENDS:
        legend = _own_legend(name)
        classes = {cover.code for cover in legend.classes}
        if wanted & classes and wanted <= classes | set(legend.nodata_codes):
            fitting.append(name)
    return tuple(fitting)


def with_evergreen_share(legend: Legend, evergreen_of_forest_frac: float | None) -> Legend:
    """The legend with crowns of unknown leaf type split as the user says; unchanged for None."""
    if evergreen_of_forest_frac is None:
        return legend
    share = evergreen_of_forest_frac
    classes = tuple(
        replace(
            cover,
            evergreen_frac=round(share * cover.canopy_frac, 6),
            deciduous_frac=round((1.0 - share) * cover.canopy_frac, 6),
        )
        if cover.evergreen_frac is None and cover.deciduous_frac is None and math.isfinite(cover.canopy_frac)
        else cover
        for cover in legend.classes
    )
    return replace(legend, classes=classes)


def _read_csv(path: Path, name: str) -> Legend:
    try:
        if path.stat().st_size > SIZE_MAX_BYTES:
            raise GroundError("this is too large for a legend", where=str(path), fix="name the legend's CSV file")
        lines = path.read_text(encoding="utf-8-sig").splitlines()
    except FileNotFoundError as fault:
        raise GroundError("there is no such legend", where=str(path), fix="check the name and the folder") from fault
    except UnicodeDecodeError as fault:
        raise GroundError("this is not a text file", where=str(path), fix="save the legend as CSV in UTF-8") from fault
    except OSError as fault:
        raise GroundError(
            f"the legend can't be read: {fault.strerror}", where=str(path), fix="check the file and its rights"
        ) from fault
    notes = dict(_note(line) for line in lines if line.startswith("#") and ":" in line)
    faults: list[str] = []
    nodata_codes = _nodata_codes(notes.get("nodata", ""), faults)
    classes = _classes(lines, faults)
    for code in sorted(set(nodata_codes) & {cover.code for cover in classes}):
        faults.append(f"code {code} is both a class and nodata")
    if faults:
        raise GroundError("; ".join(faults), where=str(path), fix="mend the legend")
    return Legend(name=name, title=notes.get("title", name), classes=tuple(classes), nodata_codes=nodata_codes)


def _note(line: str) -> tuple[str, str]:
    key, _, text = line.lstrip("# ").partition(":")
    return key.strip().lower(), text.strip()


def _nodata_codes(text: str, faults: list[str]) -> tuple[int, ...]:
    try:
        return tuple(int(word) for word in text.replace(";", ",").split(",") if word.strip())
    except ValueError:
        faults.append(f"nodata is {text!r}, not a list of whole numbers")
        return ()


def _classes(lines: list[str], faults: list[str]) -> list[CoverClass]:
    numbered = [(number, line) for number, line in enumerate(lines, start=1) if line.strip() and line[0] != "#"]
    rows = list(csv.reader(line for _, line in numbered))
    if not rows:
        faults.append("there are no rows")
        return []
    header = [name.strip().lower() for name in rows[0]]
    faults += [f"the column {name!r} is missing" for name in _COLUMNS if name not in header]
    for column in header:
        if column not in _COLUMNS:
            near = difflib.get_close_matches(column, _COLUMNS, n=1)
            faults.append(f"the column {column!r} is not known" + (f" (is {near[0]} meant?)" if near else ""))
    if len(set(header)) < len(header):
        faults.append("a column stands there twice")
    if faults:
        return []
    classes: list[CoverClass] = []
    seen: set[int] = set()
    for (number, _), row in zip(numbered[1:], rows[1:], strict=False):
        if len(row) != len(header):
            faults.append(f"row {number}: {len(row)} values for {len(header)} columns")
            continue
        cover = _class(dict(zip(header, map(str.strip, row), strict=True)), number, faults)
        if cover is None:
            continue
        if cover.code in seen:
            faults.append(f"row {number}, code: {cover.code} stands there twice")
        seen.add(cover.code)
        classes.append(cover)
    if not classes and not faults:
        faults.append("there are no classes")
    return classes


def _class(row: dict[str, str], number: int, faults: list[str]) -> CoverClass | None:
    before = len(faults)
    values = {name: _number(row, name, number, faults) for name in _COLUMNS if name not in ("code", "name")}
    code = int(row["code"]) if row["code"].isdecimal() else -1
    if not 0 <= code <= CODE_MAX:
        faults.append(f"row {number}, code: {row['code']!r} is not a whole number from 0 to {CODE_MAX}")
    if not row["name"]:
        faults.append(f"row {number}, name: empty")
    if len(faults) > before:
        return None
    _check_sums(values, number, faults)
    known = {name: math.nan if value is None else value for name, value in values.items()}
    return CoverClass(
        code=code,
        name=row["name"],
        evergreen_frac=values["evergreen"],
        deciduous_frac=values["deciduous"],
        open_frac=known["open"],
        wet_frac=known["wet"],
        water_frac=known["water"],
        ice_frac=known["ice"],
        built_frac=known["built"],
        canopy_frac=known["canopy"],
        tree_height_m=known["tree_height_m"],
        going_factor=known["going"],
        firewood_frac=known["firewood"],
    )


def _number(row: dict[str, str], name: str, number: int, faults: list[str]) -> float | None:
    text = row[name]
    if not text:
        if name not in _MAY_BE_EMPTY:
            faults.append(f"row {number}, {name}: empty")
        return None
    low, high = 0.0, 1.0
    if name == "tree_height_m":
        high = TREE_HEIGHT_MAX_M
    elif name == "going":
        low, high = 1.0, GOING_MAX
    try:
        value = float(text)
    except ValueError:
        faults.append(f"row {number}, {name}: {text!r} is not a number")
        return None
    if not low <= value <= high:
        faults.append(f"row {number}, {name}: {text} lies outside {low:g} to {high:g}")
    return value


def _check_sums(values: dict[str, float | None], number: int, faults: list[str]) -> None:
    """Kinds of ground exclude each other, and crowns are evergreen or deciduous."""
    ground = sum(values[name] or 0.0 for name in ("open", "wet", "water", "ice", "built"))
    if ground > 1.0 + SHARE_SLACK:
        faults.append(f"row {number}: open, wet, water, ice and built together are {ground:.2f}, more than 1")
    evergreen, deciduous, canopy = values["evergreen"], values["deciduous"], values["canopy"]
    if canopy is not None and (evergreen or 0.0) + (deciduous or 0.0) > canopy + SHARE_SLACK:
        faults.append(f"row {number}: evergreen and deciduous together are more than canopy")
