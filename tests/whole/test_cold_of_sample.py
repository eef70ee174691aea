"""Cold air on the sample's ground, as a leader knows it from the map."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import ndimage

from sitepick.terrain import read_shape
from sitepick.terrain.model import LAKE
from sitepick.work import Watch

pytestmark = pytest.mark.slow


def test_benches_above_the_valleys_beat_the_floors_in_cold(sample_answer):
    terrain = sample_answer.terrain
    shape = read_shape(sample_answer.ground, watch=Watch())
    level = terrain.slope_30m_deg < 4.0
    dry = ~terrain.is_water & np.isfinite(terrain.cold_pool_frac)
    above = terrain.height_above_drainage_m
    # Common practice: a bench 10-40 m above the floor is the warmest, low floors that ground drains to the coldest.
    bench = level & dry & (above > 15.0) & (above < 40.0) & (shape.position_near_m > -2.0)
    floor = level & dry & (above < 3.0) & (shape.position_far_m < -15.0)
    assert min(bench.sum(), floor.sum()) > 500, "the sample has both"
    pooled = terrain.cold_pool_frac
    assert np.median(pooled[bench]) < 0.1
    assert np.median(pooled[floor]) > np.median(pooled[bench]) + 0.3


def test_a_lake_is_no_hollow_to_camp_in_and_its_low_shore_is_colder_than_the_hillside(sample_answer):
    terrain = sample_answer.terrain
    lake = terrain.water_kind == LAKE
    assert lake.any()
    assert np.isnan(terrain.cold_pool_frac[lake]).all()
    away = ndimage.distance_transform_edt(~lake) * terrain.grid.ground_cell_m
    shore = (away > 0.0) & (away < 60.0) & (terrain.height_above_drainage_m < 3.0) & ~terrain.is_water
    hillside = (terrain.slope_30m_deg > 8.0) & (terrain.height_above_drainage_m > 40.0)
    pooled = terrain.cold_pool_frac
    assert np.nanmedian(pooled[shore]) > np.nanmedian(pooled[hillside])


def test_the_samples_water_is_told_by_its_kind_and_its_lakes_lie_level(sample_answer):
    terrain, ground = sample_answer.terrain, sample_answer.ground
    lake = terrain.water_kind == LAKE
    assert (terrain.height_above_drainage_m[lake & np.isfinite(ground.elevation_m)] == 0.0).all()
    kinds = set(np.unique(terrain.water_kind[terrain.is_water]).tolist())
    assert LAKE in kinds
    assert not np.isin(terrain.water_kind[ground.is_stream & ~terrain.is_water], (0, LAKE)).any()
