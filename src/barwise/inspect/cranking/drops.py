"""What a voltmeter found while the vehicle cranked: the resistance of each stretch, and whether they agree.

Volts at the battery's posts must be the drops on the way plus the volts at the starter. Where all of them
were read there is one reading too many: readings are moved by least squares, each by its own uncertainty,
until they close, and how far they had to move is the test of them.

Sources
-------
Adjustment of conditioned observations: least squares as in any text on surveying (from memory); the chi
square of one degree of freedom is any table's. Limits: 0.20 V for each 100 A, TM 10-3930-671-24 p. F-303.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from barwise.errors import MeasurementError
from barwise.measure.decision import Decision, Limit, decide
from barwise.measure.uncertainty import Estimate

LIMIT_OHM = 0.20 / 100
LIMIT_SOURCE = "0.20 V for each 100 A, TM 10-3930-671-24 p. F-303, one machine: typical"
CLOSES_BELOW = 6.63
"""Chi square of one degree of freedom that is passed in 99 of 100 cases."""


@dataclass(frozen=True)
class DropReadings:
    """Read while it cranked.

    Attributes
    ----------
    current : Estimate
        [A].
    drops : mapping of str to Estimate
        Across each leg in turn [V].
    battery, starter : Estimate or None
        At the battery's posts, and at the starter from stud to housing [V].
    rest : Estimate or None
        At the battery's posts before, at rest [V].
    speed : Estimate or None
        Of the crank [rad/s].
    temperature_c : float or None
    """

    current: Estimate
    drops: dict[str, Estimate] = field(default_factory=dict)
    battery: Estimate | None = None
    starter: Estimate | None = None
    rest: Estimate | None = None
    speed: Estimate | None = None
    temperature_c: float | None = None


@dataclass(frozen=True)
class FittedLeg:
    """One stretch: volts after the adjustment, resistance, and how it stands to 0.20 V for each 100 A."""

    name: str
    volts: Estimate
    ohm: Estimate
    decision: Decision


@dataclass(frozen=True)
class DropFit:
    """What the readings come to.

    Attributes
    ----------
    legs : tuple of FittedLeg
    battery_ohm : Estimate or None
        The battery's own, where volts at rest and while cranking were read [ohm].
    misfit_v : float or None
        Battery volts less drops less starter volts, as read [V]; None where they were not all read.
    closes : bool or None
    questions : tuple of str
        What looks misread.
    """

    legs: tuple[FittedLeg, ...]
    battery_ohm: Estimate | None
    misfit_v: float | None
    closes: bool | None
    questions: tuple[str, ...]


def fit_drops(readings: DropReadings, names: Sequence[str], polarization: Estimate | None = None) -> DropFit:
    """Resistances from the readings.

    Parameters
    ----------
    readings : DropReadings
    names : sequence of str
        All the legs of this vehicle: only if each was read do the volts have to close.
    polarization : Estimate, optional
        What the battery loses at once under load, taken off its volts at rest [V].

    Raises
    ------
    MeasurementError
        If the current is not above 0, a drop is negative beyond its meter (leads the wrong way round), the
        battery rises under load, or a leg is not one of the vehicle's.
    """
    _check(readings, names)
    misfit, variance = _misfit(readings, names)
    drops = dict(readings.drops)
    if misfit is not None and variance > 0:
        drops = {name: _moved(one, misfit, variance) for name, one in drops.items()}
    legs = tuple(_leg(name, drops[name], readings.current) for name in names if name in drops)
    closes = None if misfit is None else bool(misfit * misfit <= CLOSES_BELOW * max(variance, 1e-12))
    return DropFit(
        legs, _battery_ohm(readings, polarization), misfit, closes, _questions(readings, misfit, closes)
    )


def _check(readings: DropReadings, names: Sequence[str]) -> None:
    if not readings.current.value > 0:
        raise MeasurementError(
            f"cranking current: found {readings.current.value:g} A, expected above 0: turn the clamp round"
        )
    for name, drop in readings.drops.items():
        if name not in names:
            raise MeasurementError(f"drop: found {name!r:.40}, expected one of {', '.join(names)}")
        if drop.value < -3 * max(drop.standard_uncertainty, 1e-3):
            raise MeasurementError(
                f"drop, {name}: found {drop.value:g} V, expected 0 or more: are the leads swapped?"
            )
    rest, under = readings.rest, readings.battery
    if rest is not None and under is not None and under.value >= rest.value:
        found = f"{under.value:g} V cranking and {rest.value:g} V at rest"
        raise MeasurementError(f"battery: found {found}, expected fewer volts under load")


def _misfit(readings: DropReadings, names: Sequence[str]) -> tuple[float | None, float]:
    whole = readings.battery is not None and readings.starter is not None
    if not whole or any(name not in readings.drops for name in names):
        return None, 0.0
    assert readings.battery is not None
    assert readings.starter is not None
    parts = [readings.battery, readings.starter, *readings.drops.values()]
    gone = math.fsum(drop.value for drop in readings.drops.values())
    variance = math.fsum(part.standard_uncertainty**2 for part in parts)
    return readings.battery.value - readings.starter.value - gone, variance


def _moved(drop: Estimate, misfit_v: float, variance: float) -> Estimate:
    """A drop after the least squares: moved by its share of the misfit, and better known by it."""
    own = drop.standard_uncertainty**2
    left = own - own * own / variance
    return Estimate(drop.value + misfit_v * own / variance, math.sqrt(max(0.0, left)))


def _leg(name: str, volts: Estimate, current: Estimate) -> FittedLeg:
    ohm = _over(volts, current)
    decision = decide(ohm.value, ohm.standard_uncertainty, Limit(upper=LIMIT_OHM))
    return FittedLeg(name, volts, ohm, decision)


def _over(volts: Estimate, current: Estimate) -> Estimate:
    value = volts.value / current.value
    spread = math.hypot(
        volts.standard_uncertainty / current.value,
        value * current.standard_uncertainty / current.value,
    )
    return Estimate(value, spread)


def _battery_ohm(readings: DropReadings, polarization: Estimate | None) -> Estimate | None:
    if readings.rest is None or readings.battery is None:
        return None
    off = polarization or Estimate(0.0, 0.0)
    lost = readings.rest.value - off.value - readings.battery.value
    parts = (readings.rest, readings.battery, off)
    spread = float(np.sqrt(sum(part.standard_uncertainty**2 for part in parts)))
    if lost <= 0:
        return None
    return _over(Estimate(lost, spread), readings.current)


def _questions(readings: DropReadings, misfit: float | None, closes: bool | None) -> tuple[str, ...]:
    asked = []
    battery, starter = readings.battery, readings.starter
    gone = math.fsum(drop.value for drop in readings.drops.values())
    if battery is not None and starter is not None and readings.drops:
        spread = max(0.02, 3 * math.hypot(battery.standard_uncertainty, starter.standard_uncertainty))
        if abs(battery.value - starter.value) <= spread < gone:
            return (
                f"The starter shows {starter.value:.2f} V and the battery {battery.value:.2f} V, yet "
                f"{gone:.2f} V are lost between them: were the volts at the starter read at the battery?",
            )
    if closes is False and misfit is not None:
        asked.append(
            f"Battery volts less the drops leave {misfit:+.2f} V more than the starter shows: read them "
            "again at one and the same current, or look for a stretch that was left out."
        )
    return tuple(asked)
