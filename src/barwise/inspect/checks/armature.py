"""All electrical readings of one armature, in any order and of any test, as one diagnosis."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from typing import get_args

from barwise.errors import BarwiseError
from barwise.inspect.checks.evidence import Decided, Evidence, Json, Outcome, Taken, not_taken
from barwise.inspect.checks.plain import plain
from barwise.inspect.checks.wording import chance
from barwise.inspect.diagnosis import Diagnosis, Finding
from barwise.machine.winding import Winding
from barwise.measure.readings import Reading, State, Test

_DECISION: dict[str, Decided] = {"sound": "accept", "faulty": "reject", "undecided": "undecided"}
_TESTS = get_args(Test)
_STATES: dict[str, tuple[State, ...]] = {"ground": ("dark", "lit"), "blade": ("quiet", "buzz")}
_FED = ("drop", "shaft-drop")
_PUT_RIGHT = ("high-resistance-joint", "bar-bridge")
"""Faults that solder or a clean slot puts right; any other asks for another armature or a rewind."""
_ONE_ENDED = ("ground", "shaft-drop", "blade")


def diagnosis(evidence: Evidence) -> Outcome:
    """Sound, faulty and where, or undecided and what to probe; details carry the whole diagnosis."""
    if not evidence.readings:
        return not_taken(evidence)
    winding = evidence.sheet.winding
    if winding is None:
        return Outcome(
            "undecided",
            f"{evidence.what}: the model sheet does not say how it is wound.",
            settle="Put kind, poles, bars and slots of the winding into the model sheet.",
        )
    readings, unused = bar_readings(evidence.readings, winding)
    if not readings:
        return Outcome("undecided", f"{evidence.what}: no reading can be used.", settle=" ".join(unused))
    from barwise.inspect.armature import diagnose  # heavy, and most checks are not this one

    try:
        found = diagnose(winding, readings, evidence.sheet.meter_ohm)
    except BarwiseError as error:
        return Outcome("undecided", f"{evidence.what}: {error}.", settle="Look at these readings again.")
    return Outcome(
        decision=_DECISION[found.verdict],
        line=_line(evidence.what, found),
        settle=_settle(found),
        probability=found.sound_probability,
        details={"diagnosis": _diagnosis_details(found), "unused": unused, **_proposes(found)},
        answer=found,
    )


def bar_readings(taken: Sequence[Taken], winding: Winding) -> tuple[tuple[Reading, ...], list[str]]:
    """The readings as the diagnosis takes them, and a sentence for each that cannot be used.

    A number such as 3.5 may have lost its last zero, so the finest digit of its test and unit counts.
    """
    readings, unused = [], []
    for line, one in enumerate(taken, start=1):
        found = _bar_reading(one, winding, line)
        if isinstance(found, str):
            unused.append(f"Reading {line} ({one.test} {' '.join(one.place)} {one.text}): {found}.")
        else:
            readings.append(found)
    finest: dict[tuple[str, str], float] = {}
    for each in readings:
        key = each.test, each.unit
        finest[key] = min(each.resolution or math.inf, finest.get(key, math.inf))
    known = {key: 0.0 if math.isinf(digit) else digit for key, digit in finest.items()}
    return tuple(replace(each, resolution=known[each.test, each.unit]) for each in readings), unused


def _bar_reading(one: Taken, winding: Winding, line: int) -> Reading | str:
    test: Test | None = next((test for test in _TESTS if test == one.test), None)
    if test is None:
        return f"no such test as {one.test!r:.20}"
    most = winding.slots if test == "blade" else winding.bars
    ends = [_counted(name, most or 0) for name in one.place[: 1 if test in _ONE_ENDED else 2]]
    if None in ends or len(ends) != (1 if test in _ONE_ENDED else 2) or len(set(ends)) != len(ends):
        return f"its place is not on this armature of {winding.bars} bars"
    if (one.feed is not None) != (test in _FED):
        return "the feed is missing" if test in _FED else "it takes no feed"
    state = next((word for word in _STATES.get(test, ()) if word == one.text.strip().lower()), None)
    if state is None and (one.value is None or test == "blade"):
        return f"expected {' or '.join(_STATES.get(test, ('a number',)))}"
    return Reading(
        test=test,
        start=ends[0] or 0,
        end=ends[1] if len(ends) == 2 else None,
        value=one.value if state is None else None,
        state=state,
        resolution=0.0 if state else one.scale_step,
        feed=one.feed,
        entered=one.text,
        unit="" if state else one.unit,
        line=line,
    )


def _counted(name: str, most: int) -> int | None:
    return int(name) if name.isascii() and name.isdigit() and 1 <= int(name) <= most else None


def _line(what: str, found: Diagnosis) -> str:
    sound = chance(found.sound_probability)
    if found.verdict == "sound":
        return f"{what}: sound, {sound}."
    named = "; ".join(_named(one) for one in found.findings if one.explanation == 1)
    if found.verdict == "faulty":
        return f"{what}: faulty: {named}."
    leaning = f", most likely {named}" if named and found.sound_probability < 0.5 else ""
    return f"{what}: undecided, {sound} sound{leaning}."


def _proposes(found: Diagnosis) -> dict[str, Json]:
    """Rework, where all that the first explanation names can be put right."""
    faults = [one.fault for one in found.findings if one.explanation == 1]
    mends = found.verdict == "faulty" and faults and all(one in _PUT_RIGHT for one in faults)
    return {"proposes": "rework"} if mends else {}


def _named(one: Finding) -> str:
    coil = "" if one.coil is None else f" of coil {one.coil}"
    what, first, second = one.fault.replace("-", " "), *one.bars
    return f"{what}{coil}, bars {first} and {second} ({chance(one.probability)})"


def _settle(found: Diagnosis) -> str:
    after = found.next_reading
    if found.verdict != "undecided" or after is None:
        return ""
    end = "" if after.test == "blade" else f" to {'the shaft' if after.end is None else after.end}"
    return f"Take {after.test} {after.start}{end}: {after.why}"


def _diagnosis_details(found: Diagnosis) -> Json:
    whole = plain(found)
    # The readings are kept where they were taken, and stand in no result a second time.
    return {key: one for key, one in whole.items() if key != "readings"} if isinstance(whole, dict) else whole
