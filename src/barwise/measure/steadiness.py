"""When the reading of a meter that talks has settled, so that it may be taken without a hand on a key.

The rule, all of it (common practice, no source):

1. The latest readings agree: no two of them are further apart than `digits` steps of the meter's last digit
   or `share` of what it reads, whichever is more.
2. There are at least `readings` of them, over at least `for_s` seconds.
3. Since the value taken before, the probes were lifted: the meter said that nothing is between its leads, or
   it read at or under its rest level, or it left that value by more than `away` of it (and `away_digits`
   steps). At the beginning too something must change first, so that what happens to lie between the leads
   is not taken.

The value taken is the middle one of the readings that agree: one that the meter did say, not a mean.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from barwise.errors import MeasurementError

_KEPT = 64
"""Readings remembered of one touch; more say nothing new."""


@dataclass(frozen=True)
class Sample:
    """What the meter said at one moment.

    Attributes
    ----------
    at_s : float
        By a clock that only goes forward [s].
    value : float or None
        In SI; None where nothing was between the leads (open, overload).
    text : str
        As the meter wrote it.
    """

    at_s: float
    value: float | None
    text: str = ""


@dataclass(frozen=True)
class Steadiness:
    """The rule's figures.

    Parameters
    ----------
    readings : int
        Least number of readings that agree.
    for_s : float
        Least time they span [s].
    digits, share : float
        How far apart they may be: steps of the last digit, or a part of what is read.
    digit : float
        Step of the last digit [SI].
    rest : float
        At or under this the leads count as lifted [SI]; 0 where the meter has no such level.
    away, away_digits : float
        How far the meter must leave a value, as a part of it and at least in steps, to count as lifted.

    Raises
    ------
    MeasurementError
        If a figure cannot be.
    """

    readings: int = 4
    for_s: float = 0.5
    digits: float = 3.0
    share: float = 0.002
    digit: float = 0.0
    rest: float = 0.0
    away: float = 0.5
    away_digits: float = 20.0

    def __post_init__(self) -> None:
        figures = (self.for_s, self.digits, self.share, self.digit, self.rest, self.away, self.away_digits)
        if not all(math.isfinite(one) and one >= 0 for one in figures):
            raise MeasurementError(f"steadiness: found {figures}, expected figures of 0 or more")
        if not 2 <= self.readings <= _KEPT:
            raise MeasurementError(f"steadiness: found {self.readings} readings, expected from 2 to {_KEPT}")

    def width(self, value: float) -> float:
        """How far apart readings of about `value` may be [SI]."""
        return max(self.digits * self.digit, self.share * abs(value))

    def is_lifted(self, value: float | None) -> bool:
        """Whether the meter itself says that nothing is between its leads."""
        return value is None or abs(value) <= self.rest

    def has_left(self, value: float, former: float) -> bool:
        """Whether a reading is another touch than the one that gave `former`."""
        return abs(value - former) > max(self.away_digits * self.digit, self.away * abs(former))


@dataclass(frozen=True)
class Touch:
    """What is known of the touch under way; the first is `Touch()`.

    Attributes
    ----------
    agreeing : tuple of Sample
        The latest readings that agree with one another, oldest first.
    former : float or None
        The value that must be left before the next one counts [SI].
    lifted : bool
        Whether that has happened.
    """

    agreeing: tuple[Sample, ...] = ()
    former: float | None = None
    lifted: bool = False


def heard(touch: Touch, sample: Sample, rule: Steadiness) -> tuple[Touch, Sample | None]:
    """The touch after one more reading, and the settled reading where this one made it settle.

    Examples
    --------
    >>> rule = Steadiness(readings=3, for_s=0.4, digit=1e-5)
    >>> touch, said = Touch(), []
    >>> for n, value in enumerate([None, 3.50e-3, 3.59e-3, 3.59e-3, 3.60e-3, 3.59e-3]):
    ...     touch, settled = heard(touch, Sample(0.2 * n, value), rule)
    ...     said += [settled.value] if settled else []
    >>> said
    [0.00359]
    """
    if rule.is_lifted(sample.value) or sample.value is None:
        return Touch(lifted=True), None
    left = touch.former is not None and rule.has_left(sample.value, touch.former)
    former = sample.value if touch.former is None and not touch.lifted else touch.former
    touch = replace(
        touch,
        agreeing=_agreeing((*touch.agreeing, sample), rule),
        former=former,
        lifted=touch.lifted or left,
    )
    if not (touch.lifted and is_settled(touch.agreeing, rule)):
        return touch, None
    middle = sorted(touch.agreeing, key=_value)[(len(touch.agreeing) - 1) // 2]
    return Touch(former=_value(middle)), middle


def is_settled(agreeing: tuple[Sample, ...], rule: Steadiness) -> bool:
    """Whether readings that agree are enough, and for long enough."""
    if len(agreeing) < rule.readings:
        return False
    return agreeing[-1].at_s - agreeing[0].at_s >= rule.for_s


def _agreeing(samples: tuple[Sample, ...], rule: Steadiness) -> tuple[Sample, ...]:
    """As many of the latest as lie within the width of the last one."""
    width = rule.width(_value(samples[-1]))
    least = most = _value(samples[-1])
    first = len(samples) - 1
    for n in range(len(samples) - 2, -1, -1):
        least, most = min(least, _value(samples[n])), max(most, _value(samples[n]))
        if most - least > width:
            break
        first = n
    return samples[first:][-_KEPT:]


def _value(sample: Sample) -> float:
    return 0.0 if sample.value is None else sample.value
