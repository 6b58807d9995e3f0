"""Each bar by itself: sound, moved or burned, how high it stands and what hollow it has between the tracks.

For every bar, particles of each of the three stories are drawn near what its readings say and weighted by how
well they explain them (importance sampling). What burns are like on this commutator (usual,
deep, or anywhere along the bar) is drawn with them: every burned bar has its say on it.

A reading is an interval, not a value with a bell curve round it: an indicator read to its graduation v says
that the surface lies between v - q/2 and v + q/2, give or take the touch. With a half-thou indicator that
makes the difference.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from barwise.inspect.commutator import pattern
from barwise.inspect.commutator.bell import log_share_below, quantile, share_below
from barwise.inspect.commutator.levels import Levels, ReadingTable, rounding_sd
from barwise.inspect.commutator.pattern import Array, Rng, hollow

Bools = NDArray[np.bool_]
Ints = NDArray[np.intp]

SOUND_PARTICLES, BURN_PARTICLES = 120, 240
SHAPES = 1000
"""Hollows tried on every bar; the particles are drawn from those that fit."""
KEENNESS = 0.7
"""Share of the logarithm of a fit that counts in choosing: below 1, so that no tail is lost."""
WIDER = 1.3
"""Particles are drawn from a bell curve so much wider than the one that nearly fits, to lose no tail."""


@dataclass(frozen=True)
class BarDraws:
    """Bars' heights and hollows that agree with the readings.

    Attributes
    ----------
    height_m : ndarray, shape (S, C)
        Without the hollow [m].
    depth_m, centre, width, flatness : ndarray, shape (S, C)
        The hollow of each bar; depth 0 where it has none.
    burned : ndarray, shape (C,)
        Probability that a bar is burned.
    """

    height_m: Array
    depth_m: Array
    centre: Array
    width: Array
    flatness: Array
    burned: Array

    def hollow_m(self, draws: Ints, bar: int, place: Array) -> Array:
        """Depth of one bar's hollow in these draws at these places, shape (len(draws), Z) [m]."""
        shape = (x[draws, bar][:, None] for x in (self.centre, self.width, self.flatness))
        return np.asarray(self.depth_m[draws, bar][:, None] * hollow(place[None, :], *shape))


def draw_bars(rng: Rng, table: ReadingTable, levels: Levels, draws: int) -> BarDraws:
    """Heights and hollows of every bar.

    Parameters
    ----------
    rng : Generator
    table : ReadingTable
    levels : Levels
        What the tracks, and for each bar the other bars, come to.
    draws : int
    """
    taken = table.taken
    off = np.where(taken, table.value_m - levels.track_m - levels.bar_m[:, None], 0.0)
    reader = _Reader(off, taken, table.resolution_m, levels)
    moved_variance = levels.bar_variance_m2 + pattern.MOVED_SD**2
    sound = _sound(rng, reader, levels.bar_variance_m2)
    moved = _sound(rng, reader, moved_variance)
    burned, kinds = _burned(rng, reader, table.tracks, levels.bar_variance_m2)
    share, weight = _weights(sound, moved, burned, kinds)
    kind = rng.choice(len(share), draws, p=share)
    chosen = np.empty((len(off), draws), dtype=np.intp)
    for k in range(len(share)):
        mine = np.flatnonzero(kind == k)
        if len(mine):
            chosen[:, mine] = _choose(rng, weight[k], len(mine))
    bars = np.arange(len(off))[:, None]
    height = np.concatenate([sound.height, moved.height, burned.height], axis=1)
    first = sound.height.shape[1] + moved.height.shape[1]
    index = np.maximum(chosen - first, 0)
    depth = np.where(chosen >= first, burned.depth[bars, index], 0.0)
    return BarDraws(
        height_m=(levels.bar_m[:, None] + height[bars, chosen]).T,
        depth_m=depth.T,
        centre=burned.centre[bars, index].T,
        width=burned.width[bars, index].T,
        flatness=burned.flatness[bars, index].T,
        burned=share @ weight[:, :, first:].sum(axis=2),
    )


