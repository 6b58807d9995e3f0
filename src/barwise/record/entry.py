"""Readings taken: each on the disk before it is acknowledged, once however often it is sent, never changed.

A reading typed wrong is refused with the field, what was found and what was expected; one that is probably
not what was meant is asked about; one that is out of family is taken, and the bench is told so.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import cached_property
from uuid import NAMESPACE_OID, UUID, uuid5

from django.db import IntegrityError, transaction
from django.db.models import F
from django.utils import timezone

from barwise.errors import BarwiseError, InputError
from barwise.files.text import plain
from barwise.inspect.bar_walk import Odd
from barwise.record.chain import next_link
from barwise.record.in_force import in_force
from barwise.record.jobs import held, locked, must_be
from barwise.record.models import CheckStanding, Job, Person, Reading
from barwise.record.models.reading import REASON_LENGTH
from barwise.record.refusals import KeyReusedError, RecordError
from barwise.record.results import decide_light, is_light, of_checks
from barwise.record.route_of import RouteOfJob, route_of
from barwise.record.second_look import against_others
from barwise.record.typed import Question, below_nothing, far_from
from barwise.record.understood import Entry, Understood, check_of, understand
from barwise.record.walk_of import odd_one_out
from barwise.route.family import Check

__all__ = ["Entry", "Question", "Stored", "correct", "strike", "take_reading"]

CLOCKS_APART = timedelta(minutes=5)
"""Clocks of tablet and server may differ by so much; a reading from later than that has a wrong date."""


@dataclass(frozen=True)
class Stored:
    """A reading that is on the disk; `new` is False when it was there before."""

    reading: Reading
    new: bool

    @cached_property
    def odd(self) -> Odd | None:
        """Whether it is out of family with the others of its walk, worked out when it is asked for."""
        return odd_one_out(self.reading)


def take_reading(job: Job, entry: Entry, person: Person | None = None) -> Stored | Question:
    """Take one reading of a job.

    Returns
    -------
    Stored or Question
        The reading with its number, durable when this returns; or what to ask first, and then nothing
        was stored.

    Raises
    ------
    InputError
        If it cannot be taken as typed; its place is the field.
    KeyReusedError
        If the key belongs to a reading with another content.
    RecordError
        If the job is closed, or the reading it corrects is corrected already or is of another check.
    """
    try:
        return _take(job, entry, person)
    except IntegrityError:
        # Another bench was first with this key, or with this correction: say so, or give what is stored.
        return _take(job, entry, person)


def correct(job: Job, wrong: UUID, entry: Entry, person: Person | None = None) -> Stored | Question:
    """Take a reading in the place of another, which stays in the record. Raises as `take_reading`."""
    return take_reading(job, Entry(**{**vars(entry), "supersedes": wrong}), person)


@transaction.atomic
def strike(
    job: Job,
    wrong: UUID,
    key: UUID,
    reason: str,
    person: Person | None = None,
    taken_at: datetime | None = None,
) -> Stored:
    """Withdraw a reading for a reason, without another in its place; both stay in the record.

    Parameters
    ----------
    wrong, key : UUID
        Of the reading withdrawn, and of the row that withdraws it and keeps the reason.

    Raises
    ------
    InputError
        If no reason is given.
    KeyReusedError
        If the key belongs to another row.
    RecordError
        If there is no such reading, it is withdrawn or corrected already, or the job is closed.
    """
    reason = why(reason)
    known = Reading.objects.filter(key=key).select_related("supersedes").first()
    if known is not None:
        if known.job_id != job.pk or (known.struck, _corrects(known), known.reason) != (True, wrong, reason):
            raise _reused(known)
        return Stored(known, new=False)
    job = locked(job)
    old = _to_supersede(job, wrong)
    row = _struck(old, key, reason, person, _when(taken_at))
    return Stored(_store(job, row, route_of(job)), new=True)


def why(reason: str) -> str:
    """A reason as it is kept. Raises InputError where none is given."""
    reason = " ".join(reason.split())
    if not reason:
        raise InputError("reason", "nothing", "a few words why, such as new bush, or read on the wrong bar")
    return reason[:REASON_LENGTH]


@transaction.atomic
def _take(job: Job, entry: Entry, person: Person | None) -> Stored | Question:
    job = held(job)
    route = route_of(job)
    check = check_of(route, entry)
    content = understand(route, check, entry)
    known = Reading.objects.filter(key=entry.key).first()
    if known is not None:
        if known.job_id != job.pk or not _same(known, entry, content):
            raise _reused(known)
        return Stored(known, new=False)
    must_be(job, closed=False)
    asked = None if entry.confirmed else _question(job, route, check, entry, content)
    return asked or Stored(_store(job, _row(job, entry, content, person), route), new=True)


def _row(job: Job, entry: Entry, content: Understood, person: Person | None) -> Reading:
    feed = entry.feed
    old = None if entry.supersedes is None else _to_supersede(job, entry.supersedes)
    if old is not None and (old.station_key, old.check_key) != (entry.station, entry.check):
        raise RecordError(
            f"reading #{old.seq}: found it at {old.station_key}, {old.check_key}; expected a correction at "
            f"the same check, not at {entry.station}, {entry.check}: withdraw it there, and take it here"
        )
    return Reading(
        key=entry.key,
        job=job,
        station_key=entry.station,
        check_key=entry.check,
        test=entry.test,
        place_from=content.place_from,
        place_to=content.place_to,
        track=content.track,
        value_si=content.value_si,
        entered=content.entered,
        unit=content.unit,
        feed_from=None if feed is None else feed.into,
        feed_to=None if feed is None else feed.out,
        feed_amps=None if feed is None else feed.amps,
        instrument=entry.instrument,
        person=person,
        taken_at=_when(entry.taken_at),
        supersedes=old,
        said=entry.said,
        said_unit=entry.said_unit,
    )


def _store(job: Job, row: Reading, route: RouteOfJob) -> Reading:
    """Write the row under the held job's next number and link; touch its check, and those that lean on it."""
    row.seq = job.last_seq = job.last_seq + 1
    row.received_at = timezone.now()
    row.link = job.chain_head = next_link(job, row)
    Job.objects.filter(pk=job.pk).update(last_seq=row.seq, chain_head=row.link)
    row.save()
    added = (0 if row.struck else 1) - (0 if row.supersedes is None else 1)
    _touch(row, added)
    if row.supersedes is None:
        _outdate(job, row, route)
    _touch_dependents(row, route)
    check = route.family.check(row.station_key, row.check_key)
    if is_light(check):
        _decide_now(job, row, check, route)
    return row


