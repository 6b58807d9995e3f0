"""What the web server refuses before the bench hears of it: a broken or far too large request.

It would answer in its own words and without our headers. Here it answers as every page of the bench does.
"""

from __future__ import annotations

from http import HTTPStatus

from csp.middleware import CSPMiddleware
from django.http import HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.middleware.clickjacking import XFrameOptionsMiddleware
from django.middleware.security import SecurityMiddleware
from waitress.channel import HTTPChannel
from waitress.task import ErrorTask

from barwise.web.access import further_headers
from barwise.web.views.errors import refused_unheard

KEPT_TO_ITSELF = frozenset({"content-length"})
"""Headers the server writes itself."""


class AnsweredByTheBench(ErrorTask):  # type: ignore[misc]
    """The server's refusal with the bench's words and headers."""

    def execute(self) -> None:
        """Answer, then close: what else is on its way is not understood any more."""
        code = int(self.request.error.code)
        said = refused_unheard(HTTPStatus(code), api=str(self.request.path).startswith("/api/"))
        answer = with_headers(said)
        self.status = f"{code} {answer.reason_phrase}"
        kept = [(name, value) for name, value in answer.items() if name.lower() not in KEPT_TO_ITSELF]
        self.response_headers.extend(kept)
        self.set_close_on_finish()
        self.content_length = len(said.content)
        self.write(said.content)


class Channel(HTTPChannel):  # type: ignore[misc]
    """One connection, whose refusals are the bench's."""

    error_task_class = AnsweredByTheBench


def with_headers(said: HttpResponse) -> HttpResponseBase:
    """The headers every page has, by what gives them to every page."""

    def answer(_: HttpRequest) -> HttpResponse:
        return said

    request = HttpRequest()
    for layer in (SecurityMiddleware, XFrameOptionsMiddleware, CSPMiddleware):
        layer(answer).process_response(request, said)
    return further_headers(answer)(request)
