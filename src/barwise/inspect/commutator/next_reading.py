"""Which extra reading would narrow the clean-up diameter most.

For each reading that could be taken, what it would read in each drawn surface is compared with the clean-up
diameter of that surface. If the two go together with correlation rho, the reading leaves sqrt(1 - rho²) of
the spread, for normal distributions (conditional variance, any statistics text, from memory).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from barwise.inspect.commutator.levels import usual_noise
from barwise.inspect.commutator.pattern import Array
from barwise.inspect.commutator.surface import Surface

Ints = NDArray[np.intp]
Instrument = Literal["indicator", "micrometer"]
INDICATOR: Instrument = "indicator"
MICROMETER: Instrument = "micrometer"

LOWEST_BARS = 4
PLACES = 13
WORTH_TAKING = 0.15
"""A reading that narrows the interval by a smaller share than this is not worth the walk."""


@dataclass(frozen=True)
class ExtraReading:
    """A reading worth taking: `bar` from 1, and the share of the interval that it should take away."""

    instrument: Instrument
    bar: int
    track: float
    narrows: float


def best_extra_reading(
    surface: Surface, lowest_m: Array, resolution_m: float, micrometer_resolution_m: float
) -> ExtraReading | None:
    """The reading that tells most, or None when none is worth taking.

    Parameters
    ----------
    surface : Surface
    lowest_m : ndarray, shape (S, C)
        Lowest radius of each bar [m].
    resolution_m, micrometer_resolution_m : float
        Graduations of indicator and micrometer [m].
    """
    cleanup = 2 * lowest_m.min(axis=1)
    counts = np.bincount(lowest_m.argmin(axis=1), minlength=lowest_m.shape[1])
    best: ExtraReading | None = None
    noise = usual_noise(resolution_m)
    coarse = usual_noise(micrometer_resolution_m)
    at = np.linspace(0, len(surface.along) - 1, PLACES).astype(np.intp)
    for bar in np.argsort(counts)[::-1][:LOWEST_BARS]:
        height = _height(surface, int(bar), at)
        radius = height + surface.zero_radius_m[:, None]
        for instrument, shared in (
            (INDICATOR, _shared(height, cleanup, noise)),
            (MICROMETER, _shared(2 * radius, cleanup, coarse)),
        ):
            place = int(shared.argmax())
            narrows = float(1 - np.sqrt(1 - shared[place]))
            if narrows > (best.narrows if best else WORTH_TAKING):
                best = ExtraReading(instrument, int(bar) + 1, float(surface.along[at[place]]), narrows)
    return best


def _height(surface: Surface, bar: int, at: Ints) -> Array:
    """Height of a bar at some of the places along it, shape (S, len(at)) [m]."""
    every = np.arange(surface.draws)
    dug = surface.bars.hollow_m(every, bar, surface.along[at])
    return np.asarray(surface.bars.height_m[:, [bar]] + surface.along_m[:, at] - dug)


def _shared(seen: Array, cleanup: Array, noise: float) -> Array:
    """Square of the correlation at each place, the reading's noise counted, shape (len(at),)."""
    away = cleanup - cleanup.mean()
    together = away @ (seen - seen.mean(axis=0)) / len(away)
    total = (seen.var(axis=0) + noise**2) * cleanup.var()
    return np.asarray(np.minimum(together**2 / np.where(total > 0, total, np.inf), 1.0))
