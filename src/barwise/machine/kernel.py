"""The healthy winding solved once: every bar looks like the next, so the network is circulant.

Unknowns are coil currents i and bar voltages v; K [i; v] = [e; -j] with

    K = [ Z    A    ]      Z i + A v = e      (e: EMF in each coil, A v: end less start)
        [ A^T  -Y   ]      A^T i - Y v = -j   (j: current led into each bar, Y: equalizers)

Z, A and Y are circulant, so the discrete Fourier transform turns K into C two-by-two systems. Everything
that is done to the winding (a fault, a feed, a probe) enters through a *port*: a fixed pattern of coil and
bar weights moved round to its place. The kernel keeps how each kind of port answers to each other kind at
each distance.

| port | weights |
|---|---|
| SERIES | 2 n on one coil (n: bars of its ring) |
| COIL | +1, -1 on the two bars of a coil |
| BARS | +1, -1 on a bar and the next |
| NODE | 1 on a bar |
| EQUALIZER | +1, -1 on a bar and the one a pair of poles on |
| RING | 1 on every bar that hangs together with the first |

Counted 2 n-fold, what a series port has to do with bars comes in whole numbers: currents of a closed ring
divide in parts of 1/n. Whole numbers keep what is exactly nothing at nothing, such as the current left in an
arc between two open coils.

Nothing says at which voltage a winding floats. The base holds each ring, by one unit of conductance spread
over its bars, at a mean of zero. Where rings are tied to each other, a RING port takes that hold away again.

Sources: P. J. Davis, Circulant Matrices, 1979 (from memory); nodal analysis, any text on circuits.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from barwise.machine.exciter import CoilImpedance, Exciter, coil_emf, mutual_coupling
from barwise.machine.winding import Winding

Values = NDArray[np.inexact[Any]]
Ints = NDArray[np.intp]

SERIES, COIL, BARS, NODE, EQUALIZER, RING = range(6)
KINDS = 6
EQUALIZER_RATIO = 0.1
"""Resistance of one equalizer piece over one coil's: common practice, no source."""


@dataclass(frozen=True)
class Kernel:
    """Answers of the healthy winding, for a batch of B electrical states.

    Attributes
    ----------
    answer : ndarray, shape (B, T, T, C)
        ``answer[b, t, u, d]``: what port t senses when port u, d places before it, is driven by one unit.
    bar : ndarray, shape (B, T, C)
        ``bar[b, t, d]``: voltage of the bar d places after a port t driven by one unit.
    source : ndarray, shape (B, T, C)
        ``source[b, t, d]``: what port t, d places after the probed bar, senses from the exciter.
    source_bar : ndarray, shape (B, C)
        Voltage of the bar d places after the probed bar from the exciter.
    emf : ndarray, shape (B, C)
        EMF of the coil d places after the probed bar.
    """

    winding: Winding
    answer: Values
    bar: Values
    source: Values
    source_bar: Values
    emf: NDArray[np.float64]


@cache
def direct_kernel(winding: Winding) -> Kernel:
    """Kernel for direct current, coil resistance 1, so voltages come out in ampere coil resistances."""
    bars = winding.bars
    impedance = np.ones((1, bars), dtype=complex)
    kernel = _kernel(winding, impedance, np.zeros((1, bars)), conductance=1 / EQUALIZER_RATIO)
    real = [np.ascontiguousarray(a.real) for a in (kernel.answer, kernel.bar)]
    return Kernel(winding, real[0], real[1], kernel.source.real, kernel.source_bar.real, kernel.emf)


