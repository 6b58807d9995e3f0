"""One job: its route, its open questions, what was decided; closed, opened again, waiting, given a sheet."""

from __future__ import annotations

from collections.abc import Callable

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from barwise.errors import BarwiseError
from barwise.record.jobs import assign_sheet, close_job, reopen_job, wait_for
from barwise.record.models import Job, Person, SheetVersion
from barwise.record.other_sheet import sheet_for, under_other_sheet
from barwise.record.overview import overview
from barwise.record.sheets import newest_versions
from barwise.report.paper.record_seal import seal_of
from barwise.web.access import person_at
from barwise.web.named_person import named_person
from barwise.web.views.station import job_of
from barwise.web.worth_form import standing_word

Change = Callable[[Job, Person], object]


@require_safe
def job(request: HttpRequest, job_id: int) -> HttpResponse:
    """Show a job."""
    return _page(request, job_of(job_id))


@require_POST
def wait(request: HttpRequest, job_id: int) -> HttpResponse:
    """Say what the job waits for."""
    return _changed(request, job_id, lambda job, person: wait_for(job, _posted(request, "waits_for"), person))


@require_POST
def close(request: HttpRequest, job_id: int) -> HttpResponse:
    """Close the job; what is still open is named first, and closing in spite of it is said."""
    still_open = overview(job_of(job_id)).still_open
    if still_open and not request.POST.get("all_the_same"):
        return _page(request, job_of(job_id), closing=still_open, status=422)
    return _changed(request, job_id, close_job)


@require_POST
def reopen(request: HttpRequest, job_id: int) -> HttpResponse:
    """Open a closed job again."""
    return _changed(request, job_id, lambda job, person: reopen_job(job, _posted(request, "reason"), person))


@require_http_methods(["GET", "HEAD", "POST"])
def sheet(request: HttpRequest, job_id: int) -> HttpResponse:
    """Show what the newest version of ``?sheet=`` would change in a job's decisions; move the job to it."""
    job, asked = job_of(job_id), request.POST if request.method == "POST" else request.GET
    try:
        newest = sheet_for(job, str(asked.get("sheet", "")))
    except BarwiseError as error:
        return _page(request, job, wrong=str(error), status=422)
    wrong = _moved(request, job, newest) if request.method == "POST" else None
    if wrong == "":
        return redirect("job", job_id)
    under = under_other_sheet(job, newest)
    shown = {"job": job, "under": under, "wrong": wrong, "person": person_at(request)}
    return render(request, "sheet_move.html", shown, status=422 if wrong else 200)


def _moved(request: HttpRequest, job: Job, newest: SheetVersion) -> str:
    """What kept the job from being moved; empty where it was."""
    if _posted(request, "version") != str(newest.version):
        return f"Version {newest.version} of this sheet is the newest: look at what it changes, then say so."
    try:
        assign_sheet(job, newest, named_person(request))
    except BarwiseError as error:
        return str(error)
    return ""


def _changed(request: HttpRequest, job_id: int, change: Change) -> HttpResponse:
    job = job_of(job_id)
    try:
        change(job, named_person(request))
    except BarwiseError as error:
        return _page(request, job, wrong=str(error), typed=request.POST, status=422)
    return redirect("job", job_id)


def _posted(request: HttpRequest, name: str) -> str:
    return str(request.POST.get(name, ""))


def _page(request: HttpRequest, job: Job, status: int = 200, **more: object) -> HttpResponse:
    sheets = [one for one in newest_versions() if one.family_key == job.family_key]
    shown = {"over": overview(job), "sheets": sheets, "word": standing_word(job), "seal": seal_of(job)}
    return render(request, "job.html", {**shown, **more}, status=status)
