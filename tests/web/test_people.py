"""The page of accounts: at the shop's computer alone, and what it refuses stays in the form."""

from __future__ import annotations

import pytest
from django.contrib.auth.models import User
from django.test import Client

from barwise.web import people

pytestmark = pytest.mark.django_db

PASSWORD = "kommutator-62"


def make(bench: Client, **changes: str) -> str:
    typed = {"do": "add", "name": "Ada Bench", "role": "bench", "password": PASSWORD, "again": PASSWORD}
    return bench.post("/people", {**typed, **changes}, follow=True).content.decode()


def change(bench: Client, do: str, **more: str) -> str:
    return bench.post("/people", {"do": do, "account": "Ada Bench", **more}, follow=True).content.decode()


def test_an_account_is_made_and_may_sign_in_with_its_role(bench: Client) -> None:
    assert "Ada Bench may sign in now." in make(bench, role="office")
    user = User.objects.get(username="Ada Bench")
    assert user.check_password(PASSWORD)
    assert [(one.name, one.role, one.open) for one in people.accounts()] == [("Ada Bench", "office", True)]


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({"name": "  "}, "expected a name"),
        ({"role": "owner"}, "expected reader, bench, office"),
        ({"password": "short", "again": "short"}, "at least 10 characters"),
        ({"again": "kommutator-63"}, "two that differ"),
    ],
)
def test_what_cannot_be_is_said_and_what_was_typed_stays(
    bench: Client, typed: dict[str, str], said: str
) -> None:
    answer = bench.post(
        "/people",
        {"do": "add", "name": "Ada Bench", "role": "bench", "password": PASSWORD, "again": PASSWORD, **typed},
    )
    shown = answer.content.decode()
    assert answer.status_code == 422
    assert said in shown
    assert typed.get("name") or 'value="Ada Bench"' in shown
    assert not User.objects.exists()


def test_a_password_never_comes_back_in_the_page(bench: Client) -> None:
    assert PASSWORD not in make(bench, role="owner")


def test_role_password_and_closing_are_changed_for_one_account(bench: Client) -> None:
    make(bench)
    assert "is reader now" in change(bench, "role", role="reader")
    assert "new password" in change(bench, "password", password="bürsten-und-kohle")
    assert "may not sign in any more" in change(bench, "close")
    assert [(one.role, one.open) for one in people.accounts()] == [("reader", False)]
    assert "may sign in again" in change(bench, "open")
    assert User.objects.get().check_password("bürsten-und-kohle")


def test_a_button_of_another_page_does_nothing(bench: Client) -> None:
    assert "unknown button" in change(bench, "delete")


def test_over_the_network_nobody_sees_the_accounts(lan: None) -> None:
    people.add("Some office", "office", PASSWORD)
    client = Client(HTTP_HOST="localhost")
    client.post("/sign-in", {"username": "Some office", "password": PASSWORD})
    assert client.get("/people").headers["Location"] == "/"
    assert client.post("/people", {"do": "close", "account": "Some office"}).headers["Location"] == "/"
    assert people.accounts()[0].open
