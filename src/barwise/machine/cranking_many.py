"""Many starts at once, each with its own figures: how fast its engine turns in the end, or where it stops.

The equations of `barwise.machine.cranking_course`, with steps of fixed length instead of the solver's own, so
that thousands of guesses about a vehicle are worked through together. Where compressions dip deep the mean
speed is less than the balance of mean torques says: more is lost in the dips than is won between them.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from barwise.machine.cranking import CrankedEngine, Leg, Mesh
from barwise.machine.cranking_course import CREEPS_RAD_S, Rotor
from barwise.machine.engine import (
    Drag,
    Engine,
    Floats,
    breakaway_torque,
    friction_torque,
    gas_torque,
    halfway_rad,
)
from barwise.machine.motor import Motor, circuit_by_current, drag_torque, on_supply, series_ohm

Vector = NDArray[np.float64]
Truth = NDArray[np.bool_]

STEP_S = 2e-3
"""A quarter of it changes the speed by less than 0.1 % in 95 of 100 starts of the demo; half as much again
makes an engine of one cylinder, which runs ahead of its pinion, a tenth too fast."""
_SETTLES = 3
SECONDS = 1.2
_LOOKED_AT = 0.55
"""Share of the time at its end over which speed is averaged, to whole compressions where there are any."""
_TABLE = 361


@dataclass(frozen=True)
class ManyStarts:
    """What each start came to, arrays of one shape.

    Attributes
    ----------
    speed_rad_s, current_a, torque_nm, starter_v : ndarray
        Means over its last compressions [rad/s, A, N m, V]; speed 0 where it stands.
    lowest_v : ndarray
        Lowest volts at the starter [V].
    turns : ndarray of bool
        Whether it is turning at the end.
    """

    speed_rad_s: Vector
    current_a: Vector
    torque_nm: Vector
    starter_v: Vector
    lowest_v: Vector
    turns: Truth


def many_starts(
    loaded_v: Floats, legs: Sequence[Leg], motor: Motor, rotor: Rotor, mesh: Mesh, cranked: CrankedEngine
) -> ManyStarts:
    """Start every case from standstill.

    Parameters
    ----------
    loaded_v, legs, motor, mesh, cranked
        As of `barwise.machine.cranking.balance`; their numbers may be arrays that broadcast.
    rotor : Rotor
    """
    bench = _Bench(loaded_v, legs, motor, rotor, mesh, cranked)
    shape = np.broadcast_shapes(
        *(np.shape(one) for one in (bench.loaded_v, bench.ohm, motor.flux_vs, motor.armature_ohm,
                                    motor.joint_ohm, mesh.efficiency, cranked.viscosity_pa_s,
                                    cranked.drag.friction_pa, cranked.drag.gas_loss))
    )  # fmt: skip
    state = _State.at_rest(shape, halfway_rad(cranked.engine))
    steps, kept = round(SECONDS / STEP_S), round(_LOOKED_AT * SECONDS / STEP_S)
    trace = np.empty((4, kept, *shape))
    lowest = np.full(shape, np.inf)
    for step in range(steps):
        state, load = bench.advanced(state, STEP_S)
        lowest = np.minimum(lowest, bench.loaded_v - bench.ohm * state.current_a)
        if step >= steps - kept:
            trace[:, step - steps + kept] = state.angle, state.engine, state.current_a, load
    return _summary(bench, trace, lowest, state.moving)


class _State(NamedTuple):
    """Angle, speeds of engine and motor at the crank, current; and which of the three states each is in."""

    angle: Vector
    engine: Vector
    motor: Vector
    current_a: Vector
    moving: Truth
    driving: Truth

    @classmethod
    def at_rest(cls, shape: tuple[int, ...], angle: float) -> _State:
        nothing = np.zeros(shape)
        false = np.zeros(shape, dtype=bool)
        return cls(nothing + angle, nothing, nothing, nothing, false, ~false)


class _Rates(NamedTuple):
    """Rates of engine and motor while driving, of both while overrunning, and of the current."""

    together: Vector
    ahead: Vector
    catching: Vector
    amperes: Vector


class _Bench:
    """All that does not change during the starts."""

    def __init__(
        self,
        loaded_v: Floats,
        legs: Sequence[Leg],
        motor: Motor,
        rotor: Rotor,
        mesh: Mesh,
        cranked: CrankedEngine,
    ) -> None:
        self.loaded_v = np.asarray(loaded_v, dtype=float)
        self.ohm: Vector = sum((np.asarray(leg.ohm, dtype=float) for leg in legs), np.asarray(0.0))
        self.motor, self.cranked = motor, cranked
        supplied = on_supply(motor, self.ohm)
        self._circuit = circuit_by_current(supplied, self.loaded_v)
        self.gearing = np.asarray(motor.gear_ratio) * mesh.ratio
        self.arrives = np.asarray(motor.gear_efficiency) * np.asarray(mesh.efficiency)
        self.inertia = cranked.engine.inertia
        self.moved = self.inertia + self.arrives * self.gearing**2 * rotor.inertia_kgm2
        self.breaks = np.asarray(breakaway_torque(cranked.engine, cranked.drag, cranked.viscosity_pa_s))
        self._gas = _Gas(cranked)
        self._pushes = self.arrives * self.gearing
        self._catches = rotor.inertia_kgm2 * self.gearing
        # A current that settles within a few steps is given those: it shapes the inrush, not the speed.
        self._henry = np.maximum(rotor.inductance_h, np.asarray(series_ohm(supplied)) * _SETTLES * STEP_S)

    def advanced(self, state: _State, step_s: float) -> tuple[_State, Vector]:
        """One step of Heun's rule in the state each case is in, then the changes of state."""
        first, load, push = self._rates(state)
        driving = state.driving & (self.inertia * first.together + load >= 0)
        there = _moved(state, first, driving, step_s)
        second, *_ = self._rates(there)
        both = _Rates(*((one + other) / 2 for one, other in zip(first, second, strict=True)))
        return self._changed(_moved(state, both, driving, step_s), driving, push), load

    def _rates(self, state: _State) -> tuple[_Rates, Vector, Vector]:
        """Rates, what the engine holds against them, and what the motor gives at its shaft [N m]."""
        armature_a, emf_v, flux_vs = self._circuit(state.current_a)
        turning, cranked = state.motor * self.gearing, self.cranked
        push = flux_vs * armature_a - drag_torque(self.motor, flux_vs, turning)
        held = friction_torque(cranked.engine, cranked.drag, cranked.viscosity_pa_s, state.engine)
        load = held + self._gas.torque(state.angle)
        rates = _Rates(
            together=(self._pushes * push - load) / self.moved,
            ahead=-load / self.inertia,
            catching=push / self._catches,
            amperes=(emf_v - flux_vs * turning) / self._henry,
        )
        return rates, np.asarray(load), np.asarray(push)

    def _changed(self, state: _State, driving: Truth, push: Vector) -> _State:
        caught = driving | (state.motor >= state.engine)
        moving = state.moving & (state.engine > 0)
        if not state.moving.all():
            spare = self._pushes * push - self.breaks - self._gas.torque(state.angle)
            moving = moving | (~state.moving & (spare > 0))
        engine = np.where(moving, state.engine, 0.0)
        motor = np.where(caught, engine, np.where(moving, state.motor, 0.0))
        return _State(state.angle, engine, motor, state.current_a, moving, caught | ~moving)


