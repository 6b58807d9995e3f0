"""Readings are taken once, kept as typed, corrected by another, and asked about where they look wrong."""

from __future__ import annotations

import uuid
from collections.abc import Callable
from datetime import timedelta

import pytest
from django.utils import timezone

from barwise.errors import InputError
from barwise.machine.feed import Feed
from barwise.record.entry import Entry, Question, Stored, correct, strike, take_reading
from barwise.record.in_force import readings_in_force
from barwise.record.jobs import close_job, reopen_job
from barwise.record.models import CheckStanding, Instrument, Job, Person, Reading, Shop
from barwise.record.refusals import KeyReusedError, RecordError
from tests.record.conftest import FEED, Take

pytestmark = pytest.mark.django_db


def standing(job: Job, station: str, check: str) -> CheckStanding:
    return CheckStanding.objects.get(job=job, station_key=station, check_key=check)


def test_a_reading_is_kept_as_typed_and_in_si(take: Take, anna: Person) -> None:
    stored = take("commutator", "diameter", "1.2385", unit="in", place_from="1", track="0.5")
    kept = Reading.objects.get(pk=stored.reading.pk)
    assert (kept.entered, kept.unit, kept.place_from, kept.track) == ("1.2385", "in", "1", "0.5")
    assert kept.value_si == pytest.approx(1.2385 * 0.0254, rel=1e-15)
    assert kept.person == anna
    assert kept.seq == 1


def test_the_same_key_with_the_same_content_is_stored_once(
    job: Job, take_drop: Callable[..., Stored]
) -> None:
    key = uuid.uuid4()
    first = take_drop(1, "3.70", unit="mV", key=key)
    second = take_drop(1, "3.70", unit="mV", key=key)
    assert first.new
    assert not second.new
    assert second.reading.pk == first.reading.pk
    assert Reading.objects.count() == 1
    assert standing(job, "armature", "winding").in_force == 1


@pytest.mark.parametrize("other", [{"text": "3.71"}, {"bar": 2}, {"unit": "V"}, {"feed": Feed(1, 16, 10.0)}])
def test_the_same_key_with_another_content_is_refused(take_drop: Callable[..., Stored], other: dict) -> None:
    key = uuid.uuid4()
    take_drop(1, "3.70", key=key)
    again = {"bar": 1, "text": "3.70", **other}
    with pytest.raises(KeyReusedError, match=r"found reading #1 \(3.70 mV\)"):
        take_drop(again.pop("bar"), again.pop("text"), key=key, **again)
    assert Reading.objects.count() == 1


def test_a_key_of_another_job_is_refused(job: Job, take: Take, anna: Person) -> None:
    from barwise.record.jobs import add_unit, open_job

    key = uuid.uuid4()
    take("intake", "turns-by-hand", "free", key=key)
    other = open_job(add_unit("T-101", "starter"), job.customer, job.sheet)
    with pytest.raises(KeyReusedError):
        take_reading(other, Entry(key, "intake", "turns-by-hand", "free"), anna)


def test_a_closed_job_still_acknowledges_what_it_has_but_takes_nothing_new(job: Job, take: Take) -> None:
    key = uuid.uuid4()
    take("intake", "turns-by-hand", "free", key=key)
    close_job(job)
    assert not take("intake", "turns-by-hand", "free", key=key).new
    with pytest.raises(RecordError, match="open it again first"):
        take("intake", "turns-by-hand", "stiff")
    reopen_job(job, "customer came back")
    assert take("intake", "turns-by-hand", "stiff").reading.seq == 2


def test_a_repeat_is_kept_and_used(job: Job, take_drop: Callable[..., Stored]) -> None:
    take_drop(1, "3.70")
    take_drop(1, "3.72")
    assert [one.text for one in readings_in_force(job, "armature", "winding")] == ["3.70", "3.72"]


def test_a_correction_takes_the_place_of_the_reading_it_corrects(
    job: Job, take_drop: Callable[..., Stored]
) -> None:
    wrong = take_drop(1, "37.0")
    take_drop(2, "3.71")
    right = take_drop(1, "3.70", supersedes=wrong.reading.key)
    assert [one.text for one in readings_in_force(job, "armature", "winding")] == ["3.71", "3.70"]
    assert Reading.objects.count() == 3
    assert right.reading.supersedes == wrong.reading
    assert standing(job, "armature", "winding").in_force == 2


