"""How far a number can be trusted: standard uncertainties and how they add up.

Source
------
JCGM 100:2008, Evaluation of measurement data - Guide to the expression of uncertainty in measurement
(from memory): 4.2 (type A), 4.3 (type B), 5.1 (uncorrelated inputs), 5.2 (correlated inputs), annex G.4
(effective degrees of freedom).
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from barwise.errors import MeasurementError
from barwise.measure.distribution import coverage_factor

Model = Callable[[Sequence[float]], float]


@dataclass(frozen=True)
class Estimate:
    """A value with its standard uncertainty, both in one unit, and the degrees of freedom behind it."""

    value: float
    standard_uncertainty: float
    degrees_of_freedom: float = math.inf

    def expanded(self, level: float = 0.95) -> float:
        """Half-width of the interval that holds the true value with probability `level`."""
        return coverage_factor(level, self.degrees_of_freedom) * self.standard_uncertainty


@dataclass(frozen=True)
class Component:
    """One source of uncertainty: what it is, how large, and how much of it reaches the result.

    `sensitivity` is the derivative of the result by this input (JCGM 100:2008, 5.1.3).
    """

    name: str
    standard_uncertainty: float
    sensitivity: float = 1.0
    degrees_of_freedom: float = math.inf

    @property
    def contribution(self) -> float:
        """What it alone would give the result, unsigned, in the result's unit."""
        return abs(self.sensitivity) * self.standard_uncertainty


@dataclass(frozen=True)
class Budget:
    """All the sources of one result's uncertainty, independent of one another.

    Examples
    --------
    >>> budget = Budget((Component("scale", 3.0), Component("repeats", 4.0, degrees_of_freedom=8)))
    >>> budget.standard_uncertainty, round(budget.degrees_of_freedom, 2)
    (5.0, 19.53)
    """

    components: tuple[Component, ...]

    @property
    def standard_uncertainty(self) -> float:
        """Root of the sum of squares (JCGM 100:2008, equation 10)."""
        return math.hypot(*(part.contribution for part in self.components))

    @property
    def degrees_of_freedom(self) -> float:
        """Welch-Satterthwaite: u⁴ / Σ (uᵢ⁴ / νᵢ) (JCGM 100:2008, equation G.2b)."""
        total = self.standard_uncertainty
        if total == 0:
            return math.inf
        loose = sum((part.contribution / total) ** 4 / part.degrees_of_freedom for part in self.components)
        return math.inf if loose == 0 else 1 / loose

    def share(self, component: Component) -> float:
        """Part of the variance that one component makes, 0 to 1."""
        total = self.standard_uncertainty
        return 0.0 if total == 0 else (component.contribution / total) ** 2

    def estimate(self, value: float) -> Estimate:
        """The result with this uncertainty."""
        return Estimate(value, self.standard_uncertainty, self.degrees_of_freedom)


def rectangular(half_width: float) -> float:
    """Standard uncertainty of a value known only to lie within ± half_width: a / √3 (4.3.7)."""
    return half_width / math.sqrt(3)


def triangular(half_width: float) -> float:
    """The same when the middle is likelier than the ends: a / √6 (4.3.9)."""
    return half_width / math.sqrt(6)


def arcsine(half_width: float) -> float:
    """The same for something that swings to and fro between its ends, such as a thermostat: a / √2."""
    return half_width / math.sqrt(2)


def last_digit(resolution: float) -> float:
    """Standard uncertainty that a scale's step leaves: half a step either way, rectangular (F.2.2.1)."""
    return rectangular(resolution / 2)


def from_expanded(expanded: float, factor: float = 2.0) -> float:
    """Standard uncertainty of a certificate that states U and k: U / k (4.3.3)."""
    if not (factor > 0 and expanded >= 0):
        found = f"found U = {expanded:g} with k = {factor:g}"
        raise MeasurementError(f"expanded uncertainty: {found}, expected U of 0 or more and k above 0")
    return expanded / factor


