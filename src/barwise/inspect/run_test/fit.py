"""How well one explanation accounts for the readings, and which motors it leaves possible.

Unknown are the motor's parameters, how large the fault is, the true volts of each point, its true current or
load where it ran loaded, and the winding's temperature. All are written as independent standard normals z, so
the best explanation is a least-squares problem (Levenberg's method), its neighbourhood a normal distribution
(Laplace), and the marginal likelihood and the posterior come by importance sampling from a t distribution of
that shape. The draws are the same every time: the same readings give the same answer.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import lru_cache

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
WARMING_K = 4.0
"""How far a winding differs from what a thermometer says while it is tested [K]."""
DRAWS = 500
_STAGES = 3
_ENOUGH = 100
_FLATTENED = (1.0, 0.8, 0.6, 0.4, 0.25, 0.15, 0.1, 0.05)
_FREEDOM = 8.0
_HOPELESS = 7.0
_STEPS, _STEP = 25, 1e-5
_GAIN, _SHORTEST = 1e-3, 30.0
_DAMPED = (1e-3, 1e-1, 1e1)


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

    @property
    def sheet(self) -> Sheet:
        """The model's sheet."""
        return self.prior.sheet


@dataclass(frozen=True)
class Explained:
    """One cause and the readings.

    Attributes
    ----------
    log_evidence : float
        Logarithm of the marginal likelihood, up to a constant of all causes.
    draws, weights : ndarray, shapes (N, n) and (N,)
        Motors that remain possible, and their weights, which add up to 1.
    misfit : float
        Sum of the squares of what is left over at the best, in standard uncertainties.
    effective : float
        Draws that count.
    """

    cause: Cause
    log_evidence: float
    best: Array
    draws: Array
    weights: Array
    misfit: float
    effective: float


def problem(prior: Prior, points: Sequence[Point]) -> Problem:
    """Readings ready to be explained: each with its uncertainty and with what a sound motor would read."""
    draws = _normals(200, _width(prior, points, 0))
    sound = _predict(prior, tuple(points), None, draws)
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
    return Problem(prior, tuple(points), tuple(measured), tuple(typical), tuple(spread))


def explain_all(asked: Problem, causes: Sequence[Cause]) -> tuple[Explained, ...]:
    """How well each cause accounts for the readings; the hopeless ones by their best point alone."""
    sketched = [_sketch(asked, cause) for cause in causes]
    within = max(one.log_evidence for one in sketched) - _HOPELESS
    return tuple(_explain(asked, one) if one.log_evidence > within else one.alone() for one in sketched)


@dataclass(frozen=True)
class _Sketch:
    """The best point of a cause, and its evidence as if the neighbourhood were a normal distribution."""

    cause: Cause
    best: Array
    residuals: Array
    slopes: Array
    log_evidence: float

    def alone(self) -> Explained:
        """The best point for all draws."""
        misfit = float((self.residuals**2).sum())
        return Explained(
            self.cause, self.log_evidence, self.best, self.best[None, :], np.ones(1), misfit, 1.0
        )


def _sketch(asked: Problem, cause: Cause) -> _Sketch:
    best, residuals, slopes = _best(asked, cause)
    spread = float(np.linalg.slogdet(slopes.T @ slopes + np.eye(len(best)))[1])
    evidence = -0.5 * (float((residuals**2).sum() + (best**2).sum()) + spread)
    return _Sketch(cause, best, residuals, slopes, evidence + _left_out(asked, cause))


def _explain(asked: Problem, sketch: _Sketch) -> Explained:
    cause, best, residuals, slopes = sketch.cause, sketch.best, sketch.residuals, sketch.slopes
    size = len(asked.prior.parameters) + cause.unknowns
    # volts, loads and temperature are nearly linear: they are integrated out, and widen the readings
    whitening = np.linalg.inv(
        np.linalg.cholesky(np.eye(len(residuals)) + slopes[:, size:] @ slopes[:, size:].T)
    )
    steep = whitening @ slopes[:, :size]
    root = np.linalg.inv(np.linalg.cholesky(steep.T @ steep + np.eye(size))).T
    nearby = _Nearby(asked, cause, whitening, size)
    shape = _Shape(best[:size], np.asarray(root))
    for stage in range(_STAGES):
        draws, log_weights = nearby.drawn(shape, stage)
        shares, log_total = _shares(log_weights)
        if stage < _STAGES - 1:
            shape = _adapted(shape, draws, log_weights)
    return Explained(
        cause=cause,
        log_evidence=log_total - math.log(len(draws)) + _left_out(asked, cause),
        best=best,
        draws=draws,
        weights=shares,
        misfit=float((residuals**2).sum()),
        effective=1.0 / float((shares**2).sum()),
    )


