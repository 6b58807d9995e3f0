"""A job goes out as a zip and comes in elsewhere with the same readings and results; a bad zip is refused."""

from __future__ import annotations

import io
import json
import uuid
import zipfile
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any
from uuid import UUID

import pytest
from django.db import transaction
from django.test import override_settings

from barwise.errors import BarwiseError, InputError
from barwise.files.job_zip import LARGEST_MEMBER
from barwise.files.readings_file import parse_readings
from barwise.record.dispositions import decide_part
from barwise.record.entry import Entry, Stored, strike, take_reading
from barwise.record.exchange import export_job, import_job
from barwise.record.in_force import readings_in_force
from barwise.record.jobs import add_customer, add_unit, open_job, record_part
from barwise.record.models import CheckStanding, Instrument, Job, Person, Photo, Reading, Shop, Unit
from barwise.record.models.reading import NO_REASON
from barwise.record.photos import add_photo
from barwise.record.recheck import recheck
from barwise.record.refusals import RecordError
from barwise.record.results import current_result
from barwise.record.route_of import route_of
from barwise.record.sheets import store_sheet
from tests.record.conftest import FEED, sheet_text
from tests.record.test_photos import picture

pytestmark = pytest.mark.django_db


@dataclass(frozen=True)
class Sent:
    """A job of another shop: its zip, and what stood in the record there."""

    content: bytes
    readings: list[dict[str, Any]]
    results: dict[str, tuple[object, ...]]


COMPARED = ("key", "seq", "entered", "value_si", "taken_at", "struck", "reason")


@pytest.fixture(scope="module")
def sent(django_db_setup: None, django_db_blocker: Any, tmp_path_factory: pytest.TempPathFactory) -> Sent:
    """Made in another shop's database, of which nothing is left when the tests begin."""
    elsewhere = override_settings(MEDIA_ROOT=str(tmp_path_factory.mktemp("elsewhere")))
    with django_db_blocker.unblock(), elsewhere, transaction.atomic():
        job = busy_job()
        stored = Sent(
            export_job(job), list(Reading.objects.order_by("seq").values(*COMPARED)), results_of(job)
        )
        transaction.set_rollback(True)
    return stored


@pytest.fixture
def exported(sent: Sent) -> bytes:
    return sent.content


def busy_job() -> Job:
    """A job with something of everything."""
    anna = Person.objects.create(name="Anna (invented)")
    unit = add_unit("T-100", "starter", serial="S1", invented=True)
    job = open_job(unit, add_customer("Invented Farm"), store_sheet(sheet_text()), "slow", anna, "2026-0007")
    tool = Instrument.objects.create(tag="M1", kind="micrometer", resolution_si=2.54e-6)

    def take(station: str, check: str, text: str, **more: Any) -> UUID:
        answer = take_reading(job, Entry(uuid.uuid4(), station, check, text, **more), anna)
        assert isinstance(answer, Stored)
        return answer.reading.key

    across = {"unit": "in", "place_from": "1", "track": "0.5", "instrument": tool}
    wrong = take("commutator", "diameter", "1.2400", **across)
    take("commutator", "diameter", "1.2421", **across, supersedes=wrong)
    for bar in range(1, 58):
        ends = {"place_from": str(bar), "place_to": str(bar % 57 + 1)}
        slip = take("armature", "winding", f"{3.70 + bar % 3 * 0.01:.2f}", test="drop", feed=FEED, **ends)
    take("armature", "winding", "3.71", test="drop", feed=FEED, **ends)
    strike(job, slip, uuid.uuid4(), "touched the wrong bar", anna)
    take("intake", "turns-by-hand", "stiff")
    current_result(job, "armature", "winding")
    add_photo(job, picture(), "intake", "as-received", "drive end", anna)
    record_part(job, "bush", "replaced", 2, person=anna)
    decide_part(job, "commutator", "rework", "turn it", person=anna)
    return Job.objects.get(pk=job.pk)


