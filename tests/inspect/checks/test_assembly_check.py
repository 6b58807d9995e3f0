"""What was marked at teardown is what must be found at assembly. Common practice, no source."""

from __future__ import annotations

import pytest

from barwise.inspect.checks import Answer, Evidence, Outcome, SheetFacts, Taken
from barwise.inspect.checks.answers import choice
from barwise.inspect.checks.assembly import as_marked

WAYS = (Answer("clockwise", "undecided", "No mark."), Answer("anticlockwise", "undecided", "No mark."))


def marked(said: str) -> Outcome:
    answers = tuple(Answer(one.say, None) for one in WAYS)
    return choice(Evidence((Taken(None, said),), what="Rotation", answers=answers))


def decide(said: str, mark: Outcome | None, **facts: str) -> Outcome:
    context = {} if mark is None else {"marked": mark}
    readings = (Taken(None, said),) if said else ()
    return as_marked(
        Evidence(readings, None, SheetFacts(facts=facts), context, what="Drives the marked way", answers=WAYS)
    )


@pytest.mark.parametrize(
    ("found", "decision"), [("clockwise", "accept"), ("Clockwise", "accept"), ("anticlockwise", "reject")]
)
def test_a_difference_to_the_mark_is_rejected(found: str, decision: str) -> None:
    outcome = decide(found, marked("clockwise"))
    assert outcome.decision == decision
    assert (outcome.settle != "") == (decision == "reject")
    assert "marked at teardown" in outcome.line


def test_without_a_mark_it_stays_open_and_says_so() -> None:
    outcome = decide("clockwise", None)
    assert (outcome.decision, outcome.settle) == ("undecided", "No mark.")


def test_a_unit_that_turns_as_marked_but_not_as_its_sheet_says_is_asked_about() -> None:
    outcome = decide("clockwise", marked("clockwise"), rotation="anticlockwise")
    assert outcome.decision == "undecided"
    assert "is it the sheet of this unit?" in outcome.line
    assert decide("clockwise", marked("clockwise"), rotation="clockwise").decision == "accept"


def test_nothing_answered_is_not_taken() -> None:
    assert decide("", marked("clockwise")).decision == "not taken"
