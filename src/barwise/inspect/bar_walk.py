"""A walk round the commutator: which places to probe, where to lead the current in, what to expect.

The feed points are common practice, no source: a lap winding is fed at two opposite bars, a wave
winding at bars one pole pitch apart, as the brushes stand. Either way the current divides into halves
that are nearly alike. Equalizers join opposite bars of a lap winding, so with them it is fed one pole
pitch apart too.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from barwise.errors import WindingError
from barwise.inspect.family import Family, agreed_scale, out_of_family, step_out_of_family
from barwise.machine.feed import Feed
from barwise.machine.network import Network
from barwise.machine.winding import Winding
from barwise.measure.readings import Reading

Array = NDArray[np.float64]
WalkTest = Literal["drop", "induced", "resistance", "ground", "shaft-drop"]
FED: tuple[WalkTest, ...] = ("drop", "shaft-drop")
USUAL_AMPS = 10.0
AGAINST_SHAFT: tuple[WalkTest, ...] = ("ground", "shaft-drop")


@dataclass(frozen=True)
class Odd:
    """A reading that is out of family, and what its neighbours expect instead (SI)."""

    value: float
    expected: float


@dataclass(frozen=True)
class Outlook:
    """What a place should read, and how far from it a reading is out of family (SI)."""

    expected: float
    margin: float


@dataclass(frozen=True)
class BarWalk:
    """One test taken once round the commutator of one armature.

    Parameters
    ----------
    winding : Winding
    test : str
    feed : Feed, optional
        For the tests that need current.
    """

    winding: Winding
    test: WalkTest
    feed: Feed | None = None

    @cached_property
    def places(self) -> tuple[tuple[int, int | None], ...]:
        """Bars to probe, in order; a None is the shaft.

        On a winding of several closed rings the next bar lies on another ring, where nothing can be
        read, so each bar is taken with the next of its own ring.
        """
        bars = self.winding.bars
        if self.test in AGAINST_SHAFT:
            return tuple((bar, None) for bar in range(1, bars + 1))
        apart = self.winding.closures
        return tuple((bar, (bar + apart - 1) % bars + 1) for bar in range(1, bars + 1))

    @cached_property
    def healthy_pattern(self) -> Array | None:
        """Prediction for a healthy winding at each place, to a gain; None where there is none."""
        if self.test == "ground":
            return None
        if self.test not in FED:
            return np.ones(len(self.places))
        if self.feed is None:
            return None
        try:
            volts = Network(self.winding, coil_resistance_ohm=1.0).bar_voltages(self.feed)
        except WindingError:
            return None
        if self.test == "shaft-drop":
            return volts
        return np.asarray([volts[a - 1] - volts[(b or a) - 1] for a, b in self.places])

    def place_of(self, reading: Reading) -> int | None:
        """Which place of this walk a reading was taken at, if it belongs to it."""
        if reading.test != self.test or reading.feed != self.feed:
            return None
        ends = {(reading.start, reading.end), (reading.end, reading.start)}
        return next((n for n, place in enumerate(self.places) if place in ends), None)

    def odd(self, taken: Mapping[int, Reading], place: int) -> Odd | None:
        """Whether the reading at `place` is out of family with the others taken so far."""
        pattern = self.healthy_pattern
        order = [n for n in sorted(taken) if taken[n].value is not None]
        if pattern is None or place not in order:
            return None
        values = [self._forward(taken[n], n) for n in order]
        resolution = max(taken[n].resolution for n in order)
        family = self._family(values, pattern[order], resolution)
        at = order.index(place)
        return Odd(values[at], float(family.expected[at])) if family.out[at] else None

    def outlook(self, taken: Mapping[int, Reading]) -> tuple[Outlook | None, ...]:
        """What each place should read by the readings taken so far, read or not; None where nobody knows."""
        pattern = self.healthy_pattern
        order = [n for n in sorted(taken) if taken[n].value is not None]
        nothing: tuple[Outlook | None, ...] = (None,) * len(self.places)
        if pattern is None or not order:
            return nothing
        values = np.asarray([self._forward(taken[n], n) for n in order])
        resolution = max(taken[n].resolution for n in order)
        if self.test == "shaft-drop":
            return _outlook_by_steps(order, values, pattern, resolution)
        scale = agreed_scale(values, pattern[order])
        if scale is None:
            return nothing
        both = zip(scale.expected(pattern), scale.margin(pattern) + resolution, strict=True)
        return tuple(Outlook(float(expected), float(margin)) for expected, margin in both)

    def _family(self, values: list[float], pattern: Array, resolution: float) -> Family:
        if self.test == "shaft-drop":
            return step_out_of_family(values, pattern, resolution)
        return out_of_family(values, pattern, resolution)

    def _forward(self, reading: Reading, place: int) -> float:
        """Value in the direction of the walk; probed the other way round it has the other sign."""
        value = 0.0 if reading.value is None else reading.value
        turned = reading.start != self.places[place][0] and self.test == "drop"
        return -value if turned else value


def usual_feed(winding: Winding, amps: float = USUAL_AMPS) -> Feed:
    """Where to lead the current in and out, unless the rebuilder knows better."""
    opposite = winding.kind == "lap" and not winding.equalizers
    away = winding.bars // (2 if opposite else winding.poles)
    away = max(away - away % winding.closures, winding.closures)
    return Feed(1, 1 + away, amps)


def _outlook_by_steps(
    order: list[int], values: Array, pattern: Array, resolution: float
) -> tuple[Outlook | None, ...]:
    """By the step from the last place read before it; the first has none."""
    scale = agreed_scale(np.diff(values), np.diff(pattern[order])) if len(order) > 1 else None
    found: list[Outlook | None] = [None] * pattern.size
    if scale is None:
        return tuple(found)
    for place in range(order[0] + 1, pattern.size):
        before = bisect_left(order, place) - 1
        step = np.asarray([pattern[place] - pattern[order[before]]])
        expected = values[before] + scale.expected(step)[0]
        found[place] = Outlook(float(expected), float(scale.margin(step)[0]) + 2 * resolution)
    return tuple(found)
