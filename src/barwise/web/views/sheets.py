"""Model sheets: the list, and one to read with its versions and the jobs judged by it."""

from __future__ import annotations

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from barwise.record.models import SheetVersion
from barwise.record.sheets import newest_versions, versions_of
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


def versions_of_or_404(key: str) -> list[SheetVersion]:
    """All versions of a sheet, the newest first."""
    versions = versions_of(key)
    if not versions:
        raise Http404(f"no sheet {key}")
    return versions
