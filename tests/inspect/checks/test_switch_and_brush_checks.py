"""The checks of brush gear, switch and drive: what they lean on, and what they say without it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from barwise.errors import MeasurementError
from barwise.inspect.checks import Evidence, Limit, Outcome, SheetFacts, Taken, brush_gear, drive, switch
from barwise.measure import decision
from barwise.measure.units import UNITS
from barwise.measure.wear import WearPoint, WearScale

INCH = 0.0254
PULL_IN = Limit("pull-in-current", decision.Limit(30, 44), "A", "invented")
HOLD_IN = Limit("hold-in-current", decision.Limit(8, 12), "A", "invented")
TEN_VOLTS = Limit("switch-test-voltage", None, "V", "invented", target=10.0)
CRANKING = Limit("cranking-current", None, "A", "invented", target=350.0)
SHEET = SheetFacts(
    limits={one.key: one for one in (PULL_IN, HOLD_IN, TEN_VOLTS, CRANKING)},
)
BRUSH = Limit(
    "brush-length",
    decision.Limit(lower=0.400 * INCH),
    "in",
    "invented",
    scale=WearScale((WearPoint(0, 0.740 * INCH), WearPoint(100, 0.400 * INCH))),
)


def taken(text: str, unit: str, *place: str) -> Taken:
    return Taken(UNITS[unit].to_si(float(text)), text, unit, place)


def noted(value: float, uncertainty: float = 0.0) -> Outcome:
    return Outcome("noted", "", value=value, uncertainty=uncertainty)


def amps(text: str, limit: Limit | None, what: str, **context: Outcome) -> Evidence:
    return Evidence((taken(text, "A"),), limit, SHEET, context, what, "current", "A")


def test_a_winding_read_at_other_volts_and_warm_is_judged_as_the_sheet_gives_it() -> None:
    """Source: Ohm's law and (234.5 + t) of copper, NEMA MG 1 (from memory): 36.0 A at 10.9 V, 30 °C."""
    warm = {"volts": noted(10.9, 0.03), "temperature": noted(30.0, 0.5)}
    outcome = switch.pull_in(amps("36.0", PULL_IN, "Pull-in winding", **warm))
    assert outcome.value == pytest.approx(36.0 * 10 / 10.9 * 264.5 / 254.5)
    assert outcome.decision == "accept"
    assert outcome.line.startswith("Pull-in winding: 34 A (at 10 V and 20 °C; read at 10.9 V)")
    assert "0 to 40 °C" not in outcome.line


def test_without_the_temperature_the_doubt_grows_and_the_line_says_so() -> None:
    sure = switch.pull_in(amps("36.0", PULL_IN, "Pull-in winding", temperature=noted(20.0, 0.5)))
    vague = switch.pull_in(amps("36.0", PULL_IN, "Pull-in winding"))
    assert (vague.uncertainty or 0) > 2 * (sure.uncertainty or 0)
    assert "not read: 0 to 40 °C allowed for" in vague.line


def test_the_hold_in_check_names_the_fault_of_both_windings_together() -> None:
    pulled = switch.pull_in(amps("37.0", PULL_IN, "Pull-in winding"))
    held = switch.hold_in(
        amps("22.0", HOLD_IN, "Hold-in winding", pull_in=pulled, temperature=noted(20.0, 0.5))
    )
    assert held.decision == "reject"
    assert "Likeliest: turns of the hold-in winding shorted" in held.line
    explanations = held.details["explanations"]
    assert explanations[0]["fault"] == "hold-in turns shorted"  # type: ignore[index,call-overload]


def test_an_open_pull_in_winding_is_rejected_as_open() -> None:
    outcome = switch.pull_in(amps("0.0", PULL_IN, "Pull-in winding"))
    assert outcome.decision == "reject"
    assert "pull-in winding open" in outcome.line


@pytest.mark.parametrize(("text", "decided"), [("47.0", "accept"), ("9.9", "reject")])
def test_both_at_once_decides_from_what_the_readings_say_together(text: str, decided: str) -> None:
    room = noted(20.0, 0.5)
    held = switch.hold_in(amps("9.9", HOLD_IN, "Hold-in winding", temperature=room))
    outcome = switch.both(amps(text, None, "Both at once", hold_in=held, temperature=room))
    assert outcome.decision == decided


def test_both_at_once_at_no_known_voltage_is_left_open() -> None:
    nothing = Evidence((taken("47.0", "A"),), None, SheetFacts(), {}, "Both at once", "current", "A")
    assert switch.both(nothing).decision == "undecided"


