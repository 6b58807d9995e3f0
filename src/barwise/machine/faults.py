"""What can be wrong with an armature winding, one frozen value per fault.

Severities are relative to the resistance of one healthy coil, so that they mean the same on every
armature. Coils and bars count from 1 in the direction of rotation seen from the commutator end.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class OpenCoil:
    """A coil that carries no current: broken wire or a joint that has let go."""

    coil: int


@dataclass(frozen=True)
class HighResistanceJoint:
    """A bad joint at a riser; `factor` is coil with joint over healthy coil (> 1)."""

    coil: int
    factor: float


@dataclass(frozen=True)
class ShortedCoil:
    """A whole coil bridged; `bridge_ratio` is bridge over coil resistance (0 is a dead short)."""

    coil: int
    bridge_ratio: float = 0.0


@dataclass(frozen=True)
class TurnShort:
    """`turns` of the coil's turns bridged among themselves by `bridge_ratio` coil resistances."""

    coil: int
    turns: int
    bridge_ratio: float = 0.0


@dataclass(frozen=True)
class BarBridge:
    """Bar `bar` and the next one bridged by `bridge_ratio` coil resistances."""

    bar: int
    bridge_ratio: float = 0.0


@dataclass(frozen=True)
class ReversedCoil:
    """A coil whose two ends were changed over at the risers."""

    coil: int


@dataclass(frozen=True)
class GroundedCoil:
    """A coil touching the core at `fraction` of its length from its starting bar."""

    coil: int
    fraction: float = 0.0
    ground_ratio: float = 0.0


Fault = OpenCoil | HighResistanceJoint | ShortedCoil | TurnShort | BarBridge | ReversedCoil | GroundedCoil
