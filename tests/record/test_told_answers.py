"""A slow answer is told and drawn from what its result keeps, after a restart and after an update too."""

from __future__ import annotations

import json
from dataclasses import replace

import numpy as np
import pytest

from barwise.inspect.checks.plain import plain
from barwise.inspect.cranking.at_the_job import JobCrank, KeptCrank
from barwise.inspect.run_test import RunTest
from barwise.record import answers, told_answers
from barwise.record.answers import work_out
from barwise.record.models import Job, Result
from barwise.record.told_answers import told_answer
from barwise.report.run.cranking_picture import cranking_picture
from barwise.report.run.picture import PAPER, curve_picture
from barwise.report.run.text import run_text

from .conftest import VEHICLE, Take


@pytest.fixture(autouse=True)
def _nothing_in_mind() -> None:
    answers.at_hand.clear()


@pytest.fixture
def nothing_is_worked_out(monkeypatch: pytest.MonkeyPatch) -> None:
    """Whoever tells a result must do with what it keeps."""

    def refused(result: Result) -> None:
        raise AssertionError(f"{result.check_key} was worked out again")

    monkeypatch.setattr(told_answers, "whole_answer", refused)


@pytest.fixture
def run(take: Take) -> Take:
    """A starter that draws a little much without load, as the sheet has it, and the press to weigh it."""
    readings = (("volts", "11.6", "V"), ("current", "95", "A"), ("speed", "4300", "rpm"))
    for check, value, unit in readings:
        take("run", f"no-load-{check}", value, unit=unit)
    take("run", "verdict", "weigh what is read")
    return take


@pytest.fixture
def weighed(job: Job, run: Take) -> tuple[Result, RunTest]:
    """A run test, as its row is read anew, and the answer it was taken from."""
    result = work_out(job, "run", "verdict")
    whole = answers.at_hand.get(result)
    assert whole is not None
    assert isinstance(whole.answer, RunTest)
    return Result.objects.get(pk=result.pk), whole.answer


@pytest.fixture
def started(job: Job, run: Take) -> tuple[Result, JobCrank]:
    """The same of a start in the vehicle."""
    run("handover", "vehicle-crank", VEHICLE)
    result = work_out(job, "handover", "vehicle-crank")
    whole = answers.at_hand.get(result)
    assert whole is not None
    assert isinstance(whole.answer, JobCrank)
    return Result.objects.get(pk=result.pk), whole.answer


def test_a_run_test_is_told_and_drawn_by_what_its_result_keeps_as_it_was(
    weighed: tuple[Result, RunTest], nothing_is_worked_out: None
) -> None:
    result, live = weighed
    told = told_answer(result)
    assert isinstance(told, RunTest)
    assert live.posterior
    assert plain(told) == plain(replace(live, posterior=()))
    assert run_text(told) == run_text(live)
    assert curve_picture(told, None, PAPER) == curve_picture(live, None, PAPER)


def test_a_start_in_the_vehicle_is_told_and_drawn_by_what_its_result_keeps_as_it_was(
    started: tuple[Result, JobCrank], nothing_is_worked_out: None
) -> None:
    result, live = started
    told = told_answer(result)
    assert isinstance(told, KeptCrank)
    assert told.missing == live.missing
    assert told.summary is not None
    assert live.answer is not None
    assert told.summary.blame == live.answer.blame
    assert cranking_picture(told.summary) == cranking_picture(live.answer.summary)


def test_the_course_is_kept_thinned_from_its_first_point_to_its_last(
    started: tuple[Result, JobCrank],
) -> None:
    _, live = started
    assert live.answer is not None
    whole, thin = live.answer.course, live.answer.summary.trace
    assert len(thin.time_s) < len(whole.time_s)
    kept = np.searchsorted(whole.time_s, thin.time_s)
    assert (kept[0], kept[-1]) == (0, len(whole.time_s) - 1)
    for name, values in vars(thin).items():
        assert np.array_equal(values, getattr(whole, name)[kept]), name


def test_after_an_update_it_is_told_as_it_was_before(weighed: tuple[Result, RunTest]) -> None:
    result, live = weighed
    result.software_version = "0.0.1"
    told = told_answer(result)
    assert isinstance(told, RunTest)
    assert told.causes == live.causes


@pytest.mark.parametrize("lost", ["curve", "points"])
def test_a_result_that_kept_less_or_something_else_is_worked_out_again(
    weighed: tuple[Result, RunTest], lost: str
) -> None:
    """As results of earlier versions did, and as a hand in the database may have left it."""
    result, live = weighed
    less = {name: one for name, one in result.details["run"].items() if name != lost}
    for kept in (less, {**less, lost: "gone"}):
        result.details = {**result.details, "run": json.loads(json.dumps(kept))}
        told = told_answer(result)
        assert isinstance(told, RunTest)
        assert told.causes == live.causes
        assert told.posterior