def test_a_second_correction_of_the_same_reading_is_refused_and_says_what_stands(
    take_drop: Callable[..., Stored],
) -> None:
    wrong = take_drop(1, "37.0")
    take_drop(1, "3.70", supersedes=wrong.reading.key)
    with pytest.raises(RecordError, match=r"corrected to 3\.70 mV already as #2"):
        take_drop(1, "3.75", supersedes=wrong.reading.key)


def test_correct_is_take_with_the_reading_named(job: Job, anna: Person, take: Take) -> None:
    wrong = take("intake", "turns-by-hand", "free")
    entry = Entry(uuid.uuid4(), "intake", "turns-by-hand", "seized")
    answer = correct(job, wrong.reading.key, entry, anna)
    assert isinstance(answer, Stored)
    assert [one.text for one in readings_in_force(job, "intake", "turns-by-hand")] == ["seized"]


def test_a_correction_at_another_check_is_refused(take: Take) -> None:
    wrong = take("intake", "turns-by-hand", "free")
    with pytest.raises(RecordError, match="withdraw it there, and take it here"):
        take("intake", "outside", "whole", supersedes=wrong.reading.key)


def test_a_struck_reading_is_out_of_force_and_stays_in_the_record(
    job: Job, anna: Person, take_drop: Callable[..., Stored]
) -> None:
    wrong, key = take_drop(1, "3.70").reading, uuid.uuid4()
    struck = strike(job, wrong.key, key, "  read on  the wrong bar ", anna)
    again = strike(job, wrong.key, key, "read on the wrong bar", anna)
    assert struck.new
    assert not again.new
    assert readings_in_force(job, "armature", "winding") == ()
    assert Reading.objects.count() == 2
    assert Reading.objects.get(key=key).reason == "read on the wrong bar"
    assert standing(job, "armature", "winding").in_force == 0
    with pytest.raises(RecordError, match="withdrawn already"):
        strike(job, wrong.key, uuid.uuid4(), "slip", anna)
    with pytest.raises(RecordError, match="withdraws another"):
        strike(job, struck.reading.key, uuid.uuid4(), "slip", anna)
    with pytest.raises(KeyReusedError):
        strike(job, uuid.uuid4(), key, "read on the wrong bar", anna)
    with pytest.raises(KeyReusedError):
        strike(job, wrong.key, key, "another reason", anna)


def test_a_reading_is_struck_for_a_reason_only(job: Job, anna: Person, take: Take) -> None:
    kept = take("intake", "turns-by-hand", "free").reading
    with pytest.raises(InputError, match="reason: found nothing"):
        strike(job, kept.key, uuid.uuid4(), " \n", anna)
    assert len(readings_in_force(job, "intake", "turns-by-hand")) == 1


@pytest.mark.parametrize(
    ("text", "unit", "field", "says"),
    [
        ("1,2385", "in", "value", "a decimal point: 1.2385, or 12385 if the comma parts thousands"),
        ("1,078", "in", "value", "a decimal point: 1.078, or 1078"),
        ("1.2e", "in", "value", "a number such as 3.59"),
        ("12o5", "in", "value", 'found "12o5"'),
        ("abc", "in", "value", 'found "abc"'),
        ("", "in", "value", "found nothing"),
        ("OL", "in", "value", "off the scale is no number"),
        ("-1.2385", "in", "value", "0 or more"),
        ("1e9", "in", "value", "at most 118.11 in: is every digit right?"),
        ("1.2385", "mV", "unit", "of voltage, expected length"),
        ("1.2385", "inn", "unit", r"\(nearest: in\)"),
        ("1.2385 kohm", "in", "unit", "of resistance"),
        ("9" * 400, "in", "value", "found"),
    ],
)  # fmt: skip
def test_what_cannot_be_taken_names_field_and_what_was_expected(
    take: Take, text: str, unit: str, field: str, says: str
) -> None:
    with pytest.raises(InputError, match=says) as refused:
        take("commutator", "diameter", text, unit=unit, place_from="1", track="0.5")
    assert refused.value.where == field
    assert Reading.objects.count() == 0


@pytest.mark.parametrize(
    ("more", "field"),
    [
        ({"place_from": "58"}, "from"),
        ({"place_to": "1"}, "to"),
        ({"test": "dorp"}, "test"),
        ({"feed": None}, "feed_from"),
        ({"feed": Feed(1, 1, 10.0)}, "feed_to"),
        ({"unit": "ohm"}, "unit"),
        ({"text": "3,70"}, "value"),
    ],
)  # fmt: skip
def test_a_bar_reading_is_refused_by_the_field_that_is_wrong(
    take: Take, more: dict[str, object], field: str
) -> None:
    good = {"text": "3.70", "test": "drop", "feed": FEED, "place_from": "1", "place_to": "2"}
    with pytest.raises(InputError) as refused:
        take("armature", "winding", **{**good, **more})
    assert refused.value.where == field


