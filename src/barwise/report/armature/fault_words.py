"""Faults of an armature in the words of the bench: what it is, how bad, what it means for the job.

What to do about each fault is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Mapping

from barwise.inspect.diagnosis import Finding
from barwise.machine.winding import Winding
from barwise.measure.readings import Reading
from barwise.measure.units import UNITS

NAMES: Mapping[str, str] = {
    "open-coil": "open coil",
    "high-resistance-joint": "high-resistance joint",
    "shorted-coil": "shorted coil",
    "turn-short": "short between turns",
    "bar-bridge": "bridge between bars",
    "reversed-coil": "reversed coil",
    "grounded-coil": "grounded coil",
}

SETTLED = 0.5
"""A place less probable than this is a guess."""
GUESS = 0.1
"""A place less probable than this is not worth naming."""

_MEANING: Mapping[str, str] = {
    "open-coil": (
        "Look for a lifted or burnt lead at the risers of bars {a} and {b}: make it good and "
        "read again. If both joints are sound the wire is broken inside the winding: rewind."
    ),
    "high-resistance-joint": (
        "Clean and re-solder (or re-weld) the risers of bars {a} and {b}, then take the drop "
        "readings again. Left alone it burns the bars under load."
    ),
    "shorted-coil": (
        "First clear the slot between bars {a} and {b} of swarf, solder and brush dust, look "
        "for risers that touch, and read again. If it stays, the short is in the winding: "
        "rewind."
    ),
    "turn-short": (
        "Turns touch inside the coil, which cleaning the commutator will not cure; it gets hot "
        "in use: rewind."
    ),
    "bar-bridge": (
        "No single coil lies between these bars, so look at the commutator: clear the slot "
        "between bars {a} and {b} of swarf, solder or burnt mica, undercut, and read again. If "
        "it stays, the mica has failed inside: a new commutator."
    ),
    "reversed-coil": (
        "Its leads are changed over at bars {a} and {b}, an error made in winding: lift both, "
        "change them over, re-solder and read again."
    ),
    "grounded-coil": (
        "The winding touches the core: not fit for use. Look where the coil leaves its slots "
        "and at the commutator's end insulation; clean, dry and test again. If it stays, "
        "insulate the coil anew or rewind."
    ),
}


def name_of(fault: str) -> str:
    """The fault in words, ``short between turns`` for ``turn-short``."""
    return NAMES.get(fault, fault.replace("-", " "))


def place_in_words(finding: Finding) -> str:
    """``coil 6 (bars 6 and 7, slots 3 and 10)``, or ``bars 57 and 1`` where no coil is meant."""
    bars = f"bars {finding.bars[0]} and {finding.bars[1]}"
    if finding.coil is None:
        return bars
    slots = f", slots {' and '.join(map(str, finding.slots))}" if finding.slots else ""
    return f"coil {finding.coil} ({bars}{slots})"


def named_place(finding: Finding) -> str:
    """The place, or that it is only the best guess: a lit lamp says there is a ground, never where."""
    place = place_in_words(finding)
    if finding.explanation != 1 or finding.probability >= SETTLED:
        return place
    if finding.probability < GUESS:
        return "place not known yet"
    return f"place not settled, best guess {place}"


def seen_at(winding: Winding, finding: Finding) -> tuple[tuple[int, int], ...]:
    """Neighbouring bars between which the coil of a finding lies, so where readings show it."""
    if finding.coil is None:
        return (finding.bars,)
    return tuple(
        (bar, bar % winding.bars + 1)
        for bar in range(1, winding.bars + 1)
        if finding.coil in winding.coils_between(bar)
    )


def seen_at_in_words(winding: Winding, finding: Finding) -> str:
    """That one coil of a wave winding shows at several pairs of bars; empty if at one."""
    if finding.fault == "grounded-coil":
        return ""
    places = seen_at(winding, finding)
    if len(places) < 2:
        return ""
    pairs = ", ".join(f"{a}-{b}" for a, b in places)
    return f"one fault, seen at {len(places)} places (bars {pairs})"


def meaning(winding: Winding, finding: Finding) -> str:
    """What the finding means for the job."""
    text = _MEANING.get(finding.fault, "")
    if finding.fault == "shorted-coil" and winding.kind == "wave":
        text = (
            "Look for leads or risers at bars {a} and {b} that touch others, clear swarf and "
            "solder there, and read again. If it stays, the short is in the winding: rewind."
        )
    return text.format(a=finding.bars[0], b=finding.bars[1])


def severity_in_words(winding: Winding, finding: Finding) -> str:
    """How bad, with the 95 % interval where there is one; empty for a fault that has no degrees."""
    phrases = [_phrase(winding, finding, key) for key in finding.severity]
    return "; ".join(phrase for phrase in phrases if phrase)


DEAD = 0.03
"""A bridge below this share of a coil's resistance is called a dead short."""
ANYWHERE = 0.8
"""An interval this wide says nothing about the place along a coil."""


