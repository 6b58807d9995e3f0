"""A job as one zip: it opens in another shop's record and comes to the same results there.

In it: ``job.json`` with all of the job, from which it is brought in; ``readings/*.csv`` with the readings in
force, for other programs (docs/file-formats.md); ``photos/*.jpg``. What comes in is not trusted: names, sizes
and content are checked before anything is stored.
"""

from __future__ import annotations

import csv
import hashlib
import io
import json
import math
import zipfile
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from typing import Any, Literal

from django.db import IntegrityError, transaction
from django.utils import timezone
from pydantic import ValidationError

from barwise.errors import BarwiseError, InputError
from barwise.files.file_seal import file_sealed, place_for
from barwise.files.job_zip import PHOTO, WHAT, check_members, read_member
from barwise.files.profile_file import COLUMNS as PROFILE_COLUMNS
from barwise.files.readings_file import COLUMNS as BAR_COLUMNS
from barwise.files.sealed_job import NAME as SEAL
from barwise.files.sealed_job import Alteration, SealedJob, broken_links
from barwise.files.text import plain, shown
from barwise.files.verifying import WHOLE_FILE, Verdict, verify_bytes
from barwise.measure.entered import read_number
from barwise.measure.units import find_unit
from barwise.record.approvals import stored_approval
from barwise.record.brought_seals import altered_in, keep_seal
from barwise.record.chain import next_link
from barwise.record.changes import log
from barwise.record.entry import CLOCKS_APART
from barwise.record.exchanged import READ, SCHEMA, ExchangedJob, ExchangedReading, written_job
from barwise.record.in_force import feed_of, in_force, number_text
from barwise.record.jobs import add_customer, add_unit, numbered
from barwise.record.models import (
    BroughtSeal,
    CheckStanding,
    Disposition,
    Instrument,
    Job,
    Part,
    Person,
    Photo,
    Reading,
    SheetVersion,
)
from barwise.record.models.reading import NO_REASON
from barwise.record.photos import keep_file, path_of, re_encoded
from barwise.record.recheck import Difference
from barwise.record.refusals import RecordError
from barwise.record.results import decide_check, newest_result
from barwise.record.route_of import route_if_known, route_of
from barwise.record.seals import bundle_of
from barwise.record.sheets import store_sheet
from barwise.record.shop_key import the_key


@dataclass(frozen=True)
class Imported:
    """A job that was brought in, where its results differ from those it came with, and the seal it had."""

    job: Job
    differences: tuple[Difference, ...]
    brought: BroughtSeal | None = None


Taken = Literal["signed", "found"]
"""Of an altered zip: what was signed, or what stands in it now."""


class AlteredZip(RecordError):
    """A zip that is not what its seal or its chain says; whoever brings it in decides what is taken.

    Attributes
    ----------
    altered : tuple of Alteration
        What was altered.
    digest : str
        SHA-256 of the zip, so that the answer is of this file and of no other.
    has_signed : bool
        What was signed is in it whole, and can be taken instead.
    """

    def __init__(self, altered: tuple[Alteration, ...], digest: str, *, has_signed: bool) -> None:
        more = f" (and {len(altered) - 1} more)" if len(altered) > 1 else ""
        after = " after it was signed" if has_signed else ""
        super().__init__(f"job zip: found it altered{after}: {plain(altered[0].line)}{more}")
        self.altered, self.digest, self.has_signed = altered, digest, has_signed


@dataclass(frozen=True)
class _Came:
    """What came, its pictures by their digest, and what is altered in it; `taken` where that was decided."""

    written: ExchangedJob
    photos: dict[str, bytes]
    altered: tuple[Alteration, ...]
    taken: Taken | None

    @property
    def loose(self) -> bool:
        """It is brought in although it is not what was signed or chained."""
        return bool(self.altered) and self.taken == "found"


def export_job(job: Job) -> bytes:
    """The whole job as the bytes of a zip; with its seal, and signed to the byte, if it was sealed."""
    packed, seal = io.BytesIO(), bundle_of(job)
    key = None if seal is None else the_key()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as out:
        if seal is not None and key is not None:
            out.writestr(SEAL, seal)
            out.comment = place_for(key.fingerprint).encode()
        out.writestr("job.json", written_job(job).model_dump_json(indent=1, by_alias=True))
        for name, table in readings_tables(job).items():
            out.writestr(f"readings/{name}.csv", table)
        for digest in dict.fromkeys(photo.sha256 for photo in job.photos.order_by("id")):
            out.writestr(f"photos/{digest}.jpg", _photo_file(job, digest))
    return packed.getvalue() if key is None else file_sealed(packed.getvalue(), key)


