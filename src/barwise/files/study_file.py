"""The study file: the same parts measured again and again, by one person or several, in CSV.

See docs/file-formats.md for the columns. Every person must have measured every part equally often: what is
missing is refused by name, as guessed readings would make the gauge look better than it is.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from barwise.errors import InputError
from barwise.files.csv_rows import DECIMAL_COMMA, Columns, Row, rows, seen
from barwise.files.text import plain, read_text, shown
from barwise.measure.entered import read_number

KIND = "a CSV file of a gauge study"
COLUMNS = Columns(shown=("part", "person", "value"), needed=("part", "value"), unshown=("unit",))
ALONE = "one person"


@dataclass(frozen=True)
class StudyFile:
    """Readings of a gauge study.

    Attributes
    ----------
    parts, people : tuple of str
        Their names in the order in which they first stand in the file.
    value : ndarray, shape (parts, people, repeats)
        In `unit`.
    unit : str
        As written in the file; empty when it names none.
    digit : float
        Step of the finest last digit written, in `unit`.
    """

    parts: tuple[str, ...]
    people: tuple[str, ...]
    value: NDArray[np.float64]
    unit: str
    digit: float


def load_study(path: str | Path) -> StudyFile:
    """Read a study file.

    Raises
    ------
    InputError
        If a row cannot be understood, or a person has measured a part less often than the others have.
    """
    path = Path(path)
    return parse_study(read_text(path, KIND), str(path))


def parse_study(text: str, name: str = "study.csv") -> StudyFile:
    """Read the text of a study file, called `name` in messages. Raises as `load_study`."""
    values: dict[tuple[str, str], list[float]] = {}
    units: list[str] = []
    digit = np.inf
    for row in rows(text, name, COLUMNS):
        part, person = _named(row, "part"), row.cells.get("person", "") or ALONE
        units.append(_unit(row, units))
        value, step = _value(row)
        digit = min(digit, step)
        values.setdefault((part, person), []).append(value)
    if not values:
        COLUMNS.refuse_empty(text, name)
    parts, people = (tuple(dict.fromkeys(pair[i] for pair in values)) for i in (0, 1))
    _check_counts(values, parts, people, name)
    table = np.array([[values[part, person] for person in people] for part in parts])
    return StudyFile(parts, people, table, units[0], float(digit))


def _named(row: Row, column: str) -> str:
    written = row.cells.get(column, "")
    if not written:
        row.refuse(column, "nothing", f"which {column} this reading belongs to")
    return plain(written)


def _unit(row: Row, before: list[str]) -> str:
    written = row.cells.get("unit", "")
    if before and written != before[0]:
        row.refuse("unit", seen(written), f"{before[0] or 'none'}, as in the first row: one unit for all")
    return written


def _value(row: Row) -> tuple[float, float]:
    written = row.cells.get("value", "")
    number = read_number(written)
    if number is None:
        comma = " (a decimal point, not a comma)" if DECIMAL_COMMA.fullmatch(written) else ""
        row.refuse("value", seen(written), f"a number such as 1.2385{comma}")
    return number.value, number.digit


def _check_counts(
    values: dict[tuple[str, str], list[float]], parts: tuple[str, ...], people: tuple[str, ...], name: str
) -> None:
    """Refuse a study that is too small, or in which somebody measured a part less or more often."""
    if len(parts) < 2:
        raise InputError(name, f"one part, {shown(parts[0])}", "at least 2 parts, 10 are usual")
    counts = {(part, person): len(values.get((part, person), ())) for part in parts for person in people}
    usual = max(Counter(counts.values()).items(), key=lambda item: (item[1], item[0]))[0]
    for (part, person), count in counts.items():
        if count != usual:
            by = f" by {shown(person)}" if people != (ALONE,) else ""
            raise InputError(
                name,
                f"{count} reading{'s' * (count != 1)} of part {shown(part)}{by}",
                f"{usual}, as of most: everybody measures every part equally often",
            )
    if usual < 2:
        raise InputError(
            name, "each part measured once", "at least twice by each person: repeats are the study"
        )
