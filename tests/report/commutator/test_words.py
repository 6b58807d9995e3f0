"""The cut plan in words: every reason has its sentence, in either unit."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from barwise.inspect.commutator.plan import CutPlan, plan_cut
from barwise.inspect.commutator.profile import Profile
from barwise.inspect.commutator.surface import Micrometer
from barwise.inspect.commutator.worth import Sheet
from barwise.measure.wear import WearPoint, WearScale
from barwise.report.commutator.as_json import commutator_answer
from barwise.report.commutator.text import commutator_text
from barwise.report.commutator.words import ShopUnit, why

INCH, THOU = 0.0254, 25.4e-6
REASONS = {
    "below-discard": "is below discard",
    "dead-indicator": "dead indicator",
    "within-limits": "a cut gains nothing",
    "too-close-to-limit": "too close to the limit",
    "may-not-turn": "may not be turned",
    "left-as-it-is": "need not be",
    "all-clean": "stop here",
    "cleans-up": "above discard",
    "ends-below-discard": "below discard",
    "too-close-to-discard": "chance to stay above",
}


@pytest.fixture(scope="module")
def plan() -> CutPlan:
    bars = 32
    shape = np.round(10 * 4 * np.cos(3 * 2 * np.pi * np.arange(bars) / bars)) / 10 * THOU
    walk = Profile(
        bars, np.tile(np.arange(bars), 3), np.repeat([0.2, 0.5, 0.8], bars), np.tile(shape, 3), 0.1 * THOU
    )
    sheet = Sheet(WearScale((WearPoint(0, 1.25 * INCH), WearPoint(100, 1.2 * INCH))))
    return plan_cut(walk, (Micrometer(0, 0.2, 1.24 * INCH, 0.1 * THOU),), (0.12, 0.88), sheet)


@pytest.mark.parametrize(("reason", "said"), REASONS.items())
@pytest.mark.parametrize("unit", ["in", "mm"])
def test_every_reason_is_one_plain_line(plan: CutPlan, reason: str, said: str, unit: str) -> None:
    line = why(replace(plan, worth=replace(plan.worth, reason=reason)), ShopUnit(unit))
    assert said in line
    assert "\n" not in line
    assert f" {unit}" in line or ("thou" if unit == "in" else "µm") in line or reason == "dead-indicator"


def test_a_commutator_without_undercut_is_told_so(plan: CutPlan) -> None:
    text = commutator_text(replace(plan, sheet=replace(plan.sheet, may_undercut=False)), "in")
    assert "Do not undercut" in text
    assert "Undercut 0.0" not in text


def test_extrapolated_wear_is_said(plan: CutPlan) -> None:
    scale = WearScale((WearPoint(0, 1.235 * INCH), WearPoint(100, 1.2 * INCH)))
    sheet = Sheet(scale)
    worth = replace(plan.worth, now=scale.wear(1.24 * INCH))
    text = commutator_text(replace(plan, sheet=sheet, worth=worth), "in")
    assert "extrapolated" in text
    assert "-14.3 % worn" in text


def test_json_names_no_number_that_is_not_one(plan: CutPlan) -> None:
    answer = commutator_answer(plan, "mm")
    assert answer["removed_from_diameter"] == pytest.approx(1.24 * 25.4 - answer["cleanup_diameter"]["value"])
    assert answer["on_centres"] is None
    assert answer["chance_it_lasts"] is None
    assert {"least-squares", "minimum-zone"} <= set(answer["tracks"][0]["circles"])
