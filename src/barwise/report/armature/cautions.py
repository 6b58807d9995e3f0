"""Cautions that belong to each armature test, shown where the work is done; their words are the route's."""

from __future__ import annotations

from collections.abc import Iterable

from barwise.route.cautions import lines_of

_FOR_TEST = {
    "drop": "feed",
    "shaft-drop": "feed",
    "induced": "exciter",
    "blade": "exciter",
    "ground": "insulation",
}


def cautions_for(tests: Iterable[str]) -> tuple[str, ...]:
    """Cautions for these tests, each once, the electrical code last; empty where nothing can hurt.

    Examples
    --------
    >>> cautions_for(["ground"])[-1]
    'Local electrical codes and licensed practice come first.'
    """
    keys = dict.fromkeys(_FOR_TEST[test] for test in tests if test in _FOR_TEST)
    return lines_of(keys)
