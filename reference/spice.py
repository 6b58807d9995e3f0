"""The same armature given to a circuit simulator (ngspice) as a netlist.

Resistors, inductors with one K statement for each coupled pair, and a voltage source in each coil.
The frequency is chosen so that one henry has one ohm. Every reading is an analysis of its own:
between two of them the sources are altered to the next turn of the armature, and a meter that draws
current is moved on.
"""

from __future__ import annotations

import math
import re
import subprocess
import tempfile
from collections.abc import Iterable, Sequence
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from reference.armature import (
    SHAFT,
    Armature,
    Branch,
    bar_node,
    separate_parts,
    wiring,
)
from reference.probed import Probed

Array = NDArray[np.float64]
Complex = NDArray[np.complex128]

FREQUENCY = repr(1.0 / (2.0 * math.pi))
TIE_OHM = 1.0
"""Joins further parts of a circuit to its zero; no current flows there."""
SECONDS = 120.0

_PRINTED = re.compile(r"^\s*(\S+) = (\S+?)(?:,(\S+))?\s*$", re.MULTILINE)


def induced_complex(armature: Armature, meter_ohm: float | None = None) -> Complex:
    """Voltage between each bar and the next with its phase to the exciter's flux, shape (C,) [V]."""
    printed = run(exciter_deck(armature, meter_ohm))
    return np.array([printed[f"reading{bar}"] for bar in range(1, armature.winding.bars + 1)])


def direct_deck(armature: Armature, into: int, out: int, amps: float) -> str:
    """Netlist of the resistances, fed with direct current."""
    branches = wiring(armature)
    lines = ["* armature, direct current", *map(_resistor, branches), *_ties(branches)]
    lines += [f"Ifeed {bar_node(out)} {bar_node(into)} {_number(amps)}"]
    shown = [bar_node(bar) for bar in range(1, armature.winding.bars + 1)]
    if armature.grounded:
        shown.append(SHAFT)
    commands = ["op", *(f"let w_{node} = v({node})" for node in shown)]
    commands += [f"print w_{node}" for node in shown]
    return _deck(lines, commands)


def exciter_deck(armature: Armature, meter_ohm: float | None = None) -> str:
    """Netlist of the coupled coils on the exciter, with an analysis for each reading."""
    branches = wiring(armature)
    lines = ["* armature, on the exciter"]
    for branch in branches:
        lines += _coil(armature, branch) if branch.coil else [_resistor(branch)]
    coils = [branch for branch in branches if branch.coil]
    lines += [*_couplings(armature, coils), *_ties(branches)]
    bars = range(1, armature.winding.bars + 1)
    emf = armature.emf_v()
    if meter_ohm is not None:
        # The meter not in use is as good as absent: 1e12 times the load it stands for.
        away = _number(meter_ohm * 1e12)
        lines += [f"Rmeter{n} {bar_node(n)} {_to(armature, n)} {away}" for n in bars]
    commands: list[str] = []
    for bar in bars:
        for branch in coils:
            volts = _number(branch.share * emf[branch.coil - 1, bar - 1])
            commands.append(f"alter @v{branch.name}[acmag] = {volts}")
        commands += _reading(armature, bar, meter_ohm)
    return _deck(lines, commands)


def run(deck: str) -> dict[str, complex]:
    """What the simulator prints for a deck, by name.

    Raises
    ------
    RuntimeError
        If it stops with an error or prints nothing.
    """
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "armature.cir"
        path.write_text(deck)
        done = subprocess.run(
            ["ngspice", "-n", "-b", str(path)],
            capture_output=True,
            text=True,
            timeout=SECONDS,
            check=False,
        )
    printed = {
        name: complex(float(real), float(imaginary or 0.0))
        for name, real, imaginary in _PRINTED.findall(done.stdout)
        if name.startswith(("w_", "reading"))
    }
    if not printed or "rror" in done.stderr:
        raise RuntimeError(f"ngspice: {done.stderr[-500:] or done.stdout[-500:]}")
    return {name.removeprefix("w_"): value for name, value in printed.items()}


def _fed(armature: Armature, into: int, out: int, amps: float) -> tuple[Array, float | None]:
    printed = run(direct_deck(armature, into, out, amps))
    bars = range(1, armature.winding.bars + 1)
    shaft = printed[SHAFT].real if armature.grounded else None
    return np.array([printed[bar_node(bar)].real for bar in bars]), shaft


def _deck(lines: Iterable[str], commands: Iterable[str]) -> str:
    control = [".control", "set numdgt=16", *commands, "quit", ".endc", ".end", ""]
    return "\n".join([*lines, *control])


def _resistor(branch: Branch) -> str:
    if branch.ohm == 0.0:
        return f"Vjoin{branch.name} {branch.start} {branch.end} 0"
    return f"R{branch.name} {branch.start} {branch.end} {_number(branch.ohm)}"


def _ties(branches: Sequence[Branch]) -> list[str]:
    """Zero volts at one node of the first part, and the other parts tied to it."""
    first, *others = separate_parts(branches)
    ties = [f"Vzero {first[0]} 0 0"]
    return ties + [f"Rtie{n} {part[0]} 0 {_number(TIE_OHM)}" for n, part in enumerate(others)]


def _coil(armature: Armature, branch: Branch) -> list[str]:
    """EMF, resistance and inductance of a coil or a part of one, in series."""
    name = branch.name
    henry = branch.share**2 * armature.reactance_ohm(branch.coil, branch.coil)
    return [
        f"V{name} {branch.start} m{name} dc 0 ac 0",
        f"R{name} m{name} n{name} {_number(branch.ohm)}",
        f"L{name} n{name} {branch.end} {_number(henry)}",
    ]


def _couplings(armature: Armature, coils: Sequence[Branch]) -> list[str]:
    """K statements: parts of one coil share all flux, different coils what their pitches share."""
    lines = []
    for n, one in enumerate(coils):
        for other in coils[n + 1 :]:
            own = armature.reactance_ohm(one.coil, one.coil)
            factor = armature.reactance_ohm(one.coil, other.coil) / own
            pair = f"L{one.name} L{other.name}"
            if factor != 0.0:
                lines.append(f"K{one.name}_{other.name} {pair} {_number(factor)}")
    return lines


def _reading(armature: Armature, bar: int, meter_ohm: float | None) -> list[str]:
    commands = []
    if meter_ohm is not None:
        commands.append(f"alter rmeter{bar} = {_number(meter_ohm)}")
    commands.append(f"ac lin 1 {FREQUENCY} {FREQUENCY}")
    commands.append(f"let reading{bar} = v({bar_node(bar)}) - v({_to(armature, bar)})")
    commands.append(f"print reading{bar}")
    if meter_ohm is not None:
        commands.append(f"alter rmeter{bar} = {_number(meter_ohm * 1e12)}")
    commands.append("destroy all")
    return commands


def _to(armature: Armature, bar: int) -> str:
    return bar_node(armature.winding.wrap(bar + 1))


def _number(value: float) -> str:
    return repr(float(value))


_probed = Probed(_fed, induced_complex)
bar_voltages = _probed.bar_voltages
bar_drop = _probed.bar_drop
shaft_drop = _probed.shaft_drop
resistance = _probed.resistance
induced = _probed.induced
