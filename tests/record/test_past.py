"""What the shop's record shows over many jobs: an invented past, counted by hand from how it was made."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator
from typing import Any

import pytest
from django.db.transaction import atomic, set_rollback
from django.utils import timezone

from barwise.errors import InputError
from barwise.record.invented_past import MODEL, invented_past
from barwise.record.jobs import open_job
from barwise.record.models import Instrument, Job
from barwise.record.past.instruments_drift import instrument_seen
from barwise.record.past.models_read import check_read, model_reads, models_seen, own_history
from barwise.record.past.parts_fail import parts_fail
from barwise.record.past.rebuilds import COMES_BACK, rebuilds
from barwise.record.past.tables import drift_csv, parts_csv, rebuilds_csv, units_csv
from barwise.record.route_of import route_of
from barwise.record.seals import check_job
from barwise.report.past.picture import drift_picture, shares_picture, values_picture
from barwise.report.past.words import (
    drift_in_words,
    right_in_words,
    this_one_in_words,
    unusual_in_words,
    usual_in_words,
)

pytestmark = pytest.mark.django_db


@pytest.fixture(scope="module")
def past(django_db_setup: None, django_db_blocker: Any) -> Iterator[list[Job]]:
    """The invented past, made once for the tests of this file, and gone again after them."""
    with django_db_blocker.unblock(), atomic():
        yield invented_past()
        set_rollback(True)


def test_rebuilds_are_counted_as_they_were_made(past: list[Job]) -> None:
    found = rebuilds()
    assert (found.whole.right.count, found.whole.right.of) == (33, 36)
    wrong = {one.number for one in found.jobs if not one.right}
    assert wrong == {past[place].number for place in (5, 14, 29)}
    assert all(one.refused == ("run.no-load-current",) for one in found.jobs if not one.right)
    assert sum(one.right.of for one in found.by_time) == 36
    assert "33 of 36" in right_in_words(found.whole)


def test_a_unit_that_is_taken_in_again_within_a_year_came_back(past: list[Job]) -> None:
    found = rebuilds()
    back = {one.number: one.back_as for one in found.jobs if one.back_as}
    assert back == {past[6].number: past[20].number, past[13].number: past[27].number}
    now = timezone.now()
    old = [one for one in found.jobs if now - one.closed_at >= COMES_BACK]
    assert found.whole.back.of == len(old)
    assert found.whole.back.count == sum(one.came_back() for one in old)
    assert found.young == 36 - len(old)


def test_a_model_reads_as_its_units_were_made(past: list[Job]) -> None:
    assert [(one.key, one.jobs) for one in models_seen()] == [(MODEL, 36)]
    read = check_read(MODEL, "run", "no-load-speed")
    assert len(read.units) == 36
    assert read.usual is not None
    rpm = 2 * 3.141592653589793 / 60
    assert read.usual.centre / rpm == pytest.approx(4600, abs=3 * 130 / 6)
    assert [one.job_number for one in read.units[:2]] == [past[35].number, past[34].number]
    fastest = max(read.units, key=lambda one: one.value)
    assert this_one_in_words(read, fastest).endswith("higher than all 35 others.")
    with pytest.raises(InputError, match="key of a model sheet"):
        model_reads("no-such-model")


def test_where_the_sheet_has_no_limit_the_own_history_says_what_is_usual(past: list[Job]) -> None:
    again = open_job(past[0].unit, past[0].customer, past[0].sheet)
    family = route_of(again).family
    read = own_history(again, "teardown", family.check("teardown", "end-play-found"))
    assert read is not None
    assert usual_in_words(read).startswith("own history: usually ")
    assert unusual_in_words(read, 0.06 * 0.0254).startswith("Unusual for this model: above what is usual")
    assert unusual_in_words(read, read.usual.centre if read.usual else 0.0) == ""
    assert own_history(again, "run", family.check("run", "no-load-speed")) is None, "it has a limit"


def test_an_instrument_that_begins_to_read_high_is_named_and_the_other_is_not(past: list[Job]) -> None:
    worn = instrument_seen(Instrument.objects.get(tag="M2"))
    assert worn.chart.is_out
    assert worn.readings[worn.chart.out_since or 0].job_number >= past[19].number
    assert "It reads high" in drift_in_words(worn)
    assert all(one.higher is not None and one.higher.value > 0 for one in worn.against)
    assert len({one.job_id for one in worn.readings}) == len(worn.readings) == 18


def test_parts_fail_as_often_as_was_decided(past: list[Job]) -> None:
    found = {one.part: one.replaced for one in parts_fail(MODEL)}
    decided = [job.dispositions.get(station_key="brushes").decided for job in past]
    assert (found["Brush gear"].count, found["Brush gear"].of) == (decided.count("replace"), 36)
    assert [one.failed for one in parts_fail()] == sorted((one.failed for one in parts_fail()), reverse=True)


def test_behind_each_picture_stands_its_table(past: list[Job]) -> None:
    worn = instrument_seen(Instrument.objects.get(tag="M2"))
    for text, rows in (
        (rebuilds_csv(rebuilds()), 36),
        (units_csv([check_read(MODEL, "run", "no-load-speed")]), 36),
        (drift_csv(worn), 18),
        (parts_csv(parts_fail()), len(parts_fail())),
    ):
        table = list(csv.reader(io.StringIO(text)))
        assert len(table) == rows + 1
        assert len({len(row) for row in table}) == 1


def test_the_pictures_say_what_they_show(past: list[Job]) -> None:
    read = check_read(MODEL, "run", "no-load-current")
    drawn = values_picture(read, read.units[0])
    assert drawn.count("<circle") == 35
    assert ">this one: " in drawn
    assert "at most 85 A" in drawn
    assert "usual, own history" in drawn
    assert "33 of 36" in shares_picture("Right", [("all", rebuilds().whole.right)])
    assert "reads high" in drift_picture(instrument_seen(Instrument.objects.get(tag="M2")))


def test_the_invented_past_is_sealed_as_it_is(past: list[Job]) -> None:
    assert {check_job(job).verdict.word for job in past[:3]} == {"whole"}
