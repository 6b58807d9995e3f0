"""Volts lost in the vehicle while it cranks: each stretch for its amperes, and whether they all add up."""

from __future__ import annotations

from dataclasses import replace

from barwise.inspect.checks.evidence import Evidence, Json, Limit, Outcome, not_taken
from barwise.inspect.checks.limits import dimension
from barwise.inspect.checks.wording import number
from barwise.inspect.cranking.drops import DropReadings, fit_drops
from barwise.measure import decision
from barwise.measure.uncertainty import Estimate

_LIMIT_FOR_A = 100.0


def drop(evidence: Evidence) -> Outcome:
    """A drop against its limit, which is for each 100 A; leans on the current as `current`."""
    if not evidence.numbers():
        return not_taken(evidence)
    current = _estimate(evidence, "current")
    limit = evidence.limit
    if current is None or not current.value > 0 or limit is None or limit.allowed is None:
        plain = dimension(replace(evidence, limit=None))
        missing = "Read the amperes in the same run: the limit is for each 100 A."
        return plain if limit is None else replace(plain, settle=missing)
    found = dimension(replace(evidence, limit=_scaled(limit, current.value)))
    assert found.value is not None
    ohm = found.value / current.value
    return replace(
        found,
        line=f"{found.line} That is {number(ohm, 'mohm')} at {number(current.value, 'A')}.",
        details={**found.details, "ohm": ohm, "current_a": current.value},
    )


def adds_up(evidence: Evidence) -> Outcome:
    """Volts at the starter: what the battery has less the drops; leans on them by their names.

    The parts are ``current``, ``battery`` and the legs. What the readings leave over is held against what the
    meters can be off by.
    """
    found = dimension(replace(evidence, limit=None))
    if found.value is None:
        return not_taken(evidence)
    starter = Estimate(found.value, found.uncertainty or 0.0)
    current, battery = _estimate(evidence, "current"), _estimate(evidence, "battery")
    legs = [name for name in evidence.context if name not in ("current", "battery")]
    drops = {name: known for name in legs if (known := _estimate(evidence, name)) is not None}
    missing = [name for name in legs if name not in drops]
    if current is None or not current.value > 0 or battery is None or missing or not legs:
        asked = [*(["amperes"] if current is None else []), *(["battery volts"] if battery is None else [])]
        words = ", ".join([*asked, *missing] or ["the drops of the cables and the switch"])
        return replace(found, settle=f"Read {words} in the same run: then it shows whether the volts add up.")
    fit = fit_drops(DropReadings(current, drops, battery, starter), legs)
    details: dict[str, Json] = {
        **found.details,
        "misfit_v": fit.misfit_v,
        "ohm": {leg.name: leg.ohm.value for leg in fit.legs},
    }
    worst = max(fit.legs, key=lambda leg: leg.volts.value)
    lost = f"most is lost in the {worst.name}, {number(worst.volts.value, 'V')}"
    said = number(starter.value, "V")
    if fit.closes:
        line = f"{evidence.what}: {said}. The volts add up; {lost}."
        return replace(found, decision="accept", line=line, settle="", details=details)
    line = f"{evidence.what}: {said}. The volts do not add up: {number(fit.misfit_v or 0.0, 'V')} left over."
    return replace(found, decision="undecided", line=line, settle=" ".join(fit.questions), details=details)


def _estimate(evidence: Evidence, part: str) -> Estimate | None:
    known = evidence.context.get(part)
    if known is None or known.value is None:
        return None
    return Estimate(known.value, known.uncertainty or 0.0)


def _scaled(limit: Limit, amperes: float) -> Limit:
    """The limit at this current."""
    sides = limit.allowed
    assert sides is not None
    share = amperes / _LIMIT_FOR_A
    ends = [None if side is None else side * share for side in (sides.lower, sides.upper)]
    return replace(limit, allowed=decision.Limit(*ends), target=None)
