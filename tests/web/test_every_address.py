"""What holds at every address: who is let in, secure headers, no forged form, who did it and when."""

from __future__ import annotations

import re
import uuid
from collections.abc import Callable
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from django.utils import timezone

from barwise.record.exchange import export_job
from barwise.record.jobs import close_job
from barwise.record.models import Change, Job, Reading
from barwise.record.sheets import store_sheet
from barwise.record.shop_key import the_key
from barwise.route.sheet import built_in_text
from barwise.web import people
from tests.web.addresses import ADDRESSES, ROLES, SENT_TO, in_table, rank, served
from tests.web.shop import bench_client, jpeg, open_invented_job
from tests.web.test_instruments import TYPED as INSTRUMENT
from tests.web.test_jobs import ARRIVAL
from tests.web.test_sheet_editor import fields

pytestmark = pytest.mark.django_db

PASSWORD = "kommutator-62"
SAFE = {
    "X-Frame-Options": "DENY",
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
}
NOT_A_CHANGE = {
    "sign-in": "who is signed in is a session, not the shop's data",
    "sign-out": "as signing in",
    "answer-again": "works out again what was read: a result names its readings, sheet and version",
    "api:result": "the same",
    "meter": "what a meter says is no record; the reading is, when the page enters it",
    "api:meter": "the same",
    "backups": "copies the shop's data and changes none of it",
    "api:openapi-json": "describes the interface, however it is asked",
}


def sign_in(role: str) -> Client:
    """A browser in the network, signed in as somebody of that role; as nobody for nobody."""
    client = Client(HTTP_HOST="localhost", raise_request_exception=False)
    if role != "nobody":
        people.add(f"Some {role}", role, PASSWORD)
        answer = client.post("/sign-in", {"username": f"Some {role}", "password": PASSWORD})
        assert answer.status_code == 302
    return client


def test_no_address_is_left_out_of_these_tests() -> None:
    assert in_table() == served()


@pytest.mark.parametrize("role", ROLES)
def test_every_address_lets_in_whom_it_should_and_nobody_else(
    lan: None, known: dict[str, Any], role: str
) -> None:
    client = sign_in(role)
    for name, one in ADDRESSES.items():
        path = one.path.format(**known)
        for method, wanted in (("GET", one.look), ("POST", one.send)):
            answer = getattr(client, method.lower())(path)
            answer.close()
            at = f"{method} {path} ({name}) as {role}: {answer.status_code}"
            if wanted == "":
                assert answer.status_code in (302, 401, 403, 404, 405), at
                assert answer.status_code != 302 or role == "nobody", at
            elif rank(role) >= rank(wanted):
                assert answer.status_code < 500, at
                assert answer.status_code not in (401, 403, 405), at
            elif role == "nobody":
                assert answer.status_code in (302, 401), at
                assert answer.status_code == 401 or answer["Location"].startswith("/sign-in"), at
            else:
                assert answer.status_code == 403, at
        client = client if name != "sign-out" else again(client, role)


def again(client: Client, role: str) -> Client:
    """Signed in anew, after the address that signs out."""
    if role != "nobody":
        client.post("/sign-in", {"username": f"Some {role}", "password": PASSWORD})
    return client


@pytest.mark.parametrize("name", ADDRESSES)
def test_every_answer_of_every_address_carries_the_secure_headers(known: dict[str, Any], name: str) -> None:
    client, path = bench_client(), ADDRESSES[name].path.format(**known)
    client.raise_request_exception = False
    for answer in (client.get(path), client.post(path), client.get(path, HTTP_HOST="evil.example")):
        answer.close()
        assert {header: answer.headers.get(header) for header in SAFE} == SAFE
        assert "default-src 'none'" in answer["Content-Security-Policy"]
        assert "camera=()" in answer["Permissions-Policy"]


@pytest.mark.parametrize("path", ["/static/barwise/paper.css", "/static/nothing.css", "/nope", "/jobs/0"])
def test_static_files_and_wrong_addresses_carry_them_too(path: str) -> None:
    client = Client(HTTP_HOST="localhost", raise_request_exception=False)
    answer = client.get(path)
    answer.close()
    assert {header: answer.headers.get(header) for header in SAFE} == SAFE
    assert "default-src 'none'" in answer["Content-Security-Policy"]


@pytest.mark.parametrize("name", SENT_TO)
def test_a_form_of_another_site_is_refused_at_every_address(known: dict[str, Any], name: str) -> None:
    client = Client(HTTP_HOST="localhost", enforce_csrf_checks=True, raise_request_exception=False)
    client.cookies = bench_client().cookies
    answer = client.post(ADDRESSES[name].path.format(**known), {"value": "1"})
    assert answer.status_code == 403


Sent = Callable[[Client, dict[str, Any]], Any]


def form(name: str, **fields: Any) -> Sent:
    """Fields sent as a form; `called` is the field name."""
    sent = {"name" if key == "called" else key: value for key, value in fields.items()}
    return lambda client, known: client.post(ADDRESSES[name].path.format(**known), sent)


def data(name: str, **fields: Any) -> Sent:
    return lambda client, known: client.post(
        ADDRESSES[name].path.format(**known), fields, content_type="application/json"
    )


def reopened(client: Client, known: dict[str, Any]) -> Any:
    close_job(Job.objects.get(pk=known["job"]))
    return form("job-reopen", reason="came back")(client, known)


def moved(client: Client, known: dict[str, Any]) -> Any:
    text = built_in_text("demo-57-wave").replace("version = 1", "version = 7").replace("0.400", "0.410")
    store_sheet(text)
    return form("job-sheet", sheet="demo-57-wave", version="7")(client, known)


