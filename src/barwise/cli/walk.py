"""A walk round the commutator in the terminal: each reading is on disk before the next prompt.

Nothing typed is lost or deleted: a second reading at the same bars is one more row.
"""

from __future__ import annotations

import sys
from dataclasses import dataclass, field
from pathlib import Path

from barwise.errors import InputError
from barwise.files.readings_file import KIND, parse_readings, read_cells
from barwise.files.readings_log import append_reading, finish_last_line
from barwise.files.text import read_text
from barwise.inspect.bar_walk import FED, BarWalk, Odd, WalkTest, usual_feed
from barwise.machine.feed import Feed
from barwise.machine.winding import Winding
from barwise.measure.entered import read_number
from barwise.measure.readings import Reading
from barwise.measure.units import UNITS, find_unit, names_of
from barwise.report.armature.cautions import cautions_for
from barwise.report.armature.fault_words import ends_in_words

KEYS = "a number and Enter saves; b back, r repeat the last, s skip, g 14 go to bar 14, q quit"
USUAL_UNIT = {"drop": "mV", "induced": "mV", "shaft-drop": "mV", "resistance": "mohm", "ground": ""}
_STATES = {"d": "dark", "dark": "dark", "l": "lit", "lit": "lit"}
_HOW = {
    "drop": "Red lead on the first bar of each pair, black on the second; keep the sign.",
    "induced": "Turn the armature so that each pair is probed at the same place in space.",
    "resistance": "Four-wire: sense tips inside the current tips, no current fed elsewhere.",
    "ground": "One lead on the shaft, the other on the bar: dark (d), lit (l), or 2.5 Mohm.",
    "shaft-drop": "Red lead on the bar, black on the shaft; keep the sign.",
}


@dataclass(frozen=True)
class WalkOptions:
    """What the command line said; None is asked for, or taken from the file."""

    test: WalkTest
    feed_from: int | None = None
    feed_to: int | None = None
    amps: float | None = None
    unit: str | None = None


@dataclass
class _Progress:
    """Where the walk stands: readings by place, where the rebuilder is now and was last."""

    taken: dict[int, Reading] = field(default_factory=dict)
    skipped: set[int] = field(default_factory=set)
    at: int | None = 0
    last: int | None = None

    def next_from(self, count: int, place: int) -> int | None:
        """The next place not yet read or skipped, going round once from `place`."""
        round_trip = [*range(place, count), *range(place)]
        open_places = (n for n in round_trip if n not in self.taken and n not in self.skipped)
        return next(open_places, None)


def walk_in_terminal(winding: Winding, path: Path, options: WalkOptions) -> None:
    """Ask for the readings of one test until all are taken or the rebuilder stops.

    Raises
    ------
    InputError
        If the readings file cannot be read or written, or an option makes no sense.
    """
    _say_if(finish_last_line(path))
    before = _readings_so_far(path, winding)
    try:
        walk = BarWalk(winding, options.test, _feed(winding, before, options))
        unit = _unit(before, options)
        progress = _resume(walk, before)
        _greet(walk, path, progress)
        _ask_all(walk, path, unit, progress)
    except (EOFError, KeyboardInterrupt):
        print()
    _farewell(path, winding, options.test)


def _readings_so_far(path: Path, winding: Winding) -> tuple[Reading, ...]:
    if not path.exists():
        return ()
    return parse_readings(read_text(path, KIND), winding, str(path), may_be_empty=True)


def _feed(winding: Winding, before: tuple[Reading, ...], options: WalkOptions) -> Feed | None:
    """The feed from the options, else as last time in the file, else asked for."""
    asked = options.feed_from, options.feed_to, options.amps
    if options.test not in FED:
        if asked != (None, None, None):
            raise InputError("--feed-from", "a feed", f"none: {options.test} is read with no current fed")
        return None
    last = next((r.feed for r in reversed(before) if r.test == options.test), None)
    usual = usual_feed(winding) if last is None else last
    ask = last is None
    into = _feed_bar(winding, "in at bar", options.feed_from, usual.into, ask=ask)
    out = _feed_bar(winding, "out at bar", options.feed_to, usual.out, ask=ask)
    if into == out:
        raise InputError("--feed-to", f"bar {out} again", "another bar than --feed-from")
    return Feed(into, out, _amps(options.amps, usual.amps, ask=ask))


