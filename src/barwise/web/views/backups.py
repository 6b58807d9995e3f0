"""When the last good backup was, which are kept, and whether the second place has it."""

from __future__ import annotations

from datetime import UTC, datetime

from django.conf import settings
from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from barwise.errors import BarwiseError
from barwise.web.backup.plan import NAME
from barwise.web.backup.standing import standing
from barwise.web.backup.taking import bring_to_second_place, take


@require_http_methods(["GET", "HEAD", "POST"])
def backups(request: HttpRequest) -> HttpResponse:
    """Show how the backups stand; take one now."""
    if request.method == "POST":
        try:
            take(settings.DATA)
            bring_to_second_place(settings.DATA)
        except BarwiseError as error:
            messages.error(request, f"{error}.")
        else:
            messages.success(request, "The whole shop is backed up, and the backup is checked.")
        return redirect("backups")
    folder = settings.DATA.path
    found = standing(settings.DATA, datetime.now(UTC))
    shown = {"standing": found, "folder": folder, "plan_file": folder / NAME}
    return render(request, "backups.html", shown)