def test_a_release_voltage_read_hot_is_brought_to_twenty_degrees() -> None:
    limit = Limit("release-voltage", decision.Limit(0.3, 2.5), "V", "invented")
    evidence = Evidence((taken("1.50", "V"),), limit, SHEET, {}, "Lets go", "voltage", "V")
    hot = replace(evidence, context={"temperature": noted(70.0, 1.0)})
    assert switch.moving_voltage(hot).value == pytest.approx(1.5 * 254.5 / 304.5)
    assert switch.moving_voltage(evidence).value == pytest.approx(1.5)


@pytest.mark.parametrize(
    ("current", "decided", "said"),
    [(noted(200.0, 0.5), "reject", "0.210 V"), (noted(350.0, 0.5), "accept", "0.120 V")],
)
def test_a_drop_at_a_small_current_is_judged_at_the_cranking_current(
    current: Outcome, decided: str, said: str
) -> None:
    limit = Limit("contact-drop", decision.Limit(upper=0.2), "V", "invented")
    evidence = Evidence((taken("0.120", "V"),), limit, SHEET, {"amps": current}, "Drop", "voltage", "V")
    outcome = switch.contact_drop(evidence)
    assert outcome.decision == decided
    assert said in outcome.line


def test_a_drop_at_no_current_is_asked_about_and_one_without_a_current_is_judged_as_read() -> None:
    limit = Limit("contact-drop", decision.Limit(upper=0.2), "V", "invented")
    evidence = Evidence((taken("0.120", "V"),), limit, SHEET, {}, "Drop", "voltage", "V")
    assert switch.contact_drop(replace(evidence, context={"amps": noted(0.0)})).decision == "undecided"
    as_read = switch.contact_drop(evidence)
    assert as_read.value == pytest.approx(0.120)
    assert "current was not read" in as_read.line


def test_contacts_that_touch_late_leave_too_little_travel() -> None:
    limit = Limit("plunger-overtravel", decision.Limit(lower=0.040 * INCH), "in", "invented")
    evidence = Evidence((taken("0.380", "in"),), limit, SHEET, {}, "Contacts touch", "length", "in")
    travel = {"travel": noted(0.450 * INCH, 0.0005 * INCH)}
    good = switch.closing(replace(evidence, context=travel))
    assert (good.decision, good.value) == ("accept", pytest.approx(0.070 * INCH))
    late = switch.closing(replace(evidence, readings=(taken("0.440", "in"),), context=travel))
    assert late.decision == "reject"
    assert switch.closing(evidence).decision == "undecided"


def test_volts_of_the_test_are_noted_with_what_the_sheet_gives() -> None:
    evidence = Evidence((taken("10.4", "V"),), TEN_VOLTS, SHEET, {}, "Test volts", "voltage", "V")
    assert switch.given_as(evidence).line == "Test volts: 10.4 V; the sheet's figures are at 10 V."


def lengths(*texts: str, **context: Outcome) -> Evidence:
    read = tuple(taken(text, "in", str(place)) for place, text in enumerate(texts, start=1))
    places = tuple(str(place) for place in range(1, len(texts) + 1))
    return Evidence(read, BRUSH, SHEET, context, "Brush length", "length", "in", places)


def test_what_is_left_of_the_brushes_is_said_in_the_use_that_was_noted() -> None:
    said = Evidence((Taken(None, "9000 to 14000 starts"),), what="Use")
    outcome = brush_gear.length(lengths("0.612", "0.604", "0.598", "0.607", use=brush_gear.use(said)))
    assert outcome.decision == "accept"
    assert "The first brush is down after about" in outcome.line
    assert "starts more" in outcome.line
    without = brush_gear.length(lengths("0.612", "0.604", "0.598", "0.607"))
    assert "times the use so far" in without.line


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("4200 h", (4200, 4200, "h")),
        ("about 4200 hours", (4200, 4200, "h")),
        ("9000 - 14000 starts", (9000, 14000, "starts")),
        ("180000 km", (180000, 180000, "km")),
        ("years", None),
        ("0 h", None),
        ("14000 to 9000 h", None),
        ("4200", None),
        ("1.2.3 h", None),
    ],
)
def test_use_is_understood_where_it_is_a_number_and_a_measure(
    text: str, found: tuple[float, float, str] | None
) -> None:
    outcome = brush_gear.use(Evidence((Taken(None, text),), what="Use"))
    assert outcome.decision == "noted"
    details = outcome.details
    got = (details["low"], details["high"], details["unit"]) if "low" in details else None
    assert got == found


def test_a_brush_longer_than_new_gets_no_life() -> None:
    assert "down after" not in brush_gear.length(lengths("0.760", "0.604")).line