@dataclass(frozen=True)
class _Shape:
    """Where draws are taken: a t distribution about `middle`; `root` turns standard draws into its own."""

    middle: Array
    root: Array


@dataclass(frozen=True)
class _Nearby:
    """The posterior near the best, of parameters and fault alone; `whitening` has the rest in it."""

    asked: Problem
    cause: Cause
    whitening: Array
    size: int

    def drawn(self, shape: _Shape, stage: int) -> tuple[Array, Array]:
        """Draws of a shape, and the logarithm of what each weighs."""
        offsets, log_standard = _t_draws(self.size, stage)
        draws = shape.middle + offsets @ shape.root.T
        log_proposed = log_standard - float(np.linalg.slogdet(shape.root)[1])
        rest = _width(self.asked.prior, self.asked.points, self.cause.unknowns) - self.size
        still = np.concatenate([draws, np.zeros((len(draws), rest))], axis=1)
        left = _residuals(self.asked, self.cause, still) @ self.whitening.T
        constant = self.size * math.log(2 * math.pi) - 2 * float(np.linalg.slogdet(self.whitening)[1])
        log_joint = -0.5 * ((left**2).sum(1) + (draws**2).sum(1) + constant)
        return draws, log_joint - log_proposed


def _shares(log_weights: Array) -> tuple[Array, float]:
    top = float(log_weights.max())
    weights = np.exp(log_weights - top)
    total = float(weights.sum())
    return weights / total, top + math.log(total)


def _adapted(shape: _Shape, draws: Array, log_weights: Array) -> _Shape:
    """Where the draws weigh: their mean and spread, the weights flattened until enough of them count.

    A bent neighbourhood is not a normal distribution's; drawing again where it lies mends that.
    """
    enough = max(_ENOUGH, 4 * draws.shape[1])
    for flat in _FLATTENED:
        shares, _ = _shares(flat * log_weights)
        if 1.0 / float((shares**2).sum()) >= enough:
            break
    middle = shares @ draws
    apart = draws - middle
    covariance = (apart * shares[:, None]).T @ apart
    old = shape.root @ shape.root.T
    return _Shape(middle, np.asarray(np.linalg.cholesky(0.9 * covariance + 0.1 * old)))


def not_covered(asked: Problem) -> float:
    """Logarithm of the likelihood of readings that no cause in the list would give, on the same scale.

    Each reading is then spread widely about what a sound motor reads, and may be nought.
    """
    total = 0.0
    for one, typical, spread in zip(asked.measured, asked.typical, asked.spread, strict=True):
        scale = one.uncertainty * math.sqrt(2 * math.pi)
        if abs(one.value) < 3 * FLOOR_SHARE * typical or one.value <= 0:
            total += math.log(0.05 * scale / (6 * FLOOR_SHARE * typical))
            continue
        width = math.hypot(0.6, spread)
        apart = math.log(one.value / typical) / width
        total += math.log(scale / (one.value * width * math.sqrt(2 * math.pi))) - 0.5 * apart**2
    return total


def motors(asked: Problem, cause: Cause, draws: Array) -> Motor:
    """The motors, at 20 °C, that draws of shape (..., n) stand for."""
    return _motors(asked.prior, cause, draws)


def narrowed(prior: Prior, points: Sequence[Point], healthy: Cause) -> Prior:
    """The prior of motors that pass through the sheet's points (best fit and its neighbourhood)."""
    asked = problem(prior, points)
    best, _, slopes = _best(asked, healthy)
    size = len(prior.parameters)
    covariance = np.linalg.inv(slopes.T @ slopes + np.eye(len(best)))[:size, :size]
    root = prior.root
    return Prior(prior.sheet, prior.parameters, prior.mean + root @ best[:size], root @ covariance @ root.T)


