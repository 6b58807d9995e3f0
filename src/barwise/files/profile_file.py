"""The profile file: one row for each indicator reading on the commutator, in CSV.

See docs/file-formats.md for the columns. Whatever cannot mean exactly one thing is refused with file, line,
column and what was expected; so are readings that only another unit or a turned-over indicator explains.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np

from barwise.errors import InputError
from barwise.files.commutator_file import CommutatorFile
from barwise.files.csv_rows import DECIMAL_COMMA, WHOLE, Columns, Row, rows, seen
from barwise.files.text import read_text, shown
from barwise.inspect.commutator.profile import Profile, looks_wrapped, unwrapped
from barwise.measure.entered import read_number
from barwise.measure.units import UNITS

KIND = "a CSV file of indicator readings"
COLUMNS = Columns(shown=("bar", "track", "value"), needed=("bar", "track", "value"), unshown=("unit",))
MOST_USUAL_STEP_M = 0.08e-3
MOST_SPAN = 0.03
"""Of the diameter: a larger span of the readings is a wrong unit or no commutator."""


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
    for row in rows(text, name, COLUMNS):
        _check_unit(row, commutator.unit)
        bars.append(_bar(row, commutator.bars))
        tracks.append(_track(row))
        values.append(_value(row))
    if not bars:
        COLUMNS.refuse_empty(text, name)
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


def _bar(row: Row, bars: int) -> int:
    written = row.cells.get("bar", "")
    whole = WHOLE.fullmatch(written)
    if whole is None or not 1 <= int(whole[1]) <= bars:
        row.refuse("bar", seen(written), f"a bar from 1 to {bars}")
    return int(whole[1])


def _track(row: Row) -> float:
    written = row.cells.get("track", "")
    number = read_number(written)
    if number is None or not 0 <= number.value <= 1:
        row.refuse("track", seen(written), "a fraction of the length from the riser end, 0 to 1")
    return number.value


def _value(row: Row) -> float:
    written = row.cells.get("value", "")
    number = read_number(written)
    if number is None or abs(number.value) > 1e6:
        comma = " (a decimal point, not a comma)" if DECIMAL_COMMA.fullmatch(written) else ""
        row.refuse("value", seen(written), f"a number such as -0.0005{comma}")
    return number.value


def _check_unit(row: Row, unit: str) -> None:
    written = row.cells.get("unit", "")
    if written not in ("", unit):
        row.refuse("unit", shown(written), f"{unit}, as the commutator file says: one unit for both files")


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
