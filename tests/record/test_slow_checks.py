"""A check that takes long to decide: its readings are on the disk first, and no other bench waits for it."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from django.db import connection

from barwise.inspect.checks import Outcome
from barwise.record import answers, results
from barwise.record.answers import catch_up
from barwise.record.models import CheckStanding, Job, Reading, Result
from barwise.record.results import Inputs, decide_check, newest_result
from barwise.record.route_of import RouteOfJob

from .conftest import Take

Decide = Callable[[RouteOfJob, Inputs], Outcome]


@pytest.fixture
def run(take: Take) -> Take:
    """A starter that was run without load, and the press that has it weighed."""
    for check, value, unit in (
        ("no-load-volts", "11.6", "V"),
        ("no-load-current", "105", "A"),
        ("no-load-speed", "2400", "rpm"),
    ):
        take("run", check, value, unit=unit)
    take("run", "verdict", "weigh what is read")
    return take


def while_decided(monkeypatch: pytest.MonkeyPatch, also: Callable[[str], None]) -> None:
    """Do something each time a check is worked out."""
    decide: Decide = results.outcome_of

    def deciding(route: RouteOfJob, inputs: Inputs) -> Outcome:
        also(f"{inputs.station}.{inputs.check.key}")
        return decide(route, inputs)

    monkeypatch.setattr(results, "outcome_of", deciding)


def standing(job: Job, check: str) -> CheckStanding:
    return CheckStanding.objects.get(job=job, station_key="run", check_key=check)


def verdicts(job: Job) -> int:
    return Result.objects.filter(job=job, check_key="verdict").count()


def test_the_verdict_is_worked_out_in_no_transaction_and_so_holds_nobody_up(
    job: Job, take: Take, run: Take, monkeypatch: pytest.MonkeyPatch
) -> None:
    """SQLite lets one write at a time: whoever decides within the transaction keeps all others waiting."""
    outside, depths = len(connection.savepoint_ids), {}
    while_decided(monkeypatch, lambda name: depths.update({name: len(connection.savepoint_ids) - outside}))
    take("run", "no-load-speed", "2300", unit="rpm")
    assert depths["run.no-load-speed"] > 0
    assert "run.verdict" not in depths
    catch_up(job)
    assert depths["run.verdict"] == 0


def test_a_reading_is_taken_while_the_verdict_is_worked_out_and_the_verdict_knows_it_is_not_in_it(
    job: Job, run: Take, monkeypatch: pytest.MonkeyPatch
) -> None:
    taken = []

    def another_bench(name: str) -> None:
        if name == "run.verdict" and not taken:
            taken.append(run("run", "no-load-current", "85", unit="A"))

    while_decided(monkeypatch, another_bench)
    catch_up(job)
    assert newest_result(job, "run", "verdict") is not None
    assert standing(job, "verdict").out_of_date
    catch_up(job)
    assert not standing(job, "verdict").out_of_date
    assert verdicts(job) == 2


def test_a_process_that_dies_before_the_verdict_loses_nothing_and_the_next_page_works_it_out(
    job: Job, run: Take, monkeypatch: pytest.MonkeyPatch
) -> None:
    def dies(_: str) -> None:
        raise KeyboardInterrupt

    with monkeypatch.context() as dying:
        while_decided(dying, dies)
        with pytest.raises(KeyboardInterrupt):
            catch_up(job)
    assert Reading.objects.filter(job=job, station_key="run").count() == 4
    assert standing(job, "verdict").out_of_date
    assert newest_result(job, "run", "verdict") is None
    catch_up(job)
    assert newest_result(job, "run", "verdict") is not None
    assert not standing(job, "verdict").out_of_date


def test_the_same_readings_are_weighed_once_however_many_pages_are_opened(
    job: Job, run: Take, monkeypatch: pytest.MonkeyPatch
) -> None:
    for _ in range(3):
        catch_up(job)
    assert verdicts(job) == 1
    run("run", "no-load-volts", "11.4", unit="V")

    def at_another_bench_too(name: str) -> None:
        if name == "run.verdict":
            monkeypatch.undo()
            decide_check(job, "run", "verdict")

    while_decided(monkeypatch, at_another_bench_too)
    catch_up(job)
    assert verdicts(job) == 2
    assert not standing(job, "verdict").out_of_date


def test_what_cannot_be_kept_just_now_stays_open_and_takes_no_page_with_it(
    job: Job, run: Take, monkeypatch: pytest.MonkeyPatch
) -> None:
    from django.db import OperationalError

    def full(*_: object) -> None:
        raise OperationalError("database or disk is full")

    with monkeypatch.context() as filled:
        filled.setattr(answers, "work_out", full)
        catch_up(job)
    assert standing(job, "verdict").out_of_date


def test_a_job_of_a_family_that_is_not_installed_has_nothing_to_catch_up(job: Job, run: Take) -> None:
    job.family_key = "no-such-family"
    catch_up(job)
    assert verdicts(job) == 0
