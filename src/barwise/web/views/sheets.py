"""Model sheets: the list, one to read with its versions, and a job moved to the newest on purpose."""

from __future__ import annotations

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods, require_safe

from barwise.errors import BarwiseError
from barwise.record.jobs import assign_sheet
from barwise.record.models import Job, SheetVersion
from barwise.record.other_sheet import under_other_sheet
from barwise.record.sheets import newest_versions, versions_of
from barwise.web.access import person_at
from barwise.web.named_person import named_person
from barwise.web.sheet_page import sheet_page

MANY = 12
"""Sheets from which on the list offers a search."""


@require_safe
def sheets(request: HttpRequest) -> HttpResponse:
    """Show the newest version of each sheet, those whose title or key holds every word of ``?find=``."""
    words, every = request.GET.get("find", "").strip()[:80], newest_versions()
    wanted = words.lower().split()
    found = [one for one in every if all(word in f"{one.title} {one.key}".lower() for word in wanted)]
    shown = {"sheets": found, "words": words, "many": len(every) > MANY}
    return render(request, "sheets.html", shown)


@require_safe
def sheet(request: HttpRequest, key: str) -> HttpResponse:
    """Show a sheet, in the version ``?version=`` or the newest."""
    versions = versions_of_or_404(key)
    wanted = request.GET.get("version", "")
    kept = next((one for one in versions if str(one.version) == wanted or not wanted), None)
    if kept is None:
        raise Http404(f"{key} has no version {wanted[:20]}")
    return render(request, "sheet.html", {"page": sheet_page(kept, versions)})


@require_http_methods(["GET", "HEAD", "POST"])
def move(request: HttpRequest, key: str, job_id: int) -> HttpResponse:
    """Show what the newest version would change in a job's decisions; move the job to it."""
    newest = versions_of_or_404(key)[0]
    jobs = Job.objects.select_related("unit", "customer", "sheet")
    job, wrong = get_object_or_404(jobs, pk=job_id, sheet__key=key), None
    shown_version = request.POST.get("version", "")
    if request.method == "POST" and shown_version == str(newest.version):
        try:
            assign_sheet(job, newest, named_person(request))
        except BarwiseError as error:
            wrong = str(error)
        else:
            return redirect("job", job_id)
    elif request.method == "POST":
        wrong = f"Version {newest.version} came in meanwhile: look again what it changes."
    under = under_other_sheet(job, newest)
    shown = {"job": job, "under": under, "wrong": wrong, "person": person_at(request)}
    return render(request, "sheet_move.html", shown, status=422 if wrong else 200)


def versions_of_or_404(key: str) -> list[SheetVersion]:
    """All versions of a sheet, the newest first."""
    versions = versions_of(key)
    if not versions:
        raise Http404(f"no sheet {key}")
    return versions
