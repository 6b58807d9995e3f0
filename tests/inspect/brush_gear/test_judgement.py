"""A set of brushes judged: what is rejected, what is left open, what is said when something is missing."""

from __future__ import annotations

from dataclasses import replace

import pytest

from barwise.inspect.brush_gear.gear import Brush, BrushGear
from barwise.inspect.brush_gear.judgement import judge_brush_gear
from barwise.inspect.brush_gear.life import Use
from barwise.inspect.brush_gear.spring import SpringArm
from barwise.inspect.brush_gear.words import life_in_words
from barwise.inspect.finding import SHEET, Bound, Finding
from barwise.measure.decision import Limit
from barwise.measure.quantity import Quantity, parse_quantity
from barwise.measure.uncertainty import Estimate

OZF = 4.4482216152605 / 16


def mm(written: str) -> Quantity:
    return parse_quantity(f"{written} mm", "length")


def pull(written: str) -> Quantity:
    return parse_quantity(f"{written} ozf", "force")


def brush(name: str, length: str = "15.5", force: str = "36") -> Brush:
    return Brush(name, (mm(length),), (pull(force),), "free")


GEAR = BrushGear(
    brushes=(brush("1"), brush("2"), brush("3"), brush("4")),
    new=mm("18.8"),
    minimum=mm("10.2"),
    width=mm("19.0"),
    thickness=mm("8.0"),
    use=Use(2000, 2000, "h"),
    force=Bound(Limit(32 * OZF, 48 * OZF), "ozf", SHEET),
)


def found(gear: BrushGear, part: str) -> Finding:
    return next(one for one in judge_brush_gear(gear).findings if one.part == part)


def test_a_good_set_is_accepted_with_what_is_left_in_hours() -> None:
    answer = judge_brush_gear(replace(GEAR, to_come=1000))
    assert answer.verdict == "accept"
    assert answer.life is not None
    assert answer.life.unit == "h"
    # (15.5 - 10.2) / (18.8 - 15.5) of 2000 h, a little less as four must all last.
    assert answer.life.middle == pytest.approx(3212, rel=0.02)
    assert answer.lasts is not None
    assert answer.lasts > 0.99
    assert "h more" in life_in_words(answer)


def test_without_hours_or_starts_what_is_left_is_a_multiple_of_the_use_so_far() -> None:
    answer = judge_brush_gear(replace(GEAR, use=None))
    assert answer.life is not None
    assert answer.life.middle == pytest.approx(1.606, rel=0.02)
    assert "times the use so far" in life_in_words(answer)
    assert any("Neither hours, starts nor distance are known" in note for note in answer.notes)


def test_without_the_new_length_no_life_is_made_up() -> None:
    answer = judge_brush_gear(replace(GEAR, new=None))
    assert answer.life is None
    assert answer.wear == ()
    assert life_in_words(answer) == ""


def test_without_a_minimum_half_of_the_new_length_is_taken_and_said() -> None:
    """Source: NAVEDTRA 14113: replace a brush with a tamped lead at half its original length."""
    gear = replace(GEAR, minimum=None, brushes=(brush("1", "9.2"),))
    assert found(gear, "brush 1, length").outcome == "reject"
    assert any("half of the length when new" in note for note in judge_brush_gear(gear).notes)


def test_percent_worn_counts_the_doubt_of_the_new_length() -> None:
    sure = judge_brush_gear(GEAR).wear[0][1]
    vague = judge_brush_gear(replace(GEAR, new=parse_quantity("18.8 mm ± 0.5 mm", "length"))).wear[0][1]
    assert sure.percent == pytest.approx(100 * 3.3 / 8.6)
    slope = 100 * 5.3 / 8.6**2
    assert vague.standard_uncertainty == pytest.approx(slope * 0.5 / 3**0.5, rel=0.03)


def test_a_weak_spring_is_rejected_and_its_pressure_only_noted_where_the_sheet_has_a_force() -> None:
    gear = replace(GEAR, brushes=(brush("1", force="28"),))
    assert found(gear, "brush 1, spring").outcome == "reject"
    assert found(gear, "brush 1, pressure").outcome == "noted"


@pytest.mark.parametrize(("force", "outcome"), [("4", "reject"), ("20", "accept"), ("40", "undecided")])
def test_without_a_force_on_the_sheet_the_published_pressure_decides_but_condemns_only_too_little(
    force: str, outcome: str
) -> None:
    """Source: NAVEDTRA 14120, p. 3-10: 1 1/2 to 8 psi; that starters run above is common practice."""
    gear = replace(GEAR, force=None, brushes=(brush("1", force=force),))
    assert found(gear, "brush 1, pressure").outcome == outcome


def test_a_pull_at_the_lever_is_brought_to_the_brush_by_the_arms_and_left_open_without_them() -> None:
    lever = replace(GEAR, read_at="lever", brushes=(brush("1", force="28"),))
    open_one = found(lever, "brush 1, spring")
    assert open_one.outcome == "undecided"
    assert "both arms" in open_one.settle
    known = replace(lever, arm=SpringArm(Estimate(0.030, 0.0), Estimate(0.020, 0.0)))
    assert found(known, "brush 1, spring").value == pytest.approx(42 * OZF)
    assert found(known, "brush 1, spring").outcome == "accept"
    flipped = replace(known, read_at="brush", sheet_at="lever", brushes=(brush("1", force="42"),))
    assert found(flipped, "brush 1, spring").value == pytest.approx(28 * OZF)


def test_a_brush_longer_than_new_is_asked_about() -> None:
    gear = replace(GEAR, brushes=(brush("1", "19.6"),))
    assert found(gear, "brush 1, length").outcome == "undecided"
    assert "longer than when new" in found(gear, "brush 1, length").line


def test_a_brush_that_wore_faster_than_its_fellows_is_pointed_out() -> None:
    gear = replace(GEAR, brushes=(brush("1"), brush("2"), brush("3", "12.0"), brush("4")))
    assert any(note.startswith("Brush 3 wore 2.1 times") for note in judge_brush_gear(gear).notes)
    assert not any("wore" in note and "times" in note for note in judge_brush_gear(GEAR).notes)


def test_a_brush_nobody_measured_keeps_the_set_open() -> None:
    answer = judge_brush_gear(replace(GEAR, brushes=(*GEAR.brushes[:3], Brush("4"))))
    assert answer.verdict == "undecided"


def test_a_holder_too_tight_or_too_loose_for_the_brush_is_rejected() -> None:
    """Source: ANSI/EASA AR100-2020, table 2-12: 8 mm, 0.055 to 0.193 mm."""
    for holder, outcome in (("8.020", "reject"), ("8.120", "accept"), ("8.300", "reject")):
        gear = replace(GEAR, thickness=mm("8.000"), holder_thickness=mm(holder))
        assert found(gear, "holder, clearance along the brush's thickness").outcome == outcome


def test_moves_seating_and_gap_are_judged() -> None:
    poor = replace(brush("1"), moves="rocks", seated=parse_quantity("60 %", "share"), gap=mm("4.0"))
    gear = replace(GEAR, brushes=(poor,))
    parts = ("brush 1, in its holder", "brush 1, seated", "brush 1, holder to commutator")
    assert {found(gear, part).outcome for part in parts} == {"reject"}
