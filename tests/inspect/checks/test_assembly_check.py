"""What was marked at teardown is what must be found at assembly. Common practice, no source."""

from __future__ import annotations

import pytest

from barwise.inspect.checks import Answer, Evidence, Limit, Outcome, SheetFacts, Taken
from barwise.inspect.checks.answers import choice
from barwise.inspect.checks.assembly import as_marked, end_play, pinion_clearance
from barwise.measure import decision

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


INCH = 0.0254
END_PLAY = Limit("end-play", decision.Limit(0.005 * INCH, 0.030 * INCH), "in", "the sheet")


def played(text: str, limit: Limit | None = END_PLAY) -> Outcome:
    read = (Taken(float(text) * INCH, text, "in"),)
    return end_play(Evidence(read, limit, what="End play", quantity="length", unit="in"))


@pytest.mark.parametrize(
    ("text", "said"),
    [("0.058", "Put in 0.041 in of washers"), ("0.001", "Take out 0.017 in of washers"), ("0.018", "")],
)
def test_an_end_play_out_of_range_says_how_thick_the_washers_must_be(text: str, said: str) -> None:
    """By hand: the middle is 0.0175 in; 0.058 - 0.0175 = 0.0405, 0.0175 - 0.001 = 0.0165."""
    outcome = played(text)
    assert outcome.decision == ("reject" if said else "accept")
    assert outcome.settle.startswith(said)


def test_the_span_that_will_do_stands_beside_it_and_an_open_range_has_no_middle() -> None:
    """By hand: 0.058 less 0.030 and 0.005 is 0.028 to 0.053, less the doubt of the last digit."""
    assert "(0.028 in to 0.053 in will do)" in played("0.058").settle
    one_side = Limit("end-play", decision.Limit(upper=0.030 * INCH), "in", "the sheet")
    assert "washers" not in played("0.058", one_side).settle


def test_a_pinion_clearance_out_of_range_says_how_far_and_leaves_the_lever_to_a_trial() -> None:
    limit = Limit("pinion-clearance", decision.Limit(0.020 * INCH, 0.140 * INCH), "in", "the sheet")
    read = (Taken(0.010 * INCH, "0.010", "in"),)
    outcome = pinion_clearance(Evidence(read, limit, what="Pinion", quantity="length", unit="in"))
    assert outcome.decision == "reject"
    assert outcome.settle.startswith(
        "It is 0.070 in short of the middle of its range. Put in or take out one"
    )
