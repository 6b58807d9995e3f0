"""Field coils at the bench: drops compared with one another and with the sheet, the shunt coil, the ground.

The route has each path of a series-parallel field fed by itself, with one current for all of them.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import cast, get_args

from barwise.errors import MeasurementError
from barwise.inspect.checks.evidence import Decided, Evidence, Json, Outcome, Taken, not_taken
from barwise.inspect.checks.limits import limit_details, with_best_instrument
from barwise.inspect.checks.plain import plain
from barwise.inspect.checks.wording import chance, number, whence
from barwise.inspect.fields.assessment import FieldAssessment, Finding, assess
from barwise.inspect.fields.circuit import MOST_COILS, Coil, CoilReading, FieldCircuit, Kind, Seen
from barwise.inspect.fields.ground import Located, locate_ground
from barwise.inspect.fields.shunt import Shunt, assess_shunt
from barwise.measure.decision import Limit
from barwise.measure.uncertainty import Estimate, last_digit

_DECISION: Mapping[str, Decided] = {"sound": "accept", "faulty": "reject", "undecided": "undecided"}
_RESET = 0.005
"""Relative standard uncertainty of a current set again for the next path: common practice, no source."""
_FAULTS = {
    "open": "is open",
    "short": "has shorted turns",
    "high": "reads high, a bad joint or broken strand",
}


def feed(evidence: Evidence) -> Outcome:
    """The current that was fed through the coils: noted, with the current the sheet's drops are given at."""
    numbers = evidence.numbers()
    if not numbers:
        return not_taken(evidence)
    last = numbers[-1]
    found = with_best_instrument([last])[0]
    target = None if evidence.limit is None else evidence.limit.target
    unit = last.unit or evidence.unit
    at = "" if target is None else f"; the sheet's drops are at {number(target, unit)}"
    return Outcome(
        "noted",
        f"{evidence.what}: {number(found.value_m, unit, last.last_digit)}{at}.",
        value=found.value_m,
        uncertainty=found.budget.standard_uncertainty,
        quantity=evidence.quantity,
        unit=unit,
        details={"target": target},
    )


def coils(evidence: Evidence) -> Outcome:
    """All coils' drops, at one current, or their resistances, against one another and the sheet.

    It leans on ``current`` (`feed`) and ``temperature``. Without a current they are taken as fed with the
    current the sheet gives its drops at; without a temperature none is assumed, and the sheet's limits are
    held against a wider interval.
    """
    if not evidence.numbers():
        return not_taken(evidence)
    nothing = sorted({", ".join(one.place) for one in evidence.numbers() if not (one.value or 0) > 0})
    if nothing:
        return Outcome(
            "undecided",
            f"{evidence.what}: coil {', '.join(nothing)} reads nothing, or the wrong way round.",
            settle="See that the current flows, swap the probes, and read again.",
        )
    fed = evidence.context.get("current")
    if fed is not None and fed.value is not None and not fed.value > 0 and evidence.quantity != "resistance":
        return Outcome(
            "undecided",
            f"{evidence.what}: the current through the coils was read as nothing, or the wrong way round.",
            settle="Read the current again.",
        )
    try:
        found = assess(_circuit(evidence), evidence.level)
    except MeasurementError as error:
        return Outcome("undecided", f"{evidence.what}: {error}.", settle="Look at these readings again.")
    return _outcome(evidence, found)


def shunt(evidence: Evidence) -> Outcome:
    """The shunt coil's resistance at 20 °C against the sheet; leans on ``temperature``."""
    numbers = evidence.numbers()
    if not numbers:
        return not_taken(evidence)
    found, used = with_best_instrument(numbers)
    limit = None if evidence.limit is None else evidence.limit.allowed
    unit = used[-1].unit or evidence.unit
    read = Estimate(found.value_m, found.budget.standard_uncertainty)
    try:
        judged = assess_shunt(Shunt(read, limit, temperature=_temperature(evidence)), evidence.level)
    except MeasurementError as error:
        return Outcome("undecided", f"{evidence.what}: {error}.", settle="Read it again, leads swapped.")
    if judged.ohm is None:
        return not_taken(evidence)
    said = {
        "within": "within the sheet",
        "low": "below the sheet: shorted turns, or another coil",
        "high": "above the sheet: a bad joint, or another coil",
    }.get(judged.why, "no limit to hold it against")
    doubt = "too close to call; " if judged.outcome == "undecided" and judged.decision is not None else ""
    hidden = judged.hidden_share
    could = (
        "" if hidden is None else f" Up to {100 * hidden:.0f} % of shorted turns fit into the sheet's range."
    )
    line = f"{evidence.what}: {number(judged.ohm.value, unit)} at 20 °C, {doubt}{said}.{could}"
    return Outcome(
        judged.outcome,
        line,
        settle=judged.settle,
        value=judged.ohm.value,
        uncertainty=judged.ohm.standard_uncertainty,
        quantity=evidence.quantity,
        unit=unit,
        probability=None if judged.decision is None else judged.decision.conforming,
        details={**_limit_details(evidence), "shunt": plain(judged)},
    )


