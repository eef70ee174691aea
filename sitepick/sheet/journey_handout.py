"""What a journey is handed out as, written into a folder: all of it or nothing."""

from __future__ import annotations

import re
from collections.abc import Sequence
from pathlib import Path

from sitepick.errors import SheetError
from sitepick.journey.journey import plan_journey, with_days
from sitepick.journey.model import Day, Journey, RouteJourney
from sitepick.output import whole_files
from sitepick.plan.model import Plan
from sitepick.sheet.document import write_tonight_json
from sitepick.sheet.handout import DrawPdf
from sitepick.sheet.journey_document import journey_document
from sitepick.sheet.journey_geopackage import write_journey_geopackage
from sitepick.sheet.journey_sheet import lay_out_journey
from sitepick.sheet.layout import lay_out_sheet
from sitepick.sheet.order import order_text
from sitepick.tonight import Tonight
from sitepick.work import Watch

JSON_NAME, GEOPACKAGE_NAME, SHEET_NAME = "journey.json", "journey.gpkg", "comparison.pdf"
_NAME_LENGTH_MAX = 60  # of a route's name in a file's


def write_journey(
    plan: Plan, folder: Path, *, draw_pdf: DrawPdf | None, watch: Watch | None = None, paper_name: str | None = None
) -> Journey:
    """Plan a journey and write it: the comparison, and a sheet and an order for each night of every route.

    Parameters
    ----------
    plan : Plan
    folder : Path
        Made when missing. Files of the same names are replaced once everything is written.
    draw_pdf : callable or None
        Draws a sheet into a file, as `paint.write_pdf` does; None: no sheets.
    watch : Watch, optional
    paper_name : str, optional
        One of `plan.handout.PAPERS`; the plan's own when left out.

    Raises
    ------
    SitepickError
        Something in the plan or its files will not serve, or the folder can't be written; older files stay.
    work.JobStopped
        The watch was stopped; older files stay as they were.
    """
    watch = watch or Watch()
    journey = plan_journey(plan, watch=watch)
    stems = day_file_stems([one.name for one in journey.routes])
    with whole_files(folder, error=SheetError) as staging:

        def write_day(one: RouteJourney, day: Day, answer: Tonight) -> None:
            if day.night is None:
                return
            name = f"{stems[one.name]}{day.number}"
            if draw_pdf is not None:
                draw_pdf(lay_out_sheet(answer, paper_name=paper_name), staging / f"{name}.pdf")
            (staging / f"{name}.md").write_text(order_text(answer), encoding="utf-8")

        journey = with_days(journey, watch=watch, on_day=write_day)
        _drop_other_days(staging, {f"{stems[one.name]}{day.number}" for one in journey.routes for day in one.nights})
        watch.tick("writing the comparison")
        if draw_pdf is not None:
            draw_pdf(lay_out_journey(journey, paper_name=paper_name), staging / SHEET_NAME)
        write_journey_geopackage(journey, staging / GEOPACKAGE_NAME)
        write_tonight_json(journey_document(journey), staging / JSON_NAME)
    return journey


def day_file_stems(names: Sequence[str]) -> dict[str, str]:
    """What the files of each route's days begin with, before the day's number.

    Parameters
    ----------
    names : sequence of str
        Of the journey's routes, in the plan's order; no two alike.

    Returns
    -------
    dict from a route's name to str
        ``"day-"`` where there is one route only; else the name in small letters, with hyphens for whatever a file's
        name had better not hold, and a number where two come out alike.
    """
    if len(names) == 1:
        return {names[0]: "day-"}
    stems: dict[str, str] = {}
    for name in names:
        plain = re.sub(r"[\W_]+", "-", name.lower()).strip("-")[:_NAME_LENGTH_MAX].strip("-") or "route"
        stem, count = f"{plain}-day-", 1
        while stem in stems.values():
            count += 1
            stem = f"{plain}-{count}-day-"
        stems[name] = stem
    return stems


def _drop_other_days(folder: Path, kept: set[str]) -> None:
    """Take away sheets of days that were planned anew and end in no camp any more."""
    for path in folder.glob("*day-*"):
        if path.stem not in kept:
            path.unlink()
