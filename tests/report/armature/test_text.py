"""The answer in words and as JSON, for diagnoses made by hand."""

from __future__ import annotations

import json
import math
from dataclasses import replace

import pytest

from barwise.inspect.armature.wording import CONTRADICTORY
from barwise.inspect.diagnosis import (
    Detectable,
    Diagnosis,
    Finding,
    NextReading,
    SuspectReading,
)
from barwise.machine.feed import Feed
from barwise.machine.winding import Winding
from barwise.measure.readings import Reading
from barwise.report.armature.as_json import armature_answer, armature_json
from barwise.report.armature.cautions import cautions_for
from barwise.report.armature.fault_words import (
    NAMES,
    explains,
    meaning,
    ohms_in_words,
    seen_at,
    seen_at_in_words,
)
from barwise.report.armature.text import armature_text, numbers_in_words, verdict_line
from barwise.report.paragraphs import WIDTH
from barwise.report.probability import probability_in_words
from barwise.route.cautions import CODE_FIRST

WAVE = Winding("wave", poles=4, bars=57, progression="retrogressive", slots=29)
LAP = Winding("lap", poles=4, bars=32, turns_per_coil=8)
FEED = Feed(1, 15, 10.0)
TOUCH = Reading("drop", 28, 29, 1.2e-3, None, 1e-5, FEED, "1.20", "mV", 29)
JOINT = Finding(
    fault="high-resistance-joint",
    coil=13,
    bars=(13, 41),
    slots=(7, 14),
    probability=0.9931,
    severity={"factor": 1.52, "factor_low": 1.44, "factor_high": 1.61, "added_ohm": 0.000187},
    explanation=1,
)
RUNNER_UP = Finding("open-coil", 14, (14, 42), (7, 14), 0.04, {}, 2)
FAULTY = Diagnosis(
    verdict="faulty",
    sound_probability=0.0001,
    findings=(JOINT, RUNNER_UP, replace(RUNNER_UP, coil=15, probability=1e-7, explanation=3)),
    suspects=(SuspectReading(TOUCH, "bad touch: reads 34% of what it should", 0.97),),
    smallest_detectable={
        "high-resistance-joint": Detectable(
            "high-resistance-joint", {"factor": 1.1}, (3, 4, 5, 9), "shown from 1.1 times"
        ),
        "reversed-coil": Detectable("reversed-coil", {}, (), "these readings cannot show a reversed coil"),
    },
    next_reading=NextReading("drop", 8, 9, Feed(8, 22, 10.0), "the feed hides this arc"),
    readings=(TOUCH,),
    expected=(3.5e-3,),
    notes=("drop: the leads were swapped",),
)
SOUND = Diagnosis("sound", 0.9921, (), (), {}, None, (TOUCH,), (3.5e-3,))
UNDECIDED = replace(
    FAULTY, verdict="undecided", sound_probability=0.4, findings=(replace(JOINT, probability=0.55),)
)


def test_the_first_line_is_the_verdict_in_capitals_with_fault_and_place() -> None:
    first = armature_text(WAVE, FAULTY).splitlines()[0]
    assert first == "FAULTY: HIGH-RESISTANCE JOINT, COIL 13 (bars 13 and 41)"
    assert verdict_line(SOUND) == "SOUND"
    assert verdict_line(UNDECIDED).startswith("UNDECIDED: PERHAPS HIGH-RESISTANCE JOINT, COIL 13")
    assert "Chance that it is sound: 40 %" in armature_text(WAVE, UNDECIDED)
    bridge = replace(JOINT, fault="bar-bridge", coil=None, bars=(9, 10))
    assert verdict_line(replace(FAULTY, findings=(bridge,))) == "FAULTY: BRIDGE BETWEEN BARS 9 AND 10"


def test_a_place_that_is_likely_and_not_sure_is_said_to_be_probable_in_the_first_line() -> None:
    likely = replace(FAULTY, findings=(replace(JOINT, probability=0.75),))
    assert verdict_line(likely) == "FAULTY: HIGH-RESISTANCE JOINT, PROBABLY COIL 13"


