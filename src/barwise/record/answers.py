"""The answer of a walk as it was kept: from which readings, sheet and version, and what came in since.

A result keeps what it was made from and not its pictures. The whole answer stays at hand where it was worked
out; after a restart it is worked out again from exactly those readings, and shown only where the fingerprint
proves that they are the same.
"""

from __future__ import annotations

from collections import OrderedDict
from contextlib import suppress
from dataclasses import dataclass
from threading import Lock
from typing import Generic, TypeVar

from django.db import DatabaseError

from barwise.errors import BarwiseError
from barwise.inspect.checks import Outcome
from barwise.record.models import CheckStanding, Job, Reading, Result
from barwise.record.results import (
    Inputs,
    as_outcome,
    decide_whole,
    inputs_of,
    newest_result,
    of_checks,
    outcome_of,
)
from barwise.record.route_of import RouteOfJob, route_if_known, route_of
from barwise.route.deciding import leaning_on
from barwise.route.family import Check
from barwise.version import __version__

Made = TypeVar("Made")

MOST_AT_HAND = 16
"""Whole answers kept at hand, so that a page opened again costs nothing."""


class AtHand(Generic[Made]):
    """What was made of the latest results, such as whole answers, for all threads of the server.

    By number and fingerprint of the result: in another database, such as a copy brought back, a number is
    another's. None stands for an answer that cannot be had again.
    """

    def __init__(self, most: int = MOST_AT_HAND) -> None:
        self._most, self._kept, self._lock = most, OrderedDict[tuple[int, str], Made | None](), Lock()

    def __contains__(self, result: Result) -> bool:
        return (result.pk, result.fingerprint) in self._kept

    def get(self, result: Result) -> Made | None:
        """What was made of a result."""
        return self._kept.get((result.pk, result.fingerprint))

    def keep(self, result: Result, whole: Made | None) -> None:
        """Keep what was made, and let go of the oldest."""
        with self._lock:
            self._kept[result.pk, result.fingerprint] = whole
            while len(self._kept) > self._most:
                self._kept.popitem(last=False)

    def clear(self) -> None:
        """Keep none."""
        with self._lock:
            self._kept.clear()


at_hand = AtHand[Outcome]()


@dataclass(frozen=True)
class KeptAnswer:
    """The newest answer of one check.

    Attributes
    ----------
    whole : Outcome or None
        With its diagnosis or plan; None where another version of barwise made it.
    since : tuple of str
        What came in after it was worked out, a few words each; empty where it is up to date.
    route : RouteOfJob
        As it was judged: by the sheet of the result.
    """

    result: Result
    whole: Outcome | None
    since: tuple[str, ...]
    route: RouteOfJob


def work_out(job: Job, station: str, check: str) -> Result:
    """Decide a check from all that was read by now; the page that shows it next has its answer at hand.

    Raises
    ------
    InputError
        If the route has no such check, or its limit is in a unit of another quantity.
    """
    worked = decide_whole(job, station, check)
    if worked.whole is not None:
        at_hand.keep(worked.result, worked.whole)
    return worked.result


def catch_up(job: Job, while_reading: str = "") -> bool:
    """Decide what is slow to decide and was not decided yet; whoever looks next finds it kept.

    Entering a reading decides such a check never: the reading is on the disk first, and no bench waits for
    another's answer. What cannot be decided, or not be kept just now, stays open.

    Parameters
    ----------
    while_reading : str
        Full name of a check that is being read: what leans on it waits, for more of it may come.

    Returns
    -------
    bool
        Whether anything was decided.
    """
    route = route_if_known(job)
    if route is None:
        return False
    slow = {f"{station.key}.{one.key}": one for station, some in route.stations for one in some if one.slow}
    slow = {name: one for name, one in slow.items() if while_reading not in leaning_on(one)}
    if not slow:
        return False
    decided = False
    standings = CheckStanding.objects.filter(of_checks(slow), job=job, in_force__gt=0)
    for standing in standings:
        if standing.result_id is None or standing.out_of_date:
            with suppress(BarwiseError, DatabaseError):
                work_out(job, standing.station_key, standing.check_key)
                decided = True
    return decided


def kept_answer(job: Job, station: str, check: str) -> KeptAnswer | None:
    """The newest answer kept; None where nothing was worked out yet. Raises as `work_out`."""
    result = newest_result(job, station, check)
    if result is None:
        return None
    asked = route_of(job).family.check(station, check)
    return KeptAnswer(result, whole_answer(result), _since(job, asked, result), _route_of_result(result))


def whole_answer(result: Result) -> Outcome | None:
    """The answer a result was taken from; None where it cannot be had again exactly."""
    if result.software_version != __version__:
        return None
    if result not in at_hand:
        at_hand.keep(result, _worked_out_again(result))
    return at_hand.get(result)


def _worked_out_again(result: Result) -> Outcome | None:
    result = Result.objects.select_related("job", "sheet").get(pk=result.pk)
    route = _route_of_result(result)
    try:
        inputs = _inputs_then(result, route)
        if inputs.fingerprint != result.fingerprint:
            return None
        return outcome_of(route, inputs)
    except BarwiseError:
        return None


def _inputs_then(result: Result, route: RouteOfJob) -> Inputs:
    """What went into a result, from the readings and the outcomes that were there when it was made."""
    job, check = result.job, route.family.check(result.station_key, result.check_key)
    job.sheet = result.sheet
    readings = Reading.objects.filter(job=job, seq__in=result.seqs).select_related("instrument")
    context = {}
    for name in leaning_on(check):
        station, _, key = name.partition(".")
        before = Result.objects.filter(job=job, station_key=station, check_key=key, pk__lt=result.pk)
        leaned_on = before.order_by("-id").first()
        if leaned_on is not None and leaned_on.decision != "not taken":
            context[name] = as_outcome(leaned_on)
    return inputs_of(job, result.station_key, check, list(readings.order_by("seq")), context)


def _route_of_result(result: Result) -> RouteOfJob:
    job = Job(family_key=result.job.family_key, sheet=result.sheet)
    return route_of(job)


def _standing(job: Job, station: str, check: str) -> CheckStanding:
    found = CheckStanding.objects.filter(job=job, station_key=station, check_key=check).first()
    return found or CheckStanding(job=job, station_key=station, check_key=check)


def _since(job: Job, check: Check, result: Result) -> tuple[str, ...]:
    if not _standing(job, result.station_key, check.key).out_of_date:
        return ()
    # Corrections and withdrawals are rows of their own, so they count as well.
    came = Reading.objects.filter(job=job, seq__gt=max(result.seqs, default=0))
    own = came.filter(station_key=result.station_key, check_key=check.key).count()
    said = []
    if own:
        said.append("one reading came in" if own == 1 else f"{own} readings came in")
    if any(_read_again(job, name, result) for name in leaning_on(check)):
        said.append("a check it leans on was read again")
    if result.sheet_id != job.sheet_id:
        said.append("the job was given another sheet")
    return tuple(said) or ("something it rests on changed",)


def _read_again(job: Job, name: str, result: Result) -> bool:
    station, _, check = name.partition(".")
    rows = Reading.objects.filter(job=job, station_key=station, check_key=check)
    return rows.filter(received_at__gt=result.made_at).exists()
