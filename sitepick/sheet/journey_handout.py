"""What a journey is handed out as, written into a folder: all of it or nothing."""

from __future__ import annotations

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


def write_journey(
    plan: Plan, folder: Path, *, draw_pdf: DrawPdf | None, watch: Watch | None = None, paper_name: str | None = None
) -> Journey:
    """Plan a journey and write it: the comparison, and a sheet and an order for each night of the route that is first.

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
    with whole_files(folder, error=SheetError) as staging:
        first = journey.routes[journey.order[0]].name

        def write_day(one: RouteJourney, day: Day, answer: Tonight) -> None:
            if one.name != first or day.night is None:
                return
            if draw_pdf is not None:
                draw_pdf(lay_out_sheet(answer, paper_name=paper_name), staging / f"day-{day.number}.pdf")
            (staging / f"day-{day.number}.md").write_text(order_text(answer), encoding="utf-8")

        journey = with_days(journey, watch=watch, on_day=write_day)
        _drop_other_days(staging, {day.number for day in journey.routes[journey.order[0]].nights})
        watch.tick("writing the comparison")
        if draw_pdf is not None:
            draw_pdf(lay_out_journey(journey, paper_name=paper_name), staging / SHEET_NAME)
        write_journey_geopackage(journey, staging / GEOPACKAGE_NAME)
        write_tonight_json(journey_document(journey), staging / JSON_NAME)
    return journey


def _drop_other_days(folder: Path, numbers: set[int]) -> None:
    """Take away sheets of days that were planned anew and end in no camp any more."""
    kept = {f"day-{number}" for number in numbers}
    for path in folder.glob("day-*"):
        if path.stem not in kept:
            path.unlink()
