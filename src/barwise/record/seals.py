"""Jobs signed when they are closed, and held against what was signed ever after."""

from __future__ import annotations

import zlib
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from django.conf import settings
from django.db.models import Max
from django.utils import timezone
from pydantic import ValidationError

from barwise.errors import BarwiseError
from barwise.files.canonical_json import time_text
from barwise.files.sealed_job import (
    Alteration,
    SealedJob,
    broken_links,
    bundle,
    decided_since,
    document_of,
    parse_bundle,
    signed_by,
)
from barwise.files.signing_key import grouped, trusted_with
from barwise.files.verifying import Verdict, since_reopened, since_sealed
from barwise.record.brought_seals import (
    against_brought,
    brought_of,
    lost_brought,
    notes_of,
    sealed_elsewhere,
)
from barwise.record.changes import log
from barwise.record.exchanged import written_job, written_result
from barwise.record.habits import the_shop
from barwise.record.models import BroughtSeal, Change, Job, Person, Result, Seal, ShopKey
from barwise.record.photo_place import whole
from barwise.record.refusals import RecordError
from barwise.record.shop_key import public_keys, the_key
from barwise.version import __version__

SEALED = "job sealed"


@dataclass(frozen=True)
class Standing:
    """A job's newest seal, the one it was brought in with, and whether the record is what was signed."""

    seal: Seal | None
    verdict: Verdict
    brought: BroughtSeal | None = None


def seal_job(job: Job, person: Person | None = None) -> Seal:
    """Sign a job as it stands, in the transaction that closes it."""
    key = the_key(person)
    last = job.seals.order_by("-number").first()
    now = timezone.now()
    number = 1 if last is None else last.number + 1
    document = document_of(
        job_json(job),
        shop=the_shop().name,
        key=key.fingerprint,
        signed_at=time_text(now),
        seal=number,
        former="" if last is None else last.digest,
        software=__version__,
    )
    signature = signed_by(key, document)
    made = Seal(
        job=job,
        number=number,
        key=ShopKey.objects.get(fingerprint=key.fingerprint),
        packed=zlib.compress(document),
        digest=SealedJob(document, signature, {}, ()).digest,
        signature=signature,
        signed_at=now,
        person=person,
    )
    made.save()
    line = f"Job {job.number}: sealed with key {grouped(key.fingerprint)}"
    log(SEALED, line, person, job, {"digest": made.digest})
    return made


def bundle_of(job: Job) -> bytes | None:
    """What a sealed file of this job carries: its newest seal, those before, public keys; or None."""
    seals = list(job.seals.select_related("key").order_by("number"))
    if not seals:
        return None
    the_key()  # it signs the file that carries this, so it must be among the keys
    former = [
        {
            "digest": one.digest,
            "signature": one.signature,
            "key": one.key.fingerprint,
            "signed_at": time_text(one.signed_at),
        }
        for one in seals[:-1]
    ]
    try:
        document = zlib.decompress(seals[-1].packed)
        return bundle(document, seals[-1].signature, public_keys(), former)
    except (zlib.error, UnicodeDecodeError, TypeError):
        raise RecordError(f"seal {seals[-1].number} of job {job.number}: found it damaged") from None


def check_job(job: Job, key: str = "") -> Standing:
    """Hold what stands in the record now against what was signed.

    A job that was opened again is held to the readings that were signed. One that was never closed, or only
    by a barwise that did not sign, has its chain.
    """
    numbers = job.readings.aggregate(last=Max("seq"))
    job = Job.objects.get(pk=job.pk)
    seal = job.seals.select_related("key").order_by("-number").first()
    brought = brought_of(job)
    altered = [*_lost_seals(job, seal), *lost_brought(job, brought)]
    if (numbers["last"] or 0) > job.last_seq:
        how = "added: it came in past the job's own count"
        altered.append(Alteration(f"reading #{numbers['last']}", how))
    try:
        written = job_json(job)
        altered += broken_links(written)
        sealed = None if seal is None else _sealed(job, seal)
        elsewhere = None if brought is None else sealed_elsewhere(brought)
        there = [] if brought is None else against_brought(brought, job, written)
    except ValidationError as error:
        altered.append(_never_written(error))
        found = Verdict("database", job.number, tuple(altered), demanded=bool(key))
        return Standing(seal, found, brought)
    except BarwiseError as error:
        altered.append(Alteration("signed document", f"cannot be read: {error}"))
        found = Verdict("database", job.number, tuple(altered), demanded=bool(key))
        return Standing(seal, found, brought)
    wrong, said = ([], []) if sealed is None else _against(sealed, job, written)
    wrong += there
    said += [] if brought is None else notes_of(brought, written)
    shown = sealed or elsewhere
    if shown is None:
        said.append(_unsigned(job))
    # Where the field can be told, that is said, and not again that the link does not fit.
    told = {one.what for one in wrong}
    altered = [one for one in altered if one.what not in told] + wrong
    if sealed is not None and sealed.digest != (seal.digest if seal else ""):
        altered.append(Alteration("signed document", "not the one whose digest was kept"))
    known = bool(key) and shown is not None and shown.signed["key"] in trusted_with(key, shown.keys)
    found = Verdict("database", job.number, tuple(altered), shown, bool(key), known, tuple(said))
    return Standing(seal, found, brought)


