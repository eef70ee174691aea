"""Looking through one factor at a time: its picture over the map, and what the colours mean.

Made beside the window's thread. The colours and the legend are those of the exported layers.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from PySide6.QtGui import QImage

from sitepick.desk.map_picture import picture_levels
from sitepick.desk.translation import marked, tr
from sitepick.grid import Grid
from sitepick.sheet.palette import Palette
from sitepick.work import Watch

if TYPE_CHECKING:
    from sitepick.sheet.layer_look import LayerArray, Ramp
    from sitepick.tonight import Tonight


@dataclass(frozen=True, slots=True, kw_only=True)
class Factor:
    """Something to look through.

    Attributes
    ----------
    key : str
    label : str
        In the menu and over the legend.
    unit : str
        ``"1"`` for shares, empty for kinds.
    """

    key: str
    label: str
    unit: str = ""


FACTORS = (
    Factor(key="evergreen_frac", label=marked("Evergreen cover"), unit="1"),
    Factor(key="slope_30m_deg", label=marked("Slope over 30 m"), unit="°"),
    Factor(key="wind_share", label=marked("Wind at a shelter, share of the open wind"), unit="1"),
    Factor(key="water_min", label=marked("Minutes to water and back"), unit="min"),
    Factor(key="can_pitch", label=marked("Ground to pitch on")),
    Factor(key="moving_min", label=marked("Time on the move from the start"), unit="min"),
    Factor(key="cold_pool_frac", label=marked("Cold hollows"), unit="1"),
    Factor(key="avalanche_angle_deg", label=marked("Avalanche ground, line up to the release"), unit="°"),
    Factor(key="is_wet", label=marked("Bog, marsh and flood ground")),
    Factor(key="sun_hours", label=marked("Hours of sun on the day of arrival"), unit="h"),
    Factor(key="seen_share", label=marked("Seen from tracks, route and observers"), unit="1"),
    Factor(key="cover_code", label=marked("Land cover")),
    Factor(key="elevation_m", label=marked("Height above the sea"), unit="m"),
)


# What ground without a value means, where it isn't simply not known; such layers have this swatch only.
_NO_VALUE = {"water_min": marked("farther, or not looked at"), "moving_min": marked("not reached by camp-by")}


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LayerPicture:
    """A factor as the map shows it.

    Attributes
    ----------
    factor : Factor
    grid : Grid
    levels : tuple of QImage
        As `map_picture.picture_levels` makes them.
    ramp : Ramp or None
        Of values.
    swatches : tuple of (colour, words)
    """

    factor: Factor
    grid: Grid
    levels: tuple[QImage, ...]
    ramp: Ramp | None
    swatches: tuple[tuple[str, str], ...]


def factor_named(key: str) -> Factor:
    """The factor of a key."""
    return next(factor for factor in FACTORS if factor.key == key)


def draw_layer(answer: Tonight, key: str, palette: Palette, watch: Watch) -> LayerPicture:
    """Draw one factor of an answer.

    Parameters
    ----------
    answer : Tonight
    key : str
        Of one of `FACTORS`.
    palette : Palette
    watch : Watch
        Can stop it; hours of sun and sight take a while.
    """
    from sitepick.sheet.layer_look import look_at

    factor = factor_named(key)
    label = tr(factor.label)
    watch.tick(tr("looking through {label}", label=f"{label[:1].lower()}{label[1:]}"))
    values = _values(answer, key, watch)
    look = look_at(key, values, factor.unit, answer.ground, palette)
    return LayerPicture(
        factor=factor,
        grid=answer.ground.grid,
        levels=picture_levels(look.picture),
        ramp=look.ramp,
        swatches=tuple((colour, _NO_VALUE.get(key, words)) for colour, words in look.swatches),
    )


def _values(answer: Tonight, key: str, watch: Watch) -> LayerArray:
    if key == "sun_hours":
        from sitepick.terrain.sunshine import read_sun_hours

        return read_sun_hours(answer.plan, answer.ground, watch=watch)
    if key == "seen_share":
        from sitepick.terrain.sight import read_sight

        return read_sight(answer.plan, answer.ground, watch=watch)
    if key == "water_min":
        return answer.sites.water_min
    if key == "moving_min":
        minutes = answer.march.moving_min
        return np.where(np.isfinite(minutes), minutes, np.float32(np.nan))
    if key == "cover_code":
        codes = np.array([cover.code for cover in answer.ground.legend.classes] + [-1], dtype=np.int16)
        return codes[answer.ground.cover_index]
    if key == "elevation_m":
        return answer.ground.elevation_m
    if key == "can_pitch":
        return answer.sites.can_pitch.astype(np.uint8)
    layer = getattr(answer.terrain, key)
    return layer.astype(np.uint8) if layer.dtype == bool else layer  # type: ignore[no-any-return]
