"""An invented job with something of everything to print, and the words that then stand on the pages."""

from __future__ import annotations

import io
from datetime import date
from typing import Any
from uuid import UUID, uuid4

from PIL import Image
from pypdf import PdfReader

from barwise.machine.feed import Feed
from barwise.record.entry import Entry, correct, strike
from barwise.record.instruments import Figures, add_instrument
from barwise.record.models import Job, Person
from tests.web.shop import open_invented_job, read

FEED = Feed(1, 15, 10.0)


def a_worked_job(tag: str = "T-100") -> Job:
    """Numbers with and without instruments, one overdue; four brushes; part of a walk; a slip, a strike."""
    job = open_invented_job(tag)
    anna, ben = Person.objects.create(name=f"Anna {tag}"), Person.objects.create(name=f"Ben {tag}")
    fresh = Figures(2.54e-6, 1e-6, 1e-6, date(2026, 3, 1), date(2099, 3, 1))
    old = Figures(2.54e-6, 1e-6, 1e-6, date(2001, 3, 1), date(2002, 3, 1))
    micrometer = add_instrument(f"M-{tag}", "micrometer", fresh, unit="in")
    dial = add_instrument(f"D-{tag}", "dial indicator", old, unit="in")
    at: dict[str, Any] = {"unit": "in", "place_from": "1", "track": "0.5", "instrument": micrometer}
    slip = read(job, "commutator", "diameter", "1.2431", anna, **at).reading
    correct(job, slip.key, Entry(fresh_key(), "commutator", "diameter", "1.2421", **at), ben)
    wrong = read(job, "armature", "shaft-runout", "0.0093", anna, unit="in", instrument=dial, confirmed=True)
    strike(job, wrong.reading.key, fresh_key(), "shaft not seated", ben)
    read(job, "armature", "shaft-runout", "0.0012", anna, unit="in", instrument=dial)
    for place, length in enumerate(("0.655", "0.641", "0.639", "0.652"), start=1):
        read(job, "brushes", "length", length, anna, unit="in", place_from=str(place))
    read(job, "armature", "insulation", "0.21", anna, unit="Mohm")
    read(job, "intake", "turns-by-hand", "stiff", anna)
    for bar in range(1, 13):
        ends = {"place_from": str(bar), "place_to": str(bar + 1)}
        read(job, "armature", "winding", f"3.{50 + bar}", ben, test="drop", unit="mV", feed=FEED, **ends)
    return job


def fresh_key() -> UUID:
    return uuid4()


def a_photo(size: tuple[int, int] = (1600, 1200)) -> bytes:
    """A photo as a tablet sends it."""
    written = io.BytesIO()
    Image.effect_noise(size, 60).convert("RGB").save(written, "JPEG", quality=90)
    return written.getvalue()


def pages_of(pdf: bytes) -> list[str]:
    """The words of each page, with single spaces."""
    return [" ".join(page.extract_text().split()) for page in PdfReader(io.BytesIO(pdf)).pages]


def run_together(words: str) -> str:
    """Without any space, as a line may break anywhere."""
    return "".join(words.split())
