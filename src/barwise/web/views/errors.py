"""When something goes wrong: what happened, that nothing typed is lost, and what to do."""

from __future__ import annotations

import errno
import logging
from dataclasses import dataclass, replace
from http import HTTPStatus

from django.conf import settings
from django.db import DatabaseError, DataError, IntegrityError, ProgrammingError
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.http.response import HttpResponseBase
from django.template.loader import render_to_string

from barwise.errors import BarwiseError
from barwise.version import __version__
from barwise.web.access import LOOKING, Answer, asks_for_json

_log = logging.getLogger("barwise.web")


@dataclass(frozen=True)
class Trouble:
    """One way a request can fail, in words.

    Parameters
    ----------
    status : HTTPStatus
    title, what, todo : str
        What happened, in a few words and in a sentence, and what to do.
    """

    status: HTTPStatus
    title: str
    what: str
    todo: str


NOT_FOUND = Trouble(
    HTTPStatus.NOT_FOUND,
    "There is no such page",
    "The address is wrong, or what stood there has another place now.",
    "Go to the jobs and look from there.",
)
NOT_ALLOWED = Trouble(
    HTTPStatus.FORBIDDEN,
    "You may not do this",
    "Your role does not allow it.",
    "Go back, or have somebody do it whose role allows it.",
)
NOT_UNDERSTOOD = Trouble(
    HTTPStatus.BAD_REQUEST,
    "This was not understood",
    "What the browser sent does not fit this page.",
    "Go back and try again. If you opened a link, open the address that barwise said at its start.",
)
FORM_TOO_OLD = Trouble(
    HTTPStatus.FORBIDDEN,
    "This page was open too long",
    "Somebody signed in or out since it was opened, or the browser keeps no cookies, so it was not sent.",
    "Go back, reload the page, and send it again.",
)
BROKEN = Trouble(
    HTTPStatus.INTERNAL_SERVER_ERROR,
    "Something went wrong here",
    "It is not your fault: the program stumbled, or the disk did.",
    "Go back and try once more. If it happens again, the window where barwise was started says why.",
)


CANNOT_BE_DONE = Trouble(
    HTTPStatus.UNPROCESSABLE_ENTITY,
    "This cannot be shown or done here",
    "",
    "Go back. What was entered before is kept.",
)


DAMAGED = Trouble(
    HTTPStatus.SERVICE_UNAVAILABLE,
    "The shop’s database is damaged",
    "It can be looked at, as far as it can be read; nothing can be entered.",
    "At the shop’s computer the window where barwise was started says how to get it back.",
)
NO_ROOM = Trouble(
    HTTPStatus.INSUFFICIENT_STORAGE,
    "The disk of the shop’s computer is full",
    "This was not taken.",
    "Make room there; readings that wait in a browser are then sent by themselves.",
)
NO_DATABASE = Trouble(
    HTTPStatus.SERVICE_UNAVAILABLE,
    "The database does not take this now",
    "It is busy, damaged, or not to be reached.",
    "Try again. If it stays so, stop barwise and start it again: the start says what is wrong.",
)
_DISK_FULL_OF_POSTGRESQL = "53100"  # disk_full: PostgreSQL's documentation, Appendix A, error codes


def only_to_look(answer: Answer) -> Answer:
    """Let nobody enter anything where the database is damaged (middleware)."""

    def middleware(request: HttpRequest) -> HttpResponseBase:
        if settings.READ_ONLY and request.method not in LOOKING:
            return _damaged(request)
        return answer(request)

    return middleware


class WhatBarwiseRefuses:
    """What no page caught is answered with barwise's own reason, not as a stumble (middleware)."""

    def __init__(self, answer: Answer) -> None:
        self._answer = answer

    def __call__(self, request: HttpRequest) -> HttpResponseBase:
        """Nothing but to go on."""
        return self._answer(request)

    def process_exception(self, request: HttpRequest, exception: Exception) -> HttpResponse | None:
        """422 with the reason; a disk that is full, and a database that takes nothing, in words too."""
        if isinstance(exception, BarwiseError):
            return _answer(request, CANNOT_BE_DONE, f"{exception}.")
        if _is_no_room(exception):
            return _answer(request, NO_ROOM)
        if isinstance(exception, DatabaseError) and not isinstance(exception, _OURS):
            _log.error("the database refuses: %s", exception)
            return _damaged(request) if settings.READ_ONLY else _answer(request, NO_DATABASE)
        return None


_OURS = (IntegrityError, ProgrammingError, DataError)
"""What the database refuses because the program asked wrongly: that is a stumble, and is told as one."""


def _is_no_room(exception: Exception) -> bool:
    if isinstance(exception, OSError):
        return exception.errno in (errno.ENOSPC, errno.EDQUOT)
    full = getattr(exception.__cause__, "sqlstate", None) == _DISK_FULL_OF_POSTGRESQL
    return isinstance(exception, DatabaseError) and (full or "disk is full" in str(exception))


def _damaged(request: HttpRequest) -> HttpResponse:
    """In the network nobody reads where files lie on this computer."""
    return _answer(request, DAMAGED, "" if settings.LAN else f"{settings.READ_ONLY}.")


TOO_LARGE = Trouble(
    HTTPStatus.REQUEST_ENTITY_TOO_LARGE,
    "This is too large",
    "What was sent is larger than anything the bench takes.",
    "Go back and send a smaller file. A job’s file is at most 256 MB.",
)


def refused_unheard(status: HTTPStatus, *, api: bool) -> HttpResponse:
    """What the web server refused before it came to a page, in the bench's words."""
    trouble = TOO_LARGE if status == TOO_LARGE.status else replace(NOT_UNDERSTOOD, status=status)
    request = HttpRequest()
    request.path = "/api/" if api else "/"
    return _answer(request, trouble)


def not_found(request: HttpRequest, exception: Exception) -> HttpResponse:  # noqa: ARG001
    """404."""
    return _answer(request, NOT_FOUND)


def not_allowed(request: HttpRequest, exception: Exception) -> HttpResponse:
    """403, with the reason if one was given."""
    return _answer(request, NOT_ALLOWED, str(exception))


def not_understood(request: HttpRequest, exception: Exception) -> HttpResponse:  # noqa: ARG001
    """400."""
    return _answer(request, NOT_UNDERSTOOD)


def broken(request: HttpRequest) -> HttpResponse:
    """500. Asks neither database nor session: they may be what is broken."""
    return _damaged(request) if settings.READ_ONLY else _answer(request, BROKEN)


def form_too_old(request: HttpRequest, reason: str = "") -> HttpResponse:  # noqa: ARG001
    """403 because the form's token does not fit."""
    return _answer(request, FORM_TOO_OLD)


def _answer(request: HttpRequest, trouble: Trouble, what: str = "") -> HttpResponse:
    if asks_for_json(request):
        said = {"error": f"{trouble.title}. {what or trouble.what} {trouble.todo}"}
        return JsonResponse(said, status=trouble.status)
    shown = {"trouble": trouble, "what": what or trouble.what, "version": __version__}
    return HttpResponse(render_to_string("error.html", shown), status=trouble.status)
