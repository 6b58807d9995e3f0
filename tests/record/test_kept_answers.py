"""Answers kept: worked out once, shown as they were, and said to be old when something came in since."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from barwise.inspect.checks import Outcome
from barwise.inspect.diagnosis import Diagnosis
from barwise.record import answers, results
from barwise.record.answers import AtHand, kept_answer, work_out
from barwise.record.entry import Stored
from barwise.record.jobs import assign_sheet
from barwise.record.models import Job, Person, Result
from barwise.record.results import decide_check
from barwise.record.sheets import store_sheet
from tests.record.conftest import Take, sheet_text


@pytest.fixture(autouse=True)
def _nothing_in_mind() -> None:
    answers.at_hand.clear()


@pytest.fixture
def walked(job: Job, take_drop: Callable[..., Stored]) -> Job:
    for bar in range(1, 58):
        take_drop(bar, "5.03" if bar == 5 else "3.53")
    return job


def test_where_nothing_was_read_there_is_no_answer(job: Job) -> None:
    assert kept_answer(job, "armature", "winding") is None
    assert not Result.objects.exists()


def test_looking_works_nothing_out(walked: Job) -> None:
    assert kept_answer(walked, "armature", "winding") is None
    assert not Result.objects.filter(check_key="winding").exists()


def test_it_is_worked_out_once_however_often_it_is_asked_for_and_looked_at(
    walked: Job, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[str] = []
    computed = results.decide

    def counted(*given: Any) -> Outcome:
        asked.append(given[2])
        return computed(*given)

    monkeypatch.setattr(results, "decide", counted)
    work_out(walked, "armature", "winding")
    first = kept_answer(walked, "armature", "winding")
    work_out(walked, "armature", "winding")
    again = kept_answer(walked, "armature", "winding")
    assert asked == ["winding"]
    assert first.result == again.result
    assert first.since == ()
    assert isinstance(first.whole.answer, Diagnosis)
    assert Result.objects.filter(check_key="winding").count() == 1


def test_few_answers_are_kept_at_hand_and_the_oldest_goes_first() -> None:
    few = AtHand(most=2)
    for number in (1, 2, 3):
        few.keep(Result(pk=number, fingerprint="f"), Outcome("accept", str(number)))
    assert [Result(pk=number, fingerprint="f") in few for number in (1, 2, 3)] == [False, True, True]
    assert few.get(Result(pk=3, fingerprint="f")).line == "3"
    assert Result(pk=3, fingerprint="other") not in few


def test_a_reading_does_not_work_it_out_again_but_is_said_to_have_come(
    walked: Job, take_drop: Callable[..., Stored]
) -> None:
    work_out(walked, "armature", "winding")
    before = kept_answer(walked, "armature", "winding")
    take_drop(5, "3.53")
    after = kept_answer(walked, "armature", "winding")
    assert after.result == before.result
    assert after.since == ("one reading came in",)


def test_the_old_answer_keeps_its_pictures_from_exactly_its_own_readings(
    walked: Job, take_drop: Callable[..., Stored]
) -> None:
    work_out(walked, "armature", "winding")
    before = kept_answer(walked, "armature", "winding").whole
    take_drop(9, "9.99")
    answers.at_hand.clear()
    after = kept_answer(walked, "armature", "winding").whole
    assert after.line == before.line
    assert len(after.answer.readings) == 57


def test_another_sheet_is_said_and_the_old_answer_stays_judged_by_its_own(walked: Job, anna: Person) -> None:
    work_out(walked, "armature", "winding")
    first = kept_answer(walked, "armature", "winding")
    newer = store_sheet(sheet_text().replace("version = 1", "version = 2").replace("0.740", "0.742"))
    walked = assign_sheet(walked, newer, anna)
    kept = kept_answer(walked, "armature", "winding")
    assert kept.since == ("the job was given another sheet",)
    assert kept.result.sheet.version == 1
    assert kept.route.sheet.version == 1
    assert kept.whole.line == first.whole.line


def test_an_answer_of_another_version_of_barwise_is_shown_without_pictures(
    walked: Job, monkeypatch: pytest.MonkeyPatch
) -> None:
    work_out(walked, "armature", "winding")
    monkeypatch.setattr(answers, "__version__", "99.0.0")
    kept = kept_answer(walked, "armature", "winding")
    assert kept.whole is None
    assert kept.result.line


def test_readings_that_are_not_those_of_the_result_give_no_picture(
    walked: Job, monkeypatch: pytest.MonkeyPatch
) -> None:
    result = decide_check(walked, "armature", "winding")
    Result.objects.bulk_create([_copy(result, seqs=result.seqs[:-1])])
    kept = kept_answer(walked, "armature", "winding")
    assert kept.result.pk != result.pk
    assert kept.whole is None


def test_what_it_leans_on_read_again_is_said(walked: Job, take: Take) -> None:
    take("commutator", "diameter", "1.2421", unit="in", place_from="1", track="0.2")
    for bar in range(1, 58):
        take("commutator", "cut", "0.001" if bar == 9 else "0.003", place_from=str(bar), track="0.5")
    work_out(walked, "commutator", "cut")
    assert kept_answer(walked, "commutator", "cut").since == ()
    take("commutator", "after-pass", "1.2400", unit="in")
    assert kept_answer(walked, "commutator", "cut").since == ("a check it leans on was read again",)


def test_a_plan_is_had_again_with_what_it_leaned_on_then(walked: Job, take: Take) -> None:
    take("commutator", "diameter", "1.2421", unit="in", place_from="1", track="0.2")
    for bar in range(1, 58):
        take("commutator", "cut", "0.001" if bar == 9 else "0.003", place_from=str(bar), track="0.5")
    work_out(walked, "commutator", "cut")
    before = kept_answer(walked, "commutator", "cut").whole
    take("commutator", "diameter", "1.2390", unit="in", place_from="1", track="0.2")
    answers.at_hand.clear()
    after = kept_answer(walked, "commutator", "cut").whole
    assert after.value == before.value
    assert [one.diameter_m for one in after.answer.passes] == [one.diameter_m for one in before.answer.passes]


def _copy(result: Result, **changes: object) -> Result:
    names = [field.attname for field in Result._meta.concrete_fields if not field.primary_key]
    return Result(**{**{name: getattr(result, name) for name in names}, **changes})
