"""TOML tables in which a person enters readings: quantities with their unit, as text.

Whatever is asked of a table and is not there, or is something else, is refused with file, line and key. The
readers of the single parts (brush gear, switch, drive and so on) are built on it.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import Any, NoReturn

from barwise.errors import InputError, MeasurementError
from barwise.files.text import nearest_word, plain
from barwise.files.toml_tables import parse_tables, value_shown
from barwise.measure.quantity import EXAMPLES, Quantity, parse_quantity
from barwise.measure.units import Dimension

_HEADING = re.compile(r"\s*(\[\[?)\s*([A-Za-z0-9_.\s-]+?)\s*\]\]?\s*(?:#.*)?")


class Table:
    """One table of a file.

    Parameters
    ----------
    values : mapping
        As `tomllib` gives them.
    title : str
        Its heading, empty for the file itself.
    text, name : str
        Of the whole file, for the place in a refusal.
    nth : int or None
        Which of several ``[[title]]`` it is, from 1.
    """

    def __init__(
        self, values: Mapping[str, Any], title: str, text: str, name: str, nth: int | None = None
    ) -> None:
        self.values, self.title, self.text, self.name, self.nth = values, title, text, name, nth

    @classmethod
    def of_file(cls, text: str, name: str, kind: str, such_as: str) -> Table:
        """The whole of a TOML text. Raises InputError if it is empty or no TOML."""
        return cls(parse_tables(text, name, kind, such_as), "", text, name)

    def place(self, key: str = "") -> str:
        """Such as ``switch.toml line 4, key limits.travel``; without a key the table itself."""
        called = self.title if self.nth is None else f"{self.title} {self.nth}"
        if not key:
            return f"{self.name}{self._line('')}, [{called}]" if called else self.name
        full = f"{called}.{key}" if called else key
        return f"{self.name}{self._line(key)}, key {plain(full)}"

    def refuse(self, key: str, found: str, expected: str) -> NoReturn:
        """Refuse what stands at `key`, or without one the table as a whole."""
        raise InputError(self.place(key), found, expected)

    def only(self, known: Sequence[str]) -> None:
        """Refuse keys other than these."""
        for key in self.values:
            if key not in known:
                near = nearest_word(key, known)
                self.refuse(key, "an unknown key", f"one of {', '.join(known)}{near}")

    def filled_up(self, more: Mapping[str, Any]) -> Table:
        """The same with values for keys it does not have, to see whether those it has can be."""
        return Table({**more, **self.values}, self.title, self.text, self.name, self.nth)

    def has(self, key: str) -> bool:
        """Whether the file gives it."""
        return key in self.values

    def table(self, key: str, *, needed: bool = False) -> Table:
        """The table ``[key]``; an empty one where it is not needed and not there."""
        if key not in self.values and needed:
            self._refuse_missing(key, f"a table [{self.full(key)}]")
        found = self.values.get(key, {})
        if not isinstance(found, dict):
            self.refuse(key, value_shown(found), f"a table [{self.full(key)}]")
        return Table(found, self.full(key), self.text, self.name)

    def tables(self, key: str) -> tuple[Table, ...]:
        """All of ``[[key]]``, in order; a single ``[key]`` is one. Empty where there is none."""
        found = self.values.get(key, [])
        many = found if isinstance(found, list) else [found]
        if not all(isinstance(one, dict) for one in many):
            self.refuse(key, value_shown(found), f"tables [[{self.full(key)}]]")
        return tuple(
            Table(one, self.full(key), self.text, self.name, number)
            for number, one in enumerate(many, start=1)
        )

    def words(self, key: str, usual: str | None = None) -> str:
        """Text of at least one letter."""
        value = self.required(key, "text in quotation marks", usual)
        if not isinstance(value, str) or not value.strip():
            self.refuse(key, value_shown(value), "text in quotation marks")
        return value.strip()

    def choice(self, key: str, known: Sequence[str], usual: str | None = None) -> str:
        """One of a few words."""
        wanted = " or ".join(f'"{one}"' for one in known)
        value = self.required(key, wanted, usual)
        if value not in known:
            near = nearest_word(value, known) if isinstance(value, str) else ""
            self.refuse(key, value_shown(value), f"{wanted}{near}")
        return str(value)

    def flag(self, key: str, usual: bool) -> bool:
        """True or false."""
        value = self.values.get(key, usual)
        if not isinstance(value, bool):
            self.refuse(key, value_shown(value), "true or false")
        return value

    def whole(self, key: str, least: int, most: int, usual: int | None = None) -> int:
        """A whole number from `least` to `most`."""
        wanted = f"a whole number from {least} to {most}"
        value = self.required(key, wanted, usual)
        if not isinstance(value, int) or isinstance(value, bool) or not least <= value <= most:
            self.refuse(key, value_shown(value), wanted)
        return value

    def number(self, key: str, least: float, most: float, usual: float | None = None) -> float:
        """A bare number from `least` to `most`, where there is one unit by nature or none."""
        return self.checked_number(key, self.required(key, _between(least, most), usual), least, most)

    def checked_number(self, key: str, value: object, least: float, most: float) -> float:
        """A value found at `key`, if it is a number from `least` to `most`."""
        if isinstance(value, bool) or not isinstance(value, int | float) or not least <= value <= most:
            self.refuse(key, value_shown(value), _between(least, most))
        return float(value)

    def quantity(
        self,
        key: str,
        dimension: Dimension,
        *,
        above: float | None = None,
        least: float | None = None,
        most: float | None = None,
    ) -> Quantity:
        """A number with its unit, such as ``"0.35 V"``.

        `above` (itself not allowed), `least` and `most` bound it, in SI.
        """
        value = self.required(key, f'a {dimension} with its unit, such as "{EXAMPLES[dimension]}"')
        return self._quantity(key, value, dimension, above, least, most)

    def optional_quantity(
        self,
        key: str,
        dimension: Dimension,
        *,
        above: float | None = None,
        least: float | None = None,
        most: float | None = None,
    ) -> Quantity | None:
        """The same, or None where the file does not give it."""
        if key not in self.values:
            return None
        return self.quantity(key, dimension, above=above, least=least, most=most)

    def quantities(
        self,
        key: str,
        dimension: Dimension,
        *,
        above: float | None = None,
        least: float | None = None,
        most: float | None = None,
    ) -> tuple[Quantity, ...]:
        """One quantity or a list of them (repeats); empty where the file does not give it."""
        found = self.values.get(key, [])
        many = found if isinstance(found, list) else [found]
        if key in self.values and not many:
            self.refuse(key, "an empty list", "at least one reading")
        return tuple(self._quantity(key, one, dimension, above, least, most) for one in many)

    def _quantity(
        self,
        key: str,
        value: object,
        dimension: Dimension,
        above: float | None,
        least: float | None,
        most: float | None,
    ) -> Quantity:
        such_as = f'a {dimension} with its unit in quotation marks, such as "{EXAMPLES[dimension]}"'
        if not isinstance(value, str):
            self.refuse(key, value_shown(value), such_as)
        try:
            found = parse_quantity(value, dimension, self.full(key))
        except MeasurementError as error:
            raise InputError(self.place(key), *_found_expected(error)) from None
        if above is not None and not found.value > above:
            self.refuse(key, value_shown(value), f"more than {_in_unit(above, found)}")
        if least is not None and not found.value >= least:
            self.refuse(key, value_shown(value), f"{_in_unit(least, found)} or more")
        if most is not None and not found.value <= most:
            self.refuse(key, value_shown(value), f"{_in_unit(most, found)} or less")
        return found

    def required(self, key: str, expected: str, usual: object = None) -> Any:
        """What stands at `key`, or `usual`; refused where there is neither."""
        if key not in self.values and usual is None:
            self._refuse_missing(key, expected)
        return self.values.get(key, usual)

    def _refuse_missing(self, key: str, expected: str) -> NoReturn:
        where = f"{self.place()}, key {key}" if self.title else f"{self.name}, key {key}"
        raise InputError(where, "nothing", expected)

    def full(self, key: str) -> str:
        """With the heading before it."""
        return f"{self.title}.{key}" if self.title else key

    def _line(self, key: str) -> str:
        """`` line 4`` for the line that gives `key` under this table's heading, or nothing."""
        wanted = re.compile(rf"\s*[\"']?{re.escape(key)}[\"']?\s*=")
        inside, seen = "", 0
        for row, line in enumerate(self.text.splitlines(), start=1):
            heading = _HEADING.fullmatch(line)
            if heading:
                inside = heading[2]
                seen += inside == self.title
            mine = self.nth is None or self.nth == seen
            if heading and mine and inside == (self.full(key) if key else self.title):
                return f" line {row}"
            if key and mine and inside == self.title and wanted.match(line):
                return f" line {row}"
        return ""


def _between(least: float, most: float) -> str:
    return f"a number from {least:g} to {most:g}"


def _in_unit(value: float, like: Quantity) -> str:
    return f"{like.unit.from_si(value):.6g} {like.unit.name}"


def _found_expected(error: MeasurementError) -> tuple[str, str]:
    """What a refusal of the measuring layer found and expected, its own place left off."""
    text = str(error).partition(": ")[2] or str(error)
    found, _, expected = text.removeprefix("found ").partition(", expected ")
    return found, expected or "a number with its unit"
