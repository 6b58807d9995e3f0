"""Rows of a CSV file by column name; whatever is no row under the header is refused with file and line."""

from __future__ import annotations

import csv
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import NoReturn

from barwise.errors import InputError
from barwise.files.text import nearest_word, plain, shown

WHOLE = re.compile(r"(\d{1,9})(?:\.0*)?", re.ASCII)
"""A whole number as people and their programs write it."""
DECIMAL_COMMA = re.compile(r"[+-]?\d+,\d+", re.ASCII)

_LINE_END = re.compile(r"\r\n|\n|\r")


@dataclass(frozen=True)
class Columns:
    """The columns of one kind of file.

    Parameters
    ----------
    shown : tuple of str
        As the header is shown to people.
    needed : tuple of str
        Without these no row means anything.
    unshown : tuple of str
        Further ones that may be there.
    """

    shown: tuple[str, ...]
    needed: tuple[str, ...]
    unshown: tuple[str, ...] = ()

    @property
    def header(self) -> str:
        """The first line of such a file."""
        return ",".join(self.shown)

    def refuse_empty(self, text: str, name: str) -> NoReturn:
        """Refuse a file called `name` in which no row stands."""
        found = "an empty file" if not text.strip() else "no readings"
        raise InputError(name, found, f"the header {self.header} and one row for each reading")


@dataclass(frozen=True)
class Row:
    """One line of the file, by column name."""

    name: str
    line: int
    cells: Mapping[str, str]

    def refuse(self, column: str, found: str, expected: str) -> NoReturn:
        """Refuse what stands in a column."""
        raise InputError(f"{self.name} line {self.line}, column {column}", found, expected)


def rows(text: str, name: str, columns: Columns) -> Iterator[Row]:
    """Every row under the header; empty lines and lines that begin with # are passed over.

    Raises
    ------
    InputError
        If the header is not one for `columns`, a line is no CSV, or it has more cells than the header.
    """
    header: list[str] | None = None
    for line, written in enumerate(_LINE_END.split(text), start=1):
        if written.lstrip().startswith("#"):
            continue
        where = f"{name} line {line}"
        cells = _cells(written, where)
        if not any(cells):
            continue
        if header is None:
            header = _header(cells, written, where, columns)
            continue
        if any(cells[len(header) :]):
            wanted = f"at most {len(header)}, as in the header; decimals need a point, not a comma"
            raise InputError(where, f"{len(cells)} cells", wanted)
        yield Row(name, line, dict(zip(header, cells, strict=False)))


def seen(written: str) -> str:
    """What stands in a cell, in quotation marks, or that nothing does."""
    return shown(written) if written else "nothing"


def _cells(written: str, where: str) -> list[str]:
    try:
        parsed = next(csv.reader([written], strict=True), [])
    except csv.Error as error:
        raise InputError(where, f"text that is not CSV ({error})", "cells between commas") from None
    return [cell.strip() for cell in parsed]


def _header(cells: Sequence[str], written: str, where: str, columns: Columns) -> list[str]:
    names = [cell.lower() for cell in cells]
    while names and not names[-1]:
        names.pop()
    if len(names) == 1 and re.search(r"[;\t]", written):
        between = "tabs" if "\t" in written else "semicolons"
        raise InputError(where, f"columns parted by {between}", "columns parted by commas")
    for column in names:
        if column not in (*columns.shown, *columns.unshown):
            place = f"{where}, column {plain(column) or 'without a name'}"
            near = nearest_word(column, columns.shown)
            raise InputError(place, "an unknown column", f"the header {columns.header}{near}")
        if names.count(column) > 1:
            raise InputError(f"{where}, column {column}", "the same column twice", "it once")
    for column in columns.needed:
        if column not in names:
            raise InputError(where, f"no column {column}", f"the header {columns.header}")
    return names
