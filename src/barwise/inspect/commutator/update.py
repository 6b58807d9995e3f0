"""After a pass: what the measured diameter and the bars still untouched say about the rest of the cut.

A pass leaves a cylinder about the journals' axis, so the micrometer now reads twice its radius, no splitting.
A bar that still shows old metal has its lowest place below that radius, and a bar that does not has not.
Given level and shape along the bars the bars are independent, so each draw of the level is weighted by how
probable the bars' states are, and each bar's height is drawn again from those that agree (importance
sampling).
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from barwise.inspect.commutator import pattern
from barwise.inspect.commutator.burns import BarDraws
from barwise.inspect.commutator.levels import rounding_sd
from barwise.inspect.commutator.pattern import Array
from barwise.inspect.commutator.surface import SEED, Surface

Ints = NDArray[np.intp]

HARDLY = 0.005
OVERSEEN = 0.01
"""Chance that a bar's state is seen wrong: a hairline of old metal, a smear. Common practice, no source."""


@dataclass(frozen=True)
class AfterPass:
    """What was found after a pass.

    Attributes
    ----------
    diameter_m, resolution_m : float
        Measured, and the micrometer's graduation [m].
    untouched : collection of int or None
        Bars (from 0) that still show old metal in the band; empty when all is clean; None when not looked at.
    """

    diameter_m: float
    resolution_m: float
    untouched: Collection[int] | None = None


def update(surface: Surface, found: AfterPass) -> tuple[Surface, tuple[int, ...]]:
    """Surfaces that agree with what was found, and the bars that were hardly expected so.

    Returns
    -------
    Surface, tuple of int
        The bars (from 0) are those whose state had a probability below `HARDLY` beforehand: where there are
        any, a bar or the diameter is written down wrong, or the work was not turned on its journals.
    """
    if found.untouched is None:
        return surface, ()
    rng = np.random.default_rng(SEED)
    lowest = surface.lowest_m()
    level = surface.zero_radius_m + surface.along_m.min(axis=1)
    relative = lowest - level[:, None]
    spread = np.hypot(rounding_sd(found.resolution_m), pattern.TOUCH_SD)
    cut = (found.diameter_m + spread * rng.standard_normal(len(level))) / 2
    order = np.argsort(relative, axis=0)
    below = np.stack(
        [np.searchsorted(relative[order[:, k], k], cut - level) for k in range(relative.shape[1])], axis=1
    )
    share = np.clip(below / len(level), 0.5 / len(level), 1 - 0.5 / len(level))
    old = np.zeros(relative.shape[1], dtype=bool)
    old[list(found.untouched)] = True
    agrees = np.where(old, share, 1 - share)
    log_weight = np.log((1 - OVERSEEN) * agrees + OVERSEEN * (1 - agrees)).sum(axis=1)
    weight = np.exp(log_weight - log_weight.max())
    chosen = rng.choice(len(level), len(level), p=weight / weight.sum())
    hardly = np.flatnonzero(agrees.mean(axis=0) < HARDLY)
    bars = _redrawn(rng, surface.bars, order, below[chosen], old)
    agreed = Surface(bars, surface.along, surface.along_m[chosen], surface.zero_radius_m[chosen])
    return agreed, tuple(int(bar) for bar in hardly)


def _redrawn(rng: np.random.Generator, bars: BarDraws, order: Ints, below: Ints, old: Array) -> BarDraws:
    """Each bar's height and hollow drawn from those below (old metal) or above the cut."""
    count = len(order)
    seen_wrong = rng.uniform(size=below.shape) < OVERSEEN
    low = np.asarray(old, dtype=bool)[None, :] ^ seen_wrong
    # where no draw agrees the nearest one does
    first = np.where(low, 0, np.minimum(below, count - 1))
    last = np.where(low, np.maximum(below, 1), count)
    place = first + (rng.uniform(size=below.shape) * (last - first)).astype(np.intp)
    columns = np.arange(order.shape[1])[None, :]
    at = order[place, columns]
    return BarDraws(
        height_m=bars.height_m[at, columns],
        depth_m=bars.depth_m[at, columns],
        centre=bars.centre[at, columns],
        width=bars.width[at, columns],
        flatness=bars.flatness[at, columns],
        burned=bars.burned,
    )
