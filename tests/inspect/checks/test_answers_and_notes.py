"""Answers in words and what is only written down."""

from __future__ import annotations

import pytest

from barwise.inspect.checks import Answer, Evidence, Taken
from barwise.inspect.checks.answers import choice, yes_no
from barwise.inspect.checks.recorded import fact, last_measurement, measurement
from barwise.measure.instrument import Instrument

ANSWERS = (
    Answer("free", "accept"),
    Answer("sticks", "undecided", "Clean it."),
    Answer("broken", "reject", "New one."),
    Answer("seen", None),
)


def answered(*answers: tuple[str, ...], places: tuple[str, ...] = ()) -> Evidence:
    readings = tuple(Taken(None, text, "", place) for text, *place in answers for place in [tuple(place)])
    return Evidence(readings, what="Brush", answers=ANSWERS, places=places)


def test_the_worst_answer_decides_and_names_its_place() -> None:
    found = choice(answered(("free", "1"), ("broken", "2"), ("sticks", "3")))
    assert (found.decision, found.line, found.settle) == ("reject", "Brush 2: broken.", "New one.")


def test_looked_at_again_the_later_answer_stands() -> None:
    assert choice(answered(("sticks", "1"), ("free", "1"))).decision == "accept"


def test_an_answer_is_understood_in_any_case() -> None:
    assert choice(answered((" Free ",))).decision == "accept"


def test_an_answer_nobody_offered_is_undecided_and_told_the_others() -> None:
    found = choice(answered(("fine",)))
    assert found.decision == "undecided"
    assert found.settle == "Answer one of: free, sticks, broken, seen."


def test_an_answer_that_decides_nothing_is_noted() -> None:
    assert choice(answered(("seen",))).decision == "noted"


def test_a_place_not_looked_at_keeps_it_open() -> None:
    found = choice(answered(("free", "1"), places=("1", "2")))
    assert (found.decision, found.settle) == ("undecided", "Look at 2.")


@pytest.mark.parametrize(("text", "said"), [("yes", "accept"), ("No", "reject")])
def test_yes_is_well_and_no_is_not(text: str, said: str) -> None:
    assert yes_no(Evidence((Taken(None, text),), what="Turns")).decision == said


def test_a_note_is_kept_as_it_was_written() -> None:
    found = fact(Evidence((Taken(None, "first"), Taken(None, "slow when hot")), what="Complaint"))
    assert (found.decision, found.line) == ("noted", "Complaint: slow when hot.")
    assert found.details["noted"] == ["first", "slow when hot"]


def test_a_number_for_later_keeps_its_uncertainty_and_the_largest_place() -> None:
    tool = Instrument("dial", 1e-5)
    readings = (
        Taken(1e-4, "0.10", "mm", ("1",), instrument=tool),
        Taken(3e-4, "0.30", "mm", ("2",), instrument=tool),
    )
    found = measurement(Evidence(readings, what="Run-out", quantity="length", unit="mm"))
    assert found.value == pytest.approx(3e-4)
    assert found.uncertainty == pytest.approx(1e-5 / 12**0.5)
    assert found.line == "Run-out 2 (largest of 2): 0.30 mm."


def test_after_the_latest_pass_only_the_last_number_counts() -> None:
    readings = (Taken(0.0316, "31.60", "mm"), Taken(0.0315, "31.50", "mm"))
    found = last_measurement(Evidence(readings, what="Diameter", quantity="length", unit="mm"))
    assert found.value == pytest.approx(0.0315)
    assert found.details["resolution"] == pytest.approx(1e-5)
