"""How well one explanation accounts for the readings, and which motors it leaves possible.

The best explanation of each cause is found by least squares (`best`), its neighbourhood is a normal
distribution (Laplace), and the marginal likelihood and the posterior come by importance sampling from a t
distribution of that shape, or by steps from there where too few of its draws count. The draws are the same
every time: the same readings give the same answer.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from barwise.inspect.run_test.best import Best, best_of_each
from barwise.inspect.run_test.causes import Cause
from barwise.inspect.run_test.points import Point
from barwise.inspect.run_test.prediction import (
    FLOOR_SHARE,
    Group,
    Problem,
    ignored,
    problem,
    residuals,
    width,
)
from barwise.inspect.run_test.prior import Prior

Array = NDArray[np.float64]

DRAWS = 500
_STAGES = 3
_ENOUGH = 100
_FLATTENED = (1.0, 0.8, 0.6, 0.4, 0.25, 0.15, 0.1, 0.05)
_FREEDOM = 8.0
_HOPELESS = 7.0
_WALK, _STRIDE, _TAKEN = 6, 1.7, 0.3


@dataclass(frozen=True)
class Explained:
    """One cause and the readings.

    Attributes
    ----------
    log_evidence : float
        Logarithm of the marginal likelihood, up to a constant of all causes.
    draws, weights : ndarray, shapes (N, n) and (N,)
        Motors that remain possible, and their weights, which add up to 1.
    effective : float
        Draws that count.
    """

    cause: Cause
    log_evidence: float
    draws: Array
    weights: Array
    effective: float


def explain_all(asked: Problem, causes: Sequence[Cause]) -> tuple[Explained, ...]:
    """How well each cause accounts for the readings; the hopeless ones by their best point alone."""
    sketched = [_sketch(asked, one) for one in best_of_each(asked, causes)]
    within = max(one.log_evidence for one in sketched) - _HOPELESS
    return tuple(_explain(asked, one) if one.log_evidence > within else one.alone() for one in sketched)


@dataclass(frozen=True)
class _Sketch:
    """The best point of a cause, and its evidence as if the neighbourhood were a normal distribution."""

    best: Best
    log_evidence: float

    def alone(self) -> Explained:
        """The best point for all draws."""
        one = self.best
        return Explained(one.cause, self.log_evidence, one.z[None, :], np.ones(1), 1.0)


def _sketch(asked: Problem, best: Best) -> _Sketch:
    spread = float(np.linalg.slogdet(best.slopes.T @ best.slopes + np.eye(len(best.z)))[1])
    evidence = -0.5 * (float((best.left**2).sum() + (best.z**2).sum()) + spread)
    return _Sketch(best, evidence + _left_out(asked, best.cause))


def _explain(asked: Problem, sketch: _Sketch) -> Explained:
    cause, best, slopes = sketch.best.cause, sketch.best.z, sketch.best.slopes
    size = len(asked.prior.parameters) + cause.unknowns
    # volts, loads and temperature are nearly linear: they are integrated out, and widen the readings
    whitening = np.linalg.inv(
        np.linalg.cholesky(np.eye(len(slopes)) + slopes[:, size:] @ slopes[:, size:].T)
    )
    steep = whitening @ slopes[:, :size]
    root = np.linalg.inv(np.linalg.cholesky(steep.T @ steep + np.eye(size))).T
    nearby = _Nearby(asked, cause, whitening, size)
    shape = _Shape(best[:size], np.asarray(root))
    for stage in range(_STAGES):
        draws, log_weights = nearby.drawn(shape, stage)
        if stage < _STAGES - 1:
            shape = _adapted(shape, draws, log_weights)
    shares, log_total = _shares(log_weights)
    log_mean = log_total - math.log(len(draws))
    if _effective(shares) < _ENOUGH:
        draws, log_mean = _led_there(nearby, shape, draws, log_weights)
        shares = np.full(len(draws), 1 / len(draws))
    return Explained(cause, log_mean + _left_out(asked, cause), draws, shares, _effective(shares))


def _effective(shares: Array) -> float:
    """How many draws count."""
    return 1.0 / float((shares**2).sum())


def _led_there(nearby: _Nearby, shape: _Shape, draws: Array, log_weights: Array) -> tuple[Array, float]:
    """Draws led from a shape to the posterior in small steps, and the logarithm of their mean weight.

    Where the posterior is bent too much for any one shape, few draws of it count. Then the weights are let in
    by degrees, each time so far that half the draws count; they are drawn anew by weight, and each walks some
    steps at random that keep to the distribution reached (sequential Monte Carlo).
    """
    random = np.random.default_rng(91)
    reached, log_mean = 0.0, 0.0
    while reached < 1.0:
        more = _as_far_as_half_count(log_weights, 1.0 - reached)
        shares, log_total = _shares(more * log_weights)
        log_mean += log_total - math.log(len(draws))
        reached += more
        places = np.searchsorted(np.cumsum(shares), (np.arange(len(draws)) + random.random()) / len(draws))
        chosen = np.minimum(places, len(draws) - 1)
        draws, log_weights = _walked(nearby, shape, draws[chosen], log_weights[chosen], reached, random)
    return draws, log_mean


def _as_far_as_half_count(log_weights: Array, most: float) -> float:
    if _effective(_shares(most * log_weights)[0]) >= 0.5 * len(log_weights):
        return most
    low, high = 0.0, most
    for _ in range(30):
        middle = (low + high) / 2
        half = _effective(_shares(middle * log_weights)[0]) >= 0.5 * len(log_weights)
        low, high = (middle, high) if half else (low, middle)
    return max(low, 1e-4 * most)


def _walked(
    nearby: _Nearby,
    shape: _Shape,
    draws: Array,
    log_weights: Array,
    reached: float,
    random: np.random.Generator,
) -> tuple[Array, Array]:
    """Draws after some steps of Metropolis' walk; the step is as wide as they lie apart."""
    count, size = draws.shape
    root = np.linalg.cholesky(np.cov(draws.T) + 1e-9 * np.eye(size))
    log_proposed, stride = shape.log_density(draws), _STRIDE / math.sqrt(size)
    for _ in range(_WALK):
        tried = draws + stride * random.standard_normal((count, size)) @ root.T
        tried_proposed = shape.log_density(tried)
        tried_weights = nearby.log_joint(tried) - tried_proposed
        gained = tried_proposed + reached * tried_weights - log_proposed - reached * log_weights
        taken = np.log(random.random(count)) < gained
        draws = np.where(taken[:, None], tried, draws)
        log_proposed = np.where(taken, tried_proposed, log_proposed)
        log_weights = np.where(taken, tried_weights, log_weights)
        stride *= math.exp(float(np.mean(taken)) - _TAKEN)
    return draws, log_weights


