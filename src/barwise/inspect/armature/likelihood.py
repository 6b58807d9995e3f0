"""How probable a reading is when a hypothesis predicts its mean: a meter, or a bad touch.

A good reading has a gain part, a last digit, and the model's own error where a fault disturbs it. A bad
touch mostly reads too low, by any share; now and then it is anything (common practice, no source).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from barwise.inspect.armature.observations import Observations

Array = NDArray[np.float64]

GAIN_NOISE = 0.004
"""Standard uncertainty of a reading's gain [1]; the readings themselves may show it to be larger."""
OF_THE_SOURCE = 1.0
"""Gain uncertainty of a reading that shows the source's voltage: it says only that it is far too high [1]."""
SLIP_SHARE = 0.03
"""How often such a reading is a slip of the decimal point, over how often a touch is bad [1]."""
BAD_TOUCH = 0.025
BAD_LOW_SHARE = 0.85
EXCITER_MODEL = 0.02
DIRECT_MODEL = 0.002
"""Model error over a fault's own disturbance of a reading [1]."""


@dataclass(frozen=True)
class Meter:
    """The readings, and how much each may be off.

    Attributes
    ----------
    value, floor : ndarray, shape (K,)
    gain : ndarray, shape (K,)
        Standard uncertainty of the gain [1].
    model : ndarray, shape (K,)
        Model error over disturbance [1].
    scale : ndarray, shape (K,)
        Size of the readings of the same test, for a bad touch that may be anything.
    """

    value: Array
    floor: Array
    gain: Array
    model: Array
    scale: Array

    @classmethod
    def of(
        cls, seen: Observations, direct_gain: float = GAIN_NOISE, induced_gain: float = GAIN_NOISE
    ) -> Meter:
        """Meter for these readings, with the gain noise of each kind of test [1]."""
        groups = seen.groups
        if not groups:
            empty = np.zeros(0)
            return cls(empty, empty, empty, empty, empty)
        counts = [len(g.row) for g in groups]
        on_exciter = np.repeat([g.test == "induced" for g in groups], counts)
        gain = np.where(on_exciter, induced_gain, direct_gain)
        return cls(
            value=np.concatenate([g.value for g in groups]),
            floor=np.concatenate([g.floor for g in groups]),
            gain=np.where(np.concatenate([g.beyond for g in groups]), OF_THE_SOURCE, gain),
            model=np.where(on_exciter, EXCITER_MODEL, DIRECT_MODEL),
            scale=np.repeat([float(np.abs(g.value).max(initial=1e-12)) for g in groups], counts),
        )

    def sigma(self, mean: Array, disturbance: Array, slack: float = 0.0) -> Array:
        """Standard uncertainty of each reading about its mean, shape (H, K)."""
        variance = (self.gain * mean) ** 2 + self.floor**2
        return np.asarray(np.sqrt(variance + ((self.model + slack) * disturbance) ** 2))

    def log_density(self, mean: Array, sigma: Array) -> tuple[Array, Array]:
        """Log density of each reading, and the probability that it was a good touch; (H, K) each."""
        z = (self.value - mean) / sigma
        good = (1 - BAD_TOUCH) * np.exp(-0.5 * np.minimum(z * z, 1400.0)) / (2.5066282746310002 * sigma)
        total = good + BAD_TOUCH * self._bad(mean)
        return np.log(total), good / total

    def _bad(self, mean: Array) -> Array:
        """Density of a bad touch: even between nothing and the mean, or anything at all."""
        reach = np.maximum(np.abs(mean), 0.05 * self.scale)
        share = self.value * np.where(mean < 0, -1.0, 1.0) / reach
        low = ((share >= -0.02) & (share <= 1.0)) / reach
        anything = np.exp(-0.5 * (self.value / (1.5 * self.scale)) ** 2) / (3.76 * self.scale)
        slip = np.where(self.gain < OF_THE_SOURCE, 1.0, SLIP_SHARE)
        return np.asarray(BAD_LOW_SHARE * low + (1 - BAD_LOW_SHARE) * anything) * slip
