"""One decision in words and as JSON: the value, how sure, and what would settle it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

from barwise.measure.decision import Decision, Limit, Settling
from barwise.measure.instrument import Measured
from barwise.measure.units import UNITS
from barwise.report.lengths import length_text, spread_text
from barwise.report.probability import probability_in_words


@dataclass(frozen=True)
class Judgement:
    """A decision with all that led to it; lengths in metres, shown in `unit`.

    `bare` says that only the scale's own step stands behind the uncertainty.
    """

    decision: Decision
    settling: Settling | None
    measured: Measured
    unit: str
    digit_m: float
    bare: bool


def limit_text(judgement: Judgement) -> str:
    """The decision in a few lines, the outcome first."""
    decision, unit = judgement.decision, judgement.unit
    mean = f" (mean of {judgement.measured.repeats})" if judgement.measured.repeats > 1 else ""
    value = _shown(judgement, decision.value)
    lines = [
        f"{decision.outcome}: {value}{mean} against {_limit(judgement, decision.limit)}",
        f"within the limit with a probability of {probability_in_words(decision.conforming)}; "
        f"{100 * decision.level:g} % either way decides",
        f"standard uncertainty {spread_text(decision.standard_uncertainty, unit)}{_parts(judgement)}",
    ]
    if decision.acceptance is None:
        lines.append("too coarse for this tolerance: with this uncertainty no reading could be accepted")
    else:
        lines.append(f"accepted: {_limit(judgement, decision.acceptance)}")
    return "\n".join([*lines, *_settling(judgement), *_notes(judgement)])


def limit_answer(judgement: Judgement) -> dict[str, Any]:
    """The same as plain values in the unit typed, not rounded."""
    decision, factor = judgement.decision, UNITS[judgement.unit].factor
    settling = judgement.settling
    return {
        "decision": decision.outcome,
        "unit": judgement.unit,
        "value": decision.value / factor,
        "limit": _sides(decision.limit, factor),
        "standard_uncertainty": decision.standard_uncertainty / factor,
        "components": {
            part.name: part.contribution / factor for part in judgement.measured.budget.components
        },
        "degrees_of_freedom": _finite(decision.degrees_of_freedom),
        "repeats": judgement.measured.repeats,
        "level": decision.level,
        "probability_conforming": decision.conforming,
        "probability_nonconforming": decision.nonconforming,
        "guard_band": decision.guard_band / factor,
        "accepted": None if decision.acceptance is None else _sides(decision.acceptance, factor),
        "would_settle": None
        if settling is None
        else {
            "as": settling.outcome,
            "repeats": settling.repeats,
            "standard_uncertainty": settling.standard_uncertainty / factor,
        },
        "notes": _notes(judgement),
    }


def _settling(judgement: Judgement) -> list[str]:
    settling = judgement.settling
    if settling is None:
        return []
    if settling.outcome == "undecided":
        return ["it stands on the limit: no instrument and no number of readings settles that"]
    enough = spread_text(settling.standard_uncertainty, judgement.unit)
    tool = f"an instrument with a standard uncertainty of at most {enough}"
    if settling.repeats is None:
        return [f"would settle it ({settling.outcome}) if it keeps to this value: {tool}; repeats would not"]
    return [
        f"would settle it ({settling.outcome}) if the mean keeps to this value: "
        f"{settling.repeats} readings in all, or {tool}"
    ]


def _notes(judgement: Judgement) -> list[str]:
    notes = []
    if judgement.bare:
        notes.append(
            "only the scale's step is counted: give --calibration and --repeatability, or repeat the reading"
        )
    if judgement.decision.limit.looks_like_a_lost_digit:
        notes.append("the upper limit is ten times the lower or more: does the sheet miss a digit?")
    return notes


def _parts(judgement: Judgement) -> str:
    parts = [part for part in judgement.measured.budget.components if part.contribution > 0]
    if len(parts) < 2:
        return ""
    listed = ", ".join(f"{part.name} {spread_text(part.contribution, judgement.unit)}" for part in parts)
    return f": {listed}"


def _limit(judgement: Judgement, limit: Limit) -> str:
    lower = None if limit.lower is None else _shown(judgement, limit.lower)
    upper = None if limit.upper is None else _shown(judgement, limit.upper)
    if lower is None:
        return f"at most {upper}"
    return f"at least {lower}" if upper is None else f"{lower} to {upper}"


def _shown(judgement: Judgement, metres: float) -> str:
    """To a digit finer than the reading: an accepted edge seldom falls on a line of the scale."""
    return length_text(metres, judgement.unit, judgement.digit_m / 10)


def _sides(limit: Limit, factor: float) -> dict[str, float | None]:
    return {
        "lower": None if limit.lower is None else limit.lower / factor,
        "upper": None if limit.upper is None else limit.upper / factor,
    }


def _finite(number: float) -> float | None:
    return number if math.isfinite(number) else None
