"""A closed job shows its seal, and shows loudly where the record is no longer what was signed."""

from __future__ import annotations

import html
import re

import pytest
from django.test import Client

from barwise.files.signing_key import grouped
from barwise.record.jobs import close_job, reopen_job
from barwise.record.models import Job
from tests.record.conftest import by_force
from tests.report.paper.printed import a_worked_job

pytestmark = pytest.mark.django_db


@pytest.fixture
def closed() -> Job:
    return close_job(a_worked_job())


def words(answer) -> str:
    return " ".join(html.unescape(re.sub(r"<[^>]*>", " ", answer.content.decode())).split())


def test_a_closed_job_says_that_it_is_sealed_and_with_which_key(bench: Client, closed: Job) -> None:
    key = grouped(closed.seals.get().key.fingerprint)
    for page in ("", "/seal", "/record"):
        assert key in words(bench.get(f"/jobs/{closed.pk}{page}")), page
    assert "Sealed with key" in words(bench.get(f"/jobs/{closed.pk}"))
    assert "Check the seal" in words(bench.get(f"/jobs/{closed.pk}"))
    said = words(bench.get(f"/jobs/{closed.pk}/seal"))
    assert f"Whole: all {closed.last_seq} readings" in said
    assert key in words(bench.get("/shop"))


def test_what_was_altered_in_the_database_stands_on_every_page_of_the_job(bench: Client, closed: Job) -> None:
    by_force("UPDATE record_reading SET entered = '9.99' WHERE seq = 3")
    for page in ("", "/seal", "/record"):
        answer = bench.get(f"/jobs/{closed.pk}{page}")
        assert 'role="alert"' in answer.content.decode(), page
        assert "reading #3" in words(answer), page
        assert 'found "9.99"' in words(answer), page
    assert "Sealed with key" not in words(bench.get(f"/jobs/{closed.pk}"))
    assert "Whole" not in words(bench.get(f"/jobs/{closed.pk}/seal"))


def test_a_job_in_work_is_chained_and_not_sealed(bench: Client) -> None:
    job = a_worked_job()
    assert "Check the seal" not in words(bench.get(f"/jobs/{job.pk}"))
    assert "Not sealed." in words(bench.get(f"/jobs/{job.pk}/seal"))
    by_force("UPDATE record_reading SET entered = '9.99' WHERE seq = 3")
    assert "Not as it was read: 1" in words(bench.get(f"/jobs/{job.pk}/seal"))


def test_opened_again_it_says_what_is_signed_and_what_not(bench: Client, closed: Job) -> None:
    reopen_job(closed, "came back")
    said = words(bench.get(f"/jobs/{closed.pk}/seal"))
    assert "Opened again after it was sealed" in said
    close_job(Job.objects.get(pk=closed.pk))
    assert "for the 2. time" in words(bench.get(f"/jobs/{closed.pk}/seal"))
