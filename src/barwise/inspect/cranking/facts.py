"""What was said of a vehicle, all of it or some; what is missing, and what that would give."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from barwise.inspect.cranking.drops import LIMIT_OHM, DropReadings
from barwise.inspect.cranking.vehicle import Vehicle, WayLeg
from barwise.inspect.run_test import RunTest
from barwise.machine.battery import Battery
from barwise.machine.cranking_course import Rotor
from barwise.machine.engine import Engine
from barwise.machine.motor import Motor
from barwise.measure.uncertainty import Estimate

USUAL_OIL = "15W-40"
"""Taken where nobody said: common practice, no source."""
USUAL_HENRY = 1e-4
"""Inductance of the motor's circuit, which shapes the dips only [H]; common practice, no source."""


@dataclass(frozen=True)
class Missing:
    """Something that was not said: what, by the names it is asked for, and what it would give.

    `needed`: without it no speed can be worked out.
    """

    what: str
    gives: str
    needed: bool = True


@dataclass(frozen=True)
class VehicleFacts:
    """A vehicle as far as it was described; None where it was not, or not enough.

    Attributes
    ----------
    legs : tuple of WayLeg
        Those of which it is said what they are made of.
    oil : str or None
        Grade.
    rotor_kgm2, inductance_h : float or None
        Of the starter, for the dips.
    missing : tuple of Missing
    seconds : float
        For the time course [s].
    """

    title: str
    temperature_c: float | None
    battery: Battery | None
    legs: tuple[WayLeg, ...]
    ratio: float | None
    engine: Engine | None
    oil: str | None = None
    least_rpm: tuple[float, float] | None = None
    rotor_kgm2: float | None = None
    inductance_h: float = USUAL_HENRY
    missing: tuple[Missing, ...] = ()
    seconds: float = 1.0

    def rotor(self, sound: Motor) -> Rotor:
        """As it was given, else guessed: a rotor that saturates at more flux is a larger one.

        The guess is common practice, no source.
        """
        guessed = min(0.02, max(2e-4, 0.08 * float(np.median(sound.flux_vs))))
        return Rotor(guessed if self.rotor_kgm2 is None else self.rotor_kgm2, self.inductance_h)

    def vehicle(self, now: Motor, sound: Motor, spread: float = 0.0) -> Vehicle | None:
        """With this starter in it; None where too little was said of it."""
        if self.battery is None or self.ratio is None or self.engine is None:
            return None
        return Vehicle(
            battery=self.battery,
            temperature_c=self.temperature_c,
            legs=self.legs,
            starter=now,
            sound_starter=sound,
            ratio=self.ratio,
            engine=self.engine,
            rotor=self.rotor(sound),
            oil=self.oil or USUAL_OIL,
            starter_spread=spread,
            least_rpm=self.least_rpm,
        )

    def with_legs_read(self, drops: dict[str, Estimate]) -> VehicleFacts:
        """With a leg for each drop read of which nothing else is said: in order it is at its limit."""
        known = [leg.name for leg in self.legs]
        limit = Estimate(LIMIT_OHM, LIMIT_OHM)
        added = tuple(WayLeg(name, limit, LIMIT_OHM) for name in drops if name not in known)
        return replace(self, legs=(*self.legs, *added))


@dataclass(frozen=True)
class CrankQuestion:
    """What is asked of one vehicle.

    Attributes
    ----------
    readings : DropReadings or None
        Of a run in the vehicle.
    run : RunTest or None
        Of the starter, where it was run on the bench.
    rotor_guessed : bool
        Whether the rotor's inertia stands in for one that was not given.
    seconds : float
        For the time course [s].
    """

    title: str
    vehicle: Vehicle
    readings: DropReadings | None
    run: RunTest | None
    rotor_guessed: bool
    seconds: float
