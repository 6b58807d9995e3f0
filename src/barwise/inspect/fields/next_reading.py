"""Which reading would settle most, in the words of the bench."""

from __future__ import annotations

from collections.abc import Mapping

from barwise.inspect.fields.circuit import FieldCircuit
from barwise.inspect.fields.comparison import Comparison, usable

WORTH_A_LOOK = 0.05
"""A chance of something worth mentioning."""


def next_reading(
    circuit: FieldCircuit, comparison: Comparison, opened: Mapping[int, float], level: float
) -> str:
    """The one reading that would settle most, the plainest doubt first; empty where nothing would help."""
    if circuit.not_read:
        return f"Read coil {', '.join(coil.name for coil in circuit.not_read)}."
    if opened:
        return _open(circuit, opened)
    if not usable(circuit):
        return (
            "Feed 10 to 20 A through the coils and read the drop across each from its own ends: an ohmmeter "
            "on two leads cannot read so little."
        )
    return _doubtful(circuit, comparison) or _alone(circuit, comparison) or _worst(circuit, comparison, level)


def _open(circuit: FieldCircuit, opened: Mapping[int, float]) -> str:
    if len(opened) == len(circuit.coils) > 1:
        return "All read open: look at the feed and the first joint, then touch each coil at its own ends."
    names = ", ".join(circuit.coils[place].name for place in sorted(opened))
    return f"Touch coil {names} again at its own ends, scraped bright: open twice is open."


def _doubtful(circuit: FieldCircuit, comparison: Comparison) -> str:
    readings = usable(circuit)
    worst = max(range(len(readings)), key=lambda one: comparison.misread[one])
    if comparison.misread[worst] < WORTH_A_LOOK:
        return ""
    name = circuit.coils[readings[worst].coil].name
    return f"Read coil {name} once more, both probes on bare copper at its own ends."


def _alone(circuit: FieldCircuit, comparison: Comparison) -> str:
    if all(one.ratio is not None for one in comparison.coils):
        return ""
    if len(circuit.coils) == 1:
        return "One coil alone has nothing to be compared with: enter the sheet's resistance and the current."
    if circuit.fed_together:
        return (
            "Paths fed together see the same voltage, shorted or not: feed one path at a time and read its "
            "current, or clamp the current of each path."
        )
    return "Read the current of each path: without it coils of different paths cannot be compared."


def _worst(circuit: FieldCircuit, comparison: Comparison, level: float) -> str:
    worst = max(comparison.coils, key=lambda one: one.faulty)
    if worst.faulty >= level:
        return ""
    if len(circuit.coils) == 2 and circuit.sheet is None:
        return (
            "Two coils only tell that they differ. Enter the sheet's resistance, or read the same coils of a "
            "good frame at the same current."
        )
    if circuit.temperature is None and circuit.sheet is not None:
        return "Write down the temperature of the coils: without it the sheet's resistance decides little."
    return f"Read coil {worst.coil.name} and one other twice more, with a finer meter or more current."
