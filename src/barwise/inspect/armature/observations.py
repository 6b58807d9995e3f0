"""Readings of one armature sorted into arrays, one group per test and feed.

A pair read a few times over stands as so many readings. A pair read very often stands as one, the mean of
the readings that agree, the odd ones set aside as bad touches, so that a long file is no slower than a
short one.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from barwise.machine.feed import Feed
from barwise.machine.kernel import direct_kernel
from barwise.machine.network import direct_voltages
from barwise.machine.ports import fault_ports
from barwise.machine.winding import Winding
from barwise.measure.readings import Reading

Array = NDArray[np.float64]
Ints = NDArray[np.intp]

UNLIKE_COILS = 0.02
"""Sound coils differ by half a percent or so; what many of them add up to, over one pair's drop [1]."""
DIRECT_TESTS = ("drop", "shaft-drop", "resistance")

BEYOND = 3.0
"""A drop of more than this many healthy windings in series cannot be: the feed's current found no way [1]."""

OFTEN = 4
"""A pair read more often than this with one feed is drawn together."""
AGREES = 5.0
"""Readings of one pair agree within so many robust standard deviations of their median."""
LEAST_SPREAD = 0.004
"""Readings of one pair are not taken to scatter less than this [1]: a meter's gain noise."""
ROUNDING, FLICKER = 1 / 12, 0.04
"""Variance of half a digit's rounding, and of the last digit's flicker [digit squared]."""


@dataclass(frozen=True)
class Group:
    """Numbers of one test taken with one feed, in the order they were taken.

    Attributes
    ----------
    test : str
    feed : Feed or None
    row : ndarray of int, shape (K,)
        Which of the readings.
    value : ndarray, shape (K,)
        [V or ohm], turned round where the leads were swapped.
    pair : ndarray of int, shape (K, 2)
        Bars from 0; the second is the first again where the other lead is on the shaft.
    time : ndarray, shape (K,)
        From -1/2 to 1/2 over the group, for drift.
    floor : ndarray, shape (K,)
        Standard uncertainty of the last digit, same unit as `value`.
    speaks_for : tuple of K tuples of int
        The readings that each of the numbers stands for; mostly just the one in `row`.
    aside : tuple of (int, float)
        Readings of a pair read often that are far off the others, and the mean of those others.
    swapped : bool
        Whether the leads were the wrong way round throughout.
    beyond : ndarray of bool, shape (K,)
        Readings held at the most that a drop can be: the meter shows the source's voltage, not the coil's.
    """

    test: str
    feed: Feed | None
    row: Ints
    value: Array
    pair: Ints
    time: Array
    floor: Array
    speaks_for: tuple[tuple[int, ...], ...]
    beyond: NDArray[np.bool_]
    aside: tuple[tuple[int, float], ...] = ()
    swapped: bool = False


@dataclass(frozen=True)
class Observations:
    """Everything read, as the inference wants it; `lamp` and `blade` hold (row, place from 0, seen)."""

    winding: Winding
    readings: tuple[Reading, ...]
    direct: tuple[Group, ...]
    induced: Group | None
    lamp: tuple[tuple[int, int, bool], ...]
    ground_ohm: tuple[tuple[int, int, float], ...]
    blade: tuple[tuple[int, int, bool], ...]

    @property
    def numeric_count(self) -> int:
        """How many readings carry a number between bars or to the shaft."""
        return sum(len(g.row) for g in self.groups)

    @property
    def groups(self) -> tuple[Group, ...]:
        """Direct groups, then the induced one."""
        return self.direct + ((self.induced,) if self.induced else ())

    @property
    def aside(self) -> tuple[tuple[int, float, float], ...]:
        """Readings set aside before the inference: row, value, and the mean of the same pair's others."""
        return tuple(
            (row, abs(value) if g.test == "induced" else value, mean)
            for g in self.groups
            for row, mean in g.aside
            if (value := self.readings[row].value) is not None
        )

    def taken(self, test: str) -> bool:
        """Whether any reading of this test was taken."""
        return any(r.test == test for r in self.readings)


