"""The shop's customers, a page at a time, with how many jobs each had; and the search for one."""

from __future__ import annotations

from typing import Any

from django.core.paginator import Page, Paginator
from django.db.models import Count, Max, Q

from barwise.record.models import Customer, Unit

PER_PAGE = 30


def find_customers(words: str = "", page: int = 1) -> Page[Any]:
    """Customers whose name, contact, or unit's tag or serial holds every word; with jobs on hand first.

    Each has `jobs_on_hand` and `jobs_ever`. The number of queries does not depend on how many there are.
    """
    found = Customer.objects.all()
    for word in words.split()[:8]:
        of_unit = Q(jobs__unit__tag__icontains=word) | Q(jobs__unit__serial__icontains=word)
        matches = Q(name__icontains=word) | Q(contact__icontains=word) | of_unit
        found = found.filter(pk__in=Customer.objects.filter(matches).values("pk"))
    counted = found.annotate(
        jobs_ever=Count("jobs"),
        jobs_on_hand=Count("jobs", filter=~Q(jobs__state="closed")),
        last_job=Max("jobs__opened_at"),
    )
    return Paginator(counted.order_by("-jobs_on_hand", "name", "pk"), PER_PAGE).get_page(page)


def units_of(customer: Customer) -> list[Unit]:
    """The units a customer brought, by tag."""
    return list(Unit.objects.filter(jobs__customer=customer).distinct().order_by("tag"))
