"""What a measured run in the vehicle teaches about the next one: its legs as they are, and its engine.

The guesses about the vehicle are made once. Those that would not have given the amperes and the speed that
were read are thrown out; the rest answer the question, at whatever temperature it is asked for.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from barwise.inspect.cranking.drops import DropFit, DropReadings
from barwise.inspect.cranking.prediction import cranked
from barwise.inspect.cranking.vehicle import DRAWS, Draw, Draws, Vehicle, draw, taken_part
from barwise.machine.battery import POLARIZATION_V_PER_CELL, internal_resistance
from barwise.measure.uncertainty import Estimate

TRUST = 0.04
"""How far the model itself is trusted, as a share of current and speed: common practice, no source."""
GUESSES = 2 * DRAWS
_FEWEST = 20
_WARMTH = 0.05
"""How far a resistance may be off at another temperature, as a share: joints are no copper."""


@dataclass(frozen=True)
class Learnt:
    """Draws that agree with what was read.

    Attributes
    ----------
    draws : Draws
    agrees : bool or None
        False: hardly any guess gives what was read, so the readings were not used and something in the
        description or the readings is wrong. None: neither current nor speed was read.
    """

    draws: Draws
    agrees: bool | None


def as_measured(vehicle: Vehicle, fit: DropFit, measured_c: float | None) -> Vehicle:
    """The vehicle with its resistances as they were measured, at the temperature of the question."""
    found = {leg.name: leg.ohm for leg in fit.legs}
    legs = tuple(
        replace(leg, now=_carried(found[leg.name]), measured=True) if leg.name in found else leg
        for leg in vehicle.legs
    )
    return replace(vehicle, legs=legs, battery_ohm=_battery(vehicle, fit, measured_c))


def learn(vehicle: Vehicle, readings: DropReadings) -> Learnt:
    """Throw out the guesses that do not go with a measured current and speed."""
    guesses = draw(vehicle, GUESSES)
    there = _then(vehicle, readings)
    run = cranked(there, draw(there, GUESSES))
    misfit = _squares(np.asarray(run.current_a), readings.current)
    if readings.speed is not None:
        misfit = misfit + _squares(np.asarray(run.speed_rad_s), readings.speed)
    weights = np.exp(-(misfit - misfit.min()) / 2)
    weights /= weights.sum()
    if misfit.min() > 9 or 1 / np.sum(weights**2) < _FEWEST:
        return Learnt(draw(vehicle), False)
    # evenly spaced places on the sum of weights: each guess comes as often as it deserves, without chance
    places = (np.arange(DRAWS) + 0.5) / DRAWS
    chosen = np.minimum(np.searchsorted(np.cumsum(weights), places), GUESSES - 1)
    return Learnt(taken_part(guesses, chosen), True)


def rest_lost(vehicle: Vehicle) -> Estimate:
    """What polarization takes of the battery's rest volts as soon as it cranks [V]."""
    cells = vehicle.battery.cells
    return Estimate(POLARIZATION_V_PER_CELL * cells, 0.03 * cells)


def _squares(found: Draw, read: Estimate) -> Draw:
    spread = np.hypot(read.standard_uncertainty, TRUST * read.value)
    return np.asarray(((found - read.value) / spread) ** 2)


def _then(vehicle: Vehicle, readings: DropReadings) -> Vehicle:
    """The vehicle at the temperature of the reading."""
    at = readings.temperature_c
    if at is None or vehicle.battery_ohm is None:
        return replace(vehicle, temperature_c=at)
    return replace(
        vehicle,
        temperature_c=at,
        battery_ohm=_scaled(vehicle, vehicle.battery_ohm, vehicle.temperature_c, at),
    )


def _carried(ohm: Estimate) -> Estimate:
    value = max(ohm.value, 1e-6)
    return Estimate(value, float(np.hypot(ohm.standard_uncertainty, _WARMTH * value)))


def _battery(vehicle: Vehicle, fit: DropFit, measured_c: float | None) -> Estimate | None:
    if fit.battery_ohm is None or measured_c is None or vehicle.temperature_c is None:
        return vehicle.battery_ohm
    return _scaled(vehicle, fit.battery_ohm, measured_c, vehicle.temperature_c)


def _scaled(vehicle: Vehicle, ohm: Estimate, from_c: float | None, to_c: float) -> Estimate:
    if from_c is None:
        return ohm
    ratio = float(internal_resistance(vehicle.battery, to_c)) / float(
        internal_resistance(vehicle.battery, from_c)
    )
    spread = np.hypot(ohm.standard_uncertainty / ohm.value, 0.25 * abs(np.log(ratio)))
    return Estimate(ohm.value * ratio, float(ohm.value * ratio * spread))
