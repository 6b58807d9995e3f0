"""What every armature test reads, for a healthy winding or one with any faults: one model for all tests.

`Network` answers for one armature, in ohm, volt and ampere. The functions under it answer for many sets of
faults at once and are what the diagnosis runs on. Equations: `kernel` (healthy base) and `ports` (faults).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from barwise.errors import WindingError
from barwise.machine.exciter import CoilImpedance, Exciter
from barwise.machine.faults import Fault, GroundedCoil, ShortedCoil
from barwise.machine.feed import Feed
from barwise.machine.kernel import (
    BARS,
    COIL,
    NODE,
    SERIES,
    Kernel,
    Values,
    direct_kernel,
    exciter_kernel,
    floating_parts,
)
from barwise.machine.low_rank import SHAFT, Ints, Ports, column_strengths, port_currents
from barwise.machine.ports import fault_ports, joined_parts
from barwise.machine.winding import Winding

Array = NDArray[np.float64]

COPPER_ZERO_C = 234.5
"""Temperature at which copper's resistance extrapolates to nothing [degC]: IEC 60034-1, from memory."""
BUZZ_SHARE = 0.25
"""Circulating over dead-short current at which a steel strip buzzes: common practice, no source."""


@dataclass(frozen=True)
class Network:
    """An armature on the bench.

    Parameters
    ----------
    winding : Winding
        Its connection.
    faults : sequence of Fault
        What is wrong with it; none is healthy.
    coil_resistance_ohm : float
        One healthy coil at `winding.temperature_c` [ohm].
    temperature_c : float, optional
        Temperature of the copper now [degC].
    exciter, impedance : Exciter, CoilImpedance
        The alternating test; a coil's magnetising reactance is `coil_resistance_ohm` over
        `impedance.resistance`, at any temperature.
    pole_volts : float
        EMF of a coil that links one exciter pole's whole flux [V].

    Examples
    --------
    >>> from barwise.machine.faults import ShortedCoil
    >>> from barwise.machine.winding import Winding
    >>> lap = Network(Winding("lap", poles=4, bars=16), (ShortedCoil(6),), coil_resistance_ohm=1.0)
    >>> round(float(lap.resistance(1, 2)), 6)
    0.933333
    """

    winding: Winding
    faults: Sequence[Fault] = ()
    coil_resistance_ohm: float = 1e-3
    temperature_c: float | None = None
    exciter: Exciter = field(default_factory=Exciter)
    impedance: CoilImpedance = field(default_factory=CoilImpedance)
    pole_volts: float = 0.045

    def bar_voltages(self, feed: Feed) -> Array:
        """Voltage of every bar, mean zero in each part that hangs together, while fed, shape (C,) [V].

        Raises
        ------
        WindingError
            If nothing joins the two feed bars.
        """
        volts = direct_voltages(self._direct, self._ports, self._pair(feed.into, feed.out))[0, 0]
        mean = np.bincount(self._part, volts) / np.maximum(np.bincount(self._part), 1)
        return np.asarray((volts - mean[self._part]) * feed.amps * self._warm_ohm)

    def bar_drop(self, feed: Feed) -> Array:
        """Drop from each bar to the next, signed, shape (C,) [V]; 0 where nothing joins the two."""
        volts = self.bar_voltages(feed)
        return np.where(self._meets_next, volts - np.roll(volts, -1), 0.0)

    def resistance(self, start: int, end: int) -> float:
        """Four-wire resistance between two bars [ohm].

        Raises
        ------
        WindingError
            If nothing joins the two bars.
        """
        ratio = pair_resistance(self._direct, self._ports, self._pair(start, end))
        return float(ratio[0, 0]) * self._warm_ohm

    def shaft_drop(self, feed: Feed) -> Array:
        """Voltage from each bar to the shaft, shape (C,) [V]; 0 where nothing joins the bar to it.

        Raises
        ------
        WindingError
            If nothing ties the winding to the shaft, so that it floats.
        """
        pair = self._pair(feed.into, feed.out)
        volts = direct_voltages(self._direct, self._ports, pair)[0, 0]
        shaft = shaft_voltage(self._direct, self._ports, pair)[0, 0]
        return np.where(self._grounded_bars, volts - shaft, 0.0) * feed.amps * self._warm_ohm

    def ground(self) -> NDArray[np.bool_]:
        """Whether a lamp between each bar and the shaft lights, shape (C,)."""
        return self._grounded_bars.copy()

    def induced(self, meter_ohm: float | None = None) -> Array:
        """Voltage between each bar and the next, each probed at the same place in space, shape (C,) [V].

        Bars that nothing joins read 0: no current flows through the meter.
        """
        bars = np.arange(self.winding.bars)
        pairs = np.stack([bars, (bars + 1) % self.winding.bars], axis=-1)
        ratio = None if meter_ohm is None else np.array([meter_ohm / self._reactance_ohm])
        volts = induced_voltages(self._alternating, self._state, self._ports, pairs, self._ohm, ratio)
        return np.where(self._meets_next, np.abs(volts[0]), 0.0) * self.pole_volts

    def circulating(self) -> Array:
        """Each coil's current over a dead-shorted coil's, when its own EMF is greatest, shape (C,)."""
        dead = fault_ports(self.winding, (ShortedCoil(1),))
        mine, whole = (
            coil_currents(self._alternating, self._state, ports, self._ohm)[0]
            for ports in (self._ports, dead)
        )
        # equalizers that do not reach every bar are ports too, and change what a dead short carries
        return np.asarray(mine / whole[0])

    def blade(self) -> NDArray[np.bool_]:
        """Whether a steel strip buzzes over each slot on the exciter, shape (slots,).

        Raises
        ------
        WindingError
            If the sheet does not say how many slots there are.
        """
        if self.winding.slots is None:
            raise WindingError("blade: the winding's slots are not known; give [winding] slots")
        buzz = np.zeros(self.winding.slots, dtype=bool)
        for coil, share in enumerate(self.circulating(), start=1):
            for slot in self.winding.coil_slots(coil):
                buzz[slot - 1] |= bool(share > BUZZ_SHARE)
        return buzz

    @cached_property
    def _ports(self) -> Ports:
        return fault_ports(self.winding, self.faults)

    @cached_property
    def _part(self) -> Ints:
        return joined_parts(self.winding, self.faults)

    @cached_property
    def _meets_next(self) -> NDArray[np.bool_]:
        return np.asarray(self._part == np.roll(self._part, -1))

    @cached_property
    def _grounded_bars(self) -> NDArray[np.bool_]:
        grounded = [fault.coil - 1 for fault in self.faults if isinstance(fault, GroundedCoil)]
        return np.isin(self._part, self._part[grounded])

    @cached_property
    def _direct(self) -> Kernel:
        return direct_kernel(self.winding)

    @cached_property
    def _alternating(self) -> Kernel:
        return exciter_kernel(self.winding, self.exciter, CoilImpedance(self._ohm, self.impedance.leakage))

    @property
    def _state(self) -> Ints:
        return np.zeros(1, dtype=np.intp)

    @property
    def _ohm(self) -> Array:
        """Coil resistance now over magnetising reactance, shape (1,)."""
        return np.array([self._warm_ohm / self._reactance_ohm])

    @property
    def _reactance_ohm(self) -> float:
        return self.coil_resistance_ohm / float(np.asarray(self.impedance.resistance))

    @property
    def _warm_ohm(self) -> float:
        if self.temperature_c is None:
            return self.coil_resistance_ohm
        return self.coil_resistance_ohm * float(copper_factor(self.winding.temperature_c, self.temperature_c))

    def _pair(self, start: int, end: int) -> Ints:
        bars = self.winding.bars
        for bar in (start, end):
            if not 1 <= bar <= bars:
                raise WindingError(f"bar {bar}, expected 1 to {bars}")
        if self._part[start - 1] != self._part[end - 1]:
            raise WindingError(
                f"bars {start} and {end} belong to different closures of this winding and nothing joins "
                f"them; they must differ by a multiple of {floating_parts(self.winding)}"
            )
        return np.array([[start - 1, end - 1]], dtype=np.intp)


