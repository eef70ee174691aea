"""What an exercise hands out, written into a folder: all of it or nothing."""

from __future__ import annotations

import csv
import io
import json
import re
import unicodedata
from collections.abc import Callable, Sequence
from pathlib import Path

from sitepick.errors import SheetError
from sitepick.exercise.class_sheet import class_sheet
from sitepick.exercise.debrief import debrief_sheet
from sitepick.exercise.document import assessment_document, class_csv
from sitepick.exercise.model import Assessment, ClassResult
from sitepick.exercise.pack import pack_sheet
from sitepick.exercise.standard import Standard
from sitepick.exercise.trainee import trainee_plan
from sitepick.ground.model import Ground
from sitepick.output import whole_files
from sitepick.plan.exercise import ITEMS, Exercise
from sitepick.plan.file import write_plan
from sitepick.plan.model import Plan
from sitepick.sheet.model import Sheet
from sitepick.sheet.words import count_words
from sitepick.terrain.model import Terrain
from sitepick.work import Watch

JSON_NAME, CSV_NAME, CLASS_NAME = "assessment.json", "class.csv", "class.pdf"
PACK_NAME, ANSWERS_NAME = "pack.pdf", "answers.csv"

DrawPdf = Callable[[Sheet, Path], None]


def write_assessment(
    plan: Plan, standard: Standard, result: ClassResult, folder: Path, *, draw_pdf: DrawPdf | None, watch: Watch
) -> tuple[Path, ...]:  # fmt: skip
    """Write the class's table and document, its sheet, and a debrief a trainee.

    Parameters
    ----------
    plan : Plan
        The trainer's.
    standard : Standard
    result : ClassResult
    folder : Path
        Made when missing.
    draw_pdf : callable or None
        Draws a sheet into a file; None: no sheets.
    watch : Watch

    Raises
    ------
    SheetError
        The folder is read-only, the disk is full and the like; older files stay as they were.
    """
    with whole_files(folder, error=SheetError) as staging:
        document = assessment_document(plan, standard, result)
        text = json.dumps(document, ensure_ascii=False, indent=1, allow_nan=False) + "\n"
        (staging / JSON_NAME).write_text(text, encoding="utf-8")
        # With a mark in front, spreadsheets read the letters right.
        (staging / CSV_NAME).write_text(class_csv(result), encoding="utf-8-sig")
        if draw_pdf is not None:
            draw_pdf(class_sheet(plan, standard, result), staging / CLASS_NAME)
            names = _file_names([one.trainee for one in result.assessments], "debrief", ".pdf")
            for number, (one, name) in enumerate(zip(result.assessments, names, strict=True)):
                watch.tick("drawing debriefs", number, len(names))
                draw_pdf(debrief_sheet(plan, standard, one), staging / name)
        written = sorted(path.name for path in staging.iterdir())
    return tuple(folder / name for name in written)


def write_pack(
    plan: Plan, ground: Ground, terrain: Terrain, folder: Path, *, draw_pdf: DrawPdf | None, watch: Watch
) -> tuple[Path, ...]:  # fmt: skip
    """Write what trainees are handed: the pack on paper, a copy of the plan for each, a table to collect answers in.

    Parameters
    ----------
    plan : Plan
        The trainer's.
    ground : Ground
        Read for the trainee's copy of the plan, as is `terrain`.
    terrain : Terrain
    folder : Path
        Made when missing.
    draw_pdf : callable or None
        Draws a sheet into a file; None: no paper.
    watch : Watch

    Raises
    ------
    SheetError
        The folder is read-only, the disk is full and the like; older files stay as they were.
    """
    exercise, copy = plan.exercise, trainee_plan(plan)
    worth = {item: exercise.rubric.points(item) for item in ITEMS if exercise.asks_for(item)}
    with whole_files(folder, error=SheetError) as staging:
        watch.tick("drawing the pack")
        if draw_pdf is not None:
            draw_pdf(pack_sheet(copy, ground, terrain, worth, paper_name=plan.handout.paper), staging / PACK_NAME)
        if exercise.given.has_map:
            for trainee, name in _copies(exercise.trainees):
                # Paths stand relative to the folder that the file will lie in.
                write_plan(trainee_plan(plan, trainee), staging / name, beside=folder)
        (staging / ANSWERS_NAME).write_text(answers_csv(exercise), encoding="utf-8-sig")
        written = sorted(path.name for path in staging.iterdir())
    return tuple(folder / name for name in written)


def _copies(trainees: Sequence[str]) -> list[tuple[str, str]]:
    """Whose copy, and the file it goes into; one for everybody where nobody is named."""
    if not trainees:
        return [("", "trainee.geojson")]
    return list(zip(trainees, _file_names(trainees, "trainee", ".geojson"), strict=True))


def answers_csv(exercise: Exercise) -> str:
    """A table to collect answers in: a heading, and a row a trainee."""
    out = io.StringIO()
    table = csv.writer(out, lineterminator="\n")
    asked = exercise.asked
    heads = ["trainee", "pick"]
    heads += ["alternate"] if asked.has_alternate else []
    heads += ["arrive", "ready"] if asked.has_timetable else []
    heads += ["reasons"] if asked.has_reasons else []
    heads += ["what", "place", "door"] if asked.has_layout else []
    table.writerow(heads)
    for name in exercise.trainees:
        table.writerow([name, *("" for _ in heads[1:])])
    return out.getvalue()


def _file_names(names: Sequence[str], before: str, ending: str) -> list[str]:
    """File names that every system takes, none twice."""
    made: list[str] = []
    for name in names:
        plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode()
        bare = re.sub(r"[^a-z0-9]+", "-", plain.lower()).strip("-") or str(len(made) + 1)
        stem = f"{before}-{bare[:60]}"
        number = sum(other == stem or other.startswith(f"{stem}~") for other in made)
        made.append(f"{stem}~{number + 1}" if number else stem)
    return [f"{stem}{ending}" for stem in made]


def class_lines(result: ClassResult) -> tuple[str, ...]:
    """The class as lines for a terminal."""
    width = max((len(one.trainee) for one in result.assessments), default=0)
    lines = [_line(one, width) for one in result.assessments]
    lines += [f"{name}: nothing handed in." for name in result.absent]
    if result.spread is not None:
        spread = result.spread
        lines.append(
            f"{count_words(spread.count, 'answer')}: from {spread.lowest:.0f} to {spread.highest:.0f} %, in the middle "
            f"{spread.middle:.0f} %."
        )
    if result.missed:
        label, count = result.missed[0]
        lines.append(f"Most missed: {label}, by {count} of {len(result.assessments)}.")
    return (*lines, *(f"Note: {note}" for note in result.notes))


def _line(one: Assessment, width: int) -> str:
    told = f"{one.trainee:<{width}}  {one.percent:3.0f} %  {one.points:.1f} of {one.worth:g} points"
    if one.pick is None:
        return f"{told}  no pick"
    if one.pick.broken:
        return f"{told}  {one.pick.broken[0].sentence}"
    return f"{told}  place {one.pick.rank} of {one.pick.place_count}, score {one.pick.score:.0f}"
