"""How much one lot reads higher than another, where each scatters in its own way."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from barwise.errors import MeasurementError


@dataclass(frozen=True)
class Difference:
    """Mean of the first less mean of the second, and its interval [unit of the values]."""

    value: float
    low: float
    high: float

    @property
    def is_seen(self) -> bool:
        """Whether the interval leaves out no difference at all."""
        return not self.low <= 0 <= self.high


def difference(first: Sequence[float], second: Sequence[float], level: float = 0.95) -> Difference:
    """The difference of two means with its interval.

    Raises
    ------
    MeasurementError
        If there are fewer than two of either, or one is no number.

    Notes
    -----
    Welch's interval for unequal variances, with his approximate degrees of freedom: NIST/SEMATECH e-Handbook
    of Statistical Methods, 7.3.1.1.
    """
    from scipy.special import stdtrit

    a, b = np.asarray(first, dtype=np.float64), np.asarray(second, dtype=np.float64)
    if min(a.size, b.size) < 2:
        raise MeasurementError(f"values: found {a.size} and {b.size}, expected at least 2 of each")
    if not (np.isfinite(a).all() and np.isfinite(b).all()):
        raise MeasurementError("values: found one that is no number, expected numbers")
    parts = np.array([a.var(ddof=1) / a.size, b.var(ddof=1) / b.size])
    variance, value = float(parts.sum()), float(a.mean() - b.mean())
    if variance == 0:
        return Difference(value, value, value)
    free = variance**2 / float(parts[0] ** 2 / (a.size - 1) + parts[1] ** 2 / (b.size - 1))
    reach = float(stdtrit(free, (1 + level) / 2)) * math.sqrt(variance)
    return Difference(value, value - reach, value + reach)