def test_decimal_commas_are_taken_where_the_shop_writes_them(
    job: Job, take: Take, take_drop: Callable[..., Stored]
) -> None:
    Shop.objects.create(decimal_comma=True)
    diameter = take("commutator", "diameter", "31,450 mm", place_from="1", track="0.5").reading
    assert (diameter.entered, diameter.unit) == ("31,450", "mm")
    assert diameter.value_si == pytest.approx(0.03145)
    assert readings_in_force(job, "commutator", "diameter")[0].last_digit == pytest.approx(1e-6)
    assert take_drop(1, "3,70").reading.value_si == pytest.approx(3.70e-3)
    with pytest.raises(InputError, match="nothing between thousands"):
        take("commutator", "diameter", "1.031,45", unit="mm")


def test_a_gauge_that_types_its_unit_is_understood(take_drop: Callable[..., Stored]) -> None:
    kept = take_drop(1, "3.70mV").reading
    assert (kept.entered, kept.unit, kept.value_si) == ("3.70", "mV", pytest.approx(3.7e-3))


def test_inches_entered_as_millimetres_are_asked_about_and_taken_when_confirmed(job: Job) -> None:
    place = {"unit": "mm", "place_from": "1", "track": "0.5"}
    asked = take_reading(job, Entry(uuid.uuid4(), "commutator", "diameter", "1.2385", **place))
    assert isinstance(asked, Question)
    assert "1.2385 mm, which is 0.04876 in, is far from the 1.226 to 1.25 in of the sheet" in asked.ask
    assert (asked.suggested_number, asked.suggested_unit) == ("1.2385", "in")
    assert Reading.objects.count() == 0
    meant = Entry(uuid.uuid4(), "commutator", "diameter", "1.2385", **place, confirmed=True)
    assert isinstance(take_reading(job, meant), Stored)


def test_a_lost_decimal_point_is_asked_about(job: Job) -> None:
    asked = take_reading(job, Entry(uuid.uuid4(), "commutator", "diameter", "12.385", unit="in"))
    assert isinstance(asked, Question)
    assert "Is every digit right?" in asked.ask


def test_a_reading_from_the_future_is_refused(take: Take) -> None:
    tomorrow = timezone.now() + timedelta(days=1)
    with pytest.raises(InputError, match="set the clock of this device right"):
        take("intake", "turns-by-hand", "free", taken_at=tomorrow)


def test_an_answer_that_is_not_offered_is_refused_with_those_that_are(take: Take) -> None:
    with pytest.raises(InputError, match=r"one of free, stiff, seized \(nearest: seized\)"):
        take("intake", "turns-by-hand", "siezed")
    assert take("intake", "turns-by-hand", "Seized").reading.entered == "seized"


def test_a_reading_out_of_family_is_taken_and_said_to_be_odd(take_drop: Callable[..., Stored]) -> None:
    for bar in range(1, 10):
        assert take_drop(bar, "3.70").odd is None
    odd = take_drop(10, "5.10").odd
    assert odd is not None
    assert odd.expected == pytest.approx(3.7e-3, rel=0.05)
    assert take_drop(11, "3.71").odd is None


def test_a_repeat_that_fits_is_not_odd_any_more(take_drop: Callable[..., Stored]) -> None:
    for bar in range(1, 10):
        take_drop(bar, "3.70")
    assert take_drop(10, "5.10").odd is not None
    assert take_drop(10, "3.70").odd is None


def test_an_instruments_figures_go_with_its_readings(job: Job, take: Take) -> None:
    tool = Instrument.objects.create(
        tag="M1", kind="micrometer", resolution_si=2.54e-6, repeatability_si=1e-6
    )
    take("commutator", "diameter", "1.2385", unit="in", instrument=tool)
    known = readings_in_force(job, "commutator", "diameter")[0].instrument
    assert known is not None
    assert (known.resolution_m, known.repeatability_m) == (2.54e-6, 1e-6)


def test_a_reading_whose_check_cannot_be_decided_is_kept_all_the_same(
    job: Job, take: Take, monkeypatch: pytest.MonkeyPatch
) -> None:
    from barwise.record import entry

    def undecidable(*_: object) -> None:
        raise InputError("limit", "ohm", "mm")

    monkeypatch.setattr(entry, "decide_light", undecidable)
    take("intake", "turns-by-hand", "free")
    assert standing(job, "intake", "turns-by-hand").out_of_date
    assert Reading.objects.count() == 1