def _feed_bar(winding: Winding, what: str, given: int | None, usual: int, *, ask: bool) -> int:
    if given is not None:
        if not 1 <= given <= winding.bars:
            raise InputError(f"feed {what}", f"bar {given}", f"a bar from 1 to {winding.bars}")
        return given
    while ask:
        typed = input(f"Current goes {what} [{usual}]: ").strip()
        if not typed:
            break
        if typed.isascii() and typed.isdigit() and 1 <= int(typed[:9]) <= winding.bars:
            return int(typed)
        print(f"  a bar from 1 to {winding.bars}, please")
    return usual


def _amps(given: float | None, usual: float, *, ask: bool) -> float:
    if given is not None:
        if not 0 < given < float("inf"):
            raise InputError("--amps", f"{given:g}", "a current above 0 in amperes")
        return given
    while ask:
        typed = input(f"Current [{usual:g} A]: ").strip().removesuffix("A").strip()
        if not typed:
            break
        number = read_number(typed)
        if number is not None and number.value > 0:
            return number.value
        print("  a current above 0 in amperes, please, such as 10.0")
    return usual


def _unit(before: tuple[Reading, ...], options: WalkOptions) -> str:
    """The unit of every reading of the walk: the file's own, for it holds one for each test."""
    in_file = next((r.unit for r in before if r.test == options.test and r.unit), None)
    if options.test == "ground":
        return ""
    if options.unit is None:
        return in_file or USUAL_UNIT[options.test]
    unit = find_unit(options.unit)
    dimension = UNITS[USUAL_UNIT[options.test]].dimension
    if unit is None or unit.dimension != dimension:
        raise InputError("--unit", f'"{options.unit}"', f"one of {', '.join(names_of(dimension))}")
    if in_file is not None and find_unit(in_file) != unit:
        raise InputError("--unit", f'"{options.unit}"', f"{in_file}, as in the file so far")
    return in_file or unit.name


def _resume(walk: BarWalk, before: tuple[Reading, ...]) -> _Progress:
    progress = _Progress()
    for reading in before:
        place = walk.place_of(reading)
        if place is not None:
            progress.taken[place] = reading
            progress.last = place
    start = 0 if progress.last is None else progress.last
    progress.at = progress.next_from(len(walk.places), start)
    return progress


def _greet(walk: BarWalk, path: Path, progress: _Progress) -> None:
    for line in cautions_for([walk.test]):
        print(f"! {line}")
    print(_HOW[walk.test])
    if walk.feed is not None:
        feed = walk.feed
        print(f"Feed: {feed.amps:g} A in at bar {feed.into}, out at bar {feed.out}.")
    print(f"Each reading is saved to {path} at once. Keys: {KEYS}.")
    if progress.taken:
        print(f"{len(progress.taken)} of {len(walk.places)} places are there already; going on.")


def _ask_all(walk: BarWalk, path: Path, unit: str, progress: _Progress) -> None:
    while True:
        typed = input(_prompt(walk, unit, progress)).strip()
        if typed.lower() in ("q", "quit") or (not typed and progress.at is None):
            return
        if not typed:
            continue
        if not _moved(walk, progress, typed.lower()):
            _take(walk, path, unit, progress, typed)


def _prompt(walk: BarWalk, unit: str, progress: _Progress) -> str:
    if progress.at is None:
        skipped = f", {len(progress.skipped)} skipped" if progress.skipped else ""
        return f"All read{skipped}. Enter ends; b, r or g takes one again > "
    start, end = walk.places[progress.at]
    where = ends_in_words(walk.test, start, end)
    have = progress.taken.get(progress.at)
    again = f", was {have.entered} {have.unit}".rstrip() if have else ""
    return f"{where}{f' [{unit}]' if unit else ''}{again} > "