def test_the_first_line_stays_short_enough_to_read_at_a_glance() -> None:
    both = replace(FAULTY, findings=(JOINT, replace(JOINT, coil=50, bars=(50, 21))))
    assert len(verdict_line(both)) <= 80
    assert len(verdict_line(FAULTY)) <= 60


def test_two_faults_of_one_explanation_are_both_named() -> None:
    other = replace(RUNNER_UP, explanation=1, probability=0.97)
    line = verdict_line(replace(FAULTY, findings=(JOINT, other)))
    assert line == "FAULTY: HIGH-RESISTANCE JOINT, COIL 13 AND OPEN COIL 14"


def test_sound_says_how_sure_and_what_was_never_tested() -> None:
    """An open coil does not show on the exciter, so equal induced readings are no proof of it."""
    blind = Detectable("open-coil", {}, (), "these readings cannot show an open coil; take drop readings")
    partly = replace(SOUND, smallest_detectable={"open-coil": blind})
    first, *rest = armature_text(LAP, partly).splitlines()
    assert first == "SOUND AS FAR AS TESTED"
    assert "99.2 % sure" in rest[0]
    assert "Not tested for: open coil." in rest[1]
    assert "Not tested" not in armature_text(LAP, SOUND)


def test_readings_that_contradict_each_other_are_said_to_before_any_fault() -> None:
    muddled = replace(FAULTY, verdict="undecided", notes=(CONTRADICTORY,))
    assert verdict_line(muddled) == "UNDECIDED: READINGS CONTRADICT EACH OTHER"


def test_readings_too_few_to_show_anything_never_sound_like_a_sound_armature() -> None:
    blind = {"open-coil": Detectable("open-coil", {}, (), "these readings cannot show an open coil")}
    few = replace(SOUND, verdict="undecided", sound_probability=0.9999, smallest_detectable=blind)
    text = armature_text(LAP, few)
    assert text.startswith("UNDECIDED: TOO LITTLE READ TO SAY")
    assert "99" not in text


def test_a_long_list_of_doubted_readings_is_counted_and_not_printed_whole() -> None:
    many = replace(FAULTY, suspects=FAULTY.suspects * 57)
    assert "and 49 more" in armature_text(WAVE, many)


def test_a_coil_of_a_wave_winding_is_one_fault_seen_at_as_many_places_as_pole_pairs() -> None:
    """Place count: P/2 for a wave winding, manuals on armature test (from memory)."""
    text = " ".join(armature_text(WAVE, FAULTY).split())
    assert "One fault, seen at 2 places (bars 12-13, 41-42)." in text
    six = Winding("wave", poles=6, bars=62)
    assert len(seen_at(six, replace(JOINT, coil=9, bars=six.coil_bars(9)))) == 3


def test_a_coil_of_a_lap_winding_is_seen_at_one_place_and_said_without_counting() -> None:
    finding = replace(JOINT, coil=5, bars=(5, 6), slots=())
    assert seen_at(LAP, finding) == ((5, 6),)
    assert seen_at_in_words(LAP, finding) == ""
    back = Winding("lap", poles=4, bars=32, progression="retrogressive")
    assert seen_at(back, replace(finding, bars=(5, 4))) == ((4, 5),)


def test_everything_the_diagnosis_says_is_in_the_text() -> None:
    text = " ".join(armature_text(WAVE, FAULTY).split())
    for said in (
        "99.3 %",
        "1.52 times the resistance of a healthy coil (1.44 to 1.61)",
        "0.187 mohm too much",
        "re-solder (or re-weld) the risers of bars 13 and 41",
        "open coil, coil 14 (bars 14 and 42, slots 7 and 14): 4 % (explanation 2)",
        "drop, bars 28-29, 1.20 mV (line 29): bad touch",
        "shown from 1.1 times (coils 3 to 5, 9)",
        "these readings cannot show a reversed coil",
        "drop, bars 8-9, 10 A fed in at bar 8 and out at bar 22: the feed hides this arc",
        "the leads were swapped",
        CODE_FIRST,
    ):
        assert said in text, said
    assert "coil 15" not in text


