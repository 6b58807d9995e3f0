"""Ohms as a person reads them: the unit that leaves a number between 1 and 1000, three figures."""

from __future__ import annotations

from barwise.measure.units import UNITS

_LARGEST_FIRST = ("Mohm", "kohm", "ohm", "mohm")


def ohms(ohm: float, figures: int = 3) -> str:
    """A resistance in its handiest unit.

    Examples
    --------
    >>> ohms(0.0021), ohms(5785.6), ohms(5e6), ohms(1.2e10), ohms(671e3, 2)
    ('2.1 mohm', '5.79 kohm', '5 Mohm', '12000 Mohm', '670 kohm')
    """
    name = next((one for one in _LARGEST_FIRST if abs(ohm) >= UNITS[one].factor), "mohm")
    number = ohm / UNITS[name].factor
    rounded = float(f"{number:.{figures}g}")
    shown = f"{rounded:.0f}" if abs(rounded) >= 100 else f"{rounded:.{figures}g}"
    return f"{shown} {name}"
