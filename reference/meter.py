"""What a meter at the bench makes of true voltages: noise, warming, resolution and bad touches.

All figures are assumptions about a shop's meter, stated here and nowhere else.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Meter:
    """A meter and the hand that holds its probes.

    Parameters
    ----------
    gain_sd : float
        Standard deviation of each reading's own gain.
    drift : float
        Greatest change of gain over one turn round the commutator; each test draws its own from
        -drift to +drift, even.
    direct_step_v, alternating_step_v : float
        Resolution [V].
    bad_share : float
        Chance that a reading is a bad touch.
    bad_low, bad_high : float
        What a bad touch shows, over the true value: even between these.
    """

    gain_sd: float = 0.004
    drift: float = 0.012
    direct_step_v: float = 1e-5
    alternating_step_v: float = 1e-4
    bad_share: float = 0.02
    bad_low: float = 0.0
    bad_high: float = 0.9

    def read(self, volts: Array, rng: np.random.Generator, step_v: float) -> tuple[Array, NDArray[np.bool_]]:
        """Readings in order round the commutator, shape (C,) [V], and which are bad touches."""
        count = len(volts)
        warming = rng.uniform(-self.drift, self.drift) * np.arange(count) / count
        shown = volts * (1.0 + warming) * (1.0 + self.gain_sd * rng.standard_normal(count))
        bad = rng.random(count) < self.bad_share
        touch = rng.uniform(self.bad_low, self.bad_high, count)
        shown = np.where(bad, shown * touch, shown)
        return np.round(shown / step_v) * step_v, bad
