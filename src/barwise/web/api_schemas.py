"""What goes over the HTTP interface: every quantity in SI, every text as it was typed."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from typing import Annotated, Any
from uuid import UUID

from ninja import Schema
from pydantic import AfterValidator, Field

from barwise.inspect.bar_walk import Outlook
from barwise.record.entry import Stored
from barwise.record.in_force import feed_of
from barwise.record.meters import FRESH
from barwise.record.models import Instrument, Job, Reading, Result, SheetVersion
from barwise.record.models.meter import LINE_LENGTH, WORDS_LENGTH
from barwise.record.standing import JobStand
from barwise.record.understood import LONGEST_NOTE

Key = Annotated[str, Field(max_length=60)]
Short = Annotated[str, Field(max_length=40)]


def _printable(text: str) -> str:
    if not text.isprintable():
        raise ValueError("expected signs that can be printed")
    return text


Said = Annotated[str, Field(max_length=LINE_LENGTH), AfterValidator(_printable)]
MeterWords = Annotated[str, Field(max_length=WORDS_LENGTH), AfterValidator(_printable)]
LONGEST_WAIT_S = 400 * 86400.0
"""Longest that a reading may have waited in a browser [s]."""


class Here(Schema):
    """Which barwise answers, and as whom."""

    version: str
    person: str | None
    may: list[str]


class Question(Schema):
    """Asked before a reading is taken; nothing is stored. Sent again with `confirmed` it is taken."""

    ask: str
    suggested_number: str
    suggested_unit: str


class Refused(Schema):
    """Why something was not done, in words for the person who typed it."""

    error: str
    field: str = ""
    question: Question | None = None


class FeedSchema(Schema):
    """Bars at which the current goes in and out, and how much [A]."""

    into: int
    out: int
    amps: float


class ReadingIn(Schema):
    """One reading. `key` is made by the sender: sent twice under the same key it is stored once.

    `seconds_ago` is for a device whose clock may be wrong: how long ago it was typed. Else `taken_at`, else
    now.
    `typed_by` is the number of the person who typed it, where that is not who sends it. Without `hint` the
    answer comes sooner and does not say whether it is out of family. `said` is the line of the meter that
    read it, letter for letter, and `said_unit` the unit it meant.
    """

    key: UUID
    station: Key
    check: Key
    text: Annotated[str, Field(max_length=LONGEST_NOTE)]
    unit: Short = ""
    test: Short = ""
    place_from: Short = ""
    place_to: Short = ""
    track: Short = ""
    feed: FeedSchema | None = None
    instrument: int | None = None
    taken_at: datetime | None = None
    seconds_ago: Annotated[float, Field(ge=0, le=LONGEST_WAIT_S)] | None = None
    typed_by: int | None = None
    supersedes: UUID | None = None
    confirmed: bool = False
    hint: bool = True
    said: Said = ""
    said_unit: Annotated[str, Field(max_length=12), AfterValidator(_printable)] = ""


class SetupIn(Schema):
    """How a walk is set up, as on its page; empty: as it was taken last."""

    test: Short = ""
    unit: Short = ""
    feed_from: Short = ""
    feed_to: Short = ""
    feed_amps: Short = ""
    tracks: Key = ""
    bars: Short = ""
    instrument: Short = ""


class OfferedIn(Schema):
    """A reading that settled: the number as text, its unit, the meter's line; sent twice it is one."""

    key: UUID
    text: Short
    unit: Short
    said: Said
    seconds_ago: Annotated[float, Field(ge=0, le=FRESH.total_seconds())] = 0.0


class MeterIn(Schema):
    """What the listener of a meter reports. `tag` is the instrument's; `words` say what is wrong.

    `page` is the page that it knows it reads for; a reading for another is dropped.
    """

    tag: Annotated[Key, AfterValidator(_printable)]
    quantity: Short
    state: Short
    words: MeterWords = ""
    rule: MeterWords = ""
    page: UUID | None = None
    reading: OfferedIn | None = None


class MeterOut(Schema):
    """What the listener is to do: read for `page`, or for nobody; by itself or at the pedal's presses."""

    page: UUID | None
    how: str
    presses: int


class StrikeIn(Schema):
    """Withdraw a reading; both stay in the record. `key` is of the row that withdraws it."""

    key: UUID
    reason: Annotated[str, Field(max_length=200)] = "undone at once"
    typed_by: int | None = None


class ReadingOut(Schema):
    """One row of the record: it counts in the place of what it `supersedes`; `struck`, it withdraws that."""

    seq: int
    key: UUID
    station: str
    check: str
    test: str
    place_from: str
    place_to: str
    track: str
    text: str
    unit: str
    value_si: float | None
    feed: FeedSchema | None
    by: str
    taken_at: datetime
    received_at: datetime
    supersedes: UUID | None
    struck: bool
    reason: str
    said: str
    said_unit: str


class Readings(Schema):
    """Rows in order, and the number to ask after next time."""

    readings: list[ReadingOut]
    last: int


class Followed(Readings):
    """The same of a walk, with what each of its stops should read and how far from it is out of family [SI].

    `outlook` is null when nothing came in; null at a stop where nobody knows.
    """

    outlook: list[tuple[float, float] | None] | None = None


class Odd(Schema):
    """It is out of family: probe again. The value read, and what its neighbours let expect."""

    value_si: float
    expected_si: float