class _Gas:
    """Torque of the gas, off tables of even steps: from rest, and over one compression after that.

    It goes straight with the share lost: one table has it without loss, the other what all of it adds.
    """

    def __init__(self, cranked: CrankedEngine) -> None:
        engine = cranked.engine
        self._start, self._loss = halfway_rad(engine), np.asarray(cranked.drag.gas_loss)
        self._apart, self._leaked = engine.cycle_rad / engine.cylinders, 2 * engine.closes
        self._kept, self._lost = _gas_tables(engine, cranked.drag.polytropic)
        self._steps = (_TABLE - 1) / self._leaked, (_TABLE - 1) / self._apart

    def torque(self, angle: Vector) -> Vector:
        """At crank angles [N m]."""
        gone = angle - self._start
        first = gone < self._leaked
        later = (gone % self._apart) * self._steps[1] + _TABLE
        place = np.where(first, gone * self._steps[0], later) if first.any() else later
        under = place.astype(np.intp)
        rest = place - under
        kept, lost = ((table[under], table[under + 1]) for table in (self._kept, self._lost))
        low, high = (kept[side] + self._loss * lost[side] for side in (0, 1))
        return np.asarray(low + rest * (high - low))


@lru_cache(maxsize=16)
def _gas_tables(engine: Engine, polytropic: float) -> tuple[Vector, Vector]:
    """Gas torque from rest, then over one compression: without loss, and what all of it adds [N m].

    Shape (2 `_TABLE` + 1,); the last value stands twice.
    """
    start, apart = halfway_rad(engine), engine.cycle_rad / engine.cylinders
    rested = [(float(one), start) for one in np.linspace(0.0, 2 * engine.closes, _TABLE)]
    steady = [(float(one), None) for one in np.linspace(0.0, apart, _TABLE)]
    without, wholly = (
        np.array([gas_torque(engine, drag, start + at, rest) for at, rest in (*rested, *steady, steady[-1])])
        for drag in (Drag(0.0, gas_loss=share, polytropic=polytropic) for share in (0.0, 1.0))
    )
    return without, wholly - without


def _moved(state: _State, rates: _Rates, driving: Truth, step_s: float) -> _State:
    free = np.where(driving, rates.together, rates.ahead)
    motor = np.where(driving, rates.together, rates.catching)
    if not state.moving.all():
        free, motor = np.where(state.moving, free, 0.0), np.where(state.moving, motor, 0.0)
    # one that stands has no speed
    return state._replace(
        angle=state.angle + (state.engine + free * (step_s / 2)) * step_s,
        engine=state.engine + free * step_s,
        motor=state.motor + motor * step_s,
        current_a=state.current_a + rates.amperes * step_s,
    )


def _summary(bench: _Bench, trace: Vector, lowest: Vector, moving: Truth) -> ManyStarts:
    """Means over whole compressions at the end of the trace; over all of it where there is not one."""
    angle, engine, current, load = trace
    apart = bench.cranked.engine.cycle_rad / bench.cranked.engine.cylinders
    whole = np.floor((angle[-1] - angle[0]) / apart) * apart
    counted = np.where(whole > 0, angle > angle[-1] - whole, True)
    many = counted.sum(axis=0)

    def mean(values: Vector) -> Vector:
        return np.asarray((values * counted).sum(axis=0) / many)

    amperes = mean(current)
    # one that creeps against a compression cranks no more than one that stands
    last = max(1, round(0.1 * SECONDS / STEP_S))
    moving = moving & (engine[-last:].max(axis=0) > CREEPS_RAD_S)
    # one that only just stopped has not been standing for all of the time looked at
    standing = np.where(moving, amperes, current[-1])
    return ManyStarts(
        speed_rad_s=np.where(moving, mean(engine), 0.0),
        current_a=standing,
        torque_nm=mean(load),
        starter_v=bench.loaded_v - bench.ohm * standing,
        lowest_v=lowest,
        turns=moving,
    )