def _moved(walk: BarWalk, progress: _Progress, typed: str) -> bool:
    """Carry out a key that moves along the walk; False when `typed` is no such key."""
    count = len(walk.places)
    here = progress.last if progress.at is None else progress.at
    if typed == "b":
        progress.at = count - 1 if progress.at is None else (progress.at - 1) % count
    elif typed == "r":
        progress.at = here if progress.last is None else progress.last
    elif typed == "s" and progress.at is not None:
        progress.skipped.add(progress.at)
        progress.at = progress.next_from(count, progress.at)
    elif typed.startswith("g"):
        _go(walk, progress, typed[1:].strip())
    elif typed in ("?", "h", "s"):
        print(f"  {KEYS}")
    else:
        return False
    return True


def _go(walk: BarWalk, progress: _Progress, bar: str) -> None:
    starts = {str(start): n for n, (start, _) in enumerate(walk.places)}
    if bar in starts:
        progress.at = starts[bar]
    else:
        print(f"  g and a bar from 1 to {len(starts)}, please")


def _take(walk: BarWalk, path: Path, unit: str, progress: _Progress, typed: str) -> None:
    """Save what was typed as the reading here and move on, or say what is wrong with it."""
    if progress.at is None:
        print("  all places are read; g 14 goes to bar 14")
        return
    try:
        reading = _reading(walk, progress.at, unit, typed)
    except InputError as error:
        print(f"  not saved: found {error.found}, expected {error.expected}")
        return
    _say_if(append_reading(path, reading))
    progress.taken[progress.at] = reading
    progress.skipped.discard(progress.at)
    progress.last = progress.at
    _say_if_odd(walk.odd(progress.taken, progress.at), reading)
    progress.at = progress.next_from(len(walk.places), progress.at)


def _reading(walk: BarWalk, place: int, unit: str, typed: str) -> Reading:
    start, end = walk.places[place]
    value, typed_unit = _value_and_unit(walk.test, typed, unit)
    feed = walk.feed
    cells = {
        "test": walk.test,
        "from": str(start),
        "to": "shaft" if end is None else str(end),
        "value": value,
        "unit": typed_unit,
        "feed_from": str(feed.into) if feed else "",
        "feed_to": str(feed.out) if feed else "",
        "feed_amps": repr(feed.amps) if feed else "",
    }
    return read_cells(cells, walk.winding, "typed")


def _value_and_unit(test: WalkTest, typed: str, unit: str) -> tuple[str, str]:
    """Split ``2.5 Mohm`` or ``3.59mV``, as gauges that type like a keyboard send them."""
    if test == "ground" and typed.lower() in _STATES:
        return _STATES[typed.lower()], ""
    value = typed.rstrip("".join(c for c in typed if c.isalpha() or c in "\N{MICRO SIGN}")).rstrip()
    written = typed[len(value) :].strip()
    if not written or read_number(value) is None:
        return typed, unit
    if unit and find_unit(written) != find_unit(unit):
        raise InputError("unit", f'"{written}"', f"{unit}: one unit for the whole walk")
    return value, unit or written


def _say_if_odd(odd: Odd | None, reading: Reading) -> None:
    if odd is None:
        return
    bell = "\a" if sys.stdout.isatty() else ""
    unit = find_unit(reading.unit)
    factor = 1.0 if unit is None else unit.factor
    about = f"{odd.expected / factor:.3g} {reading.unit}"
    print(f"{bell}  OUT OF FAMILY: {reading.entered} where about {about} was expected. ", end="")
    print("Saved. r reads it again; or go on.")


def _say_if(note: str | None) -> None:
    if note:
        print(note)


def _farewell(path: Path, winding: Winding, test: WalkTest) -> None:
    count = sum(reading.test == test for reading in _readings_so_far(path, winding))
    what = "reading is" if count == 1 else "readings are"
    print(f"{count} {test} {what} saved in {path}.")
