"""Sizes of a unit from job to job."""

from __future__ import annotations

from uuid import uuid4

from barwise.record.entry import Entry, Stored, take_reading
from barwise.record.jobs import close_job, open_job
from barwise.record.models import Job, Person
from barwise.record.sizes_over_jobs import sizes_over_jobs
from tests.record.conftest import Take


def again(job: Job, person: Person, *readings: tuple[str, str, str]) -> Job:
    """The unit once more on the bench, with a few readings."""
    close_job(job)
    second = open_job(job.unit, job.customer, job.sheet, person=person)
    for station, check, text in readings:
        assert isinstance(
            take_reading(second, Entry(uuid4(), station, check, text, unit="in"), person), Stored
        )
    return second


def test_a_size_read_twice_stands_side_by_side_the_oldest_first(job: Job, take: Take, anna: Person) -> None:
    take("commutator", "final-diameter", "1.2440", unit="in")
    second = again(job, anna, ("commutator", "final-diameter", "1.2310"))
    (found,) = sizes_over_jobs(job.unit)
    assert (found.station, found.title) == ("Commutator", "Diameter when done")
    assert [(one.job, one.value, one.decision) for one in found.then] == [
        (job, "1.244 in", "accept"),
        (second, "1.231 in", "accept"),
    ]


def test_what_was_read_on_one_job_only_is_left_out(job: Job, take: Take, anna: Person) -> None:
    take("commutator", "final-diameter", "1.2440", unit="in")
    again(job, anna, ("armature", "shaft-runout", "0.001"))
    assert sizes_over_jobs(job.unit) == ()
