"""Jobs from the door and back to it: opened, given a sheet, waiting, closed, opened again."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime

from django.db import IntegrityError, transaction
from django.db.models import F
from django.utils import timezone

from barwise.errors import InputError
from barwise.files.text import shown
from barwise.record.changes import log
from barwise.record.models import CheckStanding, Customer, Job, Part, Person, SheetVersion, Unit
from barwise.record.refusals import RecordError
from barwise.record.seals import seal_job
from barwise.route.family import load_family

MOST_TRIES = 5
"""Numbers tried when other benches open jobs in the same moment."""


@transaction.atomic
def add_customer(
    name: str, contact: str = "", person: Person | None = None, *, invented: bool = False
) -> Customer:
    """The customer of this name and contact, new unless there is one."""
    name = _said("customer", name, 200)
    known = Customer.objects.filter(name=name, contact=contact.strip()).first()
    if known is not None:
        return known
    customer = Customer.objects.create(name=name, contact=contact.strip(), invented=invented)
    log("customer added", f"Customer {name}", person)
    return customer


@transaction.atomic
def add_unit(
    tag: str,
    family: str,
    serial: str = "",
    description: str = "",
    person: Person | None = None,
    *,
    invented: bool = False,
) -> Unit:
    """The unit of this tag, new unless it is known.

    Raises
    ------
    InputError
        If there is no tag, or no such family.
    RecordError
        If the tag belongs to a unit with another serial number or of another family.
    """
    tag, serial = _said("tag", tag, 60), serial.strip()
    load_family(family)
    known = Unit.objects.filter(tag=tag).first()
    if known is None:
        unit = Unit.objects.create(
            tag=tag, serial=serial, family_key=family, description=description.strip(), invented=invented
        )
        log("unit added", f"Unit {tag}, serial {serial or 'not known'}", person)
        return unit
    if known.family_key != family or (serial and known.serial and serial != known.serial):
        has = f"{known.family_key}, serial {known.serial or 'not known'}"
        raise RecordError(f"tag {tag}: found on another unit already ({has}), expected a tag not in use")
    return known


@transaction.atomic
def open_job(
    unit: Unit,
    customer: Customer,
    sheet: SheetVersion | None = None,
    complaint: str = "",
    person: Person | None = None,
    number: str = "",
    *,
    invented: bool = False,
) -> Job:
    """Open a job for a unit.

    Parameters
    ----------
    sheet : SheetVersion, optional
        Can be given later with `assign_sheet`.
    number : str
        The shop's own number; without it the next of the year, such as 2026-0007.

    Raises
    ------
    RecordError
        If the number is taken, the unit has a job on hand, or the sheet is of another family.
    """
    on_hand = Job.objects.filter(unit=unit).exclude(state="closed").first()
    if on_hand is not None:
        raise RecordError(f"unit {unit.tag}: found on the bench already as job {on_hand.number}")
    _check_family(unit.family_key, sheet)

    def create(as_number: str) -> Job:
        return Job.objects.create(
            number=as_number,
            unit=unit,
            customer=customer,
            sheet=sheet,
            family_key=unit.family_key,
            complaint=complaint.strip(),
            opened_at=timezone.now(),
            invented=invented,
        )

    job = numbered(create, number)
    log("job opened", f"Job {job.number}: unit {unit.tag} of {customer.name}", person, job)
    return job


def numbered(create: Callable[[str], Job], number: str = "") -> Job:
    """Create a job under its number, or under the next free one of the year.

    Raises
    ------
    RecordError
        If the number asked for is taken.
    """
    if number.strip():
        wanted = _said("job number", number, 40)
        if Job.objects.filter(number=wanted).exists():
            raise RecordError(f"job number {wanted}: found on another job, expected one not in use")
        return create(wanted)
    for _ in range(MOST_TRIES):
        try:
            with transaction.atomic():
                return create(_next_number())
        except IntegrityError:
            continue
    raise RecordError("job number: too many jobs opened in the same moment; try again")


@transaction.atomic
def assign_sheet(job: Job, sheet: SheetVersion, person: Person | None = None) -> Job:
    """Judge a job by another sheet or version from now on; what is decided is then out of date.

    Raises
    ------
    RecordError
        If the job is closed, or the sheet is of another family.
    """
    job = locked(job)
    _check_family(job.family_key, sheet)
    before = job.sheet
    if before == sheet:
        return job
    job.sheet = sheet
    job.save(update_fields=["sheet"])
    CheckStanding.objects.filter(job=job).update(touches=F("touches") + 1)
    old = "none" if before is None else str(before)
    log("sheet assigned", f"Job {job.number}: sheet {sheet} (before: {old})", person, job)
    return job


@transaction.atomic
def wait_for(job: Job, what: str, person: Person | None = None) -> Job:
    """Say what a job waits for, such as a part or the customer's word; nothing: it waits no longer."""
    job, what = locked(job), what.strip()
    if len(what) > 200:
        raise InputError("waits for", f"{len(what)} characters", "at most 200")
    job.state, job.waits_for = ("waiting" if what else "open"), what
    job.save(update_fields=["state", "waits_for"])
    log("job waits" if what else "job goes on", f"Job {job.number}: {what or 'waits no longer'}", person, job)
    return job


