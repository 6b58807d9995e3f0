"""Units, and readings that are a whole text, as they stand on a screen."""

from __future__ import annotations

from django import template

from barwise.measure.units import printed
from barwise.report.run.cranking import vehicle_in_words

register = template.Library()
register.filter("printed", printed)


@register.filter
def in_words(entered: str, entry: str) -> str:
    """A reading as it was typed; what is said of a vehicle part by part."""
    return vehicle_in_words(entered) if entry == "vehicle" else entered
