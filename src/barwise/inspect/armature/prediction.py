"""What each hypothesis predicts for each reading, with the unknowns of a healthy armature as parameters.

Unknown: the coil resistance, each group's drift, the shaft's voltage, and on the exciter its strength, the
place, spread and angle of its poles, and a coil's leakage and resistance. None is assumed; each has a prior
(common practice, no source) and is fitted together with the faults' severities.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np
from numpy.typing import NDArray

from barwise.inspect.armature.hypotheses import (
    OPEN,
    Hypotheses,
    direct_ports,
    exciter_ports,
    nothing_wrong,
    severity_prior,
)
from barwise.inspect.armature.observations import BEYOND, Group, Observations
from barwise.machine.exciter import CoilImpedance, Exciter
from barwise.machine.kernel import Kernel, direct_kernel, exciter_kernel
from barwise.machine.network import direct_voltages, induced_voltages, pair_resistance
from barwise.machine.winding import Winding

Array = NDArray[np.float64]
Ints = NDArray[np.intp]

LEVEL_SD = 0.5
"""Log of coil resistance, or of exciter strength, about the first look's [1]."""
DRIFT_SD = 0.008
BEND_SD = 0.003
"""Drift over a group, straight and bent [1]: a winding warms, a battery sags."""
SHAFT_SD = 0.6
"""Shaft voltage over the span of bar voltages [1]."""
ACROSS_OPEN = 0.03
"""What sound coils' voltages add up to all round the armature, over one pair's [1]."""
EXCITER_MEAN = np.array([np.pi / 2, np.log(0.22), 0.0, np.log(0.15), np.log(0.7)])
EXCITER_SD = np.array([0.15, 0.25, 0.10, 0.8, 0.35])
"""Pole separation [rad], log pole spread [rad], offset [rad], log leakage, log resistance."""
STATE = len(EXCITER_MEAN)


@dataclass(frozen=True)
class Layout:
    """Where each parameter stands in a hypothesis's vector of N."""

    level: int
    drift: tuple[int, ...]
    shaft: tuple[int | None, ...]
    strength: int
    induced_drift: int
    exciter: int
    severity: int
    size: int