def _explained(point: Point) -> tuple[str, ...]:
    """What a point's reading must agree with; volts and what drives a loaded point are unknowns."""
    if point.kind == "no-load":
        return tuple(name for name in ("current", "speed") if getattr(point, name) is not None)
    if point.kind == "lock":
        return tuple(name for name in ("current", "torque") if getattr(point, name) is not None)
    return tuple(name for name in point.given if name not in ("volts", _driven_by(point)))


def _driven_by(point: Point) -> str:
    return next(name for name in ("current", "torque", "speed") if getattr(point, name) is not None)


def _width(prior: Prior, points: Sequence[Point], unknowns: int) -> int:
    loaded = sum(point.kind == "loaded" for point in points)
    return len(prior.parameters) + unknowns + 1 + len(points) + loaded


def _motors(prior: Prior, cause: Cause | None, draws: Array) -> Motor:
    size = len(prior.parameters)
    motor = prior.motor(prior.mean + draws[..., :size] @ prior.root.T)
    if cause is not None and cause.change is not None:
        motor = cause.change(motor, draws[..., size : size + cause.unknowns], prior.sheet)
    return motor


def _predict(
    prior: Prior, points: tuple[Point, ...], cause: Cause | None, draws: Array
) -> list[dict[str, Array]]:
    """What each point would read, by name, shape (N,) each."""
    unknowns = 0 if cause is None else cause.unknowns
    behaviour = "turns" if cause is None else cause.behaviour
    size = len(prior.parameters)
    motor = _motors(prior, cause, draws)
    place = size + unknowns
    warm_by = draws[:, place]
    found = []
    drive = place + 1 + len(points)
    for number, point in enumerate(points):
        assert point.volts is not None  # `usable` has seen to it
        volts = point.volts.value + point.volts.standard_uncertainty * draws[:, place + 1 + number]
        known = point.temperature or UNKNOWN_C
        degrees = known.value + math.hypot(known.standard_uncertainty, WARMING_K) * warm_by
        warm = at_temperature(motor, degrees)
        driven = None
        if point.kind == "loaded":
            one: Estimate = getattr(point, _driven_by(point))
            driven = one.value + one.standard_uncertainty * draws[:, drive]
            drive += 1
        state = _state(warm, point, volts, driven) if behaviour == "turns" else None
        still = None if state else _standing(warm, behaviour, volts, draws[:, size : size + unknowns])
        found.append(_readings(state or still, prior.sheet.switch_a))
    return found


def _state(motor: Motor, point: Point, volts: Array, driven: Array | None) -> State:
    if point.kind == "no-load":
        return no_load(motor, volts)
    if point.kind == "lock" or driven is None:
        return lock(motor, volts)
    by = {"current": state_at_current, "torque": state_under_load, "speed": state_at_speed}
    return by[_driven_by(point)](motor, volts, driven)


@dataclass(frozen=True)
class _Standing:
    """What is read of a motor that does not turn."""

    current_a: Floats
    speed_rad_s: Floats
    torque_nm: Floats


def _standing(motor: Motor, behaviour: str, volts: Array, size: Array) -> _Standing:
    nothing = np.zeros(np.shape(volts))
    if behaviour == "seized":
        held = lock(motor, volts)
        return _Standing(held.current_a, nothing, held.torque_nm)
    if behaviour == "grounded":
        leak = np.exp(math.log(0.35) + 0.7 * size[..., 0]) * np.asarray(series_ohm(motor))
        return _Standing(volts / leak, nothing, nothing)
    return _Standing(nothing, nothing, nothing)


def _readings(state: State | _Standing | None, switch_a: float) -> dict[str, Array]:
    assert state is not None
    return {
        "current": np.asarray(state.current_a) + switch_a,
        "speed": np.asarray(state.speed_rad_s),
        "torque": np.asarray(state.torque_nm),
    }


def _ignored(cause: Cause, one: Measured) -> bool:
    """The arm's reading of a motor that is seized says nothing: it holds itself."""
    return cause.behaviour == "seized" and one.name == "torque"


def _left_out(asked: Problem, cause: Cause) -> float:
    """A reading a cause says nothing of may be anything up to twice the usual."""
    total = 0.0
    for one, typical in zip(asked.measured, asked.typical, strict=True):
        if _ignored(cause, one):
            total += math.log(one.uncertainty * math.sqrt(2 * math.pi) / (2 * typical))
    return total