def _sealed(job: Job, seal: Seal) -> SealedJob:
    packed = bundle_of(job)
    assert packed is not None  # there is a seal
    return parse_bundle(packed, f"seal {seal.number} of job {job.number}")


def _against(sealed: SealedJob, job: Job, written: dict[str, Any]) -> tuple[list[Alteration], list[str]]:
    """What is not as it was signed: the signature, and what stands in the record and on the disk now."""
    altered = []
    if not sealed.is_whole:
        altered.append(Alteration("signed document", "its signature is not that of its key: it was altered"))
    altered += sealed.wrong_former()
    altered += sealed.wrong_keys()
    if job.state == "closed" or job.closed_at is not None:
        wrong, notes = since_sealed(sealed, _as_decided(job, written, sealed), __version__, later=False)
    else:
        wrong = since_reopened(sealed.job, written)
        notes = ["Opened again after it was sealed: what came in since is chained, not signed."]
    return [*altered, *wrong, *_pictures(sealed)], notes


def _as_decided(job: Job, written: dict[str, Any], sealed: SealedJob) -> dict[str, Any]:
    """With the results that counted when it was signed: a later barwise may have decided anew since."""
    later = set(decided_since(written, str(sealed.signed["signed_at"])))
    then = sealed.signed["signed_at"]
    kept = [one for one in written["results"] if f"{one['station_key']}.{one['check_key']}" not in later]
    for name in later:
        station, _, check = name.partition(".")
        rows = Result.objects.filter(job=job, station_key=station, check_key=check, made_at__lte=then)
        if (row := rows.order_by("-id").first()) is not None:
            kept.append(written_result(row).model_dump(mode="json"))
    return {**written, "results": kept}


def _never_written(error: ValidationError) -> Alteration:
    """A row that holds what the services never write."""
    first = error.errors(include_url=False, include_context=False)[0]
    field = ".".join(str(part) for part in first["loc"])
    found = repr(first["input"])[:80]
    return Alteration("a row of the job", "altered: barwise never writes that", field, found=found)


def job_json(job: Job) -> dict[str, Any]:
    """The job as ``job.json`` has it."""
    written: dict[str, Any] = written_job(job).model_dump(mode="json", by_alias=True)
    return written


def _lost_seals(job: Job, last: Seal | None) -> list[Alteration]:
    """Seals that were made, as the log of changes has it, and are not there."""
    there = set(job.seals.values_list("digest", flat=True))
    made = Change.objects.filter(job=job, what=SEALED).order_by("id").values_list("details", flat=True)
    lost = [str(one.get("digest")) for one in made if one.get("digest") not in there]
    found = [Alteration(f"seal {one[:16]}", "missing: it was made and is not here") for one in lost]
    if last is not None and job.seals.count() != last.number:
        found.append(Alteration("earlier seals of this job", "missing"))
    return found


def _pictures(sealed: SealedJob) -> list[Alteration]:
    folder = Path(settings.MEDIA_ROOT)
    return [
        Alteration(
            f"photo {one.get('caption') or str(one['sha256'])[:12]}",
            "missing, or altered: its picture is not in place",
        )
        for one in sealed.job.get("photos", ())
        if whole(folder, str(one["sha256"])) is None
    ]


def _unsigned(job: Job) -> str:
    if job.state == "closed":
        return "Closed by a barwise that did not sign, or elsewhere: its readings are chained only."
    return "Not closed, so not signed: its readings are chained only."