def ground(evidence: Evidence) -> Outcome:
    """Where the fields touch the frame, by the drops from both ends of a path to it; leans on ``coils``.

    Its places are two for each path, the first end before the last. It notes the place: that the fields are
    grounded, the insulation test has decided already.
    """
    read = {one.place[0]: one for one in evidence.numbers() if one.place}
    if not read:
        return not_taken(evidence)
    pairs = list(zip(evidence.places[::2], evidence.places[1::2], strict=False))
    whole = [(path, pair) for path, pair in enumerate(pairs) if read.keys() >= set(pair)]
    if not whole:
        missing = ", ".join(name for name in evidence.places if name not in read)
        return Outcome("undecided", f"{evidence.what}: {missing} not read.", settle=f"Read {missing}.")
    drops = _drops_before(evidence, len(pairs))
    if not drops:
        return Outcome(
            "undecided",
            f"{evidence.what}: the coils' own drops are not there.",
            settle="Read the drop across each coil first: the ground is placed by them.",
        )
    try:
        found = [_on_path(drops[path], [read[name] for name in pair], evidence) for path, pair in whole]
    except MeasurementError as error:
        return Outcome(
            "undecided", f"{evidence.what}: {error}.", settle="Read both ends again, without sign."
        )
    # A ground in another path holds all of this one's first end at the frame.
    inside = [one for one in found if one.places[0].name.startswith(("coil", "the joint"))]
    return _located(evidence, (inside or found)[0])


def _on_path(drops: Sequence[tuple[Coil, Estimate]], ends: Sequence[Taken], evidence: Evidence) -> Located:
    first, last = (_estimate(one) for one in ends)
    return locate_ground(
        [coil for coil, _ in drops], [drop for _, drop in drops], first, last, level=evidence.level
    )


def _located(evidence: Evidence, found: Located) -> Outcome:
    likeliest = found.places[0]
    turn = "" if likeliest.turn is None else f", near turn {likeliest.turn:.1f} of {likeliest.turns}"
    words = f"{likeliest.name} ({chance(likeliest.probability)}){turn}"
    located = found.verdict == "located"
    return Outcome(
        "noted" if located else "undecided",
        f"{evidence.what}: {words}.",
        settle=""
        if located
        else f"Unsolder {likeliest.name} from its neighbours and test each to the frame.",
        details={"ground": plain(found)},
    )


