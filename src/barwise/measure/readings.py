"""One raw observation at the armature, in SI, with what was typed kept beside it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from barwise.machine.feed import Feed

Test = Literal["drop", "induced", "resistance", "ground", "shaft-drop", "blade"]
State = Literal["dark", "lit", "quiet", "buzz"]


@dataclass(frozen=True)
class Reading:
    """One row of a readings file.

    `start` is a bar (a slot for the blade); `end` is the other bar, or None for the shaft or nothing.
    Exactly one of `value` [V or ohm] and `state` is given. `resolution` is the last digit of `value`.
    `line` is its line in the file, which is also the order in which readings were taken.
    """

    test: Test
    start: int
    end: int | None
    value: float | None = None
    state: State | None = None
    resolution: float = 0.0
    feed: Feed | None = None
    entered: str = ""
    unit: str = ""
    line: int = 0
