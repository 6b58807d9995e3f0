"""The jobs on hand, a page at a time, and the search for one by tag, serial, customer or number."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from django.core.paginator import Page, Paginator
from django.db.models import Q
from django.utils import timezone

from barwise.record.models import Job
from barwise.record.overview import following
from barwise.record.standing import CheckStand, JobStand, stands

PER_PAGE = 20


@dataclass(frozen=True)
class JobRow:
    """One job of the list.

    Attributes
    ----------
    following : CheckStand or None
        The check that comes next; None where all were taken.
    missing : str
        Why its route cannot be read here; empty where it can.
    questions, rejected : int
        Checks left undecided, and checks whose part does not pass.
    days : int
        On hand; for a closed job the days it took.
    """

    job: Job
    following: CheckStand | None
    missing: str
    questions: int
    rejected: int
    days: int


@dataclass(frozen=True)
class Found:
    """One page of jobs; `page` knows how many there are and whether others follow."""

    page: Page[Job]
    rows: list[JobRow]


def find_jobs(words: str = "", page: int = 1, *, closed: bool = False) -> Found:
    """A page of the jobs whose tag, serial, customer or number holds every word; the oldest first.

    Closed jobs come the latest first. The number of queries does not depend on how many jobs there are.
    """
    jobs = Job.objects.select_related("unit", "customer", "sheet")
    if closed:
        jobs = jobs.filter(state="closed").order_by("-closed_at", "-id")
    else:
        jobs = jobs.filter(state__in=("open", "waiting")).order_by("opened_at", "id")
    for word in words.split()[:8]:
        jobs = jobs.filter(
            Q(unit__tag__icontains=word)
            | Q(unit__serial__icontains=word)
            | Q(customer__name__icontains=word)
            | Q(number__icontains=word)
        )
    found = Paginator(jobs, PER_PAGE).get_page(page)
    return Found(found, [_row(stand) for stand in stands(found.object_list)])


def days_on_hand(opened_at: datetime, until: datetime | None = None) -> int:
    """Days since a unit came in, counted by the calendar: one that came in yesterday evening has 1."""
    last = timezone.localdate(until) if until else timezone.localdate()
    return (last - timezone.localdate(opened_at)).days


def _row(stand: JobStand) -> JobRow:
    return JobRow(
        job=stand.job,
        following=following(stand),
        missing=stand.missing,
        questions=len(stand.questions),
        rejected=len(stand.rejected),
        days=days_on_hand(stand.job.opened_at, stand.job.closed_at),
    )
