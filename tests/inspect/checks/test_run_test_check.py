"""The run station: volts beside the sheet's, and all its readings weighed together."""

from __future__ import annotations

import json
import math

import pytest

from barwise.inspect.checks import Outcome, Taken
from barwise.inspect.run_test import RunTest
from barwise.measure.units import UNITS
from barwise.route.deciding import decide
from barwise.route.family import load_family
from barwise.route.sheet import ModelSheet, load_sheet

STARTER, SHEET = load_family("starter"), load_sheet("demo-57-wave")
PRESSED = (Taken(None, "weigh what is read"),)
SOUND = {
    "no-load-volts": ("11.5", "V"),
    "no-load-current": ("70", "A"),
    "no-load-speed": ("4600", "rpm"),
    "lock-volts": ("4.00", "V"),
    "lock-current": ("450", "A"),
    "lock-torque": ("13.8", "lbf.ft"),
}


def run_station(
    read: dict[str, tuple[str, str]], sheet: ModelSheet = SHEET, twice: tuple[str, ...] = ()
) -> Outcome:
    context = {}
    for key, (text, unit) in read.items():
        taken = Taken(UNITS[unit].factor * float(text), text, unit)
        context[f"run.{key}"] = decide(STARTER, "run", key, sheet, (taken,) * (2 if key in twice else 1))
    return decide(STARTER, "run", "verdict", sheet, PRESSED, context)


def test_a_sound_run_is_not_rejected_and_most_likely_healthy() -> None:
    found = run_station(SOUND)
    assert found.decision in ("accept", "undecided")
    assert found.probability is not None
    assert found.probability > 0.8


def test_a_weak_field_is_rejected_named_and_kept_for_the_record() -> None:
    weak = SOUND | {
        "no-load-current": ("84", "A"),
        "no-load-speed": ("5180", "rpm"),
        "lock-current": ("331", "A"),
        "lock-torque": ("5.0", "lbf.ft"),
    }
    found = run_station(weak)
    assert found.decision == "reject"
    assert "one field path" in found.line
    kept = json.loads(json.dumps(found.details))
    assert kept["run"]["causes"][0]["key"] == "open-field-path"
    assert type(found.answer).__name__ == "RunTest"


def test_nothing_pressed_is_not_taken_and_nothing_read_is_undecided() -> None:
    assert decide(STARTER, "run", "verdict", SHEET, ()).decision == "not taken"
    nothing = decide(STARTER, "run", "verdict", SHEET, PRESSED)
    assert nothing.decision == "undecided"
    assert "no run reading" in nothing.line


def test_a_lock_test_without_torque_asks_for_it() -> None:
    bare = {key: value for key, value in SOUND.items() if key != "lock-torque"}
    assert "no torque was read" in run_station(bare).settle


def test_a_lock_test_entered_twice_with_the_same_figures_is_asked_about_and_makes_nothing_surer() -> None:
    once = run_station(SOUND)
    twice = run_station(SOUND, twice=("lock-volts", "lock-current", "lock-torque"))
    assert "Locked: volts, amperes and torque stand there twice" in twice.settle
    assert twice.decision == "undecided"
    assert twice.probability == once.probability
    assert "stand there" not in run_station(SOUND, twice=("lock-volts", "lock-current")).settle


@pytest.mark.parametrize(("volts", "said"), [("11.4", False), ("8.0", True)])
def test_volts_far_from_the_sheets_are_said_to_be_brought_there(volts: str, said: bool) -> None:
    found = decide(STARTER, "run", "no-load-volts", SHEET, (Taken(float(volts), volts, "V"),))
    assert found.decision == "noted"
    assert ("brings them there" in found.line) is said
    assert math.isclose(found.value or 0.0, float(volts))


def test_the_sheet_says_its_gear_the_switch_amperes_and_the_temperature_of_its_figures() -> None:
    facts = {**SHEET.facts, "gear-ratio": 3.5, "run-switch-current": 12, "run-temperature": 25}
    found = run_station(SOUND, SHEET.model_copy(update={"facts": facts})).answer
    assert isinstance(found, RunTest)
    assert found.sheet.gear_ratio == 3.5
    assert found.sheet.switch_a == 12
    assert found.sheet.temperature is not None
    assert found.sheet.temperature.value == 25
    assert not any("at what temperature its figures hold" in note for note in found.notes)
    silent = run_station(SOUND).answer
    assert isinstance(silent, RunTest)
    assert any("at what temperature its figures hold" in note for note in silent.notes)