def _residuals(asked: Problem, cause: Cause, draws: Array) -> Array:
    """What each reading is off, in its standard uncertainties, shape (N, M)."""
    with np.errstate(all="ignore"):
        predicted = _predict(asked.prior, asked.points, cause, draws)
    columns = [
        np.zeros(len(draws))
        if _ignored(cause, one)
        else (predicted[one.point][one.name] - one.value) / one.uncertainty
        for one in asked.measured
    ]
    stacked = np.stack(columns, axis=1) if columns else np.zeros((len(draws), 0))
    return np.nan_to_num(np.clip(stacked, -1e6, 1e6), nan=1e6)


def _best(asked: Problem, cause: Cause) -> tuple[Array, Array, Array]:
    """The most probable unknowns, what is left over there, and its slopes; several starts at once."""
    size = len(asked.prior.parameters)
    width = _width(asked.prior, asked.points, cause.unknowns)
    starts = np.zeros((2 if cause.unknowns else 1, width))
    if cause.unknowns:
        starts[:, size] = (0.5, -1.5)

    def left(z: Array) -> Array:
        return _residuals(asked, cause, z)

    z, damping = starts, np.full(len(starts), _DAMPED[0])
    residuals, slopes = _with_slopes(left, z)
    for _ in range(_STEPS):
        moved = np.stack([_step(*one) for one in zip(z, residuals, slopes, damping, strict=True)])
        tried = left(moved)
        better = _cost(tried, moved) < _cost(residuals, z)
        gained = float(np.max(np.where(better, _cost(residuals, z) - _cost(tried, moved), 0.0)))
        z = np.where(better[:, None], moved, z)
        damping = np.where(better, damping * _DAMPED[1], damping * _DAMPED[2])
        # A start is done when a step gains next to nothing, or no step however short gains anything.
        if gained < _GAIN and bool(np.all(better | (damping > _SHORTEST))):
            break
        residuals, slopes = _with_slopes(left, z)
    residuals, slopes = _with_slopes(left, z)
    chosen = int(np.argmin(_cost(residuals, z)))
    return z[chosen], residuals[chosen], slopes[chosen]


def _cost(residuals: Array, z: Array) -> Array:
    return np.asarray((residuals**2).sum(1) + (z**2).sum(1))


def _step(z: Array, residuals: Array, slopes: Array, damping: float) -> Array:
    curvature = slopes.T @ slopes + np.eye(len(z)) * (1 + damping)
    step = np.linalg.solve(curvature, slopes.T @ residuals + z)
    longest = float(np.abs(step).max())
    return np.asarray(z - step * min(1.0, 3.0 / max(longest, 1e-12)))


def _with_slopes(left: Callable[[Array], Array], z: Array) -> tuple[Array, Array]:
    """Residuals (S, M) and their slopes (S, M, n), by one call for all."""
    starts, width = z.shape
    moved = z[:, None, :] + np.concatenate([np.zeros((1, width)), _STEP * np.eye(width)])
    values = left(moved.reshape(-1, width)).reshape(starts, width + 1, -1)
    slopes = (values[:, 1:] - values[:, :1]) / _STEP
    return values[:, 0], np.swapaxes(slopes, 1, 2)


@lru_cache(maxsize=64)
def _normals(count: int, width: int) -> Array:
    return np.random.default_rng(20).standard_normal((count, width))


@lru_cache(maxsize=128)
def _t_draws(width: int, stage: int) -> tuple[Array, Array]:
    """Draws of a standard t distribution, shape (DRAWS, width), and the logarithm of its density there."""
    random = np.random.default_rng(57 + stage)
    normal = random.standard_normal((DRAWS, width))
    shrunk = random.chisquare(_FREEDOM, DRAWS) / _FREEDOM
    draws = normal / np.sqrt(shrunk)[:, None]
    constant = (
        math.lgamma((_FREEDOM + width) / 2)
        - math.lgamma(_FREEDOM / 2)
        - 0.5 * width * math.log(_FREEDOM * math.pi)
    )
    log_density = constant - 0.5 * (_FREEDOM + width) * np.log1p((draws**2).sum(1) / _FREEDOM)
    return draws, log_density
