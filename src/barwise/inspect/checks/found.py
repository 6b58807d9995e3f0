"""From a check's readings to an estimate, and from a finding to the check's outcome."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from barwise.inspect.checks.evidence import Decided, Evidence, Json, Limit, Outcome, Taken
from barwise.inspect.checks.limits import limit_details, with_best_instrument
from barwise.inspect.finding import SHEET, WORST_FIRST, Bound, Finding, hold_against
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


def estimates_at(evidence: Evidence) -> dict[str, Estimate]:
    """The same of each place that was read, by its name; the name is empty where there is one place."""
    by_place: dict[str, list[Taken]] = {}
    for one in evidence.numbers():
        by_place.setdefault(" ".join(one.place), []).append(one)
    found = {name: with_best_instrument(some)[0] for name, some in by_place.items()}
    return {
        name: Estimate(one.value_m, one.budget.standard_uncertainty, one.budget.degrees_of_freedom)
        for name, one in found.items()
    }


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


def held_at_places(evidence: Evidence, values: Mapping[str, Estimate], then: str) -> Outcome:
    """A value at each of several places, worked out from the readings, against the check's own limit.

    The worst decides, and a place that was not read keeps the rest from being accepted.
    """
    bound, unit = bound_of(evidence.limit), unit_of(evidence)
    found = {
        name: hold_against(
            f"{evidence.what} {name}".strip(), one, unit, bound, level=evidence.level, then=then
        )
        for name, one in values.items()
    }
    worst = min(found.values(), key=lambda one: (WORST_FIRST[one.outcome], one.probability or 0.0))
    missing = [name for name in evidence.places if name not in values]
    places: list[Json] = [
        {
            "place": [name] if name else [],
            "value": one.value,
            "uncertainty": one.standard_uncertainty,
            "decision": one.outcome,
            "probability": one.probability,
        }
        for name, one in sorted(found.items(), key=lambda pair: WORST_FIRST[pair[1].outcome])
    ]
    more = f"Not read: {', '.join(missing)}." if missing else ""
    outcome = outcome_from(evidence, worst, more, {"places": places, "not_read": missing})
    if bound is None:
        return replace(outcome, decision="undecided", settle=NO_LIMIT)
    if missing and outcome.decision == "accept":
        return replace(outcome, decision="undecided", settle=f"Read {', '.join(missing)}.")
    return outcome


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
