"""Every page shows its numbers with the shop's own decimal sign."""

from __future__ import annotations

from django.http import HttpRequest
from django.http.response import HttpResponse, HttpResponseBase

from barwise.record.models import Shop
from barwise.report.decimal_sign import has_decimals, page_with_comma
from barwise.web.access import Answer

BROKEN = 500


def shops_numbers(answer: Answer) -> Answer:
    """Change decimal points to commas where the shop writes them (middleware).

    The shop is asked only where a page has such a number; not after a stumble, when it may be what stumbled.
    """

    def middleware(request: HttpRequest) -> HttpResponseBase:
        response = answer(request)
        if isinstance(response, HttpResponse) and _is_page(response):
            page = response.text
            if has_decimals(page) and _writes_commas():
                response.content = page_with_comma(page)
        return response

    return middleware


def _is_page(response: HttpResponse) -> bool:
    kind = response.headers.get("Content-Type", "")
    return kind.startswith("text/html") and response.status_code < BROKEN


def _writes_commas() -> bool:
    return bool(Shop.objects.values_list("decimal_comma", flat=True).first())
