"""What a copper winding's resistance becomes when it is warmer or colder.

Sources
-------
R2 / R1 = (234.5 + t2) / (234.5 + t1) for copper of 100 % conductivity: NEMA MG 1 and IEEE 118 (from memory).
It is the same rule as 0.00393 per degree from 20 °C (IEC 60028:1925, from memory) to 0.005 %.
"""

from __future__ import annotations

import math

from barwise.errors import MeasurementError

COPPER_C = 234.5
"""Degrees below zero [degC] at which the straight line of copper's resistance would reach nothing."""

REFERENCE_C = 20.0
"""Temperature [degC] at which sheets give resistances, where they say nothing else: common practice."""

_HOTTEST_C = 1000.0


def resistance_at(ohm: float, from_c: float, to_c: float = REFERENCE_C) -> float:
    """Resistance at another temperature.

    Parameters
    ----------
    ohm : float
        Resistance [ohm], or the drop [V] at a steady current, at `from_c`.
    from_c, to_c : float
        Temperatures of the copper [degC].

    Raises
    ------
    MeasurementError
        If a temperature is none that a winding can have.

    Notes
    -----
    R2 = R1 (234.5 + t2) / (234.5 + t1).

    Examples
    --------
    >>> round(resistance_at(1.0, 20.0, 75.0), 6)
    1.21611
    """
    return ohm * _above_nothing(to_c) / _above_nothing(from_c)


def temperature_from(ohm: float, known_ohm: float, known_c: float) -> float:
    """Temperature [degC] of a winding that now reads `ohm` and read `known_ohm` at `known_c`.

    Raises
    ------
    MeasurementError
        If a resistance is not above 0, or `known_c` is no temperature of a winding.

    Examples
    --------
    >>> temperature_from(100.0, 80.0, 20.0)
    83.625
    """
    if not (0 < ohm < math.inf and 0 < known_ohm < math.inf):
        raise MeasurementError(f"resistance: found {ohm:g} and {known_ohm:g}, expected both above 0")
    return ohm / known_ohm * _above_nothing(known_c) - COPPER_C


def _above_nothing(celsius: float) -> float:
    if not -COPPER_C < celsius < _HOTTEST_C:
        found = f"found {celsius:g} °C"
        raise MeasurementError(f"temperature of the copper: {found}, expected one that a winding can have")
    return COPPER_C + celsius
