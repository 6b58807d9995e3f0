"""The healthy winding solved once: every bar looks like the next, so the network is circulant.

Unknowns are coil currents i and bar voltages v; K [i; v] = [e; -j] with

    K = [ Z    A    ]      Z i + A v = e      (e: EMF in each coil, A v: end less start)
        [ A^T  -Y   ]      A^T i - Y v = -j   (j: current led into each bar, Y: equalizers)

Z, A and Y are circulant, so the discrete Fourier transform turns K into C two-by-two systems. Everything
that is done to the winding (a fault, a feed, a probe) enters through a *port*: a fixed pattern of coil and
bar weights moved round to its place. The kernel keeps how each kind of port answers to each other kind at
each distance.

Sources: P. J. Davis, Circulant Matrices, 1979 (from memory); nodal analysis, any text on circuits.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from barwise.machine.exciter import CoilImpedance, Exciter, coil_emf, mutual_coupling
from barwise.machine.winding import Winding

Values = NDArray[np.inexact[Any]]

SERIES, COIL, BARS, NODE, EQUALIZER = range(5)
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
    """

    winding: Winding
    answer: Values
    bar: Values
    source: Values
    source_bar: Values


@cache
def direct_kernel(winding: Winding) -> Kernel:
    """Kernel for direct current, coil resistance 1, so voltages come out in ampere coil resistances."""
    bars = winding.bars
    impedance = np.ones((1, bars), dtype=complex)
    kernel = _kernel(winding, impedance, np.zeros((1, bars)), conductance=1 / EQUALIZER_RATIO)
    real = [np.ascontiguousarray(a.real) for a in (kernel.answer, kernel.bar)]
    return Kernel(winding, real[0], real[1], kernel.source.real, kernel.source_bar.real)


def exciter_kernel(winding: Winding, exciter: Exciter, impedance: CoilImpedance, kinds: int = 5) -> Kernel:
    """Kernel on the exciter; impedances in units of a coil's magnetising reactance, EMF in pole fluxes.

    Batch fields of `exciter` and `impedance` have shape (B,); `kinds` leaves out the last port kinds.
    """
    pitch = coil_pitch_rad(winding)
    resistance = np.atleast_1d(np.asarray(impedance.resistance, dtype=float))
    own = resistance + 1j * np.atleast_1d(np.asarray(impedance.leakage, dtype=float))
    spectrum = 1j * np.fft.fft(mutual_coupling(winding.bars, pitch)).real[None, :] + own[:, None]
    emf = coil_emf(winding.bars, pitch, exciter)
    conductance = 1 / (EQUALIZER_RATIO * resistance)
    return _kernel(winding, spectrum, emf, conductance, kinds)


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
    kinds: int = 5,
) -> Kernel:
    coil_branch, coil_bar = (spectrum[:kinds] for spectrum in _port_patterns(winding))
    inverse = _inverse_spectrum(winding, impedance, conductance)
    ii, iv, vi, vv = (part[:, None, :] for part in inverse)
    current = ii * coil_branch + iv * coil_bar
    voltage = vi * coil_branch + vv * coil_bar
    sensed = (
        np.conj(coil_branch)[None, :, None, :] * current[:, None, :, :]
        + np.conj(coil_bar)[None, :, None, :] * voltage[:, None, :, :]
    )
    wave = np.fft.fft(emf, axis=-1)[:, None, :]
    source = np.conj(coil_branch) * (ii * wave) + np.conj(coil_bar) * (vi * wave)
    return Kernel(
        winding,
        np.fft.ifft(sensed, axis=-1),
        np.fft.ifft(voltage, axis=-1),
        np.fft.ifft(source, axis=-1),
        np.fft.ifft(vi * wave, axis=-1)[:, 0, :],
    )


def _port_patterns(winding: Winding) -> tuple[Values, Values]:
    """Spectra of each port kind's weights on coils and on bars, shape (T, C) each."""
    bars = winding.bars
    branch, bar = np.zeros((5, bars)), np.zeros((5, bars))
    branch[SERIES, 0] = 1.0
    apart = {COIL: winding.step, BARS: 1, EQUALIZER: _double_pole_pitch(winding)}
    for kind, distance in apart.items():
        bar[kind, 0] += 1.0
        bar[kind, distance % bars] -= 1.0
    bar[NODE, 0] = 1.0
    return np.fft.fft(branch, axis=-1), np.fft.fft(bar, axis=-1)


def _inverse_spectrum(
    winding: Winding, impedance: Values, conductance: ArrayLike
) -> tuple[Values, Values, Values, Values]:
    """The four blocks of K^-1 at each frequency; a frequency that meets no bar keeps only 1/Z."""
    bars = winding.bars
    harmonic = np.arange(bars)
    incidence = np.exp(2j * np.pi * ((harmonic * winding.step) % bars) / bars) - 1.0
    incidence[(harmonic * winding.step) % bars == 0] = 0.0
    admittance = np.zeros((1, bars))
    if fully_equalized(winding):
        ring = 2.0 - 2.0 * np.cos(2 * np.pi * harmonic * _double_pole_pitch(winding) / bars)
        admittance = np.atleast_1d(np.asarray(conductance, dtype=float))[:, None] * ring[None, :]
    determinant = -impedance * admittance - np.abs(incidence) ** 2
    floating = np.abs(determinant) < 1e-12
    with np.errstate(divide="ignore", invalid="ignore"):
        ii = np.where(floating, 1.0 / impedance, -admittance / determinant)
        iv = np.where(floating, 0.0, -incidence / determinant)
        vi = np.where(floating, 0.0, -np.conj(incidence) / determinant)
        vv = np.where(floating, 0.0, impedance / determinant)
    return ii, iv, vi, vv


def fully_equalized(winding: Winding) -> bool:
    """Whether every bar has an equalizer, so that they are part of the circulant base."""
    return winding.equalizers > 0 and winding.equalizers >= winding.bars // winding.pole_pairs


def _double_pole_pitch(winding: Winding) -> int:
    return winding.bars // winding.pole_pairs