def copper_factor(from_c: float, to_c: float) -> float:
    """Resistance at `to_c` over resistance at `from_c`, (234.5 + t2) / (234.5 + t1) [degC].

    Examples
    --------
    >>> round(copper_factor(20.0, 25.0), 7)
    1.0196464
    """
    return (COPPER_ZERO_C + to_c) / (COPPER_ZERO_C + from_c)


def direct_voltages(kernel: Kernel, ports: Ports, feeds: Ints) -> Array:
    """Bar voltages per ampere and coil resistance.

    Parameters
    ----------
    kernel : Kernel
        From `direct_kernel`.
    ports : Ports
        H sets of faults.
    feeds : ndarray of int, shape (N, 2)
        Bars current enters and leaves at, from 0.

    Returns
    -------
    ndarray, shape (H, N, C)
    """
    bars = np.arange(kernel.winding.bars)
    node = kernel.bar[0, NODE]
    into, out = (node[(bars - bar[:, None]) % len(bars)] for bar in feeds.T)
    base = (out - into)[None]
    if ports.kind.shape[1] == 0:
        return np.broadcast_to(base, (len(ports), *base.shape[1:])).copy()
    current = port_currents(kernel, np.zeros(len(ports), dtype=np.intp), ports, _sense(kernel, ports, feeds))
    answer = kernel.bar[0][ports.kind[:, :, None], (bars - ports.place[:, :, None]) % len(bars)]
    return np.asarray(base - np.einsum("hfn,hfc->hnc", current, answer))