def results_of(job: Job) -> dict[str, tuple[object, ...]]:
    """What the checks of a job came to."""
    standings = CheckStanding.objects.filter(job=job).select_related("result")
    return {
        one.check_key: (one.result.decision, one.result.value, one.result.line, one.result.fingerprint)
        for one in standings
        if one.result is not None
    }


def changed(exported: bytes, change: Callable[[dict[str, Any]], None]) -> bytes:
    """The same zip with another job.json."""
    packed = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(exported)) as old, zipfile.ZipFile(packed, "w") as new:
        for name in old.namelist():
            content = old.read(name)
            if name == "job.json":
                written = json.loads(content)
                change(written)
                content = json.dumps(written).encode()
            new.writestr(name, content)
    return packed.getvalue()


def with_member(exported: bytes, name: str, content: bytes = b"x") -> bytes:
    packed = io.BytesIO(exported)
    with zipfile.ZipFile(packed, "a", zipfile.ZIP_DEFLATED) as out:
        out.writestr(name, content)
    return packed.getvalue()


def test_a_job_comes_in_with_the_same_readings_and_results(sent: Sent) -> None:
    Shop.objects.create(name="Another shop")
    brought = import_job(sent.content)
    here = brought.job
    assert brought.differences == ()
    assert list(Reading.objects.order_by("seq").values(*COMPARED)) == sent.readings
    assert sent.results.keys() == {"diameter", "winding", "turns-by-hand", "as-received"}
    assert results_of(here) == sent.results
    assert (here.number, here.unit.tag, here.customer.name) == ("2026-0007", "T-100", "Invented Farm")
    assert Photo.objects.get(job=here).caption == "drive end"
    assert [str(part) for part in here.parts.all()] == ["2 bush replaced"]
    assert here.dispositions.get().reason == "turn it"
    assert recheck(here).differences == ()
    assert here.last_seq == Reading.objects.count()


def test_a_person_only_known_from_a_zip_cannot_do_anything(exported: bytes) -> None:
    import_job(exported)
    anna = Person.objects.get()
    assert (anna.role, anna.active) == ("reader", False)


def test_the_csv_of_a_walk_is_a_readings_file(exported: bytes) -> None:
    job = import_job(exported).job
    winding = route_of(job).winding
    assert winding is not None
    with zipfile.ZipFile(io.BytesIO(exported)) as packed:
        text = packed.read("readings/armature.winding.csv").decode()
    read = parse_readings(text, winding)
    assert [one.value for one in read] == [one.value for one in readings_in_force(job, "armature", "winding")]
    assert len(read) == 57


def test_a_job_that_is_here_is_not_brought_in_twice(exported: bytes) -> None:
    import_job(exported)
    with pytest.raises(RecordError, match="found here already as job 2026-0007"):
        import_job(exported)


def test_a_number_that_is_taken_here_is_given_anew(exported: bytes, job: Job) -> None:
    Job.objects.update(number="2026-0007")
    Unit.objects.update(tag="T-1")
    brought = import_job(exported).job
    assert brought.number != "2026-0007"
    assert Job.objects.count() == 2


def test_a_tag_that_is_on_another_unit_here_is_refused(exported: bytes, job: Job) -> None:
    Unit.objects.update(serial="S2")
    with pytest.raises(RecordError, match="tag T-100: found on another unit already"):
        import_job(exported)


@pytest.mark.parametrize(
    "name",
    [
        "../evil.py",
        "/etc/passwd",
        "photos/../../evil",
        "..\\evil",
        "C:evil",
        "photos/evil.exe",
        "seal.json/x",
        "readings/a/b.csv",
    ],
)
def test_a_zip_with_a_path_that_is_no_part_of_a_job_is_refused(exported: bytes, name: str) -> None:
    with pytest.raises(InputError, match=r"expected job\.json, seal\.json, readings/ and photos/ only"):
        import_job(with_member(exported, name))
    assert Job.objects.count() == 0


