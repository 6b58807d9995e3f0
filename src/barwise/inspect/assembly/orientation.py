"""Does it go together as it came apart: rotation and where the switch sits, against the marks of teardown.

A nose put on a bolt hole further round fits everywhere but on the engine, and a starter that turns the other
way grinds its pinion: both are found on the bench for nothing, or at the customer's. Common practice, no
source.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from barwise.inspect.finding import Finding

WAYS = ("clockwise", "anticlockwise")
HOURS = tuple(f"{hour} o'clock" for hour in range(1, 13))
_CLOCK = re.compile(r"(\d{1,2})(?::(00|30))?\s*(?:o'?clock)?", re.IGNORECASE)


@dataclass(frozen=True)
class Marks:
    """What was marked at teardown and what is found at assembly, such as ``clockwise`` or ``2 o'clock``."""

    name: str
    marked: str
    found: str


def same_mark(marked: str, found: str) -> bool:
    """Whether two answers say the same: letter case, spaces and the way of writing a clock do not count.

    Examples
    --------
    >>> same_mark("2 o'clock", "2:00"), same_mark("2:30", "2 o'clock"), same_mark("Clockwise", "clockwise ")
    (True, False, True)
    """
    return _plain(marked) == _plain(found)


def is_hour(written: str) -> bool:
    """Whether it is a place on a clock's face, from 1 to 12.

    Examples
    --------
    >>> is_hour("2:30"), is_hour("12 o'clock"), is_hour("13 o'clock"), is_hour("left")
    (True, True, False, False)
    """
    clock = _CLOCK.fullmatch(" ".join(written.casefold().split()))
    return clock is not None and 1 <= int(clock[1]) <= 12


def compare_marks(marks: Marks) -> Finding:
    """Accept where they are the same, reject where they differ.

    Examples
    --------
    >>> compare_marks(Marks("switch", "2 o'clock", "3 o'clock")).outcome
    'reject'
    """
    name = f"{marks.name[:1].upper()}{marks.name[1:]}"
    if same_mark(marks.marked, marks.found):
        return Finding(marks.name, "accept", f"{name}: {marks.found}, as marked at teardown.")
    line = f"{name}: {marks.found}, but {marks.marked} was marked at teardown."
    return Finding(marks.name, "reject", line, "Take it apart again and turn it to the marks.")


def _plain(written: str) -> tuple[str, str]:
    words = " ".join(written.casefold().split())
    clock = _CLOCK.fullmatch(words)
    return (clock[1], clock[2] or "00") if clock else (words, "")
