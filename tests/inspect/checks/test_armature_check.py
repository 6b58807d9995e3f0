"""Bar readings as they are taken at the bench become one diagnosis, and bad ones are named, not fatal."""

from __future__ import annotations

import json
from collections.abc import Callable

import pytest

from barwise.inspect.armature import diagnose
from barwise.inspect.checks import Evidence, SheetFacts, Taken
from barwise.inspect.checks.armature import bar_readings, diagnosis
from barwise.machine.feed import Feed
from barwise.machine.winding import Winding
from barwise.measure.readings import Reading
from reference.armature import Fault
from reference.armature import Winding as Wound

WOUND = Wound("lap", 4, 32, slots=16)
WINDING = Winding("lap", 4, 32, slots=16)
FED = Feed(1, 9, 10.0)
Read = Callable[..., tuple[Reading, ...]]


def as_taken(reading: Reading) -> Taken:
    """The reading as a bench screen hands it on."""
    end = ("shaft",) if reading.end is None and reading.test != "blade" else ()
    place = (str(reading.start), *([str(reading.end)] if reading.end is not None else end))
    if reading.state is not None:
        return Taken(None, reading.state, "", place, reading.test)
    digits = 2 if reading.test == "drop" else 1
    text = f"{(reading.value or 0.0) * 1e3:.{digits}f}"
    return Taken(float(text) / 1e3, text, "mV", place, reading.test, reading.feed)


def evidence(taken: tuple[Taken, ...], winding: Winding | None = WINDING) -> Evidence:
    return Evidence(taken, sheet=SheetFacts(winding=winding), what="Winding")


def test_the_outcome_is_the_verdict_of_the_diagnosis_of_the_same_readings(read: Read) -> None:
    readings = read(WOUND, [Fault("open-coil", 6)], ("drop", "induced", "ground"))
    taken = tuple(as_taken(one) for one in readings)
    found = diagnosis(evidence(taken))
    whole = diagnose(WINDING, bar_readings(taken, WINDING)[0])
    assert found.decision == "reject"
    assert found.probability == whole.sound_probability
    assert "open coil of coil 6" in found.line
    assert found.answer == whole


def test_the_details_carry_the_diagnosis_as_plain_values(read: Read) -> None:
    taken = tuple(as_taken(one) for one in read(WOUND, [Fault("open-coil", 6)], ("drop",)))
    details = json.loads(json.dumps(diagnosis(evidence(taken)).details, allow_nan=False))
    first = details["diagnosis"]["findings"][0]
    assert (first["fault"], first["coil"], first["bars"]) == ("open-coil", 6, [6, 7])
    assert "open-coil" in details["diagnosis"]["smallest_detectable"]
    assert len(details["diagnosis"]["expected"]) == len(taken)


def test_a_sound_armature_is_accepted(read: Read) -> None:
    taken = tuple(as_taken(one) for one in read(WOUND, [], ("drop", "induced", "ground")))
    assert diagnosis(evidence(taken)).decision == "accept"


def test_a_few_readings_are_undecided_and_the_next_one_is_named(read: Read) -> None:
    taken = tuple(as_taken(one) for one in read(WOUND, [], ("drop",)))[:6]
    found = diagnosis(evidence(taken))
    assert found.decision == "undecided"
    assert found.settle.startswith("Take ")


def test_without_a_winding_in_the_sheet_it_is_undecided_and_asks_for_it() -> None:
    found = diagnosis(evidence((Taken(None, "dark", "", ("1", "shaft"), "ground"),), None))
    assert found.decision == "undecided"
    assert "into the model sheet" in found.settle


@pytest.mark.parametrize(
    ("taken", "why"),
    [
        (Taken(3e-3, "3.0", "mV", ("1", "2"), "drop"), "the feed is missing"),
        (Taken(3e-3, "3.0", "mV", ("1", "2"), "induced", FED), "it takes no feed"),
        (Taken(3e-3, "3.0", "mV", ("1", "33"), "induced"), "not on this armature of 32 bars"),
        (Taken(3e-3, "3.0", "mV", ("1", "1"), "induced"), "not on this armature of 32 bars"),
        (Taken(3e-3, "3.0", "mV", ("1",), "induced"), "not on this armature of 32 bars"),
        (Taken(None, "loud", "", ("1",), "blade"), "expected quiet or buzz"),
        (Taken(None, "quiet", "", ("17",), "blade"), "not on this armature of 32 bars"),
        (Taken(3e-3, "3.0", "mV", ("1", "2"), "smell"), "no such test as 'smell'"),
    ],
)
def test_a_reading_that_cannot_be_used_is_named_with_the_reason(taken: Taken, why: str) -> None:
    readings, unused = bar_readings((taken,), WINDING)
    assert readings == ()
    assert why in unused[0]
    assert diagnosis(evidence((taken,))).decision == "undecided"


def test_a_number_that_lost_its_last_zero_is_as_fine_as_the_others() -> None:
    pair = [Taken(3.5e-3, text, "mV", ("1", "2"), "drop", FED) for text in ("3.5", "3.52")]
    readings, _ = bar_readings(pair, WINDING)
    assert [one.resolution for one in readings] == [pytest.approx(1e-5)] * 2
