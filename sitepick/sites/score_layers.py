"""What each cell of the ground would score, factor by factor, for those who look at the whole map."""

from __future__ import annotations

import numpy as np

from sitepick.grid import FloatArray
from sitepick.ground.model import Ground
from sitepick.plan.factor import Factor
from sitepick.plan.model import Plan
from sitepick.sites.asked_layers import LayerGround, asked_layers
from sitepick.terrain.model import Terrain
from sitepick.work import Watch

_ON_THE_MARCH = "morning"  # hangs on the day's route and pace, not on the ground alone


def measure_layers(plan: Plan, ground: Ground, terrain: Terrain, *, watch: Watch) -> dict[str, FloatArray]:
    """The measures that a map can show: forest, slope and wind, and the further ones that the plan asks for.

    Parameters
    ----------
    plan : Plan
        Its preferences.
    ground : Ground
    terrain : Terrain
    watch : Watch

    Returns
    -------
    dict of factor to float32 array of the grid's shape
        In the factor's unit, NaN where not known.
    """
    whole = slice(0, ground.grid.rows), slice(0, ground.grid.cols)
    on = LayerGround(plan=plan, ground=ground, terrain=terrain, march=None, window=whole, watch=watch)
    further = asked_layers(on)
    further.pop(_ON_THE_MARCH, None)
    main = {"forest": terrain.evergreen_frac, "slope": terrain.slope_30m_deg, "wind": terrain.wind_share}
    return {**main, **further}


def score_layer(factor: Factor, measure: FloatArray) -> FloatArray:
    """Scores 0-1 of a layer of measures by a factor's curve; NaN where the measure isn't known."""
    measures, scores = zip(*factor.curve, strict=True)
    return np.asarray(np.interp(measure, measures, scores), np.float32)
