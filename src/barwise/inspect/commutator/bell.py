"""The normal distribution for whole arrays, by a table: quick to load and good to a millionth.

A special-function library takes longer to load than the whole plan takes to compute, and what is drawn at
random needs no more digits than this.
"""

from __future__ import annotations

import math

import numpy as np

from barwise.inspect.commutator.pattern import Array

FARTHEST = 9.0
"""Beyond so many standard deviations the share is taken as none."""

_STEPS = 6000
_AT = np.linspace(-FARTHEST, FARTHEST, _STEPS + 1)
_BELOW = np.array([math.erfc(-x / math.sqrt(2)) / 2 for x in _AT])
_RISE = np.append(np.diff(_BELOW), 0.0)


def share_below(x: Array) -> Array:
    """Share of a standard normal distribution below each `x`."""
    place = np.clip((x + FARTHEST) * (_STEPS / (2 * FARTHEST)), 0, _STEPS)
    step = place.astype(np.intp)
    return np.asarray(_BELOW[step] + (place - step) * _RISE[step])


def log_share_below(x: Array) -> Array:
    """Its logarithm, in the far tail by -x²/2 - log(-x sqrt(2 pi))."""
    near = np.log(share_below(np.maximum(x, -5.0)))
    tail = -np.minimum(x, -5.0)
    far = -0.5 * tail**2 - np.log(tail * math.sqrt(2 * math.pi))
    return np.where(x < -5.0, far, near)


def quantile(share: Array) -> Array:
    """The inverse: where the share below is `share`."""
    return np.asarray(np.interp(share, _BELOW, _AT))
