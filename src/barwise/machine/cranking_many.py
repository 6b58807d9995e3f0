"""Many starts at once, each with its own figures: how fast its engine turns in the end, or where it stops.

The equations of `barwise.machine.cranking_course`, with steps of fixed length instead of the solver's own, so
that thousands of guesses about a vehicle are worked through together. Where compressions dip deep the mean
speed is less than the balance of mean torques says: more is lost in the dips than is won between them.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from barwise.machine.cranking import CrankedEngine, Leg, Mesh
from barwise.machine.cranking_course import CREEPS_RAD_S, Rotor
from barwise.machine.engine import Floats, breakaway_torque, friction_torque, gas_torque, halfway_rad
from barwise.machine.motor import Motor, circuit_by_current, on_supply

Vector = NDArray[np.float64]
Truth = NDArray[np.bool_]

STEP_S = 2e-3
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


@dataclass(frozen=True)
class _State:
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
        self.motor, self.rotor, self.cranked = motor, rotor, cranked
        self._circuit = circuit_by_current(on_supply(motor, self.ohm), self.loaded_v)
        self.gearing = np.asarray(motor.gear_ratio) * mesh.ratio
        self.arrives = np.asarray(motor.gear_efficiency) * np.asarray(mesh.efficiency)
        self.inertia = cranked.engine.inertia
        self.moved = self.inertia + self.arrives * self.gearing**2 * rotor.inertia_kgm2
        self.breaks = np.asarray(breakaway_torque(cranked.engine, cranked.drag, cranked.viscosity_pa_s))
        self._tables = _gas_tables(cranked)

    def advanced(self, state: _State, step_s: float) -> tuple[_State, Vector]:
        """One step of Heun's rule in the state each case is in, then the changes of state."""
        first, load, handed, push = self._rates(state)
        driving = state.driving & (handed >= 0)
        there = _moved(state, first, driving, step_s)
        second, *_ = self._rates(there)
        both = tuple((one + other) / 2 for one, other in zip(first, second, strict=True))
        after = _moved(state, both, driving, step_s)
        return self._changed(after, driving, push), load

    def _rates(self, state: _State) -> tuple[tuple[Vector, ...], Vector, Vector, Vector]:
        """Rates of engine and motor while driving, of both while overrunning, and of the current."""
        armature_a, emf_v, flux_vs = self._circuit(state.current_a)
        turning, field = state.motor * self.gearing, np.asarray(flux_vs)
        drag = self.motor.friction_nm + self.motor.windage_nms2 * turning * turning
        drag = drag + self.motor.short_s * field * field * turning
        push = field * armature_a - drag
        cranked = self.cranked
        load = np.asarray(
            friction_torque(cranked.engine, cranked.drag, cranked.viscosity_pa_s, state.engine)
        ) + self._gas(state.angle)
        together = (self.arrives * self.gearing * push - load) / self.moved
        handed = self.inertia * together + load
        ahead = -load / self.inertia
        catching = push / (self.rotor.inertia_kgm2 * self.gearing)
        amperes = (emf_v - field * turning) / self.rotor.inductance_h
        rates = (together, ahead, catching, np.asarray(amperes))
        return rates, load, handed, np.asarray(push)

    def _changed(self, state: _State, driving: Truth, push: Vector) -> _State:
        caught = ~driving & (state.motor >= state.engine)
        stopped = state.moving & (state.engine <= 0)
        moving = state.moving & ~stopped
        if not state.moving.all():
            spare = self.arrives * self.gearing * push - self.breaks - self._gas(state.angle)
            moving = moving | (~state.moving & (spare > 0))
        engine = np.where(moving, state.engine, 0.0)
        motor = np.where(moving, np.where(driving | caught, state.engine, state.motor), 0.0)
        return replace(state, engine=engine, motor=motor, moving=moving, driving=driving | caught | ~moving)

    def _gas(self, angle: Vector) -> Vector:
        """Torque of the gas, off tables: it goes straight with the share lost [N m]."""
        from_rest, later, start, apart, leaked = self._tables
        gone = angle - start
        loss = np.asarray(self.cranked.drag.gas_loss)

        def off(table: tuple[Vector, Vector, Vector], at: Vector) -> Vector:
            return np.interp(at, table[0], table[1]) + loss * np.interp(at, table[0], table[2])

        first = gone < leaked
        if first.all():
            return off(from_rest, gone)
        steady = off(later, gone % apart)
        return np.where(first, off(from_rest, gone), steady) if first.any() else steady


_Table = tuple[Vector, Vector, Vector]


def _gas_tables(cranked: CrankedEngine) -> tuple[_Table, _Table, float, float, float]:
    """Gas torque against angle from rest, and over one compression; without loss, and what all of it adds."""
    engine, start = cranked.engine, halfway_rad(cranked.engine)
    apart, leaked = engine.cycle_rad / engine.cylinders, 2 * engine.closes
    kept, lost = (replace(cranked.drag, gas_loss=share) for share in (0.0, 1.0))

    def table(length: float, rest: float | None) -> _Table:
        at = np.linspace(0.0, length, _TABLE)
        without = np.array([gas_torque(engine, kept, start + float(one), rest) for one in at])
        wholly = np.array([gas_torque(engine, lost, start + float(one), rest) for one in at])
        return at, without, wholly - without

    return table(leaked, start), table(apart, None), start, apart, leaked


def _moved(state: _State, rates: Sequence[Vector], driving: Truth, step_s: float) -> _State:
    together, ahead, catching, amperes = rates
    free = np.where(driving, together, ahead)
    motor = np.where(driving, together, catching)
    return replace(
        state,
        angle=state.angle + np.where(state.moving, state.engine + free * step_s / 2, 0.0) * step_s,
        engine=state.engine + np.where(state.moving, free, 0.0) * step_s,
        motor=state.motor + np.where(state.moving, motor, 0.0) * step_s,
        current_a=state.current_a + amperes * step_s,
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
