"""A new bush before it is pressed in: what its bore will be then, and what play that leaves the journal.

The bush is taken as sintered bronze, the housing as cast iron or aluminium: which is counted as doubt.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace

from barwise.errors import MeasurementError
from barwise.inspect.bearings.press_fit import ALUMINIUM, CAST_IRON, SINTERED_BRONZE, PressFit, pressed_in
from barwise.inspect.checks.bearings import journal_of
from barwise.inspect.checks.evidence import Evidence, Json, Outcome, not_taken
from barwise.inspect.checks.found import bound_of, estimates_at, outcome_from, unit_of
from barwise.inspect.finding import hold_against, said_to_its_digit
from barwise.measure.uncertainty import Estimate, rectangular

PLACES = ("bush bore", "bush outside", "housing bore", "housing outside")


def drive_end(evidence: Evidence) -> Outcome:
    """Of the drive end; leans on ``journal``."""
    return _pressed(evidence, "bush-clearance-drive-end")


def commutator_end(evidence: Evidence) -> Outcome:
    """Of the commutator end; leans on ``journal``."""
    return _pressed(evidence, "bush-clearance-commutator-end")


def _pressed(evidence: Evidence, limit_key: str) -> Outcome:
    sizes = estimates_at(evidence)
    if not sizes:
        return not_taken(evidence)
    missing = ", ".join(name for name in PLACES if name not in sizes)
    if missing:
        return Outcome("undecided", f"{evidence.what}: {missing} not read.", f"Read {missing}.")
    try:
        bore, closing = _in_either(sizes)
    except MeasurementError as error:
        return Outcome("undecided", f"{evidence.what}: {error}.", "Measure the four sizes again.")
    unit = unit_of(evidence)
    said = (
        f"pressed in its bore closes by {said_to_its_digit(closing, unit, finer=True)} "
        f"to {said_to_its_digit(bore, unit, finer=True)}"
    )
    details: dict[str, Json] = {"bore": bore.value, "closing": closing.value, "worked_out": True}
    journal = journal_of(evidence.context.get("journal"))
    if journal is None:
        return Outcome(
            "noted",
            f"{evidence.what}: {said}.",
            "Measure the journal: then its play is told.",
            details=details,
        )
    largest = journal.largest
    play = Estimate(
        bore.value - largest.value, math.hypot(bore.standard_uncertainty, largest.standard_uncertainty)
    )
    limit = evidence.sheet.limits.get(limit_key)
    found = hold_against(
        f"{evidence.what}, play", play, unit, bound_of(limit), level=evidence.level,
        then="Size it with its mandrel, or take another bush.", said=said,
    )  # fmt: skip
    return outcome_from(replace(evidence, limit=limit), found, details=details)


def _in_either(sizes: Mapping[str, Estimate]) -> tuple[Estimate, Estimate]:
    """Bore once it is in, and by how much it closed: the middle of both housings."""
    bore, outside, seat, boss = (sizes[name] for name in PLACES)
    either = [
        pressed_in(bore, outside, seat, boss.value, SINTERED_BRONZE, housing)
        for housing in (CAST_IRON, ALUMINIUM)
    ]
    return _middle(either, "bore"), _middle(either, "closing")


def _middle(either: list[PressFit], what: str) -> Estimate:
    first, second = (getattr(one, what) for one in either)
    apart = rectangular(abs(first.value - second.value) / 2)
    doubt = math.hypot(max(first.standard_uncertainty, second.standard_uncertainty), apart)
    return Estimate((first.value + second.value) / 2, doubt)
