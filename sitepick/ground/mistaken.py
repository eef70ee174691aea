"""Files given for what they are not."""

from __future__ import annotations

from collections.abc import Sequence

from sitepick.ground.fault import Fault
from sitepick.ground.legend import legends_that_fit
from sitepick.ground.local_file import RasterioError
from sitepick.ground.raster import RasterFile
from sitepick.ground.sample import sample

_FEWEST_CODES = 3
_FILLED_FRAC_MAX = 0.5  # heights in whole metres leave no gaps between lowest and highest; class codes do


def cover_given_as_elevation(elevation: Sequence[RasterFile], cover: Sequence[RasterFile]) -> list[Fault]:
    """Elevation files that hold classes of land cover.

    Parameters
    ----------
    elevation, cover : sequence of RasterFile

    Returns
    -------
    list of Fault
        A file that is named as cover too, or whose few whole numbers are codes of a legend with gaps between
        them, as no ground has.
    """
    covers = {file.path for file in cover}
    faults = []
    for file in elevation:
        if file.path in covers:
            what = "it is named both as elevation and as cover"
        elif _holds_classes(file):
            what = "it holds classes of land cover, not heights"
        else:
            continue
        faults.append(Fault(where=str(file.path), what=what, fix="name the elevation raster instead"))
    return faults


def _holds_classes(file: RasterFile) -> bool:
    try:
        codes = sample(file).codes
    except RasterioError:
        return False  # told where the file is read in earnest
    if codes is None or len(codes) < _FEWEST_CODES or not legends_that_fit(codes):
        return False
    return len(codes) <= _FILLED_FRAC_MAX * (codes[-1] - codes[0] + 1)
