"""Drift: an average that forgets slowly, and the bounds within which chance alone keeps it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from barwise.errors import MeasurementError

WEIGHT, REACH = 0.2, 2.962
"""Weight of the newest value, and bounds in standard deviations of the average: without any drift one false
alarm in 500 values (Lucas and Saccucci, Technometrics 32 (1990) 1-12, from memory; `run_length` agrees)."""
_STEPS = 201

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Drift:
    """A control chart of standardised values.

    Attributes
    ----------
    average : ndarray, shape (n,)
        The exponentially weighted moving average after each value [standard deviations].
    bound : ndarray, shape (n,)
        It stays within plus and minus this.
    """

    average: Array
    bound: Array

    @property
    def beyond(self) -> NDArray[np.bool_]:
        """Whether the average was beyond its bound, after each value."""
        return np.asarray(np.abs(self.average) > self.bound)

    @property
    def is_out(self) -> bool:
        """Whether it is now."""
        return bool(self.beyond.size and self.beyond[-1])

    @property
    def out_since(self) -> int | None:
        """Index of the value with which it went beyond and stayed; None where it is not out now."""
        if not self.is_out:
            return None
        within = np.flatnonzero(~self.beyond)
        return int(within[-1]) + 1 if within.size else 0


def ewma(values: Sequence[float] | Array, weight: float = WEIGHT, reach: float = REACH) -> Drift:
    """The chart of values that have mean 0 and standard deviation 1 while nothing drifts.

    Raises
    ------
    MeasurementError
        If a value is no number, the weight is not above 0 and at most 1, or the reach not above 0.

    Notes
    -----
    z_i = w x_i + (1 - w) z_(i-1) from z_0 = 0, bounds L sqrt(w / (2 - w) (1 - (1 - w)^(2 i))): NIST/SEMATECH
    e-Handbook of Statistical Methods, 6.3.2.4, with the exact bounds of the first values.
    """
    given = np.asarray(values, dtype=np.float64)
    if not np.isfinite(given).all():
        raise MeasurementError("values: found one that is no number, expected numbers")
    _checked(weight, reach)
    average = np.empty_like(given)
    last = 0.0
    for place, value in enumerate(given):
        last = weight * float(value) + (1 - weight) * last
        average[place] = last
    age = np.arange(1, given.size + 1)
    bound = reach * np.sqrt(weight / (2 - weight) * (1 - (1 - weight) ** (2 * age)))
    return Drift(average, bound)


def run_length(shift: float, weight: float = WEIGHT, reach: float = REACH) -> float:
    """Values until the average leaves its steady bounds, on average, where all are off by `shift`.

    Parameters
    ----------
    shift : float
        [standard deviations]; 0 gives how long chance alone takes for a false alarm.

    Notes
    -----
    The average is put into equal cells between the bounds; the expected steps to leave them solve a linear
    system (Brook and Evans, Biometrika 59 (1972) 539-549, from memory).
    """
    _checked(weight, reach)
    bound = reach * math.sqrt(weight / (2 - weight))
    width = 2 * bound / _STEPS
    middles = -bound + width * (np.arange(_STEPS) + 0.5)
    # From the middle of one cell into another: the value lies between these.
    low = (middles[None, :] - width / 2 - (1 - weight) * middles[:, None]) / weight - shift
    inside = _phi(low + width / weight) - _phi(low)
    steps = np.linalg.solve(np.eye(_STEPS) - inside, np.ones(_STEPS))
    return float(steps[_STEPS // 2])


def seen_within(values: float, weight: float = WEIGHT, reach: float = REACH) -> float:
    """The smallest lasting shift [standard deviations] that is seen within so many values, on average.

    Raises
    ------
    MeasurementError
        If no shift is seen that soon.
    """
    low, high = 0.0, 64.0
    if run_length(high, weight, reach) > values:
        raise MeasurementError(f"values: found {values:g}, expected at least 2: none is seen sooner")
    for _ in range(40):
        middle = (low + high) / 2
        low, high = (middle, high) if run_length(middle, weight, reach) > values else (low, middle)
    return high


def _checked(weight: float, reach: float) -> None:
    if not 0 < weight <= 1:
        raise MeasurementError(f"weight: found {weight:g}, expected above 0 and at most 1")
    if not reach > 0:
        raise MeasurementError(f"reach: found {reach:g}, expected above 0")


def _phi(z: Array) -> Array:
    from scipy.special import ndtr

    return np.asarray(ndtr(z), dtype=np.float64)
