"""The answer of a walk: a diagnosis, or a cut plan brought up to date pass by pass."""

from __future__ import annotations

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from barwise.errors import BarwiseError, InputError
from barwise.record.answers import work_out
from barwise.record.cutting import take_pass
from barwise.record.entry import Question
from barwise.record.models import Job
from barwise.record.refusals import KeyReusedError
from barwise.record.results import WALKS
from barwise.record.route_of import route_of
from barwise.route.family import Check
from barwise.web.access import person_at
from barwise.web.answer_page import AnswerPage, Heard, answer_page
from barwise.web.named_person import named_person
from barwise.web.pass_form import sent
from barwise.web.views.station import job_of

_SENT_BEFORE = (
    "This form was sent before, with something else in it, and that is kept. Send it again to take it as the "
    "next pass, or correct the last one."
)


@require_safe
def answer(request: HttpRequest, job_id: int, station_key: str, check_key: str) -> HttpResponse:
    """Show the newest answer that is kept, as old as it may be; looking works nothing out."""
    job = job_of(job_id)
    check = _check(job, station_key, check_key)
    page = answer_page(job, station_key, check_key)
    if check.entry not in WALKS and not page.has_picture:
        # all there is to say stands at its station
        return redirect(reverse("station", args=[job_id, station_key], query={"check": check_key}))
    return _shown(request, page)


@require_POST
def again(request: HttpRequest, job_id: int, station_key: str, check_key: str) -> HttpResponse:
    """Work the answer out from all that was read by now."""
    job = job_of(job_id)
    _check(job, station_key, check_key)
    try:
        work_out(job, station_key, check_key)
    except BarwiseError as error:
        return _page(request, job, station_key, check_key, Heard(wrong=error), status=422)
    return redirect("answer", job_id, station_key, check_key)


@require_POST
def done(request: HttpRequest, job_id: int, station_key: str, check_key: str) -> HttpResponse:
    """Take what was found after a pass, and work the rest of the cut out again."""
    job, form = job_of(job_id), sent(request.POST)
    check = _check(job, station_key, check_key)
    try:
        facts = route_of(job).facts.commutator
        found = form.found(facts.bars if facts is not None else 0)
        taken = take_pass(job, check, found, named_person(request))
        if isinstance(taken, Question):
            return _page(request, job, station_key, check_key, Heard(form, taken), status=422)
        work_out(job, station_key, check_key)
    except KeyReusedError:
        heard = Heard(form.under_another_key(), wrong=BarwiseError(_SENT_BEFORE))
        return _page(request, job, station_key, check_key, heard, status=422)
    except BarwiseError as error:
        return _page(request, job, station_key, check_key, Heard(form, wrong=error), status=422)
    # To the top of the page, where the verdict is: the form's own address ends at the form.
    return redirect(f"{reverse('answer', args=[job_id, station_key, check_key])}#content")


def _check(job: Job, station_key: str, check_key: str) -> Check:
    try:
        return route_of(job).family.check(station_key, check_key)
    except InputError as error:
        raise Http404(str(error)) from None


def _page(
    request: HttpRequest,
    job: Job,
    station_key: str,
    check_key: str,
    heard: Heard | None = None,
    status: int = 200,
) -> HttpResponse:
    return _shown(request, answer_page(job, station_key, check_key, heard), status)


def _shown(request: HttpRequest, page: AnswerPage, status: int = 200) -> HttpResponse:
    field = page.heard.wrong.where if isinstance(page.heard.wrong, InputError) else ""
    shown = {"page": page, "person": person_at(request), "wrong": page.heard.wrong, "field": field}
    return render(request, "answer.html", shown, status=status)
