"""The plan: what the user decides, its limits, its edits and its file."""

from sitepick.plan.delay import Delay
from sitepick.plan.factor import Factor
from sitepick.plan.file import read_plan, write_plan
from sitepick.plan.kit import KitItem, read_kit, usual_kit, write_kit
from sitepick.plan.load import LoadSettings
from sitepick.plan.model import (
    Area,
    CampSettings,
    GroundSource,
    MarchSettings,
    Plan,
    Preferences,
    Route,
    Unit,
    Weather,
)
from sitepick.plan.observer import Observer
from sitepick.plan.pitching import PitchingRule, pitching_time_min
from sitepick.plan.shelter import SHELTER_KINDS, Shelter, ShelterKind, shelter_kind, shelters_for

__all__ = [
    "SHELTER_KINDS",
    "Area",
    "CampSettings",
    "Delay",
    "Factor",
    "GroundSource",
    "KitItem",
    "LoadSettings",
    "MarchSettings",
    "Observer",
    "PitchingRule",
    "Plan",
    "Preferences",
    "Route",
    "Shelter",
    "ShelterKind",
    "Unit",
    "Weather",
    "pitching_time_min",
    "read_kit",
    "read_plan",
    "shelter_kind",
    "shelters_for",
    "usual_kit",
    "write_kit",
    "write_plan",
]
