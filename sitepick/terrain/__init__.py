"""Terrain: what the ground means to people who march over it and sleep on it."""
