"""What this shop has seen before: of a unit, of a customer, and of one check on one model."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from barwise.record.models import CheckStanding, Customer, Job, Unit
from barwise.record.standing import JobStand, stands

MOST_MEASURED = 200
"""Newest results of a check that are looked at."""


@dataclass(frozen=True)
class Measured:
    """One earlier result of a check on the same model."""

    job_number: str
    unit_tag: str
    made_at: datetime
    value: float
    uncertainty: float | None
    unit: str
    decision: str


def unit_history(unit: Unit) -> list[JobStand]:
    """Jobs of a unit, the newest first, with where each stands or ended."""
    jobs = Job.objects.filter(unit=unit).select_related("unit", "customer", "sheet")
    return stands(jobs.order_by("-opened_at", "-id"))


def customer_history(customer: Customer) -> list[JobStand]:
    """Jobs of a customer, the newest first."""
    jobs = Job.objects.filter(customer=customer).select_related("unit", "customer", "sheet")
    return stands(jobs.order_by("-opened_at", "-id"))


def measured_before(job: Job, station: str, check: str) -> list[Measured]:
    """What this check came to on other jobs with the same model sheet, in any version, the newest first."""
    if job.sheet is None:
        return []
    found = CheckStanding.objects.filter(
        station_key=station,
        check_key=check,
        job__sheet__key=job.sheet.key,
        result__value__isnull=False,
    )
    rows = found.exclude(job=job).select_related("job__unit", "result").order_by("-result_id")
    return [_measured(row) for row in rows[:MOST_MEASURED]]


def _measured(row: CheckStanding) -> Measured:
    result = row.result
    assert result is not None  # the query asks for rows with a result
    assert result.value is not None
    return Measured(
        job_number=row.job.number,
        unit_tag=row.job.unit.tag,
        made_at=result.made_at,
        value=result.value,
        uncertainty=result.uncertainty,
        unit=result.unit,
        decision=result.decision,
    )