def shaft_voltage(kernel: Kernel, ports: Ports, feeds: Ints) -> Array:
    """Voltage the shaft takes, per ampere and coil resistance, shape (H, N).

    Notes
    -----
    Counted like `direct_voltages` from the mean of the lowest ring the shaft is tied to.

    Raises
    ------
    WindingError
        If the ports have no ground.
    """
    if ports.mix is None or SHAFT not in ports.mix.kind:
        raise WindingError("shaft-drop: no coil is grounded, so the shaft floats")
    sensed = _sense(kernel, ports, feeds)
    strength = column_strengths(kernel, np.zeros(len(ports), dtype=np.intp), ports, sensed)
    return np.asarray(strength[:, np.flatnonzero(ports.mix.kind == SHAFT)[0]])


def pair_resistance(kernel: Kernel, ports: Ports, pairs: Ints) -> Array:
    """Resistance between bars over the coil resistance, shape (H, N)."""
    volts = direct_voltages(kernel, ports, pairs)
    row = np.arange(len(pairs))
    return np.asarray(volts[:, row, pairs[:, 0]] - volts[:, row, pairs[:, 1]])


def induced_voltages(
    kernel: Kernel,
    state: Ints,
    ports: Ports,
    pairs: Ints,
    resistance: Array,
    meter: Array | None = None,
) -> Values:
    """Voltage between bars on the exciter, per pole's EMF, complex.

    Parameters
    ----------
    kernel : Kernel
        From `exciter_kernel`, B states.
    state : ndarray of int, shape (H,)
        Electrical state of each set.
    ports : Ports
        H sets of faults.
    pairs : ndarray of int, shape (K, 2)
        Probed bars from 0; the first is the one held at the fixed place.
    resistance : ndarray, shape (H,)
        Coil resistance over magnetising reactance.
    meter : ndarray, shape (H,), optional
        Meter resistance over magnetising reactance; without it the meter draws nothing.

    Returns
    -------
    ndarray, shape (H, K)
    """
    bars = kernel.winding.bars
    start, end = pairs[:, 0], pairs[:, 1]
    sensed = _looked_up(kernel.source[:, :, -np.arange(bars) % bars], state, ports, start)
    current = port_currents(kernel, state, ports, sensed, resistance)
    seen = _probe(kernel, state, ports, start, end)
    healthy = kernel.source_bar[:, :1] - kernel.source_bar[:, (end - start) % bars]
    volts = healthy[state] - np.einsum("hfk,hfk->hk", seen, current)
    if meter is None:
        return np.asarray(volts)
    inner = _probe_answer(kernel, state, ports, start, end, resistance)
    ohm = np.broadcast_to(meter, (len(ports),))[:, None]
    return np.asarray(volts * ohm / (ohm - inner))


