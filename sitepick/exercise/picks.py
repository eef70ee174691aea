"""Answers as they come in: trainees' plan files, tables, GPX, or a folder of them."""

from __future__ import annotations

import difflib
import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from sitepick.camp.model import FACILITY_KINDS
from sitepick.errors import GroundError, PlanFileError
from sitepick.exercise.model import Submission
from sitepick.exercise.picks_csv import read_csv
from sitepick.exercise.trainee import changed_parts
from sitepick.grid import Grid
from sitepick.ground.gpx_file import is_gpx, read_gpx
from sitepick.ground.raw_line import RawPlace
from sitepick.plan.exercise import HandedIn, PlacedThing
from sitepick.plan.file import looks_like_plan, read_plan
from sitepick.plan.model import Plan

_ENDINGS = (".csv", ".tsv", ".txt", ".gpx", ".geojson", ".json")
_PICK_WORDS = {"pick": "pick", "site": "pick", "alternate": "alternate"}
_PART_WORDS = {
    "name": "the title", "unit": "the unit", "weather": "the weather", "march": "the march", "route": "the route",
    "camp": "the camp's rules", "load": "the loads", "areas": "the marked ground",
    "exercise": "the problem and its marks", "avalanche": "the avalanche limits",
}  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Collected:
    """Everything that came in.

    Attributes
    ----------
    submissions : tuple of Submission
        Every name once; blank ones are left out.
    absent : tuple of str
        Of the plan's list, or by a blank answer: who handed in nothing.
    notes : tuple of str
        What must be said of the whole, sentences.
    """

    submissions: tuple[Submission, ...]
    absent: tuple[str, ...]
    notes: tuple[str, ...]


def collect(paths: Sequence[Path], plan: Plan, grid: Grid) -> Collected:
    """Read answers, and see whose are missing.

    Parameters
    ----------
    paths : sequence of Path
        Files, and folders whose files are read; may be empty where the plan holds answers.
    plan : Plan
        The trainer's.
    grid : Grid
        Of the ground.

    Raises
    ------
    PlanFileError
        A file can't be read, or there is nothing in all of them; every fault is told.
    """
    found = [Submission(handed_in=one, source="taken down by hand") for one in plan.exercise.answers]
    faults: list[str] = []
    told: list[str] = []
    for path in _files(paths):
        try:
            submissions, notes = _read(path, plan, grid)
            found += submissions
            told += notes
        except (PlanFileError, GroundError) as fault:
            faults.append(f"{fault.where or path}: {fault.what}")
    if faults:
        raise PlanFileError("; ".join(faults), fix="mend what is named, and hand it in again")
    named, shared_names = _with_own_names(found)
    filled = [one for one in named if not one.handed_in.is_blank]
    if not filled and not plan.exercise.trainees:
        raise PlanFileError(
            "nothing was handed in: there is no answer in it",
            where=str(paths[0]) if paths else None,
            fix="name the file with the answers",
        )
    filled_names = {one.trainee.casefold() for one in filled}
    absent = [name for name in plan.exercise.trainees if name.casefold() not in filled_names]
    listed = {name.casefold() for name in plan.exercise.trainees}
    absent += [
        one.trainee for one in named if one.handed_in.is_blank and one.trainee.casefold() not in filled_names | listed
    ]
    return Collected(
        submissions=tuple(sorted(filled, key=lambda one: one.trainee.casefold())),
        absent=tuple(dict.fromkeys(absent)),
        notes=(*told, *shared_names, *_strangers(filled, plan)),
    )


def _files(paths: Sequence[Path]) -> list[Path]:
    files: list[Path] = []
    for path in paths:
        if path.is_dir():
            inside = sorted(one for one in path.iterdir() if one.suffix.lower() in _ENDINGS and one.is_file())
            if not inside:
                raise PlanFileError(
                    "nothing was handed in: no plan, table or GPX in this folder", where=str(path),
                    fix="put the answers there",
                )  # fmt: skip
            files += inside
        elif path.is_file():
            files.append(path)
        else:
            raise PlanFileError("there is no such file", where=str(path), fix="check the name and the folder")
    return list(dict.fromkeys(files))


def _read(path: Path, plan: Plan, grid: Grid) -> tuple[tuple[Submission, ...], tuple[str, ...]]:
    """Answers of one file, and what must be said of it as a whole."""
    if path.suffix.lower() in (".geojson", ".json"):
        if not looks_like_plan(path):
            raise PlanFileError("this is no trainee's plan", where=str(path), fix="hand in the plan file of the pack")
        return (_of_plan(path, plan),), ()
    if is_gpx(path):
        return _of_gpx(path)
    return read_csv(path, grid, plan.march.depart), ()


def _of_plan(path: Path, plan: Plan) -> Submission:
    copy = read_plan(path)
    handed_in = copy.exercise.handed_in or HandedIn()
    if not handed_in.trainee.strip():
        handed_in = replace(handed_in, trainee=path.stem)
    if not handed_in.layout:
        handed_in = replace(handed_in, layout=_put_by_hand(copy))
    changed = [_PART_WORDS[name] for name in changed_parts(plan, copy)]
    notes: tuple[str, ...] = ()
    if changed:
        notes = (
            f"The file isn't as it was given: {', '.join(changed)} changed. The answer is held against what was given.",
        )
    return Submission(handed_in=handed_in, source=path.name, notes=notes)


