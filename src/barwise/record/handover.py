"""All that is printed of one rebuild, gathered once: read, decided, done and said, in the route's order.

Nothing is worked out here. Results are those that are kept, answers those they were taken from; what is
out of date says so.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime

from django.utils import timezone

from barwise.inspect.checks import Limit
from barwise.record.approvals import approvals, line_of, title_of
from barwise.record.dispositions import dispositions
from barwise.record.habits import the_shop
from barwise.record.instruments import due
from barwise.record.models import (
    Approval,
    Change,
    CheckStanding,
    Disposition,
    Instrument,
    Job,
    Part,
    Photo,
    Reading,
    Result,
    Shop,
)
from barwise.record.results import WALKS
from barwise.record.route_of import RouteOfJob, route_of
from barwise.record.standing import CheckStand, job_stand
from barwise.record.told_answers import ToldAnswer, told_answer
from barwise.route.deciding import leaning_on
from barwise.route.family import Check, Station
from barwise.version import __version__

WITH_PICTURES = (*WALKS, "run_test.verdict", "cranking.will_it_crank")
"""Checks whose answer is drawn, by how they are taken or decided."""


@dataclass(frozen=True)
class KeptReading:
    """One reading with what became of it.

    Attributes
    ----------
    replaces, replaced_by : Reading or None
        The reading whose place it took; the row that took its own place, or struck it out.
    overdue : bool
        The calibration of its instrument had run out on the day it was taken.
    """

    reading: Reading
    replaces: Reading | None
    replaced_by: Reading | None
    overdue: bool

    @property
    def counts(self) -> bool:
        """Whether it is in force."""
        return self.replaced_by is None


@dataclass(frozen=True)
class FoundBefore:
    """What a check came to before the work on the part: its readings were withdrawn for `reason` since.

    `answer` as of `CheckFile`.
    """

    result: Result
    answer: ToldAnswer | None
    reason: str


@dataclass(frozen=True)
class CheckFile:
    """One check: where it stands, the result that counts, its limit, its answer, and every reading.

    `result` and `answer` are None where nothing was decided, or the answer cannot be had again; `answer` is
    of those only that are drawn. `before` is None where nothing was measured anew after work.
    """

    stand: CheckStand
    result: Result | None
    limit: Limit | None
    answer: ToldAnswer | None
    readings: tuple[KeptReading, ...]
    before: FoundBefore | None = None

    @property
    def check(self) -> Check:
        """What was asked for."""
        return self.stand.check

    @property
    def station(self) -> Station:
        """Where."""
        return self.stand.station

    @property
    def in_force(self) -> tuple[Reading, ...]:
        """The readings that count."""
        return tuple(one.reading for one in self.readings if one.counts)


@dataclass(frozen=True)
class CustomersWord:
    """What the customer said to a price, and the sentence about the choice as it was shown."""

    approval: Approval
    title: str
    line: str


@dataclass(frozen=True)
class RebuildRecord:
    """One rebuild from the door and back to it.

    Attributes
    ----------
    checks : tuple of CheckFile
        In the route's order, those that were not taken among them.
    decided : tuple of Disposition
        What counts of each part.
    words : tuple of CustomersWord
        All of them, the newest first.
    instruments : tuple of Instrument
        Those that took a reading, by tag; a recalibrated one is there with each certificate used.
    changes : tuple of Change
        What else was done to the job, and when.
    gathered_at : datetime
        When this was put together; nothing after it is in it.
    """

    shop: Shop
    job: Job
    route: RouteOfJob
    checks: tuple[CheckFile, ...]
    decided: tuple[Disposition, ...]
    parts: tuple[Part, ...]
    photos: tuple[Photo, ...]
    words: tuple[CustomersWord, ...]
    instruments: tuple[Instrument, ...]
    changes: tuple[Change, ...]
    software_version: str
    gathered_at: datetime

    def check(self, name: str) -> CheckFile | None:
        """One check by its full name, if the route of this model has it."""
        return next((one for one in self.checks if one.stand.name == name), None)

    def length_unit(self, file: CheckFile) -> str:
        """Unit in which the lengths of a commutator are said: the sheet's, else the check's own."""
        facts = self.route.facts.commutator
        return file.check.unit if facts is None else facts.unit


def rebuild_record(job: Job) -> RebuildRecord:
    """Gather all of a job. Ten queries, however much was read, and the pictures' answers where not at hand.

    Raises
    ------
    InputError
        Where the job's family is not known to this version of barwise.
    """
    job = Job.objects.select_related("unit", "customer", "sheet").get(pk=job.pk)
    readings = _readings(job)
    checks = _checks(job, readings)
    of_job = {"job": job}
    return RebuildRecord(
        shop=the_shop(),
        job=job,
        route=route_of(job),
        checks=checks,
        decided=tuple(dispositions(job)),
        parts=tuple(Part.objects.filter(**of_job).order_by("id").select_related("person")),
        photos=tuple(Photo.objects.filter(**of_job).order_by("id").select_related("person")),
        words=tuple(CustomersWord(one, title_of(one), line_of(one)) for one in approvals(job)),
        instruments=_instruments(readings),
        changes=tuple(Change.objects.filter(**of_job).order_by("id").select_related("person")),
        software_version=__version__,
        gathered_at=timezone.now(),
    )


def _readings(job: Job) -> list[Reading]:
    rows = Reading.objects.filter(job=job).select_related("instrument", "person", "supersedes")
    return list(rows.order_by("seq"))


def _checks(job: Job, readings: Iterable[Reading]) -> tuple[CheckFile, ...]:
    by_check = _by_check(readings)
    decided = CheckStanding.objects.filter(job=job, result__isnull=False)
    results = {
        f"{one.station_key}.{one.check_key}": one.result
        for one in decided.select_related("result__sheet", "result__job")
    }
    before = _before(job, readings)
    return tuple(
        _check_file(job, stand, by_check.get(stand.name, ()), results.get(stand.name), before)
        for stand in job_stand(job).checks
    )


def _before(job: Job, readings: Iterable[Reading]) -> Mapping[str, tuple[Result, str]]:
    """By check: the last result before anything it rests on was struck out, and for what reason that was.

    Only where all its own readings no longer count: one bad touch read again is no work on the part.
    """
    strikes = {one.supersedes.seq: one for one in readings if one.struck and one.supersedes is not None}
    if not strikes:
        return {}
    first: dict[str, datetime] = {}
    for one in strikes.values():
        first.setdefault(f"{one.station_key}.{one.check_key}", one.received_at)
    keys = {one.check_key for one in strikes.values()}
    family, found = route_of(job).family, {}
    for result in Result.objects.filter(job=job, check_key__in=keys).select_related("sheet").order_by("id"):
        name = f"{result.station_key}.{result.check_key}"
        rests_on = (name, *leaning_on(family.check(result.station_key, result.check_key)))
        until = min((first[one] for one in rests_on if one in first), default=result.made_at)
        if result.seqs and strikes.keys() >= set(result.seqs) and result.made_at <= until:
            found[name] = (result, strikes[max(result.seqs)].reason)
    return found


def _check_file(
    job: Job,
    stand: CheckStand,
    readings: tuple[KeptReading, ...],
    result: Result | None,
    before: Mapping[str, tuple[Result, str]],
) -> CheckFile:
    route = route_of(job)
    if result is not None and result.sheet_id != job.sheet_id:
        # Decided by an earlier sheet: its limit is the one the decision was held against.
        route = route_of(Job(family_key=job.family_key, sheet=result.sheet))
    drawn = stand.check.entry in WITH_PICTURES or stand.check.decides in WITH_PICTURES
    return CheckFile(
        stand=stand,
        result=result if stand.in_force else None,
        limit=route.limit(stand.check),
        answer=told_answer(result) if result is not None and drawn and stand.in_force else None,
        readings=readings,
        before=_found_before(stand, before, drawn=drawn),
    )


def _found_before(
    stand: CheckStand, before: Mapping[str, tuple[Result, str]], *, drawn: bool
) -> FoundBefore | None:
    """Only where it was read again: what was struck out and left out is no finding."""
    if stand.name not in before or not stand.in_force:
        return None
    result, reason = before[stand.name]
    return FoundBefore(result, told_answer(result) if drawn else None, reason)


def _by_check(readings: Iterable[Reading]) -> Mapping[str, tuple[KeptReading, ...]]:
    """What was read at each check; rows that only withdraw another are told with the one they withdraw."""
    listed = list(readings)
    known = {one.pk: one for one in listed}
    newer = {one.supersedes_id: one for one in listed if one.supersedes_id is not None}
    found: dict[str, list[KeptReading]] = {}
    for one in listed:
        if not one.struck:
            older = None if one.supersedes_id is None else known.get(one.supersedes_id)
            kept = KeptReading(one, older, newer.get(one.pk), _overdue(one))
            found.setdefault(f"{one.station_key}.{one.check_key}", []).append(kept)
    return {name: tuple(some) for name, some in found.items()}


def _overdue(reading: Reading) -> bool:
    tool, day = reading.instrument, timezone.localtime(reading.taken_at).date()
    return tool is not None and due(tool, day) == "overdue"


def _instruments(readings: Iterable[Reading]) -> tuple[Instrument, ...]:
    used = {one.instrument.pk: one.instrument for one in readings if one.instrument is not None}
    return tuple(sorted(used.values(), key=lambda one: (one.tag, one.pk)))
