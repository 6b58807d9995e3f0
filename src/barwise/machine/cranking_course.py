"""The first seconds of cranking: inrush, breakaway, and the dip at each compression.

Three states follow one another. *Held*: the engine stands, current builds up until the motor breaks it
away. *Driving*: motor and engine turn as one. *Overrunning*: the gas pushes the engine ahead, the drive's
clutch lets it go, and the motor catches up. Each is a smooth system of its own, so the solver steps to the
very moment of a change and no further.

    always        L di/dt = E - R i - Vb - k phi G wm
    held          wm = we = 0
    driving       (Je + h G2 Ja) dw/dt = h G (k phi i - drag) - Te(angle, w),      w = wm = we
    overrunning   Je dwe/dt = -Te(angle, we),      Ja G dwm/dt = k phi i - drag

G armature turns for one of the crank, h share of the torque that arrives. The path of the current is
`barwise.machine.motor`'s; eddy currents and bounce of gears are left out.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from barwise.errors import InputError
from barwise.machine.cranking import CrankedEngine, Leg, Mesh
from barwise.machine.engine import breakaway_torque, friction_torque, gas_torque, halfway_rad
from barwise.machine.motor import Floats, Motor, circuit_by_current, drag_torque, on_supply

Mode = Literal["held", "driving", "overrunning"]
Vector = NDArray[np.float64]

CREEPS_RAD_S = 5 * 2 * np.pi / 60
"""Slower than this it does not crank: it leans on a compression and gives way to it by leaks alone."""
_MOST_CHANGES = 2000
_ANGLE, _ENGINE, _MOTOR, _CURRENT = range(4)


@dataclass(frozen=True)
class Rotor:
    """What the motor adds in motion.

    Attributes
    ----------
    inertia_kgm2 : float
        Of the armature [kg m2].
    inductance_h : float
        Of armature and series field [H].
    """

    inertia_kgm2: float
    inductance_h: float = 1e-4

    def __post_init__(self) -> None:
        if not (0 < self.inertia_kgm2 < 10 and 0 < self.inductance_h < 1):
            raise InputError("rotor", f"{self.inertia_kgm2:g} kg m2, {self.inductance_h:g} H", "above 0 both")


@dataclass(frozen=True)
class Starting:
    """Everything that moves, each number single: a course is worked out for one case at a time."""

    loaded_v: float
    legs: tuple[Leg, ...]
    motor: Motor
    rotor: Rotor
    mesh: Mesh
    cranked: CrankedEngine

    @property
    def ohm(self) -> float:
        """All legs [ohm]."""
        return float(sum(float(leg.ohm) for leg in self.legs))

    @cached_property
    def circuit(self) -> Callable[[Floats], tuple[Floats, Floats, Floats]]:
        """Armature current, back EMF and k phi by terminal current."""
        return circuit_by_current(on_supply(self.motor, self.ohm), self.loaded_v)

    @property
    def gearing(self) -> float:
        """Armature turns for one of the crank."""
        return float(self.motor.gear_ratio) * self.mesh.ratio

    @property
    def arrives(self) -> float:
        """Share of the motor's torque that arrives at the crank."""
        return float(self.motor.gear_efficiency) * float(self.mesh.efficiency)

    @property
    def moved_kgm2(self) -> float:
        """Inertia at the crank while the motor drives [kg m2]."""
        rotor = self.arrives * self.gearing**2 * self.rotor.inertia_kgm2
        return self.cranked.engine.inertia + rotor


@dataclass(frozen=True)
class Course:
    """The course, each array of shape (points,).

    Attributes
    ----------
    time_s, angle_rad, speed_rad_s : ndarray
        Crank angle and speed [s, rad, rad/s].
    motor_rad_s : ndarray
        Speed of the motor, geared down to the crank [rad/s].
    current_a, battery_v, starter_v : ndarray
        Current; volts at the battery's posts, if the first leg is its own resistance; at the starter.
    modes : tuple of (float, str)
        When each state began [s].
    broke_away_s : float or None
        When the engine began to turn; None where it never did.
    stuck : bool
        Whether it stands at the end, or hardly creeps.
    """

    time_s: Vector
    angle_rad: Vector
    speed_rad_s: Vector
    motor_rad_s: Vector
    current_a: Vector
    battery_v: Vector
    starter_v: Vector
    modes: tuple[tuple[float, Mode], ...]
    broke_away_s: float | None
    stuck: bool


