"""What a meter or gauge wrote: the number with every digit, its unit, or that it is off its scale.

Two ways of writing are read. A meter that speaks SCPI answers with one number as IEEE Std 488.2-1992 has it:
NR1 ``-35``, NR2 ``3.59``, NR3 ``3.59E-3`` (sections 8.7.2 to 8.7.4), read as forgivingly as section 7.7.2
reads what is sent; 9.9E37 and more stand for infinity, 9.91E37 for not a number (SCPI 1999, volume 1,
section 7.2.1). All from memory. A gauge writes a line of its own, and a `LineForm` says where in it the
number and the unit stand.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from decimal import Decimal, InvalidOperation
from typing import Literal

from barwise.errors import InputError
from barwise.measure.units import UNITS, Unit, find_unit

LONGEST_LINE = 200
"""Characters of one line; a device that writes more is not what the profile says."""
OFF_SCALE = Decimal("9.9E37")
_SMALLEST_POWER = -40
_MOST_SKIPS = 4
_FIELDS = ("value", "unit", "skip")
_NUMBER = "[+\\-\N{MINUS SIGN}]?+" + r" *+(?:\d++(?:%s\d*+)?+|%s\d++)(?: *+[eE] *+[+\-]?+\d++)?+"
_SIGNS = '%"\N{DEGREE SIGN}\N{MICRO SIGN}\N{GREEK SMALL LETTER MU}\N{OHM SIGN}\N{GREEK CAPITAL LETTER OMEGA}'
_UNIT = rf"[A-Za-z{_SIGNS}][\w/.{_SIGNS}]*+"

Sign = Literal["as sent", "turned", "left out"]


@dataclass(frozen=True)
class Spoken:
    """One reading as a device wrote it.

    Attributes
    ----------
    number : Decimal or None
        In `unit`; None where the device says that it is off its scale or that nothing is between its leads.
    unit : Unit
    line : str
        The whole line, letter for letter but for its end.
    """

    number: Decimal | None
    unit: Unit
    line: str

    @property
    def value_si(self) -> float | None:
        """The same in SI; None where there is no number."""
        return None if self.number is None else self.unit.to_si(float(self.number))

    @property
    def text(self) -> str:
        """The number as people write it: every digit, no exponent; empty where there is none."""
        return "" if self.number is None else f"{self.number:f}"


@dataclass(frozen=True)
class LineForm:
    """How a gauge writes its line.

    Parameters
    ----------
    pattern : str
        Its text with ``{value}`` where the number stands, ``{unit}`` where the unit does and ``{skip}`` for a
        run of signs without a space that says nothing of the reading; a space stands for any number of
        spaces, also none.
    decimal : {"point", "comma"}
    overload : tuple of str
        Texts by which the gauge says that there is no reading, such as ``OL``.
    units : mapping of str to str
        What the gauge writes for a unit, where it is none of ours; a tuple of pairs.

    Raises
    ------
    InputError
        If the pattern has no ``{value}``, something unknown in braces, or two fields that touch.

    Examples
    --------
    >>> form = LineForm("{skip} {value} {unit}")
    >>> form.read("D1  +0.012 mm", UNITS["mm"]).text
    '0.012'
    """

    pattern: str
    decimal: Literal["point", "comma"] = "point"
    overload: tuple[str, ...] = ()
    units: tuple[tuple[str, str], ...] = ()
    _read: re.Pattern[str] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "_read", re.compile(_expression(self.pattern, self.decimal), re.ASCII))

    def read(self, line: str, usual: Unit) -> Spoken:
        """What a line says; `usual` is the unit of a line that names none.

        Raises
        ------
        InputError
            If it is none of the form, or its unit is unknown or of another quantity.
        """
        line = _one_line(line)
        if any(text.casefold() in line.casefold() for text in self.overload):
            return Spoken(None, usual, line)
        found = self._read.fullmatch(line.strip())
        if found is None:
            raise InputError("line", _quoted(line), f"{_quoted(self.pattern)}, as the profile has it")
        written = found.groupdict().get("unit") or ""
        number = found["value"].replace(",", ".")
        return _spoken(number, self._unit(written, usual), line)

    def _unit(self, written: str, usual: Unit) -> Unit:
        name = dict(self.units).get(written, written)
        unit = find_unit(name) if name else usual
        if unit is None or unit.dimension != usual.dimension:
            found = f"{_quoted(written)}, of {unit.dimension}" if unit else _quoted(written)
            raise InputError("unit", found, f"a unit of {usual.dimension}")
        return unit


def read_answer(answer: str, unit: Unit) -> Spoken:
    """What a meter that speaks SCPI answered to a query for a reading, in `unit`.

    Raises
    ------
    InputError
        If it is not one number.

    Examples
    --------
    >>> read_answer("+3.590000E-03", UNITS["V"]).text
    '0.003590000'
    >>> read_answer("+9.90000000E+37", UNITS["ohm"]).number is None
    True
    """
    line = _one_line(answer)
    return _spoken(line.strip(), unit, line)


def signed(spoken: Spoken, sign: Sign) -> Spoken:
    """The same with its sign as the profile has it: as sent, turned, or left out."""
    if spoken.number is None or sign == "as sent":
        return spoken
    number = spoken.number.copy_negate() if sign == "turned" else spoken.number.copy_abs()
    return Spoken(number, spoken.unit, spoken.line)


def in_unit(spoken: Spoken, wanted: str) -> tuple[str, str]:
    """Number and unit as a walk in `wanted` takes them: moved by its decimal point only, else as sent.

    Examples
    --------
    >>> in_unit(read_answer("+3.590E-03", UNITS["V"]), "mV")
    ('3.590', 'mV')
    >>> in_unit(read_answer("31.45", UNITS["mm"]), "in")
    ('31.45', 'mm')
    """
    other = UNITS.get(wanted)
    if spoken.number is None or other is None or other.dimension != spoken.unit.dimension:
        return spoken.text, spoken.unit.name
    ratio = Decimal(repr(spoken.unit.factor)) / Decimal(repr(other.factor))
    if spoken.unit.zero or other.zero or ratio.normalize().as_tuple().digits != (1,):
        return spoken.text, spoken.unit.name
    # By its digits: arithmetic of decimals keeps 28 of them.
    sign, digits, least = spoken.number.as_tuple()
    assert isinstance(least, int)  # it is finite
    return f"{Decimal((sign, digits, least + ratio.adjusted())):f}", other.name


def without_idle_zeros(spoken: Spoken, step_si: float) -> Spoken:
    """The same without the zeros behind the last digit that the device shows, a step of `step_si`.

    No other digit is ever left out. A step of 0 is not known, and all stays.

    Examples
    --------
    >>> without_idle_zeros(read_answer("+3.590000E-03", UNITS["V"]), 1e-5).text
    '0.00359'
    """
    if spoken.number is None or step_si <= 0:
        return spoken
    last = Decimal(f"{step_si / spoken.unit.factor:.6g}").normalize().adjusted()
    sign, digits, least = spoken.number.as_tuple()
    assert isinstance(least, int)  # it is finite
    while least < last and digits[-1] == 0:
        # nothing but zeros: the point moves, and one zero stays
        digits, least = digits[:-1] or (0,), least + 1
    return Spoken(Decimal((sign, digits, least)), spoken.unit, spoken.line)


def _spoken(written: str, unit: Unit, line: str) -> Spoken:
    signs = "".join(written.replace("\N{MINUS SIGN}", "-").split())
    try:
        number = Decimal(signs)
    except InvalidOperation:
        number = None
    if number is None or not signs.isascii() or "_" in signs:
        raise InputError("line", _quoted(line), "one number, such as +3.59E-03")
    if not number.is_finite() or abs(number) >= OFF_SCALE:
        return Spoken(None, unit, line)
    least = number.as_tuple().exponent
    if not isinstance(least, int) or least < _SMALLEST_POWER:
        raise InputError("line", _quoted(line), f"no digits finer than 1E{_SMALLEST_POWER}")
    return Spoken(number, unit, line)


def _one_line(line: str) -> str:
    line = line.rstrip("\r\n\0")
    if len(line) > LONGEST_LINE:
        raise InputError("line", f"{len(line)} characters", f"at most {LONGEST_LINE}")
    return line


def _quoted(text: str) -> str:
    return f'"{text if len(text) <= 60 else text[:57] + "..."}"'


def _expression(pattern: str, decimal: str) -> str:
    """The pattern as an expression that never goes back: each field ends where the next sign begins."""
    parts = re.split(r"(\{[^{}]*\})", pattern.strip())
    _check_pattern(pattern, parts)
    point = r"\." if decimal == "point" else ","
    built = []
    for n, part in enumerate(parts):
        if n % 2 == 0:
            built.append(r"[ \t]*+".join(re.escape(word) for word in part.split(" ")))
        elif part == "{value}":
            built.append(f"(?P<value>{_NUMBER % (point, point)})")
        elif part == "{unit}":
            built.append(f"(?P<unit>{_UNIT})?+")
        else:
            end = parts[n + 1][:1].strip()
            built.append(rf"[^\s{re.escape(end)}]*+" if end else r"\S*+")
    return "".join(built)


def _check_pattern(pattern: str, parts: list[str]) -> None:
    wanted = "text with {value} once, {unit} at most once, {skip} where something stands that does not matter"
    fields = [part.strip("{}") for part in parts[1::2]]
    loose = "".join(parts[::2])
    unknown = [one for one in fields if one not in _FIELDS]
    if len(pattern) > LONGEST_LINE or "{" in loose or "}" in loose or unknown or not pattern.isprintable():
        raise InputError("pattern", _quoted(pattern.encode("unicode_escape").decode()), wanted)
    if fields.count("value") != 1 or fields.count("unit") > 1 or fields.count("skip") > _MOST_SKIPS:
        raise InputError("pattern", _quoted(pattern), wanted)
    touching = [n for n in range(2, len(parts) - 1, 2) if not parts[n]]
    if any("{skip}" in (parts[n - 1], parts[n + 1]) for n in touching):
        raise InputError("pattern", _quoted(pattern), "a space or a sign between {skip} and the next field")
