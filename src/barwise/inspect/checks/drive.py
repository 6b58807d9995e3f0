"""The drive's check that needs more than a limit: the span over the pinion's teeth."""

from __future__ import annotations

import math
from dataclasses import replace

from barwise.inspect.checks import limits
from barwise.inspect.checks.evidence import Evidence, Outcome
from barwise.inspect.checks.found import unit_of
from barwise.inspect.finding import said_to_its_digit
from barwise.machine.gear_teeth import USUAL_ANGLE_DEG
from barwise.measure.uncertainty import Estimate


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
