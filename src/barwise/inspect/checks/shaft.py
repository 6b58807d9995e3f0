"""The shaft's checks: journals with their shape, run-out of one turn, and where the shaft is bent."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np

from barwise.errors import MeasurementError
from barwise.inspect.bearings.form import Form, SizeReading, form_of
from barwise.inspect.checks import limits
from barwise.inspect.checks.evidence import Evidence, Json, Outcome, Taken, not_taken
from barwise.inspect.checks.limits import with_best_instrument
from barwise.inspect.checks.wording import allowed, chance, number, whence
from barwise.inspect.finding import said_to_its_digit
from barwise.inspect.shaft.bow import Bow, Held, Station, against_journals, find_bow
from barwise.inspect.shaft.judgement import shape_in_words
from barwise.inspect.shaft.turn import Turn, reduce_turn
from barwise.measure.decision import decide
from barwise.measure.entered import read_number
from barwise.measure.uncertainty import Estimate
from barwise.measure.units import UNITS, Unit

ALONG = {"outer": 0.0, "inner": 1.0}
CROSSWISE = "across"
QUARTERS = {"drive end": 0.0, "1/4": 0.25, "1/2": 0.5, "3/4": 0.75, "comm. end": 1.0}
"""Where the places of the bend checks stand, as a share of the way from the drive end's journal."""
JOURNALS = ("drive end", "comm. end")
CAME_BACK_STEPS = 2.0
"""Steps of the dial within which it must come back when an angle is read twice."""

_DEGREE = "\N{DEGREE SIGN}"


def journal(evidence: Evidence) -> Outcome:
    """A journal against its limit, with its percent worn, and how oval and tapered it is.

    `details` hold its shape for the bush that runs on it.
    """
    outcome = limits.wear(evidence)
    form = form_of_readings(evidence.numbers())
    if form is None or outcome.decision == "not taken":
        return outcome
    unit = unit_of(evidence)
    line = f"{outcome.line}{_shape(form, unit)}"
    return replace(outcome, line=line, details={**outcome.details, "form": form_details(form)})


def bend(evidence: Evidence) -> Outcome:
    """Run-out at a quarter, half and three quarters of the way between V-blocks, and where the bend is.

    A place is called such as ``1/2 90°``: how far along, and how far the mark was turned.
    """
    return _bend(evidence, "v-blocks")


def bend_on_centres(evidence: Evidence) -> Outcome:
    """The same between centres, both journals read as well: as V-blocks under them would have shown it."""
    return _bend(evidence, "centres")


def _bend(evidence: Evidence, held: Held) -> Outcome:
    turns, unit = _turns(evidence.numbers()), unit_of(evidence)
    if not evidence.numbers():
        return not_taken(evidence)
    missing = [place for place in evidence.places if place not in _read_places(evidence.numbers())]
    unread = [name for name in JOURNALS if held == "centres" and name not in turns]
    if not turns or unread:
        what = f"the {' and the '.join(unread)} journal was not" if unread else "no place was"
        return Outcome(
            "undecided", f"{evidence.what}: {what} read all round yet.", f"Read {', '.join(missing)}.",
            quantity=evidence.quantity, unit=unit.name,
        )  # fmt: skip
    slipped = [name for name, turn in turns.items() if _slipped(turn, evidence.numbers())]
    if slipped:
        line = f"{evidence.what}: at {', '.join(slipped)} the dial did not come back to what it read."
        return Outcome(
            "undecided", line, "It slipped, or an angle is wrong: read that turn again, measured anew."
        )
    stations = [
        Station(QUARTERS[name], turn.offset_m, turn.covariance_m2, name) for name, turn in turns.items()
    ]
    if held == "centres" and len(turns) == len(JOURNALS):
        line = f"{evidence.what}: only the journals were read."
        return Outcome("undecided", line, f"Read {', '.join(missing)}.", quantity=evidence.quantity)
    if held == "centres":
        first, second = (next(one for one in stations if one.name == name) for name in JOURNALS)
        out = max(float(np.hypot(*one.offset_m)) for one in (first, second))
        turns = _as_on_journals(turns, against_journals(stations, first, second))
    bow = find_bow(stations, (0.0, 1.0), held)
    worst = max(turns, key=lambda name: turns[name].whole_swing.value)
    outcome = _bent(evidence, turns, worst, bow, missing)
    if held == "v-blocks":
        return outcome
    size = number(out, unit.name, min(one.last_digit for one in evidence.numbers()))
    return replace(
        outcome, line=f"{outcome.line} Said as on its journals; the centres are out by {size} at most."
    )


