"""The healthy network edited at a few places, and solved for many sets of edits at once.

An edit K + Q D Q^T (Q: port patterns at their places, D: their strengths) changes the solution s to

    s' = s - K^-1 Q c,     (D^-1 + Q^T K^-1 Q) c = Q^T s

(Sherman, Morrison and Woodbury; W. W. Hager, Updating the inverse of a matrix, SIAM Review 31, 1989, from
memory). Q^T K^-1 Q is read out of the kernel's tables, so a hypothesis costs one small solve.

A column of Q is one port of the kernel, or through `Mix` a weighted sum of several. What ties voltages
without a strength of its own (the shaft, that no current may leave) borders D^-1 with rows that have no port.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from barwise.machine.kernel import KINDS, RING, SERIES, Kernel, Values, ring_bars

Array = NDArray[np.float64]
Ints = NDArray[np.intp]
SHAFT = KINDS
"""Kind of the column that is the shaft's voltage; it has no port."""


@dataclass(frozen=True)
class Mix:
    """M columns as weighted sums of F ports.

    Attributes
    ----------
    weight : ndarray, shape (F, M), or (H, F, M) where the sets differ
    kind : ndarray of int, shape (M,)
        What sort of column each is: a port kind, all its ports being of a like sort, or `SHAFT`.
    """

    weight: Array
    kind: Ints


@dataclass(frozen=True)
class Ports:
    """H sets of F ports, each set solved together.

    Attributes
    ----------
    kind, place : ndarray of int, shape (H, F)
        Port kind (see `kernel`) and the coil or bar it sits at, counting from 0.
    inverse : ndarray, shape (H, M, M)
        D^-1 in units of the coil resistance (a series entry is per coil resistance).
    mix : Mix, optional
        How M columns are made of the ports; without it each port is a column, M = F.
    """

    kind: Ints
    place: Ints
    inverse: Values
    mix: Mix | None = None

    def __len__(self) -> int:
        return int(self.kind.shape[0])


def port_currents(
    kernel: Kernel, state: Ints, ports: Ports, sensed: Values, resistance: Values | float = 1.0
) -> Values:
    """Strength at each port, for what the healthy network shows at the ports.

    Parameters
    ----------
    kernel : Kernel
        Batch of B electrical states.
    state : ndarray of int, shape (H,)
        Which state each set uses.
    ports : Ports
        H sets of F ports.
    sensed : ndarray, shape (H, F, K)
        Q^T s for K excitations, port by port.
    resistance : array_like, shape (H,)
        Coil resistance in the kernel's units.

    Returns
    -------
    ndarray, shape (H, F, K)
    """
    strength = column_strengths(kernel, state, ports, sensed, resistance)
    return strength if ports.mix is None else np.asarray(ports.mix.weight @ strength)


def column_strengths(
    kernel: Kernel, state: Ints, ports: Ports, sensed: Values, resistance: Values | float = 1.0
) -> Values:
    """Strength c of each column, shape (H, M, K); parameters as for `port_currents`."""
    matrix = port_matrix(kernel, state, ports, resistance)
    if ports.mix is not None:
        sensed = np.swapaxes(ports.mix.weight, -1, -2) @ sensed
    if matrix.shape[1] == 0:
        return np.zeros_like(sensed)
    if matrix.shape[1] == 1:
        return np.asarray(sensed / matrix)
    if matrix.shape[1] == 2:
        return _solve_two(matrix, sensed)
    strength = np.linalg.solve(matrix, sensed)
    if ports.mix is not None:
        # One step of refinement makes up for pivots chosen between rows of very different size.
        strength += np.linalg.solve(matrix, sensed - matrix @ strength)
    return np.asarray(strength)


def port_matrix(kernel: Kernel, state: Ints, ports: Ports, resistance: Values | float = 1.0) -> Values:
    """D^-1 + Q^T K^-1 Q for each set, shape (H, M, M)."""
    apart = (ports.place[:, :, None] - ports.place[:, None, :]) % kernel.winding.bars
    answer = kernel.answer[state[:, None, None], ports.kind[:, :, None], ports.kind[:, None, :], apart]
    if ports.mix is not None:
        answer = np.swapaxes(ports.mix.weight, -1, -2) @ answer @ ports.mix.weight
    return np.asarray(answer + _scaled_inverse(ports, resistance, 2 * ring_bars(kernel.winding)))


def _scaled_inverse(ports: Ports, resistance: Values | float, turns: int) -> Values:
    """Bridges scale with the coil resistance, series entries with its inverse, what joins the two not at all.

    A series port counts its coil `turns`-fold, so its entries are that much larger.
    """
    ohm = np.broadcast_to(np.asarray(resistance, dtype=float), (len(ports),))[:, None]
    if ports.mix is None:
        half = np.where(ports.kind == SERIES, turns * ohm**-0.5, ohm**0.5)
        return np.asarray(ports.inverse * half[:, :, None] * half[:, None, :])
    # Powers are added before they are taken: what does not scale stays exact, and can cancel.
    kind = ports.mix.kind
    power = np.select([(kind == SERIES) | (kind == SHAFT), kind == RING], [-0.5, 0.0], 0.5)
    count = np.where(kind == SERIES, turns, 1.0)
    scale = ohm[:, :, None] ** (power[:, None] + power[None, :])
    return np.asarray(ports.inverse * scale * (count[:, None] * count[None, :]))


def _solve_two(matrix: Values, sensed: Values) -> Values:
    a, b = matrix[:, 0, 0, None], matrix[:, 0, 1, None]
    c, d = matrix[:, 1, 0, None], matrix[:, 1, 1, None]
    determinant = a * d - b * c
    solution = np.empty(sensed.shape, dtype=np.result_type(matrix, sensed))
    solution[:, 0] = (d * sensed[:, 0] - b * sensed[:, 1]) / determinant
    solution[:, 1] = (a * sensed[:, 1] - c * sensed[:, 0]) / determinant
    return solution
