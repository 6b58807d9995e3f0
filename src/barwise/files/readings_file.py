"""The readings file: one row for each reading taken at an armature, in CSV.

See docs/file-formats.md for the columns. Reading is strict: whatever cannot mean exactly one thing
is refused with file, line, column and what was expected.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from pathlib import Path
from typing import Protocol, get_args

from barwise.files.csv_rows import DECIMAL_COMMA, WHOLE, Columns, Row, rows, seen
from barwise.files.text import nearest_word, read_text, shown
from barwise.machine.feed import Feed
from barwise.measure.entered import Number, read_number
from barwise.measure.readings import Reading, State, Test
from barwise.measure.units import Dimension, Unit, find_unit, names_of

COLUMNS = ("test", "from", "to", "value", "unit", "feed_from", "feed_to", "feed_amps")
KIND = "a CSV file of readings"
_COLUMNS = Columns(shown=COLUMNS, needed=COLUMNS[:5])
HEADER = _COLUMNS.header

TESTS: tuple[Test, ...] = get_args(Test)
_VOLTAGE = {"drop", "induced", "shaft-drop"}
_FED = {"drop", "shaft-drop"}
_PAIR = {"drop", "induced", "resistance"}
_STATES: dict[str, tuple[State, ...]] = {"ground": ("dark", "lit"), "blade": ("quiet", "buzz")}


class Counted(Protocol):
    """What must be counted before readings make sense: a `Winding`, or `Counts` where none is known."""

    @property
    def bars(self) -> int:
        """Commutator bars."""

    @property
    def slots(self) -> int | None:
        """Slots of the core, where known."""


@dataclass(frozen=True)
class Counts:
    """Bars and slots of an armature whose winding nobody knows."""

    bars: int
    slots: int | None = None


def load_readings(path: str | Path, armature: Counted) -> tuple[Reading, ...]:
    """Read a file of readings taken at one armature.

    Parameters
    ----------
    path : str or Path
    armature : Winding or Counts
        Says how many bars and slots there are.

    Returns
    -------
    tuple of Reading
        In the file's order, values in SI.

    Raises
    ------
    InputError
        If the file has no readings, or any row cannot be understood; names file, line and column.
    """
    path = Path(path)
    return parse_readings(read_text(path, KIND), armature, str(path))


def parse_readings(
    text: str, armature: Counted, name: str = "readings.csv", *, may_be_empty: bool = False
) -> tuple[Reading, ...]:
    """Read the text of a readings file; `name` is what messages call it. Raises as `load_readings`.

    A file with a header and no rows is refused unless `may_be_empty`, for a walk not yet begun.
    """
    readings: list[Reading] = []
    units: dict[Test, tuple[Unit, int]] = {}
    for row in rows(text, name, _COLUMNS):
        reading = _reading(row, armature)
        _same_unit(row, reading, units)
        readings.append(reading)
    if not readings and not may_be_empty:
        _COLUMNS.refuse_empty(text, name)
    return _with_finest_resolution(readings)


def read_cells(cells: Mapping[str, str], armature: Counted, name: str, line: int = 0) -> Reading:
    """One reading from the text of its columns, as a person types it. Raises as `load_readings`."""
    return _reading(Row(name, line, {key: text.strip() for key, text in cells.items()}), armature)


def _reading(row: Row, armature: Counted) -> Reading:
    cells = row.cells
    test = _test(row)
    start = _start(row, test, armature)
    end = _end(row, test, start, armature)
    feed = _feed(row, test, armature)
    written = cells.get("value", "")
    if not written:
        row.refuse("value", "nothing", _value_wanted(test))
    state = written.lower()
    if test in _STATES and state in _STATES[test]:
        if cells.get("unit"):
            row.refuse("unit", shown(cells["unit"]), f"no unit beside {state}")
        return Reading(test, start, end, state=state, entered=written, line=row.line)
    if test == "blade":
        row.refuse("value", shown(written), _value_wanted(test))
    value, digit = _number(row, test, written)
    unit = _unit(row, test)
    return Reading(
        test=test,
        start=start,
        end=end,
        value=value * unit.factor,
        resolution=digit * unit.factor,
        feed=feed,
        entered=written,
        unit=cells["unit"],
        line=row.line,
    )


def _test(row: Row) -> Test:
    written = row.cells.get("test", "").lower()
    if written not in TESTS:
        found = shown(row.cells["test"]) if written else "nothing"
        near = nearest_word(written, TESTS)
        row.refuse("test", found, f"one of {', '.join(TESTS)}{near}")
    return written


def _start(row: Row, test: Test, armature: Counted) -> int:
    if test != "blade":
        return _place(row, "from", "bar", armature.bars)
    if armature.slots is None:
        row.refuse("test", shown("blade"), "slots given for the winding first: a blade is read over a slot")
    return _place(row, "from", "slot", armature.slots)


def _end(row: Row, test: Test, start: int, armature: Counted) -> int | None:
    written = row.cells.get("to", "").lower()
    if test in _PAIR:
        if written in ("", "shaft"):
            row.refuse("to", seen(written), f"the other bar, 1 to {armature.bars}")
        end = _place(row, "to", "bar", armature.bars)
        if end == start:
            row.refuse("to", f"bar {end} again", "another bar than in column from")
        return end
    if written not in ("", "shaft"):
        wanted = "nothing" if test == "blade" else "shaft"
        row.refuse("to", shown(row.cells["to"]), f"{wanted}, for a {test} reading")
    return None


def _place(row: Row, column: str, what: str, count: int) -> int:
    written = row.cells.get(column, "")
    upto = f"a {what} from 1 to {count}"
    whole = WHOLE.fullmatch(written)
    if whole is None:
        row.refuse(column, seen(written), upto)
    place = int(whole.group(1))
    if not 1 <= place <= count:
        row.refuse(column, f"{what} {place}", upto)
    return place


def _feed(row: Row, test: Test, armature: Counted) -> Feed | None:
    if test not in _FED:
        for column in COLUMNS[5:]:
            if row.cells.get(column):
                row.refuse(column, shown(row.cells[column]), f"nothing: {test} is read with no current fed")
        return None
    into = _place(row, "feed_from", "bar", armature.bars)
    out = _place(row, "feed_to", "bar", armature.bars)
    if into == out:
        row.refuse("feed_to", f"bar {out} again", "another bar than in column feed_from")
    written = row.cells.get("feed_amps", "")
    if not written:
        row.refuse("feed_amps", "nothing", "the current fed in amperes, such as 10.0")
    amps = read_number(written)
    if amps is None or amps.value <= 0:
        row.refuse("feed_amps", shown(written), "a current above 0 in amperes, such as 10.0")
    return Feed(into, out, amps.value)


def _number(row: Row, test: Test, written: str) -> Number:
    number = read_number(written)
    if number is None:
        row.refuse("value", shown(written), _value_wanted(test) + _hint(written))
    if number.value < 0 and test in ("induced", "ground"):
        row.refuse("value", shown(written), "a magnitude, 0 or above")
    return number


def _value_wanted(test: Test) -> str:
    if test == "ground":
        return "dark, lit or a number of ohms such as 2.5"
    if test == "blade":
        return "quiet or buzz"
    return "a number such as 3.59"


def _hint(written: str) -> str:
    if DECIMAL_COMMA.fullmatch(written):
        return f" (a decimal point, not a comma: {written.replace(',', '.')})"
    if written.lower() in ("ol", "o.l", "o.l.", "over", "inf", "1."):
        return " (off the scale is no number: take it again on a higher range)"
    return ""


def _unit(row: Row, test: Test) -> Unit:
    dimension: Dimension = "voltage" if test in _VOLTAGE else "resistance"
    written = row.cells.get("unit", "")
    unit = _known_unit(written)
    if unit is None or unit.dimension != dimension:
        case = ""
        if unit is None and dimension == "resistance" and "ohm" in written.lower():
            case = " (mohm is a thousandth of an ohm, Mohm a million ohms)"
        row.refuse("unit", seen(written), f"{dimension} in {', '.join(names_of(dimension))}{case}")
    return unit


_known_unit = lru_cache(maxsize=64)(find_unit)


def _same_unit(row: Row, reading: Reading, units: dict[Test, tuple[Unit, int]]) -> None:
    """Refuse a second unit within one test; readings of insulation span too much for one prefix."""
    unit = _known_unit(reading.unit) if reading.unit else None
    if unit is None or reading.test == "ground":
        return
    first, line = units.setdefault(reading.test, (unit, reading.line))
    if unit != first:
        row.refuse(
            "unit",
            shown(reading.unit),
            f"{first.name} as on line {line}: one unit for all readings of one test",
        )


def _with_finest_resolution(readings: Sequence[Reading]) -> tuple[Reading, ...]:
    """A number such as 3.5 may have lost its last zero, so the finest digit of the test counts."""
    finest: dict[tuple[Test, str], float] = {}
    for reading in readings:
        if reading.value is not None:
            key = reading.test, reading.unit
            finest[key] = min(reading.resolution, finest.get(key, math.inf))
    return tuple(
        reading
        if reading.value is None or reading.resolution == finest[reading.test, reading.unit]
        else replace(reading, resolution=finest[reading.test, reading.unit])
        for reading in readings
    )
