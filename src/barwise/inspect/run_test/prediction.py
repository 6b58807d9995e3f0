"""What the points of a run test would read of a motor, and how far that is from what was read.

Unknown are the motor's parameters, how large the fault is, the winding's temperature before the test and
how much a test warms it, the true volts of each point, and its true current or load where it ran loaded.
All are written as independent standard normals z, in this order. Rows of z may be of many causes at once: a
`Group` says which rows are whose.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from barwise.inspect.run_test.causes import Cause
from barwise.inspect.run_test.points import Point, Sheet
from barwise.inspect.run_test.prior import Prior
from barwise.machine.motor import (
    Floats,
    Motor,
    State,
    at_temperature,
    lock,
    no_load,
    picked,
    series_ohm,
    state_at_current,
    state_at_speed,
    state_under_load,
)
from barwise.measure.uncertainty import Estimate

Array = NDArray[np.float64]

MODEL_SHARE = 0.007
"""What this model leaves unsaid of a real motor, as a share of every figure it predicts (assumed)."""
FLOOR_SHARE = 0.01
"""A reading near nought is trusted to this share of what a sound motor reads."""
_NOUGHT_SHARE = 0.05
UNKNOWN_C = Estimate(40.0, 25.0)
"""Temperature of a winding that nobody measured [degC]."""
FRAME_K = 2.0
"""How far a winding is from what a thermometer on the frame says, before the test [K] (assumed)."""
FULL_HEAT_K, HEAT_SPREAD = 35.0, 0.7
"""How much warmer some seconds of the current that nominal volts drive through the motor at rest make its
copper, and the spread of that as a logarithm; it goes as the square of the current. At 37 A/mm2 copper that
keeps its heat warms by 6.8 K a second (density and seconds are assumed) [K]."""
GAIN_VARIANCE = 0.5
"""Share of a meter's variance that is its gain, the same at every point (assumed)."""
NAMES = ("current", "speed", "torque")
_SOUND = Cause("sound", "", 1.0)
_GROUND_SHARE, _GROUND_SPREAD = 0.35, 0.7
"""What a direct ground leaves of the motor's resistance, and its spread as a logarithm (assumed)."""


@dataclass(frozen=True)
class Measured:
    """One reading to be explained: of which point, which quantity, and how far it is trusted."""

    point: int
    name: str
    value: float
    uncertainty: float


@dataclass(frozen=True)
class Problem:
    """Readings and what is known beforehand; what is common to all explanations."""

    prior: Prior
    points: tuple[Point, ...]
    measured: tuple[Measured, ...]
    typical: tuple[float, ...]
    spread: tuple[float, ...]
    bench: bool = False
    """Read on a bench, no figures of a sheet: each meter has one gain, and its current warms the copper."""

    @cached_property
    def apart(self) -> Array:
        """Matrix that turns residuals, which meters have in common, into independent ones, shape (M, M)."""
        meter = [getattr(self.points[one.point], one.name).standard_uncertainty for one in self.measured]
        names = [one.name for one in self.measured]
        share = np.array(meter) / np.array([one.uncertainty for one in self.measured])
        alike = np.array([[self._common * (one == other) for other in names] for one in names])
        correlation = alike * np.outer(share, share)
        np.fill_diagonal(correlation, 1.0)
        return np.asarray(np.linalg.inv(np.linalg.cholesky(correlation)))

    @cached_property
    def volts_root(self) -> Array:
        """Matrix that turns standard normals into how far each point's volts are off [V], shape (P, P)."""
        spread = np.array([one.volts.standard_uncertainty for one in self.points if one.volts is not None])
        alike = self._common + (1 - self._common) * np.eye(len(spread))
        return np.asarray(spread[:, None] * np.linalg.cholesky(alike))

    @property
    def _common(self) -> float:
        return GAIN_VARIANCE if self.bench else 0.0

    @cached_property
    def heat(self) -> tuple[float, ...]:
        """How much each point's own current usually warms the copper [K]."""
        if not self.bench:
            return (0.0,) * len(self.points)
        full = float(self.sheet.volts_v / series_ohm(self.prior.motor(self.prior.mean)))
        read = [0.0 if one.current is None else one.current.value for one in self.points]
        return tuple(FULL_HEAT_K * min(1.0, amps / full) ** 2 for amps in read)

    @property
    def sheet(self) -> Sheet:
        """The model's sheet."""
        return self.prior.sheet


