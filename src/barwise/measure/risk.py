"""How often a decision goes wrong: bad parts accepted, good ones refused, over all parts that come in.

Source
------
JCGM 106:2012, 9.5 (global consumer's and producer's risk, from memory).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from barwise.errors import MeasurementError
from barwise.measure.decision import Limit

Array = NDArray[np.float64]

_REACH = 9.0
_PANELS, _ORDER = 40, 20


@dataclass(frozen=True)
class Risks:
    """Shares of all parts: within the limit, accepted though beyond it, refused though within."""

    conforming: float
    consumer: float
    producer: float


def global_risks(mean: float, spread: float, uncertainty: float, limit: Limit, accepted: Limit) -> Risks:
    """Risks of accepting what reads within `accepted`, when parts scatter normally.

    Parameters
    ----------
    mean, spread : float
        Of the parts' true values, and its standard deviation.
    uncertainty : float
        Standard uncertainty of one measurement.
    limit, accepted : Limit
        What is allowed, and which readings are accepted.

    Notes
    -----
    Integral over the true value of its density times the probability of a reading that misleads, by
    Gauss-Legendre quadrature on panels that break at the limits.
    """
    if not (spread > 0 and uncertainty > 0):
        found = f"spread {spread:g} and uncertainty {uncertainty:g}"
        raise MeasurementError(f"risk: found {found}, expected both above 0")
    sides = [side for side in (limit.lower, limit.upper) if side is not None]
    value, weight = _quadrature(mean - _REACH * spread, mean + _REACH * spread, sides)
    density = weight * np.exp(-0.5 * ((value - mean) / spread) ** 2) / (spread * math.sqrt(2 * math.pi))
    taken = np.array([_between(accepted, true, uncertainty) for true in value])
    good = np.array([limit.holds(true) for true in value])
    return Risks(
        conforming=float(density[good].sum()),
        consumer=float((density * taken)[~good].sum()),
        producer=float((density * (1 - taken))[good].sum()),
    )


def _quadrature(start: float, end: float, breaks: list[float]) -> tuple[Array, Array]:
    edges = np.unique([*np.linspace(start, end, _PANELS + 1), *(b for b in breaks if start < b < end)])
    node, weight = np.polynomial.legendre.leggauss(_ORDER)
    half = np.diff(edges)[:, None] / 2
    return ((edges[:-1, None] + half) + half * node).ravel(), (half * weight).ravel()


def _between(accepted: Limit, true: float, uncertainty: float) -> float:
    """Probability that a part of this true value reads as accepted."""
    root = uncertainty * math.sqrt(2)
    under = 0.0 if accepted.lower is None else 0.5 * math.erfc((true - accepted.lower) / root)
    over = 0.0 if accepted.upper is None else 0.5 * math.erfc((accepted.upper - true) / root)
    return 1 - under - over
