"""The jobs on hand: where each stands and what it waits for."""

from __future__ import annotations

from datetime import UTC, datetime

from django.conf import settings
from django.http import HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from barwise.record.finding_jobs import find_jobs
from barwise.web.backup.standing import too_old
from barwise.web.bench_request import BenchRequest
from barwise.web.roles import OFFICE


@require_safe
def jobs(request: BenchRequest) -> HttpResponse:
    """Show a page of jobs, those found by ``?find=`` and, with ``?closed=1``, those that are closed."""
    words, closed = request.GET.get("find", "").strip()[:80], request.GET.get("closed") == "1"
    found = find_jobs(words, _page_number(request.GET.get("page", "")), closed=closed)
    shown = {"found": found, "words": words, "closed": closed}
    if request.htmx:
        return render(request, "jobs_found.html", shown)
    if request.user.has_perm(OFFICE):
        shown["backup_warning"] = too_old(settings.DATA, datetime.now(UTC))
    return render(request, "jobs.html", shown)


def _page_number(text: str) -> int:
    return int(text) if text.isdecimal() and len(text) < 7 else 1
