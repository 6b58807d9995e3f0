"""Faults as low-rank edits of the healthy network, and the edited network solved for many at once.

An edit K + Q D Q^T (Q: port patterns at the fault's place, D: its strength) changes the solution s to

    s' = s - K^-1 Q c,     (D^-1 + Q^T K^-1 Q) c = Q^T s

(Sherman, Morrison and Woodbury; W. W. Hager, Updating the inverse of a matrix, SIAM Review 31, 1989, from
memory). Q^T K^-1 Q is read out of the kernel's tables, so a hypothesis costs one small solve.

| fault | port | D^-1 (coil resistance r) |
|---|---|---|
| joint, open | series in the coil | 1 / (added resistance) |
| shorted coil | across the coil's two bars | - bridge |
| turns bridged, share x of the coil | the same port | - (r (1/x - 1) + bridge / x^2) |
| bar bridge | across neighbouring bars | - bridge |
| reversed coil | series and coil together | [[0, 1/2], [1/2, 0]] |

The row for bridged turns: a loop of x of the turns shares all flux of its coil, so in turns of the whole
coil it carries c' = x c, sees the EMF of the whole coil, and has the loop resistance left over in the table.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from barwise.errors import WindingError
from barwise.machine.faults import (
    BarBridge,
    Fault,
    GroundedCoil,
    HighResistanceJoint,
    OpenCoil,
    ReversedCoil,
    ShortedCoil,
    TurnShort,
)
from barwise.machine.kernel import BARS, COIL, EQUALIZER, SERIES, Kernel, Values, fully_equalized
from barwise.machine.winding import Winding

Ints = NDArray[np.intp]
OPEN_RATIO = 1e7
"""An open coil still conducts this little, so that cut-off arcs have a voltage: resistance over r."""
ABSENT = 1e15


@dataclass(frozen=True)
class Ports:
    """H sets of F ports, each set solved together.

    Attributes
    ----------
    kind, place : ndarray of int, shape (H, F)
        Port kind (see `kernel`) and the coil or bar it sits at, counting from 0.
    inverse : ndarray, shape (H, F, F)
        D^-1 in units of the coil resistance (a series entry is per coil resistance).
    """

    kind: Ints
    place: Ints
    inverse: Values

    def __len__(self) -> int:
        return int(self.kind.shape[0])


def bridge_ratio(fault: ShortedCoil | TurnShort, turns_per_coil: int) -> float:
    """Resistance, over the coil's, of the bridge across the whole coil that acts the same."""
    if isinstance(fault, ShortedCoil):
        return fault.bridge_ratio
    if not 0 < fault.turns <= turns_per_coil:
        raise WindingError(
            f"turn-short: {fault.turns} turns bridged, but a coil has {turns_per_coil}; "
            f"expected 1 to {turns_per_coil}"
        )
    share = fault.turns / turns_per_coil
    return (1 / share - 1) + fault.bridge_ratio / share**2


def fault_ports(winding: Winding, faults: Sequence[Fault]) -> Ports:
    """One set of ports for faults that are there together, equalizers included.

    Raises
    ------
    WindingError
        If a fault's place or severity cannot exist in the winding.
    """
    kind, place, blocks = [], [], []
    for fault in faults:
        kinds, at, block = _port_of(winding, fault)
        kind += kinds
        place += [at] * len(kinds)
        blocks.append(block)
    for at in _equalizer_places(winding):
        kind.append(EQUALIZER)
        place.append(at)
        blocks.append(np.array([[-0.1]]))
    inverse = np.zeros((1, len(kind), len(kind)))
    row = 0
    for block in blocks:
        n = block.shape[0]
        inverse[0, row : row + n, row : row + n] = block
        row += n
    return Ports(
        np.array([kind], dtype=np.intp).reshape(1, -1),
        np.array([place], dtype=np.intp).reshape(1, -1),
        inverse,
    )