def _put_by_hand(copy: Plan) -> tuple[PlacedThing, ...]:
    """What a trainee has put in its place on the desk's own map, posts aside."""
    names = dict(FACILITY_KINDS)
    return tuple(
        PlacedThing(what=pin.name if pin.kind == "shelter" else names[pin.kind], place=pin.place)
        for pin in copy.camp.pins
        if pin.kind != "post"
    )


def _of_gpx(path: Path) -> tuple[tuple[Submission, ...], tuple[str, ...]]:
    """One trainee's pick, alternate and things where a point is called so; otherwise a pick a point."""
    held = read_gpx(path)
    places, nameless = held.places, held.nameless
    if not (places or nameless):
        raise PlanFileError(
            "there is no point in it", where=str(path),
            fix="mark the pick as a point named 'pick', or with the trainee's name",
        )  # fmt: skip
    for number, place in enumerate((*places, *nameless), start=1):
        if not (math.isfinite(place.lon_deg) and math.isfinite(place.lat_deg)):
            raise PlanFileError(
                f"the point {place.name or number!r} has no latitude or longitude", where=str(path),
                fix="export the points again",
            )  # fmt: skip
    if any(place.name.casefold() in _PICK_WORDS for place in places):
        return (_of_own_gpx(path, places),), _left_out(path, len(nameless))
    numbered, notes = _numbered(path, nameless, is_alone=not places)
    return (
        tuple(
            Submission(handed_in=HandedIn(trainee=place.name, pick=(place.lon_deg, place.lat_deg)), source=path.name)
            for place in (*places, *numbered)
        ),
        notes,
    )


def _of_own_gpx(path: Path, places: Sequence[RawPlace]) -> Submission:
    """One trainee's answer: a point called so is the pick or the alternate, any other a thing of the camp."""
    handed_in = HandedIn(trainee=path.stem)
    for place in places:
        at = (place.lon_deg, place.lat_deg)
        column = _PICK_WORDS.get(place.name.casefold())
        if column is None:
            handed_in = replace(handed_in, layout=(*handed_in.layout, PlacedThing(what=place.name, place=at)))
        elif getattr(handed_in, column) is not None:
            raise PlanFileError(
                f"two points in it are called {place.name!r}", where=str(path), fix="keep the one that is meant"
            )
        else:
            values: dict[str, Any] = {column: at}
            handed_in = replace(handed_in, **values)
    return Submission(handed_in=handed_in, source=path.name)


def _numbered(
    path: Path, nameless: Sequence[RawPlace], *, is_alone: bool
) -> tuple[tuple[RawPlace, ...], tuple[str, ...]]:
    """Points without a name under the file's name, numbered in its order; a lone one needs no number."""
    if not nameless:
        return (), ()
    if is_alone and len(nameless) == 1:
        note = f"The one point in {path.name} has no name: it is taken for {path.stem}'s pick."
        return (replace(nameless[0], name=path.stem),), (note,)
    named = tuple(replace(place, name=f"{path.stem} {number}") for number, place in enumerate(nameless, start=1))
    if len(named) == 1:
        told = f"One point in {path.name} has no name: it is taken for the pick of {named[0].name}."
    else:
        told = (
            f"{len(named)} points in {path.name} have no name: in the file's order they are taken for the picks of "
            f"{named[0].name} to {named[-1].name}."
        )
    return named, (told,)


def _left_out(path: Path, count: int) -> tuple[str, ...]:
    """Points without a name beside a named pick: nothing says what stands there."""
    if not count:
        return ()
    told = "One point has" if count == 1 else f"{count} points have"
    return (f"{told} no name in {path.name}, so nothing says what stands there: left out of the layout.",)


def _with_own_names(found: Sequence[Submission]) -> tuple[list[Submission], list[str]]:
    """Every answer under a name of its own; two with one name are told apart by where they came from."""
    groups: dict[str, list[Submission]] = {}
    for one in found:
        groups.setdefault(one.trainee.casefold(), []).append(one)
    named, notes = [], []
    for alike in groups.values():
        if len(alike) == 1:
            named.append(alike[0])
            continue
        sources = [one.source for one in alike]
        notes.append(
            f"{len(alike)} answers carry the name {alike[0].trainee} ({', '.join(sources)}): they are told apart by "
            "where they came from."
        )
        named += [
            replace(one, handed_in=replace(one.handed_in, trainee=f"{one.trainee} ({number})"))
            for number, one in enumerate(alike, start=1)
        ]
    return named, notes


def _strangers(found: Sequence[Submission], plan: Plan) -> list[str]:
    """Names that aren't on the plan's list, where it has one."""
    names = plan.exercise.trainees
    known = {name.casefold(): name for name in names}
    notes = []
    for one in found:
        if not names or one.trainee.casefold() in known:
            continue
        near = difflib.get_close_matches(one.trainee.casefold(), list(known), n=1)
        meant = f": is {known[near[0]]} meant?" if near else "."
        notes.append(f"{one.trainee} is not on the list of trainees{meant}")
    return notes
