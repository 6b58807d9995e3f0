"""Does this reading belong with the others? Asked while the probes are still on the bars.

A healthy armature reads the same shape round the commutator at any current and temperature, so one
gain for each path of the current ties its readings to the network's healthy prediction. The gain is
the median ratio, which a few odd readings do not move. This rule only says "look again"; what an
odd reading means is for the diagnosis.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]

FEWEST = 5
"""Readings needed before one can be called odd."""
LEAST_DEVIATION, MOST_DEVIATION = 0.03, 0.10
"""Bounds of the deviation that is odd, relative to the expected reading: above the drift of a
winding that warms under test (about 1 %), below the effect of a bad joint (a quarter more
resistance). Common practice, no source."""
SPREADS = 5.0
"""Robust standard deviations that are odd."""
WEAK = 0.2
"""Predictions below this share of the largest are judged on the largest's scale: near a null of the healthy
pattern two currents all but cancel, and each may be off by its share."""
NORMAL_MAD = 1.4826
"""Standard deviation over median absolute deviation of a normal distribution."""


@dataclass(frozen=True)
class Family:
    """What the readings together expect of each of them.

    Attributes
    ----------
    expected : ndarray, shape (N,)
        Healthy prediction at the gain of the reading's own path, in the readings' unit.
    out : ndarray of bool, shape (N,)
        Which readings are out of family.
    """

    expected: Array
    out: NDArray[np.bool_]


def out_of_family(values: ArrayLike, healthy_pattern: ArrayLike, resolution: float = 0.0) -> Family:
    """Compare readings with the healthy pattern at the gain they agree on.

    Parameters
    ----------
    values : array_like, shape (N,)
        Readings taken so far, in any unit.
    healthy_pattern : array_like, shape (N,)
        Prediction for the same places of a healthy winding, in any unit.
    resolution : float
        Last digit of the readings, in their unit.

    Returns
    -------
    Family
        Nothing is out while there are fewer than `FEWEST` readings or nothing to compare with.

    Examples
    --------
    >>> out_of_family([3.5, 3.5, 3.5, 4.4, 3.5, -3.5], [1, 1, 1, 1, 1, -1]).out.tolist()
    [False, False, False, True, False, False]
    """
    read = np.asarray(values, dtype=float)
    healthy = np.asarray(healthy_pattern, dtype=float)
    scale = agreed_scale(read, healthy)
    if scale is None:
        return Family(np.full(read.shape, np.nan), np.zeros(read.shape, dtype=bool))
    expected = scale.expected(healthy)
    return Family(expected, np.abs(read - expected) > scale.margin(healthy) + resolution)


@dataclass(frozen=True)
class Scale:
    """What the readings taken so far agree on: it says what any other place should read.

    Attributes
    ----------
    gain_forward, gain_back : float
        Reading over healthy prediction, where that is positive and where it is negative: each path of the
        current has its own, for a fault in one changes how the current divides.
    floor : float
        Size of a healthy prediction below which a ratio says nothing.
    odd_from : float
        Relative deviation that is odd.
    """

    gain_forward: float
    gain_back: float
    floor: float
    odd_from: float

    def expected(self, healthy: Array) -> Array:
        """Expected reading where a healthy winding has `healthy`."""
        return np.where(healthy < 0, self.gain_back, self.gain_forward) * healthy

    def margin(self, healthy: Array) -> Array:
        """How far from it a reading may lie, besides its last digit."""
        return self.odd_from * self._size(healthy)

    def _size(self, healthy: Array) -> Array:
        gain = np.where(healthy < 0, self.gain_back, self.gain_forward)
        size = np.abs(healthy)
        return np.abs(gain) * np.where(size < self.floor, self.floor / WEAK, size)


def agreed_scale(read: Array, healthy: Array) -> Scale | None:
    """The scale on which readings follow their healthy prediction; None where there are too few."""
    floor = WEAK * float(np.max(np.abs(healthy), initial=0.0))
    strong = np.abs(healthy) > floor
    if np.count_nonzero(strong) < FEWEST:
        return None
    scale = Scale(*_gains(read, healthy, strong), floor, 0.0)
    away = np.abs(read - scale.expected(healthy))
    return replace(scale, odd_from=_odd_from(away[strong], scale._size(healthy)[strong]))


def step_out_of_family(values: ArrayLike, healthy_pattern: ArrayLike, resolution: float = 0.0) -> Family:
    """The same for readings against a common point of unknown level, such as the shaft.

    Parameters
    ----------
    values : array_like, shape (N,)
        Readings at bars in the order of the walk.
    healthy_pattern : array_like, shape (N,)
        Healthy voltage of the same bars against any common point.
    resolution : float
        Last digit of the readings, in their unit.

    Returns
    -------
    Family
        Judged by the step from the reading before; the first is never out.
    """
    read = np.asarray(values, dtype=float)
    if read.size < 2:
        return out_of_family(read, healthy_pattern)
    steps = out_of_family(np.diff(read), np.diff(np.asarray(healthy_pattern)), 2 * resolution)
    expected = np.concatenate([[read[0]], read[:-1] + steps.expected])
    return Family(expected, np.concatenate([[False], steps.out]))


def _gains(read: Array, healthy: Array, strong: NDArray[np.bool_]) -> tuple[float, float]:
    """Gain of each path, or of all readings where a path has too few."""
    whole = _gain(read[strong], healthy[strong])
    forward, back = (
        _gain(read[strong & path], healthy[strong & path])
        if np.count_nonzero(strong & path) >= FEWEST
        else whole
        for path in (healthy > 0, healthy < 0)
    )
    return forward, back


def _gain(read: Array, healthy: Array) -> float:
    """Median size of the ratio, with the sign most readings have: leads may be swapped."""
    ratio = read / healthy
    sign = -1.0 if np.count_nonzero(ratio < 0) > np.count_nonzero(ratio > 0) else 1.0
    return sign * float(np.median(np.abs(ratio)))


def _odd_from(away: Array, scale: Array) -> float:
    relative = np.divide(away, scale, out=np.zeros_like(away), where=scale > 0)
    spread = NORMAL_MAD * float(np.median(relative))
    return float(np.clip(SPREADS * spread, LEAST_DEVIATION, MOST_DEVIATION))
