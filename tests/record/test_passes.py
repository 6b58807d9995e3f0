"""Passes of the cut written down: diameter and bars together or not at all, and nothing stale counts."""

from __future__ import annotations

import uuid
from typing import Any

import pytest

from barwise.errors import InputError
from barwise.record.cutting import FoundAfterPass, bars_named, pass_checks, passes_taken, take_pass
from barwise.record.entry import Question, Stored
from barwise.record.in_force import in_force
from barwise.record.jobs import add_customer, add_unit, open_job
from barwise.record.models import CheckStanding, Job, Person, Reading
from barwise.record.recheck import recheck
from barwise.record.results import decide_check
from barwise.record.route_of import route_of
from barwise.record.sheets import store_sheet
from tests.record.conftest import Take, sheet_text


@pytest.fixture
def measured(job: Job, take: Take) -> Job:
    take("commutator", "diameter", "1.2421", unit="in", place_from="1", track="0.2")
    return job


def a_pass(job: Job, person: Person | None = None, **found: Any) -> Stored | Question:
    check = route_of(job).family.check("commutator", "cut")
    return take_pass(job, check, FoundAfterPass(**{"key": uuid.uuid4(), "unit": "in", **found}), person)


def untouched(job: Job) -> list[str]:
    return [one.entered for one in in_force(job, "commutator", "untouched")]


def test_a_pass_is_a_diameter_and_the_bars_that_still_show_old_metal(measured: Job, anna: Person) -> None:
    a_pass(measured, anna, diameter="1.2400", looked=True, untouched=(48, 14))
    checks = pass_checks(route_of(measured), route_of(measured).family.check("commutator", "cut"))
    assert [(one.entered, one.person) for one in passes_taken(measured, checks)] == [("1.2400", anna)]
    assert untouched(measured) == ["14, 48"]


def test_all_clean_is_written_as_none(measured: Job) -> None:
    a_pass(measured, diameter="1.2400", looked=True)
    assert untouched(measured) == ["none"]


def test_what_was_seen_before_a_pass_does_not_count_after_it(measured: Job) -> None:
    a_pass(measured, diameter="1.2400", looked=True, untouched=(14,))
    a_pass(measured, diameter="1.2380")
    assert untouched(measured) == []


def test_a_diameter_entered_at_the_station_outdates_what_was_seen_before_that_pass(
    measured: Job, take: Take, anna: Person
) -> None:
    take("commutator", "after-pass", "1.2400", unit="in")
    take("commutator", "untouched", "14, 40-48")
    assert untouched(measured) == ["14, 40-48"]
    last = take("commutator", "after-pass", "1.2380", unit="in").reading
    assert untouched(measured) == []
    struck = Reading.objects.get(job=measured, check_key="untouched", struck=True)
    assert (struck.reason, struck.person) == ("said before: Diameter after the pass", anna)
    standing = CheckStanding.objects.get(job=measured, check_key="untouched")
    assert standing.in_force == 0
    take("commutator", "untouched", "14")
    take("commutator", "after-pass", "1.2381", unit="in", supersedes=last.key)
    assert untouched(measured) == ["14"]  # a correction is the same pass


def test_after_a_pass_nobody_looked_at_the_plan_leans_on_no_older_word(measured: Job, take: Take) -> None:
    for bar in range(1, 58):
        take("commutator", "cut", "0.001" if bar == 9 else "0.003", place_from=str(bar), track="0.5")
    take("commutator", "after-pass", "1.2405", unit="in")
    take("commutator", "untouched", "none")
    assert decide_check(measured, "commutator", "cut").details["plan"]["reason"] == "all-clean"
    take("commutator", "after-pass", "1.2400", unit="in")
    assert decide_check(measured, "commutator", "cut").details["plan"]["reason"] != "all-clean"
    assert recheck(measured).agrees


def test_the_same_form_sent_twice_is_one_pass(measured: Job) -> None:
    key = uuid.uuid4()
    for _ in range(2):
        answer = a_pass(measured, key=key, diameter="1.2400", looked=True, untouched=(14,))
        assert isinstance(answer, Stored)
    assert Reading.objects.filter(check_key="after-pass").count() == 1
    assert Reading.objects.filter(check_key="untouched").count() == 1


def test_a_diameter_that_grew_is_asked_about_and_taken_when_it_is_meant(measured: Job) -> None:
    asked = a_pass(measured, diameter="1.2460")
    assert isinstance(asked, Question)
    assert "takes metal off" in asked.ask
    assert not Reading.objects.filter(check_key="after-pass").exists()
    assert isinstance(a_pass(measured, diameter="1.2460", confirmed=True), Stored)


def test_a_wrong_unit_is_asked_about_with_the_one_that_was_meant(measured: Job) -> None:
    asked = a_pass(measured, diameter="1.2400", unit="mm")
    assert isinstance(asked, Question)
    assert (asked.suggested_number, asked.suggested_unit) == ("1.2400", "in")


def test_a_refused_diameter_leaves_the_bars_unwritten_too(measured: Job) -> None:
    a_pass(measured, diameter="1.2410", looked=True, untouched=(3,))
    with pytest.raises(InputError, match=r"1\.2\.4"):
        a_pass(measured, diameter="1.2.4", looked=True, untouched=(14,))
    assert untouched(measured) == ["3"]


def test_a_model_that_may_not_be_turned_takes_no_pass(anna: Person) -> None:
    text = sheet_text().replace("may_turn = true", "may_turn = false")
    unit = add_unit("T-200", "starter", invented=True)
    job = open_job(unit, add_customer("Invented Farm"), store_sheet(text), invented=True)
    with pytest.raises(InputError, match="forbids"):
        a_pass(job, anna, diameter="1.2400")


def test_the_plan_starts_from_the_latest_pass(measured: Job, take: Take) -> None:
    for bar in range(1, 58):
        take("commutator", "cut", "0.001" if bar == 9 else "0.003", place_from=str(bar), track="0.5")
    decide_check(measured, "commutator", "cut")
    a_pass(measured, diameter="1.2405", looked=True, untouched=(9,))
    plan = decide_check(measured, "commutator", "cut").details["plan"]
    assert plan["start_m"] == pytest.approx(1.2405 * 0.0254)
    a_pass(measured, diameter="1.2380", looked=True)
    assert decide_check(measured, "commutator", "cut").details["plan"]["reason"] == "all-clean"


@pytest.mark.parametrize("text", ["0", "58", "9-4", "fourteen", "3-5-7", "4--6"])
def test_a_word_that_names_no_bar_is_refused(text: str) -> None:
    with pytest.raises(InputError, match="bars from 1 to 57"):
        bars_named(text, 57)


def test_bars_may_be_named_one_by_one_and_as_ranges() -> None:
    assert bars_named(" 14; 40 to 42,\n7 ", 57) == (7, 14, 40, 41, 42)