@dataclass(frozen=True)
class Predictor:
    """Means for many hypotheses at once, for one set of observations."""

    seen: Observations
    meter_ratio: float | None
    layout: Layout
    direct: Kernel
    feeds: Ints
    level: float = 0.0
    strength: float = 0.0

    @classmethod
    def of(cls, seen: Observations, faults: int, meter_ratio: float | None = None) -> Predictor:
        """Predictor for sets of this many faults."""
        feeds = sorted({_feed(g) for g in seen.direct if g.feed is not None})
        pairs = np.array(feeds, dtype=np.intp).reshape(-1, 2)
        return cls(seen, meter_ratio, _layout(seen, faults), direct_kernel(seen.winding), pairs)

    def prior(self, hypotheses: Hypotheses) -> tuple[Array, Array]:
        """Mean and standard deviation of every parameter, shape (H, N) each."""
        mean = np.zeros((len(hypotheses), self.layout.size))
        sd = np.ones((len(hypotheses), self.layout.size))
        lay = self.layout
        mean[:, lay.level], mean[:, lay.strength] = self.level, self.strength
        sd[:, [lay.level, lay.strength]] = LEVEL_SD
        for first in (*lay.drift, lay.induced_drift):
            sd[:, first], sd[:, first + 1] = DRIFT_SD, BEND_SD
        for group, at in zip(self.seen.direct, lay.shaft, strict=True):
            if at is not None:
                sd[:, at] = SHAFT_SD * _span(group) / np.exp(self.level)
        mean[:, lay.exciter : lay.exciter + STATE] = EXCITER_MEAN
        sd[:, lay.exciter : lay.exciter + STATE] = EXCITER_SD
        u_mean, u_sd = severity_prior(hypotheses.kind, self.seen.winding.turns_per_coil)
        mean[:, lay.severity :], sd[:, lay.severity :] = u_mean, u_sd
        return mean, sd

    def direct_shapes(self, hypotheses: Hypotheses) -> Array:
        """Direct readings per coil resistance [A], before shaft, level and drift; (H, K direct)."""
        ports = direct_ports(hypotheses)
        if not self.seen.direct:
            return np.zeros((len(hypotheses), 0))
        volts = direct_voltages(self.direct, ports, self.feeds) if len(self.feeds) else None
        parts = []
        for group in self.seen.direct:
            start, end = group.pair.T
            if group.feed is None:
                parts.append(pair_resistance(self.direct, ports, group.pair))
                continue
            assert volts is not None
            at = volts[:, self._feed_row(group)]
            drop = at[:, start] - (at[:, end] if group.test == "drop" else 0.0)
            if group.beyond.any():
                drop = np.clip(drop, -BEYOND * self.seen.winding.bars, BEYOND * self.seen.winding.bars)
            parts.append(group.feed.amps * drop)
        return np.concatenate(parts, axis=1)

    def induced_shape(self, hypotheses: Hypotheses, exciter: Array, state: Ints) -> Array:
        """Induced readings over a healthy armature's, shape (H, K).

        `exciter` is (B, 5), one row per electrical state; `state` (H,) says which row each set uses.
        """
        if self.seen.induced is None:
            return np.zeros((len(hypotheses), 0))
        ports = exciter_ports(hypotheses)
        from_bars = self.meter_ratio is not None or ports.mix is not None
        kernel = self._exciter_kernel(exciter, from_bars)
        ohm = np.exp(exciter[state, 4])
        meter = None if self.meter_ratio is None else self.meter_ratio * ohm
        volts = induced_voltages(kernel, state, ports, self.seen.induced.pair, ohm, meter)
        healthy = np.abs(kernel.source_bar[:, 0] - kernel.source_bar[:, 1 % kernel.winding.bars])
        return np.asarray(np.abs(volts) / healthy[state][:, None])

    @cached_property
    def healthy_direct(self) -> Array:
        """Direct shapes of a healthy winding, shape (1, K direct)."""
        return self.direct_shapes(nothing_wrong())

    def offsets(self, theta: Array) -> Array:
        """Shaft voltage in each direct reading, shape (H, K direct)."""
        out = np.zeros((len(theta), self.direct_count))
        for part, shaft in zip(self.direct_parts, self.layout.shaft, strict=True):
            if shaft is not None:
                out[:, part] = theta[:, shaft, None]
        return out

    def across_open(self, hypotheses: Hypotheses) -> Array:
        """Gain uncertainty of induced readings across an open coil [1], shape (H, K).

        There the voltmeter reads all the other coils in series, and what they differ by adds up.
        """
        induced = self.seen.induced
        out = np.zeros((len(hypotheses), self.seen.numeric_count))
        opened = hypotheses.kind == OPEN
        if induced is None or not opened.any():
            return out
        winding = self.seen.winding
        spans = np.array([winding.coils_between(int(bar) + 1) for bar in induced.pair[:, 0]])
        for row, column in np.argwhere(opened):
            coil = hypotheses.place[row, column] + 1
            out[row, self.direct_count :] = np.where(
                (spans == coil).any(axis=1), ACROSS_OPEN, out[row, self.direct_count :]
            )
        return out

    def gains(self, theta: Array) -> Array:
        """Reading over shape: level and drift, shape (H, K)."""
        lay = self.layout
        log_gain = [
            theta[:, lay.level, None] + _drift(theta, at, group)
            for group, at in zip(self.seen.direct, lay.drift, strict=True)
        ]
        if self.seen.induced is not None:
            drift = _drift(theta, lay.induced_drift, self.seen.induced)
            log_gain.append(theta[:, lay.strength, None] + drift)
        if not log_gain:
            return np.zeros((len(theta), 0))
        return np.asarray(np.exp(np.concatenate(log_gain, axis=1)))

    @property
    def direct_parts(self) -> list[slice]:
        """Columns of each direct group."""
        ends = np.cumsum([len(g.row) for g in self.seen.direct], dtype=int)
        return [slice(int(e) - len(g.row), int(e)) for e, g in zip(ends, self.seen.direct, strict=True)]

    @property
    def direct_count(self) -> int:
        """Columns of direct readings."""
        return sum(len(g.row) for g in self.seen.direct)

    def _exciter_kernel(self, exciter: Array, from_bars: bool) -> Kernel:
        """Kernel for each row; `from_bars` where current is drawn from bars, by a meter or by the shaft."""
        kinds = 4 if from_bars else 3
        if len(exciter) == 1:
            return _one_kernel(self.seen.winding, tuple(exciter[0].tolist()), kinds)
        return _kernel_of(self.seen.winding, exciter, kinds)

    def _feed_row(self, group: Group) -> int:
        return int(np.flatnonzero((self.feeds == _feed(group)).all(axis=1))[0])


@lru_cache(maxsize=64)
def _one_kernel(winding: Winding, exciter: tuple[float, ...], kinds: int) -> Kernel:
    """Kernel of one state: a usual exciter is asked for again and again."""
    return _kernel_of(winding, np.array([exciter]), kinds)


def _kernel_of(winding: Winding, exciter: Array, kinds: int) -> Kernel:
    poles = Exciter(exciter[:, 0], np.exp(exciter[:, 1]), exciter[:, 2])
    coil = CoilImpedance(np.exp(exciter[:, 4]), np.exp(exciter[:, 3]))
    return exciter_kernel(winding, poles, coil, kinds)


def _feed(group: Group) -> tuple[int, int]:
    assert group.feed is not None
    return group.feed.into - 1, group.feed.out - 1


def _span(group: Group) -> float:
    """Span of the voltages to the shaft, the shaft's own zero among them, and never nothing [V]."""
    value = np.append(group.value, 0.0)
    return max(float(np.ptp(value)), 10 * float(group.floor.max()))


def _drift(theta: Array, at: int, group: Group) -> Array:
    return np.asarray(theta[:, at, None] * group.time + theta[:, at + 1, None] * (group.time**2 - 1 / 12))


def _layout(seen: Observations, faults: int) -> Layout:
    at = 1
    drift: list[int] = []
    shaft: list[int | None] = []
    for group in seen.direct:
        drift.append(at)
        at += 2
        shaft.append(at if group.test == "shaft-drop" else None)
        at += group.test == "shaft-drop"
    strength, induced_drift = at, at + 1
    exciter = at + 3
    severity = exciter + STATE
    return Layout(
        0, tuple(drift), tuple(shaft), strength, induced_drift, exciter, severity, severity + faults
    )
