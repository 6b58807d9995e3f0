"""The most probable unknowns of each cause: Levenberg's method, all causes and starts at once.

A prior of standard normals and readings with normal uncertainties make it a least-squares problem. Two starts
for a cause with a size: large faults and small ones may each be a valley of their own.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby

import numpy as np
from numpy.typing import NDArray

from barwise.inspect.run_test.causes import Cause
from barwise.inspect.run_test.prediction import Group, Problem, residuals, width

Array = NDArray[np.float64]

STARTS = (0.5, -1.5)
_STEPS, _STEP = 25, 1e-5
_REFITS = 4
_GAIN, _SHORTEST, _LONGEST = 1e-3, 30.0, 3.0
_FIRST, _EASED, _DAMPED = 1e-3, 1e-1, 1e1


@dataclass(frozen=True)
class Best:
    """The best point of a cause, what is left over there, and its slopes.

    Attributes
    ----------
    z, left, slopes : ndarray, shapes (n,), (M,) and (M, n)
    """

    cause: Cause
    z: Array
    left: Array
    slopes: Array

    @property
    def cost(self) -> float:
        """Twice the negative logarithm of prior and likelihood there, up to a constant."""
        return float((self.left**2).sum() + (self.z**2).sum())

    @property
    def precision(self) -> Array:
        """Inverse covariance of the unknowns, as if the neighbourhood were a normal distribution, (n, n)."""
        return np.asarray(self.slopes.T @ self.slopes + np.eye(len(self.z)))


@dataclass(frozen=True)
class _Valleys:
    """All starts as they stand: z (S, n), residuals (S, M), slopes (S, M, n)."""

    z: Array
    left: Array
    slopes: Array

    @property
    def cost(self) -> Array:
        return np.asarray((self.left**2).sum(1) + (self.z**2).sum(1))

    def steps(self, damping: Array, free: NDArray[np.bool_]) -> Array:
        """Damped Gauss-Newton steps, none longer than `_LONGEST` in any unknown; none in one not free."""
        slopes = self.slopes * free
        across = np.swapaxes(slopes, 1, 2)
        ridge = np.eye(self.z.shape[1]) * (1 + damping)[:, None, None]
        downhill = (across @ self.left[:, :, None])[:, :, 0] + self.z * free
        step = np.linalg.solve(across @ slopes + ridge, downhill[:, :, None])[:, :, 0]
        longest = np.maximum(np.abs(step).max(1), 1e-12)
        return np.asarray(step * np.minimum(1.0, _LONGEST / longest)[:, None])

    def where(self, better: NDArray[np.bool_], other: _Valleys) -> _Valleys:
        """The other's where it is better."""
        return _Valleys(
            np.where(better[:, None], other.z, self.z),
            np.where(better[:, None], other.left, self.left),
            np.where(better[:, None, None], other.slopes, self.slopes),
        )


def best_of_each(asked: Problem, causes: Sequence[Cause]) -> tuple[Best, ...]:
    """The best point of each cause."""
    unknowns = max(cause.unknowns for cause in causes)
    starts = [(cause, start) for cause in causes for start in (STARTS if cause.unknowns else (0.0,))]
    found = _levenberg(asked, [cause for cause, _ in starts], _started(asked, starts, unknowns), unknowns)
    chosen = []
    for cause in causes:
        own = [place for place, (one, _) in enumerate(starts) if one is cause]
        place = min(own, key=lambda one: float(found.cost[one]))
        kept = _columns(asked, cause, unknowns)
        chosen.append(Best(cause, found.z[place, kept], found.left[place], found.slopes[place][:, kept]))
    return tuple(chosen)


def refitted(asked: Problem, best: Best, held: int, places: Array) -> list[Best]:
    """The best points of a cause where one unknown is held at each of some places."""
    cause, unknowns = best.cause, best.cause.unknowns
    z = np.tile(best.z, (len(places), 1))
    z[:, held] = places
    free = np.arange(len(best.z)) != held
    now = _levenberg(asked, [cause] * len(places), z, unknowns, free, _REFITS, 0.0)
    return [Best(cause, *one) for one in zip(now.z, now.left, now.slopes, strict=True)]


def _started(asked: Problem, starts: Sequence[tuple[Cause, float]], unknowns: int) -> Array:
    size = len(asked.prior.parameters)
    z = np.zeros((len(starts), width(asked.prior, asked.points, unknowns)))
    if unknowns:
        z[:, size] = [start for _, start in starts]
    return z


def _levenberg(
    asked: Problem,
    causes: Sequence[Cause],
    z: Array,
    unknowns: int,
    free: NDArray[np.bool_] | None = None,
    most: int = _STEPS,
    gain: float = _GAIN,
) -> _Valleys:
    """Down from each start in the unknowns that are free, until each step gains less than `gain`."""
    now, damping = _valleys(asked, causes, z, unknowns), np.full(len(z), _FIRST)
    free = np.full(z.shape[1], True) if free is None else free
    for _ in range(most):
        tried = _valleys(asked, causes, now.z - now.steps(damping, free), unknowns)
        gained = now.cost - tried.cost
        better = gained > 0
        now = now.where(better, tried)
        damping = np.where(better, damping * _EASED, damping * _DAMPED)
        # A start is done when a step gains next to nothing, or no step however short gains anything.
        if bool(np.all(np.where(better, gained < gain, damping > _SHORTEST))):
            break
    return now


def _valleys(asked: Problem, causes: Sequence[Cause], z: Array, unknowns: int) -> _Valleys:
    """Residuals and their slopes, by one call for all."""
    starts, columns = z.shape
    moved = z[:, None, :] + np.concatenate([np.zeros((1, columns)), _STEP * np.eye(columns)])
    groups, end = [], 0
    for cause, own in groupby(causes, key=lambda one: one):
        begin, end = end, end + len(list(own)) * (columns + 1)
        groups.append(Group(cause, slice(begin, end)))
    values = residuals(asked, groups, moved.reshape(-1, columns), unknowns)
    values = values.reshape(starts, columns + 1, -1)
    slopes = np.swapaxes((values[:, 1:] - values[:, :1]) / _STEP, 1, 2)
    return _Valleys(z, values[:, 0], slopes)


def _columns(asked: Problem, cause: Cause, unknowns: int) -> list[int]:
    """The columns that a cause uses."""
    size, columns = len(asked.prior.parameters), width(asked.prior, asked.points, unknowns)
    return [*range(size + cause.unknowns), *range(size + unknowns, columns)]
