"""Each coil by itself: its resistance against the sheet, and the drop its path's joints take."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from barwise.inspect.fields.circuit import UNKNOWN_C, Coil, CoilReading, FieldCircuit
from barwise.inspect.fields.comparison import usable
from barwise.machine.copper import resistance_at
from barwise.measure.decision import Decision, decide
from barwise.measure.uncertainty import Budget, Component, Estimate, propagate

_MISSING = 3.0
"""Standard uncertainties by which one path's drop must fall short of the other's to be called a joint's."""


@dataclass(frozen=True)
class CoilResistance:
    """One coil by itself: its resistance at the sheet's temperature, held against the sheet."""

    coil: Coil
    ohm: Estimate
    decision: Decision | None


@dataclass(frozen=True)
class Missing:
    """A drop that one path's coils do not account for: it sits in its joints and leads [V]."""

    path: int
    drop: Estimate


def coil_resistances(circuit: FieldCircuit, level: float) -> Iterator[CoilResistance]:
    """Mean of each coil's readings as resistance at the sheet's temperature, where the current is known."""
    for place, coil in enumerate(circuit.coils):
        ohms = [_ohm(one, circuit) for one in usable(circuit) if one.coil == place]
        known = [ohm for ohm in ohms if ohm is not None]
        if not known:
            continue
        found = _at_sheet_temperature(_mean(known), circuit)
        decision = None
        if circuit.sheet is not None:
            decision = decide(found.value, found.standard_uncertainty, circuit.sheet, level)
        yield CoilResistance(coil, found, decision)


def missing_drops(circuit: FieldCircuit) -> Iterator[Missing]:
    """Paths fed together see one voltage: what a path's coils do not add up to is in its joints."""
    if not circuit.fed_together or circuit.not_read:
        return
    sums: dict[int, Estimate] = {}
    for path in sorted({coil.path for coil in circuit.coils}):
        parts = [mean_drop(circuit, place) for place, coil in enumerate(circuit.coils) if coil.path == path]
        known = [part for part in parts if part is not None]
        if len(known) < len(parts):
            return
        spread = math.hypot(*(part.standard_uncertainty for part in known))
        sums[path] = Estimate(math.fsum(part.value for part in known), spread)
    largest = max(sums.values(), key=lambda one: one.value)
    for path, one in sums.items():
        spread = math.hypot(one.standard_uncertainty, largest.standard_uncertainty)
        if largest.value - one.value > _MISSING * spread:
            yield Missing(path, Estimate(largest.value - one.value, spread))


def mean_drop(circuit: FieldCircuit, place: int) -> Estimate | None:
    """Mean drop [V] of the coil at `place`, from 0; None where no drop of it was read."""
    drops = [
        Estimate(one.value, one.uncertainty)
        for one in usable(circuit)
        if one.coil == place and one.seen == "drop"
    ]
    return _mean(drops) if drops else None


def _mean(read: list[Estimate]) -> Estimate:
    middle = math.fsum(one.value for one in read) / len(read)
    return Estimate(middle, math.hypot(*(one.standard_uncertainty for one in read)) / len(read))


def _ohm(reading: CoilReading, circuit: FieldCircuit) -> Estimate | None:
    read, current = Estimate(reading.value, reading.uncertainty), circuit.currents[reading.run]
    if reading.seen == "resistance":
        return read
    if current is None:
        return None
    value, budget = propagate(lambda x: x[0] / x[1], [read, current])
    return budget.estimate(value)


def _at_sheet_temperature(read: Estimate, circuit: FieldCircuit) -> Estimate:
    warmth = circuit.temperature or UNKNOWN_C
    value, budget = propagate(lambda x: resistance_at(x[0], x[1], circuit.sheet_c), [read, warmth])
    return Budget((*budget.components, Component("meter", circuit.gain * value))).estimate(value)
