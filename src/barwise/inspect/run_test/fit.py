"""How well one explanation accounts for the readings, and which motors it leaves possible.

The best explanation of each cause is found by least squares (`best`), its posterior is covered along the size
of the fault (`ridge`), and marginal likelihood and motors come by draws of that, weighed (`sampling`). The
same readings give the same answer.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

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
from barwise.inspect.run_test.ridge import along_the_ridge
from barwise.inspect.run_test.sampling import sampled

Array = NDArray[np.float64]

_HOPELESS = 7.0


@dataclass(frozen=True)
class Explained:
    """One cause and the readings.

    Attributes
    ----------
    log_evidence : float
        Logarithm of the marginal likelihood, up to a constant of all causes.
    draws, weights : ndarray, shapes (N, n) and (N,)
        Motors that remain possible, and their weights, which add up to 1.
    """

    cause: Cause
    log_evidence: float
    draws: Array
    weights: Array


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
        return Explained(one.cause, self.log_evidence, one.z[None, :], np.ones(1))


def _sketch(asked: Problem, best: Best) -> _Sketch:
    evidence = -0.5 * (best.cost + float(np.linalg.slogdet(best.precision)[1]))
    return _Sketch(best, evidence + _left_out(asked, best.cause))


def _explain(asked: Problem, sketch: _Sketch) -> Explained:
    cause, slopes = sketch.best.cause, sketch.best.slopes
    size = len(asked.prior.parameters) + cause.unknowns
    # volts, loads and temperature are nearly linear: they are integrated out, and widen the readings
    whitening = np.linalg.inv(np.linalg.cholesky(np.eye(len(slopes)) + slopes[:, size:] @ slopes[:, size:].T))
    nearby = _Nearby(asked, cause, whitening, size)
    found = sampled(nearby.log_joint, along_the_ridge(asked, sketch.best, whitening, size))
    return Explained(cause, found.log_total + _left_out(asked, cause), found.draws, found.shares)


@dataclass(frozen=True)
class _Nearby:
    """The posterior near the best, of parameters and fault alone; `whitening` has the rest in it."""

    asked: Problem
    cause: Cause
    whitening: Array
    size: int

    def log_joint(self, draws: Array) -> Array:
        """Logarithm of prior and likelihood together, up to a constant of all causes, shape (N,)."""
        rest = width(self.asked.prior, self.asked.points, self.cause.unknowns) - self.size
        still = np.concatenate([draws, np.zeros((len(draws), rest))], axis=1)
        groups = [Group(self.cause, slice(0, len(still)))]
        left = residuals(self.asked, groups, still, self.cause.unknowns) @ self.whitening.T
        constant = self.size * math.log(2 * math.pi) - 2 * float(np.linalg.slogdet(self.whitening)[1])
        return np.asarray(-0.5 * ((left**2).sum(1) + (draws**2).sum(1) + constant))


def not_covered(asked: Problem) -> float:
    """Logarithm of the likelihood of readings that no cause in the list would give, on the same scale.

    Each reading is then spread widely about what a sound motor reads, and may be nought.
    """
    total = 0.0
    for one, typical, spread, scale in zip(
        asked.measured, asked.typical, asked.spread, _scales(asked), strict=True
    ):
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
    covariance = np.linalg.inv(best.precision)[:size, :size]
    root = prior.root
    return Prior(prior.sheet, prior.parameters, prior.mean + root @ best.z[:size], root @ covariance @ root.T)


def _left_out(asked: Problem, cause: Cause) -> float:
    """A reading a cause says nothing of may be anything up to twice the usual."""
    total = 0.0
    for one, typical, scale in zip(asked.measured, asked.typical, _scales(asked), strict=True):
        if ignored(cause, one):
            total += math.log(scale / (2 * typical))
    return total


def _scales(asked: Problem) -> list[float]:
    """What each reading's density is multiplied by, so that all causes leave out the same constant."""
    own = np.diagonal(asked.apart)
    scales = [one.uncertainty * math.sqrt(2 * math.pi) for one in asked.measured]
    return [scale / float(apart) for scale, apart in zip(scales, own, strict=True)]
