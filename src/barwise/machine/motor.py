"""How a direct-current motor runs: torque, speed, power, efficiency at any current, voltage, temperature.

Series, series-parallel, compound and permanent-magnet motors in steady state, healthy or with what can be
wrong with them: `Motor` is the motor as it is. Every number of a `Motor` may be an array; arrays broadcast
against each other, against volts and against currents, so many motors are worked out at once.

    V = E + I (Ra + Rf + Rbrush) + Vb        E = k phi w        T = k phi I - drag

Sources
-------
The two equations: any text on electrical machines, such as P. C. Sen, Principles of Electric Machines and
Power Electronics, chapter 4 (its example 4.9 is a test). The saturation curve is a common way to join a
straight line to a ceiling (derived here; docs/motor-model.md).
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Any, Literal, TypeAlias

import numpy as np
from numpy.typing import NDArray

from barwise.errors import MotorError

Floats: TypeAlias = "float | NDArray[np.float64]"
FieldKind = Literal["series", "series-parallel", "compound", "permanent-magnet"]

REFERENCE_C = 20.0
"""A motor's resistances and flux are those at this temperature [degC]."""
COPPER_ZERO_C = 234.5
"""Copper's resistance, drawn on as a straight line, is nought at minus this temperature [degC]."""
_LEAST_SHARE = 1e-5
_HALVINGS, _CHORDS = 7, 8
_THIRDS, _NEWTONS = 60, 4


@dataclass(frozen=True)
class Motor:
    """A motor as it is, at 20 °C; what can be wrong with it stands last and is nought when it is healthy.

    Parameters
    ----------
    field : str
        ``series``, ``series-parallel``, ``compound`` or ``permanent-magnet``.
    flux_vs : float
        k phi when the iron is saturated; of a permanent-magnet motor at no current [V s/rad = N m/A].
    armature_ohm, field_ohm : float
        Armature winding; series field, all its paths together [ohm].
    friction_nm, viscous_nms, windage_nms2 : float
        Drag that does not depend on speed (brushes, bushes, hysteresis), that goes with it (grease, eddy
        currents in the core), and that goes as its square, at the armature [N m, N m s, N m s2].
    saturation_a : float
        Current at which the straight line of the unsaturated iron meets the ceiling `flux_vs` [A].
    knee : float
        How sharp the bend is: 1 gradual, 4 nearly a corner [1].
    residual : float
        Flux without any current, as a share of `flux_vs` [1].
    reaction_per_a : float
        Share of the flux that each ampere in the armature takes away [1/A].
    brush_v, brush_bend_a, brush_ohm : float
        Brush drop that hardly depends on current, both brushes; current beyond which it hardly does, 0 where
        it never does; contact and leads [V, A, ohm].
    shunt_ohm, shunt_turns : float
        Shunt coil of a compound motor, and its turns for one of the series field [ohm, 1].
    field_paths : int
        Paths of the series field side by side.
    gear_ratio, gear_efficiency : float
        Armature turns for one of the output shaft; share of the torque that arrives [1].
    magnet_per_k : float
        Change of the magnets' flux per kelvin [1/K]. Ferrite, common practice from memory: -0.002.
    joint_ohm : float
        Further resistance ahead of everything: a bad joint, or the source's own [ohm].
    lost_turns : float
        Share of the field's turns that is shorted [1].
    open_paths : float
        Paths of the field that carry nothing.
    short_s : float
        Shorted armature turns as a conductance across the whole back EMF: they brake with E2 times it [S].
    short_corner_rad_s : float
        Armature speed at which their leakage reactance equals their resistance; faster, they brake less
        [rad/s].
    ground_s, ground_place : float
        Leak to the housing [S], and the share of the series field that lies before it: 0 at the stud, 1
        at the brushes [1].
    """

    field: FieldKind
    flux_vs: Floats
    armature_ohm: Floats
    field_ohm: Floats = 0.0
    friction_nm: Floats = 0.0
    viscous_nms: Floats = 0.0
    windage_nms2: Floats = 0.0
    saturation_a: Floats = 100.0
    knee: Floats = 2.0
    residual: Floats = 0.0
    reaction_per_a: Floats = 0.0
    brush_v: Floats = 0.0
    brush_bend_a: Floats = 0.0
    brush_ohm: Floats = 0.0
    shunt_ohm: Floats = np.inf
    shunt_turns: Floats = 0.0
    field_paths: int = 1
    gear_ratio: Floats = 1.0
    gear_efficiency: Floats = 1.0
    magnet_per_k: Floats = -0.002
    joint_ohm: Floats = 0.0
    lost_turns: Floats = 0.0
    open_paths: Floats = 0.0
    short_s: Floats = 0.0
    short_corner_rad_s: Floats = np.inf
    ground_s: Floats = 0.0
    ground_place: Floats = 1.0

    def __post_init__(self) -> None:
        # Arrays are made by those who know what they do, and there may be thousands of them.
        given = vars(self)
        for name in _POSITIVE:
            value = given[name]
            if not isinstance(value, np.ndarray) and not value > 0:
                raise MotorError(f"motor, {name}: found {value:g}, expected more than 0")
        for name in _NOT_NEGATIVE:
            value = given[name]
            if not isinstance(value, np.ndarray) and not value >= 0:
                raise MotorError(f"motor, {name}: found {value:g}, expected 0 or more")
        if not isinstance(self.open_paths, np.ndarray) and not self.open_paths < self.field_paths:
            found = f"{self.open_paths:g} of {self.field_paths}"
            raise MotorError(f"motor, open_paths: found {found}, expected at least one path left")