def exciter_kernel(
    winding: Winding, exciter: Exciter, impedance: CoilImpedance, kinds: int = KINDS
) -> Kernel:
    """Kernel on the exciter; impedances in units of a coil's magnetising reactance, EMF in pole fluxes.

    Batch fields of `exciter` and `impedance` have shape (B,); `kinds` leaves out the last port kinds.
    """
    pitch = coil_pitch_rad(winding)
    resistance = np.atleast_1d(np.asarray(impedance.resistance, dtype=float))
    own = resistance + 1j * np.atleast_1d(np.asarray(impedance.leakage, dtype=float))
    emf = coil_emf(winding.bars, pitch, exciter)
    # states that differ in the exciter's poles alone share their tables
    own, which = np.unique(np.broadcast_to(own, max(len(own), len(emf))), return_inverse=True)
    spectrum = 1j * _coupling_spectrum(winding.bars, pitch)[None, :] + own[:, None]
    conductance = 1 / (EQUALIZER_RATIO * own.real)
    return _kernel(winding, spectrum, emf, conductance, kinds, which)


@cache
def _coupling_spectrum(bars: int, pitch_rad: float) -> NDArray[np.float64]:
    """Spectrum of the coils' coupling round the armature, shape (C,)."""
    return np.asarray(np.fft.fft(mutual_coupling(bars, pitch_rad)).real)


def coil_pitch_rad(winding: Winding) -> float:
    """Angle between the sides of a coil: as the sheet says, else one pole pitch [rad]."""
    if winding.slots is not None and winding.coil_pitch_slots is not None:
        return 2.0 * np.pi * winding.coil_pitch_slots / winding.slots
    return 2.0 * np.pi / winding.poles


def _kernel(
    winding: Winding,
    impedance: Values,
    emf: NDArray[np.float64],
    conductance: ArrayLike,
    kinds: int = KINDS,
    which: Ints | None = None,
) -> Kernel:
    """Tables for impedances and conductances of fewer states, `which` saying whose each state has."""
    which = np.arange(len(emf)) if which is None else which
    coil_branch, coil_bar = (spectrum[:kinds] for spectrum in _port_patterns(winding))
    inverse = _inverse_spectrum(winding, impedance, conductance)
    ii, iv, vi, vv = (part[:, None, :] for part in inverse)
    current = ii * coil_branch + iv * coil_bar
    voltage = vi * coil_branch + vv * coil_bar
    sensed = (
        np.conj(coil_branch)[None, :, None, :] * current[:, None, :, :]
        + np.conj(coil_bar)[None, :, None, :] * voltage[:, None, :, :]
    )
    ii, vi = ii[which], vi[which]
    wave = np.fft.fft(emf, axis=-1)[:, None, :]
    source = np.conj(coil_branch) * (ii * wave) + np.conj(coil_bar) * (vi * wave)
    kernel = Kernel(
        winding,
        np.fft.ifft(sensed, axis=-1)[which],
        np.fft.ifft(voltage, axis=-1)[which],
        np.fft.ifft(source, axis=-1),
        np.fft.ifft(vi * wave, axis=-1)[:, 0, :],
        emf,
    )
    _make_rings_exact(kernel)
    if not fully_equalized(winding):
        _make_series_exact(kernel)
    return kernel


def _make_rings_exact(kernel: Kernel) -> None:
    """How a ring as a whole answers is a count of bars; it sees nothing of EMFs."""
    kernel.answer[:, RING:] = np.round(kernel.answer[:, RING:])
    kernel.answer[:, :, RING:] = np.round(kernel.answer[:, :, RING:])
    kernel.source[:, RING:] = 0.0


def _make_series_exact(kernel: Kernel) -> None:
    """Put whole numbers, and one value for a whole ring, where the transform leaves the last digit open."""
    kinds = kernel.answer.shape[1]
    exact = _series_answers(kernel.winding)
    # the table is symmetric: t seen from u at distance d is u seen from t at -d
    mirrored = np.roll(exact[:, ::-1], 1, axis=-1)
    kernel.answer[:, SERIES, 1:] = exact[1:kinds]
    kernel.answer[:, 1:, SERIES] = mirrored[1:kinds]
    kernel.bar[:, SERIES] = mirrored[NODE]
    rings = kernel.winding.closures
    for table in (kernel.answer[:, SERIES, SERIES], kernel.source[:, SERIES]):
        table.reshape(len(table), -1, rings)[:] = table[:, None, :rings].copy()


