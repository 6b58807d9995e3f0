"""The two windings of a starter's switch (solenoid) as a network, and what each way of feeding it reads.

The pull-in winding runs from the switch terminal S to the motor terminal M and returns through the motor;
the hold-in winding runs from S to ground, the case. So three terminals, and whatever is wrong inside, what
is seen from outside is one conductance between each two of them.

Source
------
TM 5-3805-258-24-1, p. 3-170: part of the current goes through the hold-in winding to ground, the rest through
the pull-in winding and then the motor's windings to ground. The reduction of the network is Kirchhoff's.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Path = Literal["S to M", "S to ground", "S to M and ground", "S to ground through the motor", "M to ground"]

PATHS: tuple[Path, ...] = (
    "S to M", "S to ground", "S to M and ground", "S to ground through the motor", "M to ground",
)  # fmt: skip
"""Fed at the first terminal; of the three, one that is not named hangs free."""

_LEAST_S = 1e-12
"""Nothing conducts less [siemens]; keeps an open network solvable."""


@dataclass(frozen=True)
class SwitchNetwork:
    """Conductances between the terminals [siemens], scalars or arrays that go together.

    `joint_ohm` is a resistance in the common lead at S, before the two windings part.
    """

    s_m: Array
    s_ground: Array
    m_ground: Array
    joint_ohm: Array


def network_of(pull_in_ohm: Array, hold_in_ohm: Array, joint_ohm: Array | float = 0.0) -> SwitchNetwork:
    """Two windings [ohm], infinite where one is open, and nothing between M and ground."""
    pull_in, hold_in = 1 / np.asarray(pull_in_ohm, float), 1 / np.asarray(hold_in_ohm, float)
    return SwitchNetwork(pull_in, hold_in, np.zeros_like(pull_in), np.asarray(joint_ohm, float))


def grounded_pull_in(pull_in_ohm: Array, hold_in_ohm: Array, place: Array) -> SwitchNetwork:
    """A pull-in winding that touches the case at the share `place` of its length, counted from S (0 to 1)."""
    to_case, beyond = 1 / (place * pull_in_ohm), 1 / ((1 - place) * pull_in_ohm)
    return SwitchNetwork(
        np.zeros_like(to_case), 1 / np.asarray(hold_in_ohm, float) + to_case, beyond, np.zeros_like(to_case)
    )


def current_a(network: SwitchNetwork, path: Path, volts: float, motor_ohm: Array | float = 0.0) -> Array:
    """Current [A] into the fed terminal at `volts`.

    Notes
    -----
    With a, b, c the conductances S-M, S-ground, M-ground: the free terminal is eliminated, so S to M reads
    a + b c / (b + c), S to ground b + a c / (a + c), M to ground c + a b / (a + b); M tied to ground leaves
    a + b. Through the motor, c has the motor beside it. The joint at S is in series.

    Examples
    --------
    >>> healthy = network_of(np.array(0.3), np.array(1.2))
    >>> [round(float(current_a(healthy, path, 12.0, 0.02)), 2) for path in PATHS]
    [40.0, 10.0, 50.0, 47.5, 8.0]
    """
    a, b, c = network.s_m, network.s_ground, network.m_ground
    if path == "M to ground":
        return volts * (c + _in_series(a, b))
    if path == "S to M":
        seen = a + _in_series(b, c)
    elif path == "S to M and ground":
        seen = a + b
    else:
        beyond = c if path == "S to ground" else c + 1 / np.maximum(motor_ohm, 1e-9)
        seen = b + _in_series(a, beyond)
    return volts * seen / (1 + network.joint_ohm * seen)


def _in_series(first: Array, second: Array) -> Array:
    return first * second / np.maximum(first + second, _LEAST_S)
