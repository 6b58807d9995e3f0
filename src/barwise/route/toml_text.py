"""TOML as people write it: read with its digits kept, and every refusal with file, line and key."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from decimal import Decimal
from typing import Any

from pydantic import ValidationError

from barwise.errors import InputError
from barwise.files.text import nearest_word, plain, shown
from barwise.files.toml_tables import parse_tables

Place = tuple[str | int, ...]
"""Keys and positions from the top of the file to one value."""

_HEADING = re.compile(r"\s*(\[\[?)\s*(.+?)\s*\]\]?\s*(?:#.*)?")
_KEY = re.compile(r"""\s*((?:[\w-]+|"[^"]*"|'[^']*')(?:\s*\.\s*(?:[\w-]+|"[^"]*"|'[^']*'))*)\s*=""")
_PART = re.compile(r"""[\w-]+|"[^"]*"|'[^']*'""")


def parse_toml(text: str, name: str, kind: str) -> dict[str, Any]:
    """The tables of a TOML text called `name`; numbers with a point are `Decimal`, so digits are kept.

    Raises
    ------
    InputError
        With file, line and column if it is no TOML, and `kind`, what it should be.
    """
    return parse_tables(text, name, kind, 'unit = "in" or high = 0.002', Decimal)


def with_floats(value: Any) -> Any:
    """The same with plain floats, for what needs no digits."""
    if isinstance(value, Decimal):
        return float(value)
    if isinstance(value, dict):
        return {key: with_floats(one) for key, one in value.items()}
    if isinstance(value, list):
        return [with_floats(one) for one in value]
    return value


def where(name: str, text: str, place: Place) -> str:
    """``starter.toml line 12, key stations.intake.tag.unit``: file, line and key of one place."""
    line = line_of(text, place)
    key = ".".join(str(part + 1) if isinstance(part, int) else part for part in place)
    return f"{name}{f' line {line}' if line else ''}{f', key {plain(key)}' if key else ''}"


def line_of(text: str, place: Place) -> int | None:
    """The line that gives `place`, or else the nearest table or list it stands in; None for the top."""
    best, length = None, 0
    for line, path in _paths(text):
        if length < len(path) <= len(place) and path == place[: len(path)]:
            best, length = line, len(path)
    return best


def first_refusal(
    error: ValidationError,
    text: str,
    name: str,
    known: Mapping[str, tuple[str, ...]] | None = None,
    skip: int = 0,
) -> InputError:
    """The first thing a schema refuses, as one line for the person who wrote the file.

    `known` has the keys that may stand in the file by the model's title, for the nearest one to a slip;
    the first `skip` parts of a place are the schema's, not the file's.
    """
    refused = error.errors(include_url=False)
    # A misspelt key is also a missing one; the spelling is what to tell.
    first = next((one for one in refused if one["type"] == "extra_forbidden"), refused[0])
    place = tuple(part for part in first["loc"][skip:] if part != "[key]")
    at = where(name, text, place)
    keys = (known or {}).get(error.title, ())
    if first["type"] == "missing":
        return InputError(at, "nothing", f"a value for {place[-1]}")
    if first["type"] == "extra_forbidden":
        key = str(place[-1])
        return InputError(at, "an unknown key", f"a known one{nearest_word(key, keys)}")
    if first["type"] == "value_error":
        raised = first.get("ctx", {}).get("error")
        found, _, expected = str(raised).partition("; expected ")
        return InputError(at, found.removeprefix("found "), expected or "something that can be")
    return InputError(at, shown(str(first["input"])), _wanted(first["msg"]))


def _wanted(message: str) -> str:
    plainer = message.removeprefix("Input should be ").removeprefix("a valid ")
    return {"string": "text", "decimal": "a number", "boolean": "true or false"}.get(plainer, plainer)


def _paths(text: str) -> Iterator[tuple[int, Place]]:
    """Each line that opens a table or gives a key, with the place it gives."""
    table: Place = ()
    counts: dict[Place, int] = {}
    quoted = False
    for number, line in enumerate(text.splitlines(), start=1):
        was_quoted, quoted = quoted, quoted ^ (line.count('"""') % 2 == 1)
        if was_quoted:
            continue
        heading = _HEADING.fullmatch(line)
        if heading and "=" not in heading[2]:
            table = _opened(heading, counts)
            yield number, table
        elif key := _KEY.match(line):
            yield number, (*table, *_parts(key[1]))


def _opened(heading: re.Match[str], counts: dict[Place, int]) -> Place:
    """The table a heading opens; of a list of tables, the last one so far."""
    path: Place = ()
    parts = _parts(heading[2])
    for depth, part in enumerate(parts, start=1):
        path = (*path, part)
        if depth == len(parts) and heading[1] == "[[":
            counts[path] = counts.get(path, -1) + 1
        if path in counts:
            path = (*path, counts[path])
    return path


def _parts(written: str) -> tuple[str, ...]:
    return tuple(part.strip("\"'") for part in _PART.findall(written))
