"""A meter's profile in words and as JSON: what it is asked, when a reading is taken, what one says."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from barwise.measure.spoken import Spoken
from barwise.measure.units import UNITS, names_of, printed
from barwise.report.paragraphs import wrapped
from barwise.talk.profile import KEYBOARD, MeterProfile

OFF_SCALE = "off its scale or nothing between its leads: never taken as a reading"


def profile_text(profile: MeterProfile) -> str:
    """What a profile means, for whoever wrote it."""
    return "\n".join(line for said in _lines(profile) for line in wrapped(said))


def profile_answer(profile: MeterProfile) -> dict[str, Any]:
    """The same as one JSON object; steps and limits in SI."""
    return {
        "title": profile.title,
        "speaks": profile.speaks,
        "quantity": profile.quantity,
        "unit": profile.unit.name,
        "address": profile.address,
        "sign": profile.sign,
        "step_si": profile.step_si or None,
        "rest_si": profile.rule.rest or None,
        "rule": rule_in_words(profile),
    }


def reading_text(spoken: Spoken) -> str:
    """Such as ``3.59 mV``."""
    return f"{spoken.text} {printed(spoken.unit.name)}" if spoken.number is not None else OFF_SCALE


def rule_in_words(profile: MeterProfile) -> str:
    r"""When a reading is taken by itself.

    Examples
    --------
    >>> from barwise.talk.profile import parse_profile
    >>> text = 'title = "Meter"\nspeaks = "scpi"\nquantity = "voltage"\nunit = "V"\nstep = "0.01 mV"'
    >>> rule_in_words(parse_profile(text))
    '4 readings within 3 steps of its last digit (0.03 mV) or 0.2 %, over 0.5 s; then lift the probes'
    """
    settle, rule = profile.settle, profile.rule
    if settle.each:
        return "each line that comes is one reading"
    widths = []
    if profile.step_si and rule.digits:
        widths.append(
            f"{rule.digits:g} steps of its last digit ({_size(profile, rule.digits * profile.step_si)})"
        )
    if rule.share:
        widths.append(f"{100 * rule.share:g} %")
    within = f" within {' or '.join(widths)}" if widths else " all alike"
    return f"{rule.readings} readings{within}, over {rule.for_s:g} s; then lift the probes"


def _size(profile: MeterProfile, si: float) -> str:
    """In the meter's own unit, or where that has many zeros in the next finer one."""
    own = profile.unit
    finer = [UNITS[name] for name in names_of(profile.quantity) if UNITS[name].factor < own.factor]
    unit = own
    for other in sorted(finer, key=lambda one: -one.factor):
        if si / unit.factor < 0.001:
            unit = other
    return f"{si / unit.factor:.6g} {printed(unit.name)}"


def _lines(profile: MeterProfile) -> Iterator[str]:
    yield profile.title
    if profile.note:
        yield profile.note
    where = {"": "its address is said with --address", KEYBOARD: "it types, into the window of the listener"}
    yield f"plugged in: {where.get(profile.address, profile.address)}"
    yield from _asked(profile)
    yield f"reads {profile.quantity} in {printed(profile.unit.name)}{_sign(profile)}"
    if profile.most_si != float("inf"):
        yield f"more than {_size(profile, profile.most_si)} is off its scale"
    yield f"by itself: {rule_in_words(profile)}"
    if not profile.settle.each:
        yield f"lifted: {_lifted(profile)}"


def _asked(profile: MeterProfile) -> Iterator[str]:
    if profile.speaks == "scpi":
        scpi = profile.scpi
        sent = ", ".join((("*RST",) if scpi.reset else ()) + scpi.set_up)
        yield f"sent once: {sent}" if sent else "nothing is set on it and it is not reset"
        if scpi.function is not None:
            yield f"must be in: {' or '.join(scpi.function_is)} ({scpi.function})"
        yield f"asked for each reading: {scpi.read}"
    elif profile.request is not None:
        yield f"asked for each reading: {profile.request}"
    else:
        yield "writes by itself, or when its button is pressed"
    if profile.form is not None:
        yield f"its line: {profile.form.pattern}, decimal {profile.form.decimal}"
        if profile.form.overload:
            yield f"off its scale: {', '.join(profile.form.overload)}"


def _sign(profile: MeterProfile) -> str:
    return "" if profile.sign == "as sent" else f", its sign {profile.sign}"


def _lifted(profile: MeterProfile) -> str:
    rule = profile.rule
    rest = f"it reads at most {_size(profile, rule.rest)}, " if rule.rest else ""
    ways = [f"{100 * rule.away:g} % of it"] if rule.away else []
    if rule.away_digits and profile.step_si:
        ways.append(_size(profile, rule.away_digits * profile.step_si))
    left = (
        f", or it leaves the value by more than {' and '.join(ways)}" if ways else ", or it leaves the value"
    )
    return f"{rest}it says that nothing is between its leads{left}"
