"""What was assumed, what looks odd, and what readings across field coils can never tell."""

from __future__ import annotations

from collections.abc import Iterator

from barwise.inspect.fields.circuit import FieldCircuit
from barwise.inspect.fields.comparison import usable

_SLIPPED = 5.0
"""A reading this many times another is a slipped decimal or a wrong unit before it is a fault."""


def notes(circuit: FieldCircuit) -> Iterator[str]:
    """One sentence each."""
    if circuit.sheet is not None:
        yield from _against_the_sheet(circuit)
    named = {one.coil for one in circuit.readings if one.seen != "open"}
    useless = named - {one.coil for one in usable(circuit)}
    if useless:
        names = ", ".join(circuit.coils[place].name for place in sorted(useless))
        yield f"Coil {names}: meter too coarse, or contact too uncertain, to compare it with others."
    yield from _slipped(circuit)
    if len(circuit.coils) > 1:
        yield "Coils that are all shorted alike read alike: only the sheet's resistance would show that."
    yield "A coil joined the wrong way round reads the same: try each pole with a compass while it is fed."


def _against_the_sheet(circuit: FieldCircuit) -> Iterator[str]:
    if circuit.temperature is None:
        yield (
            "No temperature was entered, and none is assumed: any shop from 5 to 35 °C is allowed for, "
            "which leaves each resistance uncertain by up to 6 %. The comparison does not suffer."
        )
    if circuit.gain == 0:
        yield "The meter's accuracy was not entered: against the sheet only its last digit counts."


def _slipped(circuit: FieldCircuit) -> Iterator[str]:
    for seen in ("drop", "resistance"):
        for run in range(len(circuit.currents)):
            some = [one for one in usable(circuit) if one.seen == seen and one.run == run]
            middle = sorted(one.value for one in some)[len(some) // 2] if len(some) > 1 else 0.0
            for one in some:
                times = one.value / middle if middle else 1.0
                if not 1 / _SLIPPED < times < _SLIPPED:
                    name = circuit.coils[one.coil].name
                    yield f"Coil {name}: {times:.3g} times the others; slipped decimal or wrong unit?"
