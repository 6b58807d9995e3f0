"""The commutator's surface between the readings, and the diameter at which it cleans up.

A reading is y = b(bar) + a(track) - burn(bar, track) + noise. The bars' part b is a Gaussian process round
the commutator: eccentricity and lobes, which neighbours share, and each bar's own step (C. E. Rasmussen and
C. K. I. Williams, Gaussian Processes for Machine Learning, 2006, chapter 2, from memory). Along the bar there
is taper and the groove that the brushes wore; a burned bar has a hollow of its own. Where a groove or hollow
is deepest lies between the tracks walked, so its place and width are drawn from what wears commutators
(common practice, no source), held to the readings, and carried through to the answer.

The micrometer ties the surface to a diameter. It spans a bar and what lies opposite, D = r(1) + r(opposite),
so on an eccentric surface the radius is not D / 2: with p the profile, the axis radius at p = 0 is
R = (D - p(1) - p(opposite)) / 2, and all of the band has cleaned up at 2 (R + lowest p).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from barwise.inspect.commutator.profile import Profile

Array = NDArray[np.float64]
Ints = NDArray[np.intp]

THOU = 25.4e-6
DRAWS = 600
ALONG = 91
"""Places along the band that the surface is worked out at."""
SEED = 20200613
"""The draws are the same each time, so the same readings give the same answer."""

ECCENTRICITY_SD = 1.5 * THOU
LOBE_SD = 0.6 * THOU
"""Of the second harmonic; the n-th has this over n - 1 [m]."""
TRACK_SD = 5.0 * THOU
TAPER_SD = 0.8 * THOU
"""End to end [m]."""
GROOVE_SD = 2.5 * THOU
SHAPE_SD = 0.08 * THOU
"""How far a real groove departs from the shape assumed [m]."""
GROOVE_CENTRE, GROOVE_CENTRE_SD = 0.5, 0.06
GROOVE_WIDTH, GROOVE_WIDTH_SPREAD = 0.18, 0.25
"""Centre [fraction of length] and width [same, log spread] of the brush track."""
BURN_CENTRE_SD, BURN_WIDTH, BURN_WIDTH_SPREAD = 0.08, 0.15, 0.3
BURN_SD = 3.0 * THOU
BURNED = 4.0
"""A reading so many standard deviations below its bar and track is a burn."""
TOUCH_SD = 0.05 * THOU
"""Repeatability of an indicator and of a micrometer by hand [m]: common practice, no source."""


@dataclass(frozen=True)
class Micrometer:
    """One diameter measured across a bar and what lies opposite, at a place along the bar."""

    bar: int
    track: float
    diameter_m: float
    resolution_m: float


@dataclass(frozen=True)
class Surface:
    """Draws of the surface that the readings allow.

    Attributes
    ----------
    bar_m : ndarray, shape (S, C)
        Each bar's height on the indicator's zero [m].
    along : ndarray, shape (Z,)
        Places along the band [1].
    along_m : ndarray, shape (S, Z)
        Height along the bars, taper and groove [m].
    burn_m : dict of int to ndarray, shape (S, Z)
        Hollow of each burned bar, not negative [m].
    zero_radius_m : ndarray, shape (S,)
        Radius about the journals' axis where the indicator reads zero [m].
    """

    bar_m: Array
    along: Array
    along_m: Array
    burn_m: dict[int, Array]
    zero_radius_m: Array

    @property
    def lowest_m(self) -> Array:
        """Lowest radius in the band about the journals' axis, shape (S,) [m]."""
        bars = self.bar_m.copy()
        lowest = bars.min(axis=1) + self.along_m.min(axis=1)
        for bar, burn in self.burn_m.items():
            lowest = np.minimum(lowest, bars[:, bar] + (self.along_m - burn).min(axis=1))
        return np.asarray(self.zero_radius_m + lowest)

    @property
    def cleanup_m(self) -> Array:
        """Diameter at which all of the band has cleaned up, shape (S,) [m]."""
        return np.asarray(2 * self.lowest_m)

    def mean_radius_m(self) -> Array:
        """Expected radius of every bar along the band, shape (C, Z) [m]."""
        mean = self.zero_radius_m.mean() + self.bar_m.mean(axis=0)[:, None] + self.along_m.mean(axis=0)
        for bar, burn in self.burn_m.items():
            mean[bar] -= burn.mean(axis=0)
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
    fit = _fit_bars_and_tracks(profile)
    factor = np.linalg.cholesky(fit.covariance + 1e-12 * THOU**2 * np.eye(len(fit.mean)))
    sample = fit.mean + rng.standard_normal((draws, len(fit.mean))) @ factor.T
    bar, track = sample[:, : profile.bars], sample[:, profile.bars :]
    along = np.linspace(band[0], band[1], ALONG)
    grid = np.concatenate([along, [m.track for m in micrometers]])
    height = _draw_along(rng, profile.tracks, track, grid)
    burn = {k: _draw_burn(rng, profile, fit, k, along, draws) for k in fit.burned}
    at_micrometer = height[:, ALONG:]
    zero = _zero_radius(rng, bar, at_micrometer, micrometers)
    return Surface(bar, along, height[:, :ALONG], burn, zero)


