"""Put it back or not: the prices of a job, what they come to, and the customer's word on it."""

from __future__ import annotations

from typing import Any

from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from barwise.errors import BarwiseError, InputError
from barwise.record.approvals import WAYS, approvals, record_approval
from barwise.record.habits import the_shop
from barwise.record.models import Job
from barwise.web.access import person_at
from barwise.web.bench_request import BenchRequest
from barwise.web.named_person import named_person
from barwise.web.views.station import job_of
from barwise.web.worth_form import NEEDS, TypedPrices, first_prices, seal, typed_prices, worked_out


@require_http_methods(["GET", "HEAD", "POST"])
def worth(request: BenchRequest, job_id: int) -> HttpResponse:
    """Take prices, show what they come to, and write down what the customer said to that."""
    job = job_of(job_id)
    if request.method != "POST":
        return _page(request, job, first_prices(job))
    typed = typed_prices(request.POST.dict())
    answer = None
    try:
        answer = worked_out(job, typed, decimal_comma=the_shop().decimal_comma)
        if request.POST.get("do") != "approve":
            return _page(request, job, typed, answer)
        _approve(request, job, answer)
    except BarwiseError as error:
        return _page(request, job, typed, answer, error)
    return redirect("job", job.pk)


def _approve(request: BenchRequest, job: Job, answer: dict[str, Any]) -> None:
    """Only what was seen can be approved: the page says by its seal which figures it showed."""
    posted = request.POST
    if posted.get("seal") != seal(answer):
        raise InputError("prices", "other figures than were shown", "a look at what they come to now")
    record_approval(
        job,
        answer,
        answer=posted.get("answer", ""),
        choice=posted.get("choice", ""),
        said_by=posted.get("said_by", ""),
        way=posted.get("way", ""),
        note=posted.get("note", "")[:2000],
        person=named_person(request),
    )


def _page(
    request: BenchRequest,
    job: Job,
    typed: TypedPrices,
    answer: dict[str, Any] | None = None,
    wrong: BarwiseError | None = None,
) -> HttpResponse:
    shown = {
        "job": job,
        "typed": typed.fields,
        "rows": typed.rows,
        "needs": NEEDS,
        "manners": WAYS,
        "answer": answer,
        "seal": None if answer is None else seal(answer),
        "said": request.POST,
        "words": approvals(job),
        "wrong": wrong,
        "person": person_at(request),
    }
    return render(request, "worth.html", shown, status=422 if wrong else 200)
