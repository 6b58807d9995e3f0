"""Everything measured on one switch, judged."""

from __future__ import annotations

import math
from collections.abc import Iterator

from barwise.inspect.checks.wording import chance
from barwise.inspect.finding import Bound, Finding, Verdict, hold_against, said_to_its_digit, worst_of
from barwise.inspect.switch.contacts import Contacts, contacts_of
from barwise.inspect.switch.moving import HOT_C, voltage_at
from barwise.inspect.switch.readings import WindingReading, at_reference, at_reference_voltage
from barwise.inspect.switch.tested import SwitchAnswer, SwitchSheet, SwitchTest, WindingResistance
from barwise.inspect.switch.winding_faults import (
    USUAL_MOTOR,
    USUAL_OHM,
    Healthy,
    WindingDiagnosis,
    diagnose_windings,
)
from barwise.machine.copper import REFERENCE_C, resistance_at
from barwise.machine.switch_windings import Path
from barwise.measure.decision import USUAL_LEVEL
from barwise.measure.uncertainty import Estimate, propagate, rectangular
from barwise.measure.units import UNITS, Unit

LEAST_SPREAD = 0.02
"""Windings of one make differ at least so much, whatever the sheet says: common practice, no source."""


def judge_switch(test: SwitchTest, level: float = USUAL_LEVEL) -> SwitchAnswer:
    """Judge windings, moving voltages, contacts and travel, as far as each was measured."""
    diagnosis = _diagnosis(test)
    windings = tuple(_windings(test))
    contacts = _contacts(test)
    findings = (
        *(() if diagnosis is None else (_of_diagnosis(diagnosis, level),)),
        *(_of_winding(test, one, level) for one in windings),
        *_moving(test, level),
        *_of_contacts(test, contacts, level),
        *_travel(test, level),
    )
    return SwitchAnswer(
        worst_of(findings), findings, diagnosis, windings, contacts, tuple(_notes(test, diagnosis))
    )


def healthy_windings(sheet: SwitchSheet, motor: Estimate | None = None) -> Healthy:
    """What the windings should be at 20 °C, by the sheet; `USUAL_OHM` where it does not say."""
    return Healthy(
        pull_in=_expected(sheet, sheet.pull_in_ohm, sheet.pull_in_amps) or USUAL_OHM["pull-in"],
        hold_in=_expected(sheet, sheet.hold_in_ohm, sheet.hold_in_amps) or USUAL_OHM["hold-in"],
        motor=motor or USUAL_MOTOR,
    )


def _expected(sheet: SwitchSheet, ohm: Bound | None, amps: Bound | None) -> Estimate | None:
    """Middle and spread of a range of the sheet, taken as evenly likely throughout."""
    low = high = None
    if ohm is not None:
        low, high = ohm.limit.lower, ohm.limit.upper
    elif amps is not None and sheet.reference_v is not None and amps.limit.lower and amps.limit.upper:
        low, high = sheet.reference_v / amps.limit.upper, sheet.reference_v / amps.limit.lower
    if not low or not high:
        return None
    middle = resistance_at(math.sqrt(low * high), sheet.reference_c, REFERENCE_C)
    spread = math.hypot(rectangular((high - low) / (high + low)), LEAST_SPREAD)
    return Estimate(middle, spread * middle)


def _diagnosis(test: SwitchTest) -> WindingDiagnosis | None:
    if not test.readings:
        return None
    return diagnose_windings(test.readings, healthy_windings(test.sheet, test.motor_ohm), test.celsius)


def _of_diagnosis(found: WindingDiagnosis, level: float) -> Finding:
    first = found.explanations[0]
    outcome: Verdict = "undecided"
    if found.sound >= level:
        outcome = "accept"
    elif 1 - found.sound >= level:
        outcome = "reject"
    others = [one for one in found.explanations[1:3] if one.probability >= 0.02]
    also = "".join(f"; or {one.words} ({chance(one.probability)})" for one in others)
    line = f"Windings: {first.words} (chance {chance(first.probability)}){also}."
    settle = "Another switch, or have it rewound." if outcome == "reject" else ""
    if found.next_path is not None:
        per_volt = " or ".join(f"{amps:.3g}" for amps in found.expected)
        settle += f" Read {found.next_path} next: {per_volt} A for each volt tells the first two apart."
    return Finding("windings", outcome, line, settle.strip(), probability=found.sound)