_POSITIVE = (
    "flux_vs", "saturation_a", "knee", "gear_ratio", "gear_efficiency", "shunt_ohm", "field_paths",
)  # fmt: skip
_NOT_NEGATIVE = (
    "armature_ohm", "field_ohm", "friction_nm", "viscous_nms", "windage_nms2", "residual", "reaction_per_a",
    "brush_v", "brush_bend_a", "brush_ohm", "shunt_turns", "joint_ohm", "lost_turns", "open_paths",
    "short_s", "ground_s", "ground_place",
)  # fmt: skip


@dataclass(frozen=True)
class State:
    """One steady state, or many at once.

    Attributes
    ----------
    volts, current_a : float
        At the terminals [V, A].
    armature_a, emf_v, flux_vs : float
        Current in the armature, back EMF, k phi [A, V, V s/rad].
    speed_rad_s, torque_nm : float
        Of the output shaft [rad/s, N m]; torque below nought: it must be driven.
    power_w, efficiency : float
        Given at the output shaft [W]; share of the electrical power that is [1].
    drag_nm : float
        Friction, windage and braking of shorted turns together, at the armature [N m].
    heat_w : float
        Lost in copper, brushes, joint and leak [W].
    """

    volts: Floats
    current_a: Floats
    armature_a: Floats
    emf_v: Floats
    flux_vs: Floats
    speed_rad_s: Floats
    torque_nm: Floats
    power_w: Floats
    efficiency: Floats
    drag_nm: Floats
    heat_w: Floats


def picked(motor: Motor, places: Any) -> Motor:
    """Of many motors, whose numbers are arrays, those at these places; single numbers are of them all.

    Parameters
    ----------
    places : slice, int, ndarray or tuple
        As an array of shape (N,) is asked for its parts.
    """
    changed: dict[str, Any] = {name: value[places] for name, value in vars(motor).items() if np.ndim(value)}
    return replace(motor, **changed)


def many_of(motor: Motor) -> int:
    """How many motors its numbers, single or arrays of shape (N,), are of."""
    return max(np.size(value) for value in vars(motor).values())


def joined(motors: Sequence[Motor]) -> Motor:
    """Motors of one kind of field, each single or many with arrays of shape (N,), as one of arrays."""
    many = [many_of(one) for one in motors]
    changed: dict[str, Any] = {}
    for name in vars(motors[0]):
        values = [vars(one)[name] for one in motors]
        if any(np.ndim(value) or value != values[0] for value in values):
            changed[name] = np.concatenate(
                [np.broadcast_to(value, count) for value, count in zip(values, many, strict=True)]
            )
    return replace(motors[0], **changed)


