"""Who is at the bench? Picked on the screen, when the bench is served to its own computer alone."""

from __future__ import annotations

from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.http import url_has_allowed_host_and_scheme
from django.views.decorators.http import require_http_methods

from barwise.errors import BarwiseError
from barwise.web.access import AT_BENCH
from barwise.web.people import at_bench, known_at_bench


@require_http_methods(["GET", "HEAD", "POST"])
def who(request: HttpRequest) -> HttpResponse:
    """Show who may be at the bench; take who it is, or a new name."""
    if settings.LAN:
        return redirect("home")
    onward = _onward(request)
    wrong, typed = "", request.POST.get("name", "")
    if request.method == "POST":
        try:
            request.session[AT_BENCH] = known_at_bench(typed).pk
        except BarwiseError as error:
            wrong = str(error)
        else:
            return redirect(onward)
    shown = {"people": at_bench(), "onward": onward, "wrong": wrong, "typed": typed}
    return render(request, "who.html", shown, status=422 if wrong else 200)


def _onward(request: HttpRequest) -> str:
    """Where to go on, if that is a page of ours."""
    wanted = request.POST.get("next") or request.GET.get("next") or "/"
    return wanted if url_has_allowed_host_and_scheme(wanted, allowed_hosts=None) else "/"
