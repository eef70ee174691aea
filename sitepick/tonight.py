"""The main job: where to stop tonight, from a plan to a camp laid out.

Strings the stages together. A stage's earlier result is used again when the part of the plan that it
read, and what it was built on, are the same: moving a weight scores again and never reads a raster.
"""

from __future__ import annotations

from dataclasses import dataclass

from sitepick.camp import Camp, lay_out_camp
from sitepick.caution import Caution
from sitepick.ground import Ground, ground_window, read_ground
from sitepick.march import March, plan_march
from sitepick.plan.doubt import plan_cautions
from sitepick.plan.model import Plan
from sitepick.sites import Sites, find_sites
from sitepick.terrain import Terrain, read_terrain
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
    """

    plan: Plan
    ground: Ground
    terrain: Terrain
    march: March
    sites: Sites
    camp: Camp | None

    def data_cautions(self) -> tuple[Caution, ...]:
        """Cautions that hold for the whole answer, not for one site or leg; none told twice."""
        told = dict.fromkeys(
            plan_cautions(self.plan)
            + self.ground.cautions
            + self.terrain.cautions
            + self.march.cautions
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

    if old is not None and ground is old.ground and plan.weather == old.plan.weather:
        terrain = old.terrain
    else:
        terrain = read_terrain(plan, ground, watch=watch)

    if old is not None and terrain is old.terrain and _march_inputs(old.plan) == _march_inputs(plan):
        march = old.march
    else:
        march = plan_march(plan, ground, terrain, watch=watch)

    if old is not None and march is old.march and _site_inputs(old.plan) == _site_inputs(plan):
        sites = old.sites
    else:
        earlier = old.sites if old is not None and march is old.march else None
        sites = find_sites(plan, ground, terrain, march, watch=watch, earlier=earlier)

    if not sites.sites:
        camp = None
    elif old is not None and sites is old.sites and plan.camp == old.plan.camp:
        camp = old.camp
    else:
        camp = lay_out_camp(plan, ground, terrain, march, sites, watch=watch)
    watch.tick("done", 1, 1)
    return Tonight(plan=plan, ground=ground, terrain=terrain, march=march, sites=sites, camp=camp)


def _ground_inputs(plan: Plan) -> object:
    return plan.ground, plan.areas, ground_window(plan.route)


def _march_inputs(plan: Plan) -> object:
    return plan.march, plan.weather, plan.route


def _site_inputs(plan: Plan) -> object:
    return plan.preferences, plan.unit, plan.camp
