"""A job out as a file and in again on the screens, and its readings as tables."""

from __future__ import annotations

import csv
import hashlib
import html
import io
import zipfile

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client

from barwise.files.signing_key import grouped
from barwise.machine.feed import Feed
from barwise.record.exchange import export_job
from barwise.record.models import Job, Reading
from barwise.report.paper.printed_record import record_pdf
from barwise.web import people
from tests.record.test_brought_seals import THERE, altered, exported, five_parts
from tests.record.test_seals import Exported
from tests.report.paper.printed import pages_of
from tests.web.shop import open_invented_job, read

pytestmark = pytest.mark.django_db
__all__ = ["exported"]


@pytest.fixture
def job() -> Job:
    job = open_invented_job()
    read(
        job, "armature", "winding", "3.59", test="drop", place_from="1", place_to="2", feed=Feed(1, 15, 10.0)
    )
    read(job, "armature", "insulation", "250")
    read(job, "intake", "complaint", "=HYPERLINK(1) is no formula here")
    return job


def zipped(content: bytes) -> SimpleUploadedFile:
    return SimpleUploadedFile("job.zip", content, "application/zip")


def test_a_job_goes_out_as_a_zip_with_a_name_every_file_system_takes(bench: Client, job: Job) -> None:
    answer = bench.get(f"/jobs/{job.pk}/export.zip")
    assert answer["Content-Type"] == "application/zip"
    assert answer["Content-Disposition"].startswith('attachment; filename="T-100-')
    with zipfile.ZipFile(io.BytesIO(answer.content)) as packed:
        assert "job.json" in packed.namelist()


def test_readings_are_one_table_in_their_order_and_words_are_no_formula(bench: Client, job: Job) -> None:
    answer = bench.get(f"/jobs/{job.pk}/readings.csv")
    rows = list(csv.DictReader(io.StringIO(answer.content.decode())))
    assert [row["number"] for row in rows] == ["1", "2", "3"]
    drop, ohms, words = rows
    assert (drop["test"], drop["from"], drop["to"], drop["value"], drop["unit"]) == (
        "drop",
        "1",
        "2",
        "3.59",
        "mV",
    )
    assert float(drop["value_si"]) == pytest.approx(3.59e-3)
    assert ohms["feed_amps"] == ""
    assert words["value"].startswith("'=")


def test_one_check_is_a_table_in_the_columns_of_its_file_format(bench: Client, job: Job) -> None:
    answer = bench.get(f"/jobs/{job.pk}/readings.csv", {"check": "armature.winding"})
    assert answer.content.decode().splitlines() == [
        "test,from,to,value,unit,feed_from,feed_to,feed_amps",
        "drop,1,2,3.59,mV,1,15,10.0",
    ]
    assert bench.get(f"/jobs/{job.pk}/readings.csv", {"check": "no.such"}).status_code == 404


def test_a_job_that_is_here_already_is_not_brought_in_twice(bench: Client, job: Job) -> None:
    answer = bench.post("/import", {"zip": zipped(export_job(job))})
    assert answer.status_code == 422
    assert "Nothing was brought in." in answer.content.decode()
    assert Job.objects.count() == 1


def test_a_file_that_is_no_job_is_refused_in_words(bench: Client) -> None:
    for content in (b"", b"no zip at all"):
        answer = bench.post("/import", {"zip": zipped(content)})
        assert answer.status_code == 422
        assert "Expected a zip of one job" in answer.content.decode()
    assert "Expected a zip of one job" in bench.post("/import").content.decode()


def test_a_zip_with_a_path_outside_is_refused(bench: Client, job: Job) -> None:
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w") as out:
        out.writestr("job.json", "{}")
        out.writestr("../../outside.txt", "x")
    answer = bench.post("/import", {"zip": zipped(packed.getvalue())})
    assert "a path that leads outside" in answer.content.decode()


def test_a_sealed_job_of_another_shop_says_by_whom_it_is_sealed(bench: Client, exported: Exported) -> None:
    answer = bench.post("/import", {"zip": zipped(exported.content)})
    assert f"Sealed by {THERE}, key" in answer.content.decode()
    (job,) = Job.objects.all()
    for page in ("", "/seal", "/record"):
        shown = bench.get(f"/jobs/{job.pk}{page}").content.decode()
        assert THERE in shown, page
        assert grouped(exported.key) in shown, page
    assert "✓ Whole: what was taken over" in bench.get(f"/jobs/{job.pk}/seal").content.decode()
    assert f"sealed by {THERE}" in pages_of(record_pdf(job))[0]


def test_an_altered_zip_is_asked_about_with_what_was_altered(bench: Client, exported: Exported) -> None:
    content = altered(exported, five_parts)
    asked = bench.post("/import", {"zip": zipped(content)})
    assert asked.status_code == 422
    said = html.unescape(asked.content.decode())
    assert "part bush, quantity: altered: signed as 2, found 5" in said
    assert "Bring in what was signed" in said
    assert not Job.objects.exists()
    digest = hashlib.sha256(content).hexdigest()
    other = bench.post("/import", {"zip": zipped(content), "digest": "0" * 64, "taken": "found"})
    assert other.status_code == 422  # the answer was for another file
    bench.post("/import", {"zip": zipped(content), "digest": digest, "taken": "found"})
    (job,) = Job.objects.all()
    seal = html.unescape(bench.get(f"/jobs/{job.pk}/seal").content.decode())
    assert "quantity: altered before it was brought in: signed as 2, found 5" in seal
    assert 'role="alert"' in bench.get(f"/jobs/{job.pk}").content.decode()


def test_in_the_network_the_bench_may_not_export_or_bring_in(lan: None, job: Job) -> None:
    people.add("Some hand", "bench", "kommutator-62")
    client = Client(HTTP_HOST="localhost")
    client.post("/sign-in", {"username": "Some hand", "password": "kommutator-62"})
    assert client.get(f"/jobs/{job.pk}/export.zip").status_code == 403
    assert client.post("/import").status_code == 403
    assert client.get(f"/jobs/{job.pk}/readings.csv").status_code == 200


def test_readings_that_no_longer_count_are_in_no_table(bench: Client, job: Job) -> None:
    wrong = Reading.objects.get(check_key="insulation")
    bench.post(
        f"/api/v1/jobs/{job.pk}/readings/{wrong.key}/strike",
        {"key": "0b8f6f7e-8c9a-4a4e-9d4c-1f2e3d4c5b6a"},
        content_type="application/json",
    )
    assert "250" not in bench.get(f"/jobs/{job.pk}/readings.csv").content.decode()
