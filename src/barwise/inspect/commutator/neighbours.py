"""Does this reading of the dial go with its neighbours? Asked while the plunger is still on the bar.

A commutator that runs out reads a smooth curve round its bars. A bar that leaves the curve of its neighbours
stands high or low, or was misread; either way it is worth a second look. What it means is for the cut plan.
"""

from __future__ import annotations

from collections.abc import Mapping, Set

import numpy as np
from numpy.typing import NDArray

from barwise.inspect.bar_walk import Outlook
from barwise.inspect.family import FEWEST, SPREADS

Array = NDArray[np.float64]

REACH = 3
"""Bars to either side that say what a bar should read. Common practice, no source."""
LEAST_STEPS = 10.0
"""Steps of the scale within which nothing is odd: a step of a thousandth between bars, on a dial that
reads to a tenth of it, is what a worn commutator has. Common practice, no source."""
QUIET_SHARE, QUIET_SPREAD = 0.25, 0.3186
"""An odd bar spoils the lines of its neighbours too, so the spread is told from the quietest quarter: a
quarter of a normal distribution lies within 0.3186 standard deviations of its middle."""
ONE_SIDED = 2.0
"""A bar with neighbours on one side only is told from their line drawn on, which is less sure by so much."""


def outlook(taken: Mapping[int, float], bars: int, resolution: float = 0.0) -> tuple[Outlook | None, ...]:
    """What each bar should read by its neighbours, read or not.

    Parameters
    ----------
    taken : mapping of int to float
        Reading at each bar taken so far, bars counted from 0, in any unit.
    bars : int
        Bars of the commutator; the last is the neighbour of the first.
    resolution : float
        Step of the scale, in the same unit.

    Returns
    -------
    tuple of Outlook or None
        None where nobody knows, or where a neighbour is the odder one. All None with fewer than `FEWEST`
        readings.

    Examples
    --------
    >>> walk = dict(enumerate([0.0, 0.1, 0.2, 5.0, 0.4, 0.5, 0.6]))
    >>> known = outlook(walk, 40, 0.01)
    >>> [bar for bar in walk if known[bar] and abs(walk[bar] - known[bar].expected) > known[bar].margin]
    [3]
    """
    between = {bar: _between(taken, bar, bars) for bar in range(bars)}
    away = {bar: abs(taken[bar] - at) for bar in taken if (at := between[bar]) is not None}
    if len(taken) < FEWEST or len(away) < FEWEST - 2:
        return (None,) * bars
    spread = float(np.quantile(list(away.values()), QUIET_SHARE)) / QUIET_SPREAD
    margin = max(SPREADS * spread, LEAST_STEPS * resolution)
    out = {bar for bar, one in away.items() if one > margin and _is_worst(away, bar, bars)}
    sound = {bar: read for bar, read in taken.items() if bar not in out}
    return tuple(_of_bar(bar, bars, sound, between[bar], margin, away.keys() - out) for bar in range(bars))


def _of_bar(
    bar: int, bars: int, sound: Mapping[int, float], between: float | None, margin: float, doubted: Set[int]
) -> Outlook | None:
    if between is None:
        drawn_on = _drawn_on(sound, bar, bars)
        return None if drawn_on is None else Outlook(drawn_on, ONE_SIDED * margin)
    if bar in doubted and abs(sound[bar] - between) > margin:
        return None  # pulled along by a neighbour that is odder
    return Outlook(between, margin)


def _between(taken: Mapping[int, float], bar: int, bars: int) -> float | None:
    """On the straight line between the nearest readings before and after; None where one is missing."""
    before, after = _nearest(taken, bar, bars, -1), _nearest(taken, bar, bars, +1)
    if before is None or after is None:
        return None
    share = before / (before + after)
    return taken[(bar - before) % bars] * (1 - share) + taken[(bar + after) % bars] * share


def _drawn_on(taken: Mapping[int, float], bar: int, bars: int) -> float | None:
    """On the line through the two nearest readings on the side that has some."""
    for side in (-1, +1):
        first = _nearest(taken, bar, bars, side)
        if first is None:
            continue
        near = (bar + side * first) % bars
        second = _nearest(taken, near, bars, side)
        if second is None:
            return None
        far = (near + side * second) % bars
        return taken[near] + (taken[near] - taken[far]) * first / second
    return None


def _nearest(taken: Mapping[int, float], bar: int, bars: int, side: int) -> int | None:
    """How many bars away the nearest reading on one side is, if within reach."""
    return next((n for n in range(1, REACH + 1) if (bar + side * n) % bars in taken and n < bars), None)


def _is_worst(away: Mapping[int, float], bar: int, bars: int) -> bool:
    """An odd bar pulls the lines of its neighbours along; the farthest away of them is the odd one."""
    near = ((bar + n) % bars for n in range(-REACH, REACH + 1))
    return all(away[bar] >= away.get(one, 0.0) for one in near)
