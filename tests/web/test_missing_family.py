"""A job whose family is not installed here: it is shown and says so, and everything else works."""

from __future__ import annotations

import io
import uuid
import zipfile

import pytest
from django.test import Client

from barwise.record.models import Job, Person, Photo, Reading, Unit
from barwise.record.photos import add_photo
from tests.record.test_photos import picture
from tests.web.addresses import ADDRESSES
from tests.web.shop import open_invented_job, read
from tests.web.test_jobs import said

pytestmark = pytest.mark.django_db

WHY = "its family, alternator, is not installed here"


@pytest.fixture
def gone(bench: Client) -> Job:
    """A job with a reading and a photo, whose family's file was taken away since."""
    job = open_invented_job("A-7")
    read(job, "intake", "turns-by-hand", "free")
    add_photo(job, picture(), "intake", person=Person.objects.get())
    Job.objects.filter(pk=job.pk).update(family_key="alternator")
    Unit.objects.filter(pk=job.unit_id).update(family_key="alternator")
    return Job.objects.get(pk=job.pk)


def test_the_list_shows_it_and_what_is_missing_beside_the_others(bench: Client, gone: Job) -> None:
    open_invented_job("T-8", customer="Another (invented)")
    page = said(bench.get("/"))
    assert "A-7" in page
    assert WHY in page
    assert "next: Tag and marks" in page


def test_its_own_page_and_its_history_say_what_is_missing_and_offer_what_was_read(
    bench: Client, gone: Job
) -> None:
    page = said(bench.get(f"/jobs/{gone.pk}"))
    assert f"The stations of this job cannot be shown: {WHY}" in page
    assert WHY in said(bench.get(f"/units/{gone.unit_id}"))
    assert WHY in said(bench.get(f"/customers/{gone.customer_id}"))
    assert ",turns-by-hand," in bench.get(f"/jobs/{gone.pk}/readings.csv").content.decode()
    answer = bench.get(f"/jobs/{gone.pk}/export.zip")
    with zipfile.ZipFile(io.BytesIO(answer.content)) as packed:
        assert "readings/intake.turns-by-hand.csv" in packed.namelist()


def test_it_can_wait_be_closed_and_opened_again(bench: Client, gone: Job) -> None:
    for act, sent, state in (
        ("wait", {"waits_for": "the data file"}, "waiting"),
        ("close", {}, "closed"),
        ("reopen", {"reason": "the file is here"}, "open"),
    ):
        assert bench.post(f"/jobs/{gone.pk}/{act}", sent).status_code == 302
        gone.refresh_from_db()
        assert gone.state == state


def test_no_address_of_it_stumbles(bench: Client, gone: Job) -> None:
    of_it = {
        "job": gone.pk,
        "customer": gone.customer_id,
        "unit": gone.unit_id,
        "photo": Photo.objects.get().key,
        "reading": Reading.objects.get().key,
        "instrument": 1,
    }
    stumbles = []
    for name, one in ADDRESSES.items():
        for asked, ask in ((one.look, bench.get), (one.send, bench.post)):
            if asked and name != "sign-out":
                answer = ask(one.path.format(**of_it))
                answer.close()
                stumbles += [name] if answer.status_code >= 500 else []
    assert stumbles == []


def test_a_reading_for_it_is_refused_with_the_reason(bench: Client, gone: Job) -> None:
    entry = {"key": str(uuid.uuid4()), "station": "intake", "check": "turns-by-hand", "text": "free"}
    answer = bench.post(f"/api/v1/jobs/{gone.pk}/readings", entry, content_type="application/json")
    assert answer.status_code == 422
    assert "alternator" in answer.json()["error"]