def _as_on_journals(turns: Mapping[str, Turn], moved: Sequence[Station]) -> dict[str, Turn]:
    """Each turn with its offset from the line through the journals, which have none themselves."""
    found = {
        one.name: replace(turns[one.name], offset_m=one.offset_m, covariance_m2=one.covariance_m2)
        for one in moved
        if one.name not in JOURNALS
    }
    return {name: replace(turn, whole_swing=turn.runout) for name, turn in found.items()}


def _slipped(turn: Turn, readings: Sequence[Taken]) -> bool:
    """Whether repeats of one angle disagree by more than the dial's own doubt."""
    step = max(one.scale_step for one in readings)
    return turn.closes_m is not None and turn.closes_m > CAME_BACK_STEPS * step


def _bent(
    evidence: Evidence, turns: Mapping[str, Turn], worst: str, bow: Bow, missing: Sequence[str]
) -> Outcome:
    unit, swing = unit_of(evidence), turns[worst].whole_swing
    where = _where(bow, unit)
    begin = f"{evidence.what}: {said_to_its_digit(swing, unit)} at {worst} of the way"
    found = Outcome(
        "noted", f"{begin}. {where}", value=swing.value, uncertainty=swing.standard_uncertainty,
        quantity=evidence.quantity, unit=unit.name, details=_bend_details(turns, bow),
    )  # fmt: skip
    bounds = evidence.limit
    if bounds is None or bounds.allowed is None:
        return found
    made = decide(swing.value, swing.standard_uncertainty, bounds.allowed, evidence.level)
    outcome = "undecided" if made.outcome == "accept" and missing else made.outcome
    words = allowed(bounds, unit.name)
    said = {
        "accept": f"within its limit, {words}.",
        "reject": f"beyond its limit, {words}.",
        "undecided": f"too close to call against {words}; chance that it is within: "
        f"{chance(made.conforming)}.",
    }[made.outcome]
    absent = f" Not read: {', '.join(missing)}." if missing else ""
    settle = f"Read {', '.join(missing)}." if missing else ""
    details = {**found.details, **limits.limit_details(bounds)}
    return replace(
        found,
        decision=outcome,
        line=f"{begin}, {said} {where}{absent}{whence(bounds)}",
        settle=settle or ("Read it again with a finer dial." if outcome == "undecided" else ""),
        probability=made.conforming,
        details=details,
    )


def _where(bow: Bow, unit: Unit) -> str:
    """The shape in a sentence; places as a share of the way, as that is how they were asked for."""
    if bow.place is None:
        return "Where it is bent, two more places would tell."
    said = f"The shaft looks {shape_in_words(bow)}"
    if bow.shape == "straight":
        return f"{said}."
    place = ""
    if bow.shape == "kinked":
        low, high = (100 * max(0.0, min(1.0, end)) for end in (bow.place.low, bow.place.high))
        place = f", {low:.0f} to {high:.0f} % of the way from the drive end's journal"
    off = said_to_its_digit(bow.offset, unit)
    return f"{said}{place}, off by {off}, high side at {bow.high_deg:.0f} degrees from the mark."


