"""Where a job stands is kept as readings come in, and every result can be worked out again."""

from __future__ import annotations

import math
import uuid
from collections.abc import Callable
from dataclasses import replace
from typing import Any, TypeGuard

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from barwise.inspect.checks import Outcome
from barwise.record import recheck as recheck_module
from barwise.record import results
from barwise.record.entry import Stored, strike
from barwise.record.jobs import add_unit, open_job
from barwise.record.models import CheckStanding, Job, Person, Result
from barwise.record.recheck import recheck
from barwise.record.results import Inputs, current_result, decide_check, live_outcome, newest_result
from barwise.record.route_of import RouteOfJob
from barwise.record.standing import CheckStand, job_stand, on_hand, station_stand
from tests.record.conftest import Take

pytestmark = pytest.mark.django_db
PLACE = {"place_from": "1", "track": "0.5"}


def stand_of(job: Job, name: str) -> CheckStand:
    return next(one for one in job_stand(job).checks if one.name == name)


def test_an_answer_is_decided_with_its_reading(job: Job, take: Take) -> None:
    take("intake", "turns-by-hand", "stiff")
    stand = stand_of(job, "intake.turns-by-hand")
    assert (stand.in_force, stand.decision, stand.out_of_date) == (1, "undecided", False)
    assert stand.settle.startswith("Look for the cause")
    assert [one.name for one in job_stand(job).questions] == ["intake.turns-by-hand"]


def test_a_walk_waits_to_be_decided_until_it_is_asked_for(job: Job, take_drop: Callable[..., Stored]) -> None:
    for bar in range(1, 58):
        take_drop(bar, "3.70")
    assert stand_of(job, "armature.winding").decision == "open"
    decided = current_result(job, "armature", "winding")
    assert stand_of(job, "armature.winding").decision == decided.decision
    assert len(decided.seqs) == 57
    assert current_result(job, "armature", "winding") == decided
    take_drop(1, "3.71")
    assert stand_of(job, "armature.winding").out_of_date
    assert current_result(job, "armature", "winding") != decided


def test_the_cut_plan_is_out_of_date_when_the_diameter_it_leans_on_changes(job: Job, take: Take) -> None:
    take("commutator", "diameter", "1.2421", unit="in", **PLACE)
    name = next(
        f"{station.key}.{check.key}"
        for station, checks in results.route_of(job).stations
        for check in checks
        if check.entry == "profile-walk"
    )
    station, _, key = name.partition(".")
    for bar in range(1, 58):
        take(station, key, f"{0.0002 * (bar % 3):.4f}", unit="in", place_from=str(bar), track="0.5")
    decide_check(job, station, key)
    assert not stand_of(job, name).out_of_date
    take("commutator", "diameter", "1.2420", unit="in", **PLACE)
    assert stand_of(job, name).out_of_date
    decide_check(job, station, key)
    assert not stand_of(job, name).out_of_date
    assert recheck(job).differences == ()


def test_a_result_made_while_a_reading_came_in_does_not_count(
    job: Job, take: Take, monkeypatch: pytest.MonkeyPatch
) -> None:
    take("intake", "turns-by-hand", "free")
    deciding = results.outcome_of

    def slowly(*arguments: Any) -> Outcome:
        outcome = deciding(*arguments)
        monkeypatch.setattr(results, "outcome_of", deciding)
        take("intake", "turns-by-hand", "seized")
        return outcome

    monkeypatch.setattr(results, "outcome_of", slowly)
    monkeypatch.setattr(results, "__version__", "another")  # so that it is decided anew
    assert decide_check(job, "intake", "turns-by-hand").decision == "accept"
    assert stand_of(job, "intake.turns-by-hand").decision == "reject"


def test_a_live_outcome_keeps_nothing(job: Job, take: Take) -> None:
    take("commutator", "diameter", "1.2421", unit="in", **PLACE)
    before = Result.objects.count()
    assert live_outcome(job, "commutator", "diameter").decision == "accept"
    assert Result.objects.count() == before


def test_a_check_with_all_its_readings_withdrawn_is_not_taken(job: Job, take: Take, anna: Person) -> None:
    stored = take("intake", "turns-by-hand", "seized")
    assert stand_of(job, "intake.turns-by-hand").decision == "reject"
    strike(job, stored.reading.key, uuid.uuid4(), "slip", anna)
    assert stand_of(job, "intake.turns-by-hand").decision == "not taken"
    assert current_result(job, "intake", "turns-by-hand").decision == "not taken"