def priced(client: Client, known: dict[str, Any]) -> Any:
    path = ADDRESSES["job-worth"].path.format(**known)
    typed = {"currency": "EUR", "labour_rate": "60", "base_hours": "2", "new_price": "300"}
    typed |= {"name-0": "bush", "need-0": "must", "price-0": "10", "hours-0": "1"}
    page = client.post(path, typed | {"do": "work-out"}).content.decode()
    found = {name: re.search(rf'name="{name}" value="([^"]+)"', page) for name in ("seal", "choice")}
    shown = {name: one[1] if one else "" for name, one in found.items()}
    word = {"said_by": "the owner", "way": "in person", "answer": "approved", "do": "approve"}
    return client.post(path, typed | shown | word)


def brought_in(client: Client, known: dict[str, Any]) -> Any:
    packed = export_job(open_invented_job("T-101"))
    Job.objects.filter(unit__tag="T-101").update(uuid=uuid.uuid4())
    return client.post("/import", {"zip": SimpleUploadedFile("job.zip", packed, "application/zip")})


def photographed(client: Client, known: dict[str, Any]) -> Any:
    photo = SimpleUploadedFile("drive end.jpg", jpeg(), "image/jpeg")
    return client.post(ADDRESSES["photo-add"].path.format(**known), {"photo": photo})


def struck(client: Client, known: dict[str, Any]) -> Any:
    sent = {"reading": str(known["reading"]), "key": str(uuid.uuid4()), "reason": "slip"}
    return client.post(ADDRESSES["strike"].path.format(**known), sent)


def edited(client: Client, known: dict[str, Any]) -> Any:
    path = ADDRESSES["sheet-edit"].path
    return client.post(path, fields(client.get(path)) | {"limits.brush-length.discard": "0.410"})


def written_anew(client: Client, known: dict[str, Any]) -> Any:
    path = f"{ADDRESSES['sheet-new'].path}?from=demo-57-wave"
    return client.post(path, fields(client.get(path)) | {"title": "Invented other", "key": "invented-other"})


DROP = {"station": "armature", "check": "winding", "test": "drop", "place_from": "2", "place_to": "3"}
CHANGING: dict[str, Sent] = {
    "intake": form("intake", **ARRIVAL),
    "job-wait": form("job-wait", waits_for="bushes"),
    "job-sheet": moved,
    "job-worth": priced,
    "job-close": form("job-close", all_the_same="1"),
    "job-reopen": reopened,
    "bring-in": brought_in,
    "decide": form("decide", decided="reuse", reason="as it should be"),
    "part": form("part", called="bush", action="fitted", quantity="2"),
    "photo-add": photographed,
    "take": form("take", value="free"),
    "strike": struck,
    "walk": form("walk", value="3.6", test="resistance", unit="mohm", place_from="1", place_to="2"),
    "answer-pass": form("answer-pass", diameter="1.2400", unit="in", left="clean"),
    "sheet-new": written_anew,
    "sheet-edit": edited,
    "instrument-new": form("instrument-new", **INSTRUMENT),
    "instrument-edit": form("instrument-edit", **{**INSTRUMENT, "tag": "M-1", "kind": "micrometer"}),
    "instrument-retire": form("instrument-retire"),
    "who": form("who", called="Somebody new"),
    "shop": form("shop", called="Invented shop", sign="comma", length_unit="mm", level="95"),
    "people": form("people", do="add", called="Bert", role="bench", password=PASSWORD, again=PASSWORD),
    "api:take": data(
        "api:take", **DROP, key=str(uuid.uuid4()), text="3.6", feed={"into": 1, "out": 15, "amps": 10}
    ),
    "api:strike": data("api:strike", key=str(uuid.uuid4()), reason="slip"),
}


def test_every_address_that_is_sent_to_is_known_as_changing_something_or_nothing() -> None:
    assert CHANGING.keys() | NOT_A_CHANGE.keys() | {"password"} == set(SENT_TO)


@pytest.mark.parametrize("name", CHANGING)
def test_every_change_says_who_and_when(known: dict[str, Any], name: str) -> None:
    client, began = bench_client("Anna (invented)"), timezone.now()
    changes, readings = Change.objects.count(), Reading.objects.count()
    answer = CHANGING[name](client, known)
    assert answer.status_code in (200, 201, 302), answer.content.decode()[:2000]
    rows = [*Change.objects.order_by("id")[changes:], *Reading.objects.order_by("id")[readings:]]
    assert rows, "nothing says that it was done"
    done = [row for row in rows if row.person is not None]
    assert done, "nobody is named"
    assert {str(row.person) for row in done} <= {"Anna (invented)", "Somebody new"}
    assert all(getattr(row, "at", None) or row.received_at >= began for row in rows)


def test_a_changed_password_says_who_and_when(lan: None) -> None:
    client = sign_in("bench")
    new = {
        "old_password": PASSWORD,
        "new_password1": "bushes-and-brushes",
        "new_password2": "bushes-and-brushes",
    }
    assert client.post("/password", new).status_code == 302
    assert str(Change.objects.get(what="password changed").person) == "Some bench"


@pytest.mark.parametrize("name", CHANGING)
def test_nothing_is_changed_by_nobody(known: dict[str, Any], name: str) -> None:
    """Whoever did not say who they are changes nothing; picking a name is how to say it."""
    if name == "who":
        return
    client = Client(HTTP_HOST="localhost", raise_request_exception=False)
    the_key()  # else the first job that is closed makes one
    before = Change.objects.count(), Reading.objects.count()
    answer = CHANGING[name](client, known)
    made = {"job-reopen": 2, "job-sheet": 1, "bring-in": 2}.get(name, 0)  # by the test itself, beforehand
    assert answer.status_code in (403, 409, 422)
    assert (Change.objects.count() - made, Reading.objects.count()) == before
