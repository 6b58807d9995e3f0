"""Lengths as people read them: in the unit they were typed in, with as many digits as they deserve."""

from __future__ import annotations

import math

from barwise.measure.units import UNITS


def length_text(metres: float, unit: str, digit_m: float) -> str:
    """A length to the digit `digit_m` [m], with its unit.

    Examples
    --------
    >>> length_text(0.0314579, "in", 2.54e-6)
    '1.2385 in'
    """
    factor = UNITS[unit].factor
    decimals = max(0, -math.floor(math.log10(digit_m / factor * 1.01)))
    return f"{metres / factor:.{decimals}f} {unit}"


def spread_text(metres: float, unit: str) -> str:
    """An uncertainty with two digits that count, never as a power of ten.

    Examples
    --------
    >>> spread_text(1.1234e-6, "in"), spread_text(0.0, "mm")
    ('0.000044 in', '0 mm')
    """
    number = abs(metres) / UNITS[unit].factor
    if number == 0:
        return f"0 {unit}"
    decimals = max(0, 1 - math.floor(math.log10(number)))
    return f"{number:.{decimals}f} {unit}"
