"""Readings that no longer count, each with its reason: struck out, or measured anew after work on a part."""

from __future__ import annotations

from dataclasses import dataclass
from uuid import NAMESPACE_OID, uuid5

from django.db import transaction

from barwise.record.entry import Entry, Question, Stored, strike, take_reading, why
from barwise.record.in_force import in_force
from barwise.record.models import Job, Person, Reading


@dataclass(frozen=True)
class NoLongerCounted:
    """A reading that no longer counts, and the row that took its place or says why it was struck out."""

    old: Reading
    newer: Reading


class _AskFirst(Exception):
    """Something is to be asked first: nothing is withdrawn."""

    def __init__(self, question: Question) -> None:
        self.question = question


def take_anew(job: Job, entry: Entry, reason: str, person: Person | None = None) -> Stored | Question:
    """Take a reading that counts alone from now on at its place.

    The readings in force at this check and place are withdrawn in the same transaction. Sent twice, it is
    done once.

    Raises
    ------
    InputError
        If no reason is given, or the reading cannot be taken as typed.
    RecordError
        As `take_reading`.
    """
    try:
        return _take_anew(job, entry, why(reason), person)
    except _AskFirst as found:
        return found.question


def latest_withdrawn(job: Job, station: str, check: str, most: int = 20) -> list[NoLongerCounted]:
    """What no longer counts at a check, the newest first.

    Asked from the newer row, which names the older one: that is found by its number however many readings
    there are, and the other way round it is not.
    """
    newer = Reading.objects.filter(job=job, station_key=station, check_key=check, supersedes__isnull=False)
    rows = newer.select_related("supersedes", "person").order_by("-seq")[:most]
    return [NoLongerCounted(row.supersedes, row) for row in rows if row.supersedes is not None]


@transaction.atomic
def _take_anew(job: Job, entry: Entry, reason: str, person: Person | None) -> Stored | Question:
    if Reading.objects.filter(key=entry.key).exists():
        return take_reading(job, entry, person)
    before = in_force(job, entry.station, entry.check)
    for reading in before.filter(place_from=entry.place_from.strip()) if entry.place_from else before:
        # A key that follows from both readings: the same form sent twice withdraws once.
        strike(job, reading.key, uuid5(NAMESPACE_OID, f"{entry.key} {reading.key}"), reason, person)
    answer = take_reading(job, entry, person)
    if isinstance(answer, Question):
        raise _AskFirst(answer)
    return answer
