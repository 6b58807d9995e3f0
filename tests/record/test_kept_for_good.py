"""What is written once stays: neither services, nor models, nor SQL can change or delete it."""

from __future__ import annotations

import uuid

import pytest
from django.db import DatabaseError, connection, transaction
from django.utils import timezone

from barwise.record.changes import log
from barwise.record.models import Change, Disposition, Instrument, Job, Reading, Result, SheetVersion
from barwise.record.refusals import RecordError
from tests.record.conftest import Take

pytestmark = pytest.mark.django_db
KEPT = ("reading", "result", "disposition", "change", "sheetversion")


@pytest.fixture
def one_of_each(job: Job, take: Take) -> None:
    Instrument.objects.create(tag="M1", kind="micrometer", resolution_si=2.54e-6)
    take("intake", "turns-by-hand", "stiff")
    Disposition(job=job, station_key="armature", decided="reuse", decided_at=timezone.now()).save()
    log("test", "a change", None, job)


@pytest.mark.parametrize("statement", ["UPDATE record_{} SET id = id", "DELETE FROM record_{}"])
@pytest.mark.parametrize("table", KEPT)
def test_sql_cannot_change_or_delete_what_is_kept(one_of_each: None, table: str, statement: str) -> None:
    with connection.cursor() as cursor:
        cursor.execute(f"SELECT count(*) FROM record_{table}")
        before = cursor.fetchone()
    assert before[0] > 0
    with (
        pytest.raises(DatabaseError, match="kept as it was written"),
        transaction.atomic(),
        connection.cursor() as cursor,
    ):
        cursor.execute(statement.format(table))
    with connection.cursor() as cursor:
        cursor.execute(f"SELECT count(*) FROM record_{table}")
        assert cursor.fetchone() == before


@pytest.mark.parametrize(
    "column", ["value_si = 1", "entered = 'x'", "struck = NOT struck", "job_id = job_id", "reason = 'y'"]
)
def test_sql_cannot_change_any_column_of_a_reading(one_of_each: None, column: str) -> None:
    with (
        pytest.raises(DatabaseError, match="record_reading is kept"),
        transaction.atomic(),
        connection.cursor() as cursor,
    ):
        cursor.execute(f"UPDATE record_reading SET {column}")


@pytest.mark.parametrize(
    "statement", ["UPDATE record_instrument SET resolution_si = 1", "DELETE FROM record_instrument"]
)
def test_sql_cannot_change_the_figures_an_instrument_was_trusted_for(
    one_of_each: None, statement: str
) -> None:
    with (
        pytest.raises(DatabaseError, match="kept as it was written"),
        transaction.atomic(),
        connection.cursor() as cursor,
    ):
        cursor.execute(statement)


def test_an_instrument_can_be_retired(one_of_each: None) -> None:
    assert Instrument.objects.update(retired=True) == 1


def test_emptying_the_table_of_readings_at_once_is_refused_too(one_of_each: None) -> None:
    # SQLite has no TRUNCATE: there, a DELETE without a condition empties a table at once.
    postgresql = connection.vendor == "postgresql"
    with connection.cursor() as cursor:
        cursor.execute("SET CONSTRAINTS ALL IMMEDIATE" if postgresql else "PRAGMA foreign_keys")
    with (
        pytest.raises(DatabaseError, match="kept as it was written"),
        transaction.atomic(),
        connection.cursor() as cursor,
    ):
        cursor.execute("TRUNCATE record_reading CASCADE" if postgresql else "DELETE FROM record_reading")


@pytest.mark.parametrize("model", [Reading, Result, Disposition, Change, SheetVersion])
def test_a_model_refuses_to_change_or_delete_what_is_kept(one_of_each: None, model: type) -> None:
    row = model.objects.first()
    with pytest.raises(RecordError, match="kept as it was written"):
        row.save()
    with pytest.raises(RecordError, match="a deletion"):
        row.delete()
    with pytest.raises(RecordError, match="kept as it was written"):
        model.objects.update(id=5)
    with pytest.raises(RecordError, match="a deletion"):
        model.objects.all().delete()


def test_a_job_with_readings_cannot_be_deleted(one_of_each: None, job: Job) -> None:
    with pytest.raises(DatabaseError), transaction.atomic():
        job.delete()
    assert Job.objects.filter(pk=job.pk).exists()


@pytest.mark.parametrize(
    ("struck", "reason", "names"), [(True, "slip", False), (True, "", True), (False, "slip", True)]
)
def test_a_struck_reading_says_which_one_it_withdraws_and_why(
    job: Job, take: Take, struck: bool, reason: str, names: bool
) -> None:
    wrong = take("intake", "turns-by-hand", "free").reading
    now = timezone.now()
    row = Reading(
        key=uuid.uuid4(),
        job=job,
        seq=9,
        station_key="a",
        check_key="b",
        taken_at=now,
        received_at=now,
        struck=struck,
        reason=reason,
        supersedes=wrong if names else None,
    )
    with pytest.raises(DatabaseError), transaction.atomic():
        row.save()


def test_overruling_a_proposal_without_a_reason_is_refused_by_the_database(job: Job) -> None:
    row = Disposition(
        job=job, station_key="armature", proposed="replace", decided="reuse", decided_at=timezone.now()
    )
    with pytest.raises(DatabaseError), transaction.atomic():
        row.save()
