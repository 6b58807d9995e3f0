"""What every page shows around its own content: the way to the other pages, and who is at the bench."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from django.conf import settings
from django.http import HttpRequest
from django.urls import NoReverseMatch, reverse
from django.utils.functional import SimpleLazyObject

from barwise.web.access import person_at
from barwise.web.roles import SEE


@dataclass(frozen=True)
class Way:
    """One entry of the way to the other pages.

    Parameters
    ----------
    view : str
        Name of the address in ``urls.py``, without arguments. Left out while there is no such page.
    title : str
        As the entry reads.
    takes : str
        Permission without which it is not shown.
    """

    view: str
    title: str
    takes: str = SEE


DAMAGED_WORDS = "The database is damaged: the shop’s computer says how to get it back"
WAYS = (
    Way("home", "Jobs"),
    Way("sheets", "Model sheets"),
    Way("instruments", "Instruments"),
    Way("customers", "Customers"),
    Way("history", "History"),
)


def frame(request: HttpRequest) -> dict[str, Any]:
    """For every template: `ways`, `lan`, `version`, `at_bench` (context processor)."""
    return {
        "ways": _ways(request),
        "lan": settings.LAN,
        "version": settings.VERSION,
        "read_only": settings.READ_ONLY and (DAMAGED_WORDS if settings.LAN else settings.READ_ONLY),
        "at_bench": None if settings.LAN else SimpleLazyObject(lambda: person_at(request)),
    }


def _ways(request: HttpRequest) -> list[dict[str, Any]]:
    user = getattr(request, "user", None)
    if user is None or not user.is_authenticated:
        return []
    shown = []
    for way in WAYS:
        try:
            address = reverse(way.view)
        except NoReverseMatch:
            continue
        if user.has_perm(way.takes):
            shown.append({"address": address, "title": way.title, "here": request.path == address})
    return shown
