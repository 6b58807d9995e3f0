"""A length as a person writes it: ``1.2385 in``, ``31.5 mm``, ``3 thou``, ``0.031 in (0.8 mm)``.

Inside, lengths are metres; what was typed, its unit and its last digit are kept beside it. A length
given in inch and in millimetres must be one length within the rounding of its last digits: published
sheets do carry a slipped decimal point, and the wrong one of two numbers must never be picked silently.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from barwise.errors import MeasurementError
from barwise.measure.entered import Number, read_number
from barwise.measure.units import UNITS, Unit, find_unit, names_of

_ONE = re.compile(r"\s*([+\-\N{MINUS SIGN}\d.,]+(?:[eE][+-]?\d+)?)\s*([^\s\d()/,.]*)\s*")
_TWO = re.compile(r"([^()/]+)(?:\(([^()/]+)\)|/([^()/]+))\s*")

_MOST_M = 10.0
"""Longer than this is no part of a starter, but a slipped digit or unit."""

_IMPERIAL = frozenset({"in", "thou"})


@dataclass(frozen=True)
class Length:
    """A length [m], with its unit as typed and the step of its last digit [m]."""

    metres: float
    unit: Unit
    digit_m: float
    entered: str

    @property
    def imperial(self) -> bool:
        """Whether it was written in inch or thou."""
        return self.unit.name in _IMPERIAL

    def in_unit(self, name: str) -> float:
        """The number in another unit of length."""
        return self.metres / UNITS[name].factor


def parse_length(written: str, unit: str | None = None, what: str = "length") -> Length:
    """Read a length, in one unit or in two that must agree.

    Parameters
    ----------
    written : str
        Number with its unit. Without one, `unit` is taken.
    unit : str, optional
        Unit of a bare number; without it a bare number is refused.
    what : str
        What the length is, for the refusal.

    Raises
    ------
    MeasurementError
        If it is no length, or its two numbers are not the same length.

    Examples
    --------
    >>> parse_length("31.5 mm").in_unit("in")  # doctest: +ELLIPSIS
    1.2401...
    >>> parse_length("0.031 in (0.8 mm)").entered
    '0.031 in'
    """
    both = _TWO.fullmatch(written)
    if both is None:
        return _one(written, unit, what)
    pair = _one(both[1], None, what), _one(both[2] or both[3], None, what)
    return agreed(*pair, what=what)


def agreed(first: Length, second: Length, what: str = "length") -> Length:
    """The first of two writings of one length, the second being its conversion.

    Raises
    ------
    MeasurementError
        If they differ by more than half the last digit of each, which is what rounding can do.

    Examples
    --------
    >>> agreed(parse_length("0.003 in"), parse_length("0.08 mm")).entered
    '0.003 in'
    """
    rounding = (first.digit_m + second.digit_m) / 2
    if abs(first.metres - second.metres) > rounding * (1 + 1e-9):
        converted = f"{second.in_unit(first.unit.name):.4g} {first.unit.name}"
        raise MeasurementError(
            f"{what}: found {first.entered} and {second.entered}, which is {converted}; expected one and "
            "the same length. A sheet can be misprinted: find out which is right and enter only that one"
        )
    return first


def _one(written: str, unit: str | None, what: str) -> Length:
    parts = _ONE.fullmatch(written)
    number = read_number(parts[1]) if parts else None
    if parts is None or number is None:
        raise MeasurementError(
            f"{what}: found {written!r:.40}, expected a number and a unit, such as 1.2385 in"
        )
    named = _unit(parts[2] or unit, written, what)
    if abs(number.value) * named.factor > _MOST_M:
        raise MeasurementError(f"{what}: found {written!r:.40}, expected no more than {_MOST_M:g} m")
    return _length(number, named)


def _length(number: Number, unit: Unit) -> Length:
    entered = f"{number.value:.{_decimals(number.digit)}f} {unit.name}"
    return Length(number.value * unit.factor, unit, number.digit * unit.factor, entered)


def _decimals(digit: float) -> int:
    decimals = 0
    while digit < 0.99 and decimals < 12:
        digit, decimals = digit * 10, decimals + 1
    return decimals


def _unit(name: str | None, written: str, what: str) -> Unit:
    known = ", ".join(names_of("length"))
    if not name:
        raise MeasurementError(f"{what}: found {written!r:.40} without a unit, expected one of {known}")
    unit = find_unit(name)
    if unit is None or unit.dimension != "length":
        raise MeasurementError(f"{what}: found unit {name!r:.20}, expected one of {known}")
    return unit
