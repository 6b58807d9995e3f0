"""An invented shop for tests of the pages: a name at the bench, a job, readings through the record."""

from __future__ import annotations

import uuid
from typing import Any

from django.test import Client

from barwise.record.entry import Entry, Question, Stored, take_reading
from barwise.record.jobs import add_customer, add_unit, open_job
from barwise.record.models import Job, Person
from barwise.record.sheets import store_sheet
from barwise.route.sheet import dump_sheet, load_sheet


def bench_client(name: str = "Anna (invented)") -> Client:
    """A browser at this computer with somebody's name picked."""
    client = Client(HTTP_HOST="localhost")
    client.post("/who", {"name": name})
    return client


def open_invented_job(
    tag: str = "T-100", sheet: str = "demo-57-wave", customer: str = "Invented Farm"
) -> Job:
    """A job on hand; without a sheet where `sheet` is empty."""
    version = store_sheet(dump_sheet(load_sheet(sheet))) if sheet else None
    unit = add_unit(tag, "starter", serial=f"S-{tag}", invented=True)
    return open_job(
        unit, add_customer(customer, invented=True), version, "cranks slowly when hot", invented=True
    )


def read(job: Job, station: str, check: str, text: str, person: Person | None = None, **more: Any) -> Stored:
    """Take a reading; a question is a failure."""
    answer = take_reading(job, Entry(uuid.uuid4(), station, check, text, **more), person)
    assert not isinstance(answer, Question), answer.ask
    return answer
