"""What is printed over HTTP, and the record as a page: the same words as on paper."""

from __future__ import annotations

import re
from datetime import timedelta
from html import unescape
from io import BytesIO

import pytest
from django.test import Client
from django.utils.timezone import now, override
from pypdf import PdfReader

from barwise.record.handover import rebuild_record
from barwise.report.paper.rebuild_record import laid_out
from tests.report.paper.printed import a_worked_job, pages_of, run_together
from tests.web.shop import open_invented_job
from tests.web.test_every_address import sign_in

pytestmark = pytest.mark.django_db


def words_of(page: str) -> str:
    return run_together(unescape(re.sub(r"<[^>]*>", " ", page)))


def test_page_and_paper_say_the_same_numbers_decisions_and_readings(bench: Client) -> None:
    job = a_worked_job()
    page = words_of(bench.get(f"/jobs/{job.pk}/record").content.decode())
    paper = run_together(" ".join(pages_of(bench.get(f"/jobs/{job.pk}/record.pdf").content)))
    said = laid_out(rebuild_record(job))
    for number in said.numbers:
        for part in (number.where, number.value, number.band, number.allowed, number.decision):
            assert run_together(part) in page
            assert run_together(part) in paper
    for station in said.stations:
        for check in station.checks:
            rows = [*check.readings, *(row for walk in check.walks for row in walk.rows)]
            for part in (check.line, check.settle, *(row.entered for row in rows)):
                assert run_together(part) in page
                assert run_together(part) in paper


@pytest.mark.parametrize(
    ("what", "named"),
    [
        ("record.pdf", "record"),
        ("record.pdf?paper=letter", "record"),
        ("bench-sheet.pdf", "bench-sheet"),
        ("label.pdf", "label"),
    ],
)
def test_each_sheet_comes_as_a_pdf_under_a_name_of_its_own(bench: Client, what: str, named: str) -> None:
    job = open_invented_job("T-1 ö1")
    answer = bench.get(f"/jobs/{job.pk}/{what}")
    assert answer.status_code == 200
    assert answer["Content-Type"] == "application/pdf"
    assert answer.content.startswith(b"%PDF-")
    assert f'filename="T-1-1-{job.number}-{named}.pdf"' in answer["Content-Disposition"]
    assert answer["Cache-Control"] == "no-store"


@pytest.mark.parametrize("what", ["record.pdf", "bench-sheet.pdf", "label.pdf"])
@pytest.mark.parametrize("zone", ["Asia/Kolkata", "America/Toronto"])
def test_a_sheet_is_printed_in_every_time_zone(bench: Client, zone: str, what: str) -> None:
    job, before = open_invented_job(), now()
    with override(zone):
        printed = PdfReader(BytesIO(bench.get(f"/jobs/{job.pk}/{what}").content))
    assert printed.metadata is not None
    assert printed.metadata.creation_date is not None
    assert abs(printed.metadata.creation_date - before) < timedelta(hours=1)


def test_an_unknown_paper_or_job_is_not_found(bench: Client) -> None:
    job = open_invented_job()
    assert bench.get(f"/jobs/{job.pk}/record.pdf?paper=napkin").status_code == 404
    assert bench.get("/jobs/9999/record.pdf").status_code == 404


def test_a_label_holds_the_address_by_which_tablets_reach_the_server(bench: Client, lan: None) -> None:
    job = open_invented_job()
    client = sign_in("reader")
    there = client.get(f"/jobs/{job.pk}/label.pdf", HTTP_HOST="testserver").content
    assert f"http://testserver/jobs/{job.pk}" in pages_of(there)[0]
    here = client.get(f"/jobs/{job.pk}/label.pdf", HTTP_HOST="localhost").content
    assert "http" not in pages_of(here)[0]


def test_at_one_computer_alone_a_label_holds_the_jobs_number(bench: Client) -> None:
    job = open_invented_job()
    assert "http" not in pages_of(bench.get(f"/jobs/{job.pk}/label.pdf").content)[0]


def test_print_stands_on_the_page_of_the_job_and_at_its_last_station_only(bench: Client) -> None:
    job = open_invented_job()
    link = f"/jobs/{job.pk}/record.pdf"
    assert link in bench.get(f"/jobs/{job.pk}").content.decode()
    assert link in bench.get(f"/jobs/{job.pk}/handover").content.decode()
    assert link not in bench.get(f"/jobs/{job.pk}/intake").content.decode()
