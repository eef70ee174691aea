"""How long it takes from each piece of ground back to the route on the next day."""

from __future__ import annotations

import math
from collections.abc import Sequence

from sitepick.ground.model import Ground
from sitepick.march import March, minutes_back_to_route
from sitepick.plan.model import Plan
from sitepick.sites.candidates import Piece
from sitepick.sites.outline import middle_of
from sitepick.terrain.model import Terrain
from sitepick.work import Watch

LONGER_TIMES, LONGER_MIN = 2.0, 10.0  # ours: a way down that is longer than this going back up isn't looked for
NOT_KNOWN = (math.nan, math.nan)


def ways_back(
    pieces: Sequence[Piece], plan: Plan, ground: Ground, terrain: Terrain, march: March, *, watch: Watch
) -> dict[int, tuple[float, float]]:
    """Minutes on the move from the middle of each piece back to the route, and how far along the route that is.

    Parameters
    ----------
    pieces : sequence of Piece
    plan : Plan
    ground : Ground
    terrain : Terrain
    march : March
    watch : Watch

    Returns
    -------
    dict from a piece's identity to (minutes, metres)
        `NOT_KNOWN` where no way leads back within the limit.
    """
    cells = [middle_of(piece.cells) for piece in pieces]
    detours = [float(march.detour_min[cell]) for cell in cells]
    known = [minutes for minutes in detours if math.isfinite(minutes)]
    if not known:
        return {id(piece): NOT_KNOWN for piece in pieces}
    limit_min = LONGER_TIMES * max(known) + LONGER_MIN
    back = minutes_back_to_route(plan, ground, terrain, march, cells, limit_min=limit_min, watch=watch)
    told = {}
    for piece, cell in zip(pieces, cells, strict=True):
        station = int(back.seed[cell])
        along_m = float(march.station_distance_m[station]) if station >= 0 else math.nan
        told[id(piece)] = (float(back.minutes[cell]), along_m) if station >= 0 else NOT_KNOWN
    return told