def readings_tables(job: Job) -> dict[str, str]:
    """Readings in force as CSV, one table for each check, by ``station.check``.

    Bar walks and profile walks have the columns of docs/file-formats.md, in the unit of each reading.
    """
    tables: dict[str, list[Reading]] = {}
    for reading in in_force(job):
        tables.setdefault(f"{reading.station_key}.{reading.check_key}", []).append(reading)
    route = route_if_known(job)
    kinds = {} if route is None else {name: check.entry for name, check in route.family.all_checks()}
    return {name: _table(kinds.get(name, ""), some) for name, some in sorted(tables.items())}


def import_job(content: bytes, person: Person | None = None, taken: Taken | None = None) -> Imported:
    """Bring in a job from a zip; all of it, or nothing. The seal of the shop that made it is kept with it.

    Parameters
    ----------
    taken : str, optional
        What to take of an altered zip; without it such a one is asked about.

    Raises
    ------
    InputError
        If it is no such zip: paths outside of it, members too large, another schema, or content that is
        not a job; names the member and what was expected.
    AlteredZip
        If it is not what its seal or its chain says, and nobody decided yet what to take.
    RecordError
        If the job is here already, or its unit, sheet or readings contradict what is here.
    """
    written, photos = _unpacked(content)
    found = verify_bytes(content, where="job zip")
    altered = altered_in(found)
    question = _question(content, found, altered)
    if question is not None and _must_be_asked(question, found, taken):
        raise question
    if question is not None and found.sealed is not None and taken == "signed":
        written = _as_signed(found.sealed, written)
    if Job.objects.filter(uuid=written.uuid).exists():
        number = Job.objects.get(uuid=written.uuid).number
        raise RecordError(
            f"job {plain(written.number)}: found here already as job {number}, expected a new one"
        )
    try:
        with transaction.atomic():
            job = _stored(_Came(written, photos, altered, taken), person)
            brought = keep_seal(job, content, found, taken or "", person)
    except _Unchained:
        raise question or RecordError("job zip: found readings that do not fit their links") from None
    except IntegrityError as error:
        reason = str(error).splitlines()[0]
        raise RecordError(f"job {plain(written.number)} contradicts what is here ({reason})") from None
    return Imported(job, _decided(job, written), brought)


class _Unchained(Exception):
    """A reading does not fit its link."""


def _question(content: bytes, found: Verdict, altered: tuple[Alteration, ...]) -> AlteredZip | None:
    if not altered:
        return None
    sealed = found.sealed
    whole = sealed is not None and sealed.is_whole and not broken_links(sealed.job)
    return AlteredZip(altered, hashlib.sha256(content).hexdigest(), has_signed=whole)


def _must_be_asked(question: AlteredZip, found: Verdict, taken: Taken | None) -> bool:
    """Where a seal is contradicted, or gone; a chain that does not fit is asked about at its reading."""
    if taken == "signed":
        return not question.has_signed
    seal_speaks = found.sealed is not None or any(one.what == WHOLE_FILE for one in found.altered)
    return taken is None and seal_speaks


def _as_signed(sealed: SealedJob, written: ExchangedJob) -> ExchangedJob:
    """The job as it was signed, whatever stands beside it now."""
    of_copy = {"software": written.software, "exported_at": written.exported_at.isoformat()}
    return _valid({**sealed.job, **of_copy}, f"job zip, {SEAL}")


def _unpacked(content: bytes) -> tuple[ExchangedJob, dict[str, bytes]]:
    try:
        with zipfile.ZipFile(io.BytesIO(content)) as packed:
            check_members(packed.infolist())
            job = _parsed(read_member(packed, "job.json"))
            names = (name for name in packed.namelist() if PHOTO.fullmatch(name))
            return job, {name[7:71]: read_member(packed, name) for name in names}
    except (zipfile.BadZipFile, NotImplementedError, RuntimeError, EOFError, ValueError) as error:
        found = f"a file that cannot be unpacked ({plain(str(error))})"
        raise InputError("job zip", found, WHAT) from None


def _parsed(content: bytes) -> ExchangedJob:
    where = "job zip, job.json"
    try:
        written: Any = json.loads(content)
    except (UnicodeDecodeError, ValueError, RecursionError):
        raise InputError(where, "text that is not JSON", WHAT) from None
    schema = written.get("schema") if isinstance(written, dict) else None
    if schema not in READ:
        found = "no schema" if schema is None else f"schema {shown(str(schema))}"
        raise InputError(where, found, f"schema {SCHEMA}; a newer barwise made it if it is higher")
    return _valid(written, where)


