"""What is usual: the range within which most of a kind read, from those that were read before.

One value far off does not widen it: what stands apart is left out, and counted.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from barwise.errors import MeasurementError

LEAST = 8
"""Values below which nothing is called usual: fewer, and the range says next to nothing."""
SHARE, SURE = 0.95, 0.90
"""Of all of a kind, so many lie within the usual range, so sure."""
APART = 5.0
"""Robust standard deviations from the median, beyond which a value is left out."""
_NORMAL = 1.482602218505602
"""Median distance from the median to standard deviation, of the normal distribution: 1 / Phi^-1(3/4)."""

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Usual:
    """The usual range of a quantity.

    Attributes
    ----------
    low, high : float
        Hold `SHARE` of the kind with confidence `SURE` [unit of the values].
    centre, spread : float
        Mean and standard deviation of those that were kept.
    kept, apart : int
        How many values it rests on, and how many stood apart and were left out.
    """

    low: float
    high: float
    centre: float
    spread: float
    kept: int
    apart: int

    def holds(self, value: float) -> bool:
        """Whether a value lies within."""
        return self.low <= value <= self.high


def usual(values: Sequence[float] | Array, digit: float = 0.0) -> Usual | None:
    """The usual range of a kind; None from fewer than `LEAST` values.

    Parameters
    ----------
    values : sequence of float
        One of each unit.
    digit : float
        Step of the readings: values all alike are known no better than that.

    Raises
    ------
    MeasurementError
        If a value is no number.

    Notes
    -----
    Values further than `APART` robust standard deviations from the median are left out; of a normal kind that
    is one in 1.7 million. Of the rest, mean and standard deviation with the two-sided tolerance factor.
    """
    given = np.asarray(values, dtype=np.float64)
    if not np.isfinite(given).all():
        raise MeasurementError("values: found one that is no number, expected numbers")
    if given.size < LEAST:
        return None
    middle = float(np.median(given))
    least = digit / math.sqrt(12)
    robust = max(_NORMAL * float(np.median(np.abs(given - middle))), least)
    near = np.abs(given - middle) <= APART * robust if robust > 0 else given == middle
    kept = given[near]
    if kept.size < LEAST:
        return None
    centre, spread = float(kept.mean()), max(float(kept.std(ddof=1)), least)
    reach = tolerance_factor(kept.size) * spread
    return Usual(centre - reach, centre + reach, centre, spread, int(kept.size), int(given.size - kept.size))


def tolerance_factor(count: int, share: float = SHARE, sure: float = SURE) -> float:
    """Standard deviations on both sides of the mean that hold a share of a normal kind, so sure.

    Raises
    ------
    MeasurementError
        If there are fewer than two, or a probability is not between 0 and 1.

    Notes
    -----
    Howe's approximation, as NIST/SEMATECH e-Handbook of Statistical Methods, 7.2.6.3, gives it.

    Examples
    --------
    >>> round(tolerance_factor(43, 0.90, 0.99), 4)
    2.2173
    """
    from scipy.special import chdtri, ndtri

    if count < 2:
        raise MeasurementError(f"count: found {count}, expected at least 2")
    for name, chance in (("share", share), ("sure", sure)):
        if not 0 < chance < 1:
            raise MeasurementError(f"{name}: found {chance:g}, expected between 0 and 1")
    free = count - 1
    z = float(ndtri((1 + share) / 2))
    # chdtri takes the upper tail: the quantile below which 1 - sure lies.
    return z * math.sqrt(free * (1 + 1 / count) / float(chdtri(free, sure)))


@dataclass(frozen=True)
class Rank:
    """Where a value stands among others: so many lie below, so many above, so many are the same."""

    below: int
    same: int
    above: int

    @property
    def of(self) -> int:
        """How many others there are."""
        return self.below + self.same + self.above


def rank(value: float, others: Sequence[float] | Array, digit: float = 0.0) -> Rank:
    """Where a value stands among those of other units; within half a `digit` they are the same."""
    apart = np.asarray(others, dtype=np.float64) - value
    below, above = int((apart < -digit / 2).sum()), int((apart > digit / 2).sum())
    return Rank(below, apart.size - below - above, above)