def _weights(sound: _Story, moved: _Story, burned: _Story, kinds: Array) -> tuple[Array, Array]:
    """How probable each kind of burn is on this commutator, (F,), and each particle given that, (F, C, P).

    Bars are independent once the kind is known, so every burned bar has its say on the kind.
    """
    parts = ((sound, 1 - pattern.MOVED_SHARE - pattern.BURNED_SHARE), (moved, pattern.MOVED_SHARE))
    plain = np.concatenate([s.log_weight + np.log(p / s.log_weight.shape[1]) for s, p in parts], axis=1)
    hollowed = burned.log_weight + kinds + np.log(pattern.BURNED_SHARE / kinds.shape[2])
    log_weight = np.concatenate([np.broadcast_to(plain, (len(kinds), *plain.shape)), hollowed], axis=2)
    top = log_weight.max(axis=2, keepdims=True)
    weight = np.exp(log_weight - top)
    total = weight.sum(axis=2, keepdims=True)
    evidence = np.log([kind.share for kind in pattern.BURNS]) + (top + np.log(total)).sum(axis=(1, 2))
    share = np.exp(evidence - evidence.max())
    return share / share.sum(), weight / total


@dataclass(frozen=True)
class _Story:
    """Particles of one story, all (C, P): height and depth, their log weights, and the hollows' shapes."""

    height: Array
    log_weight: Array
    depth: Array
    centre: Array
    width: Array
    flatness: Array


class _Reader:
    """How likely the readings are, given where a bar's surface lies."""

    def __init__(self, off: Array, taken: Bools, resolution_m: float, levels: Levels) -> None:
        self.off, self.taken = off, taken
        self.half = resolution_m / 2
        rounding = rounding_sd(resolution_m)
        self.touch = float(np.sqrt(max(levels.noise_m**2 - rounding**2, (0.8 * pattern.TOUCH_SD) ** 2)))
        self.variance = self.touch**2 + rounding**2
        self.slip = pattern.SLIP_SHARE * resolution_m / pattern.SLIP_SPAN

    def log_likelihood(self, surface: Array) -> Array:
        """Of all readings of each bar; `surface` has shape (C, P, T), the answer (C, P)."""
        away = self.off[:, None, :] - surface
        share = share_below((away + self.half) / self.touch) - share_below((away - self.half) / self.touch)
        likely = (1 - pattern.SLIP_SHARE) * share + self.slip
        return np.asarray((np.log(likely) * self.taken[:, None, :]).sum(axis=2))


def _sound(rng: Rng, reader: _Reader, variance: Array) -> _Story:
    """A bar with no hollow, its height spread by `variance` round what the others say."""
    count = reader.taken.sum(axis=1)
    precision = 1 / variance + count / reader.variance
    centre = (reader.off.sum(axis=1) / reader.variance / precision)[:, None]
    spread = (WIDER / np.sqrt(precision))[:, None]
    normal = rng.standard_normal((len(count), SOUND_PARTICLES))
    height = centre + spread * normal
    surface = np.broadcast_to(height[:, :, None], (*height.shape, reader.off.shape[1]))
    log_weight = reader.log_likelihood(surface) + _log_normal(height, variance[:, None])
    log_weight -= -0.5 * normal**2 - np.log(spread)
    none = np.zeros_like(height)
    return _Story(height, log_weight, none, none, none, none)


