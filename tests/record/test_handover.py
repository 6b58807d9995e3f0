"""What is gathered of a job for its record."""

from __future__ import annotations

import uuid
from datetime import date
from typing import Any

import pytest

from barwise.record.entry import Entry, correct, strike
from barwise.record.handover import rebuild_record
from barwise.record.instruments import Figures, add_instrument, recalibrate
from barwise.record.jobs import assign_sheet
from barwise.record.models import Job, Person
from barwise.record.results import current_result
from barwise.record.sheets import store_sheet
from barwise.record.withdrawals import take_anew
from tests.record.conftest import Take, sheet_text


def test_each_reading_is_there_once_with_what_became_of_it(job: Job, take: Take, anna: Person) -> None:
    slip = take("armature", "shaft-runout", "0.0012", unit="in").reading
    correct(job, slip.key, Entry(uuid.uuid4(), "armature", "shaft-runout", "0.0021", unit="in"), anna)
    wrong = take("armature", "shaft-runout", "0.0022", unit="in").reading
    strike(job, wrong.key, uuid.uuid4(), "not seated", anna)
    file = rebuild_record(job).check("armature.shaft-runout")
    assert file is not None
    told = [(one.reading.entered, one.counts) for one in file.readings]
    assert told == [("0.0012", False), ("0.0021", True), ("0.0022", False)]
    corrected, newer, struck = file.readings
    assert corrected.replaced_by == newer.reading
    assert newer.replaces == corrected.reading
    assert struck.replaced_by is not None
    assert struck.replaced_by.reason == "not seated"
    assert [one.entered for one in file.in_force] == ["0.0021"]


def test_a_calibration_counts_as_it_was_on_the_day_of_the_reading(job: Job, take: Take) -> None:
    old = add_instrument("D1", "dial", Figures(2e-6, due_on=date(2020, 1, 1)), unit="in")
    take("armature", "shaft-runout", "0.0012", unit="in", instrument=old)
    new = recalibrate(old, Figures(2e-6, calibrated_on=date(2026, 1, 1), due_on=date(2099, 1, 1)))
    take("armature", "shaft-runout", "0.0013", unit="in", instrument=new)
    record = rebuild_record(job)
    file = record.check("armature.shaft-runout")
    assert file is not None
    assert [one.overdue for one in file.readings] == [True, False]
    assert record.instruments == (old, new)


def test_a_result_of_an_earlier_sheet_is_held_against_that_sheets_limit(job: Job, take: Take) -> None:
    take("commutator", "diameter", "1.2421", unit="in", place_from="1", track="0.5")
    current_result(job, "commutator", "diameter")
    other = sheet_text().replace("version = 1", "version = 2").replace("1.226", "1.2")
    assign_sheet(job, store_sheet(other))
    file = rebuild_record(job).check("commutator.diameter")
    assert file is not None
    assert file.limit is not None
    assert file.limit.allowed is not None
    assert file.limit.allowed.lower == pytest.approx(1.226 * 0.0254)
    assert file.stand.out_of_date


def test_what_was_measured_anew_after_work_is_told_as_it_was_found(
    job: Job, take: Take, anna: Person
) -> None:
    take("armature", "shaft-runout", "0.0052", unit="in")
    assert current_result(job, "armature", "shaft-runout").decision == "reject"
    anew = Entry(uuid.uuid4(), "armature", "shaft-runout", "0.0012", unit="in")
    take_anew(job, anew, "straightened", anna)
    file = rebuild_record(job).check("armature.shaft-runout")
    assert file is not None
    assert file.before is not None
    assert (file.before.result.decision, file.before.reason) == ("reject", "straightened")
    assert file.stand.decision == "accept"


def test_one_bad_reading_of_several_struck_out_is_no_finding(job: Job, take: Take, anna: Person) -> None:
    take("armature", "shaft-runout", "0.0012", unit="in")
    bad = take("armature", "shaft-runout", "0.0052", unit="in").reading
    current_result(job, "armature", "shaft-runout")
    strike(job, bad.key, uuid.uuid4(), "not seated", anna)
    file = rebuild_record(job).check("armature.shaft-runout")
    assert file is not None
    assert file.before is None


def test_what_is_asked_of_the_database_does_not_grow_with_what_was_read(
    job: Job, take: Take, django_assert_num_queries: Any
) -> None:
    take("intake", "turns-by-hand", "free")
    with django_assert_num_queries(10):
        rebuild_record(job)
    for _ in range(12):
        take("armature", "shaft-runout", "0.0012", unit="in")
    with django_assert_num_queries(10):
        rebuild_record(job)


def test_gathering_writes_nothing(job: Job, take: Take, django_assert_num_queries: Any) -> None:
    take("intake", "turns-by-hand", "stiff")
    before = job.changes.count(), job.results.count()
    rebuild_record(job)
    assert (job.changes.count(), job.results.count()) == before
