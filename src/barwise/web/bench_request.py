"""A request as it reaches the pages: with what htmx says of it."""

from __future__ import annotations

from django.http import HttpRequest
from django_htmx.middleware import HtmxDetails


class BenchRequest(HttpRequest):
    """`htmx` is true where a part of a page is wanted and not the whole."""

    htmx: HtmxDetails