def observe(winding: Winding, readings: Sequence[Reading]) -> Observations:
    """Sort readings into groups; swapped leads are turned round and marked."""
    rows = list(enumerate(readings))
    fed: dict[tuple[int, tuple[int, int, float]], list[tuple[int, Reading]]] = {}
    for i, r in rows:
        if r.test in DIRECT_TESTS:
            fed.setdefault((DIRECT_TESTS.index(r.test), _feed_key(r)), []).append((i, r))
    direct = [_group(winding, DIRECT_TESTS[key[0]], fed[key]) for key in sorted(fed)]
    induced = [(i, r) for i, r in rows if r.test == "induced"]
    lamps = [(i, r) for i, r in rows if r.test == "ground"]
    return Observations(
        winding=winding,
        readings=tuple(readings),
        direct=tuple(_turn_round(winding, direct)),
        induced=_group(winding, "induced", induced) if induced else None,
        lamp=tuple((i, r.start - 1, r.state == "lit") for i, r in lamps if r.state is not None),
        ground_ohm=tuple((i, r.start - 1, r.value) for i, r in lamps if r.value is not None),
        blade=tuple((i, r.start - 1, r.state == "buzz") for i, r in rows if r.test == "blade"),
    )


def _feed_key(reading: Reading) -> tuple[int, int, float]:
    feed = reading.feed
    return (0, 0, 0.0) if feed is None else (feed.into, feed.out, feed.amps)


def _group(winding: Winding, test: str, members: Sequence[tuple[int, Reading]]) -> Group:
    count = len(members)
    values = [0.0 if r.value is None else r.value for _, r in members]
    value = np.abs(np.array(values)) if test == "induced" else np.array(values)
    value, beyond = _held(winding, test, value)
    pair = [(r.start - 1, r.start - 1 if r.end is None else r.end - 1) for _, r in members]
    digit = np.array([r.resolution for _, r in members])
    group = Group(
        test=test,
        feed=members[0][1].feed,
        row=np.array([i for i, _ in members], dtype=np.intp),
        value=value,
        pair=np.array(pair, dtype=np.intp),
        time=np.linspace(-0.5, 0.5, count) if count > 1 else np.zeros(1),
        floor=_floor(test, value, digit),
        speaks_for=tuple((i,) for i, _ in members),
        beyond=beyond,
    )
    return _drawn_together(group)


def _held(winding: Winding, test: str, value: Array) -> tuple[Array, NDArray[np.bool_]]:
    """Drops, those that cannot be held at the most that can, and which: the feed's current finds no way."""
    most = BEYOND * winding.bars * float(np.median(np.abs(value)))
    if test != "drop" or most == 0:
        return value, np.zeros(len(value), dtype=bool)
    return np.clip(value, -most, most), np.abs(value) > most


def _floor(test: str, value: Array, digit: Array) -> Array:
    """Uncertainty that does not shrink with the reading; a drop to the shaft passes many unlike coils."""
    least = np.maximum(digit * np.sqrt(ROUNDING + FLICKER), 1e-9 * np.abs(value).max(initial=1e-9))
    if test != "shaft-drop" or len(value) < 3:
        return np.asarray(least)
    return np.asarray(np.hypot(least, UNLIKE_COILS * float(np.median(np.abs(np.diff(value))))))


def _drawn_together(group: Group) -> Group:
    """The group with each pair that was read more than `OFTEN` times drawn together."""
    places: dict[tuple[int, int], list[int]] = {}
    for n, (start, end) in enumerate(group.pair.tolist()):
        places.setdefault((start, end), []).append(n)
    if max(map(len, places.values())) <= OFTEN:
        return group
    rows = [row for found in places.values() for row in _one_pair(group, np.array(found))]
    rows.sort(key=lambda row: row.at)
    at = np.array([row.at for row in rows], dtype=np.intp)
    return replace(
        group,
        row=group.row[at],
        value=np.array([row.value for row in rows]),
        pair=group.pair[at],
        time=np.array([row.time for row in rows]),
        floor=np.array([row.floor for row in rows]),
        beyond=group.beyond[at],
        speaks_for=tuple(row.speaks_for for row in rows),
        aside=tuple(odd for row in rows for odd in row.aside),
    )


