"""Jobs are opened, judged by a version of a sheet, wait, close, and every change has who and when."""

from __future__ import annotations

import pytest

from barwise.errors import InputError
from barwise.record.dispositions import decide_part, dispositions, proposal
from barwise.record.history import customer_history, unit_history
from barwise.record.jobs import (
    add_customer,
    add_unit,
    assign_sheet,
    close_job,
    open_job,
    record_part,
    reopen_job,
    wait_for,
)
from barwise.record.models import Change, Job, Person, SheetVersion
from barwise.record.refusals import RecordError
from barwise.record.results import current_result
from barwise.record.sheets import newest_versions, store_sheet, versions_of
from barwise.record.standing import job_stand, on_hand
from tests.record.conftest import Take, sheet_text

pytestmark = pytest.mark.django_db


def second_version() -> str:
    return sheet_text().replace("version = 1", "version = 2").replace("discard = 1.226", "discard = 1.234")


def test_jobs_are_numbered_within_the_year_unless_the_shop_has_its_own(job: Job) -> None:
    year, _, count = job.number.partition("-")
    assert (len(year), count) == (4, "0001")
    second = open_job(add_unit("T-101", "starter"), job.customer)
    assert second.number == f"{year}-0002"
    own = open_job(add_unit("T-102", "starter"), job.customer, number="A 17")
    assert own.number == "A 17"
    with pytest.raises(RecordError, match="found on another job"):
        open_job(add_unit("T-103", "starter"), job.customer, number="A 17")


def test_a_unit_is_on_the_bench_once(job: Job) -> None:
    with pytest.raises(RecordError, match=f"already as job {job.number}"):
        open_job(job.unit, job.customer)
    close_job(job)
    assert open_job(job.unit, job.customer).unit == job.unit


def test_a_tag_belongs_to_one_serial_number(job: Job) -> None:
    assert add_unit("T-100", "starter", serial="S1") == job.unit
    with pytest.raises(RecordError, match="serial S1"):
        add_unit("T-100", "starter", serial="S2")


def test_a_unit_of_an_unknown_family_is_refused() -> None:
    with pytest.raises(InputError, match=r"nearest: starter"):
        add_unit("T-1", "startr")


def test_the_same_sheet_is_kept_once_and_another_text_under_its_version_is_refused(
    sheet: SheetVersion,
) -> None:
    assert store_sheet(sheet_text()) == sheet
    with pytest.raises(RecordError, match="save the change as version 2"):
        store_sheet(sheet_text() + "\n# changed\n")
    second = store_sheet(second_version())
    assert versions_of(sheet.key) == [second, sheet]
    assert newest_versions() == [second]
    assert sheet.toml == sheet_text()


def test_another_sheet_version_judges_the_same_readings_anew(
    job: Job, take: Take, sheet: SheetVersion
) -> None:
    take("commutator", "diameter", "1.2300", unit="in", place_from="1", track="0.5")
    first = current_result(job, "commutator", "diameter")
    assert (first.decision, first.sheet) == ("accept", sheet)
    second = store_sheet(second_version())
    job = assign_sheet(job, second)
    stand = next(one for one in job_stand(job).checks if one.name == "commutator.diameter")
    assert stand.out_of_date
    again = current_result(job, "commutator", "diameter")
    assert (again.decision, again.sheet) == ("reject", second)
    first.refresh_from_db()
    assert (first.decision, first.sheet) == ("accept", sheet)


def test_a_job_that_waits_says_for_what_and_a_closed_one_is_not_on_hand(job: Job) -> None:
    wait_for(job, "a pinion from the customer")
    assert [one.waits_for for one in on_hand()] == ["a pinion from the customer"]
    wait_for(job, "")
    assert on_hand()[0].waits_for == "Intake: Tag and marks"
    close_job(job)
    assert on_hand() == []
    with pytest.raises(RecordError, match="found it closed"):
        wait_for(job, "anything")
    reopen_job(job, "came back")
    assert len(on_hand()) == 1


def test_every_change_has_who_and_when(job: Job, anna: Person) -> None:
    wait_for(job, "bushes", anna)
    record_part(job, "bush, drive end", "replaced", 2, "P-7", "bearings", person=anna)
    decide_part(job, "bearings", "reuse", person=anna)
    close_job(job, anna)
    kept = list(Change.objects.filter(job=job).order_by("id"))
    assert [one.what for one in kept] == [
        "job opened",
        "job waits",
        "part recorded",
        "part decided",
        "job closed",
        "job sealed",
    ]
    assert {one.person for one in kept} == {anna}
    assert kept[2].line == f"Job {job.number}: 2 bush, drive end replaced"


@pytest.mark.parametrize(
    ("name", "action", "quantity", "where"),
    [("", "fitted", 1, "part"), ("bush", "bought", 1, "action"), ("bush", "fitted", 0, "quantity")],
)  # fmt: skip
def test_a_part_that_makes_no_sense_is_refused(
    job: Job, name: str, action: str, quantity: int, where: str
) -> None:
    with pytest.raises(InputError) as refused:
        record_part(job, name, action, quantity)
    assert refused.value.where == where


def test_barwise_proposes_and_the_person_may_overrule_with_a_reason(
    job: Job, take: Take, anna: Person
) -> None:
    assert proposal(job, "commutator") == ""
    take("commutator", "diameter", "1.2200", unit="in", place_from="1", track="0.5")
    assert proposal(job, "commutator") == "replace"
    with pytest.raises(RecordError, match="replace is proposed, expected a reason"):
        decide_part(job, "commutator", "reuse", person=anna)
    decide_part(job, "commutator", "replace", person=anna)
    last = decide_part(job, "commutator", "reuse", "the customer wants it so", person=anna)
    assert dispositions(job) == [last]
    assert (last.proposed, last.decided, last.person) == ("replace", "reuse", anna)


@pytest.mark.parametrize(
    ("station", "check", "answer", "word"),
    [
        ("frame", "joints", "one reads high", "rework"),
        ("frame", "pole-screws", "will not hold", "rework"),
        ("frame", "look", "only a joint is open", "rework"),
        ("frame", "look", "burnt or joint open", "replace"),
        ("frame", "stud", "insulation cracked or charred", "rework"),
        ("brushes", "holder-lamp", "lit", "rework"),
        ("frame", "magnets", "cracked or loose", "replace"),
        ("armature", "insulation-lamp", "glimmers", "rework"),
        ("armature", "insulation-lamp", "lit", "replace"),
        ("drive", "clutch-way", "slips", "replace"),
    ],
)
def test_what_a_rejection_proposes_is_what_the_trade_does_with_such_a_part(
    job: Job, take: Take, station: str, check: str, answer: str, word: str
) -> None:
    """Common practice, no source: what can be put right is, what is worn or broken goes."""
    take(station, check, answer)
    assert proposal(job, station) == word


def test_a_unit_and_a_customer_have_a_history(job: Job, take: Take) -> None:
    take("commutator", "diameter", "1.2400", unit="in", place_from="1", track="0.5")
    close_job(job)
    back = open_job(job.unit, job.customer, job.sheet)
    assert [one.job for one in unit_history(job.unit)] == [back, job]
    assert [one.job for one in customer_history(job.customer)] == [back, job]
    assert customer_history(add_customer("Another")) == []
