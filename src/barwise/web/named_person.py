"""Whoever changes something has a name; without one it is refused, and nothing typed is lost."""

from __future__ import annotations

from django.conf import settings
from django.http import HttpRequest

from barwise.errors import BarwiseError
from barwise.record.models import Person
from barwise.web.access import person_at


def named_person(request: HttpRequest) -> Person:
    """Who is at the bench. Raises BarwiseError where nobody said so."""
    person = person_at(request)
    if person is not None:
        return person
    if settings.LAN:
        raise BarwiseError(
            "Your account belongs to nobody at the bench: have it made with barwise people add."
        )
    raise BarwiseError(
        "Say who is at the bench first: every entry carries a name. What you typed stays here."
    )
