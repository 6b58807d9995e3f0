"""The cut in passes: how deep each goes, how much of the band it cleans, and where old metal is left.

Roughing stops where the surface may be clean already; from there light passes go on, so that no more comes
off than is needed. Depths of one pass: common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np

from barwise.inspect.commutator.pattern import THOU, Array
from barwise.inspect.commutator.surface import Surface

PassKind = Literal["rough", "finish", "if-needed"]

ROUGH_M, FINISH_M = 3 * THOU, 1 * THOU
"""Deepest infeed of one pass, on the radius [m]."""
LEAST_M = 0.5 * THOU
"""A thinner cut rubs instead of cutting, and smears copper over the mica [m]."""
MAP_DRAWS = 120


@dataclass(frozen=True)
class PassLimits:
    """Deepest infeed of a roughing and of a finishing pass, on the radius [m]."""

    rough_m: float = ROUGH_M
    finish_m: float = FINISH_M


@dataclass(frozen=True)
class Pass:
    """One pass of the tool.

    Attributes
    ----------
    kind : str
        ``rough``, ``finish``, or ``if-needed``: only when old metal is still seen.
    diameter_m, infeed_m : float
        Diameter it leaves; how far the tool goes in from the last one, or from first touch [m].
    cleaned_fraction : float
        Expected share of the band that is fresh metal afterwards.
    all_clean : float
        Probability that all of the band is.
    fresh : ndarray, shape (C, Z)
        Probability of fresh metal at each bar and place of the band.
    """

    kind: PassKind
    diameter_m: float
    infeed_m: float
    cleaned_fraction: float
    all_clean: float
    fresh: Array


def plan_passes(
    surface: Surface,
    cleanup_m: Array,
    high_low_m: tuple[float, float, float],
    start_m: float,
    limits: PassLimits | None = None,
) -> tuple[Pass, ...]:
    """Passes from the first touch down to the clean-up diameter, and one more if it should be needed.

    Parameters
    ----------
    surface : Surface
    cleanup_m : ndarray, shape (S,)
        Clean-up diameter of each draw [m].
    high_low_m : (float, float, float)
        Upper end of the clean-up interval, the value, and the lower end [m].
    start_m : float
        Diameter of first touch: twice the highest radius, or what the last pass left [m].
    """
    high, value, low = high_low_m
    limits = limits or PassLimits()
    rough_end = min(max(high, value + 2 * LEAST_M), start_m)
    if start_m - rough_end < 2 * LEAST_M:
        rough_end = start_m  # nothing a tool could take: what the last pass left goes straight to the finish
    targets: list[tuple[PassKind, float]] = [
        ("rough", d) for d in _steps(start_m, rough_end, 2 * limits.rough_m)
    ]
    targets += [("finish", d) for d in _steps(rough_end, value, 2 * limits.finish_m)]
    # a cut thinner than a tool can take is none
    targets.append(("if-needed", min(low, (targets[-1][1] if targets else start_m) - 2 * LEAST_M)))
    sample = _sample(surface)
    passes = []
    before = start_m
    for kind, diameter in targets:
        fresh = np.mean(sample >= diameter / 2, axis=0)
        clean = float(np.mean(cleanup_m >= diameter))
        passes.append(
            Pass(kind, diameter, (before - diameter) / 2, float(np.mean(fresh)), clean, np.asarray(fresh))
        )
        before = diameter
    return tuple(passes)


def _steps(start: float, end: float, most: float) -> list[float]:
    """Equal steps down from start to end, none above `most`."""
    if start - end < 1e-9:
        return []
    count = int(np.ceil((start - end) / most - 1e-9))
    return [start + (end - start) * (i + 1) / count for i in range(count)]


def _sample(surface: Surface) -> Array:
    """Some of the surfaces, shape (MAP_DRAWS, C, Z) [m]."""
    return surface.radius_m(np.linspace(0, surface.draws - 1, MAP_DRAWS).astype(np.intp))