@dataclass(frozen=True)
class Group:
    """Rows that are of one cause."""

    cause: Cause
    rows: slice


def problem(prior: Prior, points: Sequence[Point], bench: bool = False) -> Problem:
    """Readings ready to be explained: each with its uncertainty and with what a sound motor would read."""
    draws = _normals(200, width(prior, points, 0))
    empty = Problem(prior, tuple(points), (), (), (), bench)
    sound = _predict(empty, [Group(_SOUND, slice(0, len(draws)))], draws, 0)
    measured, typical, spread = [], [], []
    for place, point in enumerate(points):
        for name in _explained(point):
            one: Estimate = getattr(point, name)
            logs = np.log(np.maximum(sound[place][name], 1e-12))
            middle = float(np.exp(np.median(logs)))
            floor = FLOOR_SHARE * middle if one.value < _NOUGHT_SHARE * middle else 0.0
            total = math.hypot(one.standard_uncertainty, MODEL_SHARE * one.value, floor)
            measured.append(Measured(place, name, one.value, total))
            typical.append(middle)
            spread.append(float(np.std(logs)))
    return Problem(prior, tuple(points), tuple(measured), tuple(typical), tuple(spread), bench)


def width(prior: Prior, points: Sequence[Point], unknowns: int) -> int:
    """How many unknowns there are where the fault has so many."""
    loaded = sum(point.kind == "loaded" for point in points)
    return len(prior.parameters) + unknowns + 2 + len(points) + loaded


def motors(asked: Problem, cause: Cause, draws: Array) -> Motor:
    """The motors, at 20 °C, that draws of shape (..., n) stand for."""
    size = len(asked.prior.parameters)
    motor = asked.prior.motor(asked.prior.mean + draws[..., :size] @ asked.prior.root.T)
    if cause.change is None:
        return motor
    return cause.change(motor, draws[..., size : size + cause.unknowns], asked.sheet)


def residuals(asked: Problem, groups: Sequence[Group], z: Array, unknowns: int) -> Array:
    """What each reading is off, in its standard uncertainties, shape (N, M).

    Parameters
    ----------
    groups : sequence of Group
        Whose the rows are.
    z : ndarray, shape (N, width)
    unknowns : int
        Columns that are kept for the size of the fault; a cause may use fewer.
    """
    with np.errstate(all="ignore"):
        predicted = _predict(asked, groups, z, unknowns)
    off = np.empty((len(z), len(asked.measured)))
    for column, one in enumerate(asked.measured):
        off[:, column] = (predicted[one.point][one.name] - one.value) / one.uncertainty
        for group in groups:
            if ignored(group.cause, one):
                off[group.rows, column] = 0.0
    return np.asarray(np.nan_to_num(np.clip(off, -1e6, 1e6), nan=1e6) @ asked.apart.T)


def ignored(cause: Cause, one: Measured) -> bool:
    """The arm's reading of a motor that is seized says nothing: it holds itself."""
    return cause.behaviour == "seized" and one.name == "torque"


def _explained(point: Point) -> tuple[str, ...]:
    """What a point's reading must agree with; volts and what drives a loaded point are unknowns."""
    if point.kind == "no-load":
        return tuple(name for name in ("current", "speed") if getattr(point, name) is not None)
    if point.kind == "lock":
        return tuple(name for name in ("current", "torque") if getattr(point, name) is not None)
    return tuple(name for name in point.given if name not in ("volts", _driven_by(point)))


def _driven_by(point: Point) -> str:
    return next(name for name in ("current", "torque", "speed") if getattr(point, name) is not None)


