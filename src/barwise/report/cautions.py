"""Cautions that belong to each armature test, shown where the work is done; their words are the route's."""

from __future__ import annotations

from collections.abc import Iterable

from barwise.route.cautions import CODE_FIRST, find_caution

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
    lines = [line for key in keys for line in find_caution(key).lines if line != CODE_FIRST]
    return (*lines, CODE_FIRST) if lines else ()
