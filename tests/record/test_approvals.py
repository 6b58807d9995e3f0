"""The customer's word stays as it was given, with the figures that were shown."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest
from django.db import DatabaseError, connection, transaction

from barwise.errors import InputError
from barwise.inspect.worth import Alternative, Price, Quote, WorkItem, weigh
from barwise.record.approvals import (
    approvals,
    asked_for,
    is_as_shown,
    line_of,
    record_approval,
    standing_approval,
    title_of,
)
from barwise.record.dispositions import decide_part
from barwise.record.exchange import export_job, import_job
from barwise.record.jobs import close_job
from barwise.record.models import Approval, Change, Job, Person, Unit
from barwise.record.refusals import RecordError
from barwise.report.parts.worth import worth_answer

pytestmark = pytest.mark.django_db


def shown() -> dict[str, Any]:
    quote = Quote(
        "EUR",
        Decimal("64.005"),
        Price.of("1.75"),
        items=(WorkItem("brush set", Price.of("38.50"), Price.of("0.4")),),
        alternatives=(Alternative("exchange", Price.of("289")),),
        tax=Decimal("0.19"),
    )
    return worth_answer("T-100", quote, weigh(quote))


def said(job: Job, person: Person | None, **more: Any) -> Approval:
    given: dict[str, Any] = {
        "answer": "approved", "choice": "must", "said_by": "Ada (invented)", "way": "by telephone",
    }  # fmt: skip
    return record_approval(job, shown(), **{**given, **more}, person=person)


def test_the_figures_shown_are_kept_digit_for_digit_with_who_and_when(job: Job, anna: Person) -> None:
    made = said(job, anna)
    kept = Approval.objects.get(pk=made.pk)
    assert kept.shown == shown()
    cost = Decimal(kept.shown["choices"][0]["cost"][0])
    assert cost == (Decimal("38.50") + Decimal("2.15") * Decimal("64.005")) * Decimal("1.19")
    assert is_as_shown(kept)
    assert (kept.person, kept.said_by, kept.way) == (anna, "Ada (invented)", "by telephone")
    assert kept.recorded_at is not None
    assert title_of(kept) == "Rebuild, what must be done"
    assert "EUR" in line_of(kept)
    assert Change.objects.filter(job=job, what="price answered").count() == 1


def test_the_newest_word_counts_and_the_older_stays(job: Job, anna: Person) -> None:
    first = said(job, anna)
    second = said(job, anna, answer="declined", choice="exchange")
    assert standing_approval(job) == second
    assert approvals(job) == [second, first]


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE record_approval SET id = id",
        "UPDATE record_approval SET shown = '{}'",
        "UPDATE record_approval SET answer = 'declined'",
        "DELETE FROM record_approval",
    ],
)
def test_sql_cannot_change_or_delete_a_word(job: Job, anna: Person, statement: str) -> None:
    before = said(job, anna)
    with (
        pytest.raises(DatabaseError, match="record_approval is kept as it was written"),
        transaction.atomic(),
        connection.cursor() as cursor,
    ):
        cursor.execute(statement)
    assert Approval.objects.get(pk=before.pk).shown == shown()


def test_the_model_refuses_it_too(job: Job, anna: Person) -> None:
    made = said(job, anna)
    made.answer = "declined"
    for change in (made.save, made.delete, Approval.objects.filter(pk=made.pk).delete):
        with pytest.raises(RecordError, match="kept as it was written"):
            change()
    with pytest.raises(RecordError):
        Approval.objects.update(answer="declined")


@pytest.mark.parametrize(
    ("more", "place"),
    [
        ({"answer": "maybe"}, "answer"),
        ({"choice": "all"}, "choice"),
        ({"choice": ""}, "choice"),
        ({"way": "by pigeon"}, "how"),
        ({"said_by": "  "}, "who said so"),
        ({"said_by": "x" * 121}, "who said so"),
    ],
)
def test_a_word_that_cannot_be_is_refused_and_nothing_is_kept(
    job: Job, anna: Person, more: dict[str, str], place: str
) -> None:
    with pytest.raises(InputError) as refused:
        said(job, anna, **more)
    assert refused.value.where == place
    assert not Approval.objects.exists()


def test_nothing_is_approved_where_no_price_was_shown(job: Job, anna: Person) -> None:
    with pytest.raises(InputError, match="a price first"):
        record_approval(job, {}, "approved", "must", "Ada", "in person", person=anna)


def test_a_closed_job_takes_no_word(job: Job, anna: Person) -> None:
    close_job(job, anna)
    with pytest.raises(RecordError, match="closed"):
        said(job, anna)


def test_a_rejected_check_asks_for_its_part_until_the_rebuilder_decides(
    job: Job, anna: Person, take: Any
) -> None:
    take("intake", "turns-by-hand", "stiff")
    assert asked_for(job) == ()
    take("commutator", "look", "bars loose or raised")
    found = asked_for(job)
    assert [(one.station, one.need) for one in found] == [("Commutator", "must")]
    decide_part(job, "commutator", "reuse", "bar staked, runs true", person=anna)
    assert asked_for(job) == ()
    decide_part(job, "armature", "replace", part="armature", person=anna)
    assert [(one.part, one.work, one.need) for one in asked_for(job)] == [("armature", "replace", "must")]


def test_a_part_carries_the_titles_of_the_checks_that_condemned_it(job: Job, anna: Person, take: Any) -> None:
    take("frame", "joints", "one reads high")
    take("frame", "pole-screws", "will not hold")
    assert [(one.part, one.work) for one in asked_for(job)] == [
        ("Joints between the coils", "rework"),
        ("Pole screws", "rework"),
    ]
    decide_part(job, "frame", "rework", person=anna)
    (whole,) = asked_for(job)
    assert (whole.part, whole.work) == ("Frame and fields", "rework")
    assert whole.checks == ("Joints between the coils", "Pole screws")
    assert "one reads high" in whole.why


def test_the_word_goes_with_the_job_to_another_shop(job: Job, anna: Person) -> None:
    made = said(job, anna)
    packed = export_job(job)
    with transaction.atomic():
        Job.objects.filter(pk=job.pk).update(uuid="00000000-0000-4000-8000-000000000001", state="closed")
        Unit.objects.filter(pk=job.unit_id).update(tag="T-100 elsewhere")
    brought = import_job(packed, anna).job
    there = standing_approval(brought)
    assert there is not None
    assert there.pk != made.pk
    assert (there.shown, there.sha256, there.said_by) == (made.shown, made.sha256, made.said_by)
    assert there.recorded_at == made.recorded_at


def test_figures_that_were_altered_on_the_way_are_refused(job: Job, anna: Person) -> None:
    said(job, anna)
    packed = export_job(job)
    Job.objects.filter(pk=job.pk).update(uuid="00000000-0000-4000-8000-000000000001", state="closed")
    Unit.objects.filter(pk=job.unit_id).update(tag="T-100 elsewhere")
    with pytest.raises(RecordError, match="other figures than it was kept with"):
        import_job(_altered(packed), anna)
    assert Approval.objects.count() == 1


def _altered(packed: bytes) -> bytes:
    import io
    import json
    import zipfile

    with zipfile.ZipFile(io.BytesIO(packed)) as old:
        written = json.loads(old.read("job.json"))
    written["approvals"][0]["shown"]["choices"][0]["cost"] = ["1.00", "1.00"]
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as new:
        new.writestr("job.json", json.dumps(written))
    return out.getvalue()
