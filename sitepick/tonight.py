"""The main job: where to stop tonight, from a plan to a camp laid out.

Strings the stages together. A stage's earlier result is used again when the part of the plan that it
read, and what it was built on, are the same: moving a weight scores again and never reads a raster.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from sitepick.camp import Camp, lay_out_camp
from sitepick.camp.site_ground import drawn_round
from sitepick.caution import Caution
from sitepick.grid import FloatArray
from sitepick.ground import Ground, ground_window, read_ground
from sitepick.march import March, Needs, Stop, minutes_to_and_back, plan_march, read_needs
from sitepick.march.sled_load import march_with_loads
from sitepick.plan.doubt import plan_cautions
from sitepick.plan.exercise import acting_marks
from sitepick.plan.exercise_edits import acting_plan
from sitepick.plan.facility import FacilitySettings
from sitepick.plan.layout import LayoutSettings
from sitepick.plan.model import CampSettings, LonLat, Plan
from sitepick.plan.pitching import pitching_time_min
from sitepick.plan.security import SecuritySettings
from sitepick.plan.work_order import WorkSettings
from sitepick.sites import Sites, find_sites, rank_again
from sitepick.sites.model import Site
from sitepick.terrain import Terrain, read_terrain
from sitepick.terrain.lookers import observer_cautions
from sitepick.work import Watch


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Tonight:
    """The answer, with everything it was built on.

    Attributes
    ----------
    plan : Plan
    ground : Ground
    terrain : Terrain
    march : March
    sites : Sites
    camp : Camp or None
        None where no site was found.
    needs : Needs or None
        Effort, food, water, fuel and loads as far as the pick; None where nobody asked.
    """

    plan: Plan
    ground: Ground
    terrain: Terrain
    march: March
    sites: Sites
    camp: Camp | None
    needs: Needs | None = None

    def data_cautions(self) -> tuple[Caution, ...]:
        """Cautions that hold for the whole answer, not for one site or leg; none told twice."""
        told = dict.fromkeys(
            plan_cautions(self.plan)
            + self.ground.cautions
            + self.terrain.cautions
            + observer_cautions(acting_plan(self.plan), self.ground)
            + self.march.cautions
            + (() if self.needs is None else self.needs.cautions)
            + self.sites.cautions
        )
        return tuple(told)


def tonight(plan: Plan, *, watch: Watch | None = None, previous: Tonight | None = None) -> Tonight:
    """Pick tonight's site and lay out the camp on it.

    Parameters
    ----------
    plan : Plan
    watch : Watch, optional
        Hears of the progress and can stop the work.
    previous : Tonight, optional
        An earlier answer; its stages are used again where what they read is unchanged.

    Returns
    -------
    Tonight
        ``camp`` is None and ``sites.hindrances`` says why where no site was found.

    Raises
    ------
    SitepickError
        Something in the plan or its files will not serve.
    work.JobStopped
        The watch was stopped.
    """
    watch = watch or Watch()
    old = previous

    if old is not None and _ground_inputs(old.plan) == _ground_inputs(plan):
        ground = old.ground
    else:
        ground = read_ground(plan, watch=watch)

    if old is not None and ground is old.ground and _terrain_inputs(old.plan) == _terrain_inputs(plan):
        terrain = old.terrain
    else:
        terrain = read_terrain(plan, ground, watch=watch)

    return tonight_on(plan, ground, terrain, watch=watch, previous=old)


def tonight_on(
    plan: Plan,
    ground: Ground,
    terrain: Terrain,
    *,
    watch: Watch | None = None,
    previous: Tonight | None = None,
    march: March | None = None,
    stop: LonLat | None = None,
) -> Tonight:
    """The same over ground and terrain that were read already.

    Parameters
    ----------
    plan : Plan
    ground : Ground
    terrain : Terrain
    watch : Watch, optional
    previous : Tonight, optional
        As for `tonight`.
    march : March, optional
        Of this plan over this terrain, where it was planned already.
    stop : (lon_deg, lat_deg), optional
        Where the night falls, whatever the ranks say: the nearest site to it comes first and keeps its rank's number.

    Returns
    -------
    Tonight

    Raises
    ------
    MarchError
        The route starts where nobody can march, or the day leaves no time for it.
    work.JobStopped
        The watch was stopped.
    """
    watch = watch or Watch()
    asked, plan = plan, acting_plan(plan)
    old = None if previous is None else replace(previous, plan=acting_plan(previous.plan))
    if march is None and old is not None and terrain is old.terrain and _march_inputs(old.plan) == _march_inputs(plan):
        march = old.march
    elif march is None:
        march = plan_march(plan, ground, terrain, watch=watch)

    if old is not None and march is old.march and old.sites.is_drawn and _site_inputs(old.plan) == _site_inputs(plan):
        sites = old.sites
    else:
        earlier = old.sites if old is not None and march is old.march else None
        sites = find_sites(plan, ground, terrain, march, watch=watch, earlier=earlier)

    if stop is not None:
        sites = _stopping_at(sites, stop)
    if old is not None and march is old.march and sites is old.sites and plan.load == old.plan.load:
        needs = old.needs
    else:
        needs = read_needs(plan, ground, terrain, march, stop=_stop(sites))

    if not sites.sites:
        camp = None
    elif old is not None and sites is old.sites and _camp_inputs(old.plan) == _camp_inputs(plan):
        camp = old.camp
    else:
        camp = lay_out_camp(plan, ground, terrain, march, sites, watch=watch)
        sites = drawn_round(sites, camp, ground.grid)
    watch.tick("done", 1, 1)
    return Tonight(plan=asked, ground=ground, terrain=terrain, march=march, sites=sites, camp=camp, needs=needs)


def way_to_water_min(
    plan: Plan, ground: Ground, terrain: Terrain, *, march: March | None = None, watch: Watch | None = None
) -> FloatArray:  # fmt: skip
    """Walking minutes from every cell to the nearest water that may be drawn and back, without sled or vehicle.

    Parameters
    ----------
    plan : Plan
        How far the unit fetches water, and its march.
    ground : Ground
    terrain : Terrain
    march : March, optional
        Of the same plan, if there is one already.
    watch : Watch, optional

    Returns
    -------
    ndarray of the grid's shape, float32
        NaN past the longest way that counts for the score, and where no way leads.

    Raises
    ------
    MarchError
        The route starts where nobody can march, or the day leaves no time for it.
    work.JobStopped
        The watch was stopped.
    """
    march = march or plan_march(acting_plan(plan), ground, terrain, watch=watch)
    water = plan.preferences.water
    limit_min = max(water.curve[-1][0], water.limit_max or 0.0)
    return minutes_to_and_back(march, ground, terrain, terrain.to_fetch, limit_min=limit_min, watch=watch)


def tonight_at_once(plan: Plan, previous: Tonight) -> Tonight | None:
    """The answer under other weights from what was measured before, within a moment.

    Parameters
    ----------
    plan : Plan
    previous : Tonight

    Returns
    -------
    Tonight or None
        Ranked among the places measured for `previous`; its camp is laid out only where the pick stays the same place.
        `tonight` gives the whole answer. None where more than weights and marks of sites has changed.
    """
    sites = rank_again(acting_plan(plan), previous.ground, previous.terrain, previous.march, previous.sites)
    if sites is None:
        return None
    before = previous.sites.sites[:1]
    is_same_pick = bool(before and sites.sites) and _is_same_ground(before[0], sites.sites[0])
    camp, needs = (previous.camp, previous.needs) if is_same_pick else (None, None)
    if camp is not None:
        sites = drawn_round(sites, camp, previous.ground.grid)
    if needs is None:
        needs = read_needs(plan, previous.ground, previous.terrain, previous.march, stop=_stop(sites))
    return replace(previous, plan=plan, sites=sites, camp=camp, needs=needs)


def _stopping_at(sites: Sites, stop: LonLat) -> Sites:
    """The sites with the one nearest to a place first; the one that was first is the one to fall back on then."""
    if not sites.sites:
        return sites
    east_m, north_m = (float(value) for value in sites.grid.from_lonlat(*stop))
    chosen = min(sites.sites, key=lambda site: math.hypot(site.east_m - east_m, site.north_m - north_m))
    best = sites.sites[0]
    if chosen is best:
        return sites
    others = tuple(site for site in sites.sites if site is not chosen)
    words = f"By itself the day would end at site {best.rank}; the journey stops here for the sake of its other nights."
    return replace(sites, sites=(chosen, *others), alternate_rank=best.rank, alternate_words=words)


def _is_same_ground(one: Site, other: Site) -> bool:
    """Whether two sites take the same cells, however they are drawn."""
    return one.cells is not None and other.cells is not None and np.array_equal(one.cells, other.cells)


def _ground_inputs(plan: Plan) -> object:
    closed = tuple(area for area in plan.areas if area.role == "no_go"), _marked(plan, "closes", "encloses")
    return plan.ground, closed, ground_window(plan.route)


def _terrain_inputs(plan: Plan) -> object:
    return plan.weather, plan.avalanche, _marked(plan, "waters")


def _marked(plan: Plan, *acts: str) -> object:
    """Places of the marks that do such things to the answer."""
    marks = (mark for act in acts for mark in acting_marks(plan.exercise, plan.march.depart, act))
    return tuple((mark.kind, mark.shape, mark.points) for mark in marks)


def _march_inputs(plan: Plan) -> object:
    return march_with_loads(plan), plan.weather, plan.route, pitching_time_min(plan)


def _site_inputs(plan: Plan) -> object:
    own = tuple(area for area in plan.areas if area.role == "site")
    camp = replace(
        plan.camp, pins=(), facilities=FacilitySettings(), security=SecuritySettings(), work=WorkSettings(),
        layout=LayoutSettings(),
    )  # fmt: skip # a site is found without knowing where the latrine will be
    return plan.preferences, plan.unit, camp, plan.site_marks, plan.observers, own


def _camp_inputs(plan: Plan) -> CampSettings:
    """What the camp is laid out by: everything but what was found on the spot."""
    return replace(plan.camp, work=replace(plan.camp.work, ticks=()))


def _stop(sites: Sites) -> Stop | None:
    """The pick, as far as the unit's needs depend on it."""
    if not sites.sites:
        return None
    pick = sites.sites[0]
    row, col = sites.grid.cell_at(pick.east_m, pick.north_m)
    water = pick.measure("water")
    return Stop(
        row=row,
        col=col,
        leave_m=pick.leave_distance_m,
        detour_min=pick.detour_min,
        moving_min=pick.moving_min,
        water_min=water.value,
        water_words=water.sentence,
    )
