"""What a meter shows between two places, from the voltages that either solver finds."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from reference.armature import Armature

Array = NDArray[np.float64]
Complex = NDArray[np.complex128]


@dataclass(frozen=True)
class Probed:
    """The readings of one solver.

    Parameters
    ----------
    fed : callable
        Armature, feed bars and current [A] to the bars' voltages [V] and the shaft's, or None if nothing
        joins it to the winding.
    turned : callable
        Armature and load of the meter [ohm] to the phasors from each bar to the next on the exciter [V].
    """

    fed: Callable[[Armature, int, int, float], tuple[Array, float | None]]
    turned: Callable[[Armature, float | None], Complex]

    def bar_voltages(self, armature: Armature, into: int, out: int, amps: float) -> Array:
        """Voltage of each bar, to one bar, while fed, shape (C,) [V]."""
        return self.fed(armature, into, out, amps)[0]

    def bar_drop(self, armature: Armature, into: int, out: int, amps: float) -> Array:
        """Drop from each bar to the next, signed, shape (C,) [V]."""
        volts = self.bar_voltages(armature, into, out, amps)
        return volts - np.roll(volts, -1)

    def shaft_drop(self, armature: Armature, into: int, out: int, amps: float) -> Array:
        """Drop from each bar to the shaft of a grounded armature, signed, shape (C,) [V]."""
        volts, shaft = self.fed(armature, into, out, amps)
        if shaft is None:
            raise ValueError("nothing joins the winding to the shaft")
        return volts - shaft

    def resistance(self, armature: Armature, start: int, end: int) -> float:
        """Resistance between two bars [ohm]."""
        volts = self.bar_voltages(armature, start, end, 1.0)
        return float(volts[start - 1] - volts[end - 1])

    def induced(self, armature: Armature, meter_ohm: float | None = None) -> Array:
        """Alternating voltage between each bar and the next, shape (C,) [V].

        The armature is turned for each reading. A meter that draws current is a branch across the probed
        pair, so each reading is then a circuit of its own.
        """
        return np.abs(self.turned(armature, meter_ohm))