def mean_of(readings: Sequence[float]) -> Estimate:
    """Mean of repeated readings with the standard uncertainty of the mean, type A.

    Notes
    -----
    s / √n with n - 1 degrees of freedom (JCGM 100:2008, 4.2.3).

    Raises
    ------
    MeasurementError
        If there are fewer than two readings: one alone shows no spread.
    """
    if len(readings) < 2:
        raise MeasurementError(f"repeats: found {len(readings)}, expected two or more to see a spread")
    values = np.asarray(readings, dtype=float)
    spread = float(values.std(ddof=1))
    return Estimate(float(values.mean()), spread / math.sqrt(len(values)), len(values) - 1)


def propagate(model: Model, inputs: Sequence[Estimate], names: Sequence[str] = ()) -> tuple[float, Budget]:
    """Value of a model of independent inputs, and where its uncertainty comes from.

    Parameters
    ----------
    model : callable
        Takes the inputs' values in order, returns the result.
    inputs : sequence of Estimate
        Each in its own unit.
    names : sequence of str, optional
        What the inputs are called in the budget.

    Notes
    -----
    Sensitivities as JCGM 100:2008, 5.1.3, note 2: the model is moved by plus and minus one standard
    uncertainty of each input in turn, and half the difference is that input's contribution. For a model
    that bends within one uncertainty this is fairer than the derivative, and the first order is all it
    claims.

    Raises
    ------
    MeasurementError
        If the model cannot be worked out there, as where a divisor is no larger than its own uncertainty.
    """
    values = [given.value for given in inputs]
    called = names or [f"input {place}" for place in range(1, len(inputs) + 1)]
    try:
        worked_out = model(values)
        slopes = _sensitivities(model, values, [given.standard_uncertainty for given in inputs])
    except (ZeroDivisionError, OverflowError):
        listed = ", ".join(f"{name} {value:.3g}" for name, value in zip(called, values, strict=True))
        raise MeasurementError(
            f"uncertainty: found {listed} [SI], one of them nothing within its own doubt, "
            "expected each well above 0: read it again, on a finer scale"
        ) from None
    parts = tuple(
        Component(name, given.standard_uncertainty, slope, given.degrees_of_freedom)
        for name, given, slope in zip(called, inputs, slopes, strict=True)
    )
    return worked_out, Budget(parts)


def propagate_correlated(
    model: Model, values: Sequence[float], covariance: NDArray[np.float64]
) -> tuple[float, float]:
    """Value and standard uncertainty of a model whose inputs move together.

    Parameters
    ----------
    values : sequence of float, length n
        Inputs in the model's order.
    covariance : ndarray, shape (n, n)
        Variances on the diagonal.

    Notes
    -----
    u² = c V cᵀ (JCGM 100:2008, equation 13).

    Raises
    ------
    MeasurementError
        If the covariance is of another shape, not symmetric, or would give a negative variance.
    """
    matrix = np.asarray(covariance, dtype=float)
    if matrix.shape != (len(values), len(values)) or not np.allclose(matrix, matrix.T, rtol=1e-9, atol=0):
        raise MeasurementError(
            f"covariance: found shape {matrix.shape}, expected symmetric, {len(values)} square"
        )
    if (np.linalg.eigvalsh(matrix) < -1e-9 * max(1e-300, float(np.trace(matrix)))).any():
        raise MeasurementError("covariance: found correlations that cannot be together, check their signs")
    slopes = np.array(_sensitivities(model, list(values), np.sqrt(np.diag(matrix)).tolist()))
    return model(list(values)), math.sqrt(max(0.0, float(slopes @ matrix @ slopes)))


def _sensitivities(model: Model, values: Sequence[float], steps: Sequence[float]) -> list[float]:
    """Half the model's answer to plus and minus one step of each input, per step."""
    slopes = []
    for place, step in enumerate(steps):
        if step == 0:
            slopes.append(0.0)
            continue
        above, below = list(values), list(values)
        above[place] += step
        below[place] -= step
        slopes.append((model(above) - model(below)) / (2 * step))
    return slopes