def _burned(rng: Rng, reader: _Reader, tracks: Array, variance: Array) -> tuple[_Story, Array]:
    """A bar with a hollow: its shape drawn from what is likely, height and depth near what fits.

    Returns the particles, weighted as if no depth and no shape were likelier than another, and the log
    density of each under each kind of burn, shape (F, C, P).
    """
    centre, width, log_kinds = _shapes(rng)
    flatness = rng.uniform(*pattern.BURN_FLATNESS, SHAPES)
    shape = hollow(tracks[None, :], centre[:, None], width[:, None], flatness[:, None])
    count = reader.taken.sum(axis=1)[:, None] / reader.variance
    stiff = 1 / variance[:, None] + count
    total = reader.off.sum(axis=1)[:, None] / reader.variance
    once = reader.taken @ shape.T / reader.variance
    twice = reader.taken @ (shape**2).T / reader.variance
    against = reader.off @ shape.T / reader.variance
    # depth with the height integrated out
    deepest = max(kind.depth_sd for kind in pattern.BURNS)
    precision = 1 / deepest**2 + twice - once**2 / stiff
    middle = (once * total / stiff - against) / precision
    fit = 0.5 * middle**2 * precision - 0.5 * np.log(precision)
    fit += log_share_below(middle * np.sqrt(precision))
    kept, log_share = _keep(rng, fit)
    bars = np.arange(len(kept))[:, None]
    precision, middle, once = precision[bars, kept], middle[bars, kept], once[bars, kept]
    depth, log_depth = _not_negative(rng, middle, WIDER / np.sqrt(precision))
    normal = rng.standard_normal(depth.shape)
    height = (total + depth * once) / stiff + WIDER / np.sqrt(stiff) * normal
    surface = height[:, :, None] - depth[:, :, None] * shape[kept]
    log_weight = reader.log_likelihood(surface) + _log_normal(height, variance[:, None])
    log_weight -= log_share + log_depth - 0.5 * normal**2 - np.log(WIDER / np.sqrt(stiff))
    kinds = np.stack(
        [
            np.log(2) + _log_normal(depth, np.array(kind.depth_sd**2)) + log_kind[kept]
            for kind, log_kind in zip(pattern.BURNS, log_kinds, strict=True)
        ]
    )
    return _Story(height, log_weight, depth, centre[kept], width[kept], flatness[kept]), kinds


def _shapes(rng: Rng) -> tuple[Array, Array, Array]:
    """Centres and widths to try, (N,), and the log of how much each kind favours them, (F, N)."""
    kinds = pattern.BURNS
    of = np.arange(SHAPES) % len(kinds)
    off = np.array([kind.centre_sd for kind in kinds])[of] * rng.standard_normal(SHAPES)
    wide = np.array([kind.width_spread for kind in kinds])[of] * rng.standard_normal(SHAPES)
    log_density = np.stack(
        [
            _log_normal(off, np.array(kind.centre_sd**2)) + _log_normal(wide, np.array(kind.width_spread**2))
            for kind in kinds
        ]
    )
    log_drawn = np.log(np.exp(log_density).mean(axis=0))
    return pattern.GROOVE_CENTRE + off, pattern.BURN_WIDTH * np.exp(wide), log_density - log_drawn


def _keep(rng: Rng, fit: Array) -> tuple[Ints, Array]:
    """Shapes kept for each bar, mostly those that fit, and the log of how favoured each was."""
    share = np.exp(KEENNESS * (fit - fit.max(axis=1, keepdims=True)))
    share = 0.9 * share / share.sum(axis=1, keepdims=True) + 0.1 / fit.shape[1]
    kept = _choose(rng, share, BURN_PARTICLES)
    return kept, np.log(share[np.arange(len(fit))[:, None], kept] * fit.shape[1])


def _not_negative(rng: Rng, middle: Array, spread: Array) -> tuple[Array, Array]:
    """Normal draws kept above 0 and the log of their density, less log(sqrt(2 pi))."""
    middle = np.maximum(middle, -2 * spread)
    least = share_below(-middle / spread)
    uniform = least + (1 - least) * rng.uniform(1e-9, 1, middle.shape)
    value = np.maximum(middle + spread * quantile(np.minimum(uniform, 1 - 1e-12)), 0.0)
    log_density = -0.5 * ((value - middle) / spread) ** 2 - np.log(spread) - np.log(1 - least)
    return value, np.asarray(log_density)


def _log_normal(value: Array, variance: Array) -> Array:
    """Log density less log(sqrt(2 pi)), as in the proposals."""
    return np.asarray(-0.5 * value**2 / variance - 0.5 * np.log(variance))


def _choose(rng: Rng, weight: Array, draws: int) -> Ints:
    """Particles chosen by weight, evenly spread and then shuffled, shape (C, S)."""
    edges = np.cumsum(weight, axis=1)
    even = (np.arange(draws) + rng.uniform(size=(len(weight), 1))) / draws
    chosen = [np.minimum(np.searchsorted(edges[k], even[k]), weight.shape[1] - 1) for k in range(len(weight))]
    return np.asarray(rng.permuted(np.stack(chosen), axis=1))
