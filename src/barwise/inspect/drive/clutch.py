"""The overrunning clutch: torque it carries the driving way, and torque it drags the free way.

Source
------
Torque is force times arm, the pull square to the arm. That a clutch must carry at least what the locked
starter gives at the pinion is statics: in a lock test all of it goes through the clutch.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from barwise.errors import MeasurementError
from barwise.inspect.finding import Bound, Finding, hold_against, said_to_its_digit
from barwise.measure.decision import USUAL_LEVEL, Limit
from barwise.measure.uncertainty import Estimate, propagate
from barwise.measure.units import Unit

Came = Literal["held", "slipped"]


@dataclass(frozen=True)
class SlipTest:
    """How far the clutch was loaded the driving way [N m], and whether it held there or slipped."""

    torque: Estimate
    came: Came


def torque_of(force: Estimate, arm: Estimate) -> Estimate:
    """Torque [N m] of a pull [N] at an arm [m].

    Raises
    ------
    MeasurementError
        If the arm is not above 0, or the pull below 0.

    Examples
    --------
    >>> round(torque_of(Estimate(100.0, 1.0), Estimate(0.5, 0.0)).value, 3)
    50.0
    """
    if not (arm.value > 0 and force.value >= 0):
        found = f"found a pull of {force.value:g} N at {arm.value:g} m"
        raise MeasurementError(f"torque: {found}, expected a pull of 0 or more at an arm above 0")
    value, budget = propagate(lambda x: x[0] * x[1], (force, arm), ("pull", "arm"))
    return budget.estimate(value)


def needed_torque(locked: Estimate, reduction: float) -> Bound:
    """What the clutch must carry at least: the armature's locked torque times the gear between [N m]."""
    if not (locked.value > 0 and reduction > 0):
        found = f"found {locked.value:g} N m and a reduction of {reduction:g}"
        raise MeasurementError(f"locked torque: {found}, expected both above 0")
    source = "the locked torque at the pinion, which goes through the clutch"
    return Bound(Limit(lower=locked.value * reduction), "Nm", source)


def judge_slip(
    test: SlipTest,
    bound: Bound | None,
    unit: Unit,
    level: float = USUAL_LEVEL,
    part: str = "clutch, the driving way",
) -> Finding:
    """Whether it carries what it must.

    A torque that it held says only that it slips later, if at all: held above the limit is good, held below
    it leaves the question open. A torque at which it slipped is its slip torque.
    """
    then = "New clutch: it slips under load and polishes itself worse."
    held = hold_against(part, test.torque, unit, bound, level=level, then=then, said=test.came)
    if bound is None or test.came == "slipped" or held.outcome == "accept":
        return held
    value = said_to_its_digit(test.torque, unit)
    begin = f"{part[:1].upper()}{part[1:]}: held {value}"
    line = f"{begin}, which is not yet {bound.words(unit.name)}.{bound.whence}"
    settle = "Pull on, slowly, until the limit is reached or it slips."
    return Finding(
        part, "undecided", line, settle, test.torque.value, test.torque.standard_uncertainty,
        "torque", unit.name, None, bound,
    )  # fmt: skip