def _valid(written: dict[str, Any], where: str) -> ExchangedJob:
    try:
        return ExchangedJob.model_validate(written)
    except ValidationError as error:
        first = error.errors(include_url=False, include_context=False)[0]
        place = ".".join(str(part) for part in first["loc"])
        raise InputError(
            f"{where}, {plain(place)}", shown(str(first["input"])), plain(first["msg"])
        ) from None


def _stored(came: _Came, person: Person | None) -> Job:
    written = came.written
    sheet = None if written.sheet is None else store_sheet(written.sheet, person, "job zip, sheet")
    job = _job(written, sheet, person)
    people = _People()
    tools = {one.ref: _instrument(one.model_dump(exclude={"ref"})) for one in written.instruments}
    _store_readings(job, came, people, tools)
    for made in written.dispositions:
        Disposition(job=job, person=people[made.by], **made.model_dump(exclude={"by"})).save()
    for part in written.parts:
        Part.objects.create(job=job, person=people[part.by], **part.model_dump(exclude={"by"}))
    _store_photos(job, came, people)
    for word in written.approvals:
        stored_approval(
            job, word.model_dump(exclude={"by", "recorded_at"}), people[word.by], word.recorded_at
        )
    log(
        "job brought in",
        f"Job {job.number}: from a zip, made by barwise {plain(written.software)}",
        person,
        job,
    )
    return job


def _job(written: ExchangedJob, sheet: SheetVersion | None, person: Person | None) -> Job:
    customer = add_customer(written.customer, written.contact, person, invented=written.invented)
    unit = add_unit(
        written.unit_tag,
        written.family,
        written.serial,
        written.description,
        person,
        invented=written.invented,
    )
    taken = Job.objects.filter(number=written.number).exists()

    def create(number: str) -> Job:
        return Job.objects.create(
            uuid=written.uuid,
            number=number,
            unit=unit,
            customer=customer,
            sheet=sheet,
            family_key=written.family,
            complaint=written.complaint,
            state=written.state,
            waits_for=written.waits_for,
            opened_at=written.opened_at,
            closed_at=written.closed_at,
            last_seq=max((one.seq for one in written.readings), default=0),
            invented=written.invented,
        )

    return numbered(create, "" if taken else written.number)


class _People:
    """People by name; one nobody here knows can read and nothing else."""

    def __init__(self) -> None:
        self._known: dict[str, Person] = {}

    def __getitem__(self, name: str) -> Person | None:
        if not name:
            return None
        if name not in self._known:
            new = {"role": "reader", "active": False}
            self._known[name] = Person.objects.get_or_create(name=name, defaults=new)[0]
        return self._known[name]


def _instrument(figures: dict[str, Any]) -> Instrument:
    """The instrument here with the same tag and figures; else a retired row, known by its readings only."""
    same = Instrument.objects.filter(**figures).first()
    return Instrument.objects.create(**figures, retired=True) if same is None else same


def _store_readings(job: Job, came: _Came, people: _People, tools: dict[int, Instrument]) -> None:
    family, written, chained = route_of(job).family, came.written, True
    stored: dict[str, Reading] = {}
    counts: dict[tuple[str, str], int] = {}
    for one in sorted(written.readings, key=lambda reading: reading.seq):
        check = family.check(one.station_key, one.check_key)
        _check_value(one)
        _check_time(one)
        old = None if one.supersedes is None else stored.get(str(one.supersedes))
        if one.supersedes is not None and old is None:
            raise RecordError(f"reading #{one.seq}: found no earlier reading that it corrects")
        row = Reading(
            job=job,
            person=people[one.by],
            instrument=None if one.instrument is None else _known(tools, one.instrument, one.seq),
            supersedes=old,
            reason=one.reason or (NO_REASON if one.struck else ""),
            **one.model_dump(exclude={"by", "instrument", "supersedes", "reason", "link"}),
        )
        row.link = job.chain_head = next_link(job, row)
        if one.link not in ("", row.link):
            if not came.loose:
                raise _Unchained
            chained = False
        row.save()
        stored[str(row.key)] = row
        at = one.station_key, check.key
        counts[at] = counts.get(at, 0) + (0 if row.struck else 1) - (0 if old is None else 1)
    now = timezone.now()
    _chained(job, written, now, came=chained)
    for (station, key), count in counts.items():
        CheckStanding.objects.create(
            job=job, station_key=station, check_key=key, in_force=count, touches=1, touched_at=now
        )


def _chained(job: Job, written: ExchangedJob, now: datetime, *, came: bool) -> None:
    """Since when it is: those that came with links are as long as they say, all others from now on."""
    job.chained_seq, job.chained_at = written.chained_seq, written.chained_at
    if not came or not all(one.link for one in written.readings):
        job.chained_seq, job.chained_at = job.last_seq, now
    job.save(update_fields=["chain_head", "chained_seq", "chained_at"])


