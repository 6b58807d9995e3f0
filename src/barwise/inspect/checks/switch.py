"""The switch's checks: windings at the sheet's voltage and temperature, what is wrong with them, contacts.

Without a temperature of the windings none is assumed: anywhere from 0 to 40 °C is allowed for, which widens
the answer. Without the volts of the test the currents are taken as read at the sheet's voltage.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from barwise.errors import MeasurementError
from barwise.inspect.checks.evidence import Decided, Evidence, Json, Outcome, not_taken
from barwise.inspect.checks.found import bound_of, estimate_in, estimate_of, held, unit_of
from barwise.inspect.checks.plain import plain
from barwise.inspect.checks.wording import chance, number
from barwise.inspect.finding import said_to_its_digit
from barwise.inspect.switch.contacts import Contacts, contacts_of
from barwise.inspect.switch.judgement import healthy_windings
from barwise.inspect.switch.moving import HOT_C, voltage_at
from barwise.inspect.switch.readings import WindingReading, at_reference, at_reference_voltage
from barwise.inspect.switch.tested import SwitchSheet
from barwise.inspect.switch.winding_faults import Explanation, WindingDiagnosis, diagnose_windings
from barwise.machine.copper import REFERENCE_C
from barwise.machine.switch_windings import Path
from barwise.measure.uncertainty import Estimate, propagate
from barwise.measure.units import UNITS

TEST_VOLTS, CRANKING_AMPS = "switch-test-voltage", "cranking-current"
"""Limits of which the target says at what voltage the sheet gives the currents, and what it cranks with."""

_WINDING = "Less current than allowed: a poor joint or ground. More: shorted turns."
_UNREAD = "Winding temperature not read: 0 to 40 °C allowed for."


def given_as(evidence: Evidence) -> Outcome:
    """Volts or amperes of a test, noted, with what the sheet gives its figures at."""
    found = estimate_of(evidence)
    if found is None:
        return not_taken(evidence)
    unit, last = unit_of(evidence), evidence.numbers()[-1]
    target = None if evidence.limit is None else evidence.limit.target
    at = "" if target is None else f"; the sheet's figures are at {number(target, unit.name)}"
    return Outcome(
        "noted",
        f"{evidence.what}: {number(found.value, unit.name, last.last_digit)}{at}.",
        value=found.value,
        uncertainty=found.standard_uncertainty,
        quantity=evidence.quantity,
        unit=unit.name,
        details={"target": target},
    )


def pull_in(evidence: Evidence) -> Outcome:
    """The pull-in winding's current against the sheet; leans on ``volts`` and ``temperature``."""
    return _winding(evidence, "S to M")


def hold_in(evidence: Evidence) -> Outcome:
    """The hold-in winding's current against the sheet, and both windings together.

    It leans on ``volts``, ``temperature`` and ``pull_in``.
    """
    return _winding(evidence, "S to ground", {"pull_in": "S to M"})


def both(evidence: Evidence) -> Outcome:
    """Both windings fed at once, motor terminal to ground: what the readings say together.

    It leans on ``volts``, ``temperature``, ``pull_in`` and ``hold_in``, any of which may be missing.
    """
    amps = estimate_of(evidence)
    if amps is None:
        return not_taken(evidence)
    paths: dict[str, Path] = {"pull_in": "S to M", "hold_in": "S to ground"}
    found = _diagnosis(evidence, amps, "S to M and ground", paths)
    said = said_to_its_digit(amps, unit_of(evidence))
    if found is None:
        line = f"{evidence.what}: {said}; at no known voltage it says nothing."
        return Outcome("undecided", line, "Read the volts of the test.", quantity=evidence.quantity)
    decided: Decided = "undecided"
    if max(found.sound, 1 - found.sound) >= evidence.level:
        decided = "accept" if found.sound >= evidence.level else "reject"
    return Outcome(
        decided,
        f"{evidence.what}: {said}. {_in_words(found.explanations)}",
        _next(found) if decided != "accept" else "",
        value=amps.value,
        uncertainty=amps.standard_uncertainty,
        quantity=evidence.quantity,
        unit=unit_of(evidence).name,
        probability=found.sound,
        details=_diagnosis_details(found),
    )


