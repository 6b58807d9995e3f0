"""Whether the job's own starter cranks the vehicle, as the station decides it.

Outside: the command's file of the same vehicle and run test must say the same; drops are held against the
closed form U / I; that a mended run test explains nothing of a slow crank is common practice, no source.
"""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from barwise.files.cranking_file import parse_cranking, vehicle_facts
from barwise.files.run_file import RunFile
from barwise.inspect.checks import Evidence, Limit, Outcome, SheetFacts, Taken
from barwise.inspect.checks.cranking import will_it_crank
from barwise.inspect.checks.run_test import assessed, run_sheet
from barwise.inspect.cranking import crank
from barwise.inspect.cranking.at_the_job import JobCrank
from barwise.measure import decision

RPM = math.pi / 30
BATTERY = '[battery]\nvolts = "12 V"\nrated_current = "540 A"\nrest_volts = "12.45 V"\n'
ENGINE = (
    '[engine]\ndisplacement = "2.4 L"\ncylinders = 4\nfuel = "petrol"\noil = "15W-40"\n'
    "compression_ratio = 8.5\n"
)
GEARS = "[starter]\nring_teeth = 130\npinion_teeth = 9\n"
POSITIVE = '[[leg]]\nname = "positive cable"\ngauge = "2"\nlength = "1.5 m"\n'
SWITCH = '[[leg]]\nname = "switch"\ncontact = "0.5 mohm"\n'
GROUND = '[[leg]]\nname = "ground"\ngauge = "4"\nlength = "0.9 m"\n'
COLD = 'temperature = "-10 degC"\n'
WHOLE = COLD + BATTERY + ENGINE + GEARS + POSITIVE + SWITCH + GROUND


def noted(value: float, uncertainty: float = 0.005) -> Outcome:
    return Outcome("noted", "", value=value, uncertainty=uncertainty)


def at(volts: float, unit: str, **sides: float) -> Limit:
    return Limit("sheet", decision.Limit(**sides) if sides else None, unit, "invented", target=volts)


SHEET = SheetFacts(
    facts={"field": "series", "voltage": 12.0},
    limits={
        "no-load-volts": at(11.5, "V"),
        "no-load-current": at(70.0, "A"),
        "no-load-speed": at(4600 * RPM, "rpm"),
        "lock-volts": at(4.0, "V"),
        "lock-current": at(445.0, "A"),
        "lock-torque": at(18.4, "Nm"),
    },
)
SOUND_RUN = {
    "temperature": noted(22.0, 1.0),
    "no_load_volts": noted(11.5),
    "no_load_current": noted(70.0, 0.5),
    "no_load_speed": noted(4580 * RPM, 2.0),
    "lock_volts": noted(4.0),
    "lock_current": noted(444.0, 1.0),
    "lock_torque": noted(18.3, 0.1),
}
WEAK_RUN = {
    **SOUND_RUN,
    "no_load_speed": noted(3700 * RPM, 2.0),
    "lock_current": noted(300.0, 1.0),
    "lock_torque": noted(11.5, 0.1),
}
DROPS = {
    "outside": noted(8.0, 1.0),
    "current": noted(165.0, 1.0),
    "battery": noted(10.66),
    "positive cable": noted(0.13),
    "switch": noted(0.09),
    "ground": noted(0.95),
    "starter": noted(9.49),
}


def evidence(text: str, context: dict[str, Outcome]) -> Evidence:
    return Evidence(
        (Taken(None, text),), sheet=SHEET, context=context, what="Will it crank", vehicle=vehicle_facts(text)
    )


def found(text: str, *context: dict[str, Outcome]) -> Outcome:
    return will_it_crank(evidence(text, {name: one for some in context for name, one in some.items()}))


@pytest.fixture(scope="module")
def in_order() -> Outcome:
    """The whole vehicle with the starter that ran as a sound one does."""
    return found(WHOLE, SOUND_RUN)


def whole(outcome: Outcome) -> JobCrank:
    assert isinstance(outcome.answer, JobCrank)
    return outcome.answer


def test_the_station_says_what_the_command_says_of_the_same_vehicle_and_run_test(in_order: Outcome) -> None:
    asked = evidence(WHOLE, SOUND_RUN)
    run = assessed(asked)
    assert run is not None
    of_command = parse_cranking(WHOLE, run=RunFile(run_sheet(asked), run.points))
    expected = crank(of_command.vehicle)
    answer = whole(in_order).answer
    assert answer is not None
    assert answer.outlook == expected.outlook
    assert answer.blame == expected.blame
    assert in_order.decision == "accept"
    assert in_order.probability == expected.outlook.starts
    said = f"{expected.outlook.speed_rpm.middle:.0f} ({expected.outlook.speed_rpm.low:.0f} to"
    assert said in in_order.line
    assert f"Weakest link: {expected.blame.weakest.name}." in in_order.line
    assert "This starter explains 0 %" in in_order.line


