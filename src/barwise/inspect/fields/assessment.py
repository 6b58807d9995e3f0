"""What a frame's field coils come to: sound, faulty and which one, or undecided and what to read next."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from barwise.inspect.fields.circuit import Coil, FieldCircuit, Kind
from barwise.inspect.fields.comparison import Comparison, explain, observe, usable, weigh
from barwise.inspect.fields.detectable import Detectable, detectable
from barwise.inspect.fields.ground import Located
from barwise.inspect.fields.next_reading import WORTH_A_LOOK, next_reading
from barwise.inspect.fields.notes import notes
from barwise.inspect.fields.resistance import CoilResistance, Missing, coil_resistances, missing_drops
from barwise.inspect.fields.shunt import ShuntAssessment
from barwise.measure.decision import USUAL_LEVEL

Verdict = Literal["sound", "faulty", "undecided"]
Fault = Literal["open", "short", "high"]

_OF_OUTCOME: Mapping[str, Verdict] = {"accept": "sound", "reject": "faulty", "undecided": "undecided"}
_OPEN_ONCE, _OPEN_AGAIN = 0.5, 0.1
"""Chance that one ``open`` was only a bad touch, and how much smaller each further one makes it."""


@dataclass(frozen=True)
class Finding:
    """A fault of one coil with its probability."""

    fault: Fault
    coil: Coil
    probability: float


@dataclass(frozen=True)
class FieldAssessment:
    """All that the readings of one frame say.

    Attributes
    ----------
    verdict : str
    sound : float
        Probability that no coil has a short, an open or extra resistance, and each is within the sheet.
    findings : tuple of Finding
        The likeliest first; only what is worth a look.
    comparison : Comparison
    resistances : tuple of CoilResistance
        Where the current, or an ohmmeter, gives one.
    detectable : tuple of Detectable
    missing : tuple of Missing
    next_reading : str
        What would settle it; empty where it is settled.
    notes : tuple of str
        What was assumed, and what these readings cannot tell.
    """

    circuit: FieldCircuit
    verdict: Verdict
    sound: float
    findings: tuple[Finding, ...]
    comparison: Comparison
    resistances: tuple[CoilResistance, ...]
    detectable: tuple[Detectable, ...]
    missing: tuple[Missing, ...]
    next_reading: str
    notes: tuple[str, ...]


@dataclass(frozen=True)
class FrameAnswer:
    """A whole frame: its series coils, its shunt coil, its ground; None is what was not read."""

    kind: Kind
    coils: FieldAssessment | None
    shunt: ShuntAssessment | None = None
    ground: Located | None = None
    notes: tuple[str, ...] = ()

    @property
    def grounded(self) -> bool:
        """Whether drops to the frame show a ground, wherever it is."""
        return self.ground is not None and self.ground.verdict != "no ground"

    @property
    def verdict(self) -> Verdict:
        """The worst of what was read; a ground that drops could be read to is a fault."""
        said = [] if self.coils is None else [self.coils.verdict]
        if self.shunt is not None:
            said.append(_OF_OUTCOME[self.shunt.outcome])
        if self.grounded or "faulty" in said:
            return "faulty"
        return "undecided" if "undecided" in said or not said else "sound"


def assess(circuit: FieldCircuit, level: float = USUAL_LEVEL) -> FieldAssessment:
    """Weigh all readings of one frame.

    Parameters
    ----------
    circuit : FieldCircuit
    level : float
        Probability that is enough to decide.

    Notes
    -----
    A reading of ``open`` once may be a bad touch; twice, it is open. Against the sheet each coil is judged by
    the one decision rule; a coil beyond its limits is not sound, whatever the comparison says.
    """
    observed, explanations = observe(circuit), explain(circuit.coils)
    comparison = weigh(observed, explanations, circuit.coils)
    resistances = tuple(coil_resistances(circuit, level))
    opened = _open_coils(circuit)
    sound = _sound(comparison, opened, resistances)
    verdict = _verdict(circuit, sound, opened, level)
    return FieldAssessment(
        circuit=circuit,
        verdict=verdict,
        sound=sound,
        findings=_findings(comparison, opened),
        comparison=comparison,
        resistances=resistances,
        detectable=detectable(observed, explanations, circuit.coils, level),
        missing=tuple(missing_drops(circuit)),
        next_reading="" if verdict == "sound" else next_reading(circuit, comparison, opened, level),
        notes=tuple(notes(circuit)),
    )


def _open_coils(circuit: FieldCircuit) -> dict[int, float]:
    """Probability that a coil is open, by its index; a number beside an ``open`` leaves it in doubt."""
    opened: dict[int, float] = {}
    for place in range(len(circuit.coils)):
        seen = [one.seen == "open" for one in circuit.readings if one.coil == place]
        if any(seen):
            opened[place] = 1 - _OPEN_ONCE * _OPEN_AGAIN ** (sum(seen) - 1) if all(seen) else _OPEN_ONCE
    return opened


def _sound(comparison: Comparison, opened: Mapping[int, float], judged: tuple[CoilResistance, ...]) -> float:
    closed = math.prod(1 - chance for chance in opened.values())
    by_sheet = [one.decision.conforming for one in judged if one.decision is not None]
    return min([comparison.sound * closed, *by_sheet])


def _verdict(circuit: FieldCircuit, sound: float, opened: Mapping[int, float], level: float) -> Verdict:
    if 1 - sound >= level:
        return "faulty"
    if circuit.not_read or opened or not usable(circuit):
        return "undecided"
    return "sound" if sound >= level else "undecided"


def _findings(comparison: Comparison, opened: Mapping[int, float]) -> tuple[Finding, ...]:
    found = []
    for place, one in enumerate(comparison.coils):
        if place in opened:
            found.append(Finding("open", one.coil, opened[place]))
            continue
        found += [Finding("short", one.coil, one.short), Finding("high", one.coil, one.high)]
    worth = [one for one in found if one.probability >= WORTH_A_LOOK]
    return tuple(sorted(worth, key=lambda one: -one.probability))
