"""Where the data that comes with the program lies, in a checkout and in an install alike."""

from __future__ import annotations

from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent


def _folder(name: str) -> Path:
    installed = _PACKAGE / "_shipped" / name
    return installed if installed.is_dir() else _PACKAGE.parent / name


def resource_path(*parts: str) -> Path:
    """Path of a file under ``resources/``, such as ``resource_path("legends", "corine.csv")``."""
    return _folder("resources").joinpath(*parts)


def sample_path(*parts: str) -> Path:
    """Path of a file under ``sample_data/``; without parts, the folder itself."""
    return _folder("sample_data").joinpath(*parts)


SAMPLE_PLAN = "ulvmark.geojson"


def sample_plan_path() -> Path:
    """Path of the plan that opens at first start."""
    return sample_path(SAMPLE_PLAN)
