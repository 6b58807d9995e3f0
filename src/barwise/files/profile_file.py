"""The profile file: one row for each indicator reading on the commutator, in CSV.

See docs/file-formats.md for the columns. Whatever cannot mean exactly one thing is refused with file, line,
column and what was expected; so are readings that only another unit or a turned-over indicator explains.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import NoReturn

import numpy as np

from barwise.errors import InputError
from barwise.files.commutator_file import CommutatorFile
from barwise.files.text import nearest_word, plain, read_text, shown
from barwise.inspect.commutator.profile import Profile, looks_wrapped, unwrapped
from barwise.measure.entered import read_number
from barwise.measure.units import UNITS

COLUMNS = ("bar", "track", "value")
OPTIONAL = ("unit",)
KIND = "a CSV file of indicator readings"
HEADER = ",".join(COLUMNS)
MOST_USUAL_STEP_M = 0.08e-3
MOST_SPAN = 0.03
"""Of the diameter: a larger span of the readings is a wrong unit or no commutator."""

_WHOLE = re.compile(r"(\d{1,9})(?:\.0*)?", re.ASCII)
_COMMA = re.compile(r"[+-]?\d+,\d+", re.ASCII)
_LINE_END = re.compile(r"\r\n|\n|\r")


def load_profile(path: str | Path, commutator: CommutatorFile) -> tuple[Profile, tuple[str, ...]]:
    """Read the indicator readings of one commutator.

    Returns
    -------
    Profile, tuple of str
        The readings in metres, and what was done to them, in words: turns of the indicator undone.

    Raises
    ------
    InputError
        If a row cannot be understood, no track has three bars, or the readings as a whole cannot be those
        of a commutator of this size.
    """
    path = Path(path)
    return parse_profile(read_text(path, KIND), commutator, str(path))


def parse_profile(
    text: str, commutator: CommutatorFile, name: str = "profile.csv"
) -> tuple[Profile, tuple[str, ...]]:
    """Read the text of a profile file, called `name` in messages. Raises as `load_profile`."""
    bars, tracks, values = [], [], []
    for line, cells in _rows(text, name):
        row = _Row(name, line, cells)
        row.check_unit(commutator.unit)
        bars.append(row.bar(commutator.bars))
        tracks.append(row.track())
        values.append(row.value())
    if not bars:
        found = "an empty file" if not text.strip() else "no readings"
        raise InputError(name, found, f"the header {HEADER} and one row for each reading")
    profile = Profile(
        commutator.bars,
        np.array(bars, dtype=np.intp) - 1,
        np.array(tracks),
        np.array(values) * UNITS[commutator.unit].factor,
        commutator.indicator_resolution_m,
    )
    if not any(len(profile.on(track)[0]) >= 3 for track in profile.tracks):
        raise InputError(name, "no track with three bars", "at least one track walked round the bars")
    _check_steps(profile, commutator, name)
    profile, said = _with_turns_undone(profile, commutator, name)
    _check_span(profile, commutator, name)
    return profile, said


class _Row:
    """One line of the file, by column name."""

    def __init__(self, name: str, line: int, cells: dict[str, str]) -> None:
        self.name, self.line, self.cells = name, line, cells

    def refuse(self, column: str, found: str, expected: str) -> NoReturn:
        raise InputError(f"{self.name} line {self.line}, column {column}", found, expected)

    def bar(self, bars: int) -> int:
        written = self.cells.get("bar", "")
        whole = _WHOLE.fullmatch(written)
        if whole is None or not 1 <= int(whole[1]) <= bars:
            self.refuse("bar", _seen(written), f"a bar from 1 to {bars}")
        return int(whole[1])

    def track(self) -> float:
        written = self.cells.get("track", "")
        number = read_number(written)
        if number is None or not 0 <= number.value <= 1:
            self.refuse("track", _seen(written), "a fraction of the length from the riser end, 0 to 1")
        return number.value

    def value(self) -> float:
        written = self.cells.get("value", "")
        number = read_number(written)
        if number is None or abs(number.value) > 1e6:
            comma = " (a decimal point, not a comma)" if _COMMA.fullmatch(written) else ""
            self.refuse("value", _seen(written), f"a number such as -0.0005{comma}")
        return number.value

    def check_unit(self, unit: str) -> None:
        written = self.cells.get("unit", "")
        if written not in ("", unit):
            self.refuse(
                "unit", shown(written), f"{unit}, as the commutator file says: one unit for both files"
            )


def _seen(written: str) -> str:
    return shown(written) if written else "nothing"


def _rows(text: str, name: str) -> Iterator[tuple[int, dict[str, str]]]:
    header: list[str] | None = None
    for line, written in enumerate(_LINE_END.split(text), start=1):
        if written.lstrip().startswith("#"):
            continue
        where = f"{name} line {line}"
        try:
            cells = [cell.strip() for cell in next(csv.reader([written], strict=True), [])]
        except csv.Error as error:
            raise InputError(where, f"text that is not CSV ({error})", "cells between commas") from None
        if not any(cells):
            continue
        if header is None:
            header = _header(cells, written, where)
            continue
        if any(cells[len(header) :]):
            wanted = f"at most {len(header)}, as in the header; decimals need a point, not a comma"
            raise InputError(where, f"{len(cells)} cells", wanted)
        yield line, dict(zip(header, cells, strict=False))


def _header(cells: Sequence[str], written: str, where: str) -> list[str]:
    names = [cell.lower() for cell in cells]
    while names and not names[-1]:
        names.pop()
    if len(names) == 1 and re.search(r"[;\t]", written):
        between = "tabs" if "\t" in written else "semicolons"
        raise InputError(where, f"columns parted by {between}", "columns parted by commas")
    for column in names:
        if column not in (*COLUMNS, *OPTIONAL):
            place = f"{where}, column {plain(column) or 'without a name'}"
            raise InputError(
                place, "an unknown column", f"the header {HEADER}{nearest_word(column, COLUMNS)}"
            )
        if names.count(column) > 1:
            raise InputError(f"{where}, column {column}", "the same column twice", "it once")
    for column in COLUMNS:
        if column not in names:
            raise InputError(where, f"no column {column}", f"the header {HEADER}")
    return names


def _with_turns_undone(
    profile: Profile, commutator: CommutatorFile, name: str
) -> tuple[Profile, tuple[str, ...]]:
    """Ask about readings that look turned over; undo the turns where the file says how long one is."""
    factor, unit = UNITS[commutator.unit].factor, commutator.unit
    if commutator.indicator_turn_m is not None:
        profile, moved = unwrapped(profile, commutator.indicator_turn_m)
        turn = f"{commutator.indicator_turn_m / factor:g} {unit}"
        said = f"The indicator went round: {moved} readings were moved by whole turns of {turn}."
        return profile, (said,) if moved else ()
    jump = looks_wrapped(profile)
    if jump is None:
        return profile, ()
    found = (
        f"a jump of {jump.jump_m / factor:.4g} {unit} from bar {jump.bars[0]} to bar {jump.bars[1]} on track "
        f"{jump.track:g}, about a turn of an indicator of {jump.turn_m / factor:.4g} {unit}"
    )
    wanted = (
        f"readings without a turn; if the indicator went round, write indicator_turn = "
        f"{jump.turn_m / factor:.4g} under [commutator], else read these bars again"
    )
    raise InputError(name, found, wanted)


def _check_span(profile: Profile, commutator: CommutatorFile, name: str) -> None:
    factor, unit = UNITS[commutator.unit].factor, commutator.unit
    diameter = commutator.micrometers[0].diameter_m
    span = float(np.ptp(profile.value_m))
    if span > MOST_SPAN * diameter:
        found = f"a span of {span / factor:.4g} {unit} on a diameter of {diameter / factor:.4g} {unit}"
        raise InputError(name, found, _in_unit(unit))
    steps = np.abs(profile.value_m / profile.resolution_m)
    moving = steps[steps > 1e-9]
    if len(moving) and float(moving.max()) < 0.5:
        found = f"no reading as large as half a graduation, {profile.resolution_m / factor:g} {unit}"
        raise InputError(name, found, _in_unit(unit))


def _check_steps(profile: Profile, commutator: CommutatorFile, name: str) -> None:
    """Steps from bar to bar that are large nearly everywhere are a wrong unit."""
    factor, unit = UNITS[commutator.unit].factor, commutator.unit
    steps = np.concatenate([np.abs(np.diff(profile.on(track)[1])) for track in profile.tracks])
    usual = float(np.quantile(steps, 0.7))
    if usual > MOST_USUAL_STEP_M:
        found = f"steps from bar to bar of {usual / factor:.4g} {unit} or more on a third of the bars"
        raise InputError(name, found, _in_unit(unit))


def _in_unit(unit: str) -> str:
    other = "mm or thou" if unit == "in" else "inch or micrometres"
    named = "inch" if unit == "in" else unit
    return f"readings in {named}, as the commutator file says (are they in {other}?)"
