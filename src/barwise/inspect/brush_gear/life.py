"""How long the brushes still last, from how far they have worn and how much that took.

Sources
-------
The ratio of two measured lengths, with limits that may have no upper end: E. C. Fieller, Some problems in
interval estimation, Journal of the Royal Statistical Society B 16, 175-185 (1954), from memory. That brushes
go on wearing much as they did is common practice, no source; by how much they may not, is `RATE_SPREAD`.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from barwise.errors import MeasurementError
from barwise.measure.decision import USUAL_LEVEL
from barwise.measure.distribution import many_below, many_quantiles
from barwise.measure.uncertainty import Estimate

RATE_SPREAD = 0.25
"""Standard deviation of the coming wear rate over the past one: common practice, no source."""

_FURTHEST = 1e4
"""Beyond so many times the use so far the wear is not to be told from none."""
_CLOSE = 1e-13
"""The use is found to this part of it: far below what any reading is good for."""


@dataclass(frozen=True)
class Use:
    """How much a unit was used since its brushes were new.

    Parameters
    ----------
    low, high : float
        It was between these, equal where it is known.
    unit : str
        ``h``, ``starts``, ``km`` or ``miles``; `UNKNOWN_USE` where nobody knows.

    Raises
    ------
    MeasurementError
        If it is not above 0, or the ends are in the wrong order.
    """

    low: float
    high: float
    unit: str

    def __post_init__(self) -> None:
        if not 0 < self.low <= self.high < math.inf:
            found = f"found {self.low:g} to {self.high:g}"
            raise MeasurementError(f"use so far: {found}, expected above 0, the smaller first")

    @property
    def middle(self) -> float:
        """Geometric mean of the two ends."""
        return math.sqrt(self.low * self.high)

    @property
    def spread(self) -> float:
        """Relative standard uncertainty: rectangular between the logarithms of the ends."""
        return math.log(self.high / self.low) / (2 * math.sqrt(3))


UNKNOWN_USE = Use(1.0, 1.0, "times the use so far")
"""Then what is left is said in multiples of it, which needs no hours."""


@dataclass(frozen=True)
class Life:
    """What is left until the first brush of the set is down to its minimum.

    Attributes
    ----------
    middle : float or None
        As likely more as less, in `unit`. None: the wear so far is too small to tell.
    low, high : float or None
        It lies between these with probability `level`; `high` None has no upper end.
    unit : str
        That of the use.
    assured : float
        It lasts at least this long with probability `level`.
    """

    middle: float | None
    low: float
    high: float | None
    unit: str
    assured: float
    level: float


@dataclass(frozen=True)
class WornBrushes:
    """The set as measured.

    Parameters
    ----------
    lengths : tuple of Estimate
        Each brush now [m].
    new : Estimate
        Length when new [m]; each brush is off by its own part of the uncertainty.
    minimum_m : float
        Length at which they are replaced [m].
    use : Use
    rate_spread : float
        Relative standard deviation of the coming rate over the past one.

    Raises
    ------
    MeasurementError
        If there is no brush, or the minimum is not below the new length.
    """

    lengths: tuple[Estimate, ...]
    new: Estimate
    minimum_m: float
    use: Use = UNKNOWN_USE
    rate_spread: float = RATE_SPREAD

    def __post_init__(self) -> None:
        if not self.lengths:
            raise MeasurementError("brushes: found none, expected the length of at least one")
        if not 0 < self.minimum_m < self.new.value:
            both = f"found minimum {1000 * self.minimum_m:g} mm and new {1000 * self.new.value:g} mm"
            raise MeasurementError(f"brush length: {both}, expected the minimum below the new length")


def chance_to_last(brushes: WornBrushes, more: float) -> float:
    """Probability that no brush reaches the minimum within `more` of use, in the use's unit.

    Notes
    -----
    With s = more · (coming rate / past rate) / use so far, a brush of length L lasts where
    (L - minimum) - s (new - L) is above 0. For a given s that is normal, with variance
    (1 + s)² u(L)² + s² u(new)²; s is log-normal by what is not known of the use and of the coming rate,
    which the brushes of a set have in common.
    """
    if more < 0 or not math.isfinite(more):
        raise MeasurementError(f"use to come: found {more}, expected 0 or more")
    return _chance(brushes, more, _likely_rates(brushes))


def _likely_rates(brushes: WornBrushes) -> NDArray[np.float64]:
    """Equally likely rates of wear to come, over the past one as it was reckoned."""
    return np.exp(math.hypot(brushes.use.spread, brushes.rate_spread) * _nodes())


def _chance(brushes: WornBrushes, more: float, rates: NDArray[np.float64]) -> float:
    shares: NDArray[np.float64] = more / brushes.use.middle * rates
    lasts = np.ones_like(shares)
    for length in brushes.lengths:
        margin = (length.value - brushes.minimum_m) - shares * (brushes.new.value - length.value)
        spread = np.hypot(
            (1 + shares) * length.standard_uncertainty, shares * brushes.new.standard_uncertainty
        )
        lasts *= _above_nothing(margin, spread)
    return float(lasts.mean())


def remaining_life(brushes: WornBrushes, level: float = USUAL_LEVEL) -> Life:
    """How much use is left until the first brush is down.

    Examples
    --------
    >>> worn = WornBrushes((Estimate(0.015, 1e-5),), Estimate(0.019, 1e-5), 0.010, Use(4000, 4000, "h"))
    >>> left = remaining_life(worn)
    >>> round(left.middle), round(left.low, -2), round(left.high, -2)
    (5000, 3100.0, 8200.0)
    """
    if not 0.5 < level < 1:
        raise MeasurementError(f"level: found {level}, expected between 0.5 and 1, such as 0.95")
    rates = _likely_rates(brushes)
    return Life(
        middle=_until(brushes, 0.5, rates),
        low=_until(brushes, (1 + level) / 2, rates) or 0.0,
        high=_until(brushes, (1 - level) / 2, rates),
        unit=brushes.use.unit,
        assured=_until(brushes, level, rates) or 0.0,
        level=level,
    )


def _until(brushes: WornBrushes, chance: float, rates: NDArray[np.float64]) -> float | None:
    """The use up to which it lasts with probability `chance`; None where that has no end."""
    low, high = 0.0, brushes.use.middle * _FURTHEST
    if _chance(brushes, low, rates) < chance:
        return 0.0
    if _chance(brushes, high, rates) >= chance:
        # A certain outcome with no end would read as no life at all; the furthest is what is said then.
        return None if chance <= 0.5 else high
    low = high / 1e10
    while high > low * (1 + _CLOSE):
        middle = math.sqrt(low * high)
        low, high = (middle, high) if _chance(brushes, middle, rates) >= chance else (low, middle)
    return low


@lru_cache(maxsize=1)
def _nodes() -> NDArray[np.float64]:
    """Equally likely deviations: a sharply measured length makes steps, which few clever nodes would miss."""
    return many_quantiles((np.arange(4000) + 0.5) / 4000)


def _above_nothing(margin: NDArray[np.float64], spread: NDArray[np.float64]) -> NDArray[np.float64]:
    certain = spread == 0
    if not certain.any():
        return many_below(margin / spread)
    deviations = margin / np.where(certain, 1.0, spread)
    return np.where(certain, (margin > 0).astype(np.float64), many_below(deviations))
