"""What can be done with the route at a place of the map: the entries of its menu. No widgets."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial

from sitepick.desk.edit import PlanEdit
from sitepick.desk.translation import marked, tr
from sitepick.plan.edits import (
    with_route_cut,
    with_route_point_added,
    with_route_point_removed,
    with_route_turned,
)
from sitepick.plan.model import LonLat, Route


@dataclass(frozen=True, slots=True, kw_only=True)
class NameWish:
    """To give a point of the route another name."""

    index: int


@dataclass(frozen=True, slots=True, kw_only=True)
class WayWish:
    """To have a way looked for from one of the route's points.

    Attributes
    ----------
    index : int
        The point that it starts from.
    goal : (lon_deg, lat_deg) or None
        None: the route's next point.
    """

    index: int
    goal: LonLat | None = None


Entry = tuple[str, PlanEdit | NameWish | WayWish]

TURN = PlanEdit(text=marked("Turn the route round"), change=with_route_turned)


def point_entries(route: Route, index: int) -> list[Entry]:
    """What can be done with one of the route's points."""
    last = len(route.points) - 1
    name = route.names_by_point[index]
    entries: list[Entry] = [
        (tr("Rename {name} …", name=name) if name else tr("Name this point …"), NameWish(index=index))
    ]
    if last > 1:
        change = partial(with_route_point_removed, index=index)
        entries.append(
            (tr("Remove this point"), PlanEdit(text=tr("Remove point {index}", index=index + 1), change=change))
        )
    if index < last:
        entries.append((tr("Find a quick way to the next point"), WayWish(index=index)))
    if 0 < index < last:
        edit = PlanEdit(
            text=tr("End the route at point {index}", index=index + 1), change=partial(with_route_cut, index=index)
        )
        entries.append((tr("End the route here, keep the rest as another"), edit))
    return [*entries, (tr(TURN.text), TURN)]


def place_entries(route: Route, stretch: int | None, place: LonLat) -> list[Entry]:
    """What can be done with the route from a place beside or, with the point that would follow, on its line."""
    last = len(route.points) - 1

    def added(index: int) -> PlanEdit:
        change = partial(with_route_point_added, index=index, point=place)
        return PlanEdit(text=tr("Add point {index}", index=index + 1), change=change)

    if stretch is not None:
        return [(tr("Add a point here"), added(stretch)), (tr(TURN.text), TURN)]
    return [
        (tr("Find a quick way from the route's end to here"), WayWish(index=last, goal=place)),
        (tr("Lead the route straight on to here"), added(last + 1)),
        (tr("Start the route here"), added(0)),
        (tr(TURN.text), TURN),
    ]