@transaction.atomic
def close_job(job: Job, person: Person | None = None, at: datetime | None = None) -> Job:
    """Close a job and sign it as it stands; no reading is taken for it until it is opened again.

    `at` is when the work was finished, where that is written down later; else now.
    """
    job = locked(job)
    job.state, job.waits_for, job.closed_at = "closed", "", at or timezone.now()
    job.save(update_fields=["state", "waits_for", "closed_at"])
    log("job closed", f"Job {job.number}", person, job)
    seal_job(job, person)
    return job


@transaction.atomic
def reopen_job(job: Job, reason: str, person: Person | None = None) -> Job:
    """Open a closed job again, for a reason. Raises RecordError if it is not closed."""
    reason = _said("reason", reason, 200)
    job = locked(job, closed=True)
    job.state, job.closed_at = "open", None
    job.save(update_fields=["state", "closed_at"])
    log("job opened again", f"Job {job.number}: {reason}", person, job)
    return job


@transaction.atomic
def record_part(
    job: Job,
    name: str,
    action: str,
    quantity: int = 1,
    part_number: str = "",
    station: str = "",
    note: str = "",
    person: Person | None = None,
) -> Part:
    """Write down a part fitted or replaced."""
    job = locked(job)
    if action not in ("fitted", "replaced"):
        raise InputError("action", shown(action), "fitted or replaced")
    if not 1 <= quantity <= 10_000:
        raise InputError("quantity", str(quantity), "a whole number from 1")
    part = Part.objects.create(
        job=job,
        station_key=station,
        name=_said("part", name, 120),
        part_number=part_number.strip()[:80],
        action=action,
        quantity=quantity,
        note=note.strip(),
        person=person,
        recorded_at=timezone.now(),
    )
    log("part recorded", f"Job {job.number}: {part}", person, job)
    return part


def job_numbered(number: str) -> Job:
    """The job of this number. Raises InputError where there is none."""
    found = Job.objects.select_related("sheet").filter(number=number.strip()).first()
    if found is None:
        raise InputError("job number", shown(number), "the number of a job in this record")
    return found


def locked(job: Job, *, closed: bool = False) -> Job:
    """The job as it stands now, its row held until the transaction ends.

    Raises
    ------
    RecordError
        If it is closed and should be open, or the other way round.
    """
    now = held(job)
    must_be(now, closed=closed)
    return now


def held(job: Job) -> Job:
    """The job as it stands now, its row held until the transaction ends."""
    return Job.objects.select_for_update(of=("self",)).select_related("sheet").get(pk=job.pk)


def must_be(job: Job, *, closed: bool) -> None:
    """Raises RecordError if the job is closed and should be open, or the other way round."""
    if (job.state == "closed") != closed:
        wanted = "it closed" if closed else "it open: open it again first"
        raise RecordError(f"job {job.number}: found it {job.state}, expected {wanted}")


def _check_family(family: str, sheet: SheetVersion | None) -> None:
    if sheet is not None and sheet.family_key != family:
        raise RecordError(f"sheet {sheet}: found for the family {sheet.family_key}, expected {family}")


def _next_number() -> str:
    year = f"{timezone.localdate():%Y}-"
    numbers = Job.objects.filter(number__startswith=year).values_list("number", flat=True)
    used = (number.removeprefix(year) for number in numbers)
    last = max((int(end) for end in used if end.isdecimal() and len(end) <= 9), default=0)
    return f"{year}{last + 1:04d}"


def _said(what: str, text: str, longest: int) -> str:
    text = " ".join(text.split())
    if not text or len(text) > longest:
        found = f"{len(text)} characters" if text else "nothing"
        raise InputError(what, found, f"1 to {longest} characters")
    return text
