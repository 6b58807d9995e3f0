"""What the accuracy figures count.

Source: none outside says what counts as right; the rules are tested as docs/armature-accuracy.md states them.
"""

from __future__ import annotations

import pytest

from barwise.inspect.armature import diagnose
from benchmarks import calibration
from benchmarks.counting import Answer, Claim, Outcome, answer_of, counts, outcome, rule_of_thumb, truth_of
from benchmarks.made_set import ALL_TESTS, COLUMNS, DIRECT, EXCITER, readings_file, readings_of, winding_of
from benchmarks.smallest_fault import trials
from reference.makers import Bench, Mix, make_case

JOINT = {"kind": "high-resistance-joint", "coil": 5, "factor": 2.0}
SHORT = {"kind": "shorted-coil", "coil": 9, "bridge_ratio": 0.1}
BRIDGE = {"kind": "bar-bridge", "bars": [57, 1], "bridge_ratio": 0.1}


def judged(truth: list[dict[str, object]], verdict: str, *claims: Claim) -> Outcome:
    return outcome({"truth": truth}, Answer(verdict, claims))


def test_a_sound_armature_is_right_only_when_it_is_called_sound() -> None:
    assert judged([], "sound").right
    assert not judged([], "undecided").right
    assert not judged([], "faulty", Claim(("open-coil", 3), 0.7)).right


def test_a_single_fault_must_stand_first_with_kind_and_place() -> None:
    right, elsewhere = Claim(("high-resistance-joint", 5), 0.9), Claim(("high-resistance-joint", 6), 0.8)
    assert judged([JOINT], "faulty", right).right
    assert not judged([JOINT], "faulty", elsewhere, right).right
    assert not judged([JOINT], "faulty", Claim(("open-coil", 5), 0.9)).right


def test_a_fault_named_first_does_not_count_while_the_answer_is_undecided() -> None:
    found = judged([JOINT], "undecided", Claim(("high-resistance-joint", 5), 0.8))
    assert found.undecided
    assert not found.right


def test_two_faults_count_in_either_order_but_not_behind_a_third() -> None:
    one, two = Claim(("high-resistance-joint", 5), 0.9), Claim(("bridged-coil", 9), 0.9)
    other = Claim(("open-coil", 1), 0.9)
    assert judged([JOINT, SHORT], "faulty", two, one).right
    assert not judged([JOINT, SHORT], "faulty", one, other, two).right
    assert not judged([JOINT, SHORT], "faulty", one).right


def test_bridged_turns_and_a_bridged_coil_are_one_kind() -> None:
    turns = {"kind": "turn-short", "coil": 9, "turns": 2, "bridge_ratio": 0.0}
    assert truth_of({"truth": [turns]}) == truth_of({"truth": [SHORT]})


@pytest.mark.parametrize("bars", [[57, 1], [1, 57]])
def test_a_bridge_between_the_last_bar_and_the_first_is_one_place(bars: list[int]) -> None:
    assert truth_of({"truth": [BRIDGE | {"bars": bars}]}) == [("bar-bridge", 57)]


def test_sure_and_wrong_is_counted_from_95_percent_and_in_the_first_explanation() -> None:
    wrong = ("open-coil", 7)
    assert judged([JOINT], "faulty", Claim(wrong, 0.95)).sure_and_wrong
    assert not judged([JOINT], "faulty", Claim(wrong, 0.94)).sure_and_wrong
    assert not judged([JOINT], "faulty", Claim(wrong, 0.99, explanation=2)).sure_and_wrong
    assert not judged([JOINT], "faulty", Claim(("high-resistance-joint", 5), 0.99)).sure_and_wrong


def test_shares_are_taken_over_each_group_and_over_all() -> None:
    three = [judged([], "sound"), judged([], "undecided"), judged([JOINT], "faulty")]
    found = counts(three)
    assert found["sound"]["right"] == 0.5
    assert found["single"]["right"] == 0.0
    assert found["together"] == {
        "cases": 3,
        "right": pytest.approx(1 / 3),
        "verdict_right": pytest.approx(2 / 3),
        "undecided": pytest.approx(1 / 3),
        "sure_and_wrong": 0.0,
    }
    assert "double" not in found


