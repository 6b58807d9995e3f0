"""Whether a reading of a walk belongs with the others: asked while the probes are still on the bars."""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache
from typing import get_args

from barwise.inspect.bar_walk import BarWalk, Odd, WalkTest
from barwise.machine.feed import Feed
from barwise.machine.winding import Winding
from barwise.measure import readings as measured
from barwise.measure.entered import read_number
from barwise.measure.units import find_unit
from barwise.record.in_force import feed_of, in_force, number_text
from barwise.record.models import Reading
from barwise.record.route_of import route_of

_TESTS: tuple[WalkTest, ...] = get_args(WalkTest)


def odd_one_out(reading: Reading) -> Odd | None:
    """Whether a reading of a bar walk is out of family with those of its test and feed; None if not.

    It is a hint to probe again and nothing else: what an odd reading means is for the diagnosis.
    """
    winding = route_of(reading.job).winding
    test = next((known for known in _TESTS if known == reading.test), None)
    if winding is None or test is None or reading.value_si is None:
        return None
    walk = bar_walk(winding, test, feed_of(reading))
    here = _places(walk).get((reading.place_from, reading.place_to))
    if here is None:
        return None
    together = in_force(reading.job, reading.station_key, reading.check_key).filter(
        test=test,
        feed_from=reading.feed_from,
        feed_to=reading.feed_to,
        feed_amps=reading.feed_amps,
    )
    taken = _by_place(walk, together)
    return walk.odd(taken, here) if here in taken else None


@lru_cache(maxsize=64)
def bar_walk(winding: Winding, test: WalkTest, feed: Feed | None) -> BarWalk:
    """The walk of one test; its healthy pattern is worked out once."""
    return BarWalk(winding, test, feed)


@lru_cache(maxsize=64)
def _places(walk: BarWalk) -> dict[tuple[str, str], int]:
    found: dict[tuple[str, str], int] = {}
    for number, (start, end) in enumerate(walk.places):
        other = "shaft" if end is None else str(end)
        found[str(start), other] = found[other, str(start)] = number
    return found


def _by_place(walk: BarWalk, readings: Iterable[Reading]) -> dict[int, measured.Reading]:
    """The latest reading at each place of the walk."""
    places = _places(walk)
    found = {}
    for one in readings:
        at = places.get((one.place_from, one.place_to))
        if at is not None and one.value_si is not None:
            found[at] = _as_measured(one, walk.test)
    return found


def _as_measured(one: Reading, test: WalkTest) -> measured.Reading:
    number, unit = read_number(number_text(one)), find_unit(one.unit)
    step = 0.0 if number is None or unit is None else number.digit * unit.factor
    end = None if one.place_to in ("", "shaft") else int(one.place_to)
    return measured.Reading(test, int(one.place_from), end, one.value_si, None, step, feed_of(one))
