"""What every test reads, from one full set of circuit equations solved by dense linear algebra.

Unknowns are all node voltages v and all branch currents i at once:

    A^T i     = j      current leaving each node by its branches is what is fed in
    A v - Z i = -e     each branch: voltage from start to end is Z i less its EMF

A has a row per branch, +1 at its start and -1 at its end. Z = R for direct current; on the exciter
it is R + j X with X the full matrix of self and mutual reactances. One node of each part that hangs
together is held at zero. Nothing is assumed about symmetry, so faults are just other branches.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

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
from reference.probed import Probed

Array = NDArray[np.float64]
Complex = NDArray[np.complex128]
Values = NDArray[Any]
"""Real for direct current, complex on the exciter."""

REFINEMENTS = 2
"""Elimination alone leaves 1e-9 where only the leak of open coils, 1e7 times the rest, sets a voltage."""

BUZZ_SHARE = 0.25
"""A strip buzzes over a coil with more than this part of a dead-shorted coil's ampere-turns:
common practice, no source."""


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

    matrix: Values
    node: dict[str, int]
    branches: Sequence[Branch]

    def solve(self, feeds: Array, emf: Array) -> tuple[Values, Values]:
        """Node voltages and branch currents for K feeds and EMFs.

        Parameters
        ----------
        feeds : ndarray, shape (N, K)
            Current led into each node [A].
        emf : ndarray, shape (B, K)
            EMF of each branch from start to end [V].

        Returns
        -------
        ndarray, shape (N, K)
            Node voltages [V].
        ndarray, shape (B, K)
            Branch currents [A].
        """
        feeds = feeds.copy()
        for part in separate_parts(self.branches):
            feeds[self.node[part[0]]] = 0.0  # that row now says "this node is at zero"
        known = np.concatenate([feeds, -emf])
        answer = np.linalg.solve(self.matrix, known)
        for _ in range(REFINEMENTS if self._left_to_leaks else 0):
            answer = answer + np.linalg.solve(self.matrix, self._missed(known, answer))
        return answer[: len(self.node)], answer[len(self.node) :]

    @property
    def _left_to_leaks(self) -> bool:
        """Whether two branches or more let next to nothing through, so that only they set some voltage."""
        ohm = np.array([branch.ohm for branch in self.branches])
        return int(np.sum(ohm > 1e3 * np.median(ohm))) > 1

    def _missed(self, known: Values, answer: Values) -> Values:
        """What the equations still lack, in the machine's longest numbers."""
        long = np.clongdouble if np.iscomplexobj(self.matrix) else np.longdouble
        return np.asarray(known - self.matrix.astype(long) @ answer, dtype=self.matrix.dtype)


def tableau(branches: Sequence[Branch], impedance: Values) -> Tableau:
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


def ground(armature: Armature) -> NDArray[np.bool_]:
    """Whether a lamp between each bar and the shaft lights, shape (C,)."""
    for part in separate_parts(wiring(armature)):
        if SHAFT in part:
            return np.array([bar_node(k) in part for k in _bars(armature)])
    return np.zeros(armature.winding.bars, dtype=bool)


def induced_complex(armature: Armature, meter_ohm: float | None = None) -> Complex:
    """Voltage between each bar and the next with its phase to the exciter's flux, shape (C,) [V].

    The armature is turned for each reading, so every column of the right-hand side has its own EMFs.
    """
    emf = armature.emf_v()
    if meter_ohm is not None:
        return np.array([_loaded(armature, emf, bar, meter_ohm) for bar in _bars(armature)])
    equations = on_exciter(armature)
    volts, _ = equations.solve(*_turned(equations, emf))
    pairs = [_pair(armature, equations, bar) for bar in _bars(armature)]
    return np.array([volts[a, k] - volts[b, k] for k, (a, b) in enumerate(pairs)])


def circulating(armature: Armature) -> Array:
    """Ampere-turns of each coil over those of a dead-shorted coil, shape (C,).

    The armature is turned so that the coil's EMF is at its greatest.
    """
    best = _best_turn(armature)
    dead = Fault("shorted-coil", 1)
    whole = Armature(armature.winding, (dead,), armature.electrical, armature.exciter)
    most = _ampere_turns(whole, best)[0]
    return np.asarray(_ampere_turns(armature, best) / most)


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
    bars: Array = volts[[equations.node[bar_node(bar)] for bar in _bars(armature)], 0]
    shaft = float(volts[equations.node[SHAFT], 0]) if SHAFT in equations.node else None
    return bars, shaft


def _impedance(armature: Armature, branches: Sequence[Branch]) -> Complex:
    coils = np.array([branch.coil for branch in branches])
    share = np.array([branch.share for branch in branches])
    count = armature.winding.bars
    by_distance = np.array([armature.reactance_ohm(1, coil) for coil in _bars(armature)])
    reactance = by_distance[(coils[:, None] - coils[None, :]) % count]
    # Branches of no coil have share zero and so no reactance.
    own = 1j * reactance * share[:, None] * share[None, :]
    return np.asarray(own + np.diag([branch.ohm for branch in branches]))


def _turned(equations: Tableau, emf: Array) -> tuple[Array, Array]:
    """No feed, and each branch's EMF from each coil's, shape (C, K)."""
    share = np.array([branch.share for branch in equations.branches])
    coil = np.array([branch.coil for branch in equations.branches])
    # Branches of no coil look up the last coil, at share zero.
    return np.zeros((len(equations.node), emf.shape[1])), share[:, None] * emf[coil - 1]


def _pair(armature: Armature, equations: Tableau, bar: int) -> tuple[int, int]:
    after = armature.winding.wrap(bar + 1)
    return equations.node[bar_node(after)], equations.node[bar_node(bar)]


def _loaded(armature: Armature, emf: Array, bar: int, meter_ohm: float) -> complex:
    after = armature.winding.wrap(bar + 1)
    meter = Branch("meter", bar_node(bar), bar_node(after), meter_ohm)
    equations = on_exciter(armature, [meter])
    volts, _ = equations.solve(*_turned(equations, emf[:, bar - 1 : bar]))
    a, b = _pair(armature, equations, bar)
    return complex(volts[a, 0] - volts[b, 0])


def _best_turn(armature: Armature) -> int:
    """Places from the probing place to where a coil's EMF is greatest."""
    return int(np.argmax(np.abs(armature.emf_v()[:, 0])))


def _ampere_turns(armature: Armature, best: int) -> Array:
    """Ampere-turns over turns of each coil, each turned to its best place, shape (C,) [A]."""
    equations = on_exciter(armature)
    starts = [armature.winding.wrap(coil - best) - 1 for coil in _bars(armature)]
    _, amps = equations.solve(*_turned(equations, armature.emf_v()[:, starts]))
    total = np.zeros(armature.winding.bars, dtype=complex)
    for row, branch in enumerate(equations.branches):
        if branch.coil:
            total[branch.coil - 1] += branch.share * amps[row, branch.coil - 1]
    return np.abs(total)


_probed = Probed(_fed, induced_complex)
bar_voltages = _probed.bar_voltages
bar_drop = _probed.bar_drop
shaft_drop = _probed.shaft_drop
resistance = _probed.resistance
induced = _probed.induced
