"""A unit comes in: who brought it, what it is, and what is wrong with it in the customer's words."""

from __future__ import annotations

from dataclasses import fields

from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from barwise.errors import BarwiseError, InputError
from barwise.record.intake import Arrival, known_customers, take_in
from barwise.record.sheets import newest_versions
from barwise.route.family import families, load_family
from barwise.web.access import person_at
from barwise.web.named_person import named_person

FIELDS = {"job number": "number"}
"""Fields of the form where a refusal calls them otherwise."""


@require_http_methods(["GET", "HEAD", "POST"])
def intake(request: HttpRequest) -> HttpResponse:
    """Show the form; open the job."""
    if request.method != "POST":
        return _page(request, Arrival(family=families()[0], tag=request.GET.get("tag", "")))
    arrival = _typed(request.POST)
    try:
        job = take_in(arrival, named_person(request))
    except BarwiseError as error:
        return _page(request, arrival, error)
    return redirect("job", job.pk)


def _typed(posted: QueryDict) -> Arrival:
    return Arrival(**{one.name: str(posted.get(one.name, "")) for one in fields(Arrival)})


def _page(request: HttpRequest, arrival: Arrival, wrong: BarwiseError | None = None) -> HttpResponse:
    field = wrong.where if isinstance(wrong, InputError) else ""
    shown = {
        "arrival": arrival,
        "customers": known_customers(),
        "families": [load_family(key) for key in families()],
        "sheets": newest_versions(),
        "person": person_at(request),
        "wrong": wrong,
        "field": FIELDS.get(field, field),
    }
    return render(request, "intake.html", shown, status=422 if wrong else 200)
