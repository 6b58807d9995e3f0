"""Draws from a posterior: importance sampling from a mixture of t distributions, or steps from there.

The mixture is adapted twice to where its draws weigh. Where still too few of them count, they are led to the
posterior by degrees (sequential Monte Carlo). The draws are the same every time.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
LogDensity = Callable[[Array], Array]
"""Logarithm of a density that need not add up to 1, at draws of shape (N, n)."""

DRAWS = 1500
_STAGES = 3
_ENOUGH = 300
_FLATTENED = (1.0, 0.8, 0.6, 0.4, 0.25, 0.15, 0.1, 0.05)
_FREEDOM = 8.0
_LEAST_SHARE = 0.02
_WALK, _STRIDE, _TAKEN = 6, 1.7, 0.3


@dataclass(frozen=True)
class Mixture:
    """t distributions: their shares (K,), middles (K, n), and roots (K, n, n) that turn standard draws."""

    shares: Array
    middles: Array
    roots: Array

    def drawn(self, count: int, stage: int = 0) -> Array:
        """Draws of shape (count, n); at one stage the same every time."""
        reached = np.cumsum(self.shares)
        of = np.searchsorted(reached / reached[-1], (np.arange(count) + 0.5) / count)
        standard = _standard(count, self.middles.shape[1], stage)
        return np.asarray(self.middles[of] + np.einsum("nij,nj->ni", self.roots[of], standard))

    def log_density(self, draws: Array) -> Array:
        """Logarithm of the density at draws of shape (N, n)."""
        return np.asarray(np.logaddexp.reduce(self._each(self._standardised(draws)), axis=0))

    def adapted(self, draws: Array, shares: Array) -> Mixture:
        """The same where draws of it weigh so: shares by part, middle and spread by all parts together."""
        apart = self._standardised(draws)
        each = self._each(apart)
        weighed = shares * np.exp(each - np.logaddexp.reduce(each, axis=0))
        middle = np.einsum("kn,kjn->j", weighed, apart)
        offset = apart - middle[:, None]
        spread = np.einsum("kn,kin,kjn->ij", weighed, offset, offset)
        wider = np.linalg.cholesky(0.9 * spread + 0.1 * np.eye(len(middle)))
        return Mixture(evened(weighed.sum(1)), self.middles + self.roots @ middle, self.roots @ wider)

    def _standardised(self, draws: Array) -> Array:
        """The draws as each part sees them, shape (K, n, N)."""
        return np.asarray(np.linalg.solve(self.roots, np.swapaxes(draws[None] - self.middles[:, None], 1, 2)))

    def _each(self, apart: Array) -> Array:
        """Logarithm of each part's share and density at draws as the parts see them, shape (K, N)."""
        size = self.middles.shape[1]
        constant = (
            math.lgamma((_FREEDOM + size) / 2)
            - math.lgamma(_FREEDOM / 2)
            - 0.5 * size * math.log(_FREEDOM * math.pi)
            - np.linalg.slogdet(self.roots)[1]
            + np.log(self.shares)
        )
        distance = np.log1p((apart**2).sum(1) / _FREEDOM)
        return np.asarray(constant[:, None] - 0.5 * (_FREEDOM + size) * distance)


@dataclass(frozen=True)
class Sampled:
    """Draws (N, n) with shares (N,) that add up to 1, and the logarithm of the density's integral."""

    draws: Array
    shares: Array
    log_total: float


def sampled(log_joint: LogDensity, shape: Mixture) -> Sampled:
    """Draws of a density that lies about where `shape` does."""
    enough = max(_ENOUGH, 4 * shape.middles.shape[1])
    for stage in range(_STAGES):
        draws = shape.drawn(DRAWS, stage)
        log_weights = log_joint(draws) - shape.log_density(draws)
        if stage < _STAGES - 1:
            shape = shape.adapted(draws, _flattened(log_weights, enough))
    shares, log_total = _shares(log_weights)
    if _effective(shares) < _ENOUGH:
        return _led_there(log_joint, shape, draws, log_weights)
    return Sampled(draws, shares, log_total - math.log(len(draws)))


def evened(masses: Array) -> Array:
    """Shares by mass; none so small that nothing is drawn of it."""
    shares = np.maximum(masses / masses.sum(), _LEAST_SHARE)
    return np.asarray(shares / shares.sum())


def _led_there(log_joint: LogDensity, shape: Mixture, draws: Array, log_weights: Array) -> Sampled:
    """Draws led from a shape to the posterior in small steps.

    Where the posterior is bent too much for any shape, few draws of it count. Then the weights are let in
    by degrees, each time so far that half the draws count; they are drawn anew by weight, and each walks some
    steps at random that keep to the distribution reached.
    """
    random = np.random.default_rng(91)
    reached, log_mean, count = 0.0, 0.0, len(draws)
    while reached < 1.0:
        more = _as_far_as_half_count(log_weights, 1.0 - reached)
        shares, log_total = _shares(more * log_weights)
        log_mean += log_total - math.log(count)
        reached += more
        places = np.searchsorted(np.cumsum(shares), (np.arange(count) + random.random()) / count)
        chosen = np.minimum(places, count - 1)
        start = draws[chosen], log_weights[chosen]
        draws, log_weights = _walked(log_joint, shape, *start, reached, random)
    return Sampled(draws, np.full(count, 1 / count), log_mean)


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
    log_joint: LogDensity,
    shape: Mixture,
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
        tried_weights = log_joint(tried) - tried_proposed
        gained = tried_proposed + reached * tried_weights - log_proposed - reached * log_weights
        taken = np.log(random.random(count)) < gained
        draws = np.where(taken[:, None], tried, draws)
        log_proposed = np.where(taken, tried_proposed, log_proposed)
        log_weights = np.where(taken, tried_weights, log_weights)
        stride *= math.exp(float(np.mean(taken)) - _TAKEN)
    return draws, log_weights


def _effective(shares: Array) -> float:
    """How many draws count."""
    return 1.0 / float((shares**2).sum())


def _shares(log_weights: Array) -> tuple[Array, float]:
    """Shares by weight, and the logarithm of the weights' sum."""
    top = float(log_weights.max())
    weights = np.exp(log_weights - top)
    total = float(weights.sum())
    return weights / total, top + math.log(total)


def _flattened(log_weights: Array, enough: int) -> Array:
    """Shares by weight, flattened until enough of them count."""
    for flat in _FLATTENED:
        shares, _ = _shares(flat * log_weights)
        if _effective(shares) >= enough:
            break
    return shares


@lru_cache(maxsize=64)
def _standard(count: int, width: int, stage: int) -> Array:
    """Draws of a standard t distribution, shape (count, width)."""
    random = np.random.default_rng(57 + stage)
    normal = random.standard_normal((count, width))
    return np.asarray(normal / np.sqrt(random.chisquare(_FREEDOM, count) / _FREEDOM)[:, None])
