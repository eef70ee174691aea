"""The sample's answer, worked out once for all tests of the whole job."""

from __future__ import annotations

import pytest

from sitepick.plan import read_plan
from sitepick.resource import sample_plan_path
from sitepick.tonight import tonight


@pytest.fixture(scope="session")
def sample_plan():
    return read_plan(sample_plan_path())


@pytest.fixture(scope="session")
def sample_answer(sample_plan):
    return tonight(sample_plan)
