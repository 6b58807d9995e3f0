"""Whether a reading of a walk belongs with the others: asked while the probes are still on the bars."""

from __future__ import annotations

from functools import lru_cache
from typing import get_args

from barwise.inspect.bar_walk import BarWalk, Odd, Outlook, WalkTest
from barwise.machine.feed import Feed
from barwise.machine.winding import Winding
from barwise.measure import readings as measured
from barwise.measure.entered import read_number
from barwise.measure.units import find_unit
from barwise.record.in_force import feed_of
from barwise.record.models import Job, Reading
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
    taken = _by_place(walk, reading.job_id, reading.station_key, reading.check_key)
    return walk.odd(taken, here) if here in taken else None


def outlook_of(walk: BarWalk, job: Job, station: str, check: str) -> tuple[Outlook | None, ...]:
    """What each place of a walk should read by the readings in force of its test and feed."""
    return walk.outlook(_by_place(walk, job.pk, station, check))


def step_of(entered: str, unit: str) -> float:
    """Last digit of a number as typed [SI]."""
    number, known = read_number(entered.replace(",", ".")), find_unit(unit)
    return 0.0 if number is None or known is None else number.digit * known.factor


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


def _by_place(walk: BarWalk, job_id: int, station: str, check: str) -> dict[int, measured.Reading]:
    """The latest reading in force at each place of this walk, by its test and feed.

    It runs at every reading taken, so it asks for five columns and makes no more objects than places.
    """
    feed = walk.feed
    together = Reading.objects.filter(
        job_id=job_id,
        station_key=station,
        check_key=check,
        test=walk.test,
        feed_from=None if feed is None else feed.into,
        feed_to=None if feed is None else feed.out,
        feed_amps=None if feed is None else feed.amps,
        superseded_by__isnull=True,
        struck=False,
        value_si__isnull=False,
    )
    places = _places(walk)
    columns = "place_from", "place_to", "value_si", "entered", "unit"
    latest = {}
    for start, end, *rest in together.order_by("seq").values_list(*columns):
        latest[places.get((start, end))] = (start, end, *rest)
    return {at: _as_measured(walk, *row) for at, row in latest.items() if at is not None}


def _as_measured(
    walk: BarWalk, start: str, end: str, value_si: float, entered: str, unit: str
) -> measured.Reading:
    other = None if end in ("", "shaft") else int(end)
    return measured.Reading(walk.test, int(start), other, value_si, None, step_of(entered, unit), walk.feed)
