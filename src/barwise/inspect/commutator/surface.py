"""The commutator's surface between the readings, and the diameter at which it cleans up.

Bars and tracks are fitted together (`levels`), the shape along the bars between the tracks is drawn
(`groove`), and each bar's own height and hollow (`burns`): some hundreds of surfaces that all agree with
the readings. What they agree on is known, and where they differ is the uncertainty.

The micrometer ties the surface to a diameter. It spans a bar and what lies opposite, D = r(1) + r(opposite),
so on an eccentric surface the radius is not D / 2: with p the profile, the radius about the journals' axis
where the indicator reads zero is R = (D - p(1) - p(opposite)) / 2, and all of the band has cleaned up at 2
(R + lowest p).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from barwise.inspect.commutator import pattern
from barwise.inspect.commutator.burns import BarDraws, draw_bars
from barwise.inspect.commutator.groove import draw_along
from barwise.inspect.commutator.levels import ReadingTable, fit_levels, rounding_sd
from barwise.inspect.commutator.pattern import THOU, Array, Rng
from barwise.inspect.commutator.profile import Profile

Ints = NDArray[np.intp]

DRAWS = 800
ALONG = 77
"""Places along the band that the surface is worked out at."""
SEED = 20200613
"""The draws are the same each time, so the same readings give the same answer."""


@dataclass(frozen=True)
class Micrometer:
    """One diameter measured across a bar (from 0) and what lies opposite, at a place along the bar."""

    bar: int
    track: float
    diameter_m: float
    resolution_m: float


@dataclass(frozen=True)
class Surface:
    """Draws of the surface that the readings allow.

    Attributes
    ----------
    bars : BarDraws
        Each bar's height on the indicator's zero, and its hollow.
    along : ndarray, shape (Z,)
        Places along the band [1].
    along_m : ndarray, shape (S, Z)
        Height along the bars, taper and groove [m].
    zero_radius_m : ndarray, shape (S,)
        Radius about the journals' axis where the indicator reads zero [m].
    """

    bars: BarDraws
    along: Array
    along_m: Array
    zero_radius_m: Array

    @property
    def draws(self) -> int:
        """Number of surfaces, S."""
        return len(self.zero_radius_m)

    def lowest_m(self) -> Array:
        """Lowest radius of each bar in the band, shape (S, C) [m]."""
        lowest = self.bars.height_m + self.along_m.min(axis=1)[:, None]
        for bar in range(lowest.shape[1]):
            at = np.flatnonzero(self.bars.depth_m[:, bar] > 0)
            if len(at):
                dug = self.along_m[at] - self.bars.hollow_m(at, bar, self.along)
                lowest[at, bar] = self.bars.height_m[at, bar] + dug.min(axis=1)
        return np.asarray(self.zero_radius_m[:, None] + lowest)

    def radius_m(self, draws: Ints) -> Array:
        """Some of the surfaces: radius of every bar along the band, shape (len(draws), C, Z) [m]."""
        level = self.zero_radius_m[draws, None] + self.bars.height_m[draws]
        radius = level[:, :, None] + self.along_m[draws][:, None, :]
        for bar in range(radius.shape[1]):
            dug = np.flatnonzero(self.bars.depth_m[draws, bar] > 0)
            if len(dug):
                radius[dug, bar] -= self.bars.hollow_m(draws[dug], bar, self.along)
        return np.asarray(radius)

    def mean_radius_m(self) -> Array:
        """Expected radius of every bar along the band, shape (C, Z) [m]."""
        mean = (
            self.zero_radius_m.mean() + self.bars.height_m.mean(axis=0)[:, None] + self.along_m.mean(axis=0)
        )
        for bar in range(len(mean)):
            at = np.flatnonzero(self.bars.depth_m[:, bar] > 0)
            if len(at):
                mean[bar] -= self.bars.hollow_m(at, bar, self.along).sum(axis=0) / self.draws
        return np.asarray(mean)


def draw_surface(
    profile: Profile,
    micrometers: tuple[Micrometer, ...],
    band: tuple[float, float],
    draws: int = DRAWS,
) -> Surface:
    """Surfaces that agree with the readings.

    Parameters
    ----------
    profile : Profile
    micrometers : tuple of Micrometer
        At least one.
    band : (float, float)
        Part of the length that must clean up, fractions from the riser end.
    draws : int

    Returns
    -------
    Surface
    """
    rng = np.random.default_rng(SEED)
    table, zero = reading_table(profile)
    levels = fit_levels(table)
    factor = np.linalg.cholesky(levels.track_covariance_m2 + (1e-6 * THOU) ** 2 * np.eye(len(table.tracks)))
    track = levels.track_m + rng.standard_normal((draws, len(table.tracks))) @ factor.T
    along = np.linspace(band[0], band[1], ALONG)
    places = np.array([m.track for m in micrometers])
    height = draw_along(rng, table.tracks, track, np.concatenate([along, places])) + zero
    bars = draw_bars(rng, table, levels, draws)
    radius = _zero_radius(rng, bars, height[:, ALONG:], micrometers)
    return Surface(bars, along, height[:, :ALONG], radius)


def reading_table(profile: Profile) -> tuple[ReadingTable, float]:
    """Readings by bar and track about their median, and that median [m]; repeats are averaged."""
    tracks = profile.tracks
    column = np.searchsorted(tracks, profile.track)
    zero = float(np.median(profile.value_m))
    total = np.zeros((profile.bars, len(tracks)))
    count = np.zeros_like(total)
    np.add.at(total, (profile.bar, column), profile.value_m - zero)
    np.add.at(count, (profile.bar, column), 1.0)
    with np.errstate(invalid="ignore"):
        return ReadingTable(total / count, tracks, profile.resolution_m), zero


def _zero_radius(rng: Rng, bars: BarDraws, along: Array, micrometers: tuple[Micrometer, ...]) -> Array:
    """Radius at the indicator's zero from every diameter, weighted by how well each is known, shape (S,)."""
    total, weights = np.zeros(len(along)), 0.0
    for i, m in enumerate(micrometers):
        spread = float(np.hypot(rounding_sd(m.resolution_m), pattern.TOUCH_SD))
        across = m.diameter_m + spread * rng.standard_normal(len(along))
        both = _at(bars, m.bar, m.track) + _opposite(rng, bars, m)
        total += (across - 2 * along[:, i] - both) / 2 / spread**2
        weights += 1 / spread**2
    return np.asarray(total / weights)


def _at(bars: BarDraws, bar: int, place: float) -> Array:
    """Height of a bar at a place, its hollow taken off, shape (S,)."""
    every = np.arange(len(bars.height_m))
    return np.asarray(bars.height_m[:, bar] - bars.hollow_m(every, bar, np.array([place]))[:, 0])


def _opposite(rng: Rng, bars: BarDraws, m: Micrometer) -> Array:
    """Height opposite a bar; with an odd count the anvil lies over two bars, on the mean up to the higher."""
    count = bars.height_m.shape[1]
    first = _at(bars, (m.bar + count // 2) % count, m.track)
    if count % 2 == 0:
        return first
    second = _at(bars, (m.bar + count // 2 + 1) % count, m.track)
    lean = rng.uniform(0, 1, len(first))
    return np.asarray((first + second) / 2 + lean * np.abs(first - second) / 2)
