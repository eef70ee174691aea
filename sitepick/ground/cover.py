"""Class codes under a legend: which class each cell is, and what the legend leaves open."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from sitepick.caution import Caution
from sitepick.errors import GroundError
from sitepick.ground.legend import legends_that_fit
from sitepick.ground.model import NOT_KNOWN, CodeArray, IndexArray, Legend
from sitepick.ground.raster import RasterFile

UNEXPLAINED_AREA_MAX = 0.5
UNEXPLAINED_CODES_MAX = 0.5
UNEXPLAINED_AREA_MIN = 0.05  # codes on less ground than this don't make a legend wrong
TOLD_CODES_MAX = 8


def check_legend(codes: CodeArray, legend: Legend, files: Sequence[RasterFile]) -> None:
    """Refuse a legend that doesn't explain most of the cover.

    Parameters
    ----------
    codes : CodeArray
        Class code plus one; 0 where not known.
    legend : Legend
    files : sequence of RasterFile

    Raises
    ------
    GroundError
        No cover is known at all, or the legend is not the one these codes were made with.
    """
    counts = _counts(codes)
    where = ", ".join(str(file.path) for file in files)
    if not counts:
        raise GroundError(
            "there is no known land cover on the ground around the route",
            where=where,
            fix="name cover files that cover the same ground as the elevation",
        )
    known = {cover.code for cover in legend.classes} | set(legend.nodata_codes)
    strange = {code: count for code, count in counts.items() if code not in known}
    area = sum(strange.values()) / sum(counts.values())
    share = len(strange) / len(counts)
    if area <= UNEXPLAINED_AREA_MAX and (share <= UNEXPLAINED_CODES_MAX or area <= UNEXPLAINED_AREA_MIN):
        return
    fitting = legends_that_fit(counts)
    fix = f"set the legend to {' or '.join(fitting)}" if fitting else "make a legend of your own (.csv) for these codes"
    raise GroundError(
        f"the legend {legend.name} doesn't know the codes {_listed(sorted(strange))}, {_percent(area)} of the area",
        where=where,
        fix=fix,
    )


def classified(codes: CodeArray, legend: Legend) -> tuple[IndexArray, list[Caution]]:
    """Index into the legend's classes for each cell, and what the legend leaves open."""
    counts = _counts(codes)
    table = np.full(max([*counts, *(cover.code for cover in legend.classes)], default=0) + 2, NOT_KNOWN, np.int16)
    for index, cover in enumerate(legend.classes):
        table[cover.code + 1] = index
    known = {cover.code for cover in legend.classes} | set(legend.nodata_codes)
    strange = sorted(code for code in counts if code not in known)
    cautions = []
    if strange:
        told = ", ".join(f"{code} ({_percent(counts[code] / codes.size)})" for code in strange[:TOLD_CODES_MAX])
        more = f" and {len(strange) - TOLD_CODES_MAX} more" if len(strange) > TOLD_CODES_MAX else ""
        better = legends_that_fit(counts)
        hint = f" The legend {' or '.join(better)} knows every code here: see which one is meant." if better else ""
        cautions.append(
            Caution(
                kind="data",
                text=(
                    f"The legend {legend.name} lacks the codes {told}{more} of the area; that ground counts as "
                    f"unknown.{hint}"
                ),
            )
        )
    cautions += _leaf_cautions(counts, legend, codes.size)
    return table[codes], cautions


def _leaf_cautions(counts: dict[int, int], legend: Legend, cell_count: int) -> list[Caution]:
    silent = [cover for cover in legend.classes if cover.evergreen_frac is None and cover.code in counts]
    if not silent:
        return []
    area = sum(counts[cover.code] for cover in silent) / cell_count
    names = ", ".join(f"{cover.name} ({cover.code})" for cover in silent[:TOLD_CODES_MAX])
    return [
        Caution(
            kind="data",
            text=(
                f"The cover can't tell evergreen from leafless trees in {names}, {_percent(area)} of the area; "
                "give evergreen_of_forest_frac in the plan if you know it, and look at the trees."
            ),
        )
    ]


def _counts(codes: CodeArray) -> dict[int, int]:
    """How many cells carry each code; unknown cells left out."""
    counts = np.bincount(codes.ravel())
    return {code - 1: int(counts[code]) for code in np.flatnonzero(counts).tolist() if code > 0}


def _listed(codes: Sequence[int]) -> str:
    told = ", ".join(map(str, codes[:TOLD_CODES_MAX]))
    return told + (f" and {len(codes) - TOLD_CODES_MAX} more" if len(codes) > TOLD_CODES_MAX else "")


def _percent(share: float) -> str:
    return f"{100 * share:.0f} %" if share >= 0.01 else "under 1 %"