@dataclass(frozen=True)
class _Shape:
    """Where draws are taken: a t distribution about `middle`; `root` turns standard draws into its own."""

    middle: Array
    root: Array

    def log_density(self, draws: Array) -> Array:
        """Logarithm of the t distribution's density at draws of shape (N, n)."""
        size = len(self.middle)
        offsets = np.linalg.solve(self.root, (draws - self.middle).T)
        constant = (
            math.lgamma((_FREEDOM + size) / 2)
            - math.lgamma(_FREEDOM / 2)
            - 0.5 * size * math.log(_FREEDOM * math.pi)
            - float(np.linalg.slogdet(self.root)[1])
        )
        return np.asarray(constant - 0.5 * (_FREEDOM + size) * np.log1p((offsets**2).sum(0) / _FREEDOM))


@dataclass(frozen=True)
class _Nearby:
    """The posterior near the best, of parameters and fault alone; `whitening` has the rest in it."""

    asked: Problem
    cause: Cause
    whitening: Array
    size: int

    def drawn(self, shape: _Shape, stage: int) -> tuple[Array, Array]:
        """Draws of a shape, and the logarithm of what each weighs."""
        draws = shape.middle + _t_draws(self.size, stage) @ shape.root.T
        return draws, self.log_joint(draws) - shape.log_density(draws)

    def log_joint(self, draws: Array) -> Array:
        """Logarithm of prior and likelihood together, up to a constant of all causes, shape (N,)."""
        rest = width(self.asked.prior, self.asked.points, self.cause.unknowns) - self.size
        still = np.concatenate([draws, np.zeros((len(draws), rest))], axis=1)
        groups = [Group(self.cause, slice(0, len(still)))]
        left = residuals(self.asked, groups, still, self.cause.unknowns) @ self.whitening.T
        constant = self.size * math.log(2 * math.pi) - 2 * float(np.linalg.slogdet(self.whitening)[1])
        return np.asarray(-0.5 * ((left**2).sum(1) + (draws**2).sum(1) + constant))


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
        if _effective(shares) >= enough:
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


def narrowed(prior: Prior, points: Sequence[Point], healthy: Cause) -> Prior:
    """The prior of motors that pass through the sheet's points (best fit and its neighbourhood)."""
    asked = problem(prior, points)
    (best,) = best_of_each(asked, [healthy])
    size = len(prior.parameters)
    covariance = np.linalg.inv(best.slopes.T @ best.slopes + np.eye(len(best.z)))[:size, :size]
    root = prior.root
    return Prior(prior.sheet, prior.parameters, prior.mean + root @ best.z[:size], root @ covariance @ root.T)


def _left_out(asked: Problem, cause: Cause) -> float:
    """A reading a cause says nothing of may be anything up to twice the usual."""
    total = 0.0
    for one, typical in zip(asked.measured, asked.typical, strict=True):
        if ignored(cause, one):
            total += math.log(one.uncertainty * math.sqrt(2 * math.pi) / (2 * typical))
    return total


@lru_cache(maxsize=128)
def _t_draws(width: int, stage: int) -> Array:
    """Draws of a standard t distribution, shape (DRAWS, width)."""
    random = np.random.default_rng(57 + stage)
    normal = random.standard_normal((DRAWS, width))
    return np.asarray(normal / np.sqrt(random.chisquare(_FREEDOM, DRAWS) / _FREEDOM)[:, None])
