"""Links from an answer to the place in the walk that it speaks of."""

from __future__ import annotations

from django.urls import reverse

from barwise.errors import BarwiseError
from barwise.machine.feed import Feed
from barwise.record.models import Job
from barwise.record.walking import Stop, walk_plan
from barwise.web.walk_page import setup_query


def bar_link(
    job: Job, station: str, check: str, test: str, start: int, end: int | None, feed: Feed | None
) -> str:
    """Address of a walk round the bars with one pair of bars, or one slot, to be read next."""
    said = {"test": test}
    if feed is not None:
        said |= {"feed_from": str(feed.into), "feed_to": str(feed.out), "feed_amps": repr(feed.amps)}
    other = "" if test == "blade" else "shaft" if end is None else str(end)
    return _link(job, station, check, said, Stop(str(start), other, ""))


def track_link(job: Job, station: str, check: str, bar: int, track: float) -> str:
    """Address of a walk with the dial with one bar of one track to be read next."""
    at = f"{track:.4g}"
    return _link(job, station, check, {"tracks": at}, Stop(str(bar), "", at))


def _link(job: Job, station: str, check: str, said: dict[str, str], stop: Stop) -> str:
    walk = reverse("walk", args=[job.pk, station, check])
    try:
        plan = walk_plan(job, station, check, said)
    except BarwiseError:
        return walk  # the walk's own page says what is missing
    query = setup_query(plan.setup)
    if stop in plan.stops:
        query["at"] = str(plan.stops.index(stop))
    return reverse("walk", args=[job.pk, station, check], query=query)
