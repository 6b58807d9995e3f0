"""Families of units as data: their stations and checks in order, model sheets, general limits."""
