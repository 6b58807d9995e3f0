"""What a two-pole exciter does to the coils: EMF by position, coupling through the core.

Sources
-------
Flux linked by a coil is the air-gap flux inside its pitch; two full-pitch coils in a uniform gap are
coupled by the overlap of their pitches (any text on electrical machines; derived here). The shape of the
exciter's poles, a bell round each pole tip, is an assumption that the diagnosis fits to the readings.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]
TURN = 2.0 * np.pi


@dataclass(frozen=True)
class Exciter:
    """Two poles of equal and opposite flux below the armature; fields broadcast against each other.

    Parameters
    ----------
    separation_rad : array_like
        Angle from one pole to the other, positive with rotation [rad].
    arc_rad : array_like
        Standard deviation of the flux round each pole [rad].
    offset_rad : array_like
        Angle of the first pole from the centre of the coil that starts at the probed bar [rad].
    """

    separation_rad: ArrayLike = TURN / 4
    arc_rad: ArrayLike = 0.22
    offset_rad: ArrayLike = 0.0


@dataclass(frozen=True)
class CoilImpedance:
    """A coil on the exciter, relative to its magnetising reactance.

    Parameters
    ----------
    resistance : array_like
        Resistance over magnetising reactance [1].
    leakage : array_like
        Leakage over magnetising reactance [1].
    """

    resistance: ArrayLike = 0.7
    leakage: ArrayLike = 0.15


def coil_angles(bars: int) -> Array:
    """Angle of each coil's centre from coil 1's, shape (bars,) [rad]."""
    return TURN * np.arange(bars) / bars


def coil_emf(bars: int, pitch_rad: float, exciter: Exciter) -> Array:
    """EMF of each coil while bar 1 is at the probed place, relative to one pole's whole flux.

    Parameters
    ----------
    bars : int
        Coils round the armature, C.
    pitch_rad : float
        Angle between the two sides of a coil [rad].
    exciter : Exciter
        Poles; batch fields of shape (B,).

    Returns
    -------
    ndarray, shape (B, C)
        Flux of the first pole inside the coil's pitch less that of the second, as a Fourier series
        round the armature.
    """
    offset, separation, arc = (
        np.atleast_1d(np.asarray(field, dtype=float))[:, None]
        for field in (exciter.offset_rad, exciter.separation_rad, exciter.arc_rad)
    )
    order = np.arange(1, _orders(float(arc.min())) + 1)
    # a wrapped bell of spread s has coefficients exp(-n^2 s^2 / 2); a window of width p, 2 sin(n p / 2) / n
    share = np.exp(-0.5 * (order * arc) ** 2) * 2 * np.sin(order * pitch_rad / 2) / (np.pi * order)
    even = share * (np.cos(order * offset) - np.cos(order * (offset + separation)))
    odd = share * (np.sin(order * offset) - np.sin(order * (offset + separation)))
    cosine, sine = _waves(bars, len(order))
    return np.asarray(even @ cosine + odd @ sine)


@lru_cache(maxsize=32)
def _waves(bars: int, orders: int) -> tuple[Array, Array]:
    """Cosine and sine of each order, from 1, at each coil, shape (orders, bars)."""
    angle = np.arange(1, orders + 1)[:, None] * coil_angles(bars)[None, :]
    return np.cos(angle), np.sin(angle)


def _orders(arc: float) -> int:
    """Fourier terms that matter for poles this narrow."""
    return min(600, int(np.ceil(9.0 / arc)) + 1)


def mutual_coupling(bars: int, pitch_rad: float) -> Array:
    """Mutual over magnetising self reactance of coil 1 and each coil, shape (C,), [1].

    Notes
    -----
    Overlap of the two pitches less the uniform part that cannot cross the gap twice:
    M(d) ~ max(0, p - |d|) + max(0, p - (2 pi - |d|)) - p^2 / (2 pi).
    """
    apart = np.abs((coil_angles(bars) + np.pi) % TURN - np.pi)
    overlap = np.maximum(0.0, pitch_rad - apart) + np.maximum(0.0, pitch_rad - (TURN - apart))
    net = overlap - pitch_rad**2 / TURN
    return np.asarray(net / (pitch_rad - pitch_rad**2 / TURN))