@dataclass(frozen=True)
class _Fit:
    """Bars (C) then tracks (T): mean and covariance; what is left over, and which bars are burned."""

    mean: Array
    covariance: Array
    left: Array
    noise: float
    burned: tuple[int, ...]


def _fit_bars_and_tracks(profile: Profile) -> _Fit:
    """Robust two-way fit with the bars' covariance round the commutator."""
    tracks = profile.tracks
    row = np.searchsorted(tracks, profile.track)
    count = profile.bars + len(tracks)
    design = np.zeros((len(profile.value_m), count))
    design[np.arange(len(row)), profile.bar] = 1.0
    design[np.arange(len(row)), profile.bars + row] = 1.0
    noise = float(np.hypot(profile.resolution_m / np.sqrt(12), TOUCH_SD))
    own = 0.2 * THOU
    weight = np.ones(len(row))
    for _ in range(6):
        precision = np.linalg.inv(_prior_covariance(profile.bars, len(tracks), own))
        information = precision + design.T @ (design * (weight / noise**2)[:, None])
        covariance = np.linalg.inv(information)
        mean = covariance @ (design.T @ (profile.value_m * weight / noise**2))
        left = profile.value_m - design @ mean
        noise = _noise(profile, left, weight)
        own = _own_step(profile.bars, mean[: profile.bars])
        weight = np.where(np.abs(left) > BURNED * noise, 1e-6, 1.0)
    if len(tracks) == 1:
        low = _low_bars(profile, mean)
        return _Fit(mean, covariance, left, noise, low)
    burned = np.unique(profile.bar[left < -BURNED * noise])
    return _Fit(mean, covariance, left, noise, tuple(int(k) for k in burned))


def _prior_covariance(bars: int, tracks: int, own: float) -> Array:
    apart = 2 * np.pi * np.subtract.outer(np.arange(bars), np.arange(bars)) / bars
    cover = ECCENTRICITY_SD**2 * np.cos(apart) + own**2 * np.eye(bars)
    for order in (2, 3, 4, 5):
        cover += (LOBE_SD / (order - 1)) ** 2 * np.cos(order * apart)
    out = np.zeros((bars + tracks, bars + tracks))
    out[:bars, :bars] = cover
    out[bars:, bars:] = TRACK_SD**2 * np.eye(tracks)
    return out


def _noise(profile: Profile, left: Array, weight: Array) -> float:
    """Reading noise, from what bars and tracks do not explain, held to the usual by a prior."""
    usual = float(np.hypot(profile.resolution_m / np.sqrt(12), TOUCH_SD))
    free = len(left) - profile.bars - len(profile.tracks)
    if free < 5:
        return usual
    typical = 1.4826 * float(np.median(np.abs(left[weight > 0.5]))) * np.sqrt(len(left) / free)
    return float(np.sqrt((10 * usual**2 + free * typical**2) / (10 + free)))


def _own_step(bars: int, height: Array) -> float:
    """Spread of the bars' own steps: what neighbours on both sides do not share."""
    bend = height - (np.roll(height, 1) + np.roll(height, -1)) / 2
    typical = 1.4826 * float(np.median(np.abs(bend))) / np.sqrt(1.5)
    return float(np.clip(typical, 0.03 * THOU, 1.0 * THOU))


def _low_bars(profile: Profile, mean: Array) -> tuple[int, ...]:
    """With one track a burn is a bar far below its neighbours; it may go deeper off the track."""
    height = mean[: profile.bars]
    bend = height - (np.roll(height, 1) + np.roll(height, -1)) / 2
    spread = 1.4826 * float(np.median(np.abs(bend)))
    return tuple(int(k) for k in np.flatnonzero(bend < -BURNED * max(spread, 0.05 * THOU)))


def _draw_along(rng: np.random.Generator, tracks: Array, height: Array, grid: Array) -> Array:
    """Height along the bars for each draw of the tracks' heights, shape (S, len(grid)).

    mu + taper (z - 1/2) - depth g(z; centre, width), the depth not negative; given a drawn centre and width
    the rest is Bayesian least squares.
    """
    draws = len(height)
    centre, width = _draw_grooves(rng, tracks, height)
    at_tracks = _columns(tracks, centre, width)
    prior = np.diag([TRACK_SD**-2, TAPER_SD**-2, GROOVE_SD**-2])
    information = prior + np.swapaxes(at_tracks, 1, 2) @ at_tracks / SHAPE_SD**2
    covariance = np.linalg.inv(information)
    slope = np.einsum("stp,st->sp", at_tracks, height) / SHAPE_SD**2
    mean = np.einsum("spq,sq->sp", covariance, slope)
    noise = np.einsum("spq,sq->sp", np.linalg.cholesky(covariance), rng.standard_normal((draws, 3)))
    drawn = mean + noise
    # a groove is never a ridge
    drawn[:, 2] = np.abs(drawn[:, 2]) * (drawn[:, 2] > -2 * np.sqrt(covariance[:, 2, 2]))
    fitted = np.einsum("szp,sp->sz", _columns(grid, centre, width), drawn)
    off = height - np.einsum("stp,sp->st", at_tracks, drawn)
    nearest = np.abs(grid[:, None] - tracks[None, :]).argmin(axis=1)
    near = np.exp(-0.5 * ((grid - tracks[nearest]) / 0.1) ** 2)
    return np.asarray(fitted + off[:, nearest] * near)


