"""What is printed of a job: the record as a page and as PDF, a blank bench sheet, a tag label."""

from __future__ import annotations

from collections.abc import Mapping

from django.conf import settings
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from barwise.errors import InputError
from barwise.record.handover import rebuild_record
from barwise.record.models import Job
from barwise.report.paper.bench_sheet import bench_sheet_pdf
from barwise.report.paper.printed_record import record_pdf
from barwise.report.paper.rebuild_record import laid_out
from barwise.report.paper.record_seal import seal_of
from barwise.report.paper.tag_label import label_pdf
from barwise.report.paper.typesetting import PAPERS, Paper, paper_named
from barwise.web.surroundings import LOOPBACK
from barwise.web.views.exchange import file_name
from barwise.web.views.station import job_of

_SHEETS: Mapping[Paper, str] = {"a4": "A4", "letter": "US Letter"}


@require_safe
def record(request: HttpRequest, job_id: int) -> HttpResponse:
    """The record as a page: the same words and numbers as on paper."""
    job = job_of(job_id)
    gathered = rebuild_record(job)
    usual = paper_named(gathered.shop.paper)
    other = next(one for one in PAPERS if one != usual)
    said = laid_out(gathered, seal_of(job))
    shown = {"job": job, "record": said, "paper": _SHEETS[usual], "other": (other, _SHEETS[other])}
    return render(request, "record.html", shown)


@require_safe
def record_file(request: HttpRequest, job_id: int) -> HttpResponse:
    """The record as PDF; ``?paper=`` a4 or letter, else the shop's."""
    job = job_of(job_id)
    return _pdf(record_pdf(job, _paper(request)), job, "record")


@require_safe
def bench_sheet(request: HttpRequest, job_id: int) -> HttpResponse:
    """A sheet to write on."""
    job = job_of(job_id)
    return _pdf(bench_sheet_pdf(job, _paper(request)), job, "bench-sheet")


@require_safe
def label(request: HttpRequest, job_id: int) -> HttpResponse:
    """A tag label; its code opens the job where this server is known by a name others can reach."""
    job = job_of(job_id)
    return _pdf(label_pdf(job, _reached_at(request)), job, "label")


def _reached_at(request: HttpRequest) -> str:
    """The address by which the request came, unless it means this computer alone."""
    host = request.get_host()
    alone = host.rpartition(":")[0] if ":" in host.rpartition("]")[2] else host
    if not settings.LAN or alone in LOOPBACK:
        return ""
    return f"{request.scheme}://{host}"


def _paper(request: HttpRequest) -> Paper | None:
    asked = request.GET.get("paper", "")
    try:
        return paper_named(asked) if asked else None
    except InputError as error:
        raise Http404(str(error)) from None


def _pdf(content: bytes, job: Job, what: str) -> HttpResponse:
    headers = {
        "Content-Disposition": f'inline; filename="{file_name(job)}-{what}.pdf"',
        "Cache-Control": "no-store",
    }
    return HttpResponse(content, content_type="application/pdf", headers=headers)
