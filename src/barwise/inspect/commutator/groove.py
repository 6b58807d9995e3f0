"""The shape along the bars between the tracks walked: taper and the groove that the brushes wore.

h(z) = level + taper (z - 1/2) - depth g(z) + f(z), with g the hollow of `pattern.hollow` and f a small
Gaussian process for what no formula has. Centre, width and flatness of the groove are drawn from what is
likely and kept by how well they agree with the tracks; the rest is Bayesian least squares, the depth never
negative.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from barwise.inspect.commutator import pattern
from barwise.inspect.commutator.bell import log_share_below, quantile, share_below
from barwise.inspect.commutator.pattern import Array, Rng, hollow

TRIES = 600
WAVES = 9
TRACK_SLACK = 0.02 * pattern.THOU
"""How closely the shape must pass through a track's height [m]."""


@dataclass(frozen=True)
class _Grooves:
    """Tried shapes, each with its posterior of (level, taper, depth): shapes (P,), (P, 3), (P, 3, 3)."""

    centre: Array
    width: Array
    flatness: Array
    mean: Array
    covariance: Array
    weight: Array


def draw_along(rng: Rng, tracks: Array, height_m: Array, grid: Array) -> Array:
    """Height along the bars for each draw of the tracks' heights.

    Parameters
    ----------
    rng : Generator
    tracks : ndarray, shape (T,)
    height_m : ndarray, shape (S, T)
        Draws of the tracks' heights [m].
    grid : ndarray, shape (Z,)
        Places along the bar.

    Returns
    -------
    ndarray, shape (S, Z)
        Height [m].
    """
    draws = len(height_m)
    tried = _try_grooves(rng, tracks, height_m.mean(axis=0))
    chosen = rng.choice(len(tried.weight), draws, p=tried.weight)
    shape = tried.centre[chosen], tried.width[chosen], tried.flatness[chosen]
    amount = _amounts(rng, tried.mean[chosen], tried.covariance[chosen])
    off = height_m - np.einsum("stp,sp->st", _columns(tracks, *shape), amount)
    fitted = np.einsum("szp,sp->sz", _columns(grid, *shape), amount)
    return np.asarray(fitted + _departure(rng, tracks, off, grid))


def _try_grooves(rng: Rng, tracks: Array, height: Array) -> _Grooves:
    centre = rng.normal(pattern.GROOVE_CENTRE, pattern.GROOVE_CENTRE_SD, TRIES)
    width = pattern.GROOVE_WIDTH * np.exp(pattern.GROOVE_WIDTH_SPREAD * rng.standard_normal(TRIES))
    flatness = rng.uniform(*pattern.GROOVE_FLATNESS, TRIES)
    columns = _columns(tracks, centre, width, flatness)
    prior = np.diag(np.array([pattern.TRACK_SD, pattern.TAPER_SD, pattern.GROOVE_SD]) ** 2)
    noise = _alike(tracks, tracks) + TRACK_SLACK**2 * np.eye(len(tracks))
    across = columns @ prior
    cover = across @ np.swapaxes(columns, 1, 2) + noise
    gain = np.swapaxes(np.linalg.solve(cover, across), 1, 2)
    mean = gain @ height
    covariance = prior - gain @ across
    solved = np.linalg.solve(cover, np.broadcast_to(height, (TRIES, len(tracks)))[:, :, None])[:, :, 0]
    spread = np.sqrt(np.maximum(covariance[:, 2, 2], (1e-6 * pattern.THOU) ** 2))
    log_weight = (
        -0.5 * (solved @ height) - 0.5 * np.linalg.slogdet(cover)[1] + log_share_below(mean[:, 2] / spread)
    )
    weight = np.exp(log_weight - log_weight.max())
    return _Grooves(centre, width, flatness, mean, covariance, weight / weight.sum())


def _amounts(rng: Rng, mean: Array, covariance: Array) -> Array:
    """Level, taper and depth drawn, depth first as it is not negative, shape (S, 3)."""
    spread = np.sqrt(covariance[:, 2, 2])
    least = share_below(-mean[:, 2] / spread)
    uniform = least + (1 - least) * rng.uniform(1e-12, 1 - 1e-12, len(mean))
    depth = np.maximum(mean[:, 2] + spread * quantile(np.minimum(uniform, 1 - 1e-12)), 0.0)
    slope = covariance[:, :2, 2] / covariance[:, 2, 2][:, None]
    rest = covariance[:, :2, :2] - slope[:, :, None] * covariance[:, None, 2, :2]
    factor = np.linalg.cholesky(rest + (1e-6 * pattern.THOU) ** 2 * np.eye(2))
    noise = np.einsum("spq,sq->sp", factor, rng.standard_normal((len(mean), 2)))
    low = mean[:, :2] + slope * (depth - mean[:, 2])[:, None] + noise
    return np.column_stack([low, depth])


def _columns(place: Array, centre: Array, width: Array, flatness: Array) -> Array:
    """Level, taper and groove at each place for each draw, shape (S, Z, 3)."""
    out = np.ones((len(centre), len(place), 3))
    out[:, :, 1] = place - 0.5
    out[:, :, 2] = -hollow(place[None, :], centre[:, None], width[:, None], flatness[:, None])
    return out


def _departure(rng: Rng, tracks: Array, off: Array, grid: Array) -> Array:
    """What no formula has: a Gaussian process that is `off` at the tracks, shape (S, Z).

    Drawn freely first, then moved by what the tracks ask for (Matheron's rule).
    """
    weights = rng.standard_normal((len(off), WAVES))
    free, at_tracks = weights @ _waves(grid).T, weights @ _waves(tracks).T
    cover = _alike(tracks, tracks) + TRACK_SLACK**2 * np.eye(len(tracks))
    slack = TRACK_SLACK * rng.standard_normal(off.shape)
    toward = np.linalg.solve(cover, _alike(tracks, grid))
    return np.asarray(free + (off - at_tracks - slack) @ toward)


def _alike(a: Array, b: Array) -> Array:
    return np.asarray(_waves(a) @ _waves(b).T)


def _waves(place: Array) -> Array:
    """Cosines along the bar, weighted to make a smooth process of `SHAPE_SD` and `SHAPE_LENGTH`."""
    order = np.arange(WAVES)
    power = np.exp(-0.5 * (np.pi * order * pattern.SHAPE_LENGTH) ** 2)
    power[1:] *= 2
    size = pattern.SHAPE_SD * np.sqrt(power / power.sum())
    return np.asarray(size * np.cos(np.pi * order * place[:, None]))
