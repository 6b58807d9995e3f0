"""The units a reading may be written in, and how much of the SI unit each one is.

One table for the whole of barwise. Case matters in it: ``mohm`` is a thousandth of an ohm, ``Mohm``
a million, so a spelling that could be either (``MOHM``) is not taken.

Sources
-------
Prefixes: BIPM, The International System of Units (SI Brochure), 9th edition, 2019, table 7. Inch:
A. Thompson and B. N. Taylor, Guide for the Use of the International System of Units, NIST Special
Publication 811, 2008, appendix B.8 (1 in = 2.54 cm exactly; 1 mil = 0.001 in; 1 lbf = 4.448 221 615 260 5 N;
1 kgf = 9.806 65 N exactly; 1 ozf is a sixteenth of 1 lbf); thou is the shop's word for the mil. All
from memory. A temperature stays in degrees Celsius inside as well; degrees Fahrenheit are
(°F - 32) / 1.8, the same publication, B.8.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal

Dimension = Literal[
    "voltage",
    "resistance",
    "current",
    "length",
    "force",
    "torque",
    "speed",
    "time",
    "pressure",
    "temperature",
    "share",
    "area",
    "volume",
    "inertia",
]


@dataclass(frozen=True)
class Unit:
    """One way to write a quantity; `factor` times a number in this unit is that number in SI.

    Only a temperature counts from another zero: `zero` is what 0 of this unit is in SI. A difference or a
    step of the scale needs the factor alone.
    """

    name: str
    dimension: Dimension
    factor: float
    zero: float = 0.0

    def to_si(self, number: float) -> float:
        """A number in this unit, in SI."""
        return number * self.factor + self.zero

    def from_si(self, value: float) -> float:
        """An SI value, in this unit.

        Examples
        --------
        >>> round(UNITS["degF"].from_si(20.0), 9)
        68.0
        """
        return (value - self.zero) / self.factor


_POUND_FORCE = 4.4482216152605
"""[N]."""

_UNITS = (
    Unit("V", "voltage", 1.0),
    Unit("mV", "voltage", 1e-3),
    Unit("uV", "voltage", 1e-6),
    Unit("ohm", "resistance", 1.0),
    Unit("mohm", "resistance", 1e-3),
    Unit("kohm", "resistance", 1e3),
    Unit("Mohm", "resistance", 1e6),
    Unit("A", "current", 1.0),
    Unit("mm", "length", 1e-3),
    Unit("um", "length", 1e-6),
    Unit("in", "length", 0.0254),
    Unit("thou", "length", 2.54e-5),
    Unit("m", "length", 1.0),
    Unit("ft", "length", 12 * 0.0254),
    Unit("mA", "current", 1e-3),
    Unit("N", "force", 1.0),
    Unit("kgf", "force", 9.80665),
    Unit("lbf", "force", _POUND_FORCE),
    Unit("ozf", "force", _POUND_FORCE / 16),
    Unit("Nm", "torque", 1.0),
    Unit("lbf.ft", "torque", _POUND_FORCE * 12 * 0.0254),
    Unit("lbf.in", "torque", _POUND_FORCE * 0.0254),
    Unit("rpm", "speed", 2 * math.pi / 60),
    Unit("rad/s", "speed", 1.0),
    Unit("s", "time", 1.0),
    Unit("min", "time", 60.0),
    Unit("h", "time", 3600.0),
    Unit("kPa", "pressure", 1e3),
    Unit("psi", "pressure", _POUND_FORCE / 0.0254**2),
    Unit("degC", "temperature", 1.0),
    Unit("degF", "temperature", 5 / 9, -160 / 9),
    Unit("%", "share", 0.01),
    Unit("mm2", "area", 1e-6),
    Unit("L", "volume", 1e-3),
    Unit("cm3", "volume", 1e-6),
    Unit("in3", "volume", 0.0254**3),
    Unit("kg.m2", "inertia", 1.0),
)

UNITS: Mapping[str, Unit] = MappingProxyType({unit.name: unit for unit in _UNITS})
"""Every unit by the name it is written with in files."""

_MICRO = "\N{MICRO SIGN}\N{GREEK SMALL LETTER MU}"
_INCH = {'"': "in", "inch": "in", "inches": "in"}
_SPELLED = {
    **_INCH,
    "oz": "ozf",
    "lb": "lbf",
    "lb.ft": "lbf.ft",
    "lb-ft": "lbf.ft",
    "ft-lb": "lbf.ft",
    "lb.in": "lbf.in",
    "lb-in": "lbf.in",
    "in-lb": "lbf.in",
    "N.m": "Nm",
    "percent": "%",
}
_OHM = "\N{OHM SIGN}\N{GREEK CAPITAL LETTER OMEGA}"


def printed(name: str) -> str:
    """A unit's name as it is printed for people: with the signs for micro and degree.

    Examples
    --------
    >>> printed("um"), printed("degC"), printed("mm")
    ('µm', '°C', 'mm')
    """
    if name in ("degC", "degF"):
        return f"\N{DEGREE SIGN}{name[-1]}"
    return f"{_MICRO[0]}{name[1:]}" if name in ("um", "uV", "uA") else name


def find_unit(written: str) -> Unit | None:
    """The unit that `written` names, or None when it names none or could be two.

    The signs for micro, ohm, inch and degree and spellings such as ``Ohm``, ``inch``, ``oz`` and ``lb-ft``
    are taken as well; there is no unit of mass here that ``lb`` could be.

    Examples
    --------
    >>> find_unit("m\N{OHM SIGN}").name, find_unit("M\N{OHM SIGN}").name
    ('mohm', 'Mohm')
    >>> find_unit("MOHM") is None
    True
    """
    name = written.strip()
    for sign in _MICRO:
        name = name.replace(sign, "u")
    for sign in _OHM:
        name = name.replace(sign, "ohm")
    name = name.replace("Ohm", "ohm").replace("ohms", "ohm").replace("\N{DEGREE SIGN}", "deg")
    return UNITS.get(_SPELLED.get(name, name))


def names_of(dimension: Dimension) -> tuple[str, ...]:
    """Names of the units of one dimension, in the table's order."""
    return tuple(unit.name for unit in _UNITS if unit.dimension == dimension)
