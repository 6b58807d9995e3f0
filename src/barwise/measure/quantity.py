"""A quantity as a person writes it: ``0.35 V``, ``36 ozf``, ``68 °F``, ``4.2 V ± 1 %``.

Inside it is SI (temperatures in degrees Celsius); the unit typed, its last digit and how far it may be off
are kept beside it. Lengths written in inch and mm at once are `barwise.measure.length`.

Source
------
JCGM 100:2008, 4.3.7 and F.2.2.1 (from memory): the last digit, and a half-width of which no more is known
than that the value lies within, are rectangular.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass

from barwise.errors import MeasurementError
from barwise.measure.entered import Number, read_number
from barwise.measure.uncertainty import Estimate, last_digit, rectangular
from barwise.measure.units import Dimension, Unit, find_unit, names_of

EXAMPLES: dict[str, str] = {
    "voltage": "11.8 V",
    "resistance": "0.27 ohm",
    "current": "38 A",
    "length": "12.4 mm",
    "force": "36 ozf",
    "torque": "80 lbf.ft",
    "speed": "4200 rpm",
    "time": "30 s",
    "pressure": "8 psi",
    "temperature": "22 degC",
    "share": "90 %",
    "area": "50 mm2",
    "volume": "5.9 L",
    "inertia": "1.5 kg.m2",
}
"""How one of each dimension may be written, for refusals."""

_NUMBER = r"[+\-\N{MINUS SIGN}]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+\-]?[0-9]+)?"
_UNIT = r"[^\s\d±+/][^\s±+]*"
_WRITTEN = re.compile(rf"\s*({_NUMBER})\s*({_UNIT})?\s*(?:(?:±|\+/?-)\s*({_NUMBER})\s*({_UNIT})?\s*)?")
_DECIMAL_COMMA = re.compile(r"\s*[+-]?\d+,\d+\s*\D*")
_LARGEST, _SMALLEST = 1e15, 1e-15
"""Beyond these no shop measures in any unit; arithmetic with them only breaks."""


@dataclass(frozen=True)
class Quantity:
    """One number with its unit.

    Attributes
    ----------
    value : float
        In SI; a temperature in degrees Celsius.
    unit : Unit
        As typed.
    digit : float
        Step of the last digit, SI.
    half_width : float
        The ± behind it, SI; 0 where none was written.
    entered : str
        As typed.
    """

    value: float
    unit: Unit
    digit: float
    half_width: float
    entered: str

    @property
    def standard_uncertainty(self) -> float:
        """Of the last digit and the ±, both rectangular [SI]."""
        return math.hypot(last_digit(self.digit), rectangular(self.half_width))

    @property
    def estimate(self) -> Estimate:
        """Value and standard uncertainty [SI]."""
        return Estimate(self.value, self.standard_uncertainty)

    def in_unit(self, unit: Unit) -> float:
        """The number in another unit of its dimension."""
        return unit.from_si(self.value)


def parse_quantity(written: str, dimension: Dimension, what: str = "value") -> Quantity:
    """Read a number with its unit, and with ± and how far it may be off if that is known.

    Parameters
    ----------
    written : str
        The ± is in the same unit, in another of the dimension, or in percent of the value.
    dimension : str
        What it must be, such as voltage.
    what : str
        What it is called in the refusal.

    Raises
    ------
    MeasurementError
        If it is no number, has no unit, or a unit of something else.

    Examples
    --------
    >>> parse_quantity("36 ozf", "force").value  # doctest: +ELLIPSIS
    10.008...
    >>> cold = parse_quantity("68 °F ± 2 degF", "temperature")
    >>> round(cold.value, 9), round(cold.half_width, 3)
    (20.0, 1.111)
    """
    parts = _WRITTEN.fullmatch(written) if len(written) <= 80 else None
    number = None if parts is None else read_number(parts[1])
    if parts is None or number is None or not _can_be(number.value):
        raise MeasurementError(
            f"{what}: found {written!r:.40}, expected {_example(dimension)}{_hint(written)}"
        )
    unit = _unit(parts[2], dimension, what, written)
    return Quantity(
        value=unit.to_si(number.value),
        unit=unit,
        digit=number.digit * unit.factor,
        half_width=_half_width(parts[3], parts[4], number, unit, what),
        entered=" ".join(written.split()),
    )


def _can_be(number: float) -> bool:
    return number == 0 or _SMALLEST <= abs(number) <= _LARGEST


def _half_width(written: str | None, named: str | None, number: Number, unit: Unit, what: str) -> float:
    """The ± in SI: in percent of the number, in the unit it names, or in the number's own."""
    if written is None:
        return 0.0
    read = read_number(written)
    if read is None or read.value < 0 or not _can_be(read.value):
        raise MeasurementError(f"{what}: found ± {written:.20}, expected 0 or more")
    if named in ("%", "percent") and unit.dimension != "share":
        return abs(number.value * unit.factor) * read.value / 100
    return read.value * (unit if named is None else _unit(named, unit.dimension, what, named)).factor


def _unit(named: str | None, dimension: Dimension, what: str, written: str) -> Unit:
    if not named:
        raise MeasurementError(
            f"{what}: found {written!r:.40} without a unit, expected {_example(dimension)}"
        )
    unit = find_unit(named)
    if unit is None or unit.dimension != dimension:
        kind = "" if unit is None else f", a unit of {unit.dimension}"
        known = ", ".join(names_of(dimension))
        raise MeasurementError(f"{what}: found {named!r:.20}{kind}, expected {dimension} in {known}")
    return unit


def _example(dimension: Dimension) -> str:
    return f'a {dimension} with its unit, such as "{EXAMPLES[dimension]}"'


def _hint(written: str) -> str:
    return " (a decimal point, not a comma)" if _DECIMAL_COMMA.fullmatch(written) else ""
