"""What a unit or a customer brought before: each job with what was decided, and how sizes went down."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from django.core.paginator import Page, Paginator
from django.db.models import Count, Max, Q, QuerySet

from barwise.inspect.checks.wording import number
from barwise.record.history import customer_history, unit_history
from barwise.record.models import CheckStanding, Customer, Disposition, Job, Part, Unit
from barwise.record.route_of import route_of
from barwise.record.standing import CheckStand, JobStand

PER_PAGE = 30


@dataclass(frozen=True)
class Decided:
    """What was decided of a part, at which station."""

    station: str
    disposition: Disposition


@dataclass(frozen=True)
class PastJob:
    """One job, on hand or closed: what was decided, what did not pass, what was fitted."""

    stand: JobStand
    decided: tuple[Decided, ...]
    parts: tuple[Part, ...]

    @property
    def job(self) -> Job:
        """The job itself."""
        return self.stand.job

    @property
    def rejected(self) -> tuple[CheckStand, ...]:
        """Checks whose part did not pass."""
        return self.stand.rejected


@dataclass(frozen=True)
class SizeThen:
    """What one check read on one job."""

    job: Job
    value: str
    decision: str


@dataclass(frozen=True)
class SizeOverJobs:
    """One check over the jobs of a unit, the oldest first."""

    station: str
    title: str
    then: tuple[SizeThen, ...]


def unit_jobs(unit: Unit) -> tuple[PastJob, ...]:
    """The jobs of a unit, the newest first. Five queries, however much was read."""
    return _past(unit_history(unit))


def customer_jobs(customer: Customer) -> tuple[PastJob, ...]:
    """The jobs of a customer, the newest first. Five queries, however much was read."""
    return _past(customer_history(customer))


def sizes_over_jobs(unit: Unit) -> tuple[SizeOverJobs, ...]:
    """The checks against a limit that were read on more than one job of a unit, in the route's order."""
    rows = CheckStanding.objects.filter(job__unit=unit, in_force__gt=0, result__value__isnull=False)
    found: dict[tuple[str, str], list[SizeThen]] = {}
    for row in rows.select_related("job", "result").order_by("job__opened_at", "job_id"):
        result = row.result
        if result is not None and result.value is not None:
            then = SizeThen(row.job, number(result.value, result.unit), result.decision)
            found.setdefault((row.station_key, row.check_key), []).append(then)
    family = route_of(Job(family_key=unit.family_key)).family
    limited = ((station, check) for station in family.stations for check in station.checks if check.limit)
    over = (
        SizeOverJobs(station.title, check.title, tuple(found.get((station.key, check.key), ())))
        for station, check in limited
    )
    return tuple(one for one in over if len(one.then) > 1)


def find_customers(words: str = "", page: int = 1) -> Page[Customer]:
    """A page of the customers whose name or contact holds every word.

    Each comes with `jobs_in_all`, `jobs_on_hand` and `last_came`; those who came last stand first.
    """
    return Paginator(_customers(words), PER_PAGE).get_page(page)


def _customers(words: str) -> QuerySet[Customer]:
    found = Customer.objects.annotate(
        jobs_in_all=Count("jobs"),
        jobs_on_hand=Count("jobs", filter=~Q(jobs__state="closed")),
        last_came=Max("jobs__opened_at"),
    )
    for word in words.split()[:8]:
        found = found.filter(Q(name__icontains=word) | Q(contact__icontains=word))
    return found.order_by("-last_came", "name", "id")


def _past(stands: Sequence[JobStand]) -> tuple[PastJob, ...]:
    jobs = [stand.job for stand in stands]
    decided: dict[int, dict[tuple[str, str], Disposition]] = {}
    for one in Disposition.objects.filter(job__in=jobs).order_by("id"):
        decided.setdefault(one.job_id, {})[one.station_key, one.part] = one  # the newest counts
    parts: dict[int, list[Part]] = {}
    for part in Part.objects.filter(job__in=jobs).order_by("id"):
        parts.setdefault(part.job_id, []).append(part)
    return tuple(
        PastJob(
            stand,
            tuple(_decided(stand, one) for one in decided.get(stand.job.pk, {}).values()),
            tuple(parts.get(stand.job.pk, ())),
        )
        for stand in stands
    )


def _decided(stand: JobStand, one: Disposition) -> Decided:
    titles = {check.station.key: check.station.title for check in stand.checks}
    return Decided(titles.get(one.station_key, one.station_key), one)