def moving_voltage(evidence: Evidence) -> Outcome:
    """Voltage at which it pulls in or lets go, brought to 20 °C; leans on ``temperature``."""
    volts = estimate_of(evidence)
    if volts is None:
        return not_taken(evidence)
    unit, warm = unit_of(evidence), estimate_in(evidence, "temperature")
    if volts.value < 0:
        line = f"{evidence.what}: {said_to_its_digit(volts, unit)}, below nothing."
        return Outcome("undecided", line, "Read it again with the leads the other way round.")
    cold, _ = voltage_at(volts, warm)
    hot, _ = voltage_at(volts, warm, HOT_C)
    said = f"at {REFERENCE_C:g} °C; {said_to_its_digit(hot, unit)} at {HOT_C:g} °C"
    then = "Look for a sticking plunger, its spring, and the windings."
    return held(evidence, cold, then, said, "" if warm is not None else _UNREAD)


def contact_drop(evidence: Evidence) -> Outcome:
    """Drop across the contacts, at the cranking current where that is known; leans on ``amps``."""
    drop, amps = estimate_of(evidence), estimate_in(evidence, "amps")
    if drop is None:
        return not_taken(evidence)
    then = "Dress or turn contacts and disc, or replace them."
    if amps is None:
        return held(evidence, drop, then, more="The current was not read: no resistance can be told.")
    given = evidence.sheet.limits.get(CRANKING_AMPS)
    cranking = None if given is None or given.target is None else Estimate(given.target, 0.0)
    try:
        found = contacts_of(drop, amps, cranking)
    except MeasurementError:
        line = f"{evidence.what}: {said_to_its_digit(drop, unit_of(evidence))} with no current through it."
        return Outcome("undecided", line, "Read it again with a heavy current, probes the right way round.")
    outcome = held(evidence, *_as_in_cranking(found, drop, amps, cranking, then))
    details: dict[str, Json] = {"ohm": found.ohm.value, "heat_w": found.heat_w}
    return replace(outcome, details={**outcome.details, **details})


def _as_in_cranking(
    found: Contacts, drop: Estimate, amps: Estimate, cranking: Estimate | None, then: str
) -> tuple[Estimate, str, str]:
    """The value to hold against the limit, what to do, and what to say about it."""
    ampere, ohm = UNITS["A"], said_to_its_digit(found.ohm, UNITS["mohm"])
    if found.drop_cranking is None or cranking is None:
        return drop, then, f"at {said_to_its_digit(amps, ampere)}, {ohm}"
    at = f"{number(cranking.value, 'A')} of cranking; read at {said_to_its_digit(amps, ampere)}"
    return found.drop_cranking, then, f"at {at}, {ohm}"


def closing(evidence: Evidence) -> Outcome:
    """Where the contacts touch: what is left of the travel then; leans on ``travel``."""
    touches, travel = estimate_of(evidence), estimate_in(evidence, "travel")
    if touches is None:
        return not_taken(evidence)
    unit = unit_of(evidence)
    if travel is None:
        line = f"{evidence.what}: {said_to_its_digit(touches, unit)}; the whole travel was not read."
        return Outcome("undecided", line, "Read the plunger's travel.", quantity=evidence.quantity)
    left, budget = propagate(lambda x: x[0] - x[1], (travel, touches))
    then = "Worn contacts close late: turn or replace them."
    said = f"touching at {said_to_its_digit(touches, unit)}"
    outcome = held(evidence, budget.estimate(left), then, said)
    details: dict[str, Json] = {"travel_m": travel.value, "touches_m": touches.value, "worked_out": True}
    return replace(outcome, details={**outcome.details, **details})