def _phrase(winding: Winding, finding: Finding, key: str) -> str:
    severity = finding.severity
    value = severity[key]
    if key.endswith(("_low", "_high")):
        return ""
    if key == "turns":
        of = winding.turns_per_coil
        return f"most likely {value:.0f} of {of} turns" if finding.fault == "turn-short" else ""
    between = _interval(severity, key)
    if key == "bridge_ratio":
        return _bridge(value, between)
    if key == "factor":
        return f"{value:.3g} times the resistance of a healthy coil{between}"
    if key == "fraction":
        return _along(finding)
    if key == "added_ohm":
        return f"{ohms_in_words(value)} too much"
    if key.endswith("_ohm"):
        return f"{key.removesuffix('_ohm').replace('_', ' ')} {ohms_in_words(value)}"
    return f"{key.replace('_', ' ')} {value:.3g}{between}"


def _bridge(ratio: float, between: str) -> str:
    if ratio < DEAD:
        return "a dead short"
    strong = "a weak short" if ratio >= 1 else "a short"
    return f"{strong} through {ratio:.2g} times a coil's own resistance{between}"


def _along(finding: Finding) -> str:
    """How far along a coil it is grounded; empty where it might be anywhere."""
    severity = finding.severity
    if severity.get("fraction_high", 0.0) - severity.get("fraction_low", 0.0) > ANYWHERE:
        return ""
    share = _interval({name: 100 * number for name, number in severity.items()}, "fraction")
    percent = f"{100 * severity['fraction']:.0f} %"
    return f"about {percent} of the way along the coil from bar {finding.bars[0]}{share}"


def _interval(severity: Mapping[str, float], key: str) -> str:
    low, high = severity.get(f"{key}_low"), severity.get(f"{key}_high")
    return "" if low is None or high is None else f" ({low:.3g} to {high:.3g})"


def ohms_in_words(ohm: float) -> str:
    """A resistance with the prefix that suits it.

    Examples
    --------
    >>> ohms_in_words(0.000528), ohms_in_words(3e5)
    ('0.528 mohm', '300 kohm')
    """
    for name in ("Mohm", "kohm", "ohm"):
        if abs(ohm) >= UNITS[name].factor:
            return f"{ohm / UNITS[name].factor:.3g} {name}"
    return f"{ohm / UNITS['mohm'].factor:.3g} mohm"


def explains(winding: Winding, finding: Finding) -> str:
    """One finding in one line of plain words."""
    line = f"{name_of(finding.fault)}: {named_place(finding)}"
    severity = severity_in_words(winding, finding)
    if severity:
        line += f", {severity}"
    places = seen_at_in_words(winding, finding)
    if places:
        line += f"; {places}"
    return f"{line}. {meaning(winding, finding)}".strip()


def reading_in_words(reading: Reading) -> str:
    """``drop, bars 28-29, 1.20 mV (line 29)``."""
    value = f"{reading.entered} {reading.unit}".strip()
    line = f" (line {reading.line})" if reading.line else ""
    return f"{reading.test}, {ends_in_words(reading.test, reading.start, reading.end)}, {value}{line}"


def ends_in_words(test: str, start: int, end: int | None) -> str:
    """``bars 28-29``, ``bar 5 to shaft`` or ``slot 5``."""
    if end is not None:
        return f"bars {start}-{end}"
    return f"slot {start}" if test == "blade" else f"bar {start} to shaft"
