"""Every address of the bench. Each page has its lines here and its module in `views`."""

from __future__ import annotations

from django.urls import path

from barwise.web.access import needs
from barwise.web.api import api
from barwise.web.roles import SEE
from barwise.web.views import errors, health, home, sign_in, who

urlpatterns = [
    path("", home.home, name="home"),
    path("sign-in", sign_in.SignIn.as_view(), name="sign-in"),
    path("sign-out", needs(SEE)(sign_in.SignOut.as_view()), name="sign-out"),
    path("password", needs(SEE)(sign_in.ChangePassword.as_view()), name="password"),
    path("who", who.who, name="who"),
    path("api/", api.urls),
    path("health", health.health, name="health"),
]

handler400 = errors.not_understood
handler403 = errors.not_allowed
handler404 = errors.not_found
handler500 = errors.broken
