"""What this shop has seen before of a unit and of a customer. What it shows over many jobs is in `past`."""

from __future__ import annotations

from barwise.record.models import Customer, Job, Unit
from barwise.record.standing import JobStand, stands


def unit_history(unit: Unit) -> list[JobStand]:
    """Jobs of a unit, the newest first, with where each stands or ended."""
    jobs = Job.objects.filter(unit=unit).select_related("unit", "customer", "sheet")
    return stands(jobs.order_by("-opened_at", "-id"))


def customer_history(customer: Customer) -> list[JobStand]:
    """Jobs of a customer, the newest first."""
    jobs = Job.objects.filter(customer=customer).select_related("unit", "customer", "sheet")
    return stands(jobs.order_by("-opened_at", "-id"))
