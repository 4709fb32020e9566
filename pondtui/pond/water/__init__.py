"""Levels, volumes and losses of the pond."""