def test_the_spring_says_the_pressure_where_the_brush_was_measured() -> None:
    """Source: 36 ozf on 3/4 by 1/4 inch is 12 psi by hand; NAVEDTRA 14120, p. 3-10: 1 1/2 to 8 psi."""
    limit = Limit("spring-force", decision.Limit(lower=UNITS["ozf"].factor * 32), "ozf", "invented")
    evidence = Evidence((taken("36", "ozf", "1"),), limit, SHEET, {}, "Spring", "force", "ozf", ("1",))
    sides = {"width": noted(0.75 * INCH), "thickness": noted(0.25 * INCH)}
    assert "psi" not in brush_gear.spring_force(evidence).line
    outcome = brush_gear.spring_force(replace(evidence, context=sides))
    assert "(12.0 psi), above the 1.5 to 8 psi" in outcome.line
    assert outcome.details["pressure_pa"] == pytest.approx(12 * UNITS["psi"].factor, rel=1e-6)


def test_a_side_of_the_brush_without_a_limit_is_only_noted() -> None:
    evidence = Evidence((taken("0.750", "in"),), None, SHEET, {}, "Brush width", "length", "in")
    assert brush_gear.side(evidence).line == "Brush width: 0.750 in."
    assert brush_gear.side(evidence).decision == "noted"


def test_a_span_says_how_much_flank_is_gone() -> None:
    """Source: involute geometry: a span d shorter has lost d / cos 20 deg of arc; 0.012 in is 0.0128 in."""
    scale = WearScale((WearPoint(0, 0.4880 * INCH), WearPoint(100, 0.4650 * INCH)))
    limit = Limit("pinion-span", decision.Limit(lower=0.4650 * INCH), "in", "invented", scale=scale)
    evidence = Evidence((taken("0.4760", "in", "1"),), limit, SHEET, {}, "Span", "length", "in", ("1",))
    outcome = drive.span(evidence)
    assert outcome.decision == "accept"
    assert "0.0128 in of flank is gone" in outcome.line
    assert "52 % worn" in outcome.line


def arms(scale: str, brush: str) -> Outcome:
    read = (taken(scale, "in", "to the scale"), taken(brush, "in", "to the brush"))
    places = ("to the scale", "to the brush")
    return brush_gear.spring_arms(
        Evidence(read, None, SHEET, {}, "Arms of a lever spring", "length", "in", places)
    )


def pulls(*texts: str, **context: Outcome) -> Evidence:
    limit = Limit(
        "spring-force", decision.Limit(UNITS["ozf"].factor * 32, UNITS["ozf"].factor * 48), "ozf", ""
    )
    read = tuple(taken(text, "ozf", str(place)) for place, text in enumerate(texts, start=1))
    places = tuple(str(place) for place in range(1, len(texts) + 1))
    return Evidence(read, limit, SHEET, context, "Spring force", "force", "ozf", places)


def test_a_pull_at_the_levers_tip_is_brought_to_the_brush_by_its_arms() -> None:
    """Moments about the pivot, arithmetic: 30 ozf at 1.20 in press with 36 ozf at 1.00 in."""
    lever = arms("1.20", "1.00")
    assert (lever.decision, "1.2 times" in lever.line) == ("noted", True)
    outcome = brush_gear.spring_force(pulls("30.0", "31.0", arms=lever))
    assert outcome.decision == "accept"
    assert outcome.value == pytest.approx(36 * UNITS["ozf"].factor)
    assert brush_gear.spring_force(pulls("30.0", "31.0")).decision == "reject"
    weak = brush_gear.spring_force(pulls("24.0", "31.0", arms=lever))
    assert weak.decision == "reject"
    assert weak.line.startswith("Spring force 1: 28.8 ozf, beyond its limit")


@pytest.mark.parametrize(
    ("scale", "said"), [("0", "expected both above 0"), ("-1.2", "expected both above 0")]
)
def test_arms_of_nothing_or_one_alone_are_asked_for_again(scale: str, said: str) -> None:
    assert said in arms(scale, "1.00").line
    alone = Evidence(
        (taken("1.2", "in", "to the scale"),), what="Arms", places=("to the scale", "to the brush")
    )
    assert brush_gear.spring_arms(alone).decision == "undecided"
    assert brush_gear.spring_force(pulls("36.0", arms=arms(scale, "1.00"))).decision == "accept"


def seats(*texts: str, **context: Outcome) -> Outcome:
    limit = Limit("brush-seating", decision.Limit(lower=0.95), "%", "guidance", general=True)
    read = tuple(taken(text, "%", str(place)) for place, text in enumerate(texts, start=1))
    return brush_gear.seated(Evidence(read, limit, SHEET, context, "Seated", "share", "%", ("1", "2")))


