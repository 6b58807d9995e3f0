"""The HTTP interface: described, kept to its own origin, and let in as the screens let in."""

from __future__ import annotations

import uuid
from typing import Any

import pytest
from django.test import Client

from barwise.record.models import Job, Person, Reading
from barwise.web import people
from tests.web.shop import bench_client

pytestmark = pytest.mark.django_db


def test_it_says_who_is_at_the_bench_and_what_they_may() -> None:
    bench = Client(HTTP_HOST="localhost")
    bench.post("/who", {"name": "Grete"})
    said = bench.get("/api/v1/here").json()
    assert (said["person"], said["may"]) == ("Grete", ["see", "enter", "office"])


def test_a_reader_may_only_see(lan: None) -> None:
    people.add("Some reader", "reader", "kommutator-62")
    client = Client(HTTP_HOST="localhost")
    assert client.get("/api/v1/here").status_code == 401
    client.post("/sign-in", {"username": "Some reader", "password": "kommutator-62"})
    assert client.get("/api/v1/here").json()["may"] == ["see"]


def test_its_description_is_served_and_no_page_from_elsewhere() -> None:
    bench = Client(HTTP_HOST="localhost")
    described = bench.get("/api/v1/openapi.json").json()
    assert described["openapi"].startswith("3.")
    assert "/api/v1/here" in described["paths"]
    assert bench.get("/api/v1/docs").status_code == 404


def body(**more: Any) -> dict[str, Any]:
    drop = {"station": "armature", "check": "winding", "test": "drop", "place_from": "1", "place_to": "2"}
    feed = {"into": 1, "out": 15, "amps": 10.0}
    return {**drop, "key": str(uuid.uuid4()), "text": "3.50", "feed": feed, **more}


def post(client: Client, job: Job, sent: dict[str, Any], path: str = "readings") -> Any:
    return client.post(f"/api/v1/jobs/{job.pk}/{path}", sent, content_type="application/json")


def test_a_reading_sent_twice_under_one_key_is_stored_once(job: Job) -> None:
    bench, sent = bench_client(), body()
    first, second = post(bench, job, sent), post(bench, job, sent)
    assert (first.status_code, second.status_code) == (201, 200)
    assert first.json()["reading"]["value_si"] == pytest.approx(3.5e-3)
    assert first.json()["reading"]["by"] == "Anna (invented)"
    assert second.json()["new"] is False
    assert Reading.objects.count() == 1
    other = post(bench, job, {**sent, "text": "3.51"})
    assert other.status_code == 409
    assert "a key of its own" in other.json()["error"]


@pytest.mark.parametrize(
    ("wrong", "status", "field", "words"),
    [
        ({"text": "3.5.1"}, 422, "value", "a number such as 3.59"),
        ({"place_from": "58"}, 422, "from", "a bar from 1 to 57"),
        ({"check": "windng"}, 422, "family starter, station armature, check", "winding"),
        ({"key": "no key"}, 422, "key", "UUID"),
        ({"text": "9" * 5000}, 422, "text", "4000"),
        ({"supersedes": str(uuid.uuid4())}, 409, "", "found no reading"),
        ({"instrument": 999}, 422, "instrument", "the number of an instrument in use"),
        ({"taken_at": "2199-01-01T00:00:00Z"}, 422, "taken_at", "in the future"),
        ({"seconds_ago": -5}, 422, "seconds_ago", "greater than or equal to 0"),
    ],
)
def test_what_is_refused_says_the_field_and_what_was_expected(
    job: Job, wrong: dict[str, Any], status: int, field: str, words: str
) -> None:
    answer = post(bench_client(), job, body(**wrong))
    assert (answer.status_code, answer.json()["field"]) == (status, field)
    assert words in answer.json()["error"]
    assert not Reading.objects.exists()


def test_a_size_in_the_wrong_unit_is_asked_about_and_taken_when_it_is_confirmed(job: Job) -> None:
    bench = bench_client()
    sent = {"key": str(uuid.uuid4()), "station": "commutator", "check": "diameter", "text": "1.24 mm"}
    asked = post(bench, job, sent)
    assert asked.status_code == 422
    assert asked.json()["question"]["suggested_unit"] == "in"
    assert not Reading.objects.exists()
    assert post(bench, job, {**sent, "confirmed": True}).status_code == 201


def test_a_reading_that_waited_has_the_time_it_was_typed_at_whatever_the_device_thinks(job: Job) -> None:
    post(bench_client(), job, body(seconds_ago=3600))
    taken = Reading.objects.get()
    assert 3590 < (taken.received_at - taken.taken_at).total_seconds() < 3610


def test_a_reading_that_waited_is_stored_under_the_name_of_who_typed_it(job: Job) -> None:
    bench_client("Bert (invented)")
    bert = Person.objects.get(name="Bert (invented)")
    sent = post(bench_client(), job, body(typed_by=bert.pk))
    assert sent.json()["reading"]["by"] == "Bert (invented)"