def at_temperature(motor: Motor, temperature_c: Floats) -> Motor:
    """The same motor warm or cold: its copper and its magnets, as numbers of a motor at 20 °C.

    Notes
    -----
    R (234.5 + T) / (234.5 + 20); magnets 1 + magnet_per_k (T - 20).
    """
    copper = (COPPER_ZERO_C + temperature_c) / (COPPER_ZERO_C + REFERENCE_C)
    magnets: Floats = 1.0
    if motor.field == "permanent-magnet":
        magnets = 1.0 + np.asarray(motor.magnet_per_k) * (np.asarray(temperature_c) - REFERENCE_C)
    return replace(
        motor,
        armature_ohm=motor.armature_ohm * copper,
        field_ohm=motor.field_ohm * copper,
        shunt_ohm=motor.shunt_ohm * copper,
        flux_vs=motor.flux_vs * magnets,
    )


def on_supply(motor: Motor, supply_ohm: Floats) -> Motor:
    """The motor with the battery's and the cables' own resistance ahead of it.

    Give the open-circuit voltage to the functions below in place of the terminals'.
    """
    return replace(motor, joint_ohm=motor.joint_ohm + supply_ohm)


def flux(motor: Motor, exciting_a: Floats, armature_a: Floats) -> Floats:
    """K phi [V s/rad] at a field's ampere-turns, as amperes in the series field, and an armature current.

    Notes
    -----
    x / (1 + x^n)^(1/n) with x the amperes over `saturation_a` and n the knee: a straight line that bends
    into the ceiling `flux_vs`. Of several paths those left carry more each on fewer poles:
    share x at amperes / share.
    """
    reaction = np.maximum(0.05, 1.0 - np.asarray(motor.reaction_per_a) * armature_a)
    if motor.field == "permanent-magnet":
        return motor.flux_vs * reaction
    share = 1.0 - np.asarray(motor.open_paths) / motor.field_paths
    relative = np.abs(exciting_a) / (motor.saturation_a * share)
    # x / (1 + x^n)^(1/n) without overflow at a large x
    bent = relative / np.maximum(1.0, relative)
    low = np.minimum(relative, 1.0 / np.maximum(relative, 1e-300))
    bent = bent / (1.0 + low**motor.knee) ** (1.0 / np.asarray(motor.knee))
    return motor.flux_vs * (share * bent + motor.residual) * reaction


def series_ohm(motor: Motor) -> Floats:
    """All that an armature current passes one after the other, without the constant brush drop [ohm]."""
    before, behind, _ = _resistances(motor)
    return before + behind + motor.joint_ohm


def drag_torque(motor: Motor, flux_vs: Floats, speed_rad_s: Floats) -> Floats:
    """Friction, grease, windage and braking of shorted turns at a k phi and a speed of the armature [N m]."""
    speed = np.asarray(speed_rad_s)
    slipping = 1.0 + (speed / np.asarray(motor.short_corner_rad_s)) ** 2
    braking = motor.short_s * flux_vs * flux_vs * speed / slipping
    turning = (motor.viscous_nms + motor.windage_nms2 * np.abs(speed)) * speed
    drag: Floats = motor.friction_nm + turning + braking
    return drag


def state_at_current(motor: Motor, volts: Floats, current_a: Floats) -> State:
    """The state in which the motor takes this current at the terminals.

    Parameters
    ----------
    volts, current_a : float
        At the terminals [V, A].
    """
    return _state(motor, volts, _armature_a(motor, volts, current_a))


def circuit_by_current(motor: Motor, volts: Floats) -> Callable[[Floats], tuple[Floats, Floats, Floats]]:
    """Armature current, back EMF and k phi by terminal current [A, V, V s/rad], for one that is asked often.

    What `state_at_current` says of them: the circuit is linear in the current, and is solved once.
    """
    none, one = _armature_a(motor, volts, 0.0), _armature_a(motor, volts, 1.0)
    slope = one - none
    emf_of, flux_of = _lines(motor, volts)

    def solved(current_a: Floats) -> tuple[Floats, Floats, Floats]:
        armature_a = none + slope * current_a
        return armature_a, emf_of(armature_a), flux_of(armature_a)

    return solved


def _armature_a(motor: Motor, volts: Floats, current_a: Floats) -> Floats:
    before, _, _ = _resistances(motor)
    inner = volts - motor.joint_ohm * current_a
    through = current_a - inner / motor.shunt_ohm
    return through - motor.ground_s * (inner - before * through)


