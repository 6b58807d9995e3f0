"""Accounts for the shop's network: who may sign in and as what. Shown at the shop's own computer alone."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from django.conf import settings
from django.contrib import messages
from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from barwise.errors import BarwiseError
from barwise.record.models import Person
from barwise.web import people as accounts
from barwise.web.named_person import named_person
from barwise.web.roles import ROLES

MEANS = {
    "bench": "takes readings and photos, decides on parts",
    "office": "the same, and keeps sheets, instruments and customers",
    "reader": "looks, and changes nothing",
}


@require_http_methods(["GET", "HEAD", "POST"])
def people(request: HttpRequest) -> HttpResponse:
    """Show the accounts; add or change one."""
    if settings.LAN:
        return redirect("home")
    if request.method != "POST":
        return _page(request)
    do = request.POST.get("do", "")
    try:
        said = CHANGES.get(do, _unknown)(request.POST, named_person(request))
    except BarwiseError as error:
        return _page(request, error, request.POST)
    messages.success(request, said)
    return redirect("people")


def _add(posted: QueryDict, by: Person) -> str:
    name = str(posted.get("name", ""))
    if posted.get("password") != posted.get("again"):
        raise BarwiseError("password: found two that differ, expected the same twice")
    accounts.add(name, str(posted.get("role", "")), str(posted.get("password", "")), by)
    return f"{name} may sign in now."


def _role(posted: QueryDict, by: Person) -> str:
    accounts.change_role(_name(posted), str(posted.get("role", "")), by)
    return f"{_name(posted)} is {posted.get('role')} now."


def _password(posted: QueryDict, by: Person) -> str:
    accounts.change_password(_name(posted), str(posted.get("password", "")), by)
    return f"{_name(posted)} has a new password, and must sign in again."


def _close(posted: QueryDict, by: Person) -> str:
    accounts.change_open(_name(posted), is_open=False, by=by)
    return f"{_name(posted)} may not sign in any more. What was done under this name stays."


def _open(posted: QueryDict, by: Person) -> str:
    accounts.change_open(_name(posted), is_open=True, by=by)
    return f"{_name(posted)} may sign in again."


def _free(posted: QueryDict, by: Person) -> str:  # noqa: ARG001
    accounts.free(by)
    return "Nobody has to wait after wrong passwords now."


def _unknown(posted: QueryDict, by: Person) -> str:  # noqa: ARG001
    raise BarwiseError("form: found an unknown button, expected one of this page: reload it")


CHANGES: Mapping[str, Callable[[QueryDict, Person], str]] = {
    "add": _add,
    "role": _role,
    "password": _password,
    "close": _close,
    "open": _open,
    "free": _free,
}


def _name(posted: QueryDict) -> str:
    return str(posted.get("account", ""))


def _page(
    request: HttpRequest, wrong: BarwiseError | None = None, typed: QueryDict | None = None
) -> HttpResponse:
    field = str(wrong).partition(":")[0] if wrong else ""
    shown = {
        "accounts": accounts.accounts(),
        "roles": {role: MEANS[role] for role in sorted(ROLES)},
        "wrong": wrong,
        "field": field if field in ("password", "role") else "name",
        "typed": typed or {},
    }
    return render(request, "people.html", shown, status=422 if wrong else 200)
