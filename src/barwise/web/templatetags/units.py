"""Units as they stand on a screen."""

from __future__ import annotations

from django import template

from barwise.measure.units import printed

register = template.Library()
register.filter("printed", printed)
