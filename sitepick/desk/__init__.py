"""The window: map, field book and day line. Widgets live here and nowhere else."""