def port_currents(
    kernel: Kernel, state: Ints, ports: Ports, sensed: Values, resistance: Values | float = 1.0
) -> Values:
    """Strength c at each port, for what the healthy network shows at the ports.

    Parameters
    ----------
    kernel : Kernel
        Batch of B electrical states.
    state : ndarray of int, shape (H,)
        Which state each set uses.
    ports : Ports
        H sets of F ports.
    sensed : ndarray, shape (H, F, K)
        Q^T s for K excitations.
    resistance : array_like, shape (H,)
        Coil resistance in the kernel's units.

    Returns
    -------
    ndarray, shape (H, F, K)
    """
    matrix = port_matrix(kernel, state, ports, resistance)
    if matrix.shape[1] == 0:
        return np.zeros_like(sensed)
    if matrix.shape[1] == 1:
        return np.asarray(sensed / matrix)
    if matrix.shape[1] == 2:
        return _solve_two(matrix, sensed)
    return np.asarray(np.linalg.solve(matrix, sensed))


def port_matrix(kernel: Kernel, state: Ints, ports: Ports, resistance: Values | float = 1.0) -> Values:
    """D^-1 + Q^T K^-1 Q for each set, shape (H, F, F)."""
    apart = (ports.place[:, :, None] - ports.place[:, None, :]) % kernel.winding.bars
    answer = kernel.answer[state[:, None, None], ports.kind[:, :, None], ports.kind[:, None, :], apart]
    return np.asarray(answer + _scaled_inverse(ports, resistance))


def _scaled_inverse(ports: Ports, resistance: Values | float) -> Values:
    """Bridges scale with the coil resistance, series entries with its inverse, a reversal not at all."""
    ohm = np.broadcast_to(np.asarray(resistance, dtype=float), (len(ports),))[:, None]
    series = (ports.kind == SERIES).astype(float)
    half = np.where(series > 0, ohm**-0.5, ohm**0.5)
    own = ports.inverse * half[:, :, None] * half[:, None, :]
    return np.asarray(own)


def _solve_two(matrix: Values, sensed: Values) -> Values:
    a, b = matrix[:, 0, 0, None], matrix[:, 0, 1, None]
    c, d = matrix[:, 1, 0, None], matrix[:, 1, 1, None]
    determinant = a * d - b * c
    solution = np.empty(sensed.shape, dtype=np.result_type(matrix, sensed))
    solution[:, 0] = (d * sensed[:, 0] - b * sensed[:, 1]) / determinant
    solution[:, 1] = (a * sensed[:, 1] - c * sensed[:, 0]) / determinant
    return solution


def _port_of(winding: Winding, fault: Fault) -> tuple[list[int], int, NDArray[np.float64]]:
    bars = winding.bars
    number = fault.bar if isinstance(fault, BarBridge) else fault.coil
    if not 1 <= number <= bars:
        raise WindingError(f"{type(fault).__name__}: place {number}, expected 1 to {bars}")
    at = number - 1
    match fault:
        case OpenCoil():
            return [SERIES], at, np.array([[1 / OPEN_RATIO]])
        case HighResistanceJoint(factor=factor):
            if factor <= 0:
                raise WindingError(f"joint factor {factor}, expected a number above 0")
            return [SERIES], at, np.array([[ABSENT if factor == 1 else 1 / (factor - 1)]])
        case ShortedCoil() | TurnShort():
            return [COIL], at, np.array([[-bridge_ratio(fault, winding.turns_per_coil)]])
        case BarBridge(bridge_ratio=ratio):
            return [BARS], at, np.array([[-ratio]])
        case ReversedCoil():
            return [SERIES, COIL], at, np.array([[0.0, 0.5], [0.5, 0.0]])
        case GroundedCoil():
            return [], at, np.zeros((0, 0))


def _equalizer_places(winding: Winding) -> list[int]:
    """First bars of the pieces of equalizer rings that do not reach every bar."""
    if winding.equalizers == 0 or fully_equalized(winding):
        return []
    span = winding.bars // winding.pole_pairs
    rings = {round(n * span / winding.equalizers) for n in range(winding.equalizers)}
    return [ring + piece * span for ring in sorted(rings) for piece in range(winding.pole_pairs)]