def _outdate(job: Job, row: Reading, route: RouteOfJob) -> None:
    """Strike what was read before at checks that this reading outdates; a correction outdates nothing."""
    check = route.family.check(row.station_key, row.check_key)
    for name in check.outdates:
        station, _, key = name.partition(".")
        for older in in_force(job, station, key):
            # A key that follows from both: nothing is struck twice.
            of_both = uuid5(NAMESPACE_OID, f"{row.key} {older.key}")
            _store(
                job, _struck(older, of_both, f"said before: {check.title}", row.person, row.taken_at), route
            )


def _struck(old: Reading, key: UUID, reason: str, person: Person | None, taken_at: datetime) -> Reading:
    """The row that withdraws a reading."""
    copied = ("station_key", "check_key", "test", "place_from", "place_to", "track", "unit")
    return Reading(
        key=key,
        job=old.job,
        **{name: getattr(old, name) for name in copied},
        entered="",
        person=person,
        taken_at=taken_at,
        supersedes=old,
        struck=True,
        reason=reason,
    )


def _touch(row: Reading, added: int) -> None:
    standing = {"job_id": row.job_id, "station_key": row.station_key, "check_key": row.check_key}
    count = {"in_force": F("in_force") + added, "touches": F("touches") + 1, "touched_at": row.received_at}
    if not CheckStanding.objects.filter(**standing).update(**count):
        CheckStanding.objects.create(**standing, in_force=added, touches=1, touched_at=row.received_at)


