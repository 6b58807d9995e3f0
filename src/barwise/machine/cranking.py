"""How fast a starter turns an engine: battery, cables, motor and engine in balance.

The battery's loaded volts stand behind all resistances in turn; at the crank the motor's torque, geared up by
ring gear over pinion, meets the engine's mean torque. Numbers may be arrays, as in `barwise.machine.motor`.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from barwise.errors import InputError
from barwise.machine.engine import (
    Drag,
    Engine,
    Floats,
    breakaway_torque,
    friction_torque,
    mean_gas_torque,
)
from barwise.machine.motor import Motor, lock, on_supply, state_at_current

RPM = 2 * math.pi / 60
_HALVINGS = 55


@dataclass(frozen=True)
class Leg:
    """One stretch of the way from the battery's plates to the starter and back, its resistance in [ohm]."""

    name: str
    ohm: Floats


@dataclass(frozen=True)
class Mesh:
    """Pinion and ring gear.

    Parameters
    ----------
    ratio : float
        Ring gear teeth over pinion teeth.
    efficiency : float
        Share of the torque that arrives at the crank.
    """

    ratio: float
    efficiency: Floats = 0.9

    def __post_init__(self) -> None:
        if not 2 <= self.ratio <= 40:
            raise InputError("ring gear over pinion", f"{self.ratio:g}", "2 to 40; 10 to 20 is usual")
        if not np.all((np.asarray(self.efficiency) > 0.3) & (np.asarray(self.efficiency) <= 1)):
            raise InputError("mesh efficiency", str(self.efficiency), "above 0.3, up to 1")


@dataclass(frozen=True)
class CrankedEngine:
    """An engine with its drag and the thickness of its oil as it is now [Pa s]."""

    engine: Engine
    drag: Drag
    viscosity_pa_s: Floats


@dataclass(frozen=True)
class Cranking:
    """The balance.

    Attributes
    ----------
    speed_rad_s : float
        Of the crank [rad/s]; 0 where it does not turn.
    current_a, starter_v : float
        Battery current, volts at the starter [A, V].
    torque_nm : float
        At the crank [N m].
    turns : bool
        Whether the motor breaks it away and keeps it turning, compressions averaged out.
    """

    speed_rad_s: Floats
    current_a: Floats
    starter_v: Floats
    torque_nm: Floats
    turns: NDArray[np.bool_]


def balance(
    loaded_v: Floats, legs: Sequence[Leg], motor: Motor, mesh: Mesh, cranked: CrankedEngine
) -> Cranking:
    """Speed and current at which the starter keeps turning the engine, compressions averaged out.

    Parameters
    ----------
    loaded_v : float
        What stands behind the battery's resistance [V].
    legs : sequence of Leg
        The battery's own resistance among them.
    motor : Motor
        At its temperature.

    Notes
    -----
    Found by halving on the current: with more of it torque rises and speed falls, so there is one balance.
    """
    ohm = sum((np.asarray(leg.ohm) for leg in legs), np.asarray(0.0))
    supplied = on_supply(motor, ohm)
    gas = mean_gas_torque(cranked.engine, cranked.drag)

    def spare(current: Floats) -> tuple[Floats, Floats]:
        """Torque at the crank that is left over, and the speed [N m, rad/s]."""
        state = state_at_current(supplied, loaded_v, current)
        speed = np.maximum(0.0, np.asarray(state.speed_rad_s)) / mesh.ratio
        load = friction_torque(cranked.engine, cranked.drag, cranked.viscosity_pa_s, speed) + gas
        return state.torque_nm * mesh.ratio * mesh.efficiency - load, speed

    held = np.asarray(lock(supplied, loaded_v).current_a, dtype=float)
    breaks = breakaway_torque(cranked.engine, cranked.drag, cranked.viscosity_pa_s)
    locked = lock(supplied, loaded_v).torque_nm * mesh.ratio * mesh.efficiency
    turns = (np.asarray(spare(held)[0]) > 0) & (locked > breaks)
    low, high = np.broadcast_arrays(held * 1e-6, held, subok=False)
    low, high = low + 0.0 * turns, high + 0.0 * turns
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        enough = np.asarray(spare(middle)[0]) > 0
        low, high = np.where(enough, low, middle), np.where(enough, middle, high)
    current = np.where(turns, (low + high) / 2, held)
    left, speed = spare(current)
    load = friction_torque(cranked.engine, cranked.drag, cranked.viscosity_pa_s, speed) + gas
    return Cranking(
        speed_rad_s=np.where(turns, speed, 0.0)[()],
        current_a=current[()],
        starter_v=(loaded_v - ohm * current)[()],
        torque_nm=np.where(turns, load, load + left)[()],
        turns=turns,
    )
