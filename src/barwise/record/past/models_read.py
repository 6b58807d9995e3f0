"""How units of one model read, check by check, and where one of them stands among the others.

The newest `MOST_JOBS` jobs of a model are looked at, in any version of its sheet, so that a page takes as
long after ten years as after one.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

from django.db.models import Count, Q

from barwise.errors import InputError
from barwise.files.text import shown
from barwise.inspect.checks import Limit
from barwise.measure.usual import Rank, Usual, rank, usual
from barwise.record.models import CheckStanding, Job, SheetVersion
from barwise.record.route_of import RouteOfJob, route_of
from barwise.route.family import Check, Station

MOST_JOBS = 200
"""Jobs of a model that are looked at, the newest."""


@dataclass(frozen=True)
class ModelSeen:
    """A model that jobs were done on: its sheet's key and newest title, and how many jobs."""

    key: str
    title: str
    jobs: int


@dataclass(frozen=True)
class UnitRead:
    """What one check came to on one job [SI], as it stands last."""

    job_id: int
    job_number: str
    unit_tag: str
    at: datetime
    value: float
    uncertainty: float | None
    decision: str


@dataclass(frozen=True)
class CheckRead:
    """One check over the jobs of a model.

    Attributes
    ----------
    unit : str
        The unit its numbers are told in: the limit's, else the check's.
    limit : Limit or None
        By the newest version of the sheet.
    units : tuple of UnitRead
        The newest first.
    usual : Usual or None
        Where accepted parts of this model read, or parts that nobody judged; None from too few.
    """

    station: Station
    check: Check
    unit: str
    limit: Limit | None
    units: tuple[UnitRead, ...]
    usual: Usual | None

    @property
    def name(self) -> str:
        """``station.check``."""
        return f"{self.station.key}.{self.check.key}"

    @property
    def refused(self) -> int:
        """How many were rejected."""
        return sum(one.decision == "reject" for one in self.units)

    def of_job(self, job_id: int | None) -> UnitRead | None:
        """What it came to on one job."""
        return next((one for one in self.units if one.job_id == job_id), None)

    def rank(self, value: float, job_id: int | None = None) -> Rank:
        """Where a value stands among the units, but for the one of `job_id`."""
        return rank(value, [other.value for other in self.units if other.job_id != job_id])


def models_seen() -> list[ModelSeen]:
    """Models with jobs, those with most first."""
    counted = Job.objects.exclude(sheet=None).values("sheet__key").annotate(jobs=Count("id"))
    titles = dict(SheetVersion.objects.order_by("version").values_list("key", "title"))
    found = [
        ModelSeen(row["sheet__key"], titles.get(row["sheet__key"], row["sheet__key"]), row["jobs"])
        for row in counted
    ]
    return sorted(found, key=lambda one: (-one.jobs, one.title))


def model_reads(key: str) -> tuple[CheckRead, ...]:
    """Every check with numbers that was read on a job of a model, in the route's order.

    Raises
    ------
    InputError
        If no sheet has this key, or its family is not known to this barwise.
    """
    return tuple(_reads(key, None))


def check_read(key: str, station: str, check: str) -> CheckRead:
    """One check over the jobs of a model. Raises as `model_reads`, or where the route has no such check."""
    route = route_of_model(key)
    route.family.check(station, check)
    found = next(_reads(key, (station, check)), None)
    if found is not None:
        return found
    stage = route.family.station(station)
    return _check_read(route, stage, route.family.check(station, check), [])


def own_history(job: Job, station: str, check: Check) -> CheckRead | None:
    """How other units of a job's model read where its sheet has no limit; None where too few were read."""
    if job.sheet is None or check.entry != "number" or route_of(job).limit(check) is not None:
        return None
    rows = _rows(job.sheet.key, (station, check.key))
    read = [one for *_, one in rows if one.job_id != job.pk]
    route = route_of(job)
    found = _check_read(route, route.family.station(station), check, read)
    return found if found.usual is not None else None


def _reads(key: str, only: tuple[str, str] | None) -> Iterator[CheckRead]:
    route = route_of_model(key)
    read: dict[tuple[str, str], list[UnitRead]] = {}
    for at, check_at, one in _rows(key, only):
        read.setdefault((at, check_at), []).append(one)
    for station, checks in route.stations:
        for check in checks:
            units = read.get((station.key, check.key))
            if units and check.quantity:
                yield _check_read(route, station, check, units)


def _rows(key: str, only: tuple[str, str] | None) -> list[tuple[str, str, UnitRead]]:
    """Station, check and value of each standing result, of the newest job first."""
    newest = list(Job.objects.filter(sheet__key=key).order_by("-id").values_list("id", flat=True)[:MOST_JOBS])
    of_check = Q() if only is None else Q(station_key=only[0], check_key=only[1])
    standings = CheckStanding.objects.filter(
        of_check, job__in=newest, in_force__gt=0, result__value__isnull=False
    )
    rows = standings.order_by("-job_id").values_list(
        "station_key",
        "check_key",
        "job_id",
        "job__number",
        "job__unit__tag",
        "result__made_at",
        "result__value",
        "result__uncertainty",
        "result__decision",
    )
    return [
        (station, check, UnitRead(job, number, tag, at, value, uncertainty, decision))
        for station, check, job, number, tag, at, value, uncertainty, decision in rows
        if value is not None
    ]


def _check_read(route: RouteOfJob, station: Station, check: Check, units: list[UnitRead]) -> CheckRead:
    good = [one.value for one in units if one.decision != "reject"]
    return CheckRead(station, check, told_in(route, check), route.limit(check), tuple(units), usual(good))


def told_in(route: RouteOfJob, check: Check) -> str:
    """The unit a check's numbers are told in: the limit's, else the check's own."""
    limit = route.limit(check)
    return check.unit if limit is None else limit.unit


def route_of_model(key: str) -> RouteOfJob:
    """The route by the newest version of a sheet. Raises as `model_reads`."""
    sheet = SheetVersion.objects.filter(key=key).order_by("-version").first()
    if sheet is None:
        raise InputError("model", shown(key), "the key of a model sheet in this record")
    return route_of(Job(family_key=sheet.family_key, sheet=sheet))