@pytest.mark.parametrize(
    ("worst", "decided"), [("99", "accept"), ("96", "undecided"), ("94", "undecided"), ("90", "reject")]
)
def test_a_share_of_the_face_is_known_to_three_points_and_no_better(worst: str, decided: str) -> None:
    """By hand: rectangular, 3 / sqrt 3 = 1.73 points; 95 + 1.645 times that is 97.8, less it is 92.2."""
    assert seats("100", worst).decision == decided


@pytest.mark.parametrize("text", ["0", "-5", "120"])
def test_a_share_that_no_face_can_have_is_asked_about(text: str) -> None:
    outcome = seats("98", text)
    assert outcome.decision == "undecided"
    assert f"found 2 {text} %; expected above 0 and up to 100 %" in outcome.line


def test_where_it_touches_it_presses_harder() -> None:
    """By hand: 40 kPa of the whole section on 80 % of it is 50 kPa."""
    force = Outcome("accept", "", details={"pressure_pa": 40e3})
    assert "presses with 50 kPa (7.25 psi)" in seats("98", "80", force=force).line


SLIP = Limit("clutch-slip-torque", decision.Limit(lower=70 * UNITS["lbf.ft"].factor), "lbf.ft", "invented")
LOCKED = Limit("lock-torque", decision.Limit(lower=12 * UNITS["lbf.ft"].factor), "lbf.ft", "invented")


def came(how: str) -> Outcome:
    return Outcome("noted", "", details={"answers": {"": how}})


def weighed(pull: str, sheet: Limit | None, **context: Outcome) -> Outcome:
    limits = {} if sheet is None else {sheet.key: sheet}
    read = (taken(pull, "lbf"),)
    return drive.slip_by_arm(Evidence(read, None, SheetFacts(limits=limits), context, "Slip", "force", "lbf"))


@pytest.mark.parametrize(
    ("pull", "how", "decided"),
    [("75", "held", "accept"), ("60", "held", "undecided"), ("60", "slipped", "reject")],
)
def test_a_weight_on_an_arm_of_a_foot_is_pound_feet(pull: str, how: str, decided: str) -> None:
    """Source: with an arm of one foot the scale's pounds are pound-feet, TM 5-6115-400-35."""
    arm = noted(12 * INCH, 0.05 * INCH)
    outcome = weighed(pull, SLIP, arm=arm, came=came(how))
    assert outcome.decision == decided
    assert outcome.value == pytest.approx(float(pull) * UNITS["lbf.ft"].factor)
    assert f"{pull} lbf at the end of an arm of 12.0 in" in outcome.line


@pytest.mark.parametrize(
    ("text", "said"), [("24", "It must hold 35 lbf (156 N) at its end"), ("0", "above 0")]
)
def test_the_arm_says_what_pull_it_must_hold(text: str, said: str) -> None:
    """By hand: 70 lbf.ft at 2 ft are 35 lbf, and 35 times 4.448 is 155.7 N."""
    facts = SheetFacts(limits={SLIP.key: SLIP})
    outcome = drive.arm(Evidence((taken(text, "in"),), None, facts, {}, "Arm", "length", "in"))
    assert said in outcome.line


def test_without_a_slip_torque_the_clutch_must_carry_the_locked_torque() -> None:
    arm = noted(12 * INCH, 0.05 * INCH)
    assert weighed("15", LOCKED, arm=arm, came=came("held")).decision == "accept"
    assert "locked torque" in weighed("10", LOCKED, arm=arm, came=came("slipped")).line
    assert weighed("15", None, arm=arm, came=came("held")).decision == "undecided"


def test_a_weight_without_its_arm_is_left_open_and_one_at_no_arm_is_refused() -> None:
    assert "arm was not measured" in weighed("75", SLIP).line
    assert "expected a pull of 0 or more at an arm above 0" in weighed("75", SLIP, arm=noted(0.0)).line


def test_a_torque_that_held_below_the_limit_leaves_it_open() -> None:
    evidence = Evidence((taken("60", "lbf.ft"),), SLIP, SHEET, {}, "Slip", "torque", "lbf.ft")
    assert drive.slip(evidence).decision == "reject"
    held = drive.slip(replace(evidence, context={"came": came("held")}))
    assert (held.decision, held.settle) == (
        "undecided",
        "Pull on, slowly, until the limit is reached or it slips.",
    )


def test_an_arm_within_its_own_doubt_is_refused_and_not_divided_by() -> None:
    lever = Outcome(
        "noted", "", details={"arms": {"to the scale": [0.03, 1e-4], "to the brush": [1e-4, 1e-4]}}
    )
    with pytest.raises(MeasurementError, match="nothing within its own doubt"):
        brush_gear.spring_force(pulls("30.0", arms=lever))
