"""A number as the shop types it: what it means, or what to ask before it is taken.

A comma is a decimal sign where the shop says so and refused elsewhere. Neither comma nor point ever parts
thousands: a wrong guess there is wrong by a factor of a thousand, and a question costs a second.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from barwise.errors import InputError
from barwise.files.text import nearest_word, plain, shown
from barwise.inspect.checks import Limit
from barwise.measure.entered import read_number
from barwise.measure.units import UNITS, Unit, find_unit, names_of

_NUMBER_AND_UNIT = re.compile(r"([+\-\N{MINUS SIGN}]?[\d.,]+(?:[eE][+\-]?\d+)?)\s*([^\s\d.,+\-eE][^\s\d]*)?")
_WANTED = "a number such as 3.59"
_OFF_SCALE = frozenset({"ol", "o.l", "o.l.", "0l", "0.l", "over", "overload", "inf", "1."})

NEAR = (0.6, 1.4)
"""Shares of a part's smallest and largest size on the sheet that a reading of it stays within."""
MOST: Mapping[str, float] = {
    "length": 3.0, "resistance": 1e13, "voltage": 1e4, "current": 2e4, "force": 1e5, "torque": 1e4,
    "speed": 1e4, "time": 1e5, "share": 1.0, "pressure": 1e8,
}  # fmt: skip
"""What no bench for starters reads beyond [SI]; common practice, no source."""
COLDEST_C, HOTTEST_C = -60.0, 400.0
"""The same of a thermometer [degC]."""
SIGNED = ("voltage", "current", "temperature")
"""Quantities a meter shows with a sign: below nothing they are asked about, not refused."""
FAR_BEYOND = 10.0
"""A reading so many times its largest allowed value is asked about; common practice, no source."""


@dataclass(frozen=True)
class Typed:
    """What was typed: the number with a decimal point, its unit as understood, and its value in SI."""

    number: str
    unit: str
    value_si: float


@dataclass(frozen=True)
class Question:
    """Asked before a reading is taken; nothing is stored yet.

    `ask` is one sentence; `suggested_number` and `suggested_unit` are what was probably meant, empty where
    nobody can say. To take the reading as typed, it is sent again, confirmed.
    """

    ask: str
    suggested_number: str = ""
    suggested_unit: str = ""


def read_typed(text: str, unit: str, quantity: str, *, decimal_comma: bool = False) -> Typed:
    """Read a typed number, with or without its unit behind it.

    Parameters
    ----------
    text : str
        ``1.2385``, ``3.59mV``, and ``31,45 mm`` where the shop writes decimal commas.
    unit : str
        Taken where `text` has none.
    quantity : str
        Dimension it must have, such as length.
    decimal_comma : bool
        The shop's way of writing.

    Raises
    ------
    InputError
        With the field it is about, `value` or `unit`, as its place.

    Examples
    --------
    >>> read_typed("31,45 mm", "in", "length", decimal_comma=True).number
    '31.45'
    """
    written = text.strip()
    parts = _NUMBER_AND_UNIT.fullmatch(written)
    if parts is None:
        raise InputError("value", shown(written) if written else "nothing", _WANTED + _hint(written))
    number = _with_point(parts[1], decimal_comma)
    read = read_number(number)
    if read is None:
        raise InputError("value", shown(written), _WANTED + _hint(written))
    named = _unit_of(parts[2] or unit, quantity)
    return Typed(number, named.name, named.to_si(read.value))


def check_possible(typed: Typed, quantity: str, *, signed: bool = False) -> None:
    """Refuse a number that no bench reads.

    Parameters
    ----------
    quantity : str
        Its dimension.
    signed : bool
        A dial on a walk reads below nothing as well.

    Raises
    ------
    InputError
        With ``value`` as its place.
    """
    written, unit = f"{typed.number} {typed.unit}", UNITS[typed.unit]
    if quantity == "temperature":
        if not COLDEST_C <= typed.value_si <= HOTTEST_C:
            low, high = (f"{unit.from_si(end):g}" for end in (COLDEST_C, HOTTEST_C))
            raise InputError("value", written, f"{low} to {high} {unit.name}")
        return
    if typed.value_si < 0 and quantity not in SIGNED and not signed:
        raise InputError("value", written, "0 or more")
    most = MOST.get(quantity)
    if most is not None and abs(typed.value_si) > most * (1 + 1e-9):
        wanted = f"at most {unit.from_si(most):g} {unit.name}: is every digit right?"
        raise InputError("value", written, wanted)


