"""Which extra reading would narrow the clean-up diameter most.

For each reading that could be taken, what it would read in each drawn surface is compared with the clean-up
diameter of that surface. If the two go together with correlation rho, the reading leaves sqrt(1 - rho²) of
the spread, for normal distributions (conditional variance, any statistics text, from memory).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np

from barwise.inspect.commutator.levels import usual_noise
from barwise.inspect.commutator.pattern import Array
from barwise.inspect.commutator.surface import Surface

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
    for bar in np.argsort(counts)[::-1][:LOWEST_BARS]:
        for at in np.linspace(0, len(surface.along) - 1, PLACES).astype(int):
            place = float(surface.along[at])
            height = _height(surface, int(bar), int(at))
            radius = height + surface.zero_radius_m
            for instrument, shared in (
                (INDICATOR, _shared(height, cleanup, noise)),
                (MICROMETER, _shared(2 * radius, cleanup, coarse)),
            ):
                narrows = float(1 - np.sqrt(1 - shared))
                if narrows > (best.narrows if best else WORTH_TAKING):
                    best = ExtraReading(instrument, int(bar) + 1, place, narrows)
    return best


def _height(surface: Surface, bar: int, at: int) -> Array:
    every = np.arange(surface.draws)
    dug = surface.bars.hollow_m(every, bar, surface.along[at : at + 1])[:, 0]
    return np.asarray(surface.bars.height_m[:, bar] + surface.along_m[:, at] - dug)


def _shared(seen: Array, cleanup: Array, noise: float) -> float:
    """Square of the correlation, the reading's noise counted."""
    together = float(np.mean((seen - seen.mean()) * (cleanup - cleanup.mean())))
    total = (float(seen.var()) + noise**2) * float(cleanup.var())
    return min(together**2 / total, 1.0) if total > 0 else 0.0
