"""A dial-indicator walk over the commutator, and what can be read off it directly.

Run-out, lobes and eccentricity follow ISO 12181-1 (roundness terms, from memory); the first harmonic of the
radius about the journals' axis is the eccentricity, the higher ones the lobes.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from barwise.errors import InputError

Array = NDArray[np.float64]
Ints = NDArray[np.intp]

LOBES = 6
"""Harmonics looked at: 2 to so many."""


@dataclass(frozen=True)
class Profile:
    """Indicator readings while turning on the journals; plus is outward, one zero throughout.

    Attributes
    ----------
    bars : int
        Bars of the commutator, C.
    bar : ndarray of int, shape (N,)
        Bar of each reading, from 0.
    track : ndarray, shape (N,)
        Its place along the bar as a fraction from the riser end [1].
    value_m : ndarray, shape (N,)
        Reading [m].
    resolution_m : float
        The indicator's graduation [m].
    """

    bars: int
    bar: Ints
    track: Array
    value_m: Array
    resolution_m: float

    @property
    def tracks(self) -> Array:
        """Places along the bar that were walked, in order."""
        return np.unique(self.track)

    def on(self, track: float) -> tuple[Ints, Array]:
        """Bars and values of one track, in bar order, the mean where a bar was read again."""
        at = np.flatnonzero(self.track == track)
        bar, index = np.unique(self.bar[at], return_inverse=True)
        index = index.reshape(-1)
        mean = np.bincount(index, self.value_m[at]) / np.bincount(index)
        return bar, np.asarray(mean)

    @property
    def dead(self) -> bool:
        """Whether the indicator never moved."""
        return bool(len(self.value_m) > 3 and np.ptp(self.value_m) == 0.0)


@dataclass(frozen=True)
class TrackShape:
    """One track: run-out, eccentricity with its direction, lobes, and the worst step to a next bar.

    `lobes_m` has the amplitudes of harmonics 2 to `LOBES`; `step_bars` are from 1.
    """

    track: float
    runout_m: float
    eccentricity_m: float
    high_side_rad: float
    mean_m: float
    lobes_m: tuple[float, ...]
    step_m: float
    step_bars: tuple[int, int]


def unwrapped(profile: Profile, turn_m: float) -> tuple[Profile, int]:
    """Undo whole turns of the indicator between neighbouring readings of a track.

    Returns
    -------
    Profile, int
        The profile and how many readings were moved; a jump of more than half a turn is taken for one.
    """
    value = profile.value_m.copy()
    moved = 0
    for track in profile.tracks:
        at = np.flatnonzero(profile.track == track)
        order = at[np.argsort(profile.bar[at], kind="stable")]
        jumps = np.round(np.diff(value[order]) / turn_m)
        turns = np.concatenate([[0.0], np.cumsum(jumps)])
        value[order] -= turns * turn_m
        moved += int((turns != 0).sum())
    return Profile(profile.bars, profile.bar, profile.track, value, profile.resolution_m), moved


def track_shape(profile: Profile, track: float) -> TrackShape:
    """What one track shows by itself.

    Raises
    ------
    InputError
        If fewer than three bars of the track were read.
    """
    bar, value = profile.on(track)
    if len(bar) < 3:
        raise InputError(f"track {track:g}", f"{len(bar)} readings", "at least 3 bars on a track")
    theta = 2 * np.pi * bar / profile.bars
    orders = [n for n in range(1, LOBES + 1) if 2 * n + 1 <= len(bar)]
    columns = [np.ones(len(bar))] + [f(n * theta) for n in orders for f in (np.cos, np.sin)]
    fit, *_ = np.linalg.lstsq(np.stack(columns, axis=1), value, rcond=None)
    size = np.hypot(fit[1::2], fit[2::2])
    lobes = tuple(float(size[n - 1]) if n in orders else 0.0 for n in range(2, LOBES + 1))
    step, pair = _worst_step(profile.bars, bar, value)
    return TrackShape(
        track=float(track),
        runout_m=float(np.ptp(value)),
        eccentricity_m=float(size[0]),
        high_side_rad=float(np.arctan2(fit[2], fit[1]) % (2 * np.pi)),
        mean_m=float(fit[0]),
        lobes_m=lobes,
        step_m=step,
        step_bars=pair,
    )


def _worst_step(bars: int, bar: Ints, value: Array) -> tuple[float, tuple[int, int]]:
    """Largest difference between bars that lie side by side, and those bars from 1."""
    by_bar = dict(zip(bar.tolist(), value.tolist(), strict=True))
    steps = [
        (abs(by_bar[(k + 1) % bars] - by_bar[k]), (k + 1, (k + 1) % bars + 1))
        for k in by_bar
        if (k + 1) % bars in by_bar
    ]
    return max(steps, default=(0.0, (1, 2)))


def remarks(profile: Profile, band: tuple[float, float]) -> tuple[str, ...]:
    """What the rebuilder should know about this walk before believing the answer."""
    said = []
    if profile.dead:
        said.append(
            f"All {len(profile.value_m)} readings are the same: a dead indicator? Flick its stem, and check "
            "that its point rides on the bars."
        )
    outside = [t for t in profile.tracks if not band[0] <= t <= band[1]]
    if outside:
        tracks = " and ".join(f"{t:g}" for t in outside)
        lie = f"Track {tracks} lies" if len(outside) == 1 else f"Tracks {tracks} lie"
        said.append(f"{lie} outside the brush band: used for the shape, need not clean up.")
    if len(profile.tracks) == 1:
        said.append("One track only: what lies beside it is a guess, so the interval is wide.")
    said += _missing(profile)
    said += _repeats(profile)
    return tuple(said)


def _missing(profile: Profile) -> list[str]:
    said = []
    for track in profile.tracks:
        absent = np.setdiff1d(np.arange(profile.bars), profile.on(track)[0]) + 1
        if len(absent):
            named = ", ".join(str(bar) for bar in absent[:8]) + (", ..." if len(absent) > 8 else "")
            count = "bar" if len(absent) == 1 else f"{len(absent)} bars:"
            said.append(f"Track {track:g}: {count} {named} not read, filled in from the rest.")
    return said


def _repeats(profile: Profile) -> list[str]:
    """Places read more than once whose readings do not agree."""
    place = np.stack([profile.bar.astype(float), profile.track], axis=1)
    _, group = np.unique(place, axis=0, return_inverse=True)
    group = group.reshape(-1)
    low = np.full(group.max() + 1, np.inf)
    high = -low
    np.minimum.at(low, group, profile.value_m)
    np.maximum.at(high, group, profile.value_m)
    apart = np.flatnonzero(high - low > 2.5 * profile.resolution_m)
    said = []
    for index in apart[:3]:
        first = int(np.flatnonzero(group == index)[0])
        said.append(
            f"Bar {profile.bar[first] + 1}, track {profile.track[first]:g}: its readings differ by more than "
            "two graduations; the mean is used, read it again."
        )
    return said


@dataclass(frozen=True)
class Jump:
    """A jump between neighbouring bars (from 1) of a track that looks like whole turns of the indicator."""

    track: float
    bars: tuple[int, int]
    jump_m: float
    turn_m: float


TURNS_M = (0.1 * 0.0254, 1e-3, 0.05 * 0.0254, 0.5e-3)
"""What one turn of common dial indicators measures [m]: common practice, no source."""
NEAR_TURN = 0.12
LEAST_TURN_M = 0.4e-3


def looks_wrapped(profile: Profile) -> Jump | None:
    """A jump of about a whole turn from one bar to the next, or None.

    Burns and lifted bars are rarely as deep as the smallest turn, half a millimetre.
    """
    for track in profile.tracks:
        bar, value = profile.on(track)
        steps = np.diff(value)
        for i in np.flatnonzero(np.abs(steps) > LEAST_TURN_M):
            for turn in TURNS_M:
                whole = round(abs(float(steps[i])) / turn)
                if whole and abs(abs(steps[i]) - whole * turn) < NEAR_TURN * turn:
                    pair = (int(bar[i]) + 1, int(bar[i + 1]) + 1)
                    return Jump(float(track), pair, float(steps[i]), turn)
    return None