def course(starting: Starting, seconds: float = 1.5, rtol: float = 1e-6, points_per_s: int = 2000) -> Course:
    """Crank for a while from standstill.

    Raises
    ------
    InputError
        If the time is none to crank for: a starter is rested after 30 s.
    """
    if not 0 < seconds <= 30:
        raise InputError("seconds", f"{seconds:g}", "above 0, up to 30: a starter is rested after that")
    y = np.array([halfway_rad(starting.cranked.engine), 0.0, 0.0, 0.0])
    mode: Mode = "held"
    modes: list[tuple[float, Mode]] = [(0.0, mode)]
    grid = np.linspace(0.0, seconds, max(2, round(seconds * points_per_s) + 1))
    taken = np.empty((4, len(grid)))
    now, filled, broke = 0.0, 0, None
    for _ in range(_MOST_CHANGES):
        until, values, y, ended = _stretch(starting, mode, now, seconds, y, grid[filled:], rtol)
        taken[:, filled : filled + values.shape[1]] = values
        filled, now = filled + values.shape[1], until
        if not ended:
            break
        mode = _next(mode, y)
        if mode == "held":
            y[_ENGINE] = y[_MOTOR] = 0.0
        elif broke is None:
            broke = now
        modes.append((now, mode))
    return _course(starting, grid[:filled], taken[:, :filled], tuple(modes), broke)


def derivatives(starting: Starting, mode: Mode, y: Vector) -> Vector:
    """Rates of crank angle, engine speed, motor speed (at the crank) and current."""
    surplus, push = _electrical(starting, y[_MOTOR], y[_CURRENT])
    di = surplus / starting.rotor.inductance_h
    if mode == "held":
        return np.array([0.0, 0.0, 0.0, di])
    load = _load(starting, y[_ANGLE], y[_ENGINE])
    if mode == "driving":
        gain = (starting.arrives * starting.gearing * push - load) / starting.moved_kgm2
        return np.array([y[_ENGINE], gain, gain, di])
    slowing = -load / starting.cranked.engine.inertia
    catching = push / (starting.rotor.inertia_kgm2 * starting.gearing)
    return np.array([y[_ENGINE], slowing, catching, di])


def _electrical(starting: Starting, motor_rad_s: float, current_a: float) -> tuple[float, float]:
    """Volts left over for the inductance, and torque at the armature less its drag [V, N m]."""
    turning = motor_rad_s * starting.gearing
    armature_a, emf_v, flux_vs = starting.circuit(current_a)
    drag = drag_torque(starting.motor, flux_vs, turning)
    return float(emf_v - flux_vs * turning), float(flux_vs * armature_a - drag)


def _load(starting: Starting, angle: float, speed: float) -> float:
    cranked = starting.cranked
    friction = float(friction_torque(cranked.engine, cranked.drag, cranked.viscosity_pa_s, speed))
    return friction + gas_torque(cranked.engine, cranked.drag, angle, halfway_rad(cranked.engine))


def _handed_over(starting: Starting, y: Vector) -> float:
    """Torque that passes the clutch while the motor drives [N m]."""
    gain = derivatives(starting, "driving", y)[_ENGINE]
    return float(starting.cranked.engine.inertia * gain + _load(starting, y[_ANGLE], y[_ENGINE]))


def _spare_to_move(starting: Starting, y: Vector) -> float:
    """Torque at the crank beyond what holds a standing engine [N m]."""
    _, push = _electrical(starting, 0.0, y[_CURRENT])
    cranked = starting.cranked
    holds = float(breakaway_torque(cranked.engine, cranked.drag, cranked.viscosity_pa_s))
    rest = halfway_rad(cranked.engine)
    holds += gas_torque(cranked.engine, cranked.drag, y[_ANGLE], rest)
    return starting.arrives * starting.gearing * push - holds


