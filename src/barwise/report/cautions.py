"""Cautions that belong to each armature test, shown where the work is done.

Common practice, no source. They do not replace the local electrical code or licensed practice.
"""

from __future__ import annotations

from collections.abc import Iterable

CODE_FIRST = "Local electrical codes and licensed practice come first."

_EXCITER = (
    "A mains-fed exciter or growler can kill: no damaged leads, no bare terminals.",
    "A growler pulls and heats: never run it empty, and switch it on only while you read.",
)
_FEED = (
    "The feed heats the winding: on only while you read. Meter off before the feed: it kicks.",
    "Batteries give explosive gas and burn: make and break the feed away from them.",
)
_INSULATION = (
    "A mains-fed test lamp can kill: use an isolated one that limits the current.",
    "An insulation tester leaves charge: join the winding to the shaft before you touch it.",
)

_FOR_TEST = {
    "drop": _FEED,
    "shaft-drop": _FEED,
    "resistance": (),
    "induced": _EXCITER,
    "blade": _EXCITER,
    "ground": _INSULATION,
}


def cautions_for(tests: Iterable[str]) -> tuple[str, ...]:
    """Cautions for these tests, each once, the electrical code last; empty where nothing can hurt.

    Examples
    --------
    >>> cautions_for(["ground"])[-1]
    'Local electrical codes and licensed practice come first.'
    """
    lines = dict.fromkeys(line for test in tests for line in _FOR_TEST.get(test, ()))
    return (*lines, CODE_FIRST) if lines else ()
