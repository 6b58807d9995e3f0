"""The motor that a sheet's points describe: no-load, lock and rated figures in, one motor out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache

import numpy as np

from barwise.errors import MotorError
from barwise.inspect.run_test.causes import causes_for
from barwise.inspect.run_test.fit import narrowed
from barwise.inspect.run_test.points import Point, Sheet, usable
from barwise.inspect.run_test.prior import Prior, broad_prior, with_spread
from barwise.machine.motor import FieldKind, Motor
from barwise.measure.uncertainty import Estimate

SHEET_C = Estimate(25.0, 10.0)
"""Temperature of a sheet's figures where it does not say [degC]."""

_SEED = 12


def unit_prior(sheet: Sheet) -> Prior:
    """What one motor of this model may be before it runs; the broad prior where the sheet has no points."""
    return with_spread(model_prior(sheet))


@lru_cache(maxsize=32)
def model_prior(sheet: Sheet) -> Prior:
    """What the sheet leaves possible for the model itself."""
    broad = broad_prior(sheet)
    degrees = sheet.temperature or SHEET_C
    points = usable([replace(point, temperature=point.temperature or degrees) for point in sheet.points])
    return narrowed(broad, points, causes_for(sheet)[0]) if points else broad


def sound_motors(sheet: Sheet, count: int) -> Motor:
    """Sound motors of this model, as likely each, numbers of shape (count,), at 20 °C; always the same."""
    prior = unit_prior(sheet)
    draws = np.random.default_rng(_SEED).standard_normal((count, len(prior.parameters)))
    return prior.motor(prior.mean + draws @ prior.root.T)


def motor_from_points(
    field: FieldKind,
    points: Sequence[Point],
    volts_v: float = 12.0,
    temperature: Estimate | None = None,
    gear_ratio: float = 1.0,
) -> Motor:
    """The most probable sound motor of some points of its curve, at 20 °C.

    Parameters
    ----------
    field : str
        As of `Motor`.
    points : sequence of Point
        No-load, lock or loaded, each with volts and one thing more.
    volts_v : float
        Nominal volts [V].
    temperature : Estimate, optional
        At which the points hold [degC].

    Raises
    ------
    MotorError
        If no point has volts and something besides.

    Notes
    -----
    What the points do not fix, such as the bend of the saturation curve between no load and lock, is that
    of a usual starter (`barwise.inspect.run_test.prior`).
    """
    if not usable(points):
        raise MotorError(
            "motor: found no point with volts and current, speed or torque, expected one at least"
        )
    sheet = Sheet(field, volts_v, tuple(points), temperature=temperature, gear_ratio=gear_ratio)
    prior = model_prior(sheet)
    return prior.motor(prior.mean)
