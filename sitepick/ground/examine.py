"""What files are, and whether they will serve; told, not raised."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
import numpy.typing as npt
from rasterio.windows import Window

from sitepick.ground.align import CODE_MAX, HEIGHT_MAX_M, HEIGHT_MIN_M, SENTINELS
from sitepick.ground.fault import Fault
from sitepick.ground.legend import legends_that_fit, read_legend
from sitepick.ground.local_file import RasterioError, file_faults, gdal_environment, is_raster, open_raster
from sitepick.ground.model import FileFacts, Legend
from sitepick.ground.mosaic import read_part
from sitepick.ground.raster import COVER, ELEVATION, RasterFile, inspect_raster
from sitepick.ground.tell import raster_sentence
from sitepick.ground.vector import layers_of
from sitepick.plan.file import local_path

SAMPLE_SIDE = 512
SAMPLE_WHOLE_MAX = 16_000_000  # pixels read through and thinned; larger files without overviews are sampled in pieces
PIECE_SIDE = 128
PIECES_ACROSS = 5
CODE_COUNT_MAX = 64  # more different whole numbers than this are heights


@dataclass(frozen=True, slots=True, kw_only=True)
class _Sample:
    """Some of a raster's values."""

    values: npt.NDArray[Any]
    gap_frac: float

    @property
    def codes(self) -> tuple[int, ...] | None:
        """The different whole numbers, when they could be class codes."""
        found = np.unique(self.values)
        is_code = len(found) <= CODE_COUNT_MAX and (found == np.round(found)).all()
        if not is_code or not len(found) or found[0] < 0 or found[-1] > CODE_MAX:
            return None
        return tuple(int(code) for code in found)


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
        sample = _sample(as_cover or file)  # type: ignore[arg-type]  # one of the two is there
    except RasterioError:
        return _refused(
            name, "unknown", [Fault(where=name, what="the file is damaged or cut off", fix="copy it again")]
        )
    if as_cover is not None and _looks_like_cover(as_cover, sample, legend):
        return _cover(name, as_cover, sample, legend)
    if file is None:
        return _refused(name, ELEVATION, faults)
    return _elevation(name, file, sample)


def _looks_like_cover(file: RasterFile, sample: _Sample, legend: Legend | None) -> bool:
    codes = sample.codes
    if codes is None:
        return False
    return (
        file.dtype == "uint8"
        or bool(legends_that_fit(codes))
        or (legend is not None and set(codes) <= {cover.code for cover in legend.classes})
    )


def _sample(file: RasterFile) -> _Sample:
    with open_raster(file.path) as dataset:
        if file.has_overviews or file.rows * file.cols <= SAMPLE_WHOLE_MAX:
            shape = (min(file.rows, SAMPLE_SIDE), min(file.cols, SAMPLE_SIDE))
            parts = [read_part(dataset, file, Window(0, 0, file.cols, file.rows), shape)]
        else:
            parts = [
                read_part(dataset, file, Window(col, row, PIECE_SIDE, PIECE_SIDE), (PIECE_SIDE, PIECE_SIDE))
                for row in np.linspace(0, file.rows - PIECE_SIDE, PIECES_ACROSS).astype(int).tolist()
                for col in np.linspace(0, file.cols - PIECE_SIDE, PIECES_ACROSS).astype(int).tolist()
                if row >= 0 and col >= 0
            ]
    values = np.concatenate([values.ravel() for values, _ in parts])
    is_gap = np.concatenate([is_gap.ravel() for _, is_gap in parts])
    return _Sample(values=values[~is_gap], gap_frac=float(is_gap.mean()))


def _cover(name: str, file: RasterFile, sample: _Sample, legend: Legend | None) -> FileFacts:
    codes = sample.codes or ()
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
    text = f"{raster_sentence(file)[:-1]}; cover, codes {told or 'none'}; {_gaps(sample)}; {fits}."
    return FileFacts(path=name, role=COVER, text=text, faults=tuple(faults), legends=fitting)


def _elevation(name: str, file: RasterFile, sample: _Sample) -> FileFacts:
    heights_m = sample.values * file.metres_per_unit + file.offset_m
    is_height = (heights_m >= HEIGHT_MIN_M) & (heights_m <= HEIGHT_MAX_M) & ~np.isin(sample.values, SENTINELS)
    head = f"{raster_sentence(file)[:-1]}; elevation"
    faults: tuple[str, ...] = ()
    notes = [caution.text for caution in file.cautions]
    if not is_height.any():
        faults = ("It holds no height between -500 and 9000 m; check its unit, or name another file.",)
        return FileFacts(path=name, role=ELEVATION, text=f"{head}; {_gaps(sample)}.", faults=faults)
    if not is_height.all():
        odd = np.unique(sample.values[~is_height])[:3]
        notes.append(f"It holds {', '.join(f'{value:g}' for value in odd)}, taken as no data though not declared so.")
    known = heights_m[is_height]
    text = f"{head}, {known.min():.0f} to {known.max():.0f} m; {_gaps(sample)}."
    return FileFacts(path=name, role=ELEVATION, text=" ".join([text, *notes]))


def _gaps(sample: _Sample) -> str:
    return f"{100 * sample.gap_frac:.0f} % declared as no data"


def _vector(name: str, path: Path) -> FileFacts:
    layers, faults = layers_of(path)
    if faults:
        return _refused(name, "unknown", faults)
    if not layers:
        fault = Fault(where=name, what="it holds no lines or areas", fix="name a file with lines or areas")
        return _refused(name, "vector", [fault])
    told = "; ".join(f"{layer.name}: {layer.feature_count} x {layer.kind}, {layer.crs}" for layer in layers)
    return FileFacts(path=name, role="vector", text=f"{layers[0].driver}, {told}.")


def _refused(name: str, role: str, faults: Sequence[Fault]) -> FileFacts:
    sentences = tuple(fault.sentence() for fault in faults)
    return FileFacts(path=name, role=role, text="It will not serve.", faults=sentences)
