"""How probable is it to be below: the normal distribution, and Student's t for few readings.

The standard library serves the normal distribution; SciPy is loaded only where Student's t is asked for,
or many deviations at once.

Source
------
JCGM 100:2008, Guide to the expression of uncertainty in measurement, annex G.3 (from memory).
"""

from __future__ import annotations

import math
from statistics import NormalDist

import numpy as np
from numpy.typing import NDArray

_STANDARD = NormalDist()


def below(deviation: float, degrees_of_freedom: float = math.inf) -> float:
    """Probability of less than `deviation`, counted in standard uncertainties from the centre.

    Examples
    --------
    >>> round(below(1.6449), 4), below(0.0, 5)
    (0.95, 0.5)
    """
    if math.isinf(degrees_of_freedom):
        return 0.5 * math.erfc(-deviation / math.sqrt(2))
    from scipy.special import stdtr

    return float(stdtr(degrees_of_freedom, deviation))


def quantile(probability: float, degrees_of_freedom: float = math.inf) -> float:
    """Deviation, in standard uncertainties, that is not exceeded with `probability` (0 to 1, open).

    Examples
    --------
    >>> round(quantile(0.95), 4), round(quantile(0.95, 8), 4)
    (1.6449, 1.8595)
    """
    if math.isinf(degrees_of_freedom):
        return _STANDARD.inv_cdf(probability)
    from scipy.special import stdtrit

    return float(stdtrit(degrees_of_freedom, probability))


def many_below(deviations: NDArray[np.float64], degrees_of_freedom: float = math.inf) -> NDArray[np.float64]:
    """The same as `below` for many deviations at once, of the same shape."""
    from scipy.special import ndtr, stdtr

    if math.isinf(degrees_of_freedom):
        return np.asarray(ndtr(deviations))
    return np.asarray(stdtr(degrees_of_freedom, deviations))


def many_quantiles(probabilities: NDArray[np.float64]) -> NDArray[np.float64]:
    """The same as `quantile` of the normal distribution for some thousands of probabilities."""
    flat = np.ravel(probabilities).tolist()
    found = np.fromiter(map(_STANDARD.inv_cdf, flat), dtype=np.float64, count=len(flat))
    return found.reshape(np.shape(probabilities))


def coverage_factor(level: float = 0.95, degrees_of_freedom: float = math.inf) -> float:
    """Factor k of an interval, value ± k u, that holds the true value with probability `level`.

    Examples
    --------
    >>> round(coverage_factor(), 3), round(coverage_factor(0.99, 16), 2)
    (1.96, 2.92)
    """
    return quantile((1 + level) / 2, degrees_of_freedom)