def _draw_grooves(rng: np.random.Generator, tracks: Array, height: Array) -> tuple[Array, Array]:
    """Centre and width of the groove for each draw, chosen among prior draws by how well they fit."""
    draws = len(height)
    tries = 400
    centre = rng.normal(GROOVE_CENTRE, GROOVE_CENTRE_SD, tries)
    width = GROOVE_WIDTH * np.exp(GROOVE_WIDTH_SPREAD * rng.standard_normal(tries))
    columns = _columns(tracks, centre, width)
    scale = np.array([TRACK_SD, TAPER_SD, GROOVE_SD])
    cover = (columns * scale**2) @ np.swapaxes(columns, 1, 2) + SHAPE_SD**2 * np.eye(len(tracks))
    middle = height.mean(axis=0)
    solved = np.linalg.solve(cover, np.broadcast_to(middle, (tries, len(tracks)))[:, :, None])[:, :, 0]
    log_weight = -0.5 * (solved @ middle) - 0.5 * np.linalg.slogdet(cover)[1]
    weight = np.exp(log_weight - log_weight.max())
    chosen = rng.choice(tries, draws, p=weight / weight.sum())
    return centre[chosen], width[chosen]


def _columns(place: Array, centre: Array, width: Array) -> Array:
    """Level, taper and groove at each place for each draw, shape (S, Z, 3)."""
    out = np.ones((len(centre), len(place), 3))
    out[:, :, 1] = place - 0.5
    out[:, :, 2] = -_hollow(place[None, :], centre[:, None], width[:, None])
    return out


def _hollow(place: Array, centre: Array, width: Array) -> Array:
    return np.asarray(np.exp(-0.5 * ((place - centre) / width) ** 2))


def _draw_burn(
    rng: np.random.Generator, profile: Profile, fit: _Fit, bar: int, along: Array, draws: int
) -> Array:
    """Hollows of one burned bar that agree with its readings, shape (S, Z)."""
    at = profile.bar == bar
    place, off = profile.track[at], np.maximum(-fit.left[at], 0.0)
    deepest = float(place[off.argmax()])
    tries = 500
    centre = rng.normal((deepest + GROOVE_CENTRE) / 2, BURN_CENTRE_SD, tries)
    width = BURN_WIDTH * np.exp(BURN_WIDTH_SPREAD * rng.standard_normal(tries))
    hollow = _hollow(place[None, :], centre[:, None], width[:, None])
    noise = fit.noise
    depth = (hollow @ off) / ((hollow**2).sum(axis=1) + (noise / BURN_SD) ** 2)
    misfit = ((off - depth[:, None] * hollow) ** 2).sum(axis=1) / noise**2 + (depth / BURN_SD) ** 2
    weight = np.exp(-0.5 * np.minimum(misfit - misfit.min(), 1400))
    chosen = rng.choice(tries, draws, p=weight / weight.sum())
    spread = noise / np.sqrt((hollow[chosen] ** 2).sum(axis=1) + (noise / BURN_SD) ** 2)
    drawn = np.maximum(depth[chosen] + spread * rng.standard_normal(draws), 0.0)
    shape = _hollow(along[None, :], centre[chosen, None], width[chosen, None])
    return np.asarray(drawn[:, None] * shape)


def _zero_radius(
    rng: np.random.Generator, bar: Array, at_micrometer: Array, micrometers: tuple[Micrometer, ...]
) -> Array:
    """Radius at the indicator's zero from every diameter, weighted by how well each is known, shape (S,)."""
    total, weights = np.zeros(len(bar)), 0.0
    for i, m in enumerate(micrometers):
        own = at_micrometer[:, i]
        spread = float(np.hypot(m.resolution_m / np.sqrt(12), TOUCH_SD))
        across = m.diameter_m + spread * rng.standard_normal(len(bar))
        radius = (across - 2 * own - bar[:, m.bar] - _opposite(rng, bar, m.bar)) / 2
        total += radius / spread**2
        weights += 1 / spread**2
    return np.asarray(total / weights)


def _opposite(rng: np.random.Generator, bar: Array, place: int) -> Array:
    """Height opposite a bar; with an odd count the anvil lies over two bars, on the mean up to the higher."""
    bars = bar.shape[1]
    first = bar[:, (place + bars // 2) % bars]
    if bars % 2 == 0:
        return first
    second = bar[:, (place + bars // 2 + 1) % bars]
    lean = rng.uniform(0, 1, len(bar))
    return np.asarray((first + second) / 2 + lean * np.abs(first - second) / 2)