def state_at_speed(motor: Motor, volts: Floats, speed_rad_s: Floats) -> State:
    """The state in which the output shaft turns at this speed [rad/s], driven or driving."""
    wanted = np.asarray(speed_rad_s) * motor.gear_ratio
    emf_of, flux_of = _lines(motor, volts)

    def too_slow(armature_a: Floats) -> Floats:
        return wanted * flux_of(armature_a) - emf_of(armature_a)

    return _state(motor, volts, _root(motor, volts, too_slow))


def state_under_load(motor: Motor, volts: Floats, load_nm: Floats) -> State:
    """The state in which the output shaft carries this load; locked where it cannot.

    Parameters
    ----------
    volts : float
        At the terminals [V].
    load_nm : float
        Torque taken from the output shaft [N m].
    """
    at_armature = np.asarray(load_nm) / (motor.gear_ratio * np.asarray(motor.gear_efficiency))

    emf_of, flux_of = _lines(motor, volts)

    def spare(armature_a: Floats) -> Floats:
        field = flux_of(armature_a)
        return field * armature_a - drag_torque(motor, field, emf_of(armature_a) / field) - at_armature

    return _state(motor, volts, _root(motor, volts, spare))


def no_load(motor: Motor, volts: Floats) -> State:
    """Running free at these terminal volts."""
    return state_under_load(motor, volts, 0.0)


def lock(motor: Motor, volts: Floats) -> State:
    """Held still at these terminal volts; the torque is what the arm feels, friction taken off."""
    return _state(motor, volts, _locked_a(motor, volts))


def curve(motor: Motor, volts: float, points: int = 101) -> State:
    """States from no load to locked at constant terminal volts, shape (points,), by rising current."""
    free, held = no_load(motor, volts), lock(motor, volts)
    share = np.linspace(0.0, 1.0, points)
    armature_a = free.armature_a + (np.asarray(held.armature_a) - free.armature_a) * share
    return _state(motor, volts, armature_a)


def most_power(motor: Motor, volts: float) -> State:
    """The state that gives most at the shaft, at constant terminal volts."""
    low, high = 0.0, 1.0
    free, held = float(no_load(motor, volts).armature_a), float(lock(motor, volts).armature_a)

    def power(share: float) -> float:
        return float(_state(motor, volts, free + (held - free) * share).power_w)

    for _ in range(_THIRDS):
        first, second = low + (high - low) / 3, high - (high - low) / 3
        low, high = (first, high) if power(first) < power(second) else (low, second)
    return _state(motor, volts, free + (held - free) * (low + high) / 2)


def _resistances(motor: Motor) -> tuple[Floats, Floats, Floats]:
    """Series field before the leak, what lies behind it, and the field's share before it."""
    share = 1.0 - np.asarray(motor.open_paths) / motor.field_paths
    field = motor.field_ohm * (1.0 - np.asarray(motor.lost_turns)) / share
    place = motor.ground_place if motor.field != "permanent-magnet" else 0.0
    behind = field * (1.0 - np.asarray(place)) + motor.armature_ohm + motor.brush_ohm
    return field * place, behind, place


@dataclass(frozen=True)
class _Mesh:
    """The circuit solved at an armature current."""

    current_a: Floats
    emf_v: Floats
    exciting_a: Floats


def _mesh(motor: Motor, volts: Floats, armature_a: Floats) -> _Mesh:
    before, behind, place = _resistances(motor)
    shared = 1.0 + motor.ground_s * before
    taken = 1.0 / np.asarray(motor.shunt_ohm) + motor.ground_s / shared
    inner = (volts - motor.joint_ohm * armature_a / shared) / (1.0 + motor.joint_ohm * taken)
    through = (armature_a + motor.ground_s * inner) / shared
    shunt = inner / motor.shunt_ohm
    emf = inner - before * through - behind * armature_a - motor.brush_v
    turns = (1.0 - np.asarray(motor.lost_turns)) * (place * through + (1.0 - np.asarray(place)) * armature_a)
    return _Mesh(through + shunt, emf, turns + motor.shunt_turns * shunt)