def test_a_zip_with_a_member_too_large_is_refused(exported: bytes) -> None:
    with pytest.raises(InputError, match="expected at most 32 MB"):
        import_job(with_member(exported, "readings/big.csv", bytes(LARGEST_MEMBER + 1)))


def set_to(**values: Any) -> Callable[[dict[str, Any]], None]:
    return lambda written: written.update(values)


def twice_the_second(written: dict[str, Any]) -> None:
    """Of a barwise that had no chain, which would tell it first."""
    written["readings"][0]["seq"] = 2
    for one in written["readings"]:
        one["link"] = ""


def in_reading(**values: Any) -> Callable[[dict[str, Any]], None]:
    return lambda written: written["readings"][0].update(values)


@pytest.mark.parametrize(
    ("change", "says"),
    [
        (set_to(schema=3), r'schema "3", expected schema 2'),
        (lambda written: written.pop("schema"), "no schema"),
        (lambda written: written.pop("unit_tag"), "unit_tag"),
        (set_to(extra=1), "extra"),
        (set_to(family="lorry"), "family"),
        (set_to(sheet="key = 3"), "job zip, sheet"),
        (in_reading(value_si=0.5), "reading #1: found 1.2400 in and a value of 0.5 in SI"),
        (in_reading(entered="abc"), "reading #1"),
        (in_reading(check_key="nothing"), "check"),
        (in_reading(instrument=99), "found instrument 99"),
        (in_reading(seq=0), "readings.0.seq"),
        (twice_the_second, "contradicts"),
        (in_reading(entered="1.2410", value_si=0.0315214), "reading #1, .* does not fit its link"),
        (lambda written: written["readings"][1].update(by="Nobody"), "reading #2, .* does not fit its link"),
        (in_reading(supersedes=str(uuid.uuid4())), "no earlier reading"),
        (in_reading(value_si=float("nan")), "readings.0.value_si"),
        (lambda written: written["photos"][0].update(sha256="0" * 64), "no such photo"),
        (lambda written: written["photos"][0].update(sha256="../x"), "photos.0.sha256"),
    ],
)  # fmt: skip
def test_a_zip_whose_content_makes_no_sense_is_refused_and_leaves_nothing(
    exported: bytes, change: Callable[[dict[str, Any]], None], says: str
) -> None:
    with pytest.raises(BarwiseError, match=says):
        import_job(changed(exported, change))
    assert Job.objects.count() == 0
    assert Reading.objects.count() == 0


@pytest.mark.parametrize("content", [b"", b"PK", b"no zip at all", b"PK\x05\x06" + bytes(18)])
def test_what_is_no_zip_of_a_job_is_refused(content: bytes) -> None:
    with pytest.raises(InputError, match="expected a zip of one job"):
        import_job(content)


def test_a_torn_zip_is_refused(exported: bytes) -> None:
    with pytest.raises(InputError, match="cannot be unpacked"):
        import_job(exported[: len(exported) // 2])


def test_a_struck_reading_of_a_job_made_before_reasons_were_kept_says_so(exported: bytes) -> None:
    def forget(written: dict[str, Any]) -> None:
        for one in written["readings"]:
            del one["reason"], one["link"]

    brought = import_job(changed(exported, forget))
    assert [one.reason for one in Reading.objects.filter(job=brought.job, struck=True)] == [NO_REASON]


@pytest.mark.parametrize("clock", ["taken_at", "received_at"])
def test_a_reading_from_the_future_is_not_brought_in(exported: bytes, clock: str) -> None:
    def later(written: dict[str, Any]) -> None:
        written["readings"][0][clock] = "2999-01-01T08:00:00+00:00"

    with pytest.raises(InputError, match="in the future"):
        import_job(changed(exported, later))
    assert not Reading.objects.exists()
