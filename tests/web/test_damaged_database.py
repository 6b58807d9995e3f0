"""A damaged database is served to look at: it shows what it can, takes nothing, and says the way out."""

from __future__ import annotations

import json

import pytest
from django.db import DatabaseError
from django.test import Client

from barwise.record.models import Reading
from tests.web.shop import bench_client, open_invented_job

pytestmark = pytest.mark.django_db

WHY = "the database /srv/shop/barwise.sqlite3 is damaged. barwise restore puts the backup in its place"


@pytest.fixture
def bench() -> Client:
    client = bench_client()
    client.raise_request_exception = False
    return client


def test_pages_are_shown_with_the_way_out_and_nothing_is_taken(bench: Client, settings) -> None:
    job = open_invented_job()
    settings.READ_ONLY = WHY
    page = bench.get(f"/jobs/{job.pk}")
    assert page.status_code == 200
    assert WHY in page.content.decode()
    sent = bench.post(f"/jobs/{job.pk}/intake/turns-by-hand/take", {"value": "stiff"})
    assert sent.status_code == 503
    assert WHY in sent.content.decode()
    by_script = bench.post(f"/api/v1/jobs/{job.pk}/readings", "{}", content_type="application/json")
    assert by_script.status_code == 503
    assert "damaged" in json.loads(by_script.content)["error"]  # the browser keeps what is answered so
    assert not Reading.objects.exists()
    assert bench.get("/health").status_code == 503


def test_a_page_that_cannot_be_read_any_more_says_so_in_words(bench: Client, settings, monkeypatch) -> None:
    def malformed(*_: object, **__: object) -> None:
        raise DatabaseError("database disk image is malformed")

    monkeypatch.setattr("barwise.web.views.jobs.find_jobs", malformed)
    page = bench.get("/")
    assert page.status_code == 503
    assert "The database does not take this now" in page.content.decode()
    settings.READ_ONLY = WHY
    page = bench.get("/")
    assert page.status_code == 503
    assert WHY in page.content.decode()


def test_in_the_network_nobody_reads_where_the_files_lie(bench: Client, settings, lan: None) -> None:
    settings.READ_ONLY = WHY
    for answer in (bench.post("/sign-in", {"username": "a", "password": "b"}), bench.get("/sign-in")):
        text = answer.content.decode()
        assert "/srv/shop" not in text
        assert "damaged" in text
