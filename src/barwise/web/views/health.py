"""Is it up, and can it reach its database? For a watcher, and for `barwise serve` itself."""

from __future__ import annotations

from django.conf import settings
from django.contrib.auth.decorators import login_not_required
from django.db import DatabaseError, connection
from django.http import HttpRequest, JsonResponse
from django.views.decorators.http import require_safe


@login_not_required
@require_safe
def health(request: HttpRequest) -> JsonResponse:  # noqa: ARG001
    """200 when the database answers, 503 when it does not. Says nothing about the shop."""
    try:
        with connection.cursor() as cursor:
            cursor.execute("SELECT 1")
        if settings.READ_ONLY:
            return JsonResponse({"barwise": "read only"}, status=503)
    except DatabaseError:
        return JsonResponse({"barwise": "no database"}, status=503)
    return JsonResponse({"barwise": "up"})
