"""How commutators wear: what is held likely before any reading is looked at.

All numbers are common practice, no source, and wide on purpose: three tracks of readings say more than they
do wherever a reading was taken. They decide only what lies between the tracks. docs/commutator-model.md
shows how the answer fares on commutators whose shapes differ from these.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Rng = np.random.Generator

THOU = 25.4e-6
"""A thousandth of an inch [m]."""

HARMONICS = 5
ECCENTRICITY_SD = 1.5 * THOU
LOBE_SD = 0.6 * THOU
"""Spread of each of the two waves of the second harmonic; the n-th has this over n - 1 [m]."""
STEP_SD = 0.2 * THOU
"""A bar's own height before the readings say how rough this commutator is [m]."""
MOVED_SHARE, MOVED_SD = 0.02, 1.0 * THOU
"""Share of bars that have moved in the mould, and by how much [m]."""

TRACK_SD = 10.0 * THOU
TAPER_SD = 0.8 * THOU
"""Height from end to end [m]."""
GROOVE_SD = 2.5 * THOU
GROOVE_CENTRE, GROOVE_CENTRE_SD = 0.5, 0.07
GROOVE_WIDTH, GROOVE_WIDTH_SPREAD = 0.18, 0.25
"""Centre [fraction of the length] and width [same; log spread] of the brush track."""
GROOVE_FLATNESS = (1.5, 4.5)
"""Exponent of the groove: 2 is round-bottomed, 5 nearly a trough."""
SHAPE_SD, SHAPE_LENGTH = 0.06 * THOU, 0.15
"""How far a real groove departs from that shape [m], and over what part of the length."""


@dataclass(frozen=True)
class BurnKind:
    """How all burns of one commutator may be.

    Attributes
    ----------
    share : float
        Share of commutators with such burns.
    depth_sd : float
        Spread of their depth, half of a normal distribution [m].
    centre_sd, width_spread : float
        Spread of their centre [fraction of the length] and of the logarithm of their width.
    """

    share: float
    depth_sd: float
    centre_sd: float
    width_spread: float


BURNED_SHARE = 0.05
"""Share of bars with a burn."""
BURN_WIDTH = 0.15
BURN_FLATNESS = (1.6, 3.2)
BURNS = (
    BurnKind(0.85, 1.9 * THOU, 0.075, 0.2),
    BurnKind(0.10, 4.0 * THOU, 0.075, 0.2),
    BurnKind(0.05, 2.5 * THOU, 0.14, 0.45),
)
"""Under the brush, where the groove is; the same but deep; and anywhere, narrow or wide."""

TOUCH_SD = 0.05 * THOU
"""Repeatability of an indicator and of a micrometer by hand [m]."""
SLIP_SHARE, SLIP_SPAN = 0.001, 40 * THOU
"""Share of readings that were written down wrong, and over what span they fall [m]."""


def hollow(place: Array, centre: Array, width: Array, flatness: Array) -> Array:
    """Depth of a groove or burn as a share of its deepest: exp(-|(z - centre) / width|^flatness / 2)."""
    away = np.maximum(np.abs(place - centre) / width, 1e-9)
    return np.asarray(np.exp(-0.5 * np.exp(flatness * np.log(away))))