def test_a_starter_that_ran_weakly_is_named_with_its_share(in_order: Outcome) -> None:
    outcome = found(WHOLE, WEAK_RUN)
    answer = whole(outcome).answer
    assert answer is not None
    assert answer.blame.weakest.name == "starter"
    assert answer.blame.starter_share is not None
    assert answer.blame.starter_share.middle > 0.5
    assert "Weakest link: starter." in outcome.line
    sound = whole(in_order).answer
    assert sound is not None
    assert answer.outlook.speed_rpm.high < sound.outlook.speed_rpm.middle


def test_volts_read_in_the_vehicle_are_its_legs_and_name_the_worst() -> None:
    """Each resistance is U / I; the volts are moved by no more than they fail to close."""
    outcome = found(WHOLE, SOUND_RUN, DROPS)
    fit = whole(outcome).fit
    assert fit is not None
    assert {leg.name: leg.ohm.value for leg in fit.legs} == pytest.approx(
        {name: DROPS[name].value / 165.0 for name in ("positive cable", "switch", "ground")}, rel=0.02
    )
    assert "Weakest link: ground." in outcome.line


def test_a_stretch_that_was_only_measured_needs_no_description() -> None:
    named = whole(found(COLD + BATTERY + ENGINE + GEARS, SOUND_RUN, DROPS))
    assert named.answer is not None
    assert named.flattered == ()
    assert [row.name for row in named.answer.outlook.budget][1:-1] == ["positive cable", "switch", "ground"]
    assert any("0.20 V for each 100 A" in line for line in named.said)


def test_what_is_left_out_flatters_and_so_nothing_is_accepted_on_it() -> None:
    outcome = found(COLD + BATTERY + ENGINE + GEARS + POSITIVE + SWITCH, SOUND_RUN)
    assert whole(outcome).answer is not None
    assert outcome.decision == "undecided"
    assert "Nothing is known of ground" in outcome.settle


def test_without_a_run_test_sound_ones_of_the_model_stand_in_and_explain_nothing() -> None:
    outcome = found(WHOLE)
    answer = whole(outcome).answer
    assert answer is not None
    assert outcome.decision == "undecided"
    assert "Run the starter on the bench" in outcome.settle
    share = answer.blame.starter_share
    assert share is None or share.high == 0.0


def test_a_run_test_that_fits_nothing_is_not_taken_for_none_and_no_share_is_said() -> None:
    odd = {**SOUND_RUN, "no_load_speed": noted(9000 * RPM, 2.0), "lock_torque": noted(2.0, 0.1)}
    outcome = found(WHOLE, odd)
    assert "Its run test fits no fault known here" in outcome.settle
    assert outcome.decision == "undecided"
    assert "This starter explains" not in outcome.line


def test_too_slow_is_too_slow_whatever_is_left_out() -> None:
    large = ENGINE.replace('"2.4 L"', '"9.0 L"').replace("petrol", "diesel").replace("8.5", "18")
    outcome = found(COLD + BATTERY + large + GEARS, SOUND_RUN)
    assert outcome.decision == "reject"
    assert whole(outcome).flattered == ("positive cable", "switch", "ground")


def test_what_is_missing_is_named_and_the_measured_volts_are_judged_all_the_same() -> None:
    outcome = found(COLD + BATTERY + GEARS, SOUND_RUN, DROPS)
    assert outcome.decision == "undecided"
    assert "Missing: engine (displacement, cylinders, fuel); it gives the torque it asks" in outcome.settle
    assert "most is lost in the ground" in outcome.line
    assert whole(outcome).answer is None


def test_volts_without_amperes_ask_for_them() -> None:
    told = whole(found(COLD + BATTERY, SOUND_RUN, {"ground": DROPS["ground"]})).missing
    assert "amperes in the vehicle" in [one.what for one in told]


def test_readings_that_cannot_be_are_said_and_the_rest_is_worked_out() -> None:
    outcome = found(WHOLE, SOUND_RUN, {**DROPS, "rest": noted(10.5)})
    assert whole(outcome).answer is not None
    assert outcome.decision == "undecided"
    assert "expected fewer volts under load" in outcome.settle


def test_nothing_said_is_not_taken() -> None:
    assert will_it_crank(replace(evidence(WHOLE, {}), readings=(), vehicle=None)).decision == "not taken"
