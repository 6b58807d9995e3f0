"""How rebuilds went: right the first time, and come back; by model and by month."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import pairwise

from django.utils import timezone

from barwise.measure.proportion import Proportion, proportion
from barwise.record.models import Job, Result
from barwise.record.route_of import route_if_known

LOOKED_BACK = timedelta(days=730)
"""Jobs closed longer ago are left out: the shop of two years ago was another."""
COMES_BACK = timedelta(days=365)
"""A unit that is taken in again within this time of its last rebuild came back."""

ENOUGH_FOR_MONTHS = 200
"""Jobs in two years from which on a month of them says something."""


@dataclass(frozen=True)
class Closed:
    """A job that was closed: what refused it after assembly, and when its unit was taken in again."""

    number: str
    unit_tag: str
    model: str
    closed_at: datetime
    refused: tuple[str, ...]
    back_at: datetime | None
    back_as: str

    @property
    def right(self) -> bool:
        """Right the first time: nothing at assembly, run test or handover was ever rejected."""
        return not self.refused

    def came_back(self) -> bool:
        """Within the time that counts."""
        return self.back_at is not None and self.back_at - self.closed_at <= COMES_BACK

    def is_old_enough(self, now: datetime) -> bool:
        """Whether the time that counts has passed since."""
        return now - self.closed_at >= COMES_BACK


@dataclass(frozen=True)
class Share:
    """One bar of a picture: what it is of, right the first time, and come back."""

    label: str
    right: Proportion
    back: Proportion


@dataclass(frozen=True)
class Rebuilds:
    """All of it.

    Attributes
    ----------
    jobs : tuple of Closed
        The newest first.
    whole : Share
        Of all.
    by_model, by_time : tuple of Share
        Models with most jobs first; months in order, or quarters where months hold too few.
    young : int
        Jobs closed too short a time ago to be counted among those that came back or did not.
    """

    jobs: tuple[Closed, ...]
    whole: Share
    by_model: tuple[Share, ...]
    by_time: tuple[Share, ...]
    young: int


def rebuilds(now: datetime | None = None) -> Rebuilds:
    """How the jobs went that were closed within two years."""
    now = now or timezone.now()
    jobs = _closed(now)
    counts = Counter(one.model for one in jobs)
    by_model = sorted({one.model for one in jobs}, key=lambda model: (-counts[model], model))
    when = _month if len(jobs) >= ENOUGH_FOR_MONTHS else _quarter
    times = sorted({when(one) for one in jobs})
    return Rebuilds(
        jobs=jobs,
        whole=_share("all", jobs, now),
        by_model=tuple(_share(model, _of(jobs, lambda one: one.model, model), now) for model in by_model),
        by_time=tuple(_share(time, _of(jobs, when, time), now) for time in times),
        young=sum(not one.is_old_enough(now) for one in jobs),
    )


def _share(label: str, jobs: Iterable[Closed], now: datetime) -> Share:
    listed = list(jobs)
    old = [one for one in listed if one.is_old_enough(now)]
    right = proportion(sum(one.right for one in listed), len(listed))
    return Share(label, right, proportion(sum(one.came_back() for one in old), len(old)))


def _of(jobs: Iterable[Closed], key: Callable[[Closed], str], wanted: str) -> list[Closed]:
    return [one for one in jobs if key(one) == wanted]


def _month(one: Closed) -> str:
    return f"{timezone.localtime(one.closed_at):%Y-%m}"


def _quarter(one: Closed) -> str:
    at = timezone.localtime(one.closed_at)
    first = 3 * ((at.month - 1) // 3) + 1
    return f"{at.year}, months {first:02d} to {first + 2:02d}"


def _closed(now: datetime) -> tuple[Closed, ...]:
    jobs = Job.objects.filter(state="closed", closed_at__gte=now - LOOKED_BACK)
    listed = list(jobs.select_related("unit", "sheet").order_by("-closed_at", "-id"))
    refused = _refused(listed)
    again = _taken_in_again(listed)
    return tuple(
        Closed(
            number=job.number,
            unit_tag=job.unit.tag,
            model=job.family_key if job.sheet is None else job.sheet.title,
            closed_at=job.closed_at or now,
            refused=tuple(sorted(refused.get(job.pk, ()))),
            back_at=None if job.pk not in again else again[job.pk].opened_at,
            back_as="" if job.pk not in again else again[job.pk].number,
        )
        for job in listed
    )


def _refused(jobs: list[Job]) -> dict[int, set[str]]:
    """By job: the checks after the parts were put together that rejected it at any time."""
    last = {family: _after_assembly(family) for family in {job.family_key for job in jobs}}
    stations = {station for some in last.values() for station in some}
    oldest = min((job.opened_at for job in jobs), default=None)
    if oldest is None:
        return {}
    rows = Result.objects.filter(decision="reject", station_key__in=stations, made_at__gte=oldest)
    family = {job.pk: job.family_key for job in jobs}
    found: dict[int, set[str]] = {}
    for job_id, station, check in rows.values_list("job_id", "station_key", "check_key").distinct():
        if station in last.get(family.get(job_id, ""), ()):
            found.setdefault(job_id, set()).add(f"{station}.{check}")
    return found


def _after_assembly(family_key: str) -> tuple[str, ...]:
    """Stations after the last one that is about a part: assembly, run test, handover."""
    route = route_if_known(Job(family_key=family_key))
    stations = () if route is None else route.family.stations
    parts = [place for place, one in enumerate(stations) if not one.whole_unit]
    return tuple(one.key for one in stations[(parts[-1] + 1 if parts else 0) :])


def _taken_in_again(jobs: list[Job]) -> dict[int, Job]:
    """By closed job: the next job of its unit."""
    units = Job.objects.filter(unit__in={job.unit_id for job in jobs})
    order: dict[int, list[Job]] = {}
    for job in units.only("unit_id", "number", "opened_at").order_by("opened_at", "id"):
        order.setdefault(job.unit_id, []).append(job)
    return {before.pk: after for of_unit in order.values() for before, after in pairwise(of_unit)}
