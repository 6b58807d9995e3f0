"""Heights of bars and tracks: what the readings share round the commutator and along it.

A reading is y = s(bar) + step(bar) + h(track) - burn + noise, with s a sum of harmonics, the first of them
the eccentricity. Harmonics, steps and tracks are fitted together, each with its prior; readings far below
the rest (burns) or far above (slips) do not take part.

Source: Bayesian least squares, C. E. Rasmussen and C. K. I. Williams, Gaussian Processes for Machine
Learning, 2006, chapter 2 (from memory). The cavity of a bar is what all the other bars say of it.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from barwise.inspect.commutator import pattern
from barwise.inspect.commutator.pattern import THOU, Array

Bools = NDArray[np.bool_]

FAR = 4.0
"""A reading so many standard deviations off takes no part in the levels."""
ROUNDS = 5


@dataclass(frozen=True)
class ReadingTable:
    """Readings by bar and track; NaN where none was taken, the mean where several were.

    Attributes
    ----------
    value_m : ndarray, shape (C, T)
        Height [m].
    tracks : ndarray, shape (T,)
        Places along the bar, in order [1].
    resolution_m : float
        Of the indicator [m].
    """

    value_m: Array
    tracks: Array
    resolution_m: float

    @property
    def taken(self) -> Bools:
        """Whether there is a reading, shape (C, T)."""
        return np.isfinite(self.value_m)


@dataclass(frozen=True)
class Levels:
    """What bars and tracks come to.

    Attributes
    ----------
    track_m, track_covariance_m2 : ndarray, shape (T,), (T, T)
        Height of each track: mean [m] and covariance [m²].
    bar_m, bar_variance_m2 : ndarray, shape (C,)
        What the other bars say of each bar's height, its own step included [m, m²].
    noise_m, step_m : float
        Standard deviations of a reading, its rounding included, and of the bars' own steps [m].
    """

    track_m: Array
    track_covariance_m2: Array
    bar_m: Array
    bar_variance_m2: Array
    noise_m: float
    step_m: float


def rounding_sd(resolution_m: float) -> float:
    """Standard deviation of what reading to a graduation leaves out [m]: JCGM 100:2008, F.2.2.1."""
    return float(resolution_m / np.sqrt(12))


def usual_noise(resolution_m: float) -> float:
    """Noise of a reading before any is looked at [m]."""
    return float(np.hypot(rounding_sd(resolution_m), pattern.TOUCH_SD))


def fit_levels(table: ReadingTable) -> Levels:
    """Levels of bars and tracks, held against burns and slips by leaving far readings out."""
    bars, tracks = table.value_m.shape
    waves = _waves(bars)
    row, column = np.nonzero(table.taken)
    value = table.value_m[row, column]
    design = np.zeros((len(value), waves.shape[1] + bars + tracks))
    design[:, : waves.shape[1]] = waves[row]
    design[np.arange(len(row)), waves.shape[1] + row] = 1.0
    design[np.arange(len(row)), waves.shape[1] + bars + column] = 1.0
    noise, step = usual_noise(table.resolution_m), pattern.STEP_SD
    weight = np.ones(len(value))
    for turn in range(ROUNDS):
        precision = np.diag(1 / _prior_variance(waves.shape[1], bars, tracks, step))
        information = precision + design.T @ (design * (weight / noise**2)[:, None])
        covariance = np.asarray(np.linalg.inv(information), dtype=np.float64)
        mean = np.asarray(covariance @ (design.T @ (value * weight / noise**2)))
        if turn == ROUNDS - 1:
            # what follows needs the noise and the weights that this fit was made with
            break
        left = value - design @ mean
        noise = _noise(table, left, weight)
        step = _step(mean[waves.shape[1] : waves.shape[1] + bars], covariance, waves.shape[1])
        weight = np.where(np.abs(left) > FAR * noise, 1e-6, 1.0)
    # given the tracks, bars are tied together by the waves alone
    shaped = waves.shape[1] + bars
    known = np.linalg.inv(np.linalg.inv(covariance)[:shaped, :shaped])
    heights = np.hstack([waves, np.eye(bars)])
    used = np.bincount(row, weight, bars)
    sums = np.bincount(row, weight * (value - mean[-tracks:][column]), bars)
    bar_mean = heights @ mean[:shaped]
    bar_variance = np.einsum("kp,pq,kq->k", heights, known, heights)
    cavity = np.maximum(1 / bar_variance - used / noise**2, 1 / (pattern.TRACK_SD**2))
    centre = (bar_mean / bar_variance - sums / noise**2) / cavity
    return Levels(
        track_m=mean[-tracks:],
        track_covariance_m2=covariance[-tracks:, -tracks:],
        bar_m=centre,
        bar_variance_m2=1 / cavity,
        noise_m=noise,
        step_m=step,
    )


def _waves(bars: int) -> Array:
    """Cosine and sine of each harmonic at each bar, scaled by its prior, shape (C, 2 H)."""
    theta = 2 * np.pi * np.arange(bars) / bars
    spread = [pattern.ECCENTRICITY_SD] + [pattern.LOBE_SD / (n - 1) for n in range(2, pattern.HARMONICS + 1)]
    columns = [
        s * wave(n * theta) / THOU
        for n, s in enumerate(spread, start=1)
        if 2 * n < bars
        for wave in (np.cos, np.sin)
    ]
    return np.stack(columns, axis=1)


def _prior_variance(waves: int, bars: int, tracks: int, step: float) -> Array:
    return np.concatenate(
        [np.full(waves, THOU**2), np.full(bars, step**2), np.full(tracks, pattern.TRACK_SD**2)]
    )


def _noise(table: ReadingTable, left: Array, weight: Array) -> float:
    """Reading noise from what bars and tracks leave over, held to the usual by a prior."""
    usual = usual_noise(table.resolution_m)
    bars, tracks = table.value_m.shape
    free = len(left) - bars - tracks
    if free < 5:
        return usual
    typical = 1.4826 * float(np.median(np.abs(left[weight > 0.5]))) * np.sqrt(len(left) / free)
    return float(np.sqrt((10 * usual**2 + free * typical**2) / (10 + free)))


def _step(mean: Array, covariance: Array, first: int) -> float:
    """Spread of the bars' own steps: expected square of each, the largest left out (burns)."""
    own = covariance[first : first + len(mean), first : first + len(mean)].diagonal()
    typical = (1.4826 * np.median(np.abs(mean))) ** 2 + float(np.median(own))
    prior = 6.0
    held = (prior * pattern.STEP_SD**2 + len(mean) * typical) / (prior + len(mean))
    return float(np.clip(np.sqrt(held), 0.03 * THOU, 2.0 * THOU))
