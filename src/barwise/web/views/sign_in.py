"""Signing in and out, and changing one's password, when the bench is served to the shop's network."""

from __future__ import annotations

from typing import Any

from django.conf import settings
from django.contrib.auth.decorators import login_not_required
from django.contrib.auth.forms import AuthenticationForm, PasswordChangeForm
from django.contrib.auth.models import User
from django.contrib.auth.views import LoginView, LogoutView, PasswordChangeView
from django.http import HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.shortcuts import redirect
from django.urls import reverse_lazy
from django.utils.decorators import method_decorator

from barwise.web.people import password_changed


class Names(AuthenticationForm):
    """Name and password."""

    error_messages = {
        "invalid_login": "Name and password do not belong together. Check capital letters, then try again.",
        "inactive": "This account is closed. The shop's computer opens it again: barwise people open NAME.",
    }

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["username"].label = "Name"
        self.fields["username"].widget.attrs.update(spellcheck="false")

    def clean_username(self) -> str:
        """The name as the account spells it: capitals do not matter in a name."""
        typed = " ".join(self.cleaned_data["username"].split())
        account = User.objects.filter(username__iexact=typed).first()
        return account.get_username() if account else typed


@method_decorator(login_not_required, name="dispatch")
class SignIn(LoginView):
    """The sign-in page; at this computer alone there is none."""

    template_name = "sign_in.html"
    authentication_form = Names
    redirect_authenticated_user = True

    def dispatch(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
        """Show it only where there are accounts."""
        if not settings.LAN:
            return redirect("home")
        return super().dispatch(request, *args, **kwargs)


class SignOut(LogoutView):
    """Signs out; whoever may look may sign out."""


class NewPassword(PasswordChangeForm):
    """Old password, and the new one twice."""

    error_messages = {
        "password_mismatch": "The two new passwords differ. Type the new one twice alike.",
        "password_incorrect": "That is not your password. Check capital letters, then try again.",
    }

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for name, label, says in (
            ("old_password", "Password until now", ""),
            ("new_password1", "New password", "At least 10 characters, not only digits, nothing well known."),
            ("new_password2", "New password once more", ""),
        ):
            self.fields[name].label, self.fields[name].help_text = label, says


class ChangePassword(PasswordChangeView):
    """Changes one's own password."""

    template_name = "password.html"
    form_class = NewPassword
    success_url = reverse_lazy("home")

    def dispatch(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
        """Only an account has a password."""
        if not settings.LAN:
            return redirect("home")
        return super().dispatch(request, *args, **kwargs)

    def form_valid(self, form: Any) -> HttpResponse:
        """Write down who changed it."""
        answer = super().form_valid(form)
        password_changed(form.user)
        return answer