def test_pages_cost_the_same_number_of_queries_however_much_was_read(
    job: Job, take: Take, take_drop: Callable[..., Stored]
) -> None:
    def queries(page: Callable[[], object]) -> int:
        with CaptureQueriesContext(
            connection,
        ) as captured:
            page()
        return len(captured)

    take("armature", "look", "clean")
    few = queries(on_hand), queries(lambda: station_stand(job, "armature"))
    for bar in range(1, 30):
        take_drop(bar, "3.70")
    for number in range(5):
        open_job(add_unit(f"U{number}", "starter"), job.customer, job.sheet)
    assert (queries(on_hand), queries(lambda: station_stand(job, "armature"))) == few
    assert few[0] == 2
    assert few[1] <= 3


def test_a_station_shows_its_readings_by_check_and_its_results(
    job: Job, take: Take, take_drop: Callable[..., Stored]
) -> None:
    take("armature", "look", "clean")
    take_drop(1, "3.70")
    stand = station_stand(job, "armature")
    assert {key: len(some) for key, some in stand.readings.items()} == {"look": 1, "winding": 1}
    assert stand.results["look"].decision == "accept"
    assert [one.check.key for one in stand.checks][:3] == ["look", "insulation", "temperature"]


def test_a_recheck_of_an_honest_record_finds_nothing(
    job: Job, take: Take, take_drop: Callable[..., Stored]
) -> None:
    take("intake", "turns-by-hand", "stiff")
    take("commutator", "diameter", "1.2421", unit="in", **PLACE)
    for bar in range(1, 58):
        take_drop(bar, "3.70")
    current_result(job, "armature", "winding")
    found = recheck()
    assert found.differences == ()
    assert (found.jobs, found.checks, found.agrees) == (1, 3, True)


def test_a_recheck_names_readings_that_nobody_decided_on(job: Job, take_drop: Callable[..., Stored]) -> None:
    take_drop(1, "3.70")
    (found,) = recheck(job).differences
    assert (found.kind, found.check, found.line) == ("not decided", "winding", "1 readings and no result yet")


def test_a_recheck_finds_a_result_that_its_inputs_do_not_give(job: Job, take: Take) -> None:
    take("commutator", "diameter", "1.2421", unit="in", **PLACE)
    true = newest_result(job, "commutator", "diameter")
    assert true is not None
    forged = Result(**{f.attname: getattr(true, f.attname) for f in Result._meta.fields if f.name != "id"})
    forged.decision, forged.software_version = "reject", "0.0.9"
    forged.save()
    checked = recheck(job)
    (found,) = checked.differences
    assert not checked.agrees
    assert (found.kind, found.line) == ("differs", "kept reject, now accept (kept by version 0.0.9)")
    forged2 = Result(**{f.attname: getattr(true, f.attname) for f in Result._meta.fields if f.name != "id"})
    forged2.value = true.value * (1 + 1e-6) if true.value else None
    forged2.save()
    (found,) = recheck(job).differences
    assert found.line.startswith("value: kept")


def test_another_processors_last_digit_is_no_difference(
    job: Job, take: Take, monkeypatch: pytest.MonkeyPatch
) -> None:
    for check, amount, unit in (("test-voltage", "10", "V"), ("pull-in-current", "37", "A")):
        take("switch", check, amount, unit=unit)
    take("switch", "hold-in-current", "10", unit="A")
    leant_on = newest_result(job, "switch", "pull-in-current")
    assert leant_on is not None
    assert leant_on.details["read_a"] == pytest.approx(37)

    def elsewhere(route: RouteOfJob, inputs: Inputs) -> Outcome:
        found = results.outcome_of(route, inputs)
        ulp = {
            key: math.nextafter(value, math.inf) for key, value in found.details.items() if _is_float(value)
        }
        return replace(found, details={**found.details, **ulp})

    monkeypatch.setattr(recheck_module, "outcome_of", elsewhere)
    assert recheck(job).differences == ()


def _is_float(value: object) -> TypeGuard[float]:
    return isinstance(value, float)


def test_a_recheck_finds_a_wrong_count(job: Job, take: Take) -> None:
    take("intake", "turns-by-hand", "free")
    CheckStanding.objects.update(in_force=7)
    (found,) = recheck(job).differences
    assert (found.kind, found.line) == ("wrong count", "7 readings in force counted, 1 there")