def test_no_line_is_wider_than_the_page_and_none_is_torn_in_a_word() -> None:
    lines = armature_text(WAVE, FAULTY).splitlines()
    assert max(map(len, lines)) <= WIDTH
    assert all(line == line.rstrip() for line in lines)


@pytest.mark.parametrize("fault", NAMES)
@pytest.mark.parametrize("winding", [WAVE, LAP], ids=["wave", "lap"])
def test_every_fault_has_one_line_that_says_what_it_means_for_the_job(fault: str, winding: Winding) -> None:
    coil = None if fault == "bar-bridge" else 6
    finding = Finding(fault, coil, (6, 7), (), 0.9, {}, 1)
    line = explains(winding, finding)
    assert line.startswith(NAMES[fault])
    assert "\n" not in line
    assert "{" not in line
    assert meaning(winding, finding)
    assert ("coil 6" in line) == (coil is not None)


def test_a_dead_short_is_called_one_and_turns_are_counted() -> None:
    dead = Finding("shorted-coil", 6, (6, 7), (), 1.0, {"bridge_ratio": 0.004, "turns": 8.0}, 1)
    assert "a dead short" in explains(LAP, dead)
    assert "turns" not in explains(LAP, dead).split(".")[0]
    weak = replace(dead, severity={"bridge_ratio": 2.1, "bridge_ratio_low": 1.9, "bridge_ratio_high": 2.4})
    assert "a weak short through 2.1 times a coil's own resistance (1.9 to 2.4)" in explains(LAP, weak)
    turns = Finding("turn-short", 6, (6, 7), (), 1.0, {"bridge_ratio": 3.1, "turns": 2.0}, 1)
    assert "most likely 2 of 8 turns" in explains(LAP, turns)


def test_a_ground_is_placed_along_its_coil_in_percent() -> None:
    severity = {"fraction": 0.25, "fraction_low": 0.2, "fraction_high": 0.31}
    ground = Finding("grounded-coil", 6, (6, 7), (), 0.9, severity, 1)
    assert "about 25 % of the way along the coil from bar 6 (20 to 31)" in explains(LAP, ground)
    assert seen_at_in_words(WAVE, replace(ground, coil=13)) == ""
    anywhere = replace(ground, severity={"fraction": 0.5, "fraction_low": 0.0, "fraction_high": 1.0})
    assert "%" not in explains(LAP, anywhere)


def test_a_place_that_is_only_a_guess_is_called_one() -> None:
    guess = replace(JOINT, fault="grounded-coil", probability=0.3, severity={})
    text = armature_text(WAVE, replace(FAULTY, findings=(guess,)))
    assert text.startswith("FAULTY: GROUNDED COIL, PLACE NOT SETTLED\n")
    assert "place not settled, best guess coil 13 (" in text
    assert "place not settled" in explains(WAVE, guess)
    assert "place not settled" not in explains(WAVE, RUNNER_UP)


def test_a_place_no_more_likely_than_any_other_is_not_named() -> None:
    """A lit lamp says there is a ground, never where: every coil is as likely as the next."""
    guess = replace(JOINT, fault="grounded-coil", probability=1 / 57, severity={})
    text = armature_text(WAVE, replace(FAULTY, findings=(guess,)))
    assert "Grounded coil, place not known yet\n" in text
    assert "coil 13 (" not in text


