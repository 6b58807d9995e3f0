"""What a diagnosis says: verdict, findings, suspect readings, what could have been missed, what next."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from barwise.machine.feed import Feed
from barwise.measure.readings import Reading, Test

Verdict = Literal["sound", "faulty", "undecided"]


@dataclass(frozen=True)
class Finding:
    """One fault of one explanation.

    `fault` is one of open-coil, high-resistance-joint, shorted-coil, turn-short, bar-bridge,
    reversed-coil, grounded-coil; `coil` is None for a bar-bridge. `probability` [1] is that this fault,
    at this place, is there. `severity` holds numbers with units in their names, each with _low and
    _high of a 95 % interval. `explanation` groups the faults that belong together, 1 the most probable.
    """

    fault: str
    coil: int | None
    bars: tuple[int, int]
    slots: tuple[int, ...]
    probability: float
    severity: Mapping[str, float]
    explanation: int


@dataclass(frozen=True)
class SuspectReading:
    """A reading that no likely state of the armature explains; `reason` is in plain words."""

    reading: Reading
    reason: str
    probability: float


@dataclass(frozen=True)
class Detectable:
    """Smallest severity of one fault kind that these readings would have shown with 95 % probability.

    `severity` is empty when the kind cannot be shown at all; `hidden` lists the coils (bars for a
    bar-bridge) where even the worst would not have been seen; `why` says it in plain words.
    """

    fault: str
    severity: Mapping[str, float]
    hidden: tuple[int, ...]
    why: str


@dataclass(frozen=True)
class NextReading:
    """The reading that tells most; `end` None is the shaft; `feed` where it must be moved."""

    test: Test
    start: int
    end: int | None
    feed: Feed | None
    why: str


@dataclass(frozen=True)
class Diagnosis:
    """The answer. `expected[i]` is the best explanation's number for `readings[i]`, or None."""

    verdict: Verdict
    sound_probability: float
    findings: tuple[Finding, ...]
    suspects: tuple[SuspectReading, ...]
    smallest_detectable: Mapping[str, Detectable]
    next_reading: NextReading | None
    readings: tuple[Reading, ...]
    expected: tuple[float | None, ...]
    notes: tuple[str, ...] = field(default=())
