"""How often something happens, from so many of so many, with what few cases leave open."""

from __future__ import annotations

from dataclasses import dataclass

from barwise.errors import MeasurementError

LEVEL = 0.95


@dataclass(frozen=True)
class Proportion:
    """A share with its interval.

    Attributes
    ----------
    count, of : int
        So many of so many.
    low, high : float
        The exact two-sided interval; 0 to 1 where there is nothing to go by.
    """

    count: int
    of: int
    low: float
    high: float

    @property
    def value(self) -> float | None:
        """The share itself; None of none."""
        return self.count / self.of if self.of else None


def proportion(count: int, of: int, level: float = LEVEL) -> Proportion:
    """The share of `count` in `of` with its exact binomial interval.

    Parameters
    ----------
    count, of : int
    level : float
        Probability of the interval, between 0 and 1.

    Raises
    ------
    MeasurementError
        If `count` is not between 0 and `of`, or the level not between 0 and 1.

    Notes
    -----
    Clopper and Pearson's interval by the quantiles of the beta distribution, as NIST/SEMATECH e-Handbook of
    Statistical Methods, 7.2.4.2: for small numbers, and never too narrow.

    Examples
    --------
    >>> found = proportion(4, 20, 0.90)
    >>> round(found.low, 6), round(found.high, 6)
    (0.071354, 0.401028)
    """
    from scipy.special import betaincinv

    if not 0 <= count <= of:
        raise MeasurementError(f"count: found {count} of {of}, expected between 0 and {of}")
    if not 0 < level < 1:
        raise MeasurementError(f"level: found {level:g}, expected between 0 and 1")
    tail = (1 - level) / 2
    low = float(betaincinv(count, of - count + 1, tail)) if count else 0.0
    high = float(betaincinv(count + 1, of - count, 1 - tail)) if count < of else 1.0
    return Proportion(count, of, low, high)
