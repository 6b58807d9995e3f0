"""Bushes on their journals, fits, gears, and whether the armature can touch its pole shoes."""
