"""What was done before: customers, the jobs of each, and the jobs of one unit with their decisions."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_safe

from barwise.record.finding_customers import find_customers, units_of
from barwise.record.history import customer_history, unit_history
from barwise.record.models import Customer, Disposition, Unit
from barwise.record.sizes_over_jobs import sizes_over_jobs
from barwise.record.standing import CheckStand, JobStand


@dataclass(frozen=True)
class Past:
    """One job of a history: where it stands, what was measured and decided, and what became of the parts."""

    stand: JobStand
    decided: tuple[CheckStand, ...]
    parts: tuple[Disposition, ...]


@require_safe
def customers(request: HttpRequest) -> HttpResponse:
    """Show a page of customers, those found by ``?find=``."""
    words, number = request.GET.get("find", "").strip()[:80], request.GET.get("page", "")
    page = find_customers(words, int(number) if number.isdecimal() and len(number) < 7 else 1)
    return render(request, "customers.html", {"page": page, "words": words})


@require_safe
def customer(request: HttpRequest, customer_id: int) -> HttpResponse:
    """Show a customer's jobs and units."""
    one = get_object_or_404(Customer, pk=customer_id)
    shown = {"customer": one, "units": units_of(one), "jobs": list(_past(customer_history(one)))}
    return render(request, "customer.html", shown)


@require_safe
def unit(request: HttpRequest, unit_id: int) -> HttpResponse:
    """Show the jobs of a unit with what was decided each time."""
    one = get_object_or_404(Unit, pk=unit_id)
    jobs = list(_past(unit_history(one)))
    on_hand = any(past.stand.job.state != "closed" for past in jobs)
    shown = {"unit": one, "jobs": jobs, "on_hand": on_hand, "sizes": sizes_over_jobs(one)}
    return render(request, "unit.html", shown)


def _past(stands: Iterable[JobStand]) -> Iterator[Past]:
    listed = list(stands)
    parts: dict[int, dict[tuple[str, str], Disposition]] = {}
    for one in Disposition.objects.filter(job__in=[stand.job for stand in listed]).order_by("id"):
        parts.setdefault(one.job_id, {})[one.station_key, one.part] = one
    for stand in listed:
        decided = tuple(one for one in stand.checks if one.decision in ("accept", "reject", "undecided"))
        yield Past(stand, decided, tuple(parts.get(stand.job.pk, {}).values()))