def coil_currents(kernel: Kernel, state: Ints, ports: Ports, resistance: Array) -> Array:
    """Each coil's current, turned to where its EMF is greatest, over a dead-shorted coil's; (H, C).

    Of a coil with bridged turns it is the ampere-turns over the turns.
    """
    winding = kernel.winding
    bars = winding.bars
    best = int(np.argmax(np.abs(kernel.emf[0])))
    place = np.arange(bars)
    start = (place - best) % bars
    apart = (ports.place[:, :, None] - start) % bars
    sensed = kernel.source[state[:, None, None], ports.kind[:, :, None], apart]
    drive = port_currents(kernel, state, ports, sensed, resistance)
    away = (place[None, None, :] - ports.place[:, :, None]) % bars
    # A port's answer at the series port of a coil is the coil's current, counted often, for one unit there.
    answer = kernel.answer[state[:, None, None], SERIES, ports.kind[:, :, None], away]
    source, back = kernel.source[:, :, best][state], kernel.answer[:, :, COIL, 0][state]
    current = source[:, SERIES, None] - np.einsum("hfk,hfk->hk", answer, drive)
    dead = source[:, SERIES] - back[:, SERIES] * source[:, COIL] / back[:, COIL]
    return np.asarray(np.abs(current) / np.abs(dead)[:, None])


def _sense(kernel: Kernel, ports: Ports, feeds: Ints) -> Array:
    """What each port sees of one ampere through each feed, shape (H, F, N)."""
    bars, place = kernel.winding.bars, ports.place[:, :, None]
    answer, kind = kernel.answer[0][:, NODE], ports.kind[:, :, None]
    # K [i; v] = [0; -j]: current led in enters with a minus sign
    into, out = (answer[kind, (place - bar) % bars] for bar in feeds.T)
    return np.asarray(out - into)


def _probe(kernel: Kernel, state: Ints, ports: Ports, start: Ints, end: Ints) -> Values:
    """Voltage between the probed bars for one unit at each port, shape (H, F, K)."""
    apart = np.unique((end - start) % kernel.winding.bars)
    if len(apart) == 1:
        # every pair as far apart: the difference first, and one look-up for each reading
        return _looked_up(kernel.bar - np.roll(kernel.bar, -int(apart[0]), axis=2), state, ports, start)
    first = _looked_up(kernel.bar, state, ports, start)
    return np.asarray(first - _looked_up(kernel.bar, state, ports, end))


def _looked_up(table: Values, state: Ints, ports: Ports, bar: Ints) -> Values:
    """Entry of a (B, T, C) table for each port at each bar's distance from it, shape (H, F, K)."""
    _, kinds, bars = table.shape
    away = (bar - ports.place[:, :, None]) % bars
    row = (state[:, None] * kinds + ports.kind) * bars
    return np.asarray(np.take(table.reshape(-1), row[:, :, None] + away))


def _probe_answer(
    kernel: Kernel, state: Ints, ports: Ports, start: Ints, end: Ints, resistance: Array
) -> Values:
    """What a current drawn through the probes does to the voltage between them, shape (H, K)."""
    bars = kernel.winding.bars
    node = kernel.answer[:, NODE, NODE][state]
    healthy = 2 * node[:, :1] - node[:, (end - start) % bars] - node[:, (start - end) % bars]
    index = state[:, None, None], ports.kind[:, :, None], NODE
    first = kernel.answer[(*index, (ports.place[:, :, None] - start) % bars)]
    second = kernel.answer[(*index, (ports.place[:, :, None] - end) % bars)]
    seen = first - second
    drawn = port_currents(kernel, state, ports, seen, resistance)
    back = _probe(kernel, state, ports, start, end)
    return np.asarray(healthy - np.einsum("hfk,hfk->hk", back, drawn))


__all__ = [
    "BARS",
    "Network",
    "coil_currents",
    "copper_factor",
    "direct_voltages",
    "induced_voltages",
    "pair_resistance",
    "shaft_voltage",
]
