"""Readings of one armature sorted into arrays, one group per test and feed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

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

DIRECT_TESTS = ("drop", "shaft-drop", "resistance")


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
    swapped : bool
        Whether the leads were the wrong way round throughout.
    """

    test: str
    feed: Feed | None
    row: Ints
    value: Array
    pair: Ints
    time: Array
    floor: Array
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

    def taken(self, test: str) -> bool:
        """Whether any reading of this test was taken."""
        return any(r.test == test for r in self.readings)


def observe(winding: Winding, readings: Sequence[Reading]) -> Observations:
    """Sort readings into groups; swapped leads are turned round and marked."""
    rows = list(enumerate(readings))
    direct = []
    for test in DIRECT_TESTS:
        feeds = sorted({_feed_key(r) for _, r in rows if r.test == test})
        for key in feeds:
            members = [(i, r) for i, r in rows if r.test == test and _feed_key(r) == key]
            direct.append(_group(test, members))
    induced = [(i, r) for i, r in rows if r.test == "induced"]
    lamps = [(i, r) for i, r in rows if r.test == "ground"]
    return Observations(
        winding=winding,
        readings=tuple(readings),
        direct=tuple(_turn_round(winding, direct)),
        induced=_group("induced", induced) if induced else None,
        lamp=tuple((i, r.start - 1, r.state == "lit") for i, r in lamps if r.state is not None),
        ground_ohm=tuple((i, r.start - 1, r.value) for i, r in lamps if r.value is not None),
        blade=tuple((i, r.start - 1, r.state == "buzz") for i, r in rows if r.test == "blade"),
    )


def _feed_key(reading: Reading) -> tuple[int, int, float]:
    feed = reading.feed
    return (0, 0, 0.0) if feed is None else (feed.into, feed.out, feed.amps)


def _group(test: str, members: Sequence[tuple[int, Reading]]) -> Group:
    count = len(members)
    values = [0.0 if r.value is None else r.value for _, r in members]
    value = np.abs(np.array(values)) if test == "induced" else np.array(values)
    pair = [(r.start - 1, r.start - 1 if r.end is None else r.end - 1) for _, r in members]
    digit = np.array([r.resolution for _, r in members])
    return Group(
        test=test,
        feed=members[0][1].feed,
        row=np.array([i for i, _ in members], dtype=np.intp),
        value=value,
        pair=np.array(pair, dtype=np.intp),
        time=np.linspace(-0.5, 0.5, count) if count > 1 else np.zeros(1),
        # half a digit of rounding, and the last digit's flicker
        floor=np.maximum(digit * np.sqrt(1 / 12 + 0.04), 1e-9 * np.abs(value).max(initial=1e-9)),
    )


def _turn_round(winding: Winding, groups: Sequence[Group]) -> list[Group]:
    """Turn a group round when its readings oppose the healthy winding's nearly everywhere."""
    drops = [g for g in groups if g.test == "drop"]
    turned = {id(g) for g in drops if _opposes(winding, g)}
    feeds = {g.feed for g in drops if id(g) in turned}
    out = []
    for group in groups:
        opposed = id(group) in turned
        if group.test == "shaft-drop":
            opposed = group.feed in feeds and _opposes_shaft(winding, group)
        if group.test == "resistance":
            opposed = bool(np.median(group.value) < 0)
        out.append(_reversed(group) if opposed else group)
    return out


def _reversed(group: Group) -> Group:
    return Group(group.test, group.feed, group.row, -group.value, group.pair, group.time, group.floor, True)


def _opposes(winding: Winding, group: Group) -> bool:
    volts = _healthy(winding, group)
    expected = volts[group.pair[:, 0]] - volts[group.pair[:, 1]]
    clear = (np.abs(expected) > 0.2 * np.abs(expected).max()) & (np.abs(group.value) > 5 * group.floor)
    if not clear.any():
        return False
    agree = np.sign(expected[clear]) * np.sign(group.value[clear])
    return bool(np.mean(agree) < -0.6)


def _opposes_shaft(winding: Winding, group: Group) -> bool:
    if len(group.row) < 3:
        return False
    volts = _healthy(winding, group)[group.pair[:, 0]]
    return bool(np.corrcoef(volts, group.value)[0, 1] < -0.6)


def _healthy(winding: Winding, group: Group) -> Array:
    assert group.feed is not None
    feed = np.array([[group.feed.into - 1, group.feed.out - 1]], dtype=np.intp)
    return np.asarray(direct_voltages(direct_kernel(winding), fault_ports(winding, ()), feed)[0, 0])