@cache
def _series_answers(winding: Winding) -> NDArray[np.float64]:
    """2 n times the current in the coil d places after a port driven by one unit, shape (T, C).

    One ampere drawn from a bar, and led in evenly at all n of its ring, leaves (m - (n - 1)/2) / n in the
    coil m steps along the ring: what makes them sum to nothing round the ring, and step at each bar.
    """
    bars, n = winding.bars, ring_bars(winding)
    along = np.arange(n)
    node = np.zeros(bars)
    node[(along * winding.step) % bars] = 2 * along - (n - 1)
    table = np.zeros((KINDS, bars))
    table[NODE] = node
    for kind, distance in _distances(winding).items():
        table[kind] = node - np.roll(node, distance)
    return table


@cache
def _port_patterns(winding: Winding) -> tuple[Values, Values]:
    """Spectra of each port kind's weights on coils and on bars, shape (T, C) each."""
    bars = winding.bars
    branch, bar = np.zeros((KINDS, bars)), np.zeros((KINDS, bars))
    branch[SERIES, 0] = 2 * ring_bars(winding)
    for kind, distance in _distances(winding).items():
        bar[kind, 0] += 1.0
        bar[kind, distance % bars] -= 1.0
    bar[NODE, 0] = 1.0
    bar[RING, :: floating_parts(winding)] = 1.0
    return np.fft.fft(branch, axis=-1), np.fft.fft(bar, axis=-1)


def _distances(winding: Winding) -> dict[int, int]:
    """Bars from the one bar to the other of each port that lies between two."""
    return {COIL: winding.step, BARS: 1, EQUALIZER: double_pole_pitch(winding)}


def _inverse_spectrum(
    winding: Winding, impedance: Values, conductance: ArrayLike
) -> tuple[Values, Values, Values, Values]:
    """The four blocks of K^-1 at each frequency; one that leaves no voltage between bars keeps only 1/Z."""
    bars = winding.bars
    harmonic = np.arange(bars)
    incidence = np.exp(2j * np.pi * ((harmonic * winding.step) % bars) / bars) - 1.0
    incidence[(harmonic * winding.step) % bars == 0] = 0.0
    admittance = np.zeros((1, bars))
    if fully_equalized(winding):
        ring = 2.0 - 2.0 * np.cos(2 * np.pi * harmonic * double_pole_pitch(winding) / bars)
        admittance = np.atleast_1d(np.asarray(conductance, dtype=float))[:, None] * ring[None, :]
    determinant = -impedance * admittance - np.abs(incidence) ** 2
    floating = np.abs(determinant) < 1e-12
    with np.errstate(divide="ignore", invalid="ignore"):
        ii = np.where(floating, 1.0 / impedance, -admittance / determinant)
        iv = np.where(floating, 0.0, -incidence / determinant)
        vi = np.where(floating, 0.0, -np.conj(incidence) / determinant)
        vv = np.where(floating, -1.0, impedance / determinant)
    return ii, iv, vi, vv


def fully_equalized(winding: Winding) -> bool:
    """Whether every bar has an equalizer, so that they are part of the circulant base."""
    return winding.equalizers > 0 and winding.equalizers >= winding.bars // winding.pole_pairs


def floating_parts(winding: Winding) -> int:
    """Parts of the healthy winding that no copper joins; bar b is in part (b - 1) modulo their number."""
    rings = winding.closures
    return math.gcd(rings, double_pole_pitch(winding)) if fully_equalized(winding) else rings


def ring_bars(winding: Winding) -> int:
    """Bars, and coils, of one closed ring."""
    return winding.bars // winding.closures


def double_pole_pitch(winding: Winding) -> int:
    """Bars from one end of a piece of equalizer to the other."""
    return winding.bars // winding.pole_pairs
