"""Readings and how far a meter can be trusted."""