def _circuit(evidence: Evidence) -> FieldCircuit:
    """The coils as the sheet has them; the current in sheet's currents, so that an ohm is a volt there."""
    facts = evidence.sheet.facts
    kind = facts.get("field")
    known = cast(Kind, kind if kind in get_args(Kind) and kind != "permanent-magnet" else "series")
    places = evidence.places or tuple(sorted({one.place[0] for one in evidence.numbers() if one.place}))
    count = min(max(1, len(places)), MOST_COILS)
    paths = 2 if known == "series-parallel" and count % 2 == 0 else 1
    turns = _turns(evidence)
    seen: Seen = "resistance" if evidence.quantity == "resistance" else "drop"
    read = tuple(
        CoilReading(place, seen, one.value, _spread(one), place * paths // count)
        for one in evidence.numbers()
        for place in [_index(one, places)]
        if one.value is not None and place is not None
    )
    limit = None if evidence.limit is None else evidence.limit.allowed
    return FieldCircuit(
        kind=known,
        coils=tuple(Coil(name, k * paths // count + 1, turns) for k, name in enumerate(places[:count])),
        readings=read,
        currents=(_current(evidence, paths),) * paths,
        temperature=_temperature(evidence),
        sheet=None if limit is None else Limit(limit.lower, limit.upper),
        gain=_gain(evidence.numbers()),
    )


def _index(one: Taken, places: Sequence[str]) -> int | None:
    if not one.place:
        return 0 if not places else None
    return places.index(one.place[0]) if one.place[0] in places[:MOST_COILS] else None


def _current(evidence: Evidence, paths: int) -> Estimate:
    """As a share of the current the sheet's drops are at; 1 where nothing else is known."""
    fed = evidence.context.get("current")
    target = None if fed is None else fed.details.get("target")
    again = _RESET if paths > 1 else 0.0
    if fed is None or fed.value is None or not isinstance(target, int | float) or target <= 0:
        return Estimate(1.0, again)
    share, spread = fed.value / target, (fed.uncertainty or 0.0) / target
    return Estimate(share, math.hypot(spread, again * share))


def _temperature(evidence: Evidence) -> Estimate | None:
    found = evidence.context.get("temperature")
    if found is None or found.value is None:
        return None
    return Estimate(found.value, max(found.uncertainty or 0.0, 0.5))


def _spread(one: Taken) -> float:
    repeat = 0.0 if one.instrument is None else one.instrument.repeatability_m
    return math.hypot(last_digit(one.scale_step), repeat)


def _gain(readings: Sequence[Taken]) -> float:
    """Calibration of the meter as a share of what it read, the same for all coils."""
    shares = [
        one.instrument.calibration_standard_uncertainty_m / one.value
        for one in readings
        if one.instrument is not None and one.value
    ]
    return min(max(shares, default=0.0), 0.5)


def _outcome(evidence: Evidence, found: FieldAssessment) -> Outcome:
    unit = evidence.numbers()[-1].unit or evidence.unit
    judged = found.resistances
    worst = min(
        judged, key=lambda one: 1.0 if one.decision is None else one.decision.conforming, default=None
    )
    return Outcome(
        decision=_DECISION[found.verdict],
        line=_line(evidence, found),
        settle=found.next_reading,
        value=None if worst is None else worst.ohm.value,
        uncertainty=None if worst is None else worst.ohm.standard_uncertainty,
        quantity=evidence.quantity,
        unit=unit,
        probability=found.sound,
        details={
            **_limit_details(evidence),
            "places": [_place_details(one.coil.name, one.ohm, one.decision) for one in judged],
            "not_read": [coil.name for coil in found.circuit.not_read],
            "fields": plain(_without_circuit(found)),
            **_proposes(found),
        },
    )


def _line(evidence: Evidence, found: FieldAssessment) -> str:
    unread = ", ".join(coil.name for coil in found.circuit.not_read)
    absent = f" Not read: {unread}." if unread else ""
    said = "; ".join(_named(one, found) for one in found.findings)
    beyond = [one.coil.name for one in found.resistances if one.decision and one.decision.outcome == "reject"]
    if found.verdict == "sound":
        words = f"alike, {chance(found.sound)} sure{_hidden(found)}"
    elif found.verdict == "faulty":
        words = said or f"coil {', '.join(beyond)} beyond the sheet's limit"
    else:
        words = f"not settled, {chance(found.sound)} sound" + (f"; most likely {said}" if said else "")
    limit = "" if evidence.limit is None else whence(evidence.limit)
    return f"{evidence.what}: {words}.{absent}{limit}"


def _proposes(found: FieldAssessment) -> dict[str, Json]:
    """Rework, where only joints read high: they are soldered again before a coil is condemned."""
    faults = {one.fault for one in found.findings}
    return {"proposes": "rework"} if found.verdict == "faulty" and faults == {"high"} else {}


def _named(one: Finding, found: FieldAssessment) -> str:
    words = f"coil {one.coil.name} {_FAULTS[one.fault]} ({chance(one.probability)})"
    shift = next(shift for shift in found.comparison.coils if shift.coil == one.coil)
    if one.fault == "short" and one.coil.turns is not None:
        return f"{words}, about {shift.lost * one.coil.turns:.2g} of {one.coil.turns} turns"
    if shift.ratio is not None:
        return f"{words}, {100 * shift.ratio:.0f} % of the others"
    return words


def _hidden(found: FieldAssessment) -> str:
    """The smallest short that would have shown, on the coil where it is largest."""
    shares = [one.share for one in found.detectable if one.share is not None]
    turns = [one.turns for one in found.detectable if one.turns is not None]
    if turns and len(turns) == len(found.detectable):
        return f"; a short of {max(turns)} turn{'s' if max(turns) > 1 else ''} would have shown"
    return f"; a short of {100 * max(shares):.0f} % of a coil would have shown" if shares else ""


def _without_circuit(found: FieldAssessment) -> dict[str, Json]:
    whole = plain(found)
    return {key: one for key, one in whole.items() if key != "circuit"} if isinstance(whole, dict) else {}


def _limit_details(evidence: Evidence) -> dict[str, Json]:
    return {} if evidence.limit is None else limit_details(evidence.limit)


def _place_details(name: str, value: Estimate, decision: object) -> dict[str, Json]:
    outcome = getattr(decision, "outcome", "undecided")
    return {
        "place": [name],
        "value": value.value,
        "uncertainty": value.standard_uncertainty,
        "decision": str(outcome),
    }


def _drops_before(evidence: Evidence, paths: int) -> list[list[tuple[Coil, Estimate]]]:
    """Coils with their drops, path by path, from the outcome of the drop test; empty where one is missing."""
    before = evidence.context.get("coils")
    listed = None if before is None else before.details.get("places")
    turns = _turns(evidence)
    found = []
    for one in listed if isinstance(listed, Sequence) and not isinstance(listed, str) else ():
        place = one.get("place") if isinstance(one, Mapping) else None
        value = one.get("value") if isinstance(one, Mapping) else None
        if isinstance(place, Sequence) and isinstance(value, int | float):
            found.append((Coil(str(place[0]), 1, turns), Estimate(float(value), 0.0)))
    each = len(found) // paths
    return [found[each * path : each * (path + 1)] for path in range(paths)] if each else []


def _turns(evidence: Evidence) -> int | None:
    turns = evidence.sheet.facts.get("field-turns")
    return int(turns) if isinstance(turns, int | float) and turns >= 2 else None


def _estimate(one: Taken) -> Estimate:
    return Estimate(abs(one.value or 0.0), _spread(one))
