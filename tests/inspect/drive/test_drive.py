"""A drive judged: teeth by span and thickness, the clutch both ways, what is said when data is missing."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from barwise.errors import MeasurementError
from barwise.inspect.drive.clutch import SlipTest, judge_slip, needed_torque, torque_of
from barwise.inspect.drive.judgement import judge_drive
from barwise.inspect.drive.measured import Drive, PinionTeeth
from barwise.inspect.drive.pinion import new_span, span_wear, thickness_wear
from barwise.inspect.finding import SHEET, Bound, Finding
from barwise.machine.gear_teeth import SpurGear, chordal_thickness_m, span_m, thickness_m
from barwise.measure.decision import Limit
from barwise.measure.quantity import Quantity, parse_quantity
from barwise.measure.uncertainty import Estimate
from barwise.measure.units import UNITS

PINION = SpurGear(9, 0.00254, 20.0, 0.5)
POUND_FOOT = UNITS["lbf.ft"]
SLIP = Bound(Limit(lower=70 * POUND_FOOT.factor), "lbf.ft", SHEET)


def mm(value: float) -> Quantity:
    return parse_quantity(f"{value:.2f} mm", "length")


def teeth(*spans: float, **more: object) -> PinionTeeth:
    whole = PinionTeeth(PINION, True, 2, tuple(mm(one) for one in spans), minimum=mm(11.80))
    return replace(whole, **more)  # type: ignore[arg-type]


def found(drive: Drive, part: str) -> Finding:
    return next(one for one in judge_drive(drive).findings if one.part.startswith(part))


def test_flank_lost_by_span_is_what_was_taken_off_the_teeth() -> None:
    """Source: involute geometry: an arc of s less on the pitch circle shortens the span by s cos a."""
    taken = 0.00030
    span = span_m(PINION, 2) - taken * math.cos(math.radians(20))
    new = Estimate(span_m(PINION, 2), 0.0)
    wear = span_wear([Estimate(span, 1e-5)], PINION, new, None)
    assert wear.lost is not None
    assert wear.lost.value == pytest.approx(taken, rel=1e-9)


def test_span_and_thickness_of_the_same_teeth_say_the_same_loss() -> None:
    arc = thickness_m(PINION) - 0.0003
    chord = Estimate(chordal_thickness_m(PINION, arc), 1e-5)
    by_chord = judge_drive(
        Drive(
            PinionTeeth(PINION, True, thicknesses=(parse_quantity(f"{1000 * chord.value:.4f} mm", "length"),))
        )
    )
    assert by_chord.teeth is not None
    assert by_chord.teeth.lost is not None
    # The new tooth is taken half a tenth thinner for backlash.
    assert by_chord.teeth.lost.value == pytest.approx(0.0003 - 0.00005, abs=1e-6)


def test_percent_worn_holds_the_truth_as_often_as_it_says() -> None:
    """Source: drawing out the new span and the reading 20 000 times with NumPy."""
    rng = np.random.default_rng(3)
    new, minimum, reading = Estimate(0.01240, 0.00003), 0.01180, Estimate(0.01209, 0.00001)
    worn = span_wear([reading], PINION, new, minimum).wear
    assert worn is not None
    made_new = new.value + new.standard_uncertainty * rng.standard_normal(20_000)
    made_now = reading.value + reading.standard_uncertainty * rng.standard_normal(20_000)
    percent = 100 * (made_new - made_now) / (made_new - minimum)
    assert np.mean((percent > worn.low) & (percent < worn.high)) == pytest.approx(0.95, abs=0.01)


def test_the_worst_place_decides_and_uneven_wear_is_pointed_out() -> None:
    drive = Drive(teeth(12.20, 11.60, 12.18))
    assert found(drive, "pinion").outcome == "reject"
    assert judge_drive(drive).teeth is not None
    assert any("not worn alike" in note for note in judge_drive(drive).notes)


def test_a_span_over_another_number_of_teeth_is_asked_about() -> None:
    miscount = span_m(PINION, 3) * 1000
    finding = found(Drive(teeth(miscount)), "pinion")
    assert finding.outcome == "undecided"
    assert "looks like 3" in finding.line


def test_without_the_profile_shift_no_percent_is_made_up() -> None:
    answer = judge_drive(Drive(teeth(12.09, shift_known=False)))
    assert answer.teeth is not None
    assert answer.teeth.wear is None
    assert any("profile shift" in note for note in answer.notes)


def test_the_thickness_left_needs_no_profile_shift() -> None:
    known, unknown = judge_drive(Drive(teeth(12.09))), judge_drive(Drive(teeth(12.09, shift_known=False)))
    assert known.tooth == unknown.tooth


def test_more_than_new_is_asked_about() -> None:
    assert any("more than new" in note for note in judge_drive(Drive(teeth(12.60))).notes)


def test_the_new_span_by_the_numbers_counts_the_backlash_as_doubt() -> None:
    new = new_span(PINION, 2)
    assert new.value == pytest.approx(span_m(PINION, 2) - 0.00005)
    assert new.standard_uncertainty == pytest.approx(0.00005 / math.sqrt(3))


def test_a_pull_at_an_arm_is_a_torque_with_the_doubt_of_both() -> None:
    """Source: TM 5-6115-400-35: with an arm of one foot, pounds on the scale are pound-feet."""
    pull, foot = parse_quantity("21 lb", "force"), parse_quantity("12.0 in", "length")
    torque = torque_of(pull.estimate, foot.estimate)
    assert torque.value / POUND_FOOT.factor == pytest.approx(21.0)
    relative = math.hypot(pull.standard_uncertainty / pull.value, foot.standard_uncertainty / foot.value)
    assert torque.standard_uncertainty / torque.value == pytest.approx(relative, rel=1e-6)


@pytest.mark.parametrize(
    ("pounds", "came", "outcome"),
    [
        (80, "held", "accept"),
        (40, "held", "undecided"),
        (40, "slipped", "reject"),
        (80, "slipped", "accept"),
        (70, "slipped", "undecided"),
    ],
)
def test_a_torque_that_held_below_the_limit_leaves_it_open_and_one_that_slipped_does_not(
    pounds: float, came: str, outcome: str
) -> None:
    test = SlipTest(Estimate(pounds * POUND_FOOT.factor, 0.5), came)  # type: ignore[arg-type]
    assert judge_slip(test, SLIP, POUND_FOOT).outcome == outcome


def test_without_a_limit_the_locked_torque_at_the_pinion_is_what_it_must_carry() -> None:
    """Source: statics: 14 lbf.ft at the armature through a reduction of 3.5 is 49 lbf.ft at the pinion."""
    bound = needed_torque(Estimate(14 * POUND_FOOT.factor, 0.1), 3.5)
    assert (bound.limit.lower or 0) / POUND_FOOT.factor == pytest.approx(49.0)
    slip = SlipTest(Estimate(45 * POUND_FOOT.factor, 0.5), "slipped")
    drive = Drive(slip=slip, locked=Estimate(14 * POUND_FOOT.factor, 0.1), reduction=3.5)
    assert found(drive, "clutch, the driving way").outcome == "reject"


def test_drag_above_its_limit_and_a_clutch_that_slips_by_hand_are_rejected() -> None:
    inch = UNITS["lbf.in"]
    bound = Bound(Limit(upper=6 * inch.factor), "lbf.in", SHEET)
    drive = Drive(drag=Estimate(9 * inch.factor, 0.01), drag_bound=bound, feels="slips", slides=False)
    assert {one.outcome for one in judge_drive(drive).findings} == {"reject"}


def test_what_cannot_be_measured_is_refused() -> None:
    with pytest.raises(MeasurementError, match="an arm above 0"):
        torque_of(Estimate(10.0, 0.0), Estimate(0.0, 0.0))
    with pytest.raises(MeasurementError, match="both above 0"):
        needed_torque(Estimate(0.0, 0.0), 1.0)
    with pytest.raises(MeasurementError, match="one or more"):
        thickness_wear([], None, None)
