"""Files of the ground that aren't where the plan says, and where they are now. No Qt."""

from __future__ import annotations

from dataclasses import fields, replace
from pathlib import Path

from sitepick.plan.model import GroundSource


def missing_files(ground: GroundSource) -> tuple[Path, ...]:
    """Files that the plan names and that aren't there, in the plan's order."""
    return tuple(path for path in _files(ground) if not path.is_file())


def with_file_moved(ground: GroundSource, old: Path, new: Path) -> GroundSource:
    """The ground with a file at its new place; what else is missing and lies beside it goes along."""
    moved = {old: new}
    for path in missing_files(ground):
        beside = new.parent / path.name
        if path != old and beside.is_file():
            moved[path] = beside
    changes: dict[str, object] = {}
    for field in fields(ground):
        value = getattr(ground, field.name)
        if isinstance(value, tuple):
            changes[field.name] = tuple(moved.get(path, path) for path in value)
        elif isinstance(value, Path):
            changes[field.name] = moved.get(value, value)
    return replace(ground, **changes)  # type: ignore[arg-type]


def _files(ground: GroundSource) -> list[Path]:
    found: list[Path] = []
    for field in fields(ground):
        value = getattr(ground, field.name)
        found += [value] if isinstance(value, Path) else list(value) if isinstance(value, tuple) else []
    return found
