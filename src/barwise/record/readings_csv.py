"""All readings of a job in force as one table for a spreadsheet or another program."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator

from barwise.record.in_force import in_force, number_text
from barwise.record.models import Job, Reading

COLUMNS = (
    "number",
    "station",
    "check",
    "test",
    "from",
    "to",
    "track",
    "value",
    "unit",
    "value_si",
    "feed_from",
    "feed_to",
    "feed_amps",
    "instrument",
    "person",
    "taken_at",
    "meter_wrote",
    "meter_unit",
)
_FORMULA = ("=", "+", "-", "@", "\t", "\r")


def readings_csv(job: Job) -> str:
    """One row for each reading in force, in the order they came; empty cells where there is nothing.

    Words that a spreadsheet would take for a formula get an apostrophe in front; numbers stay as typed.
    """
    written = io.StringIO()
    rows = csv.writer(written, lineterminator="\n")
    rows.writerow(COLUMNS)
    for reading in in_force(job):
        rows.writerow(_cells(reading))
    return written.getvalue()


def _cells(one: Reading) -> Iterator[str]:
    yield str(one.seq)
    yield from (one.station_key, one.check_key, one.test, one.place_from, one.place_to, one.track)
    yield harmless(one.entered) if one.value_si is None else number_text(one)
    yield one.unit
    yield "" if one.value_si is None else repr(one.value_si)
    feed = (one.feed_from, one.feed_to, one.feed_amps)
    yield from ("" if part is None else str(part) for part in feed)
    yield "" if one.instrument is None else harmless(str(one.instrument))
    yield "" if one.person is None else harmless(one.person.name)
    yield one.taken_at.isoformat()
    yield harmless(one.said)
    yield one.said_unit


def harmless(words: str) -> str:
    """Words that no spreadsheet takes for a formula."""
    return f"'{words}" if words.startswith(_FORMULA) else words
