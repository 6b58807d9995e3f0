"""What one thing that was measured comes to: its value, how sure, its decision, and a sentence about it.

The parts of a unit (brush gear, switch, drive) are each judged as a list of these. Accept, reject or
undecided is `barwise.measure.decision` alone.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from barwise.errors import MeasurementError
from barwise.inspect.checks.wording import (
    NO_LIMIT,
    ON_THE_LIMIT,
    against,
    general_one,
    number,
    sides_in_words,
)
from barwise.measure.decision import USUAL_LEVEL, Limit, decide, what_settles
from barwise.measure.quantity import Quantity
from barwise.measure.uncertainty import Budget, Component, Estimate, mean_of
from barwise.measure.units import Unit

Verdict = Literal["accept", "reject", "undecided", "noted"]
"""``noted``: measured, and there is no limit to hold it against."""

SHEET = "the sheet"
"""Source of a limit that is of the unit's own sheet."""

WORST_FIRST: dict[Verdict, int] = {"reject": 0, "undecided": 1, "accept": 2, "noted": 3}


@dataclass(frozen=True)
class Bound:
    """A limit with where it comes from, and the unit to say it in; None sides are open [SI].

    Raises
    ------
    MeasurementError
        If both sides are open or they stand in the wrong order.
    """

    limit: Limit
    unit: str
    source: str = ""

    def words(self, unit: str = "") -> str:
        """``11 mm or more``, and in `unit` as well where that is another.

        Examples
        --------
        >>> Bound(Limit(0.0015, 0.003), "mm").words("in")
        '1.5 to 3 mm (0.05906 to 0.1181 in)'
        """
        return sides_in_words(self.limit, self.unit, unit, figures=6)

    @property
    def whence(self) -> str:
        """A sentence for a limit that is not of the unit's own sheet."""
        return "" if self.source in ("", SHEET) else general_one(self.source)


@dataclass(frozen=True)
class Finding:
    """One thing measured or looked at.

    Attributes
    ----------
    part : str
        What it is, such as ``brush 2, length``.
    outcome : str
        accept, reject, undecided; or noted.
    line : str
        One plain sentence.
    settle : str
        What to do next; empty where nothing is open.
    value, standard_uncertainty : float or None
        In SI.
    dimension, unit : str
        Of the value, and the unit it is said in.
    probability : float or None
        That it is within its limit.
    bound : Bound or None
        What it was held against.
    """

    part: str
    outcome: Verdict
    line: str
    settle: str = ""
    value: float | None = None
    standard_uncertainty: float | None = None
    dimension: str = ""
    unit: str = ""
    probability: float | None = None
    bound: Bound | None = None


def mean_of_repeats(readings: Sequence[Quantity], what: str) -> Estimate:
    """Mean of one or more readings of the same thing with one meter [SI].

    Notes
    -----
    The spread of repeats is divided by the root of their number; what the meter's step and its ± leave is
    not, as the same meter is off by the same each time (JCGM 100:2008, 4.2.3 and 4.3.7, from memory).
    """
    if not readings:
        raise MeasurementError(f"{what}: found no reading, expected one or more")
    fixed = Component("meter", max(one.standard_uncertainty for one in readings))
    if len(readings) == 1:
        return Estimate(readings[0].value, fixed.standard_uncertainty)
    seen = mean_of([one.value for one in readings])
    spread = Component("repeats", seen.standard_uncertainty, degrees_of_freedom=seen.degrees_of_freedom)
    return Budget((fixed, spread)).estimate(seen.value)


def hold_against(
    part: str,
    found: Estimate,
    unit: Unit,
    bound: Bound | None,
    *,
    level: float = USUAL_LEVEL,
    then: str = "",
    said: str = "",
) -> Finding:
    """Hold a value against its limit.

    Parameters
    ----------
    part : str
        What it is.
    found : Estimate
        In SI.
    unit : Unit
        To say it in.
    bound : Bound or None
        None: it is noted.
    then : str
        What to do when it is rejected.
    said : str
        More about the value, put behind it in brackets.

    Examples
    --------
    >>> from barwise.measure.units import UNITS
    >>> limit = Bound(Limit(lower=0.010), "mm")
    >>> hold_against("brush 2, length", Estimate(0.0112, 0.00003), UNITS["mm"], limit).line
    'Brush 2, length: 11.2 mm, within its limit, 10 mm or more.'
    """
    value = said_to_its_digit(found, unit)
    more = f" ({said})" if said else ""
    begin = f"{part[:1].upper()}{part[1:]}: {value}{more}"
    if bound is None:
        line = f"{begin}; {NO_LIMIT}"
        return _finding(part, "noted", line, "", found, unit, None, None)
    decision = decide(found.value, found.standard_uncertainty, bound.limit, level, found.degrees_of_freedom)
    line = f"{begin}, {against(decision.outcome, bound.words(unit.name), decision.conforming)}"
    settle = then if decision.outcome == "reject" else ""
    if decision.outcome == "undecided":
        settle = _would_settle(found, bound, level, unit)
    return _finding(
        part, decision.outcome, line + bound.whence, settle, found, unit, decision.conforming, bound
    )


def worst_of(findings: Sequence[Finding]) -> Verdict:
    """The worst outcome decides the part; ``noted`` where nothing could be decided."""
    return min((one.outcome for one in findings), key=WORST_FIRST.__getitem__, default="noted")


def said_to_its_digit(found: Estimate, unit: Unit, *, finer: bool = False) -> str:
    """A value to the decimal place that its uncertainty leaves, in `unit`.

    `finer` gives one place more, for what was worked out rather than read.

    Examples
    --------
    >>> from barwise.measure.units import UNITS
    >>> said_to_its_digit(Estimate(0.604 * 0.0254, 0.00029 * 0.0254), UNITS["in"])
    '0.604 in'
    >>> said_to_its_digit(Estimate(0.5, 0.0), UNITS["V"])
    '0.5000 V'
    """
    spread = found.standard_uncertainty / unit.factor
    if spread <= 0:
        spread = abs(unit.from_si(found.value)) / 2e4
    if spread <= 0:
        return number(found.value, unit.name)
    # A last digit d leaves 0.29 d; twice that rounds to the place of d.
    place = round(math.log10(2 * spread)) - finer
    return number(found.value, unit.name, 10.0**place * unit.factor)


def _finding(
    part: str,
    outcome: Verdict,
    line: str,
    settle: str,
    found: Estimate,
    unit: Unit,
    probability: float | None,
    bound: Bound | None,
) -> Finding:
    return Finding(
        part, outcome, line, settle, found.value, found.standard_uncertainty,
        unit.dimension, unit.name, probability, bound,
    )  # fmt: skip


def _would_settle(found: Estimate, bound: Bound, level: float, unit: Unit) -> str:
    decision = decide(found.value, found.standard_uncertainty, bound.limit, level)
    settling = what_settles(decision, 0.0, found.standard_uncertainty)
    if settling is None or settling.standard_uncertainty == 0:
        return ON_THE_LIMIT
    enough = settling.standard_uncertainty / unit.factor
    return f"To settle it: measure with a standard uncertainty of {enough:.2g} {unit.name} or less."