class Taken(Schema):
    """A reading that is on the disk; `new` is false when it was there before."""

    reading: ReadingOut
    new: bool
    odd: Odd | None = None


class JobBrief(Schema):
    """One job of the list."""

    id: int
    number: str
    tag: str
    serial: str
    customer: str
    family: str
    state: str
    waits_for: str
    opened_at: datetime
    invented: bool


class Jobs(Schema):
    """One page of jobs, and how many pages there are."""

    jobs: list[JobBrief]
    page: int
    pages: int


class CheckOut(Schema):
    """Where one check stands."""

    station: str
    check: str
    title: str
    entry: str
    readings: int
    decision: str
    line: str
    settle: str
    out_of_date: bool


class JobOut(JobBrief):
    """One job with all its checks."""

    complaint: str
    sheet: str | None
    sheet_version: int | None
    checks: list[CheckOut]


class ResultOut(Schema):
    """What a check came to, and from what; `seqs` are the readings it was decided from."""

    decision: str
    line: str
    settle: str
    value_si: float | None
    uncertainty_si: float | None
    unit: str
    probability: float | None
    details: dict[str, Any]
    software_version: str
    sheet: str | None
    sheet_version: int | None
    seqs: list[int]
    made_at: datetime


class SheetOut(Schema):
    """One version of a model sheet; `toml` is its text where one version was asked for."""

    key: str
    version: int
    title: str
    family: str
    sha256: str
    toml: str | None = None


class InstrumentOut(Schema):
    """One instrument in use, figures in SI."""

    id: int
    tag: str
    kind: str
    quantity: str
    unit: str
    resolution_si: float
    due_on: str | None


def outlook_out(outlook: Iterable[Outlook | None]) -> list[tuple[float, float] | None]:
    """Expected reading and margin of each stop."""
    return [None if one is None else (one.expected, one.margin) for one in outlook]


def reading_out(row: Reading) -> ReadingOut:
    """A row of the record."""
    feed = feed_of(row)
    return ReadingOut(
        seq=row.seq,
        key=row.key,
        station=row.station_key,
        check=row.check_key,
        test=row.test,
        place_from=row.place_from,
        place_to=row.place_to,
        track=row.track,
        text=row.entered,
        unit=row.unit,
        value_si=row.value_si,
        feed=None if feed is None else FeedSchema(into=feed.into, out=feed.out, amps=feed.amps),
        by="" if row.person is None else row.person.name,
        taken_at=row.taken_at,
        received_at=row.received_at,
        supersedes=None if row.supersedes is None else row.supersedes.key,
        struck=row.struck,
        reason=row.reason,
        said=row.said,
        said_unit=row.said_unit,
    )


def taken_out(stored: Stored, *, hint: bool) -> Taken:
    """A reading that was taken, with the hint to probe again where that is wanted."""
    odd = stored.odd if hint else None
    return Taken(
        reading=reading_out(stored.reading),
        new=stored.new,
        odd=None if odd is None else Odd(value_si=odd.value, expected_si=odd.expected),
    )


def job_brief(job: Job) -> dict[str, Any]:
    """What every answer says of a job."""
    return {
        "id": job.pk,
        "number": job.number,
        "tag": job.unit.tag,
        "serial": job.unit.serial,
        "customer": job.customer.name,
        "family": job.family_key,
        "state": job.state,
        "waits_for": job.waits_for,
        "opened_at": job.opened_at,
        "invented": job.invented,
    }


def job_out(stand: JobStand) -> JobOut:
    """A job with its checks."""
    sheet = stand.job.sheet
    return JobOut(
        **job_brief(stand.job),
        complaint=stand.job.complaint,
        sheet=None if sheet is None else sheet.key,
        sheet_version=None if sheet is None else sheet.version,
        checks=[
            CheckOut(
                station=one.station.key,
                check=one.check.key,
                title=one.check.title,
                entry=one.check.entry,
                readings=one.in_force,
                decision=one.decision,
                line=one.line,
                settle=one.settle,
                out_of_date=one.out_of_date,
            )
            for one in stand.checks
        ],
    )


def result_out(result: Result) -> ResultOut:
    """A result that was kept."""
    sheet = result.sheet
    return ResultOut(
        decision=result.decision,
        line=result.line,
        settle=result.settle,
        value_si=result.value,
        uncertainty_si=result.uncertainty,
        unit=result.unit,
        probability=result.probability,
        details=result.details,
        software_version=result.software_version,
        sheet=None if sheet is None else sheet.key,
        sheet_version=None if sheet is None else sheet.version,
        seqs=result.seqs,
        made_at=result.made_at,
    )


def sheet_out(version: SheetVersion, *, text: bool = False) -> SheetOut:
    """A version of a sheet, with its text where it is asked for."""
    return SheetOut(
        key=version.key,
        version=version.version,
        title=version.title,
        family=version.family_key,
        sha256=version.sha256,
        toml=version.toml if text else None,
    )


def instrument_out(one: Instrument) -> InstrumentOut:
    """An instrument in use."""
    return InstrumentOut(
        id=one.pk,
        tag=one.tag,
        kind=one.kind,
        quantity=one.quantity,
        unit=one.unit,
        resolution_si=one.resolution_si,
        due_on=None if one.due_on is None else one.due_on.isoformat(),
    )
