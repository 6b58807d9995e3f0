"""A number against its limit, at one place or at several, with how worn it is.

Accept, reject or undecided is `barwise.measure.decision` alone, with the uncertainty of the instrument and of
the repeats. Where several places are read (four brushes), each is judged and the worst one decides.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from barwise.inspect.checks.evidence import (
    Decided,
    Evidence,
    Json,
    Limit,
    Outcome,
    Taken,
    finest_step,
    not_taken,
)
from barwise.inspect.checks.wording import NO_LIMIT, ON_THE_LIMIT, against, allowed, number, whence
from barwise.measure.decision import Decision, Settling, decide, what_settles
from barwise.measure.instrument import Instrument, Measured, measured

_WORST_FIRST: dict[str, int] = {"reject": 0, "undecided": 1, "accept": 2}
Place = tuple[str, ...]


@dataclass(frozen=True)
class Judged:
    """One place, measured and judged; `decision` None where there is no limit.

    `alike`: it was read more than once, each time the very same figure.
    """

    place: Place
    measured: Measured
    decision: Decision | None
    settling: Settling | None
    unit: str
    digit: float
    bare: bool
    alike: bool = False

    @property
    def severity(self) -> tuple[int, float, float]:
        """Sorts the worst first; of places that are all certain to be within, the one nearest to a limit."""
        if self.decision is None:
            return 1, 0.0, 0.0
        return _WORST_FIRST[self.decision.outcome], self.decision.conforming, self._margin

    @property
    def _margin(self) -> float:
        if self.decision is None:
            return 0.0
        sides = (self.decision.limit.lower, self.decision.limit.upper)
        return min(abs(self.measured.value_m - side) for side in sides if side is not None)


def dimension(evidence: Evidence) -> Outcome:
    """A number against its one- or two-sided limit."""
    judged = judge(evidence)
    if not judged:
        return not_taken(evidence)
    return outcome_of(evidence, judged)


def wear(evidence: Evidence) -> Outcome:
    """The same, and percent worn between new and discard where the sheet has the points."""
    judged = judge(evidence)
    if not judged:
        return not_taken(evidence)
    outcome = outcome_of(evidence, judged)
    if evidence.limit is None or evidence.limit.scale is None:
        return outcome
    worst = judged[0].measured
    worn = evidence.limit.scale.wear(worst.value_m, worst.budget.standard_uncertainty, evidence.level)
    beyond = f" The scale is drawn on: {worn.extrapolated}." if worn.extrapolated else ""
    details: dict[str, Json] = {
        "worn_percent": worn.percent,
        "worn_low_percent": worn.low,
        "worn_high_percent": worn.high,
        "extrapolated": worn.extrapolated,
    }
    line = f"{outcome.line} {worn.percent:.0f} % worn.{beyond}"
    return replace(outcome, line=line, details={**outcome.details, **details})


def judge(evidence: Evidence) -> tuple[Judged, ...]:
    """Each place that was read, the worst first; empty where nothing was read."""
    by_place: dict[Place, list[Taken]] = {}
    for reading in evidence.numbers():
        by_place.setdefault(reading.place, []).append(reading)
    found = [_at_place(place, readings, evidence) for place, readings in by_place.items()]
    return tuple(sorted(found, key=lambda one: one.severity))


def with_best_instrument(readings: Sequence[Taken]) -> tuple[Measured, list[Taken]]:
    """Mean of the readings of the instrument that leaves least doubt, and those readings.

    A part measured again with a better instrument is judged by that one; a mean of both would be no better.
    """
    by_tool: dict[Instrument | None, list[Taken]] = {}
    for reading in readings:
        by_tool.setdefault(reading.instrument, []).append(reading)
    every = [(measured(_tool(tool, some), _values(some)), some) for tool, some in by_tool.items()]
    return min(every, key=lambda one: one[0].budget.standard_uncertainty)


def outcome_of(evidence: Evidence, judged: tuple[Judged, ...]) -> Outcome:
    """The worst place decides, and a place not read keeps the rest from being accepted."""
    worst, limit = judged[0], evidence.limit
    missing = [place for place in evidence.places if (place,) not in {one.place for one in judged}]
    decided: Decided = "undecided" if worst.decision is None else worst.decision.outcome
    if decided == "accept" and missing:
        decided = "undecided"
    return Outcome(
        decision=decided,
        line=_line(evidence, worst, len(judged), missing),
        settle=_settle(worst, missing),
        value=worst.measured.value_m,
        uncertainty=worst.measured.budget.standard_uncertainty,
        quantity=evidence.quantity,
        unit=worst.unit,
        probability=None if worst.decision is None else worst.decision.conforming,
        details=_details(judged, limit, missing),
    )


def _at_place(place: Place, readings: Sequence[Taken], evidence: Evidence) -> Judged:
    found, used = with_best_instrument(readings)
    bounds = None if evidence.limit is None else evidence.limit.allowed
    decided = settling = None
    if bounds is not None:
        spread, freedom = found.budget.standard_uncertainty, found.budget.degrees_of_freedom
        decided = decide(found.value_m, spread, bounds, evidence.level, freedom)
        settling = what_settles(decided, found.repeatability_m, found.fixed_uncertainty_m, found.estimated)
    tool = used[-1].instrument
    known = tool is not None and tool.calibration_standard_uncertainty_m > 0
    return Judged(
        place=place,
        measured=found,
        decision=decided,
        settling=settling,
        unit=used[-1].unit or evidence.unit,
        digit=min((one.last_digit for one in used if one.last_digit > 0), default=0.0)
        / (1 if len(used) == 1 else 10),
        bare=not known and found.repeatability_m == 0,
        alike=len(readings) > 1 and len({one.value for one in readings}) == 1,
    )


def _tool(tool: Instrument | None, readings: Sequence[Taken]) -> Instrument:
    known = tool or Instrument("its last digit", 0.0)
    return replace(known, resolution_m=finest_step(readings))


def _values(readings: Sequence[Taken]) -> list[float]:
    return [one.value for one in readings if one.value is not None]


def _line(evidence: Evidence, worst: Judged, places: int, missing: Sequence[str]) -> str:
    value = number(worst.measured.value_m, worst.unit, worst.digit)
    what = evidence.what
    if worst.place:
        what += f" {', '.join(worst.place)}" + (f" (worst of {places})" if places > 1 else "")
    absent = f" Not read: {', '.join(missing)}." if missing else ""
    if worst.decision is None or evidence.limit is None:
        return f"{what}: {value}; {NO_LIMIT}{absent}"
    decision = worst.decision
    said = against(decision.outcome, allowed(evidence.limit, worst.unit), decision.conforming)
    return f"{what}: {value}, {said}{absent}{whence(evidence.limit)}"


def _settle(worst: Judged, missing: Sequence[str]) -> str:
    if worst.decision is None:
        return "Put a limit with its source into the model sheet."
    said = [_what_settles(worst)] if worst.settling is not None else []
    if missing and worst.decision.outcome != "reject":
        said.append(f"Read {', '.join(missing)}.")
    return " ".join(said)


def _what_settles(worst: Judged) -> str:
    settling = worst.settling
    if settling is None or settling.standard_uncertainty == 0:
        return ON_THE_LIMIT
    enough = number(settling.standard_uncertainty, worst.unit)
    better = f"an instrument whose standard uncertainty is {enough} or less"
    if settling.repeats is None or settling.repeats <= worst.measured.repeats:
        return f"To settle it: {better}."
    return f"To settle it: {settling.repeats} readings in all with this instrument, or {better}."


def _details(judged: Sequence[Judged], limit: Limit | None, missing: Sequence[str]) -> dict[str, Json]:
    settling = judged[0].settling
    details: dict[str, Json] = {
        "places": [_place_details(one) for one in judged],
        "not_read": list(missing),
        "only_last_digit": judged[0].bare,
        "settled_by_uncertainty": None if settling is None else settling.standard_uncertainty,
        "settled_by_repeats": None if settling is None else settling.repeats,
    }
    return details if limit is None else {**details, **limit_details(limit)}


def limit_details(limit: Limit) -> dict[str, Json]:
    """What a screen needs to draw the limit line, in SI."""
    sides = limit.allowed
    return {
        "limit": limit.key,
        "lower": None if sides is None else sides.lower,
        "upper": None if sides is None else sides.upper,
        "target": limit.target,
        "limit_unit": limit.unit,
        "source": limit.source,
        "general": limit.general,
    }


def _place_details(one: Judged) -> dict[str, Json]:
    decided = one.decision
    acceptance = None if decided is None else decided.acceptance
    twice: dict[str, Json] = {"alike": True} if one.alike else {}
    return {
        **twice,
        "place": list(one.place),
        "value": one.measured.value_m,
        "uncertainty": one.measured.budget.standard_uncertainty,
        "readings": one.measured.repeats,
        "decision": "undecided" if decided is None else decided.outcome,
        "probability": None if decided is None else decided.conforming,
        "accepted_from": None if acceptance is None else acceptance.lower,
        "accepted_to": None if acceptance is None else acceptance.upper,
    }
