"""What the reduction gear does: its ratio, whether its planets can be put in, its backlash.

Sources
-------
Ratio of a simple and of an epicyclic train, assembly condition, and that neighbouring planets must not meet:
as every textbook of machine design has them (from memory). Teeth of 1 module addendum without profile shift
are taken for the neighbours; shifted teeth are common in small gears, so the sum R = S + 2 P is asked about
and not insisted on.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from barwise.errors import MeasurementError
from barwise.measure.uncertainty import Estimate

MOST_TEETH = 400
MOST_PLANETS = 8
_FEWEST_TEETH = 5


@dataclass(frozen=True)
class Offset:
    """Armature pinion, idler or none, and driven gear: teeth of each."""

    driver: int
    driven: int
    idler: int | None = None

    def __post_init__(self) -> None:
        for name, teeth in (("driver", self.driver), ("driven", self.driven), ("idler", self.idler)):
            if teeth is not None:
                _check_teeth(name, teeth)

    @property
    def ratio(self) -> float:
        """Turns of the armature for one of the output shaft; the idler does not change it.

        Examples
        --------
        >>> round(Offset(11, 38, idler=18).ratio, 4)
        3.4545
        """
        return self.driven / self.driver

    @property
    def same_way(self) -> bool:
        """Whether the output turns the armature's way: with one idler, or an internal gear not meant here."""
        return self.idler is not None


@dataclass(frozen=True)
class Planetary:
    """Sun on the armature, planets on the output carrier, ring held: teeth, and how many planets."""

    sun: int
    ring: int
    planets: int
    planet_teeth: int | None = None

    def __post_init__(self) -> None:
        for name, teeth in (("sun", self.sun), ("ring", self.ring), ("planet", self.planet_teeth)):
            if teeth is not None:
                _check_teeth(name, teeth)
        if not 1 <= self.planets <= MOST_PLANETS:
            raise MeasurementError(f"planets: found {self.planets}, expected 1 to {MOST_PLANETS}")
        if self.ring <= self.sun:
            raise MeasurementError(
                f"ring: found {self.ring} teeth round a sun of {self.sun}, expected more: are they swapped?"
            )

    @property
    def ratio(self) -> float:
        """Turns of the armature for one of the carrier: 1 + R / S.

        Examples
        --------
        >>> Planetary(sun=12, ring=48, planets=3).ratio
        5.0
        """
        return 1 + self.ring / self.sun

    @property
    def fitting_planet_teeth(self) -> float:
        """Teeth of a planet that fills the space between sun and ring: (R - S) / 2."""
        return (self.ring - self.sun) / 2

    @property
    def goes_together(self) -> bool:
        """Whether planets spaced evenly can all be put in mesh: (R + S) / N is whole."""
        return (self.ring + self.sun) % self.planets == 0

    @property
    def smallest_step_deg(self) -> float:
        """Planets can be put in at whole multiples of this angle, 360 / (R + S)."""
        return 360 / (self.ring + self.sun)

    @property
    def placed_deg(self) -> tuple[float, ...]:
        """Where each planet goes in, as near to even spacing as the teeth let it."""
        step = self.smallest_step_deg
        return tuple(step * round(360 * place / self.planets / step) for place in range(self.planets))

    @property
    def neighbours_clear(self) -> bool:
        """Whether the tips of neighbouring planets pass: (S + P) sin(180 / N) > P + 2."""
        if self.planets == 1:
            return True
        teeth = self.planet_teeth or self.fitting_planet_teeth
        return (self.sun + teeth) * math.sin(math.pi / self.planets) > teeth + 2

    def complaints(self) -> tuple[str, ...]:
        """What cannot be, or is to be counted again, in words; empty for a set that goes together."""
        said = []
        if not self.goes_together:
            total = self.ring + self.sun
            places = ", ".join(f"{angle:.2f}" for angle in self.placed_deg)
            said.append(
                f"{self.planets} planets spaced evenly do not go in: {self.planets} does not divide the "
                f"{total} teeth of ring and sun together; they would go in at {places} degrees"
            )
        if not self.neighbours_clear:
            said.append(f"{self.planets} planets would touch each other")
        if self.planet_teeth is not None and abs(self.planet_teeth - self.fitting_planet_teeth) > 1:
            said.append(
                f"a planet of {self.planet_teeth} teeth does not fill the space between sun and ring, which "
                f"is for about {self.fitting_planet_teeth:g}: count again"
            )
        return tuple(said)


@dataclass(frozen=True)
class Backlash:
    """Play between teeth: along the pitch circle [m], and as an angle of the gear the dial was on [rad]."""

    along_m: Estimate
    angle_rad: Estimate


def backlash(dial: Estimate, dial_radius_m: float, pitch_radius_m: float) -> Backlash:
    """Backlash from a dial on an arm, the mating gear held.

    Parameters
    ----------
    dial : Estimate
        Whole travel of the dial [m].
    dial_radius_m, pitch_radius_m : float
        Where the dial touches, and where the teeth mesh, from the shaft's axis [m].

    Raises
    ------
    MeasurementError
        If a radius is not above 0, or the travel is so large that no arc is meant.

    Examples
    --------
    >>> found = backlash(Estimate(0.6e-3, 0.01e-3), 60e-3, 15e-3)
    >>> round(found.along_m.value * 1e3, 3), round(math.degrees(found.angle_rad.value), 2)
    (0.15, 0.57)
    """
    for name, radius in (("dial radius", dial_radius_m), ("pitch radius", pitch_radius_m)):
        if not (math.isfinite(radius) and radius > 0):
            raise MeasurementError(f"{name}: found {radius:g} m, expected a radius above 0")
    if not 0 <= dial.value <= dial_radius_m / 2:
        raise MeasurementError(
            f"backlash: found {dial.value * 1e3:.4g} mm at a radius of {dial_radius_m * 1e3:.4g} mm, "
            "expected a small travel: another unit?"
        )
    share = pitch_radius_m / dial_radius_m
    return Backlash(_times(dial, share), _times(dial, 1 / dial_radius_m))


def pitch_radius_m(module_m: float, teeth: int) -> float:
    """Pitch radius [m] of a gear: half the module times its teeth."""
    if not (math.isfinite(module_m) and module_m > 0):
        raise MeasurementError(f"module: found {module_m:g} m, expected more than 0")
    _check_teeth("gear", teeth)
    return module_m * teeth / 2


def _times(one: Estimate, factor: float) -> Estimate:
    return Estimate(one.value * factor, one.standard_uncertainty * factor, one.degrees_of_freedom)


def _check_teeth(name: str, teeth: int) -> None:
    if not _FEWEST_TEETH <= teeth <= MOST_TEETH:
        raise MeasurementError(
            f"{name}: found {teeth} teeth, expected a whole number from {_FEWEST_TEETH} to {MOST_TEETH}"
        )