def _check_value(one: ExchangedReading) -> None:
    """The value must be what was typed: the two are never allowed to drift apart."""
    if one.value_si is None:
        return
    number, unit = read_number(one.entered.replace(",", ".")), find_unit(one.unit)
    if (
        number is None
        or unit is None
        or not math.isclose(unit.to_si(number.value), one.value_si, rel_tol=1e-12)
    ):
        found = f"{plain(one.entered)} {plain(one.unit)} and a value of {one.value_si!r} in SI"
        raise InputError(f"job zip, reading #{one.seq}", found, "one and the same")


def _check_time(one: ExchangedReading) -> None:
    """Nothing was read later than now: a clock there or here is wrong, and then no date of it can be had."""
    latest = timezone.now() + CLOCKS_APART
    for name in ("taken_at", "received_at"):
        at = getattr(one, name)
        if at > latest:
            found = f"{name} {at:%Y-%m-%d %H:%M %Z}, which is in the future"
            raise InputError(
                f"job zip, reading #{one.seq}", found, "a time that has been: look at the clocks"
            )


def _known(tools: dict[int, Instrument], ref: int, seq: int) -> Instrument:
    if ref not in tools:
        raise RecordError(f"reading #{seq}: found instrument {ref}, expected one that is listed")
    return tools[ref]


def _store_photos(job: Job, came: _Came, people: _People) -> None:
    """Each picture is the one job.json names, and is made anew all the same: it comes from outside.

    Of a file known to be altered one that is not is left out: its alteration is kept.
    """
    for one in came.written.photos:
        content = came.photos.get(one.sha256)
        if content is None or hashlib.sha256(content).hexdigest() != one.sha256:
            if came.altered and came.taken:
                continue
            found = "no such photo" if content is None else "a photo with another content"
            raise InputError(f"job zip, photos/{one.sha256}.jpg", found, "the photo that job.json names")
        jpeg, (width, height) = re_encoded(content)
        Photo.objects.create(
            job=job,
            person=people[one.by],
            width=width,
            height=height,
            size_bytes=len(jpeg),
            **{**one.model_dump(exclude={"by"}), "sha256": keep_file(jpeg)},
        )


def _decided(job: Job, written: ExchangedJob) -> tuple[Difference, ...]:
    """Decide every check that came with a result, and say where it comes out differently."""
    found = []
    for one in written.results:
        try:
            decide_check(job, one.station_key, one.check_key)
        except BarwiseError as error:
            at = job.number, one.station_key, one.check_key
            found.append(Difference(*at, "cannot be decided", str(error)))
            continue
        here = newest_result(job, one.station_key, one.check_key)
        came = one.decision, one.value, one.line
        if here is not None and came != (here.decision, here.value, here.line):
            line = f'came as {one.decision}: "{one.line}", is {here.decision}: "{here.line}" here'
            found.append(Difference(job.number, one.station_key, one.check_key, "differs", line))
    for row in CheckStanding.objects.filter(job=job, result__isnull=True):
        decide_check(job, row.station_key, row.check_key)
    return tuple(found)


def _photo_file(job: Job, digest: str) -> bytes:
    photo = job.photos.filter(sha256=digest).first()
    assert photo is not None  # the digests were read from these rows
    try:
        return path_of(photo).read_bytes()
    except OSError:
        raise RecordError(f"photo {digest[:12]} of job {job.number} is gone from the data folder") from None


def _table(entry: str, readings: Iterable[Reading]) -> str:
    if entry == "bar-walk":
        return _csv(BAR_COLUMNS, (_bar_row(one) for one in readings))
    if entry == "profile-walk":
        rows = ((one.place_from, one.track, number_text(one), one.unit) for one in readings)
        return _csv((*PROFILE_COLUMNS.shown, *PROFILE_COLUMNS.unshown), rows)
    columns = ("place", "track", "value", "unit", "taken_at")
    rows_of = (
        (one.place_from, one.track, number_text(one), one.unit, one.taken_at.isoformat()) for one in readings
    )
    return _csv(columns, rows_of)


def _bar_row(one: Reading) -> tuple[str, ...]:
    feed = feed_of(one)
    fed = ("", "", "") if feed is None else (str(feed.into), str(feed.out), repr(feed.amps))
    return (one.test, one.place_from, one.place_to, number_text(one), one.unit, *fed)


def _csv(columns: Iterable[str], rows: Iterable[Iterable[str]]) -> str:
    written = io.StringIO()
    writer = csv.writer(written, lineterminator="\n")
    writer.writerow(columns)
    writer.writerows(rows)
    return written.getvalue()
