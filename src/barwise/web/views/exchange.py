"""A job out as a file and in again, and its readings as a table."""

from __future__ import annotations

import hashlib
import re
from typing import get_args

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_safe

from barwise.errors import BarwiseError, InputError
from barwise.files.job_zip import LARGEST_WHOLE, WHAT
from barwise.record.brought_seals import in_words
from barwise.record.exchange import AlteredZip, Imported, Taken, export_job, import_job, readings_tables
from barwise.record.models import Job
from barwise.record.readings_csv import readings_csv
from barwise.web.named_person import named_person
from barwise.web.views.station import job_of

MOST_BYTES = LARGEST_WHOLE // 2
"""A zip larger than this holds more than a job may."""


@require_safe
def export(request: HttpRequest, job_id: int) -> HttpResponse:  # noqa: ARG001
    """The whole job as a zip."""
    job = job_of(job_id)
    return _file(export_job(job), "application/zip", f"{file_name(job)}-{timezone.localdate():%Y-%m-%d}.zip")


@require_safe
def readings(request: HttpRequest, job_id: int) -> HttpResponse:
    """All readings in force as CSV; ``?check=armature.winding`` those of one check in its own columns."""
    job, check = job_of(job_id), request.GET.get("check", "")
    if not check:
        return _csv(readings_csv(job), f"{file_name(job)}-readings.csv")
    table = readings_tables(job).get(check)
    if table is None:
        raise Http404(f"job {job.number} has no readings of {check}")
    return _csv(table, f"{file_name(job)}-{check}.csv")


@require_http_methods(["GET", "HEAD", "POST"])
def bring_in(request: HttpRequest) -> HttpResponse:
    """Bring in a job from a zip, and say where its results differ here."""
    found: Imported | None = None
    wrong: BarwiseError | None = None
    asked: AlteredZip | None = None
    if request.method == "POST":
        try:
            content = _sent(request)
            found = import_job(content, named_person(request), _taken(request, content))
        except AlteredZip as question:
            asked = question
        except BarwiseError as error:
            wrong = error
    came = "" if found is None or found.brought is None else in_words(found.brought)
    most = MOST_BYTES // 1_000_000
    shown = {"found": found, "wrong": wrong, "asked": asked, "came": came, "most": most}
    return render(request, "bring_in.html", shown, status=422 if wrong or asked else 200)


def _taken(request: HttpRequest, content: bytes) -> Taken | None:
    """What was decided to take of an altered zip; of this very one, as it was shown."""
    if request.POST.get("digest") != hashlib.sha256(content).hexdigest():
        return None
    said = request.POST.get("taken", "")
    return next((one for one in get_args(Taken) if one == said), None)


def _sent(request: HttpRequest) -> bytes:
    sent = request.FILES.get("zip")
    if sent is None:
        raise InputError("file", "none", WHAT)
    if sent.size is None or sent.size > MOST_BYTES:
        raise InputError("file", f"{(sent.size or 0) / 1e6:.0f} MB", f"at most {MOST_BYTES / 1e6:.0f} MB")
    return bytes(sent.read())


def _csv(table: str, name: str) -> HttpResponse:
    return _file(table.encode(), "text/csv; charset=utf-8", name)


def _file(content: bytes, kind: str, name: str) -> HttpResponse:
    headers = {"Content-Disposition": f'attachment; filename="{name}"', "Cache-Control": "no-store"}
    return HttpResponse(content, content_type=kind, headers=headers)


def file_name(job: Job) -> str:
    """Tag and number in signs that every file system takes."""
    return re.sub(r"[^A-Za-z0-9.-]+", "-", f"{job.unit.tag}-{job.number}").strip("-.") or "job"