class _Row(NamedTuple):
    """One number of a group: which of its members lends place and row, and the rest of it."""

    at: int
    value: float
    time: float
    floor: float
    speaks_for: tuple[int, ...]
    aside: tuple[tuple[int, float], ...] = ()


def _one_pair(group: Group, found: Ints) -> list[_Row]:
    """The readings of one pair as they stand, or drawn together if there are many."""
    if len(found) <= OFTEN:
        return [_as_read(group, int(at)) for at in found]
    agree = _agreeing(group.value[found], group.floor[found])
    many, odd = found[agree], found[~agree]
    value = group.value[many]
    mean = float(value.mean())
    # rounding is the same every time, flicker averages out, and so does what scatter there is
    finer = np.sqrt((ROUNDING + FLICKER / len(many)) / (ROUNDING + FLICKER))
    together = _Row(
        at=int(many[np.argmin(np.abs(value - mean))]),
        value=mean,
        time=float(group.time[many].mean()),
        floor=float(np.hypot(np.median(group.floor[many]) * finer, value.std() / np.sqrt(len(many)))),
        speaks_for=tuple(group.row[many].tolist()),
        aside=tuple((int(row), mean) for row in group.row[odd]),
    )
    return [together]


def _as_read(group: Group, at: int) -> _Row:
    value, time, floor = (float(part[at]) for part in (group.value, group.time, group.floor))
    return _Row(at, value, time, floor, group.speaks_for[at])


def _agreeing(value: Array, floor: Array) -> NDArray[np.bool_]:
    """Which readings of one pair agree with their median."""
    middle = float(np.median(value))
    off = np.abs(value - middle)
    spread = max(1.4826 * float(np.median(off)), LEAST_SPREAD * abs(middle), float(floor.max()))
    return np.asarray(off <= AGREES * spread)


def _turn_round(winding: Winding, groups: Sequence[Group]) -> list[Group]:
    """Turn a group round when its readings oppose the healthy winding's nearly everywhere."""
    drops = [g for g in groups if g.test == "drop"]
    turned = {id(g) for g in drops if _opposes(winding, g)}
    out = []
    for group in groups:
        opposed = id(group) in turned
        if group.test == "shaft-drop":
            opposed = _opposes_shaft(winding, group)
        if group.test == "resistance":
            opposed = bool(np.median(group.value) < 0)
        out.append(_reversed(group) if opposed else group)
    return out


def _reversed(group: Group) -> Group:
    return replace(group, value=-group.value, swapped=True)


def _opposes(winding: Winding, group: Group) -> bool:
    against, clear = against_feed(winding, group)
    return against > 0.8 * clear


def against_feed(winding: Winding, group: Group) -> tuple[int, int]:
    """How many drops have the other sign than a healthy winding's, and how many are clear enough to say."""
    volts = _healthy(winding, group)
    expected = volts[group.pair[:, 0]] - volts[group.pair[:, 1]]
    clear = (np.abs(expected) > 0.2 * np.abs(expected).max()) & (np.abs(group.value) > 5 * group.floor)
    return int(np.count_nonzero(clear & (expected * group.value < 0))), int(np.count_nonzero(clear))


def _opposes_shaft(winding: Winding, group: Group) -> bool:
    if len(group.row) < 5:
        return False
    volts = _healthy(winding, group)[group.pair[:, 0]]
    if np.ptp(volts) == 0 or np.ptp(group.value) == 0:
        return False
    return bool(np.corrcoef(volts, group.value)[0, 1] < -0.8)


def _healthy(winding: Winding, group: Group) -> Array:
    assert group.feed is not None
    feed = np.array([[group.feed.into - 1, group.feed.out - 1]], dtype=np.intp)
    return np.asarray(direct_voltages(direct_kernel(winding), fault_ports(winding, ()), feed)[0, 0])
