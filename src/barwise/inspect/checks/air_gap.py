"""The air gap's check: bore between the pole shoes and core, and whether the two can touch."""

from __future__ import annotations

from dataclasses import replace

from barwise.errors import MeasurementError
from barwise.inspect.bearings.rub import Bearing, Rub, rub
from barwise.inspect.checks.evidence import Evidence, Json, Outcome, not_taken
from barwise.inspect.checks.found import estimate_in, estimates_at, outcome_from, unit_of
from barwise.inspect.finding import Bound, hold_against, said_to_its_digit
from barwise.measure.decision import Limit
from barwise.measure.uncertainty import Estimate
from barwise.measure.units import Unit

_MIDWAY = 1.0
"""Distance of each bush from the core's middle where nobody measured it: both alike, so any figure serves."""
_UNREAD = Estimate(0.0, 0.0)
_TAKES = {
    "drive_end": "play at the drive end",
    "commutator_end": "play at the commutator end",
    "runout": "shaft run-out",
}


def core(evidence: Evidence) -> Outcome:
    """Diameter of the core where it is largest, noted for the air gap."""
    sizes = estimates_at(evidence)
    if not sizes:
        return not_taken(evidence)
    largest = max(sizes.values(), key=lambda one: one.value)
    return _noted(evidence, largest, f"{said_to_its_digit(largest, unit_of(evidence))} at its largest")


def pole_bore(evidence: Evidence) -> Outcome:
    """What is left of the air gap when play and run-out point one way.

    It leans on ``core``, and on ``drive_end`` and ``commutator_end`` (play of the bushes) and ``runout`` as
    far as they were read. The core is taken as midway between the bushes.
    """
    sizes = estimates_at(evidence)
    if not sizes:
        return not_taken(evidence)
    least, unit = min(sizes.values(), key=lambda one: one.value), unit_of(evidence)
    across = estimate_in(evidence, "core")
    if across is None:
        open_ = _noted(
            evidence, least, f"{said_to_its_digit(least, unit)} at its least; the core was not measured"
        )
        return replace(open_, decision="undecided", settle="Measure the core: the air gap needs both.")
    known = {part: estimate_in(evidence, part) for part in _TAKES}
    ends = [Bearing(known[part] or _UNREAD, _MIDWAY) for part in ("drive_end", "commutator_end")]
    try:
        found = rub(least, across, ends[0], ends[1], known["runout"] or _UNREAD)
    except MeasurementError as error:
        return Outcome("undecided", f"{evidence.what}: {error}.", "Measure bore and core again.")
    unread = [name for part, name in _TAKES.items() if known[part] is None]
    return _judged(evidence, found, unread, unit)


def _judged(evidence: Evidence, found: Rub, unread: list[str], unit: Unit) -> Outcome:
    bound = Bound(Limit(lower=0.0), unit.name)
    then = "They can touch: new bushes first, then shaft and pole screws."
    finding = hold_against(evidence.what, found.left, unit, bound, level=evidence.level, then=then)
    gap, left = (said_to_its_digit(one, unit) for one in (found.gap, found.left))
    ends = {
        "accept": f"{left} left",
        "reject": f"nothing left, {left}: it rubs",
        "undecided": f"{left} left, too little to be sure that it clears",
        "noted": left,
    }
    takes = ", ".join(f"{one.name} {said_to_its_digit(one.taken, unit)}" for one in found.parts)
    line = f"{evidence.what}: air gap {gap} all round"
    line += f"; when all points one way {ends[finding.outcome]} ({takes})." if takes else "."
    details: dict[str, Json] = {
        "gap": found.gap.value,
        "left": found.left.value,
        "touches": found.touches,
        "takes": {one.name: one.taken.value for one in found.parts},
        "worked_out": True,
        "lower": 0.0,
        "limit_unit": unit.name,
    }
    outcome = replace(outcome_from(evidence, finding, details=details), line=line)
    if unread and outcome.decision == "accept":
        settle = f"Read the {', the '.join(unread)} as well: it takes its share off the gap."
        return replace(
            outcome, decision="undecided", line=f"{line} Not read: {', '.join(unread)}.", settle=settle
        )
    return outcome


def _noted(evidence: Evidence, size: Estimate, said: str) -> Outcome:
    return Outcome(
        "noted",
        f"{evidence.what}: {said}.",
        value=size.value,
        uncertainty=size.standard_uncertainty,
        quantity=evidence.quantity,
        unit=unit_of(evidence).name,
    )
