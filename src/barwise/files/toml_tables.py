"""The tables of a TOML text, or a refusal with file, line and column."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable
from typing import Any

from barwise.errors import InputError
from barwise.files.text import shown

_PLACE = re.compile(r"(.*?) \(at (?:line (\d+), column (\d+)|end of document)\)", re.DOTALL)


def parse_tables(
    text: str, name: str, kind: str, such_as: str, parse_float: Callable[[str], Any] = float
) -> dict[str, Any]:
    """The tables of a TOML text called `name`.

    Parameters
    ----------
    text, name : str
    kind : str
        What it should be, such as ``a TOML file with a [winding] table``.
    such_as : str
        Two lines as they could stand in it, for whoever wrote no TOML.
    parse_float : callable
        Makes a number of its digits; `decimal.Decimal` keeps them.

    Raises
    ------
    InputError
        If it is empty, or no TOML.
    """
    if not text.strip():
        raise InputError(name, "an empty file", kind)
    try:
        return tomllib.loads(text, parse_float=parse_float)
    except tomllib.TOMLDecodeError as error:
        raise _refusal(error, name, such_as) from None
    except (ValueError, ArithmeticError, RecursionError):
        raise InputError(name, "a number or nesting too large to read", kind) from None


def value_shown(value: object) -> str:
    """A value as the file gives it, in quotation marks, kept to a readable length."""
    if isinstance(value, int) and value.bit_length() > 64:
        return "a very large number"
    return shown(str(value))


def _refusal(error: tomllib.TOMLDecodeError, name: str, such_as: str) -> InputError:
    place = _PLACE.fullmatch(str(error))
    reason = place.group(1) if place else str(error)
    where = name if place is None else f"{name} at the end"
    if place is not None and place.group(2):
        where = f"{name} line {place.group(2)}, column {place.group(3)}"
    found = f"text that is not TOML ({reason.splitlines()[0][:100]})"
    return InputError(where, found, f"lines such as {such_as}")