def _next(mode: Mode, y: Vector) -> Mode:
    if mode == "held":
        return "driving"
    if y[_ENGINE] <= 1e-9:
        return "held"
    return "overrunning" if mode == "driving" else "driving"


Event = Callable[[float, Vector], float]


def _events(starting: Starting, mode: Mode) -> list[Event]:
    def breaks_away(_: float, y: Vector) -> float:
        return _spare_to_move(starting, y)

    def runs_ahead(_: float, y: Vector) -> float:
        return _handed_over(starting, y)

    def catches_up(_: float, y: Vector) -> float:
        return float(y[_MOTOR] - y[_ENGINE])

    def stands(_: float, y: Vector) -> float:
        return float(y[_ENGINE])

    wanted: dict[Mode, list[tuple[Event, int]]] = {
        "held": [(breaks_away, 1)],
        "driving": [(runs_ahead, -1), (stands, -1)],
        "overrunning": [(catches_up, 1), (stands, -1)],
    }
    for event, direction in wanted[mode]:
        event.terminal, event.direction = True, direction  # type: ignore[attr-defined]
    return [event for event, _ in wanted[mode]]


def _stretch(
    starting: Starting, mode: Mode, start: float, end: float, y: Vector, grid: Vector, rtol: float
) -> tuple[float, Vector, Vector, bool]:
    """One state until it changes: its end, values on the grid, last values, whether it changed."""
    from scipy.integrate import solve_ivp  # takes long to load, and most of barwise does without

    if mode == "held" and _spare_to_move(starting, y) > 0:
        return start, np.empty((4, 0)), y.copy(), True
    solved = solve_ivp(
        lambda _, values: derivatives(starting, mode, values),
        (start, end),
        y,
        method="DOP853",
        rtol=rtol,
        atol=np.array([1e-2, 1e-2, 1e-2, 1.0]) * rtol,
        events=_events(starting, mode),
        dense_output=True,
        max_step=0.02,
    )
    until = float(solved.t[-1])
    inside = grid[grid <= until] if solved.status == 0 else grid[grid < until]
    assert solved.sol is not None  # asked for
    values = solved.sol(inside) if len(inside) else np.empty((4, 0))
    return until, values, np.array(solved.y[:, -1]), solved.status == 1


def _course(
    starting: Starting,
    time: Vector,
    taken: Vector,
    modes: tuple[tuple[float, Mode], ...],
    broke: float | None,
) -> Course:
    current = taken[_CURRENT]
    first = float(starting.legs[0].ohm) if starting.legs else 0.0
    return Course(
        time_s=time,
        angle_rad=taken[_ANGLE],
        speed_rad_s=taken[_ENGINE],
        motor_rad_s=taken[_MOTOR],
        current_a=current,
        battery_v=starting.loaded_v - first * current,
        starter_v=starting.loaded_v - starting.ohm * current,
        modes=modes,
        broke_away_s=broke,
        stuck=modes[-1][1] == "held" or _creeps(time, taken[_ENGINE]),
    )


def _creeps(time: Vector, speed: Vector) -> bool:
    """Whether it hardly moved over the last tenth of the time."""
    last = time >= time[-1] - 0.1 * (time[-1] - time[0])
    return bool(speed[last].max() < CREEPS_RAD_S)


def steady_part(done: Course, cycle_rad: float) -> slice:
    """The last whole cycles of a course, at most four; all of the second half where there is not one."""
    angle = done.angle_rad
    whole = int((angle[-1] - angle[0]) // cycle_rad)
    cycles = min(4, max(0, whole - 1))
    half = len(angle) // 2
    start = int(np.searchsorted(angle, angle[-1] - cycles * cycle_rad)) if cycles else half
    return slice(start, len(angle))


def mean_over(values: Sequence[float] | Vector, time_s: Vector) -> float:
    """Mean over time of what is known at points in time."""
    return float(np.trapezoid(values, time_s) / (time_s[-1] - time_s[0]))
