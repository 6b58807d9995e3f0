"""In the shop's network: signing in, waiting after wrong passwords, and what each role may do."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from django.http import HttpRequest, HttpResponse
from django.test import Client, RequestFactory
from django.urls import path

from barwise.errors import BarwiseError
from barwise.record.models import Change, Person
from barwise.web import people, urls
from barwise.web.access import needs, person_at
from barwise.web.roles import OFFICE, SEE

pytestmark = pytest.mark.django_db

PASSWORD = "kommutator-62"
ADDRESSES = ("/plain", "/for-all", "/for-office")
EVERYTHING = [f"{method} {address}" for method in ("GET", "POST") for address in ADDRESSES]


def _says(request: HttpRequest) -> HttpResponse:
    return HttpResponse(str(person_at(request)))


urlpatterns = [
    *urls.urlpatterns,
    path("plain", lambda request: _says(request)),
    path("for-office", needs(OFFICE)(lambda request: _says(request))),
    path("for-all", needs(SEE)(lambda request: _says(request))),
    path("api/thing", lambda request: _says(request)),
]


@pytest.fixture
def shop(settings, lan: None) -> None:
    """One account for each role, and a few addresses that need different permissions."""
    settings.ROOT_URLCONF = __name__
    for role in ("reader", "bench", "office"):
        people.add(f"Some {role}", role, PASSWORD)


@pytest.fixture
def signed_in(shop: None) -> Callable[[str], Client]:
    def client(role: str) -> Client:
        one = Client(HTTP_HOST="localhost")
        answer = one.post("/sign-in", {"username": f"Some {role}", "password": PASSWORD})
        assert answer.status_code == 302
        return one

    return client


def sign_in(client: Client, name: str, password: str, address: str = "192.168.1.7") -> int:
    return client.post("/sign-in", {"username": name, "password": password}, REMOTE_ADDR=address).status_code


def test_nobody_sees_a_page_without_signing_in_and_comes_back_to_it_afterwards(shop: None) -> None:
    client = Client(HTTP_HOST="localhost")
    answer = client.get("/plain?bar=3")
    assert answer.headers["Location"] == "/sign-in?next=/plain%3Fbar%3D3"
    typed = {"username": "some BENCH ", "password": PASSWORD, "next": "/plain?bar=3"}
    answer = client.post(answer.headers["Location"], typed)
    assert answer.headers["Location"] == "/plain?bar=3"


def test_a_script_that_is_not_signed_in_is_told_so_as_data(shop: None) -> None:
    answer = Client(HTTP_HOST="localhost").get("/api/thing")
    assert (answer.status_code, answer.json()) == (401, {"error": "sign in first"})


def test_a_part_of_a_page_that_is_not_signed_in_sends_the_whole_page_to_sign_in(shop: None) -> None:
    answer = Client(HTTP_HOST="localhost").get("/plain", headers={"HX-Request": "true"})
    assert answer.status_code == 401
    assert answer.headers["HX-Redirect"] == "/sign-in?next=/plain"


@pytest.mark.parametrize(
    ("role", "may"),
    [
        ("reader", {"GET /plain", "GET /for-all", "POST /for-all"}),
        ("bench", {"GET /plain", "POST /plain", "GET /for-all", "POST /for-all"}),
        ("office", set(EVERYTHING)),
    ],
)
def test_a_role_may_do_what_it_may_and_nothing_else(signed_in, role: str, may: set[str]) -> None:
    client = signed_in(role)
    answers = {one: client.generic(*one.split()).status_code for one in EVERYTHING}
    assert {one for one, status in answers.items() if status == 200} == may
    assert set(answers.values()) <= {200, 403}


def test_who_signed_in_is_who_is_at_the_bench(signed_in) -> None:
    assert signed_in("bench").get("/plain").content == b"Some bench"


def test_five_wrong_passwords_for_a_name_make_it_wait_even_with_the_right_one(shop: None) -> None:
    client = Client(HTTP_HOST="localhost")
    wrong = [sign_in(client, "Some bench", "wrong", f"192.168.1.{10 + n}") for n in range(5)]
    assert wrong == [200, 200, 200, 200, 429]
    assert sign_in(client, "Some bench", PASSWORD, "192.168.1.99") == 429
    assert sign_in(client, "Some office", PASSWORD, "192.168.1.99") == 302


def test_five_wrong_passwords_from_an_address_make_it_wait_whatever_the_name(shop: None) -> None:
    client = Client(HTTP_HOST="localhost")
    for n in range(5):
        sign_in(client, f"nobody {n}", "wrong")
    right = {"username": "Some office", "password": PASSWORD}
    answer = client.post("/sign-in", right, REMOTE_ADDR="192.168.1.7")
    assert answer.status_code == 429
    assert "quarter of an hour" in answer.content.decode()


def test_the_wait_ends_when_the_shops_computer_says_so(shop: None) -> None:
    client = Client(HTTP_HOST="localhost")
    for _ in range(5):
        sign_in(client, "Some bench", "wrong")
    assert people.free() > 0
    assert sign_in(client, "Some bench", PASSWORD) == 302


def test_a_closed_account_is_out_at_once_and_keeps_its_name_on_what_it_did(signed_in) -> None:
    client = signed_in("bench")
    people.change_open("Some bench", is_open=False)
    assert client.get("/plain").status_code == 302
    assert Person.objects.get(name="Some bench").active is False


def test_a_new_password_ends_the_sessions_of_the_old_one(signed_in) -> None:
    client = signed_in("bench")
    people.change_password("Some bench", "another-kommutator")
    assert client.get("/plain").status_code == 302


def test_signing_out_takes_a_press_and_ends_it(signed_in) -> None:
    client = signed_in("reader")
    assert client.get("/sign-out").status_code == 405
    assert client.post("/sign-out").status_code == 302
    assert client.get("/plain").status_code == 302


def test_a_changed_role_counts_from_the_next_page(signed_in) -> None:
    client = signed_in("bench")
    people.change_role("Some bench", "reader")
    assert client.post("/plain").status_code == 403


@pytest.mark.parametrize(
    ("name", "role", "password", "says"),
    [
        ("some BENCH", "bench", PASSWORD, "has an account already"),
        ("New", "boss", PASSWORD, "expected reader, bench, office"),
        ("New", "bench", "short", "too short"),
        ("New", "bench", "1234567890", "entirely numeric"),
        ("  ", "bench", PASSWORD, "expected a name"),
        ("x" * 121, "bench", PASSWORD, "at most 120"),
    ],
)
def test_an_account_that_makes_no_sense_is_refused(shop: None, name, role, password, says) -> None:
    before = people.accounts()
    with pytest.raises(BarwiseError, match=says):
        people.add(name, role, password)
    assert people.accounts() == before


def test_an_account_of_somebody_the_bench_knows_is_theirs(lan: None) -> None:
    known = Person.objects.create(name="Grete")
    people.add("Grete", "office", PASSWORD)
    known.refresh_from_db()
    assert known.user is not None
    assert known.role == "office"


def test_what_happens_to_an_account_is_written_down(shop: None) -> None:
    people.change_role("Some bench", "office")
    people.change_password("Some bench", "another-kommutator")
    people.change_open("Some bench", is_open=False)
    written = [change.line for change in Change.objects.filter(line__startswith="Some bench").order_by("id")]
    assert [line.partition(" (")[0] for line in written] == [
        "Some bench may sign in, as bench.",
        "Some bench is office now.",
        "Some bench has a new password.",
        "Some bench may not sign in any more.",
    ]
    assert "kommutator" not in " ".join(written)


def test_at_this_computer_a_name_is_picked_once_and_kept(client: Client) -> None:
    bench = Client(HTTP_HOST="localhost")
    answer = bench.post("/who", {"name": " Grete  Bench ", "next": "/health"})
    assert answer.headers["Location"] == "/health"
    assert "Grete Bench" in bench.get("/").content.decode()
    assert [person.name for person in Person.objects.all()] == ["Grete Bench"]
    request = RequestFactory().get("/")
    request.session = bench.session
    assert person_at(request) == Person.objects.get()


@pytest.mark.parametrize("onward", ["https://evil.example/", "//evil.example", "javascript:alert(1)"])
def test_picking_a_name_leads_to_no_other_place(onward: str) -> None:
    answer = Client(HTTP_HOST="localhost").post("/who", {"name": "Grete", "next": onward})
    assert answer.headers["Location"] == "/"


def test_a_name_that_is_none_is_asked_for_again_with_what_was_typed() -> None:
    answer = Client(HTTP_HOST="localhost").post("/who", {"name": "   "})
    assert answer.status_code == 422
    assert "expected a name" in answer.content.decode()


def test_at_this_computer_there_is_nothing_to_sign_in_to() -> None:
    bench = Client(HTTP_HOST="localhost")
    assert bench.get("/sign-in").headers["Location"] == "/"
    assert bench.get("/password").headers["Location"] == "/"