def _predict(asked: Problem, groups: Sequence[Group], z: Array, unknowns: int) -> list[dict[str, Array]]:
    """What each point would read, by name, shape (N,) each."""
    prior, points = asked.prior, asked.points
    size = len(prior.parameters)
    motor = _changed(prior.motor(prior.mean + z[:, :size] @ prior.root.T), groups, z[:, size:], prior.sheet)
    place = size + unknowns
    warming = np.exp(HEAT_SPREAD * z[:, place + 1])
    drive = place + 2 + len(points)
    volts_off = z[:, place + 2 : drive] @ asked.volts_root.T
    found = []
    for number, point in enumerate(points):
        assert point.volts is not None  # `usable` has seen to it
        volts = point.volts.value + volts_off[:, number]
        known = point.temperature or UNKNOWN_C
        frame = known.value + math.hypot(known.standard_uncertainty, FRAME_K) * z[:, place]
        degrees = frame + asked.heat[number] * warming
        driven = None
        if point.kind == "loaded":
            one: Estimate = getattr(point, _driven_by(point))
            driven = one.value + one.standard_uncertainty * z[:, drive]
            drive += 1
        warm = at_temperature(motor, degrees)
        found.append(_read(warm, point, volts, driven, groups, z[:, size:], prior.sheet.switch_a))
    return found


def _changed(motor: Motor, groups: Sequence[Group], sizes: Array, sheet: Sheet) -> Motor:
    """The motors of all rows, each with what its cause changes."""
    changed: dict[str, Any] = {}
    for group in groups:
        if group.cause.change is None:
            continue
        sound = picked(motor, group.rows)
        size = sizes[group.rows, : group.cause.unknowns]
        spoilt = vars(group.cause.change(sound, size, sheet))
        for name in [name for name, value in vars(sound).items() if spoilt[name] is not value]:
            whole = changed.setdefault(name, np.array(np.broadcast_to(vars(motor)[name], len(sizes)), float))
            whole[group.rows] = spoilt[name]
    return replace(motor, **changed)


def _read(
    motor: Motor,
    point: Point,
    volts: Array,
    driven: Array | None,
    groups: Sequence[Group],
    sizes: Array,
    switch_a: float,
) -> dict[str, Array]:
    """One point of all rows: those that turn at once, then those that do not, cause by cause."""
    still = [group for group in groups if group.cause.behaviour != "turns"]
    if len(still) == len(groups):
        read = {name: np.zeros(len(volts)) for name in NAMES}
    else:
        state = _state(motor, point, volts, driven)
        read = {name: np.array(np.broadcast_to(one, len(volts))) for name, one in _named(state).items()}
    for group in still:
        size = sizes[group.rows, : group.cause.unknowns]
        standing = _standing(picked(motor, group.rows), group.cause.behaviour, volts[group.rows], size)
        for name, one in standing.items():
            read[name][group.rows] = one
    read["current"] = read["current"] + switch_a
    return read


def _named(state: State) -> dict[str, Floats]:
    return {"current": state.current_a, "speed": state.speed_rad_s, "torque": state.torque_nm}


def _state(motor: Motor, point: Point, volts: Array, driven: Array | None) -> State:
    if point.kind == "no-load":
        return no_load(motor, volts)
    if point.kind == "lock" or driven is None:
        return lock(motor, volts)
    by = {"current": state_at_current, "torque": state_under_load, "speed": state_at_speed}
    return by[_driven_by(point)](motor, volts, driven)


def _standing(motor: Motor, behaviour: str, volts: Array, size: Array) -> dict[str, Floats]:
    """What is read of a motor that does not turn."""
    if behaviour == "seized":
        held = lock(motor, volts)
        return {"current": held.current_a, "speed": 0.0, "torque": held.torque_nm}
    if behaviour == "grounded":
        share = np.exp(math.log(_GROUND_SHARE) + _GROUND_SPREAD * size[..., 0])
        return {"current": volts / (share * series_ohm(motor)), "speed": 0.0, "torque": 0.0}
    return dict.fromkeys(NAMES, 0.0)


@lru_cache(maxsize=64)
def _normals(count: int, columns: int) -> Array:
    return np.random.default_rng(20).standard_normal((count, columns))
