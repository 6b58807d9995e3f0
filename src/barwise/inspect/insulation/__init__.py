"""Insulation of armature, fields and brush holders: good enough, damp, or grounded."""

from barwise.inspect.insulation.assessment import assess
from barwise.inspect.insulation.lamp import Lamp, lights_below

__all__ = ["Lamp", "assess", "lights_below"]
