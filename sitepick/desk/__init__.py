"""The window: map, field book and day line. Widgets live here and nowhere else."""

from sitepick.desk.application import open_desk

__all__ = ["open_desk"]