def test_the_json_answer_has_the_keys_of_the_format() -> None:
    answer = json.loads(armature_json(WAVE, FAULTY))
    assert answer["verdict"] == "faulty"
    assert answer["sound_probability"] == 0.0001
    first = answer["findings"][0]
    assert {key: first[key] for key in ("fault", "coil", "bars", "slots", "explanation")} == {
        "fault": "high-resistance-joint",
        "coil": 13,
        "bars": [13, 41],
        "slots": [7, 14],
        "explanation": 1,
    }
    assert first["probability"] == 0.9931
    assert first["severity"]["factor"] == 1.52
    assert "one fault, seen at 2 places" in first["explains"]
    assert [f["explanation"] for f in answer["findings"]] == [1, 2, 3]
    suspect = answer["suspect_readings"][0]
    assert (suspect["test"], suspect["from"], suspect["to"]) == ("drop", 28, 29)
    assert suspect["reason"].startswith("bad touch")
    assert answer["smallest_detectable"]["high-resistance-joint"]["factor"] == 1.1
    assert answer["smallest_detectable"]["reversed-coil"]["hidden"] == []
    assert answer["next_reading"]["from"] == 8
    assert answer["next_reading"]["feed_to"] == 22
    assert answer["notes"] == ["drop: the leads were swapped"]


def test_a_sound_answer_has_empty_lists_and_no_next_reading() -> None:
    answer = armature_answer(LAP, SOUND)
    assert answer["findings"] == []
    assert answer["suspect_readings"] == []
    assert answer["next_reading"] is None


def test_a_reading_to_the_shaft_or_at_a_slot_is_named_so() -> None:
    lamp = Reading("ground", 4, None, state="lit", entered="lit", line=9)
    blade = Reading("blade", 5, None, state="buzz", entered="buzz", line=10)
    odd = replace(
        SOUND,
        suspects=(SuspectReading(lamp, "odd", 0.6), SuspectReading(blade, "odd", 0.6)),
        next_reading=NextReading("ground", 1, None, None, "none taken"),
    )
    answer = armature_answer(LAP, odd)
    assert [s["to"] for s in answer["suspect_readings"]] == ["shaft", None]
    assert answer["next_reading"]["to"] == "shaft"
    text = armature_text(LAP, odd)
    assert "ground, bar 4 to shaft, lit (line 9)" in text
    assert "blade, slot 5, buzz (line 10)" in text


def test_a_number_that_json_cannot_hold_becomes_null() -> None:
    finding = replace(JOINT, severity={"factor": math.inf}, probability=math.nan)
    answer = json.loads(armature_json(WAVE, replace(FAULTY, findings=(finding,))))
    assert answer["findings"][0]["severity"] == {"factor": None}
    assert answer["findings"][0]["probability"] is None


@pytest.mark.parametrize(
    ("test", "words"),
    [
        ("induced", ("can kill", "never run it empty")),
        ("blade", ("can kill",)),
        ("ground", ("can kill", "leaves charge")),
        ("drop", ("heats", "explosive gas")),
        ("shaft-drop", ("heats", "explosive gas")),
    ],
)
def test_each_test_that_can_hurt_carries_its_caution_and_the_code_comes_first(
    test: str, words: tuple[str, ...]
) -> None:
    lines = cautions_for([test, test])
    assert len(set(lines)) == len(lines)
    assert lines[-1] == CODE_FIRST
    assert all(any(word in line for line in lines) for word in words)


def test_numbers_run_together_and_probabilities_never_pretend_to_be_certain() -> None:
    assert numbers_in_words([10, 9, 1, 2, 3, 7]) == "1 to 3, 7, 9, 10"
    assert probability_in_words(0.99999) == "over 99.9 %"
    assert probability_in_words(1.0) == "over 99.9 %"
    assert probability_in_words(0.0) == "under 0.1 %"
    assert probability_in_words(0.955) == "95.5 %"


def test_a_resistance_gets_the_prefix_that_suits_it() -> None:
    assert [ohms_in_words(r) for r in (5.28e-4, 2.5, 3e5, 2e6)] == [
        "0.528 mohm",
        "2.5 ohm",
        "300 kohm",
        "2 Mohm",
    ]
