"""An invented past for an invented shop: closed jobs on one model, for a history with something in it.

Nothing in it is real. The second micrometer begins to read high, three rebuilds were not right the first
time, two units came back.
"""

from __future__ import annotations

import uuid
from collections.abc import Iterator
from datetime import datetime, timedelta

import numpy as np
from django.db import transaction
from django.utils import timezone

from barwise.measure.units import UNITS
from barwise.record.dispositions import decide_part
from barwise.record.entry import Entry, Question, take_reading
from barwise.record.instruments import Figures, add_instrument
from barwise.record.jobs import add_customer, add_unit, close_job, open_job
from barwise.record.models import Instrument, Job, Person
from barwise.record.refusals import RecordError
from barwise.record.sheets import store_sheet
from barwise.record.withdrawals import take_anew
from barwise.route.sheet import built_in_text

MODEL = "demo-57-wave"
JOBS, MONTHS = 36, 22
_IN = UNITS["in"].factor
_WORN_FROM, _WORN_BY = 18, 0.0050
"""From which job on the second micrometer reads high, and by how many inches."""
_NOT_RIGHT = (5, 14, 29)
_CAME_BACK = {20: 6, 27: 13}
"""Job to the earlier one whose unit it is."""


@transaction.atomic
def invented_past(jobs: int = JOBS) -> list[Job]:
    """Add closed jobs to an invented shop, the oldest first."""
    person = Person.objects.get_or_create(name="Vera (invented)", defaults={"role": "bench"})[0]
    tools = _micrometers(person)
    scatter = np.random.default_rng(57)
    made: list[Job] = []
    for number in range(jobs):
        made.append(_one(number, jobs, made, tools, scatter, person))
    return made


def _micrometers(person: Person) -> tuple[Instrument, Instrument]:
    figures = Figures(0.0001 * _IN, 0.00004 * _IN, 0.00005 * _IN)
    kept = Instrument.objects.filter(tag="M1", retired=False).first()
    first = kept or add_instrument("M1", "micrometer 1-2 in", figures, "length", "in", person)
    return first, add_instrument("M2", "micrometer 1-2 in", figures, "length", "in", person)


def _one(
    number: int,
    jobs: int,
    before: list[Job],
    tools: tuple[Instrument, Instrument],
    scatter: np.random.Generator,
    person: Person,
) -> Job:
    opened = timezone.now() - timedelta(days=30.4 * MONTHS * (1 - number / jobs) + 12)
    again = before[_CAME_BACK[number]] if number in _CAME_BACK else None
    sheet = store_sheet(built_in_text(MODEL), person, MODEL)
    unit = again.unit if again else add_unit(f"PAST-{number + 1}", sheet.family_key, "", sheet.title, person)
    unit.invented = True
    unit.save(update_fields=["invented"])
    customer = add_customer("Invented Fleet", "invented", person, invented=True)
    job = open_job(unit, customer, sheet, "Invented: cranks slowly.", person, invented=True)
    job.opened_at = opened
    job.save(update_fields=["opened_at"])
    tool = tools[number % 2]
    high = _WORN_BY if number % 2 and number >= _WORN_FROM else 0.0
    for entry in _readings(scatter, tool, high, opened):
        _take(job, entry, person)
    for station, word in _decided(scatter):
        decide_part(job, station, word, "invented", person=person)
    if number in _NOT_RIGHT:
        high_current = _entry("run", "no-load-current", "97", "A", opened)
        _take_anew(job, high_current, "run once more", person)
        _take_anew(job, _entry("run", "no-load-current", "72", "A", opened), "brushes bedded", person)
    return close_job(job, person, at=opened + timedelta(days=4))


def _readings(scatter: np.random.Generator, tool: Instrument, high: float, at: datetime) -> Iterator[Entry]:
    """One unit's readings, scattered as rebuilt units of one model are."""
    diameter = scatter.normal(1.2405, 0.0022) + high
    for check, track in (("diameter", "0.5"), ("final-diameter", "")):
        place = {"place_from": "1", "track": track} if track else {}
        size = diameter - (0 if track else 0.004)
        yield _entry("commutator", check, f"{size:.4f}", "in", at, instrument=tool, **place)
    yield _entry("teardown", "end-play-found", f"{abs(scatter.normal(0.022, 0.005)):.4f}", "in", at)
    yield _entry("assembly", "pinion-clearance", f"{scatter.normal(0.075, 0.012):.4f}", "in", at)
    yield _entry("run", "no-load-current", f"{scatter.normal(70, 3.5):.0f}", "A", at)
    yield _entry("run", "no-load-speed", f"{scatter.normal(4600, 130):.0f}", "rpm", at)


def _decided(scatter: np.random.Generator) -> Iterator[tuple[str, str]]:
    for station, share in (("brushes", 0.7), ("bearings", 0.45), ("switch", 0.25), ("armature", 0.12)):
        yield station, "replace" if scatter.random() < share else "reuse"


def _entry(station: str, check: str, text: str, unit: str, at: datetime, **more: object) -> Entry:
    return Entry(uuid.uuid4(), station, check, text, unit=unit, taken_at=at, confirmed=True, **more)  # type: ignore[arg-type]


def _take(job: Job, entry: Entry, person: Person) -> None:
    _asked(take_reading(job, entry, person))


def _take_anew(job: Job, entry: Entry, reason: str, person: Person) -> None:
    _asked(take_anew(job, entry, reason, person))


def _asked(answer: object) -> None:
    if isinstance(answer, Question):
        raise RecordError(f"demo: {answer.ask}")
