"""What holds on every page: headers, host names, error pages, nothing from elsewhere."""

from __future__ import annotations

import re

import pytest
from django.test import Client

pytestmark = pytest.mark.django_db


@pytest.fixture
def bench(settings) -> Client:
    return Client(HTTP_HOST="localhost", raise_request_exception=False)


def test_a_page_may_load_only_from_this_computer_and_run_nothing_written_into_it(bench: Client) -> None:
    policy = dict(part.split(" ", 1) for part in bench.get("/")["Content-Security-Policy"].split("; "))
    assert policy["default-src"] == "'none'"
    assert policy["script-src"] == policy["style-src"] == policy["connect-src"] == "'self'"
    assert policy["frame-ancestors"] == policy["base-uri"] == "'none'"
    assert "unsafe" not in " ".join(policy.values())


def test_no_page_holds_inline_script_or_style_or_an_address_elsewhere(bench: Client) -> None:
    for address in ("/", "/nope"):
        page = bench.get(address).content.decode()
        assert not re.search(r"<style|\sstyle=|\son[a-z]+=|javascript:", page)
        assert all('src="/' in tag for tag in re.findall(r"<script[^>]*>", page))
        assert not re.findall(r"""(?:src|href|action)=["'](?:https?:)?//""", page)


@pytest.mark.parametrize("address", ["/", "/nope", "/health"])
def test_every_answer_carries_the_secure_headers(bench: Client, address: str) -> None:
    headers = bench.get(address).headers
    assert headers["X-Frame-Options"] == "DENY"
    assert headers["X-Content-Type-Options"] == "nosniff"
    assert headers["Referrer-Policy"] == "same-origin"
    assert headers["Cross-Origin-Opener-Policy"] == headers["Cross-Origin-Resource-Policy"] == "same-origin"
    assert "camera=()" in headers["Permissions-Policy"]


@pytest.mark.parametrize("host", ["evil.example", "127.0.0.1.evil.example", "192.168.1.5"])
def test_a_host_name_that_is_not_loopback_is_turned_away_at_this_computer(bench: Client, host: str) -> None:
    answer = bench.get("/", HTTP_HOST=host)
    assert answer.status_code == 400
    assert "Nothing you typed is lost" in answer.content.decode()


@pytest.mark.parametrize("address", ["192.168.1.20", "10.0.0.3", "fe80::1", "", "not an address"])
def test_a_sender_that_is_not_this_computer_is_turned_away(bench: Client, address: str) -> None:
    assert bench.get("/", REMOTE_ADDR=address).status_code == 403


@pytest.mark.parametrize("address", ["127.0.0.1", "127.8.8.8", "::1"])
def test_this_computer_is_let_in_without_an_account(bench: Client, address: str) -> None:
    assert bench.get("/", REMOTE_ADDR=address).status_code == 200


def test_a_wrong_address_says_that_nothing_is_lost_and_what_to_do(bench: Client) -> None:
    answer = bench.get("/nope")
    page = answer.content.decode()
    assert answer.status_code == 404
    assert "Nothing you typed is lost" in page
    assert "Go to the jobs" in page


def test_a_script_gets_an_error_as_data(bench: Client) -> None:
    answer = bench.get("/nope", headers={"accept": "application/json"})
    assert answer.status_code == 404
    assert answer.json()["error"].startswith("There is no such page")


def test_a_page_that_breaks_says_so_in_plain_words_without_asking_the_database(bench, monkeypatch) -> None:
    monkeypatch.setattr("barwise.web.frame.settings", None)  # what every page needs is gone
    answer = bench.get("/")
    page = answer.content.decode()
    assert answer.status_code == 500
    assert "Nothing you typed is lost" in page
    assert "NoneType" not in page


def test_a_form_without_its_token_is_refused_and_says_so(settings) -> None:
    client = Client(HTTP_HOST="localhost", enforce_csrf_checks=True)
    answer = client.post("/sign-out")
    assert answer.status_code == 403
    assert "open too long" in answer.content.decode()


def test_health_says_up_and_nothing_of_the_shop(bench: Client) -> None:
    answer = bench.get("/health")
    assert answer.status_code == 200
    assert answer.json() == {"barwise": "up"}