def test_in_the_network_nobody_sends_what_another_typed(lan: None, job: Job) -> None:
    for name in ("Ada", "Bert"):
        people.add(name, "bench", "kommutator-62")
    client = Client(HTTP_HOST="localhost")
    client.post("/sign-in", {"username": "Ada", "password": "kommutator-62"})
    bert = Person.objects.get(name="Bert")
    answer = post(client, job, body(typed_by=bert.pk))
    assert answer.status_code == 403
    assert "when Bert signs in again" in answer.json()["error"]
    assert not Reading.objects.exists()


def test_a_request_without_the_form_token_changes_nothing(job: Job) -> None:
    bench = Client(HTTP_HOST="localhost", enforce_csrf_checks=True)
    assert post(bench, job, body()).status_code == 403
    bench.get("/who")
    token = bench.cookies["csrftoken"].value
    bench.post("/who", {"name": "Anna (invented)", "csrfmiddlewaretoken": token})
    assert post(bench, job, body()).status_code == 403
    headers = {"X-CSRFToken": bench.cookies["csrftoken"].value}
    path = f"/api/v1/jobs/{job.pk}/readings"
    assert bench.post(path, body(), content_type="application/json", headers=headers).status_code == 201


def test_nobody_enters_without_a_name(job: Job) -> None:
    answer = post(Client(HTTP_HOST="localhost"), job, body())
    assert answer.status_code == 403
    assert "Say who is at the bench first" in answer.json()["error"]


def test_following_a_walk_gives_what_came_after_a_number_and_what_places_should_read(job: Job) -> None:
    bench = bench_client()
    for bar in range(1, 7):
        post(bench, job, body(place_from=str(bar), place_to=str(bar + 1)))
    path = f"/api/v1/jobs/{job.pk}/armature/winding/walk"
    setup = {"test": "drop", "feed_from": "1", "feed_to": "15", "feed_amps": "10.0"}
    said = bench.get(path, {**setup, "after": 4}).json()
    assert [row["seq"] for row in said["readings"]] == [5, 6]
    assert said["last"] == 6
    assert len(said["outlook"]) == 57
    assert abs(said["outlook"][6][0]) == pytest.approx(3.5e-3, rel=0.05)
    again = bench.get(path, {**setup, "after": 6}).json()
    assert (again["readings"], again["last"], again["outlook"]) == ([], 6, None)


def test_undo_withdraws_a_reading_and_both_rows_are_told_to_whoever_follows(job: Job) -> None:
    bench = bench_client()
    taken = post(bench, job, body()).json()["reading"]
    sent = {"key": str(uuid.uuid4())}
    assert post(bench, job, sent, f"readings/{taken['key']}/strike").status_code == 201
    assert post(bench, job, sent, f"readings/{taken['key']}/strike").status_code == 200
    rows = bench.get(f"/api/v1/jobs/{job.pk}/armature/winding/readings").json()["readings"]
    assert [(row["struck"], row["supersedes"]) for row in rows] == [(False, None), (True, taken["key"])]
    assert [row["reason"] for row in rows] == ["", "undone at once"]


def test_the_same_reads_as_the_screens(job: Job) -> None:
    bench = bench_client()
    post(bench, job, {"key": str(uuid.uuid4()), "station": "armature", "check": "insulation", "text": "250"})
    listed = bench.get("/api/v1/jobs", {"search": "t-100"}).json()
    assert [(one["tag"], one["customer"]) for one in listed["jobs"]] == [("T-100", "Invented Farm")]
    one = bench.get(f"/api/v1/jobs/{job.pk}").json()
    insulation = next(check for check in one["checks"] if check["check"] == "insulation")
    assert (insulation["readings"], insulation["decision"]) == (1, "accept")
    result = bench.get(f"/api/v1/jobs/{job.pk}/armature/insulation/result").json()
    assert (result["decision"], result["value_si"], result["sheet_version"]) == ("accept", 250e6, 1)
    assert bench.post(f"/api/v1/jobs/{job.pk}/armature/insulation/result").json()["seqs"] == [1]
    sheet = bench.get("/api/v1/sheets").json()[0]
    text = bench.get(f"/api/v1/sheets/{sheet['key']}/{sheet['version']}").json()["toml"]
    assert 'key = "demo-57-wave"' in text
    assert bench.get("/api/v1/instruments").json() == []
    missing = bench.get("/api/v1/jobs/999")
    assert (missing.status_code, missing.json()) == (404, {"error": "There is no such thing here."})


def test_a_reading_out_of_family_is_answered_with_what_was_expected_unless_nobody_asks(job: Job) -> None:
    bench = bench_client()
    for bar in range(1, 9):
        post(bench, job, body(place_from=str(bar), place_to=str(bar + 1)))
    odd = post(bench, job, body(place_from="9", place_to="10", text="4.41")).json()["odd"]
    assert odd["value_si"] == pytest.approx(4.41e-3)
    assert odd["expected_si"] == pytest.approx(3.5e-3, rel=0.05)
    silent = post(bench, job, body(place_from="10", place_to="11", text="4.4", hint=False))
    assert silent.json()["odd"] is None
