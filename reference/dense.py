"""What every test reads, from one full set of circuit equations solved by dense linear algebra.

Unknowns are all node voltages v and all branch currents i at once:

    A^T i     = j      current leaving each node by its branches is what is fed in
    A v - Z i = -e     each branch: voltage from start to end is Z i less its EMF

A has a row per branch, +1 at its start and -1 at its end. Z = R for direct current; on the exciter it is
R + j X with X the full matrix of self and mutual reactances. One node of each part that hangs together
is held at zero. Nothing is assumed about symmetry, so faults are just other branches.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from reference.armature import (
    SHAFT,
    Armature,
    Branch,
    Fault,
    bar_node,
    separate_parts,
    wiring,
)

Array = NDArray[np.float64]
Complex = NDArray[np.complex128]

BUZZ_SHARE = 0.25
"""A strip buzzes over a coil with more than this part of a dead-shorted coil's current: common
practice, no source."""


@dataclass(frozen=True)
class Tableau:
    """The equations of one circuit.

    Attributes
    ----------
    matrix : ndarray, shape (N + B, N + B)
        Rows: N nodes, then B branches. Columns: N voltages, then B currents.
    node : dict
        Row of each node.
    branches : sequence of Branch
    """

    matrix: Complex | Array
    node: dict[str, int]
    branches: Sequence[Branch]

    def solve(self, feeds: Array, emf: Array) -> tuple[Complex | Array, Complex | Array]:
        """Node voltages (N, K) and branch currents (B, K) for feeds (N, K) [A] and EMFs (B, K) [V]."""
        feeds = feeds.copy()
        for part in separate_parts(self.branches):
            feeds[self.node[part[0]]] = 0.0  # that row now says "this node is at zero"
        answer = np.linalg.solve(self.matrix, np.concatenate([feeds, -emf]))
        return answer[: len(self.node)], answer[len(self.node) :]


def tableau(branches: Sequence[Branch], impedance: Complex | Array) -> Tableau:
    """Equations of a circuit with the given (B, B) branch impedance matrix [ohm]."""
    names = sorted({b.start for b in branches} | {b.end for b in branches})
    node = {name: row for row, name in enumerate(names)}
    incidence = np.zeros((len(branches), len(node)))
    for row, branch in enumerate(branches):
        incidence[row, node[branch.start]] += 1.0
        incidence[row, node[branch.end]] -= 1.0
    count = len(node)
    matrix = np.zeros((count + len(branches),) * 2, dtype=impedance.dtype)
    matrix[:count, count:] = incidence.T
    matrix[count:, :count] = incidence
    matrix[count:, count:] = -impedance
    for part in separate_parts(branches):
        row = node[part[0]]
        matrix[row] = 0.0
        matrix[row, row] = 1.0
    return Tableau(matrix, node, branches)


def direct(armature: Armature) -> Tableau:
    """Equations for direct current: resistances only."""
    branches = wiring(armature)
    return tableau(branches, np.diag([branch.ohm for branch in branches]))


def on_exciter(armature: Armature, extra: Sequence[Branch] = ()) -> Tableau:
    """Equations on the exciter: resistances and the full reactance matrix; `extra` is the meter."""
    branches = (*wiring(armature), *extra)
    return tableau(branches, _impedance(armature, branches))


def bar_voltages(armature: Armature, into: int, out: int, amps: float) -> Array:
    """Voltage of each bar, to one bar, while fed, shape (C,) [V]."""
    return _fed(armature, into, out, amps)[0]


def bar_drop(armature: Armature, into: int, out: int, amps: float) -> Array:
    """Drop from each bar to the next, signed, shape (C,) [V]."""
    volts = bar_voltages(armature, into, out, amps)
    return volts - np.roll(volts, -1)


def shaft_drop(armature: Armature, into: int, out: int, amps: float) -> Array:
    """Drop from each bar to the shaft of a grounded armature, signed, shape (C,) [V]."""
    volts, shaft = _fed(armature, into, out, amps)
    if shaft is None:
        raise ValueError("nothing joins the winding to the shaft")
    return volts - shaft


def resistance(armature: Armature, start: int, end: int) -> float:
    """Resistance between two bars [ohm]."""
    volts = bar_voltages(armature, start, end, 1.0)
    return float(volts[start - 1] - volts[end - 1])


def ground(armature: Armature) -> NDArray[np.bool_]:
    """Whether a lamp between each bar and the shaft lights, shape (C,)."""
    for part in separate_parts(wiring(armature)):
        if SHAFT in part:
            return np.array([bar_node(k) in part for k in _bars(armature)])
    return np.zeros(armature.winding.bars, dtype=bool)


def induced(armature: Armature, meter_ohm: float | None = None) -> Array:
    """Alternating voltage between each bar and the next, shape (C,) [V].

    The armature is turned for each reading, so every column of the right-hand side has its own EMFs.
    A meter that draws current is a branch across the probed pair, so each reading is its own circuit.
    """
    return np.abs(induced_complex(armature, meter_ohm))


def induced_complex(armature: Armature, meter_ohm: float | None = None) -> Complex:
    """The same with its phase to the exciter's flux, shape (C,) [V]."""
    if meter_ohm is None:
        equations = on_exciter(armature)
        volts, _ = equations.solve(*_turned(armature, equations, list(_bars(armature))))
        pairs = [_pair(armature, equations, bar) for bar in _bars(armature)]
        return np.array([volts[a, k] - volts[b, k] for k, (a, b) in enumerate(pairs)])
    return np.array([_loaded(armature, bar, meter_ohm) for bar in _bars(armature)])