def _windings(test: SwitchTest) -> Iterator[WindingResistance]:
    """Each winding that can be worked out by itself."""
    conductances = {path: _conductance(test.readings, path) for path in _DIRECT}
    both = conductances["S to M and ground"]
    for winding, own, other in (
        ("pull-in", "S to M", "S to ground"),
        ("hold-in", "S to ground", "S to M"),
    ):
        direct, beside = conductances[own], conductances[other]  # type: ignore[index]
        if direct is not None:
            yield _winding(test, winding, direct, (own,))
        elif both is not None and beside is not None and both.value > beside.value:
            spread = math.hypot(both.standard_uncertainty, beside.standard_uncertainty)
            apart = Estimate(both.value - beside.value, spread)
            yield _winding(test, winding, apart, ("S to M and ground", other))


_DIRECT: tuple[Path, ...] = ("S to M", "S to ground", "S to M and ground")


def _conductance(readings: tuple[WindingReading, ...], path: Path) -> Estimate | None:
    """Of the readings along one path that let current through [siemens]; the best known of repeats."""
    found = []
    for one in readings:
        if one.path == path and not one.open:
            value, budget = propagate(lambda x: x[0] / x[1], (one.amps, one.volts))
            found.append(budget.estimate(value))
    return min(found, key=lambda one: one.standard_uncertainty / one.value, default=None)


def _winding(
    test: SwitchTest, winding: str, conductance: Estimate, paths: tuple[str, ...]
) -> WindingResistance:
    ohm = 1 / conductance.value
    now = Estimate(ohm, ohm**2 * conductance.standard_uncertainty)
    reference, _ = at_reference(now, test.celsius, test.sheet.reference_c)
    volts = test.sheet.reference_v
    amps = None if volts is None else at_reference_voltage(reference, volts)
    return WindingResistance(winding, now, reference, amps, paths)


def _of_winding(test: SwitchTest, found: WindingResistance, level: float) -> Finding:
    """By current where the sheet gives that and its voltage, else by resistance."""
    sheet = test.sheet
    by_amps = sheet.pull_in_amps if found.winding == "pull-in" else sheet.hold_in_amps
    by_ohm = sheet.pull_in_ohm if found.winding == "pull-in" else sheet.hold_in_ohm
    part, ohm = f"{found.winding} winding", UNITS["ohm"]
    resistance = said_to_its_digit(found.at_reference, ohm)
    at = f"at {sheet.reference_c:g} °C"
    then = "Less resistance than it should have: shorted turns. More: a poor joint or ground."
    if by_amps is not None and found.amps is not None:
        said = f"at {sheet.reference_v:g} V and {sheet.reference_c:g} °C, {resistance}"
        unit = UNITS[by_amps.unit]
        return hold_against(part, found.amps, unit, by_amps, level=level, then=then, said=said)
    return hold_against(part, found.at_reference, ohm, by_ohm, level=level, then=then, said=at)


def _moving(test: SwitchTest, level: float) -> Iterator[Finding]:
    reference = test.sheet.reference_c
    for part, read, bound, then in (
        (
            "pull-in voltage", test.pull_in_volts, test.sheet.pull_in_volts,
            "Look for a sticking plunger, a heavy spring, a weak pull-in winding.",
        ),
        (
            "release voltage", test.release_volts, test.sheet.release_volts,
            "Too low hangs on: plunger, spring, welded contacts. Too high chatters: hold-in winding.",
        ),
    ):  # fmt: skip
        if read is None:
            continue
        cold, _ = voltage_at(read.estimate, test.celsius, reference)
        said = f"at {reference:g} °C; read {read.entered}"
        if part == "pull-in voltage":
            hot, _ = voltage_at(read.estimate, test.celsius, HOT_C)
            said += f"; at {HOT_C:g} °C it will want {said_to_its_digit(hot, read.unit)}"
        yield hold_against(part, cold, read.unit, bound, level=level, then=then, said=said)


