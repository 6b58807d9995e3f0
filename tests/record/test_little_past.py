"""The shop's history where there is little of it: an empty shop, one job, one unit."""

from __future__ import annotations

import csv
import io
from datetime import timedelta

import pytest
from django.utils import timezone

from barwise.record.dispositions import decide_part
from barwise.record.invented_past import MODEL
from barwise.record.jobs import close_job
from barwise.record.models import Job
from barwise.record.past.models_read import check_read, model_reads
from barwise.record.past.parts_fail import parts_fail
from barwise.record.past.rebuilds import rebuilds
from barwise.record.past.tables import parts_csv
from barwise.report.past.picture import values_picture
from tests.record.conftest import Take

pytestmark = pytest.mark.django_db


def test_a_part_decided_anew_counts_as_it_was_decided_last(job: Job) -> None:
    decide_part(job, "brushes", "replace", "worn")
    decide_part(job, "brushes", "reuse", "found long enough after all")
    assert parts_fail() == ()


def test_no_cell_of_a_table_is_a_formula(job: Job) -> None:
    decide_part(job, "brushes", "replace", "", part='=HYPERLINK("http://nowhere.invalid")')
    (row,) = list(csv.reader(io.StringIO(parts_csv(parts_fail()))))[1:]
    assert row[1].startswith("'=")


def test_a_rejected_unit_is_a_cross_and_no_dot(job: Job, take: Take) -> None:
    take("run", "no-load-current", "97", unit="A")
    read = check_read(job.sheet.key if job.sheet else "", "run", "no-load-current")
    assert read.refused == 1
    drawn = values_picture(read)
    assert 'class="rejected"' in drawn
    assert "<circle" not in drawn


def test_an_empty_shop_says_so_and_breaks_nothing(job: Job) -> None:
    assert rebuilds().whole.right.value is None
    assert model_reads(job.sheet.key if job.sheet else "") == ()
    assert "No unit of this model" in values_picture(check_read(MODEL, "run", "no-load-speed"))
    close_job(job)
    Job.objects.filter(pk=job.pk).update(closed_at=timezone.now() - timedelta(days=800))
    assert rebuilds().jobs == (), "closed too long ago"