def _touch_dependents(row: Reading, route: RouteOfJob) -> None:
    names = route.dependents.get(f"{row.station_key}.{row.check_key}", ())
    if names:
        dependents = CheckStanding.objects.filter(of_checks(names), job_id=row.job_id)
        dependents.update(touches=F("touches") + 1)


def _decide_now(job: Job, row: Reading, check: Check, route: RouteOfJob) -> None:
    """Decide in the same transaction. What cannot be decided stays open; the reading is kept all the same."""
    try:
        with transaction.atomic():
            decide_light(job, row.station_key, check, route)
    except BarwiseError:
        return


def _question(
    job: Job, route: RouteOfJob, check: Check, entry: Entry, content: Understood
) -> Question | None:
    if content.typed is None or check.entry != "number":
        return None
    far = below_nothing(content.typed, check.quantity) or far_from(content.typed, route.limit(check))
    if far is not None or check.quantity != "length":
        return far
    others = [one for one in in_force(job, entry.station, entry.check) if one.key != entry.supersedes]
    place = content.place_from, content.track
    return against_others(content.typed, check, place, others, entry.instrument)


def _when(taken_at: datetime | None) -> datetime:
    now = timezone.now()
    if taken_at is None:
        return now
    if timezone.is_naive(taken_at):
        raise InputError("taken_at", f"{taken_at:%Y-%m-%d %H:%M} without a time zone", "one, such as +00:00")
    if taken_at > now + CLOCKS_APART:
        raise InputError(
            "taken_at",
            f"{taken_at:%Y-%m-%d %H:%M %Z}, which is in the future",
            f"at most {now:%Y-%m-%d %H:%M} UTC, now: set the clock of this device right",
        )
    return taken_at


def _to_supersede(job: Job, wrong: UUID) -> Reading:
    old: Reading | None = Reading.objects.filter(job=job, key=wrong).first()
    if old is None:
        raise RecordError(f"correction: found no reading {wrong} in job {job.number}")
    newer = Reading.objects.filter(supersedes=old).first()
    if newer is not None:
        how = "withdrawn" if newer.struck else f"corrected to {plain(newer.entered)} {newer.unit}".rstrip()
        raise RecordError(f"reading #{old.seq}: found it {how} already as #{newer.seq}; look at it again")
    if old.struck:
        raise RecordError(f"reading #{old.seq}: found a row that withdraws another; take a new reading")
    return old


def _same(known: Reading, entry: Entry, content: Understood) -> bool:
    feed = entry.feed
    sent = (
        entry.station,
        entry.check,
        entry.test,
        content.place_from,
        content.place_to,
        content.track,
        content.entered,
        content.unit,
        (feed.into, feed.out, feed.amps) if feed else (None, None, None),
        None if entry.instrument is None else entry.instrument.pk,
        entry.supersedes,
        False,
    )
    kept = (
        known.station_key,
        known.check_key,
        known.test,
        known.place_from,
        known.place_to,
        known.track,
        known.entered,
        known.unit,
        (known.feed_from, known.feed_to, known.feed_amps),
        known.instrument_id,
        _corrects(known),
        known.struck,
    )
    return sent == kept


def _corrects(known: Reading) -> UUID | None:
    return None if known.supersedes is None else known.supersedes.key


def _reused(known: Reading) -> KeyReusedError:
    has = f"{plain(known.entered)} {known.unit}".strip() or "a withdrawal"
    return KeyReusedError(
        f"key {known.key}: found reading #{known.seq} ({has}) under it, expected a key of its own for "
        "each reading: send it again under a new key"
    )
