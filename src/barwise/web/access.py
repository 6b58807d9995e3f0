"""Who is let in: at this computer whoever stands at it, in the shop's network whoever signs in.

At this computer alone there are no accounts: the server listens on loopback only, answers to the names of
loopback only, and the person at the bench is picked on the screen. In the network everybody signs in, and a
role says what they may do. Unless a view says otherwise with `needs`, looking takes `SEE` and changing takes
`ENTER`, so a page that forgets to ask is closed to readers, not open to them.
"""

from __future__ import annotations

import ipaddress
from collections.abc import Callable
from typing import Any, Literal

from django.conf import settings
from django.contrib.auth.middleware import LoginRequiredMiddleware
from django.contrib.auth.models import AnonymousUser
from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.http.response import HttpResponseBase

from barwise.record.models import Person
from barwise.web.roles import ENTER, SEE

View = Callable[..., HttpResponseBase]
Answer = Callable[[HttpRequest], HttpResponseBase]

AT_BENCH = "at-bench"
"""Where the session keeps who was picked on the screen."""
LOOKING = frozenset({"GET", "HEAD", "OPTIONS"})
FURTHER_HEADERS = {
    "Permissions-Policy": "camera=(), display-capture=(), geolocation=(), microphone=(), payment=(), usb=()",
    "Cross-Origin-Resource-Policy": "same-origin",
}


class AtThisComputer(AnonymousUser):
    """Whoever stands at the shop's computer: no account, everything allowed."""

    @property
    def is_authenticated(self) -> Literal[True]:  # type: ignore[override]
        """They are let in."""
        return True

    @property
    def is_anonymous(self) -> Literal[False]:  # type: ignore[override]
        """They are let in."""
        return False

    def has_perm(self, perm: str, obj: object = None) -> bool:  # noqa: ARG002
        """Everything is allowed."""
        return True

    def has_perms(self, perm_list: Any, obj: object = None) -> bool:  # noqa: ARG002
        """Everything is allowed."""
        return True

    def has_module_perms(self, module: str) -> bool:  # noqa: ARG002
        """Everything is allowed."""
        return True


def needs(permission: str) -> Callable[[View], View]:
    """Say what a view takes, where looking is not `SEE` or changing is not `ENTER`."""

    def marked(view: View) -> View:
        view.needs = permission  # type: ignore[attr-defined]
        return view

    return marked


def person_at(request: HttpRequest) -> Person | None:
    """Who is at the bench: in the network who signed in, at this computer who was picked on the screen."""
    picked = request.session.get(AT_BENCH)
    who = {"user_id": request.user.pk} if settings.LAN else {"pk": picked}
    if None in who.values():
        return None
    return Person.objects.filter(active=True, **who).first()


def at_this_computer(answer: Answer) -> Answer:
    """Let in whoever stands at this computer, when it serves nobody else (middleware)."""

    def middleware(request: HttpRequest) -> HttpResponseBase:
        if not settings.LAN:
            if not _is_loopback(request.META.get("REMOTE_ADDR", "")):
                raise PermissionDenied("This bench is served to its own computer only.")
            request.user = AtThisComputer()
        return answer(request)

    return middleware


class Roles(LoginRequiredMiddleware):
    """Nothing without signing in, and nothing that the role does not allow (middleware)."""

    def process_view(
        self, request: HttpRequest, view: View, args: tuple[Any, ...], kwargs: dict[str, Any]
    ) -> HttpResponseBase | None:
        """Stop a request that its sender may not make."""
        stopped = super().process_view(request, view, args, kwargs)
        if stopped is not None or not getattr(view, "login_required", True):
            return stopped
        usual = SEE if request.method in LOOKING else ENTER
        if not request.user.has_perm(getattr(view, "needs", usual)):
            raise PermissionDenied("Your role does not allow this.")
        return None

    def handle_no_permission(self, request: HttpRequest, view: View) -> HttpResponseBase:  # type: ignore[override]
        """Send a person to the sign-in page; tell a script that it must sign in."""
        if asks_for_json(request):
            return JsonResponse({"error": "sign in first"}, status=401)
        to_sign_in = super().handle_no_permission(request, view)
        if getattr(request, "htmx", False):  # a part of a page cannot show the sign-in page
            return HttpResponse(status=401, headers={"HX-Redirect": to_sign_in["Location"]})
        return to_sign_in


def further_headers(answer: Answer) -> Answer:
    """Add the headers that Django has no setting for (middleware)."""

    def middleware(request: HttpRequest) -> HttpResponseBase:
        response = answer(request)
        for name, value in FURTHER_HEADERS.items():
            response.headers.setdefault(name, value)
        response.headers.setdefault("Cache-Control", "private, no-cache")
        return response

    return middleware


def asks_for_json(request: HttpRequest) -> bool:
    """Whether it is a script that wants data, not a person who wants a page."""
    return (
        request.path.startswith("/api/")
        or request.get_preferred_type(["text/html", "application/json"]) == "application/json"
    )


def _is_loopback(address: str) -> bool:
    try:
        return ipaddress.ip_address(address).is_loopback
    except ValueError:
        return False
