"""The HTTP interface: described, kept to its own origin, and let in as the screens let in."""

from __future__ import annotations

import pytest
from django.test import Client

from barwise.web import people

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
