"""How deep the pinion stands in the ring gear: its backlash, and what a shim under the flange does to it.

Too close and it whines, locks when hot and bends the shaft; too far and only the tips carry. A starter on a
flange has the distance from its casting; one on a saddle or with a shim under its flange can be moved.

Sources
-------
Involute gears run apart keep their ratio and gain backlash: j = 2 a' (inv w - inv v), with v the pressure
angle, w the one they run at, cos w = a cos v / a' (textbooks of gearing, from memory). For a small move it is
2 tan v for each millimetre, 0.73 at 20 degrees. That about 1/2 mm of backlash is usual is common practice, no
source.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from barwise.errors import MeasurementError
from barwise.machine.gear_teeth import involute
from barwise.measure.uncertainty import Estimate

USUAL_PRESSURE_ANGLE_DEG = 20.0


@dataclass(frozen=True)
class Mesh:
    """Pinion and ring gear.

    Parameters
    ----------
    pinion, ring : int
        Teeth.
    module_m : float
        Pitch diameter over teeth [m]; diametral pitch P is 25.4 mm / P.
    pressure_angle_deg : float
        Stub teeth of starters often have 20, old ones 14.5.
    """

    pinion: int
    ring: int
    module_m: float
    pressure_angle_deg: float = USUAL_PRESSURE_ANGLE_DEG

    def __post_init__(self) -> None:
        if not (5 <= self.pinion < self.ring <= 400):
            raise MeasurementError(
                f"mesh: found {self.pinion} and {self.ring} teeth, expected pinion and ring gear, 5 to 400"
            )
        if not (math.isfinite(self.module_m) and 0.2e-3 <= self.module_m <= 20e-3):
            raise MeasurementError(f"module: found {self.module_m * 1e3:g} mm, expected 0.2 to 20 mm")
        if not 10 <= self.pressure_angle_deg <= 35:
            raise MeasurementError(
                f"pressure angle: found {self.pressure_angle_deg:g} deg, expected 10 to 35 deg"
            )

    @property
    def tight_distance_m(self) -> float:
        """Distance of the axes without backlash, teeth not shifted [m]."""
        return self.module_m * (self.pinion + self.ring) / 2

    def backlash_m(self, distance_m: float) -> float:
        """Backlash along the running pitch circle [m] at a distance of the axes [m].

        Raises
        ------
        MeasurementError
            If the teeth would jam or no longer meet.

        Examples
        --------
        >>> mesh = Mesh(9, 115, 2.5e-3)
        >>> round(mesh.backlash_m(mesh.tight_distance_m + 0.5e-3) * 1e3, 3)
        0.37
        """
        apart = distance_m - self.tight_distance_m
        if not 0 <= apart < 1.5 * self.module_m:
            raise MeasurementError(
                f"mesh: found axes {distance_m * 1e3:.4g} mm apart, expected "
                f"{self.tight_distance_m * 1e3:.4g} mm to 1.5 modules more: they jam or do not meet"
            )
        own = math.radians(self.pressure_angle_deg)
        running = math.acos(min(1.0, self.tight_distance_m * math.cos(own) / distance_m))
        return 2 * distance_m * (involute(running) - involute(own))

    @property
    def backlash_per_metre(self) -> float:
        """Backlash gained for each metre the axes move apart, from tight: 2 tan of the pressure angle."""
        return 2 * math.tan(math.radians(self.pressure_angle_deg))

    def shim_for(self, now: Estimate, wanted_m: float) -> Estimate:
        """Shim under the flange [m] that turns the backlash measured into the one wanted; negative: take out.

        Examples
        --------
        >>> round(Mesh(9, 115, 2.5e-3).shim_for(Estimate(0.2e-3, 0.02e-3), 0.5e-3).value * 1e3, 2)
        0.41
        """
        each = self.backlash_per_metre
        return Estimate(
            (wanted_m - now.value) / each, now.standard_uncertainty / each, now.degrees_of_freedom
        )
