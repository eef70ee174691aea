"""Files let fall on the window: plans, routes, rasters for the ground, or nothing of use."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from sitepick.desk.translation import tr
from sitepick.errors import GroundError, SitepickError
from sitepick.ground import examine_files
from sitepick.plan.file import looks_like_plan
from sitepick.plan.model import GroundSource, Plan


@dataclass(frozen=True, slots=True, kw_only=True)
class Dropped:
    """What files turned out to be.

    Attributes
    ----------
    plan_path, route_path : Path or None
        The first plan, and the first file that holds lines.
    ground : GroundSource or None
        The plan's ground with the rasters taken in; None where there were none.
    told : str
        What was taken and what wasn't, in sentences.
    """

    plan_path: Path | None = None
    route_path: Path | None = None
    ground: GroundSource | None = None
    told: str = ""


def dropped_files(paths: Sequence[Path], plan: Plan) -> Dropped:
    """Tell what files are good for.

    Raises
    ------
    GroundError
        None of them serves.
    """
    plans = [path for path in paths if path.suffix.lower() in (".geojson", ".json") and looks_like_plan(path)]
    if plans:
        return Dropped(plan_path=plans[0])
    facts = examine_files(paths)
    elevation = tuple(Path(fact.path) for fact in facts if fact.serves and fact.role == "elevation")
    cover = [fact for fact in facts if fact.serves and fact.role == "cover"]
    lines = [Path(fact.path) for fact in facts if fact.serves and fact.role == "vector"]
    refused = [f"{Path(fact.path).name}: {' '.join(fact.faults)}" for fact in facts if not fact.serves]
    if not (elevation or cover or lines):
        raise GroundError(
            tr("nothing here serves as ground, route or plan. {reasons}", reasons=" ".join(refused))
            .strip()
            .removesuffix("."),
            fix=tr("drop an elevation or land-cover raster, a track or a plan"),
        )
    ground, told = plan.ground, []
    if elevation:
        ground = replace(ground, elevation=elevation)
        told.append(tr("Heights come from {elevation}.", elevation=_names(elevation)))
    if cover:
        ground, said = _with_cover(ground, [Path(fact.path) for fact in cover], cover[0].legends)
        told.append(said)
    return Dropped(
        route_path=lines[0] if lines else None,
        ground=ground if ground != plan.ground else None,
        told=" ".join([*told, *refused]),
    )


def _with_cover(ground: GroundSource, paths: list[Path], legends: tuple[str, ...]) -> tuple[GroundSource, str]:
    """The ground with other cover; a legend that explains it goes along, the plan's own where that one does."""
    legend = ground.legend if ground.legend in legends or not legends else legends[0]
    names = _names(paths)
    try:
        return replace(ground, cover=tuple(paths), legend=legend), tr(
            "Cover comes from {names} with the legend {legend}.", names=names, legend=legend
        )
    except SitepickError as error:
        return ground, str(error)


def _names(paths: Sequence[Path]) -> str:
    return ", ".join(path.name for path in paths)
