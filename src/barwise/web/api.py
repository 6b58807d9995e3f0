"""The HTTP interface in JSON: the same reads as the screens, and entering readings.

Its description is at ``/api/openapi.json`` (OpenAPI). There is no page to try it out on, because that would
load scripts from elsewhere. Who may use it is decided as for the screens: by session, role and form token.
"""

from __future__ import annotations

from django.http import HttpRequest
from ninja import NinjaAPI, Schema
from ninja.security import SessionAuth

from barwise import __version__
from barwise.web.access import person_at
from barwise.web.roles import PERMISSIONS

api = NinjaAPI(
    title="barwise",
    version=__version__,
    description="The bench: jobs, readings and results. All lengths and other quantities in SI.",
    docs_url=None,
    auth=SessionAuth(),
    urls_namespace="api",
)


class Here(Schema):
    """Which barwise answers, and as whom."""

    version: str
    person: str | None
    may: list[str]


@api.get("/here", summary="Which barwise this is, who you are to it, and what you may")
def here(request: HttpRequest) -> Here:
    """Say the version, the person at the bench, and what they may."""
    person = person_at(request)
    may = [name.partition(".")[2] for name in PERMISSIONS if request.user.has_perm(name)]
    return Here(version=__version__, person=person.name if person else None, may=may)
