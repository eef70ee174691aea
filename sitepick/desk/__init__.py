"""Desk: the window."""
