"""What ``job.json`` of an exported job holds, and how it is written from the record."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Annotated, Any, Literal, TypeVar
from uuid import UUID

from django.utils import timezone
from pydantic import AwareDatetime, BaseModel, ConfigDict, Field

from barwise.record.models import Job, Person, Reading, Result
from barwise.version import __version__

SCHEMA = 2
READ = (1, SCHEMA)
"""Schemas that are understood; the first has no chain."""

Key = Annotated[str, Field(max_length=60, pattern=r"[a-z0-9]+(-[a-z0-9]+)*")]
Name = Annotated[str, Field(max_length=200)]
Place = Annotated[str, Field(max_length=16)]
Words = Annotated[str, Field(max_length=4000)]
Number = Annotated[float, Field(allow_inf_nan=False)]
Link = Annotated[str, Field(pattern=r"^([0-9a-f]{64})?$")]
Counted = Annotated[int, Field(ge=1, le=1_000_000_000)]


class _Exchanged(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True, populate_by_name=True)


Kind = TypeVar("Kind", bound=_Exchanged)


class ExchangedInstrument(_Exchanged):
    """An instrument with the figures its readings were judged by; `ref` is its number in this file."""

    ref: int
    tag: Annotated[str, Field(max_length=60)]
    kind: Annotated[str, Field(max_length=80)]
    quantity: Annotated[str, Field(max_length=20)]
    unit: Annotated[str, Field(max_length=12)]
    resolution_si: Annotated[Number, Field(ge=0)]
    calibration_standard_uncertainty_si: Annotated[Number, Field(ge=0)]
    repeatability_si: Annotated[Number, Field(ge=0)]
    calibrated_on: date | None
    due_on: date | None


class ExchangedReading(_Exchanged):
    """One reading, in force or not."""

    key: UUID
    seq: Counted
    station_key: Key
    check_key: Key
    test: Annotated[str, Field(max_length=20)]
    place_from: Place
    place_to: Place
    track: Place
    value_si: Number | None
    entered: Words
    unit: Annotated[str, Field(max_length=12)]
    feed_from: Counted | None
    feed_to: Counted | None
    feed_amps: Number | None
    instrument: int | None
    by: Name
    taken_at: AwareDatetime
    received_at: AwareDatetime
    supersedes: UUID | None
    struck: bool
    reason: Annotated[str, Field(max_length=200)] = ""
    said: Annotated[str, Field(max_length=200)] = ""
    said_unit: Annotated[str, Field(max_length=12)] = ""
    link: Link = ""


class ExchangedResult(_Exchanged):
    """A result that counted; it is worked out anew where it is brought in, and compared with this."""

    station_key: Key
    check_key: Key
    decision: Annotated[str, Field(max_length=12)]
    value: Number | None
    line: Words
    software_version: Annotated[str, Field(max_length=40)]
    uncertainty: Number | None = None
    quantity: Annotated[str, Field(max_length=20)] = ""
    unit: Annotated[str, Field(max_length=12)] = ""
    seqs: tuple[int, ...] = ()
    fingerprint: Link = ""
    made_at: AwareDatetime | None = None


class ExchangedDisposition(_Exchanged):
    """What was decided for a part."""

    station_key: Key
    part: Annotated[str, Field(max_length=120)]
    proposed: Literal["", "reuse", "rework", "replace"]
    decided: Literal["reuse", "rework", "replace"]
    reason: Words
    by: Name
    decided_at: AwareDatetime


class ExchangedApproval(_Exchanged):
    """What the customer said to a price, with the figures that were shown."""

    answer: Literal["approved", "declined"]
    choice: Annotated[str, Field(max_length=8)]
    said_by: Annotated[str, Field(min_length=1, max_length=120)]
    way: Literal["in person", "by telephone", "in writing"]
    note: Words
    shown: dict[str, Any]
    sha256: Annotated[str, Field(pattern=r"^[0-9a-f]{64}$")]
    software_version: Annotated[str, Field(max_length=40)]
    by: Name
    recorded_at: AwareDatetime


class ExchangedPart(_Exchanged):
    """A part fitted or replaced."""

    station_key: Key | Literal[""]
    name: Annotated[str, Field(max_length=120)]
    part_number: Annotated[str, Field(max_length=80)]
    action: Literal["fitted", "replaced"]
    quantity: Counted
    note: Words
    by: Name
    recorded_at: AwareDatetime


class ExchangedPhoto(_Exchanged):
    """A photo, whose picture lies beside under its `sha256`."""

    key: UUID
    station_key: Key | Literal[""]
    check_key: Key | Literal[""]
    sha256: Annotated[str, Field(pattern=r"^[0-9a-f]{64}$")]
    caption: Name
    by: Name
    recorded_at: AwareDatetime


class ExchangedChange(_Exchanged):
    """What else was done to the job; kept with it, and not taken over where it is brought in."""

    at: AwareDatetime
    what: Annotated[str, Field(max_length=60)]
    line: Words
    by: Name


class ExchangedJob(_Exchanged):
    """The whole of ``job.json``; `sheet` is the text of the sheet it was judged by.

    `chain_head` is the last reading's link; those up to `chained_seq` got theirs at `chained_at`, later than
    they came in.
    """

    schema_version: Annotated[int, Field(alias="schema", ge=READ[0], le=SCHEMA)] = SCHEMA
    software: Annotated[str, Field(max_length=40)]
    exported_at: AwareDatetime
    uuid: UUID
    number: Annotated[str, Field(max_length=40)]
    family: Key
    unit_tag: Annotated[str, Field(max_length=60)]
    serial: Annotated[str, Field(max_length=80)]
    description: Name
    customer: Name
    contact: Words
    complaint: Words
    state: Literal["open", "waiting", "closed"]
    waits_for: Name
    opened_at: AwareDatetime
    closed_at: AwareDatetime | None
    invented: bool
    sheet: Annotated[str, Field(max_length=200_000)] | None
    instruments: tuple[ExchangedInstrument, ...]
    readings: Annotated[tuple[ExchangedReading, ...], Field(max_length=200_000)]
    results: tuple[ExchangedResult, ...]
    dispositions: tuple[ExchangedDisposition, ...]
    parts: tuple[ExchangedPart, ...]
    photos: tuple[ExchangedPhoto, ...]
    approvals: Annotated[tuple[ExchangedApproval, ...], Field(max_length=1000)] = ()
    changes: Annotated[tuple[ExchangedChange, ...], Field(max_length=200_000)] = ()
    chain_head: Link = ""
    chained_seq: Annotated[int, Field(ge=0, le=1_000_000_000)] = 0
    chained_at: AwareDatetime | None = None


def written_job(job: Job) -> ExchangedJob:
    """All of a job as it stands now, as ``job.json`` holds it."""
    job = Job.objects.select_related("unit", "customer", "sheet").get(pk=job.pk)
    # No further than the head that was just read: benches go on while this is written.
    rows = job.readings.filter(seq__lte=job.last_seq)
    # Each instrument and person once, not once for each reading: of a large job that is most of the time.
    readings = list(rows.prefetch_related("instrument", "person").order_by("seq"))
    keys = {one.pk: one.key for one in readings}
    tools = {one.instrument.pk: one.instrument for one in readings if one.instrument is not None}
    standings = (
        job.standings.filter(result__isnull=False, in_force__gt=0).select_related("result").order_by("id")
    )
    return ExchangedJob(
        schema_version=SCHEMA,
        software=__version__,
        exported_at=timezone.now(),
        uuid=job.uuid,
        number=job.number,
        family=job.family_key,
        unit_tag=job.unit.tag,
        serial=job.unit.serial,
        description=job.unit.description,
        customer=job.customer.name,
        contact=job.customer.contact,
        complaint=job.complaint,
        state=job.state,
        waits_for=job.waits_for,
        opened_at=job.opened_at,
        closed_at=job.closed_at,
        invented=job.invented,
        sheet=None if job.sheet is None else job.sheet.toml,
        instruments=tuple(_from(ExchangedInstrument, tool, ref=pk) for pk, tool in tools.items()),
        readings=tuple(_reading(one, keys) for one in readings),
        results=tuple(written_result(one.result) for one in standings if one.result is not None),
        dispositions=tuple(
            _from(ExchangedDisposition, one, by=_name(one.person))
            for one in job.dispositions.select_related("person").order_by("id")
        ),
        parts=tuple(
            _from(ExchangedPart, one, by=_name(one.person))
            for one in job.parts.select_related("person").order_by("id")
        ),
        photos=tuple(
            _from(ExchangedPhoto, one, by=_name(one.person))
            for one in job.photos.select_related("person").order_by("id")
        ),
        approvals=tuple(
            _from(ExchangedApproval, one, by=_name(one.person))
            for one in job.approvals.select_related("person").order_by("id")
        ),
        changes=tuple(
            _from(ExchangedChange, one, by=_name(one.person))
            for one in job.changes.select_related("person").order_by("id")
        ),
        chain_head=job.chain_head,
        chained_seq=job.chained_seq,
        chained_at=job.chained_at,
    )


def _reading(one: Reading, keys: Mapping[int, UUID]) -> ExchangedReading:
    return _from(
        ExchangedReading,
        one,
        by=_name(one.person),
        instrument=one.instrument_id,
        supersedes=None if one.supersedes_id is None else keys.get(one.supersedes_id),
    )


def written_result(one: Result) -> ExchangedResult:
    """A result as ``job.json`` has it."""
    return _from(ExchangedResult, one)


def _from(kind: type[Kind], row: object, **given: object) -> Kind:
    """The fields of `kind`, as given or as the row has them."""
    fields = {name: given.get(name) if name in given else getattr(row, name) for name in kind.model_fields}
    return kind.model_validate(fields)


def _name(person: Person | None) -> str:
    return "" if person is None else person.name
