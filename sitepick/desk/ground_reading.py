"""What is known of one point of the ground, in the person's terms. No Qt."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from sitepick.desk.display import shown
from sitepick.desk.translation import marked, tr
from sitepick.desk.words import clock
from sitepick.grid import Grid

if TYPE_CHECKING:
    from sitepick.tonight import Tonight

NOT_KNOWN = marked("not known")
COLD_FROM_FRAC = 0.6


def reading_at(answer: Tonight | None, grid: Grid, east_m: float, north_m: float) -> tuple[tuple[str, str], ...]:
    """Rows of label and value for a point; only its reference where no ground is read there.

    Parameters
    ----------
    answer : Tonight or None
    grid : Grid
        The projection in use.
    east_m, north_m : float
        Grid coordinates.
    """
    rows = [("", shown().place(grid, east_m, north_m))]
    if answer is None or not answer.ground.grid.contains(east_m, north_m):
        return tuple(rows)
    cell = answer.ground.grid.cell_at(east_m, north_m)
    ground, terrain = answer.ground, answer.terrain
    index = int(ground.cover_index[cell])
    arrive = answer.march.arrive_at(*cell)
    rows += [
        (tr("Height"), _number(float(ground.elevation_m[cell]), "{:.0f} m")),
        (tr("Slope"), _number(float(terrain.slope_deg[cell]), "{:.1f}°")),
        (tr("Cover"), ground.legend.classes[index].name if index >= 0 else tr(NOT_KNOWN)),
        (tr("Wind at shelter"), _wind(float(terrain.wind_share[cell]), answer.plan.weather.mean_wind_kmh)),
        (tr("Water and back"), _water(answer, cell)),
        (tr("Look out for"), _hazards(answer, cell)),
        (tr("Reached"), clock(arrive) if arrive is not None else tr("not before camp-by")),
    ]
    return tuple((label, shown().said(value)) for label, value in rows)


def sun_row(answer: Tonight, east_m: float, north_m: float) -> tuple[str, str] | None:
    """Hours of sun at a point on the day of arrival; None off the ground. Looks along the whole horizon."""
    from sitepick.terrain.sunshine import sun_at

    grid = answer.ground.grid
    if not grid.contains(east_m, north_m):
        return None
    sun = sun_at(answer.plan, answer.ground, grid.cell_at(east_m, north_m))
    if sun.hours is None or sun.first is None or sun.last is None:
        return tr("Sun"), tr(NOT_KNOWN) if sun.hours is None else tr("none")
    return tr("Sun"), f"{sun.hours:.1f} h, {clock(sun.first)}–{clock(sun.last)}"


def _water(answer: Tonight, cell: tuple[int, int]) -> str:
    """Minutes to water and back; what the search looked at only."""
    minutes = float(answer.sites.water_min[cell])
    return (
        tr("{minutes:.0f} min", minutes=minutes)
        if math.isfinite(minutes)
        else tr("over {water_limit_min:.0f} min", water_limit_min=answer.sites.water_limit_min)
    )


def _hazards(answer: Tonight, cell: tuple[int, int]) -> str:
    """What speaks against the ground itself, the gravest first."""
    terrain = answer.terrain
    told = [
        words
        for layer, words in (
            (answer.ground.is_no_go, tr("no-go area")),
            (terrain.is_avalanche_release, tr("avalanche release")),
            (terrain.is_avalanche_runout, tr("avalanche runout")),
            (terrain.is_water, tr("open water or ice")),
            (terrain.is_wet, tr("wet ground")),
            (terrain.unsafe_unknown, tr("not known whether safe")),
        )
        if layer[cell]
    ]
    if float(terrain.cold_pool_frac[cell]) >= COLD_FROM_FRAC:
        told.append(tr("cold hollow"))
    return ", ".join(told) or tr("nothing the maps know of")


def _number(value: float, form: str) -> str:
    return form.format(value) if math.isfinite(value) else tr(NOT_KNOWN)


def _wind(share: float, open_kmh: float | None) -> str:
    if not math.isfinite(share):
        return tr(NOT_KNOWN)
    if open_kmh is None:
        return tr("{share:.0f} % of the open wind", share=100 * share)
    unit, factor, _ = shown().unit("km/h")  # here, since `said` knows only English between two figures
    return tr("{wind:.0f} of {open:.0f} {unit}", wind=share * open_kmh * factor, open=open_kmh * factor, unit=unit)
