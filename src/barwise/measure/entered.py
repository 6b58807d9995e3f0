"""A number as a person enters it: its value, and by its last digit how fine the meter reads."""

from __future__ import annotations

import math
import re
from functools import lru_cache
from typing import NamedTuple

_NUMBER = re.compile(r"[+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d{1,4})?", re.ASCII)
_LONGEST = 60
_TYPED_DIGITS = 12
"""More digits than this were made by a program's arithmetic, not read off a meter."""


class Number(NamedTuple):
    """A number as written: its value and the step of its last digit."""

    value: float
    digit: float


@lru_cache(maxsize=4096)
def read_number(written: str) -> Number | None:
    """What a meter's number says, or None when the text is not a finite decimal number.

    Examples
    --------
    >>> read_number("3.59"), read_number("1.20e-3")
    (Number(value=3.59, digit=0.01), Number(value=0.0012, digit=1e-05))
    >>> read_number("3,59") is None
    True
    """
    text = written.replace("\N{MINUS SIGN}", "-")
    number = _NUMBER.fullmatch(text) if len(text) <= 60 else None
    if number is None or not math.isfinite(float(text)):
        return None
    mantissa, _, exponent = text.lower().partition("e")
    digits = mantissa.lstrip("+-0.").replace(".", "")
    if len(digits) > _TYPED_DIGITS:
        mantissa, _, exponent = f"{float(text):.10g}".partition("e")
    decimals = len(mantissa.partition(".")[2])
    return Number(float(text), float(f"1e{int(exponent or 0) - decimals}"))