def below_nothing(typed: Typed, quantity: str) -> Question | None:
    """Ask where volts or amperes are below nothing: the leads are the wrong way round, or the sign is meant.

    Examples
    --------
    >>> below_nothing(read_typed("-5.2", "V", "voltage"), "voltage").suggested_number
    '5.2'
    """
    if quantity not in ("voltage", "current") or typed.value_si >= 0:
        return None
    plus = typed.number.lstrip("+-\N{MINUS SIGN}")
    ask = f"{typed.number} {typed.unit} is below nothing: were the leads the wrong way round? Is it {plus}?"
    return Question(ask, plus, typed.unit)


def far_from(typed: Typed, limit: Limit | None) -> Question | None:
    """Ask when the sheet makes it unlikely that this is the number or the unit that was meant.

    Examples
    --------
    >>> from barwise.measure.decision import Limit as Allowed
    >>> sheet = Limit("diameter", Allowed(1.226 * 0.0254, 1.25 * 0.0254), "in", "invented")
    >>> far_from(read_typed("1.0785", "mm", "length"), sheet).suggested_unit
    'in'
    """
    region = _region(limit)
    if limit is None or region is None or _inside(typed.value_si, region):
        return None
    size = f"{typed.number} {typed.unit}"
    allowed = _in_words(limit, region)
    converted = f"{UNITS[limit.unit].from_si(typed.value_si):.4g} {limit.unit}"
    same = "" if typed.unit == limit.unit else f", which is {converted},"
    for unit in _other_units(typed, limit):
        if _inside(unit.to_si(float(typed.number)), region):
            ask = f"{size}{same} is far from {allowed}. Is it {typed.number} {unit.name}?"
            return Question(ask, typed.number, unit.name)
    return Question(f"{size}{same} is far from {allowed}. Is every digit right?")


def _with_point(number: str, decimal_comma: bool) -> str:
    if "," not in number:
        return number
    if "." in number or number.count(",") > 1:
        wanted = "one decimal sign and nothing between thousands, such as 1078.5"
        raise InputError("value", shown(number), wanted)
    if not decimal_comma:
        pointed = number.replace(",", ".")
        wanted = f"a decimal point: {pointed}, or {number.replace(',', '')} if the comma parts thousands"
        raise InputError("value", shown(number), wanted)
    return number.replace(",", ".")


def _unit_of(name: str, quantity: str) -> Unit:
    found = find_unit(name) if name else None
    if found is not None and found.dimension == quantity:
        return found
    known = [unit.name for unit in UNITS.values() if unit.dimension == quantity]
    case = " (mohm is a thousandth of an ohm, Mohm a million ohms)" if "ohm" in name.lower() else ""
    what = f"{shown(name)}, of {found.dimension}" if found else shown(name) if name else "no unit"
    near = "" if found else nearest_word(name, known)
    raise InputError("unit", what, f"{quantity} in {', '.join(known)}{near}{case}")


def _hint(written: str) -> str:
    if plain(written).lower() in _OFF_SCALE:
        return " (off the scale is no number: take it again on a higher range)"
    return ""


def _region(limit: Limit | None) -> tuple[float, float] | None:
    """Where a good or a worn part may be read [SI]; None where the sheet rules nothing out."""
    if limit is None:
        return None
    allowed = limit.allowed
    sizes = [] if limit.scale is None else [point.size_m for point in limit.scale.points]
    sizes += [side for side in (limit.target, allowed and allowed.lower, allowed and allowed.upper) if side]
    if not sizes or min(sizes) <= 0:
        return None
    least, most = min(sizes) * NEAR[0], max(sizes) * NEAR[1]
    if limit.scale is None and (allowed is None or allowed.lower is None or allowed.upper is None):
        if allowed is None or allowed.upper is None:
            return None
        return 0.0, allowed.upper * FAR_BEYOND
    return least, most


def _inside(value: float, region: tuple[float, float]) -> bool:
    return region[0] <= abs(value) <= region[1]


def _other_units(typed: Typed, limit: Limit) -> list[Unit]:
    """Other units it may have been read in, the sheet's own first."""
    dimension = UNITS[typed.unit].dimension
    names = dict.fromkeys((limit.unit, *names_of(dimension)))
    return [UNITS[name] for name in names if name != typed.unit]


def _in_words(limit: Limit, region: tuple[float, float]) -> str:
    factor = UNITS[limit.unit].factor
    if region[0] == 0:
        return f"the {region[1] / FAR_BEYOND / factor:.4g} {limit.unit} the sheet allows at most"
    least, most = region[0] / NEAR[0] / factor, region[1] / NEAR[1] / factor
    return f"the {least:.4g} to {most:.4g} {limit.unit} of the sheet"
