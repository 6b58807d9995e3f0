"""The cut plan of a check is the plan of the command line, pass by pass, and what is missing is asked for."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import pytest

from barwise.files.commutator_file import load_commutator
from barwise.files.profile_file import load_profile
from barwise.inspect.checks import CommutatorFacts, Evidence, Limit, Outcome, SheetFacts, Taken
from barwise.inspect.checks.commutator import cut, diameter, final_runout
from barwise.inspect.checks.recorded import fact, last_measurement, measurement
from barwise.inspect.commutator.plan import plan_cut
from barwise.inspect.commutator.update import AfterPass
from barwise.measure import decision
from barwise.measure.wear import WearPoint, WearScale

DEMO = Path(__file__).parents[3] / "examples" / "demo"
INCH = 0.0254
SCALE = WearScale((WearPoint(0, 1.250 * INCH), WearPoint(50, 1.238 * INCH), WearPoint(100, 1.226 * INCH)))
FACTS = CommutatorFacts(57, (0.12, 0.88), "in", scale=SCALE, interval_wear_m=0.006 * INCH)
RUNOUT = Limit("commutator-runout", decision.Limit(upper=0.002 * INCH), "in", "its sheet")


def inches(text: str, *place: str) -> Taken:
    return Taken(float(text) * INCH, text, "in", place)


@pytest.fixture(scope="module")
def walk() -> tuple[Taken, ...]:
    lines = (DEMO / "profile.csv").read_text(encoding="utf-8").splitlines()
    cells = [line.split(",") for line in lines if line and line[0].isdigit()]
    return tuple(inches(value, bar, track) for bar, track, value in cells)


def measured(text: str = "1.2421", *place: str) -> Outcome:
    return diameter(Evidence((inches(text, *place),), what="Diameter", quantity="length", unit="in"))


def planned(walk: tuple[Taken, ...], facts: CommutatorFacts | None = FACTS, **context: Outcome) -> Outcome:
    context = {"diameter": measured("1.2421", "1", "0.2"), **context}
    return cut(Evidence(walk, sheet=SheetFacts(commutator=facts), context=context, what="Plan"))


def noted(text: str) -> Outcome:
    return fact(Evidence((Taken(None, text),), what="Untouched"))


def after(text: str) -> Outcome:
    return last_measurement(Evidence((inches(text),), what="Pass", quantity="length", unit="in"))


def test_the_plan_is_that_of_the_files_of_the_demo(walk: tuple[Taken, ...]) -> None:
    known = load_commutator(DEMO / "commutator.toml")
    profile, _ = load_profile(DEMO / "profile.csv", known)
    runout = measurement(Evidence((inches("0.0015"),), what="Centres", quantity="length", unit="in"))
    whole = plan_cut(profile, known.micrometers, known.brush_band, known.sheet, known.setup)
    found = planned(walk, centres=runout)
    assert found.decision == "accept"
    assert found.value == pytest.approx(whole.cleanup.value_m, rel=1e-9)
    assert found.details["plan"]["worn_after_percent"] == pytest.approx(whole.worth.after.percent)
    assert found.answer is not None
    assert found.answer.centres == whole.centres


def test_after_a_pass_the_plan_starts_from_what_was_found(walk: tuple[Taken, ...]) -> None:
    known = load_commutator(DEMO / "commutator.toml")
    profile, _ = load_profile(DEMO / "profile.csv", known)
    old = frozenset({13, *range(39, 48)})
    seen = AfterPass(1.2373 * INCH, 0.0001 * INCH, old)
    whole = plan_cut(profile, known.micrometers, known.brush_band, known.sheet, known.setup, seen)
    found = planned(walk, after_pass=after("1.2373"), untouched=noted("14, 40-48"))
    assert found.value == pytest.approx(whole.cleanup.value_m, rel=1e-6)
    assert found.details["plan"]["start_m"] == pytest.approx(1.2373 * INCH)


def test_all_clean_after_a_pass_stops_the_cut(walk: tuple[Taken, ...]) -> None:
    found = planned(walk, after_pass=after("1.2362"), untouched=noted("none"))
    assert (found.decision, found.details["proposes"]) == ("accept", "reuse")
    assert "all clean at 1.2362 in: stop here" in found.line


@pytest.mark.parametrize("text", ["58", "0-4", "a few", "9-3", "14;;15"])
def test_bars_that_cannot_be_are_asked_about(walk: tuple[Taken, ...], text: str) -> None:
    found = planned(walk, after_pass=after("1.2373"), untouched=noted(text))
    assert found.decision == "undecided"
    assert "bars from 1 to 57" in found.settle


def test_a_commutator_the_sheet_forbids_to_turn_is_not_planned_to_be_cut(walk: tuple[Taken, ...]) -> None:
    """A moulded commutator: TM 9-4940-568-34 p. 5-144 forbids turning and undercutting it."""
    found = planned(walk, replace(FACTS, may_turn=False))
    assert found.details["plan"]["passes"] == []
    assert "the sheet forbids turning it" in found.line


def test_details_are_plain_values(walk: tuple[Taken, ...]) -> None:
    details = json.loads(json.dumps(planned(walk).details, allow_nan=False))
    assert details["proposes"] == "rework"
    assert len(details["plan"]["passes"]) >= 2


@pytest.mark.parametrize(
    ("change", "settle"),
    [
        ({"diameter": Outcome("not taken", "")}, "Measure the diameter"),
        ({"diameter": measured("31.55")}, "Look at its unit"),
    ],
)
def test_what_the_plan_waits_for_is_asked_for(
    walk: tuple[Taken, ...], change: dict[str, Outcome], settle: str
) -> None:
    found = planned(walk, **change)
    assert found.decision == "undecided"
    assert settle in found.settle


def test_a_sheet_without_diameters_is_asked_for_them(walk: tuple[Taken, ...]) -> None:
    assert "model sheet" in planned(walk, None).settle
    assert "model sheet" in planned(walk, replace(FACTS, scale=None)).settle


def test_a_walk_with_a_turn_of_the_indicator_in_it_is_asked_about_unless_the_sheet_names_the_turn(
    walk: tuple[Taken, ...],
) -> None:
    turned = tuple(
        replace(one, value=(one.value or 0.0) + 0.1 * INCH) if int(one.place[0]) > 30 else one for one in walk
    )
    assert "about a turn" in planned(turned).line
    known = planned(turned, replace(FACTS, indicator_turn_m=0.1 * INCH))
    assert known.value == pytest.approx(planned(walk).value, rel=1e-9)


def test_a_bar_the_commutator_does_not_have_is_named(walk: tuple[Taken, ...]) -> None:
    found = planned((*walk, inches("0.0001", "58", "0.2")))
    assert "bar 58 is not on a commutator of 57 bars" in found.line


def test_too_short_a_walk_is_asked_for_more(walk: tuple[Taken, ...]) -> None:
    assert "no track has three bars yet" in planned(walk[:2]).line
    assert planned(walk[:3]).value is not None


def test_a_walk_in_another_unit_than_was_said_is_asked_about(walk: tuple[Taken, ...]) -> None:
    slipped = tuple(replace(one, value=(one.value or 0.0) * 100) for one in walk)
    found = planned(slipped, replace(FACTS, indicator_turn_m=0.2))
    assert (found.decision, found.settle) == ("undecided", "Look at the unit of the walk.")


def test_each_diameter_keeps_its_bar_and_track_for_the_plan() -> None:
    found = measured("1.2421", "14", "0.5")
    assert found.details["micrometers"] == [
        {"bar": 14, "track": 0.5, "diameter_m": 1.2421 * INCH, "resolution_m": pytest.approx(1e-4 * INCH)}
    ]


def test_a_diameter_without_its_place_is_taken_at_bar_1_in_the_middle_of_the_band(
    walk: tuple[Taken, ...],
) -> None:
    stated = planned(walk, diameter=measured("1.2421", "1", "0.5"))
    assert planned(walk, diameter=measured("1.2421")).value == stated.value


@pytest.mark.parametrize(
    ("text", "said"), [("0.0012", "accept"), ("0.0020", "undecided"), ("0.0031", "reject")]
)
def test_the_final_run_out_read_off_the_dial_is_judged(text: str, said: str) -> None:
    """Limit 0.002 in (0.05 mm) out of round after turning: TM 10-3930-653-14&P p. 4-98."""
    found = final_runout(Evidence((inches(text),), RUNOUT, what="Run-out", quantity="length", unit="in"))
    assert found.decision == said


def test_the_final_run_out_of_a_walk_is_the_whole_swing_of_its_worst_track() -> None:
    """Worked out: radii 20.010, 20.006, 19.998, 19.990, 19.994, 20.002 mm swing by 0.020 mm."""
    swing = ("0.010", "0.006", "-0.002", "-0.010", "-0.006", "0.002")
    walked = [Taken(float(v) / 1e3, v, "mm", (str(bar), "0.5")) for bar, v in enumerate(swing, start=1)]
    walked += [Taken(0.0, "0.000", "mm", (str(bar), "0.2")) for bar in range(1, 7)]
    found = final_runout(Evidence(tuple(walked), RUNOUT, what="Run-out", quantity="length", unit="mm"))
    assert (found.decision, found.value) == ("accept", pytest.approx(2e-5))
    assert "on track 0.5" in found.line
    beyond = Limit("x", decision.Limit(upper=1e-5), "mm", "its sheet")
    assert final_runout(Evidence(tuple(walked), beyond, what="Run-out")).decision == "reject"