def _contacts(test: SwitchTest) -> Contacts | None:
    if test.drop is None or test.drop_amps is None:
        return None
    cranking = None if test.cranking_amps is None else test.cranking_amps.estimate
    return contacts_of(test.drop.estimate, test.drop_amps.estimate, cranking)


def _of_contacts(test: SwitchTest, found: Contacts | None, level: float) -> Iterator[Finding]:
    """At the cranking current, which is what counts; at the test's where that is not known."""
    drop, amps = test.drop, test.drop_amps
    if found is None or drop is None or amps is None:
        return
    ohm = said_to_its_digit(found.ohm, UNITS["mohm"])
    then = "Dress or turn the contacts and the disc, or replace them."
    part, bound = "contact drop", test.sheet.contact_drop
    if found.drop_cranking is None or test.cranking_amps is None:
        said = f"at {amps.entered}, {ohm}"
        yield hold_against(part, drop.estimate, drop.unit, bound, level=level, then=then, said=said)
        return
    said = f"at {test.cranking_amps.entered} from {drop.entered} at {amps.entered}, {ohm}"
    yield hold_against(part, found.drop_cranking, UNITS["V"], bound, level=level, then=then, said=said)


def _travel(test: SwitchTest, level: float) -> Iterator[Finding]:
    travel, closes = test.travel, test.closes_at
    if travel is not None:
        then = "Look at the stop, the plunger and the link to the lever."
        yield _length("plunger travel", travel.estimate, travel.unit, test.sheet.travel, level, then)
    if travel is None or closes is None:
        return
    spread = math.hypot(travel.standard_uncertainty, closes.standard_uncertainty)
    left = Estimate(travel.value - closes.value, spread)
    then = "Worn contacts close late: turn or replace them, or the washers under the contact rod."
    part = "travel left when the contacts touch"
    if left.value <= 2 * spread and test.sheet.overtravel is None:
        line = f"{part.capitalize()}: {said_to_its_digit(left, travel.unit)}; they hardly close."
        yield Finding(part, "reject", line, then, left.value, spread, "length", travel.unit.name)
        return
    yield _length(part, left, travel.unit, test.sheet.overtravel, level, then)


def _length(part: str, found: Estimate, unit: Unit, bound: Bound | None, level: float, then: str) -> Finding:
    return hold_against(part, found, unit, bound, level=level, then=then)


def _notes(test: SwitchTest, diagnosis: WindingDiagnosis | None) -> Iterator[str]:
    warm = bool(test.readings) or test.pull_in_volts is not None or test.release_volts is not None
    if warm and test.celsius is None:
        yield (
            "The temperature of the windings was not read: anywhere from 0 to 40 °C is taken, which widens "
            "everything that depends on copper by some 4 %."
        )
    usual = healthy_windings(SwitchSheet())
    known = healthy_windings(test.sheet)
    if diagnosis is not None and usual.pull_in == known.pull_in:
        yield "The sheet gives no range for the pull-in winding: only an open or a dead short can be told."
    if diagnosis is not None and usual.hold_in == known.hold_in:
        yield "The sheet gives no range for the hold-in winding: only an open or a dead short can be told."
    through = any(one.path == "S to ground through the motor" for one in test.readings)
    if through and test.motor_ohm is None:
        yield f"The motor is taken to have {USUAL_MOTOR.value:g} ohm or so (common practice, no source)."
    if any(one.open for one in test.readings):
        yield "No current is an open circuit only if the clips bite: move them and read again before it goes."
    if test.drop is not None and test.cranking_amps is None:
        yield "With the cranking current the drop could be said as it will be in cranking."
