"""What is handed out, written into a folder: all of it or nothing."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from sitepick.caution import Caution
from sitepick.errors import SheetError
from sitepick.output import whole_files
from sitepick.sheet.document import tonight_document, write_tonight_json
from sitepick.sheet.exchange import write_exchange_files
from sitepick.sheet.geopackage import write_geopackage
from sitepick.sheet.layers import score_geotiff
from sitepick.sheet.layout import lay_out_sheet
from sitepick.sheet.model import Sheet
from sitepick.sheet.order import order_text, plain_order_text
from sitepick.tonight import Tonight
from sitepick.work import Watch

JSON_NAME, GEOPACKAGE_NAME, ORDER_NAME, SHEET_NAME = "tonight.json", "tonight.gpkg", "order.md", "sheet.pdf"
GEOJSON_NAME, KML_NAME, GPX_NAME, PLAIN_NAME = "tonight.geojson", "tonight.kml", "tonight.gpx", "order.txt"
SCORE_NAME, LAYERS_NAME = "score.tif", "layers"

DrawPdf = Callable[[Sheet, Path], None]

_STEP_COUNT = 5


def write_handout(
    answer: Tonight,
    folder: Path,
    *,
    draw_pdf: DrawPdf | None,
    watch: Watch | None = None,
    no_sheet_because: str = "Qt could not be loaded.",
    paper_name: str | None = None,
) -> tuple[Path, ...]:
    """Write the answer, the map layers in four formats, the score as a raster, the order twice and the sheet.

    Parameters
    ----------
    answer : Tonight
    folder : Path
        Made when missing. Files of the same names are replaced once everything is written.
    draw_pdf : callable or None
        Draws a sheet into a file, as `paint.write_pdf` does; None: no sheet, and a caution says so.
    watch : Watch, optional
        Ticked before each file.
    no_sheet_because : str
        A sentence, told where `draw_pdf` is None.
    paper_name : str, optional
        One of `plan.handout.PAPERS`; the plan's own when left out.

    Returns
    -------
    tuple of Path
        The files written.

    Raises
    ------
    SheetError
        The folder is read-only, the disk is full and the like; older files stay as they were.
    work.JobStopped
        The watch was stopped; older files stay as they were.
    """
    watch = watch or Watch()
    cautions: tuple[Caution, ...] = ()
    if draw_pdf is None:
        cautions = (_no_sheet_caution(folder, no_sheet_because),)
    with whole_files(folder, error=SheetError) as staging:
        watch.tick("writing the map layers", 0, _STEP_COUNT)
        write_geopackage(answer, staging / GEOPACKAGE_NAME)
        watch.tick("writing the files for hand-held maps", 1, _STEP_COUNT)
        write_exchange_files(answer, staging / GEOJSON_NAME, staging / KML_NAME, staging / GPX_NAME)
        (staging / SCORE_NAME).write_bytes(score_geotiff(answer))
        watch.tick("drawing the sheet", 2, _STEP_COUNT)
        if draw_pdf is not None:
            draw_pdf(lay_out_sheet(answer, paper_name=paper_name), staging / SHEET_NAME)
        watch.tick("writing the order", 3, _STEP_COUNT)
        (staging / ORDER_NAME).write_text(order_text(answer), encoding="utf-8")
        (staging / PLAIN_NAME).write_text(plain_order_text(answer), encoding="utf-8")
        watch.tick("writing the answer", 4, _STEP_COUNT)
        write_tonight_json(tonight_document(answer, more_cautions=cautions), staging / JSON_NAME)
        watch.tick("writing the answer", _STEP_COUNT, _STEP_COUNT)
        names = sorted(path.name for path in staging.iterdir())
    return tuple(folder / name for name in names)


def _no_sheet_caution(folder: Path, because: str) -> Caution:
    older = f" {SHEET_NAME} in this folder is an older one." if (folder / SHEET_NAME).exists() else ""
    return Caution(kind="data", text=f"No sheet: {because}{older}")
