"""The run test: volts beside the sheet's, and all run readings weighed together."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from functools import lru_cache
from typing import cast, get_args

from barwise.inspect.checks.evidence import Decided, Evidence, Fact, Json, Limit, Outcome, not_taken
from barwise.inspect.checks.plain import plain
from barwise.inspect.checks.recorded import measurement
from barwise.inspect.checks.wording import chance, number
from barwise.inspect.run_test import Point, RankedCause, RunTest, Sheet, assess, figure, from_limit
from barwise.inspect.run_test.points import STATED_K, VOLTS_SHARE, Kind
from barwise.inspect.run_test.questions import entered_twice
from barwise.machine.motor import FieldKind
from barwise.measure.uncertainty import Estimate

_DECISION: dict[str, Decided] = {
    "sound": "accept",
    "faulty": "reject",
    "undecided": "undecided",
    "not-covered": "undecided",
}
_POINTS: tuple[Kind, ...] = ("no-load", "lock", "loaded")
_READ: tuple[tuple[str, Kind], ...] = (
    ("no_load", "no-load"),
    ("lock", "lock"),
    ("no_load_low", "no-load"),
    ("lock_low", "lock"),
    ("loaded", "loaded"),
)
"""Points as they are read, by the part their readings play; the low ones at about half the volts."""
_NAMES = ("volts", "current", "speed", "torque")
_NEAR_SHARE = 0.15


def volts(evidence: Evidence) -> Outcome:
    """The volts of a point: noted, with how they stand to the sheet's; what follows is brought to those."""
    outcome = measurement(evidence)
    limit = evidence.limit
    if outcome.value is None or limit is None or limit.target is None:
        return outcome
    if abs(outcome.value / limit.target - 1) <= _NEAR_SHARE:
        return outcome
    wanted = number(limit.target, limit.unit)
    return Outcome(
        "noted",
        f"{outcome.line} The sheet's figures hold at {wanted}: the run test brings them there.",
        settle="",
        value=outcome.value,
        uncertainty=outcome.uncertainty,
        quantity=outcome.quantity,
        unit=outcome.unit,
        details=outcome.details,
    )


def verdict(evidence: Evidence) -> Outcome:
    """All readings of the run test as one motor: what is most likely wrong, and the curve.

    It leans on ``no_load_volts``, ``no_load_current``, ``no_load_speed``, ``lock_volts`` and so on, and on
    ``temperature``. Taken when somebody asks for it.
    """
    if not evidence.readings:
        return not_taken(evidence)
    found = assessed(evidence)
    if found is None:
        return Outcome(
            "undecided",
            f"{evidence.what}: no run reading is in.",
            settle="Run it without load: volts at the starter, amperes, speed.",
        )
    return Outcome(
        decision=_decided(found),
        line=_line(evidence.what, found),
        settle=_settle(found),
        probability=found.healthy,
        details={"run": _details(found)},
        answer=found,
    )


def assessed(evidence: Evidence) -> RunTest | None:
    """What the run readings say together; None where none is in. The same readings say the same."""
    points = _points(evidence.context)
    if not points:
        return None
    found = _assessed(run_sheet(evidence), tuple(points.values()), evidence.level)
    return replace(found, questions=(*found.questions, *_twice(points, evidence.context)))


@lru_cache(maxsize=8)
def _assessed(sheet: Sheet, points: tuple[Point, ...], level: float) -> RunTest:
    """Worked out once: the verdict and the start in the vehicle ask for the same."""
    return assess(sheet, points, level)


def _twice(points: Mapping[str, Point], context: Mapping[str, Outcome]) -> Iterator[str]:
    """Points whose every figure was entered more than once, each time the same."""
    for part, point in points.items():
        many = [_alike(context[f"{part}_{name}"]) for name in point.given]
        if len(many) > 1 and min(many) > 1:
            yield entered_twice(point, min(many))


def _alike(outcome: Outcome) -> int:
    """How often the same figure was entered; 1 where they differ."""
    typed = outcome.details.get("noted")
    if isinstance(typed, list):
        return len(typed) if len(set(typed)) == 1 else 1
    places = outcome.details.get("places")
    only = places[0] if isinstance(places, list) and len(places) == 1 else {}
    return int(only["readings"]) if isinstance(only, dict) and only.get("alike") else 1


