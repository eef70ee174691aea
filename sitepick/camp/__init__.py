"""Camp: every shelter at its spacing, and what else a camp needs."""