def _winding(evidence: Evidence, path: Path, others: dict[str, Path] | None = None) -> Outcome:
    """Current brought to the sheet's voltage and 20 °C, with what may be the matter where it is off."""
    amps = estimate_of(evidence)
    if amps is None:
        return not_taken(evidence)
    warm, volts = estimate_in(evidence, "temperature"), _volts(evidence)
    details: dict[str, Json] = {
        "winding": "pull-in" if path == "S to M" else "hold-in",
        "read_a": amps.value,
        "read_uncertainty_a": amps.standard_uncertainty,
    }
    found = _diagnosis(evidence, amps, path, others or {})
    more = "" if warm is not None else _UNREAD
    if found is not None and found.explanations[0].fault != "sound":
        more = f"{_in_words(found.explanations)} {more}".rstrip()
    if found is not None:
        details |= _diagnosis_details(found)
    outcome = held(
        evidence, _as_the_sheet(evidence, amps, volts, warm), _WINDING, _said(evidence, volts), more
    )
    return replace(outcome, details={**outcome.details, **details})


def _as_the_sheet(
    evidence: Evidence, amps: Estimate, volts: Estimate | None, warm: Estimate | None
) -> Estimate:
    if amps.value <= 0:
        return amps
    at, unit_volts = _sheet_volts(evidence), volts or Estimate(1.0, 0.0)
    ohm, budget = propagate(lambda x: x[0] / x[1], (unit_volts, amps))
    cold, _ = at_reference(budget.estimate(ohm), warm)
    return at_reference_voltage(cold, unit_volts.value if volts is None or at is None else at)


def _said(evidence: Evidence, volts: Estimate | None) -> str:
    at = _sheet_volts(evidence)
    where = f"at {number(at, 'V')} and {REFERENCE_C:g} °C" if at is not None else f"at {REFERENCE_C:g} °C"
    if volts is None or at is None:
        return where
    return f"{where}; read at {said_to_its_digit(volts, UNITS['V'])}"


def _sheet_volts(evidence: Evidence) -> float | None:
    given = evidence.sheet.limits.get(TEST_VOLTS)
    return None if given is None else given.target


def _volts(evidence: Evidence) -> Estimate | None:
    """Of the test, where they were read above 0; else those of the sheet, taken as set."""
    read, at = estimate_in(evidence, "volts"), _sheet_volts(evidence)
    if read is not None and read.value > 0:
        return read
    return None if at is None else Estimate(at, 0.0)


def _diagnosis(
    evidence: Evidence, amps: Estimate, path: Path, others: dict[str, Path]
) -> WindingDiagnosis | None:
    """All readings of the windings together; None where their voltage is not known."""
    volts = _volts(evidence)
    if volts is None:
        return None
    try:
        readings = [WindingReading(path, volts, amps), *_others(evidence, volts, others)]
    except MeasurementError:
        return None
    bounds = evidence.sheet.limits
    sheet = SwitchSheet(
        reference_v=_sheet_volts(evidence),
        pull_in_amps=bound_of(bounds.get("pull-in-current")),
        hold_in_amps=bound_of(bounds.get("hold-in-current")),
    )
    return diagnose_windings(readings, healthy_windings(sheet), estimate_in(evidence, "temperature"))


def _others(evidence: Evidence, volts: Estimate, paths: dict[str, Path]) -> Iterator[WindingReading]:
    for part, path in paths.items():
        outcome = evidence.context.get(part)
        amps, spread = (
            None if outcome is None else outcome.details.get(key) for key in ("read_a", "read_uncertainty_a")
        )
        if isinstance(amps, float) and isinstance(spread, float):
            yield WindingReading(path, volts, Estimate(amps, spread))


def _in_words(explanations: Sequence[Explanation]) -> str:
    first, *rest = (one for one in explanations if one.probability >= 0.02)
    also = "".join(f", or {one.words} ({chance(one.probability)})" for one in rest[:2])
    return f"Likeliest: {first.words} ({chance(first.probability)}){also}."


def _next(found: WindingDiagnosis) -> str:
    if found.next_path is None:
        return "Another switch, or have it rewound."
    return f"Read {found.next_path} as well: it tells the first two apart."


def _diagnosis_details(found: WindingDiagnosis) -> dict[str, Json]:
    return {"sound": found.sound, "explanations": [plain(one) for one in found.explanations[:4]]}
