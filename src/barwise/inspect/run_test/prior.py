"""What a sound motor of a model may be before it runs: its parameters with how sure they are.

Parameters are logarithms, so none can fall below nought, and most of them are ratios, so one broad prior
serves a 6 V motor and a 32 V one. Where the sheet gives points of the curve, the prior is narrowed to motors
that pass through them; where it is silent, the broad prior stands. One motor differs from its model as any.

The broad prior and the spread from motor to motor are assumptions, stated here and in docs/motor-model.md: no
published spread was found.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from barwise.inspect.run_test.points import Sheet
from barwise.machine.motor import Motor

Array = NDArray[np.float64]

FIELD_SHARE = 0.42
"""Share of a wound motor's copper resistance that is the field's (assumed)."""
CONTACT_SHARE = 0.12
"""Share of the resistance that is brushes and their leads and does not warm as copper does (assumed)."""


@dataclass(frozen=True)
class Parameter:
    """One logarithm: its middle and spread over all starters, and the spread over motors of one model."""

    name: str
    middle: float
    broad: float
    from_motor_to_motor: float


_COMMON = (
    Parameter("flux", np.log(0.03), 0.9, 0.025),
    Parameter("resistance", np.log(0.007), 0.9, 0.03),
    Parameter("brush", np.log(0.5), 0.4, 0.12),
    # the share of the locked current at which the drop has come to 63 % of what it levels off at: some
    # amperes for each cm2, and brushes of a locked starter carry a hundred or more
    Parameter("brush bend", np.log(0.02), 0.7, 0.10),
    Parameter("viscous", np.log(0.3), 0.8, 0.15),
    Parameter("windage", np.log(0.5), 0.7, 0.15),
)
_WOUND = (
    Parameter("saturation", np.log(0.13), 0.5, 0.04),
    Parameter("knee", np.log(1.8), 0.35, 0.05),
    Parameter("drag", np.log(0.018), 0.7, 0.12),
)
_MAGNET = (
    Parameter("reaction", np.log(0.15), 0.6, 0.08),
    Parameter("drag", np.log(0.054), 0.7, 0.12),
)
_SHUNT = (
    Parameter("shunt current", np.log(0.015), 0.6, 0.03),
    Parameter("shunt flux", np.log(0.5), 0.5, 0.03),
)


@dataclass(frozen=True)
class Prior:
    """A normal distribution of the parameters' logarithms.

    Attributes
    ----------
    parameters : tuple of Parameter
    mean, covariance : ndarray, shapes (D,) and (D, D)
    """

    sheet: Sheet
    parameters: tuple[Parameter, ...]
    mean: Array
    covariance: Array

    @property
    def root(self) -> Array:
        """Matrix that turns independent standard normals into deviations from the mean."""
        return np.asarray(np.linalg.cholesky(self.covariance))

    def motor(self, logs: Array) -> Motor:
        """The motors of parameters of shape (..., D), healthy, at 20 °C."""
        value = {one.name: np.exp(logs[..., place]) for place, one in enumerate(self.parameters)}
        return _motor(self.sheet, value)


def broad_prior(sheet: Sheet) -> Prior:
    """Any starter of this kind and voltage; the sheet's points are not used yet."""
    parameters = _COMMON + (_MAGNET if sheet.field == "permanent-magnet" else _WOUND)
    if sheet.field == "compound":
        parameters += _SHUNT
    scale = np.log(sheet.volts_v / 12.0)
    shift = {"flux": scale + np.log(sheet.gear_ratio) * -0.7, "resistance": 2 * scale, "brush": 0.2 * scale}
    mean = np.array([one.middle + shift.get(one.name, 0.0) for one in parameters])
    return Prior(sheet, parameters, mean, np.diag([one.broad**2 for one in parameters]))


def with_spread(model: Prior) -> Prior:
    """One motor of a model: what is known of the model, and how motors of one model differ."""
    spread = np.diag([one.from_motor_to_motor**2 for one in model.parameters])
    return Prior(model.sheet, model.parameters, model.mean, model.covariance + spread)


def _motor(sheet: Sheet, value: dict[str, Array]) -> Motor:
    volts, flux, resistance = sheet.volts_v, value["flux"], value["resistance"]
    locked = volts / resistance
    wound = sheet.field != "permanent-magnet"
    # drag is all of it at a speed that starters reach unloaded, a wound field being weak then; what goes with
    # speed and with its square are ratios to what does not
    free = volts / ((0.4 if wound else 1.0) * flux)
    friction = value["drag"] * flux * locked / (1 + value["viscous"] + value["windage"])
    copper = resistance * (1 - CONTACT_SHARE)
    more: dict[str, Array | float] = {"reaction_per_a": 0.0}
    if wound:
        more |= {"saturation_a": value["saturation"] * locked, "knee": value["knee"], "residual": 0.01}
    else:
        more |= {"reaction_per_a": value["reaction"] / locked}
    if sheet.field == "compound":
        shunt = value["shunt current"] * locked
        flux_a = value["shunt flux"] * value["saturation"] * locked
        more |= {"shunt_ohm": volts / shunt, "shunt_turns": flux_a / shunt}
    return Motor(
        field=sheet.field,
        flux_vs=flux,
        armature_ohm=copper * ((1 - FIELD_SHARE) if wound else 1.0),
        field_ohm=copper * (FIELD_SHARE if wound else 0.0),
        brush_ohm=resistance * CONTACT_SHARE,
        brush_v=value["brush"],
        brush_bend_a=value["brush bend"] * locked,
        friction_nm=friction,
        viscous_nms=value["viscous"] * friction / free,
        windage_nms2=value["windage"] * friction / free**2,
        field_paths=sheet.field_paths,
        gear_ratio=sheet.gear_ratio,
        gear_efficiency=0.97 if sheet.gear_ratio > 1 else 1.0,
        **more,
    )