def run_sheet(evidence: Evidence) -> Sheet:
    """The motor's side of the model sheet; a point counts only where the sheet says its volts."""
    facts, limits, winding = evidence.sheet.facts, evidence.sheet.limits, evidence.sheet.winding
    points, bounds = [], []
    for kind in _POINTS:
        at = limits.get(f"{kind}-volts")
        if at is None or at.target is None:
            continue
        known = {name: limits.get(f"{kind}-{name}") for name in ("current", "speed", "torque")}
        stated = {name: _nominal(limit) for name, limit in known.items() if limit is not None}
        points.append(
            Point(
                kind,
                Estimate(at.target, VOLTS_SHARE * at.target),
                stated.get("current"),
                stated.get("speed"),
                stated.get("torque"),
            )
        )
        bounds += [(kind, name, one.allowed) for name, one in known.items() if one and one.allowed]
    field = str(facts.get("field", "series"))
    return Sheet(
        field=cast(FieldKind, field if field in get_args(FieldKind) else "series"),
        volts_v=_number(facts.get("voltage"), 12.0),
        points=tuple(points),
        limits=tuple(bounds),
        rated=next((point for point in points if point.kind == "loaded"), None),
        temperature=_figures_temperature(facts),
        field_paths=2 if field == "series-parallel" else 1,
        bars=None if winding is None else winding.bars,
        poles=None if winding is None else winding.poles,
        gear_ratio=max(1.0, _number(facts.get("gear-ratio"), 1.0)),
        switch_a=max(0.0, _number(facts.get("run-switch-current"), 0.0)),
    )


def _figures_temperature(facts: Mapping[str, Fact]) -> Estimate | None:
    """At what temperature the sheet's run figures hold; None where it does not say."""
    degrees = _number(facts.get("run-temperature"), math.nan)
    return None if math.isnan(degrees) else Estimate(degrees, STATED_K)


def _nominal(limit: Limit) -> Estimate | None:
    if limit.target is not None:
        return figure(limit.target)
    return None if limit.allowed is None else from_limit(limit.allowed)


def _number(value: Fact | None, usual: float) -> float:
    return float(value) if isinstance(value, int | float) and not isinstance(value, bool) else usual


def _points(context: Mapping[str, Outcome]) -> dict[str, Point]:
    """What was read, by the part it plays."""
    temperature = _estimate(context.get("temperature"))
    found = {}
    for part, kind in _READ:
        read = {name: _estimate(context.get(f"{part}_{name}")) for name in _NAMES}
        if any(one is not None for one in read.values()):
            found[part] = Point(
                kind, read["volts"], read["current"], read["speed"], read["torque"], temperature
            )
    return found


def _estimate(outcome: Outcome | None) -> Estimate | None:
    if outcome is None or outcome.value is None:
        return None
    spread = outcome.uncertainty or 0.0
    return Estimate(outcome.value, spread if math.isfinite(spread) else 0.0)


def _decided(found: RunTest) -> Decided:
    """A limit that is surely broken rejects, whatever the cause; a question keeps a sound one open."""
    if any(one.decision.outcome == "reject" for one in found.corrected):
        return "reject"
    decided = _DECISION[found.verdict]
    return "undecided" if decided == "accept" and found.questions else decided


def _line(what: str, found: RunTest) -> str:
    wrong = [one for one in found.causes if one.key not in ("healthy", "not-covered")]
    if found.verdict == "sound":
        return f"{what}: it runs as a sound one does, {chance(found.healthy)}."
    if found.verdict == "not-covered" or not wrong:
        return f"{what}: the readings fit no fault known here, not covered. Check readings and sheet."
    named = f"{wrong[0].title} ({chance(wrong[0].probability)})"
    if found.verdict == "faulty":
        second = f", else {wrong[1].title} ({chance(wrong[1].probability)})" if _counts(wrong) else ""
        return f"{what}: most likely {named}{second}."
    return f"{what}: undecided, {chance(found.healthy)} that nothing is wrong; if something, {named}."


def _counts(wrong: Sequence[RankedCause]) -> bool:
    return len(wrong) > 1 and wrong[1].probability >= 0.05


def _settle(found: RunTest) -> str:
    asked = [*found.questions]
    if found.next_test is not None:
        asked.append(found.next_test.do)
    return " ".join(asked)


def _details(found: RunTest) -> Json:
    """All of it that can be told and drawn; the motors that remain possible can be had again."""
    return plain(replace(found, posterior=()))