def test_faults_that_a_choice_of_tests_cannot_show_are_left_out() -> None:
    reversed_coil = {"truth": [{"kind": "reversed-coil", "coil": 3}, SHORT]}
    assert ALL_TESTS.takes(reversed_coil)
    assert EXCITER.takes(reversed_coil)
    assert not DIRECT.takes(reversed_coil)
    assert not EXCITER.takes({"truth": [JOINT]})


def reading(test: str, bar: int, value: object) -> dict[str, object]:
    return {"test": test, "a": bar, "b": bar + 1, "value": value, "unit": "mV"}


def test_the_rule_of_thumb_calls_what_is_more_than_ten_percent_off_the_median() -> None:
    sizes = [10.0, 10.9, -9.2, 11.2, 8.8, 10.0, 10.0]
    case = {"readings": [reading("drop", n, v) for n, v in enumerate(sizes, start=1)]}
    found = rule_of_thumb(case, ("drop",))
    assert [claim.place for claim in found.claims] == [("open-coil", 4), ("bridged-coil", 5)]
    even = {"readings": case["readings"][:3]}
    assert rule_of_thumb(even, ("drop",)).verdict == "sound"


def test_the_rule_of_thumb_takes_a_lit_lamp_for_a_ground_without_a_place() -> None:
    case = {"readings": [reading("ground", 1, "lit"), reading("drop", 1, 3.0)]}
    assert [claim.place for claim in rule_of_thumb(case, ("ground", "drop")).claims] == [
        ("grounded-coil", None)
    ]


def test_the_error_of_calibration_is_the_gap_weighed_by_how_many_stand_behind_it() -> None:
    stated = [calibration.Stated(0.95, True, True)] * 3 + [calibration.Stated(0.15, False, False)]
    bins = calibration.reliability(stated)
    assert [(b.count, b.true) for b in bins] == [(1, 0.0), (3, 1.0)]
    assert calibration.expected_calibration_error(bins) == pytest.approx((3 * 0.05 + 0.15) / 4)
    assert calibration.reliability([calibration.Stated(1.0, True, True)])[0].low == 0.9


def test_bridged_turns_are_compared_as_the_bridge_of_the_whole_coil_that_acts_the_same() -> None:
    # By hand: half the turns, 0.1 coil resistances: 2 - 1 + 0.1 * 4.
    fault = {"kind": "turn-short", "turns": 4, "bridge_ratio": 0.1, "coil": 1}
    assert calibration.true_severity(fault, 8) == {"bridge_ratio": pytest.approx(1.4)}


def test_a_dozen_made_armatures_can_be_counted_from_readings_to_shares() -> None:
    outcomes, stated, intervals = [], [], []
    for number in range(12):
        case = make_case(3, number, Mix(), Bench())
        column = list(COLUMNS.values())[number % 3]
        if not column.takes(case):
            continue
        text = readings_file(case, column.tests)
        assert {line.split(",")[0] for line in text.splitlines()[1:]} <= set(column.tests)
        diagnosis = diagnose(winding_of(case), readings_of(case, column.tests))
        outcomes.append(outcome(case, answer_of(diagnosis)))
        stated += calibration.stated_faults(case, diagnosis)
        intervals += calibration.severity_intervals(case, diagnosis)
    found = counts(outcomes)
    assert found["together"]["right"] > 0.5
    assert all(s.there for s in stated if s.first and s.probability > 0.999)
    assert 0 < calibration.coverage(intervals)["together"]["share"] <= 1


def test_a_fault_of_the_smallest_stated_size_is_made_for_each_kind_in_sight() -> None:
    sound = next(case for n in range(2, 200, 6) if not (case := make_case(3, n, Mix(), Bench()))["truth"])
    made = {trial.kind: trial for trial in trials([sound])}
    assert {"open-coil", "high-resistance-joint", "shorted-coil", "reversed-coil"} <= set(made)
    assert "bar-bridge" not in made, "on a lap winding that is a shorted coil"
    assert made["open-coil"].placed
