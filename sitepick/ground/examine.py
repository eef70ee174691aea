"""What files are, and whether they will serve; told, not raised."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import numpy as np

from sitepick.errors import GroundError
from sitepick.ground.fault import Fault
from sitepick.ground.gpx_file import is_gpx
from sitepick.ground.legend import legends_that_fit, read_legend
from sitepick.ground.local_file import RasterioError, file_faults, gdal_environment, is_raster
from sitepick.ground.model import FileFacts, Legend
from sitepick.ground.raster import COVER, ELEVATION, RasterFile, inspect_raster
from sitepick.ground.route_file import LINES_MAX, read_routes
from sitepick.ground.sample import Sample, is_no_height, sample
from sitepick.ground.tell import raster_sentence
from sitepick.ground.vector import layers_of
from sitepick.plan.file import local_path


def examine_files(paths: Sequence[str | Path], *, legend: str | Path | None = None) -> tuple[FileFacts, ...]:
    """Tell what files are and whether they will serve.

    Parameters
    ----------
    paths : sequence of str or Path
        As given on the command line.
    legend : str or Path, optional
        The legend that cover files are held against.

    Returns
    -------
    tuple of FileFacts
        One a file, in the order given; what is wrong with a file stands in its `faults`.

    Raises
    ------
    GroundError
        The legend itself can't be read.
    """
    chosen = read_legend(legend) if legend is not None else None
    with gdal_environment():
        return tuple(_examine(str(path), chosen) for path in paths)


def _examine(name: str, legend: Legend | None) -> FileFacts:
    faults = file_faults(name)
    if faults:
        return _refused(name, "unknown", faults)
    path = local_path(name, Path.cwd())
    if not is_raster(path):
        return _vector(name, path)
    file, faults = inspect_raster(path, ELEVATION)
    as_cover, _ = inspect_raster(path, COVER)
    if file is None and as_cover is None:
        return _refused(name, "unknown", faults)
    try:
        found = sample(as_cover or file)  # type: ignore[arg-type]  # one of the two is there
    except RasterioError:
        return _refused(
            name, "unknown", [Fault(where=name, what="the file is damaged or cut off", fix="copy it again")]
        )
    if as_cover is not None and _looks_like_cover(as_cover, found, legend):
        return _cover(name, as_cover, found, legend)
    if file is None:
        return _refused(name, ELEVATION, faults)
    return _elevation(name, file, found)


def _looks_like_cover(file: RasterFile, found: Sample, legend: Legend | None) -> bool:
    codes = found.codes
    if codes is None:
        return False
    return (
        file.dtype == "uint8"
        or bool(legends_that_fit(codes))
        or (legend is not None and bool(set(codes) & {cover.code for cover in legend.classes}))
    )


def _cover(name: str, file: RasterFile, found: Sample, legend: Legend | None) -> FileFacts:
    codes = found.codes or ()
    fitting = legends_that_fit(codes)
    told = ", ".join(map(str, codes))
    faults: list[str] = []
    if legend is not None:
        known = {cover.code for cover in legend.classes} | set(legend.nodata_codes)
        strange = [code for code in codes if code not in known]
        if strange:
            fix = f"use {' or '.join(fitting)}" if fitting else "make a legend of your own (.csv)"
            faults.append(f"The legend {legend.name} lacks the codes {', '.join(map(str, strange))}; {fix}.")
    fits = f"legends that fit: {', '.join(fitting)}" if fitting else "no legend that comes with the program fits"
    text = f"{raster_sentence(file)[:-1]}; cover, codes {told or 'none'}; {_gaps(found)}; {fits}."
    return FileFacts(path=name, role=COVER, text=text, faults=tuple(faults), legends=fitting)


def _elevation(name: str, file: RasterFile, found: Sample) -> FileFacts:
    heights_m = found.values * file.metres_per_unit + file.offset_m
    is_height = ~is_no_height(found.values, file)
    head = f"{raster_sentence(file)[:-1]}; elevation"
    faults: tuple[str, ...] = ()
    notes = [caution.text for caution in file.cautions]
    if not is_height.any():
        faults = ("It holds no height between -500 and 9000 m; check its unit, or name another file.",)
        return FileFacts(path=name, role=ELEVATION, text=f"{head}; {_gaps(found)}.", faults=faults)
    if not is_height.all():
        odd = np.unique(found.values[~is_height])[:3]
        notes.append(f"It holds {', '.join(f'{value:g}' for value in odd)}, taken as no data though not declared so.")
    known = heights_m[is_height]
    text = f"{head}, {known.min():.0f} to {known.max():.0f} m; {_gaps(found)}."
    return FileFacts(path=name, role=ELEVATION, text=" ".join([text, *notes]))


def _gaps(found: Sample) -> str:
    return f"{100 * found.gap_frac:.0f} % declared as no data"


def _vector(name: str, path: Path) -> FileFacts:
    if is_gpx(path):
        return _gpx(name, path)
    layers, faults = layers_of(path)
    if faults:
        return _refused(name, "unknown", faults)
    if not layers:
        fault = Fault(where=name, what="it holds no lines or areas", fix="name a file with lines or areas")
        return _refused(name, "vector", [fault])
    told = "; ".join(f"{layer.name}: {layer.feature_count} x {layer.kind}, {layer.crs}" for layer in layers)
    text = f"{layers[0].driver}, {told}."
    if sum(layer.feature_count for layer in layers) <= LINES_MAX:
        text = f"{text} {_as_route(path)}".rstrip()
    return FileFacts(path=name, role="vector", text=text)


def _gpx(name: str, path: Path) -> FileFacts:
    try:
        read = read_routes(path)
    except GroundError as fault:
        return _refused(name, "vector", [Fault(where=name, what=fault.what, fix=fault.fix)])
    notes = [*read.notes, *(caution.text for caution in read.cautions)]
    return FileFacts(path=name, role="vector", text=" ".join(["GPX, EPSG:4326.", *notes]))


def _as_route(path: Path) -> str:
    """What the file's lines are as routes; empty where it has areas only."""
    try:
        read = read_routes(path)
    except GroundError:
        return ""
    return " ".join(["As a route:", *read.notes, *(caution.text for caution in read.cautions)])


def _refused(name: str, role: str, faults: Sequence[Fault]) -> FileFacts:
    sentences = tuple(fault.sentence() for fault in faults)
    return FileFacts(path=name, role=role, text="It will not serve.", faults=sentences)
