"""What the ground stage hands on: one aligned metric grid of height and cover, and what is known of its files."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from sitepick.caution import Caution
from sitepick.grid import DoubleArray, FloatArray, Grid, MaskArray

IndexArray = npt.NDArray[np.int16]
CodeArray = npt.NDArray[np.int32]

NOT_KNOWN = -1


@dataclass(frozen=True, slots=True, kw_only=True)
class CoverClass:
    """One class of a land-cover legend. Shares are of the ground's area, 0-1; None: not known.

    Attributes
    ----------
    code : int
        As it stands in the raster.
    name : str
        As told to people.
    evergreen_frac, deciduous_frac : float or None
        Under evergreen and under leaf-shedding crowns; None where the legend doesn't know.
    open_frac, wet_frac, water_frac, ice_frac, built_frac : float
        Dry treeless ground, bog and marsh, open water, glacier and lasting snow, built ground.
    canopy_frac : float
        Under any tree crown; evergreen and deciduous together where both are known. NaN: not known.
    tree_height_m : float
        Typical height of the trees, 0 where there are none. NaN: not known.
    going_factor : float
        Time against open ground of the same slope, >= 1.
    firewood_frac : float
        How much dead wood is to be found, 0-1. NaN: not known.
    """

    code: int
    name: str
    evergreen_frac: float | None
    deciduous_frac: float | None
    open_frac: float
    wet_frac: float
    water_frac: float
    ice_frac: float
    built_frac: float
    canopy_frac: float
    tree_height_m: float
    going_factor: float
    firewood_frac: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Legend:
    """What the numbers in a cover raster mean.

    Attributes
    ----------
    name : str
        As the plan names it, or the file's name.
    title : str
        As told to people.
    classes : tuple of CoverClass
        One a code, no code twice.
    nodata_codes : tuple of int
        Codes that stand for "not known".
    """

    name: str
    title: str
    classes: tuple[CoverClass, ...]
    nodata_codes: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class FileFacts:
    """What a file is and whether it will serve.

    Attributes
    ----------
    path : str
        As given.
    role : str
        ``"elevation"``, ``"cover"``, ``"canopy height"``, ``"streams"``, ``"tracks"``, ``"no-go"``;
        from `examine_files` also ``"vector"`` and ``"unknown"``.
    text : str
        One sentence: format, projection, cell size, extent.
    faults : tuple of str
        Why it will not serve, a sentence each; empty when it will.
    legends : tuple of str
        Legends that explain every code found, for a cover file.
    """

    path: str
    role: str
    text: str
    faults: tuple[str, ...] = ()
    legends: tuple[str, ...] = ()

    @property
    def serves(self) -> bool:
        """Whether the file can be used as it is."""
        return not self.faults


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Ground:
    """The land on one metric grid. Arrays are read-only, of the grid's shape.

    Attributes
    ----------
    grid : Grid
    elevation_m : float32
        NaN where not known.
    cover_index : int16
        Index into ``legend.classes``; `NOT_KNOWN` where not known.
    legend : Legend
    canopy_height_m : float32 or None
        From the user's own raster; NaN where not known.
    is_stream, is_track, is_no_go : bool
        Mapped streams, mapped tracks and roads, ground marked or read as out of bounds.
    stream_lines, track_lines : tuple of float64 arrays of shape (n, 2)
        The same as lines, for drawing; grid coordinates.
    elevation_kind : str
        ``"terrain"``, ``"surface"`` or ``"unknown"``.
    source_cell_m : float
        Coarsest cell of the elevation files, on the ground.
    files : tuple of FileFacts
    cautions : tuple of Caution
    """

    grid: Grid
    elevation_m: FloatArray
    cover_index: IndexArray
    legend: Legend
    canopy_height_m: FloatArray | None
    is_stream: MaskArray
    is_track: MaskArray
    is_no_go: MaskArray
    stream_lines: tuple[DoubleArray, ...] = ()
    track_lines: tuple[DoubleArray, ...] = ()
    elevation_kind: str = "unknown"
    source_cell_m: float = 10.0
    files: tuple[FileFacts, ...] = ()
    cautions: tuple[Caution, ...] = ()

    def __post_init__(self) -> None:
        arrays = (
            self.elevation_m, self.cover_index, self.canopy_height_m,
            self.is_stream, self.is_track, self.is_no_go,
        )  # fmt: skip
        for array in arrays:
            if array is None:
                continue
            if array.shape != self.grid.shape:
                raise ValueError(f"a layer of shape {array.shape} doesn't fit a grid of shape {self.grid.shape}")
            array.flags.writeable = False

    def share(self, name: str, rows: slice = slice(None)) -> FloatArray:
        """One column of the legend, spread over the ground.

        Parameters
        ----------
        name : str
            Attribute of `CoverClass`, such as ``"evergreen_frac"`` or ``"tree_height_m"``.
        rows : slice, optional
            The grid's rows to spread it over; all of them if not told.

        Returns
        -------
        ndarray of the shape of those rows, float32
            NaN where the cover or the column is not known.
        """
        values = [getattr(cover, name) for cover in self.legend.classes]
        table = np.array([np.nan if value is None else value for value in values] + [np.nan], dtype=np.float32)
        return table[self.cover_index[rows]]

    def is_known(self) -> MaskArray:
        """Cells whose height and cover are both known."""
        known: MaskArray = np.isfinite(self.elevation_m) & (self.cover_index != NOT_KNOWN)
        return known
