"""The one decision rule: whether a value is within its limit, beyond it, or too close to call.

Every dimension, resistance and time is judged by this rule and no other. The state of knowledge about
the true value is a normal distribution (Student's t where few degrees of freedom stand behind the
uncertainty) with the measured value as its centre and the standard uncertainty as its spread. Accept
when the probability of conformity is at least the level, reject when that of being beyond one of the
limits is, else undecided. Value, limit and uncertainty stand in one unit, whichever it is.

Where the uncertainty is larger than the tolerance is wide, to be beyond one limit or the other can be
near certain though nobody knows which. That speaks against the instrument, not the part: undecided.

Sources (all from memory)
-------------------------
JCGM 106:2012, Evaluation of measurement data - The role of measurement uncertainty in conformity
assessment: 7.1 to 7.4 (conformance probability, one- and two-sided), 8.3 (guard bands).
ISO 14253-1:2017, Decision rules for verifying conformity or nonconformity with specifications: neither
may be claimed in the uncertainty range. Its older form, a guard band of the expanded uncertainty with
k = 2 at each limit, is this rule at the level 0.97725.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

from barwise.errors import MeasurementError
from barwise.measure.distribution import below, quantile

Outcome = Literal["accept", "reject", "undecided"]

USUAL_LEVEL = 0.95
MOST_REPEATS = 1000
"""More repeats than this nobody takes; then another instrument is the answer."""

_LOST_DIGIT = 10.0
_HALVINGS = 200


@dataclass(frozen=True)
class Limit:
    """What the sheet allows: from `lower` to `upper`, both included; None is an open side.

    Raises
    ------
    MeasurementError
        If both sides are open, a side is not a finite number, or `lower` is above `upper`.
    """

    lower: float | None = None
    upper: float | None = None

    def __post_init__(self) -> None:
        sides = [side for side in (self.lower, self.upper) if side is not None]
        if not sides:
            raise MeasurementError("limit: found neither lower nor upper, expected at least one")
        if not all(math.isfinite(side) for side in sides):
            raise MeasurementError(f"limit: found {sides}, expected finite numbers")
        if len(sides) == 2 and sides[0] > sides[1]:
            raise MeasurementError(f"limit: lower {sides[0]:g} is above upper {sides[1]:g}; swapped?")

    def holds(self, value: float) -> bool:
        """Whether `value` itself, taken as exact, is within the limit."""
        return (self.lower is None or value >= self.lower) and (self.upper is None or value <= self.upper)

    @property
    def width(self) -> float:
        """Distance from lower to upper; infinite with one side open."""
        return math.inf if self.lower is None or self.upper is None else self.upper - self.lower

    @property
    def looks_like_a_lost_digit(self) -> bool:
        """Whether upper is ten times lower or more: worth asking, as sheets do misprint a digit."""
        lower, upper = self.lower, self.upper
        return lower is not None and upper is not None and 0 < lower * _LOST_DIGIT <= upper


@dataclass(frozen=True)
class Decision:
    """What a value comes to against its limit.

    Attributes
    ----------
    outcome : str
        ``accept``, ``reject`` or ``undecided``.
    value, standard_uncertainty : float
        As judged, in the unit of `limit`.
    conforming, nonconforming : float
        Probability that the true value is within the limit, and beyond it. They add up to 1; both are
        kept because a small one cannot be had exactly from the other.
    guard_band : float
        How far inside one limit a value must read to be accepted, the other side being far away.
    acceptance : Limit or None
        The values that would be accepted at this uncertainty. None: no value would, the instrument is
        too coarse for this tolerance.
    """

    outcome: Outcome
    value: float
    standard_uncertainty: float
    limit: Limit
    conforming: float
    nonconforming: float
    level: float
    degrees_of_freedom: float
    guard_band: float
    acceptance: Limit | None


@dataclass(frozen=True)
class Settling:
    """What would settle an undecided value, should further readings keep to it.

    Attributes
    ----------
    outcome : str
        What it would then be. ``undecided`` when the value stands on the limit: nothing settles that.
    standard_uncertainty : float
        Largest standard uncertainty that decides it; another instrument needs at most this.
    repeats : int or None
        Readings in all, with this instrument, whose mean would decide it. None: no number would.
    """

    outcome: Outcome
    standard_uncertainty: float
    repeats: int | None


def conformity(
    value: float, standard_uncertainty: float, limit: Limit, degrees_of_freedom: float = math.inf
) -> tuple[float, float]:
    """Probability that the true value is within the limit, and that it is beyond.

    Notes
    -----
    JCGM 106:2012, 7.2: p = F((upper - y) / u) - F((lower - y) / u), with F the normal distribution, or
    Student's t. Each tail is computed as such, so that a chance of 1e-12 is not lost to rounding.

    Examples
    --------
    >>> conformity(1.6472, 0.00015, Limit(lower=1.6470))[0]  # doctest: +ELLIPSIS
    0.9087...
    """
    under, over = _beyond(value, standard_uncertainty, limit, degrees_of_freedom)
    if standard_uncertainty == 0:
        return 1 - under - over, under + over
    # How far the value is past each limit; both negative inside.
    past_lower = -math.inf if limit.lower is None else (limit.lower - value) / standard_uncertainty
    past_upper = -math.inf if limit.upper is None else (value - limit.upper) / standard_uncertainty
    # The difference is taken at the end of the distribution where both of its terms are small.
    near, far = (past_lower, -past_upper) if past_lower > 0 else (past_upper, -past_lower)
    within = below(-near, degrees_of_freedom) - below(-far, degrees_of_freedom)
    return max(0.0, within), min(1.0, under + over)


def decide(
    value: float,
    standard_uncertainty: float,
    limit: Limit,
    level: float = USUAL_LEVEL,
    degrees_of_freedom: float = math.inf,
) -> Decision:
    """Accept, reject or undecided, with what led to it.

    Parameters
    ----------
    value, standard_uncertainty : float
        Measured value and its standard uncertainty, in the unit of `limit`.
    level : float
        Probability that is enough to decide, above 0.5 and below 1.
    degrees_of_freedom : float
        Behind the standard uncertainty; infinite when it is well known.

    Raises
    ------
    MeasurementError
        If a number is not finite, the uncertainty is negative, or the level is not one.

    Examples
    --------
    >>> limit = Limit(lower=1.6470)
    >>> [decide(value, 0.00015, limit).outcome for value in (1.6475, 1.6472, 1.6466)]
    ['accept', 'undecided', 'reject']
    """
    _check_level(level)
    within, beyond = conformity(value, standard_uncertainty, limit, degrees_of_freedom)
    return Decision(
        outcome=_outcome(value, standard_uncertainty, limit, level, degrees_of_freedom),
        value=value,
        standard_uncertainty=standard_uncertainty,
        limit=limit,
        conforming=within,
        nonconforming=beyond,
        level=level,
        degrees_of_freedom=degrees_of_freedom,
        guard_band=quantile(level, degrees_of_freedom) * standard_uncertainty,
        acceptance=acceptance(standard_uncertainty, limit, level, degrees_of_freedom),
    )


def acceptance(
    standard_uncertainty: float,
    limit: Limit,
    level: float = USUAL_LEVEL,
    degrees_of_freedom: float = math.inf,
) -> Limit | None:
    """Values that are accepted, or None when not even the middle of the tolerance would be.

    Notes
    -----
    One limit: it moves inwards by the guard band (JCGM 106:2012, 8.3.2). Two limits: both tails count,
    so the guard is a little wider where the tolerance is narrow against the uncertainty; found by
    halving.
    """
    _check_level(level)
    _check(0.0, standard_uncertainty, degrees_of_freedom)
    guard = quantile(level, degrees_of_freedom) * standard_uncertainty
    lower, upper = limit.lower, limit.upper
    if lower is None or upper is None:
        return Limit(None if lower is None else lower + guard, None if upper is None else upper - guard)
    if standard_uncertainty == 0:
        return limit
    middle = (lower + upper) / 2

    def accepted(inwards: float) -> bool:
        return conformity(lower + inwards, standard_uncertainty, limit, degrees_of_freedom)[0] >= level

    if not accepted(middle - lower):
        return None
    inwards = _edge(accepted, middle - lower, 0.0)
    return Limit(lower + inwards, upper - inwards)


def what_settles(
    decision: Decision, repeatability: float, fixed_uncertainty: float, estimated: bool = False
) -> Settling | None:
    """What would settle an undecided value; None when it is decided already.

    Parameters
    ----------
    decision : Decision
        As `decide` gave it.
    repeatability : float
        Standard deviation of single readings, which a mean of n divides by the root of n.
    fixed_uncertainty : float
        Standard uncertainty that repeating does not touch: calibration, resolution, temperature.
    estimated : bool
        Whether the repeatability is seen only in the readings themselves, so that n of them leave it
        n - 1 degrees of freedom.

    Notes
    -----
    It assumes that the mean stays where the value is now, and the repeatability what it is. Another
    instrument's uncertainty is taken as well known.
    """
    _check(0.0, repeatability, math.inf)
    _check(0.0, fixed_uncertainty, math.inf)
    if decision.outcome != "undecided":
        return None
    enough = _largest_deciding_uncertainty(decision)
    if enough == 0:
        return Settling("undecided", 0.0, None)
    outcome: Outcome = "accept" if decision.limit.holds(decision.value) else "reject"
    return Settling(outcome, enough, _repeats(decision, repeatability, fixed_uncertainty, estimated))


def _largest_deciding_uncertainty(decision: Decision) -> float:
    value, limit, level = decision.value, decision.limit, decision.level
    nearest = min(abs(value - side) for side in (limit.lower, limit.upper) if side is not None)
    if nearest == 0 or math.isinf(limit.width):
        return nearest / quantile(level)

    def decided(uncertainty: float) -> bool:
        return _outcome(value, uncertainty, limit, level) != "undecided"

    # Were the far side as near as the near one, each tail had half the chance; were it away, all of it.
    return _edge(decided, nearest / quantile((1 + level) / 2), nearest / quantile(level))


def _repeats(decision: Decision, repeatability: float, fixed: float, estimated: bool) -> int | None:
    if repeatability == 0:
        return None
    for count in range(2 if estimated else 1, MOST_REPEATS + 1):
        random = repeatability / math.sqrt(count)
        total = math.hypot(random, fixed)
        freedom = (count - 1) * (total / random) ** 4 if estimated else math.inf
        if _outcome(decision.value, total, decision.limit, decision.level, freedom) != "undecided":
            return count
    return None


def _edge(holds: Callable[[float], bool], inside: float, outside: float) -> float:
    """The last place from `inside` towards `outside` where `holds` is still true."""
    if holds(outside):
        return outside
    for _ in range(_HALVINGS):
        middle = (inside + outside) / 2
        if middle in (inside, outside):
            break
        inside, outside = (middle, outside) if holds(middle) else (inside, middle)
    return inside


def _outcome(
    value: float,
    standard_uncertainty: float,
    limit: Limit,
    level: float,
    degrees_of_freedom: float = math.inf,
) -> Outcome:
    if conformity(value, standard_uncertainty, limit, degrees_of_freedom)[0] >= level:
        return "accept"
    beyond_one = max(_beyond(value, standard_uncertainty, limit, degrees_of_freedom))
    return "reject" if beyond_one >= level else "undecided"


def _beyond(
    value: float, standard_uncertainty: float, limit: Limit, degrees_of_freedom: float
) -> tuple[float, float]:
    """Probability that the true value is below the lower limit, and that it is above the upper one."""
    _check(value, standard_uncertainty, degrees_of_freedom)
    past = (
        -math.inf if limit.lower is None else limit.lower - value,
        -math.inf if limit.upper is None else value - limit.upper,
    )
    if standard_uncertainty == 0:
        return float(past[0] > 0), float(past[1] > 0)
    under, over = (below(distance / standard_uncertainty, degrees_of_freedom) for distance in past)
    return under, over


def _check(value: float, standard_uncertainty: float, degrees_of_freedom: float) -> None:
    if not math.isfinite(value):
        raise MeasurementError(f"value: found {value}, expected a finite number")
    if not (math.isfinite(standard_uncertainty) and standard_uncertainty >= 0):
        raise MeasurementError(f"standard uncertainty: found {standard_uncertainty}, expected 0 or more")
    if not degrees_of_freedom > 0:
        raise MeasurementError(f"degrees of freedom: found {degrees_of_freedom}, expected more than 0")


def _check_level(level: float) -> None:
    if not 0.5 < level < 1:
        raise MeasurementError(f"level: found {level}, expected between 0.5 and 1, such as 0.95")
