"""The drive's checks that need more than a limit: span over the pinion's teeth, torque of the clutch."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace

from barwise.errors import MeasurementError
from barwise.inspect.checks import limits, recorded
from barwise.inspect.checks.evidence import Evidence, Limit, Outcome, not_taken
from barwise.inspect.checks.found import NO_LIMIT, bound_of, estimate_in, estimate_of, outcome_from, unit_of
from barwise.inspect.checks.wording import number
from barwise.inspect.drive.clutch import Came, SlipTest, judge_slip, torque_of
from barwise.inspect.finding import said_to_its_digit
from barwise.machine.gear_teeth import USUAL_ANGLE_DEG
from barwise.measure import decision
from barwise.measure.uncertainty import Estimate
from barwise.measure.units import UNITS, Unit

SLIP, LOCKED = "clutch-slip-torque", "lock-torque"
"""Limits of the sheet: what the clutch must carry, and the locked torque that goes through it."""


def span(evidence: Evidence) -> Outcome:
    """Spans at several places round the pinion against their limit, and how much flank the worst has lost.

    The flank is that of both sides of a tooth together, on the pitch circle, at the usual pressure angle.
    """
    outcome = limits.wear(evidence)
    scale = None if evidence.limit is None else evidence.limit.scale
    if outcome.value is None or scale is None:
        return outcome
    arc = 1 / math.cos(math.radians(USUAL_ANGLE_DEG))
    lost = arc * (scale.size_at(0.0) - outcome.value)
    if lost <= 0:
        return outcome
    said = said_to_its_digit(Estimate(lost, arc * (outcome.uncertainty or 0.0)), unit_of(evidence))
    line = f"{outcome.line} {said} of flank is gone."
    return replace(outcome, line=line, details={**outcome.details, "flank_lost_m": lost})


def slip(evidence: Evidence) -> Outcome:
    """Torque of the slip test against what the clutch must carry; leans on ``came``, held or slipped.

    What held says only that it slips later, if at all. Without ``came`` it is taken as where it slips.
    """
    torque = estimate_of(evidence)
    if torque is None:
        return not_taken(evidence)
    return _carries(evidence, torque, unit_of(evidence))


def arm(evidence: Evidence) -> Outcome:
    """Arm of the slip test: noted, with the pull at its end that the clutch must hold."""
    length = estimate_of(evidence)
    if length is None:
        return not_taken(evidence)
    unit = unit_of(evidence)
    if length.value <= 0:
        line = f"{evidence.what}: found {number(length.value, unit.name)}, expected an arm above 0."
        return Outcome("undecided", line, "Measure it from the pinion's middle to where it pulls.")
    outcome = recorded.measurement(evidence)
    needed = bound_of(_needed(evidence))
    if needed is None or needed.limit.lower is None:
        return outcome
    pull = needed.limit.lower / length.value
    said = f"{number(pull, 'lbf', UNITS['lbf'].factor)} ({number(pull, 'N', 1.0)})"
    return replace(outcome, line=f"{outcome.line} It must hold {said} at its end: {needed.words()}.")


def slip_by_arm(evidence: Evidence) -> Outcome:
    """The same from a pull or weight at the end of an arm, which it leans on as ``arm``."""
    pull, arm = estimate_of(evidence), estimate_in(evidence, "arm")
    if pull is None:
        return not_taken(evidence)
    said = said_to_its_digit(pull, unit_of(evidence))
    if arm is None:
        line = f"{evidence.what}: {said}; the arm was not measured."
        return Outcome("undecided", line, "Measure the arm, from the pinion's middle to where it pulls.")
    try:
        torque = torque_of(pull, arm)
    except MeasurementError as error:
        return Outcome("undecided", f"{evidence.what}: {error}.", "Measure arm and pull again.")
    outcome = _carries(evidence, torque, UNITS["lbf.ft"])
    length = said_to_its_digit(arm, UNITS[evidence.context["arm"].unit or "in"])
    details = {**outcome.details, "pull": said, "arm": length, "came": _said(evidence)}
    line = f"{outcome.line} Worked out from {said} at the end of an arm of {length}."
    return replace(outcome, line=line, details=details)


def _carries(evidence: Evidence, torque: Estimate, unit: Unit) -> Outcome:
    limit = _needed(evidence)
    evidence = replace(evidence, limit=limit, quantity="torque", unit=unit.name)
    bound = bound_of(limit)
    shown = unit if bound is None else UNITS[bound.unit]
    finding = judge_slip(SlipTest(torque, _came(evidence)), bound, shown, evidence.level, evidence.what)
    outcome = outcome_from(evidence, finding)
    return replace(outcome, decision="undecided", settle=NO_LIMIT) if bound is None else outcome


def _needed(evidence: Evidence) -> Limit | None:
    """The sheet's slip torque; without it the least locked torque at the pinion."""
    given = evidence.limit or evidence.sheet.limits.get(SLIP)
    if given is not None and given.allowed is not None:
        return given
    locked = evidence.sheet.limits.get(LOCKED)
    if locked is None or locked.allowed is None or locked.allowed.lower is None:
        return given
    allowed = decision.Limit(lower=locked.allowed.lower)
    source = "the sheet's least locked torque at the pinion, which goes through the clutch"
    return replace(locked, key=SLIP, allowed=allowed, source=source, general=True, target=None)


def _came(evidence: Evidence) -> Came:
    return "held" if _said(evidence) == "held" else "slipped"


def _said(evidence: Evidence) -> str:
    """How the test ended, as it was answered; empty where nobody said."""
    found = evidence.context.get("came")
    given = None if found is None else found.details.get("answers")
    return str(next(iter(given.values()), "")) if isinstance(given, Mapping) else ""