def _lines(motor: Motor, volts: Floats) -> tuple[Callable[[Floats], Floats], Callable[[Floats], Floats]]:
    """Back EMF and k phi by armature current alone: the circuit is linear, and is solved once."""
    at_none, at_one = _mesh(motor, volts, 0.0), _mesh(motor, volts, 1.0)
    emf_slope, exciting_slope = at_one.emf_v - at_none.emf_v, at_one.exciting_a - at_none.exciting_a

    def emf_of(armature_a: Floats) -> Floats:
        return at_none.emf_v + emf_slope * armature_a + _spared(motor, armature_a)

    def flux_of(armature_a: Floats) -> Floats:
        return flux(motor, at_none.exciting_a + exciting_slope * armature_a, armature_a)

    return emf_of, flux_of


def _spared(motor: Motor, armature_a: Floats) -> Floats:
    """What the brushes drop less at a small current than at a large one [V]."""
    if not np.any(motor.brush_bend_a):
        return 0.0
    return np.asarray(motor.brush_v * np.exp(-np.abs(armature_a) / np.asarray(motor.brush_bend_a)))


def _state(motor: Motor, volts: Floats, armature_a: Floats) -> State:
    mesh = _mesh(motor, volts, armature_a)
    emf = mesh.emf_v + _spared(motor, armature_a)
    current, field = mesh.current_a, flux(motor, mesh.exciting_a, armature_a)
    speed = emf / field
    drag = drag_torque(motor, field, speed)
    inside = field * armature_a - drag
    torque = inside * motor.gear_ratio * np.where(inside > 0, motor.gear_efficiency, 1.0)
    turning = speed / motor.gear_ratio
    taken = volts * current
    power = torque * turning
    with np.errstate(divide="ignore", invalid="ignore"):
        efficiency = np.where(np.asarray(taken) > 0, power / taken, 0.0)
    return State(
        volts=volts + 0.0 * current,
        current_a=current,
        armature_a=armature_a,
        emf_v=emf,
        flux_vs=field,
        speed_rad_s=turning,
        torque_nm=torque,
        power_w=power,
        efficiency=efficiency,
        drag_nm=drag,
        heat_w=taken - emf * armature_a,
    )


def _locked_a(motor: Motor, volts: Floats) -> Floats:
    """Armature current when nothing turns.

    The circuit is linear in it but for what the brushes spare at a small one: Newton's rule, from below.
    """
    free = _mesh(motor, volts, 0.0).emf_v
    slope = free - _mesh(motor, volts, 1.0).emf_v
    held: Floats = np.maximum(0.0, free / slope)
    if np.any(motor.brush_bend_a):
        for _ in range(_NEWTONS):
            spared = _spared(motor, held)
            held = held + (free + spared - slope * held) / (slope + spared / np.asarray(motor.brush_bend_a))
    return held


def _root(motor: Motor, volts: Floats, rising: Callable[[Floats], Floats]) -> Floats:
    """Armature current between nothing and locked where a rising function is nought; the end it leans to.

    The ends are first drawn together by halving their ratio, as a light load of a series motor takes a small
    current; then by the chord, with the value of an end that stays halved (the Illinois rule). `rising` grows
    with current as long as torque does.
    """
    high: NDArray[np.float64] = np.asarray(_locked_a(motor, volts), dtype=float)
    low: NDArray[np.float64] = high * _LEAST_SHARE
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        for _ in range(_HALVINGS):
            middle = np.sqrt(low * high)
            above = np.asarray(rising(middle)) > 0
            low, high = np.where(above, low, middle), np.where(above, middle, high)
        under, over = np.asarray(rising(low)), np.asarray(rising(high))
        last = np.zeros(np.shape(under))
        for _ in range(_CHORDS):
            middle = low - under * (high - low) / (over - under)
            middle = np.where(over <= 0, high, np.where(under >= 0, low, middle))
            value = np.asarray(rising(middle))
            side = np.where(value > 0, 1.0, -1.0)
            stays = np.where(side == last, 0.5, 1.0)
            under, over = np.where(side > 0, under * stays, value), np.where(side > 0, value, over * stays)
            low, high = np.where(side > 0, low, middle), np.where(side > 0, middle, high)
            last = side
    return middle[()]