def _turns(readings: Sequence[Taken]) -> dict[str, Turn]:
    """One turn for each place that was read at three angles or more."""
    found: dict[str, tuple[list[float], list[float], list[float]]] = {}
    for one in readings:
        name, angle = _place_and_angle(one)
        if name in QUARTERS and one.value is not None and angle is not None:
            angles, values, doubts = found.setdefault(name, ([], [], []))
            angles.append(angle)
            values.append(one.value)
            doubts.append(max(one.scale_step / math.sqrt(12), 1e-9))
    turns = {}
    for name in QUARTERS:
        if name in found and len(set(found[name][0])) >= 3:
            angles, values, doubts = found[name]
            turns[name] = reduce_turn(angles, values, max(doubts))
    return turns


def _place_and_angle(one: Taken) -> tuple[str, float | None]:
    name, _, angle = " ".join(one.place).rpartition(" ")
    number = read_number(angle.removesuffix(_DEGREE))
    return name, None if number is None else number.value


def _read_places(readings: Sequence[Taken]) -> set[str]:
    return {" ".join(one.place) for one in readings}


def _bend_details(turns: Mapping[str, Turn], bow: Bow) -> dict[str, Json]:
    return {
        "places": [
            {
                "place": [name],
                "value": turn.whole_swing.value,
                "uncertainty": turn.whole_swing.standard_uncertainty,
                "decision": "noted",
            }
            for name, turn in turns.items()
        ],
        "off_centre_m": {name: [float(part) for part in turn.offset_m] for name, turn in turns.items()},
        "shape": dict(bow.shapes),
        "line": [[float(part) for part in row] for row in bow.line],
        "off_uncertainty_m": {
            name: float(np.sqrt(np.trace(turn.covariance_m2) / 2)) for name, turn in turns.items()
        },
        "bend_at": None if bow.place is None else [bow.place.low, bow.place.best, bow.place.high],
        "high_deg": bow.high_deg,
    }


def unit_of(evidence: Evidence) -> Unit:
    """The unit of the last reading, else the check's own."""
    named = [one.unit for one in evidence.numbers() if one.unit in UNITS]
    return UNITS[named[-1] if named else evidence.unit]


def form_of_readings(readings: Sequence[Taken]) -> Form | None:
    """Shape of a bore or journal from readings at ``outer``, ``outer across``, ``inner`` and so on.

    None where nothing was read, or a reading is no size.
    """
    by_place: dict[tuple[str, ...], list[Taken]] = {}
    for one in readings:
        by_place.setdefault(one.place, []).append(one)
    sizes, common = [], 0.0
    for place, some in by_place.items():
        found, used = with_best_instrument(some)
        tool = used[-1].instrument
        calibration = 0.0 if tool is None else tool.calibration_standard_uncertainty_m
        common = max(common, calibration)
        own = math.sqrt(max(0.0, found.budget.standard_uncertainty**2 - calibration**2))
        words = " ".join(place)
        way = 90.0 if words.endswith(CROSSWISE) else 0.0
        along = ALONG.get(words.partition(" ")[0], 0.5)
        sizes.append(SizeReading(found.value_m, along, way, own))
    try:
        return form_of(sizes, common) if sizes else None
    except MeasurementError:
        return None


def form_details(form: Form) -> dict[str, Json]:
    """Its sizes as plain numbers: value, standard uncertainty, degrees of freedom (None: many)."""
    return {
        "mean": _plain(form.mean),
        "largest": _plain(form.largest),
        "smallest": _plain(form.smallest),
        "oval": None if form.oval is None else _plain(form.oval),
        "taper": None if form.taper is None else _plain(form.taper),
    }


def _plain(one: Estimate) -> list[float | None]:
    freedom = one.degrees_of_freedom
    return [one.value, one.standard_uncertainty, freedom if np.isfinite(freedom) else None]


def _shape(form: Form, unit: Unit) -> str:
    """`` Oval 0.0003 in, taper 0.0001 in.`` of what is beyond its own doubt; else nothing."""
    seen = [
        f"{what} {number(abs(size.value), unit.name)}"
        for what, size in (("oval", form.oval), ("taper", form.taper))
        if size is not None and abs(size.value) > 2 * size.standard_uncertainty
    ]
    said = ", ".join(seen)
    return f" {said[0].upper()}{said[1:]}." if seen else ""
