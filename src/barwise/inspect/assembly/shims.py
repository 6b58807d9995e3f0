"""Which shims of those in the drawer: every pile tried, under the uncertainty of what was measured.

A shim moves one or more things that have a range: a washer on the shaft takes its thickness off the end
play; one between switch and nose, or behind the lever, moves the pinion clearance by a share of itself.
Every pile the stock allows is tried, and the best one is that which most probably leaves **all** of them
within their ranges; among piles that are as good, the one nearest the middle, then that of fewest pieces.

The arithmetic is common practice, no source; the probability is that of `barwise.measure.decision`.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from barwise.errors import MeasurementError
from barwise.measure import decision
from barwise.measure.decision import Decision, decide
from barwise.measure.distribution import many_below
from barwise.measure.uncertainty import Estimate

Array = NDArray[np.float64]
IntArray = NDArray[np.int64]

MOST_KINDS = 12
MOST_PIECES = 6
MOST_PILES = 250_000
"""More piles than this are not tried: count fewer pieces to a pile, or fewer kinds."""

BEST = 5
_AS_GOOD = 0.002
"""Probabilities closer than this are as good as one another."""


@dataclass(frozen=True)
class Shim:
    """One kind of shim or washer in stock.

    Parameters
    ----------
    name : str
    thickness_m : float
    count : int
        How many there are.
    uncertainty_m : float
        Standard uncertainty of its thickness [m].
    places : tuple of str
        Where it fits; empty means anywhere.
    """

    name: str
    thickness_m: float
    count: int = 1
    uncertainty_m: float = 0.0
    places: tuple[str, ...] = ()


@dataclass(frozen=True)
class Goal:
    """One thing the shims have to bring into its range.

    Parameters
    ----------
    name : str
    now : Estimate
        As measured, with what is in it now [m].
    low_m, high_m : float
        Range allowed [m].
    moves : mapping of str to float
        How much it changes for each metre of shim put in at a place: -1 for a washer against end play.
    setting_m : float
        Standard deviation of how it comes out when the unit is bolted up again [m].
    """

    name: str
    now: Estimate
    low_m: float
    high_m: float
    moves: Mapping[str, float]
    setting_m: float = 0.0

    @property
    def middle_m(self) -> float:
        """Middle of its range [m]."""
        return (self.low_m + self.high_m) / 2

    @property
    def half_m(self) -> float:
        """Half the width of its range [m]."""
        return (self.high_m - self.low_m) / 2


@dataclass(frozen=True)
class Reached:
    """What one goal comes to with one pile."""

    name: str
    value: Estimate
    decision: Decision


@dataclass(frozen=True)
class Pile:
    """Shims for every place, and what they bring.

    Attributes
    ----------
    put_in : tuple of (str, tuple of Shim)
        For each place what goes in, thickest first; in all of it, nothing is left of what was in before.
    reached : tuple of Reached
    probability : float
        That all goals are within their ranges.
    from_middle : float
        Largest distance of a goal from the middle, in halves of its range: 1 is at its edge.
    """

    put_in: tuple[tuple[str, tuple[Shim, ...]], ...]
    reached: tuple[Reached, ...]
    probability: float
    from_middle: float

    @property
    def pieces(self) -> int:
        """How many shims it takes."""
        return sum(len(some) for _, some in self.put_in)

    @property
    def outcome(self) -> decision.Outcome:
        """The worst decision among its goals."""
        worst = {"reject": 0, "undecided": 1, "accept": 2}
        return min((one.decision.outcome for one in self.reached), key=lambda word: worst[word])


@dataclass(frozen=True)
class Wanted:
    """Thickness at one place that would put one goal in its middle, and the span that would be accepted [m].

    `low_m` and `high_m` None: at this uncertainty no thickness is accepted.
    """

    place: str
    goal: str
    middle_m: float
    low_m: float | None
    high_m: float | None


@dataclass(frozen=True)
class Choice:
    """The best piles, the best first, how many were tried, and what thickness would be ideal."""

    piles: tuple[Pile, ...]
    tried: int
    wanted: tuple[Wanted, ...]

    @property
    def best(self) -> Pile:
        """The pile to put in."""
        return self.piles[0]


def choose_shims(
    goals: Sequence[Goal],
    stock: Sequence[Shim],
    fitted: Mapping[str, Sequence[Shim]] | None = None,
    most_pieces: int = 4,
    level: float = decision.USUAL_LEVEL,
) -> Choice:
    """Try every pile the stock allows.

    Parameters
    ----------
    goals : sequence of Goal
        One or more; places are those that their `moves` name.
    stock : sequence of Shim
        What there is besides what is fitted. Empty: what is fitted, taken out or left in, is all there is.
    fitted : mapping of str to sequence of Shim, optional
        What is in at each place now; it may be used again, anywhere it fits.
    most_pieces : int
        Pieces at one place at most.

    Raises
    ------
    MeasurementError
        If there is no goal, its range is none, a figure is no number, or there are too many piles to try.

    Examples
    --------
    >>> play = Goal("end play", Estimate(1.1e-3, 1e-5), 0.1e-3, 0.5e-3, {"shaft": -1.0})
    >>> drawer = [Shim("0.5", 0.5e-3, 2), Shim("0.3", 0.3e-3, 2)]
    >>> best = choose_shims([play], drawer).best
    >>> [shim.name for shim in best.put_in[0][1]], round(best.reached[0].value.value * 1e3, 3)
    (['0.5', '0.3'], 0.3)
    """
    inside = {place: tuple(some) for place, some in (fitted or {}).items()}
    _check(goals, stock, inside, most_pieces)
    places = tuple(dict.fromkeys([*(place for goal in goals for place in goal.moves), *inside]))
    kinds = _kinds(stock, inside)
    piles = _Piles(kinds, places, inside, most_pieces)
    values, doubts = zip(*(piles.of(goal) for goal in goals), strict=True)
    probability = np.prod(
        [_within(goal, value, doubt) for goal, value, doubt in zip(goals, values, doubts, strict=True)],
        axis=0,
    )
    off = np.max(
        [np.abs(value - goal.middle_m) / goal.half_m for goal, value in zip(goals, values, strict=True)],
        axis=0,
    )
    best = _best_first(probability, off, piles.pieces)[:BEST]
    found = tuple(
        Pile(
            put_in=piles.put_in(at),
            reached=tuple(
                _reached(goal, float(value[at]), float(doubt[at]), level)
                for goal, value, doubt in zip(goals, values, doubts, strict=True)
            ),
            probability=float(probability[at]),
            from_middle=float(off[at]),
        )
        for at in best
    )
    return Choice(found, len(probability), wanted_thickness(goals, inside, level))


class _Piles:
    """Every pile the stock allows, at all places together.

    `counts` has the shape (piles, places, kinds): how many of each kind at each place.
    """

    def __init__(
        self,
        kinds: Sequence[Shim],
        places: Sequence[str],
        inside: Mapping[str, Sequence[Shim]],
        most: int,
    ) -> None:
        self.kinds, self.places = kinds, places
        self.thickness = np.array([kind.thickness_m for kind in kinds])
        self.doubt = np.array([kind.uncertainty_m for kind in kinds])
        self.before = np.array([[_many(kind, inside.get(place, ())) for kind in kinds] for place in places])
        self.counts = _every(kinds, places, most)

    @property
    def pieces(self) -> IntArray:
        """Pieces of each pile."""
        return np.asarray(self.counts.sum(axis=(1, 2)), dtype=np.int64)

    def of(self, goal: Goal) -> tuple[Array, Array]:
        """What each pile brings a goal to, and its standard uncertainty [m].

        What stays in was in when the goal was measured, so only what is added or taken out brings doubt.
        """
        share = np.array([goal.moves.get(place, 0.0) for place in self.places])
        changed = self.counts - self.before
        value = goal.now.value + (changed @ self.thickness) @ share
        variance = (np.abs(changed) @ self.doubt**2) @ share**2
        own = goal.now.standard_uncertainty**2 + goal.setting_m**2
        return np.asarray(value, dtype=np.float64), np.sqrt(variance + own)

    def put_in(self, at: int) -> tuple[tuple[str, tuple[Shim, ...]], ...]:
        """The pile at every place, thickest first."""
        return tuple(
            (place, tuple(kind for kind, many in zip(self.kinds, some, strict=True) for _ in range(many)))
            for place, some in zip(self.places, self.counts[at].tolist(), strict=True)
        )


def _kinds(stock: Sequence[Shim], inside: Mapping[str, Sequence[Shim]]) -> tuple[Shim, ...]:
    """Stock and what is fitted, one entry for each name and thickness, the thickest first."""
    found: dict[tuple[str, float, float, tuple[str, ...]], int] = {}
    for one in (*stock, *(shim for some in inside.values() for shim in some)):
        key = (one.name, one.thickness_m, one.uncertainty_m, one.places)
        found[key] = found.get(key, 0) + one.count
    ordered = sorted(found.items(), key=lambda item: -item[0][1])
    if len(ordered) > MOST_KINDS:
        raise MeasurementError(f"shims: found {len(ordered)} kinds, expected {MOST_KINDS} at most")
    return tuple(Shim(name, thick, count, doubt, where) for (name, thick, doubt, where), count in ordered)


def _many(kind: Shim, some: Sequence[Shim]) -> int:
    same = (kind.name, kind.thickness_m, kind.uncertainty_m, kind.places)
    return sum(
        one.count for one in some if (one.name, one.thickness_m, one.uncertainty_m, one.places) == same
    )


def _every(kinds: Sequence[Shim], places: Sequence[str], most: int) -> IntArray:
    """Counts of every pile, shape (piles, places, kinds)."""
    at_place = [_at_one(kinds, place, most) for place in places]
    total = math.prod(len(some) for some in at_place)
    if total > MOST_PILES:
        raise MeasurementError(
            f"shims: found {total:,} piles to try, expected {MOST_PILES:,} at most: allow fewer pieces at a "
            "place, say which shim fits where, or name fewer kinds"
        )
    picked = np.indices([len(some) for some in at_place]).reshape(len(places), -1)
    counts = np.stack([some[rows] for some, rows in zip(at_place, picked, strict=True)], axis=1)
    limits = np.array([kind.count for kind in kinds], dtype=np.int64)
    return np.asarray(counts[(counts.sum(axis=1) <= limits).all(axis=1)], dtype=np.int64)


def _at_one(kinds: Sequence[Shim], place: str, most: int) -> IntArray:
    """Counts of every pile at one place, shape (piles, kinds)."""
    ways: list[tuple[int, ...]] = [()]
    for kind in kinds:
        limit = kind.count if not kind.places or place in kind.places else 0
        ways = [(*way, more) for way in ways for more in range(min(limit, most - sum(way)) + 1)]
    return np.array(ways, dtype=np.int64).reshape(len(ways), len(kinds))


def _within(goal: Goal, value: Array, doubt: Array) -> Array:
    """Probability of each pile that the goal is within its range, as `decision.conformity` has it."""
    with np.errstate(divide="ignore", invalid="ignore"):
        ends = [np.nan_to_num((end - value) / doubt, nan=0.0) for end in (goal.high_m, goal.low_m)]
    freedom = goal.now.degrees_of_freedom
    over, under = (many_below(one, freedom) for one in ends)
    return np.asarray(over - under, dtype=np.float64)


def _best_first(probability: Array, off: Array, pieces: IntArray) -> list[int]:
    as_good = probability >= probability.max() - _AS_GOOD
    order = np.lexsort((pieces, np.round(off, 3), np.where(as_good, 0.0, -probability), ~as_good))
    return [int(at) for at in order]


def _reached(goal: Goal, value: float, doubt: float, level: float) -> Reached:
    found = Estimate(value, doubt, goal.now.degrees_of_freedom)
    limit = decision.Limit(goal.low_m, goal.high_m)
    return Reached(goal.name, found, decide(value, doubt, limit, level, found.degrees_of_freedom))


def wanted_thickness(
    goals: Sequence[Goal], inside: Mapping[str, Sequence[Shim]], level: float
) -> tuple[Wanted, ...]:
    """Thickness in all at a place, the other places left as they are."""
    found = []
    for goal in goals:
        doubt = math.hypot(goal.now.standard_uncertainty, goal.setting_m)
        limit = decision.Limit(goal.low_m, goal.high_m)
        span = decision.acceptance(doubt, limit, level, goal.now.degrees_of_freedom)
        for place, share in goal.moves.items():
            if share == 0:
                continue
            now = sum(one.thickness_m * one.count for one in inside.get(place, ()))
            ends: tuple[float | None, float | None] = (None, None)
            if span is not None and span.lower is not None and span.upper is not None:
                low, high = sorted(now + (end - goal.now.value) / share for end in (span.lower, span.upper))
                ends = low, high
            middle = now + (goal.middle_m - goal.now.value) / share
            found.append(Wanted(place, goal.name, middle, *ends))
    return tuple(found)


def _check(
    goals: Sequence[Goal], stock: Sequence[Shim], inside: Mapping[str, Sequence[Shim]], most_pieces: int
) -> None:
    if not goals:
        raise MeasurementError("shims: found nothing to set, expected end play, pinion clearance or both")
    if not 0 <= most_pieces <= MOST_PIECES:
        raise MeasurementError(f"pieces: found {most_pieces}, expected 0 to {MOST_PIECES}")
    for goal in goals:
        if not goal.low_m < goal.high_m:
            found = f"{goal.low_m * 1e3:.4g} to {goal.high_m * 1e3:.4g} mm"
            raise MeasurementError(
                f"{goal.name}: found the range {found}, expected two limits, the lower first"
            )
        if not goal.moves or not all(math.isfinite(share) for share in goal.moves.values()):
            raise MeasurementError(f"{goal.name}: found no shim that moves it, expected how each place does")
        if not math.isfinite(goal.now.value):
            raise MeasurementError(f"{goal.name}: found {goal.now.value}, expected a finite number")
    for shim in (*stock, *(one for some in inside.values() for one in some)):
        if not (math.isfinite(shim.thickness_m) and shim.thickness_m > 0):
            raise MeasurementError(f"shim {shim.name}: found {shim.thickness_m:g} m, expected more than 0")
        if shim.count < 0:
            raise MeasurementError(f"shim {shim.name}: found {shim.count} of them, expected 0 or more")
