"""Units, and readings that are a whole text, as they stand on a screen."""

from __future__ import annotations

from django import template

from barwise.measure.units import printed
from barwise.report.run.cranking import entered_in_words

register = template.Library()
register.filter("printed", printed)
register.filter("in_words", entered_in_words)
