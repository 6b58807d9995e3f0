"""From a check's readings to an estimate, and from a finding to the check's outcome."""

from __future__ import annotations

from collections.abc import Mapping

from barwise.inspect.checks.evidence import Decided, Evidence, Json, Limit, Outcome
from barwise.inspect.checks.limits import limit_details, with_best_instrument
from barwise.inspect.finding import SHEET, Bound, Finding, hold_against
from barwise.measure.uncertainty import Estimate
from barwise.measure.units import UNITS, Unit

NO_LIMIT = "Put a limit with its source into the model sheet."


def estimate_of(evidence: Evidence) -> Estimate | None:
    """Mean of the readings of the instrument that leaves least doubt [SI]; None where nothing was read."""
    numbers = evidence.numbers()
    if not numbers:
        return None
    found = with_best_instrument(numbers)[0]
    return Estimate(found.value_m, found.budget.standard_uncertainty, found.budget.degrees_of_freedom)


def estimate_in(evidence: Evidence, part: str) -> Estimate | None:
    """What a check that this one leans on came to; None where it was not taken."""
    outcome = evidence.context.get(part)
    if outcome is None or outcome.value is None:
        return None
    return Estimate(outcome.value, outcome.uncertainty or 0.0)


def unit_of(evidence: Evidence) -> Unit:
    """Unit of the last reading, else the check's own."""
    named = [one.unit for one in evidence.numbers() if one.unit in UNITS]
    return UNITS[named[-1] if named else evidence.unit]


def bound_of(limit: Limit | None) -> Bound | None:
    """A check's limit as a bound; None where there is none, or only a target."""
    if limit is None or limit.allowed is None:
        return None
    return Bound(limit.allowed, limit.unit, limit.source if limit.general else SHEET)


def held(evidence: Evidence, value: Estimate, then: str, said: str = "", more: str = "") -> Outcome:
    """A value worked out from the readings, held against the check's own limit.

    Parameters
    ----------
    then : str
        What to do when it is rejected.
    said : str
        More about the value, in brackets behind it.
    more : str
        A sentence behind the line.
    """
    bound = bound_of(evidence.limit)
    unit = unit_of(evidence)
    finding = hold_against(evidence.what, value, unit, bound, level=evidence.level, then=then, said=said)
    if bound is None:
        finding = Finding(
            finding.part, "undecided", finding.line, NO_LIMIT, finding.value, finding.standard_uncertainty,
            finding.dimension, finding.unit,
        )  # fmt: skip
    return outcome_from(evidence, finding, more)


def outcome_from(
    evidence: Evidence, finding: Finding, more: str = "", details: Mapping[str, Json] | None = None
) -> Outcome:
    """The same for a check, ready for the limit line."""
    decided: Decided = finding.outcome
    known: dict[str, Json] = {} if evidence.limit is None else limit_details(evidence.limit)
    return Outcome(
        decision=decided,
        line=f"{finding.line} {more}".rstrip(),
        settle=finding.settle,
        value=finding.value,
        uncertainty=finding.standard_uncertainty,
        quantity=evidence.quantity,
        unit=finding.unit or evidence.unit,
        probability=finding.probability,
        details={**known, **(details or {})},
    )
