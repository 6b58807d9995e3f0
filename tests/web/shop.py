"""An invented shop for tests of the pages: a name at the bench, a job, readings through the record."""

from __future__ import annotations

import io
import uuid
from typing import Any

from django.test import Client
from PIL import Image

from barwise.machine.feed import Feed
from barwise.record.entry import Entry, Question, Stored, take_reading
from barwise.record.instruments import Figures, add_instrument
from barwise.record.jobs import add_customer, add_unit, open_job
from barwise.record.models import Job, Person
from barwise.record.photos import add_photo
from barwise.record.results import decide_check
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


def jpeg() -> bytes:
    """A small photo."""
    written = io.BytesIO()
    Image.new("RGB", (60, 40), "grey").save(written, "JPEG")
    return written.getvalue()


def one_of_everything() -> dict[str, Any]:
    """An invented shop with one of everything, by what an address calls it."""
    job = open_invented_job()
    person = Person.objects.create(name="Anna (invented)")
    first = read(job, "intake", "turns-by-hand", "stiff", person).reading
    read(job, "commutator", "diameter", "1.2421", person, unit="in", place_from="1", track="0.5")
    read(
        job,
        "armature",
        "winding",
        "3.59",
        person,
        test="drop",
        place_from="1",
        place_to="2",
        feed=Feed(1, 15, 10.0),
    )
    decide_check(job, "armature", "winding")
    photo = add_photo(job, jpeg(), "intake", person=person)
    tool = add_instrument("M-1", "micrometer", Figures(2.54e-6), unit="in", person=person)
    return {
        "job": job.pk,
        "reading": first.key,
        "photo": photo.key,
        "instrument": tool.pk,
        "customer": job.customer_id,
        "unit": job.unit_id,
    }
