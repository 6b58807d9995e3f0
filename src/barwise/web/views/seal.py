"""Whether a job is as it was signed, looked at anew each time."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from barwise.files.signing_key import grouped
from barwise.record.seals import check_job
from barwise.report.paper.record_seal import chained
from barwise.web.views.station import job_of


@require_safe
def seal(request: HttpRequest, job_id: int) -> HttpResponse:
    """Hold the job against its seal, and its readings against their links."""
    job = job_of(job_id)
    standing = check_job(job)
    shown = {
        "job": job,
        "seal": standing.seal,
        "found": standing.verdict,
        "key": "" if standing.seal is None else grouped(standing.seal.key.fingerprint),
        "brought": standing.brought,
        "key_there": "" if standing.brought is None else grouped(standing.brought.key),
        "chained": chained(job),
    }
    return render(request, "seal.html", shown)