def circulating(armature: Armature) -> Array:
    """Greatest current in each coil, turned to where its EMF is greatest, over a dead-shorted coil's."""
    best = _best_turn(armature)
    dead = Fault("shorted-coil", 1)
    whole = Armature(armature.winding, (dead,), armature.electrical, armature.exciter)
    most = _currents(whole, best)[0]
    return np.asarray(_currents(armature, best) / most)


def blade(armature: Armature) -> NDArray[np.bool_]:
    """Whether a steel strip buzzes over each slot, shape (slots,)."""
    if armature.winding.slots is None:
        raise ValueError("the winding's slots are not known")
    buzz = np.zeros(armature.winding.slots, dtype=bool)
    for coil, share in enumerate(circulating(armature), start=1):
        for slot in armature.winding.coil_slots(coil):
            buzz[slot - 1] |= bool(share > BUZZ_SHARE)
    return buzz


def _bars(armature: Armature) -> range:
    return range(1, armature.winding.bars + 1)


def _fed(armature: Armature, into: int, out: int, amps: float) -> tuple[Array, float | None]:
    """Bar voltages and the shaft's, if anything joins it to the winding."""
    equations = direct(armature)
    feeds = np.zeros((len(equations.node), 1))
    feeds[equations.node[bar_node(into)]] += amps
    feeds[equations.node[bar_node(out)]] -= amps
    volts, _ = equations.solve(feeds, np.zeros((len(equations.branches), 1)))
    bars = volts[[equations.node[bar_node(bar)] for bar in _bars(armature)], 0]
    shaft = float(volts[equations.node[SHAFT], 0]) if SHAFT in equations.node else None
    return bars, shaft


def _impedance(armature: Armature, branches: Sequence[Branch]) -> Complex:
    coils = np.array([branch.coil for branch in branches])
    share = np.array([branch.share for branch in branches])
    count = armature.winding.bars
    apart = [armature.reactance_ohm(1, coil) for coil in range(1, count + 1)]
    reactance = np.array(apart)[(coils[:, None] - coils[None, :]) % count]
    # Branches of no coil have share zero and so no reactance.
    own = 1j * reactance * share[:, None] * share[None, :]
    return np.asarray(own + np.diag([branch.ohm for branch in branches]))


def _turned(armature: Armature, equations: Tableau, bars: Sequence[int]) -> tuple[Array, Array]:
    """No feed, and each branch's EMF with each of `bars` in turn at the probing place."""
    count = armature.winding.bars
    by_place = [armature.emf_v(coil, 1) for coil in range(1, count + 1)]
    emf = np.zeros((len(equations.branches), len(bars)))
    for row, branch in enumerate(equations.branches):
        if branch.coil:
            for column, bar in enumerate(bars):
                emf[row, column] = branch.share * by_place[(branch.coil - bar) % count]
    return np.zeros((len(equations.node), len(bars))), emf


def _pair(armature: Armature, equations: Tableau, bar: int) -> tuple[int, int]:
    after = armature.winding.wrap(bar + 1)
    return equations.node[bar_node(after)], equations.node[bar_node(bar)]


def _loaded(armature: Armature, bar: int, meter_ohm: float) -> complex:
    after = armature.winding.wrap(bar + 1)
    meter = Branch("meter", bar_node(bar), bar_node(after), meter_ohm)
    equations = on_exciter(armature, [meter])
    volts, _ = equations.solve(*_turned(armature, equations, [bar]))
    a, b = _pair(armature, equations, bar)
    return complex(volts[a, 0] - volts[b, 0])


def _best_turn(armature: Armature) -> int:
    """Places from the probing place to where a coil's EMF is greatest."""
    count = armature.winding.bars
    return int(np.argmax([abs(armature.emf_v(coil, 1)) for coil in range(1, count + 1)]))


def _currents(armature: Armature, best: int) -> Array:
    """Greatest current of any part of each coil, each in its best place, shape (C,) [A]."""
    equations = on_exciter(armature)
    starts = [armature.winding.wrap(coil - best) for coil in _bars(armature)]
    _, amps = equations.solve(*_turned(armature, equations, starts))
    most = np.zeros(armature.winding.bars)
    for row, branch in enumerate(equations.branches):
        if branch.coil:
            column = branch.coil - 1
            most[column] = max(most[column], abs(amps[row, column]))
    return most
