"""How the sizes of a unit went down from job to job."""

from __future__ import annotations

from dataclasses import dataclass

from barwise.inspect.checks.wording import number
from barwise.record.models import CheckStanding, Job, Unit
from barwise.record.route_of import route_if_known


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


def sizes_over_jobs(unit: Unit) -> tuple[SizeOverJobs, ...]:
    """The checks against a limit that were read on more than one job of a unit, in the route's order."""
    rows = CheckStanding.objects.filter(job__unit=unit, in_force__gt=0, result__value__isnull=False)
    found: dict[tuple[str, str], list[SizeThen]] = {}
    for row in rows.select_related("job", "result").order_by("job__opened_at", "job_id"):
        result = row.result
        if result is not None and result.value is not None:
            then = SizeThen(row.job, number(result.value, result.unit), result.decision)
            found.setdefault((row.station_key, row.check_key), []).append(then)
    route = route_if_known(Job(family_key=unit.family_key))
    stations = () if route is None else route.family.stations
    limited = ((station, check) for station in stations for check in station.checks if check.limit)
    over = (
        SizeOverJobs(station.title, check.title, tuple(found.get((station.key, check.key), ())))
        for station, check in limited
    )
    return tuple(one for one in over if len(one.then) > 1)
