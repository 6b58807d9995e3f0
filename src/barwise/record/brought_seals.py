"""The seal of the shop that made a job, kept with the job where it was brought in and held against it there.

The bytes that were signed cannot be written from the record here: a job may get another number, instruments
have others, results are worked out anew. So what was signed is kept as it came, and the record is held
against it in all that is taken over.
"""

from __future__ import annotations

import hashlib
import json
import zlib
from collections.abc import Mapping, Set
from dataclasses import asdict
from datetime import datetime
from typing import Any

from django.utils import timezone

from barwise.errors import BarwiseError, InputError
from barwise.files.job_zip import seal_in
from barwise.files.sealed_job import Alteration, SealedJob, differences, parse_bundle
from barwise.files.signing_key import grouped
from barwise.files.verifying import WHOLE_FILE, Verdict
from barwise.record.changes import log
from barwise.record.models import BroughtSeal, Change, Job, Person
from barwise.version import __version__

Written = Mapping[str, Any]

BROUGHT = "seal brought in"
BEFORE = "before it was brought in"
_LISTS = ("readings", "dispositions", "parts", "photos", "approvals")
_FACTS = (
    "uuid", "family", "unit_tag", "customer", "complaint", "state", "waits_for", "opened_at", "closed_at",
    "invented", "sheet",
)  # fmt: skip
"""What is taken over of a job as it was signed; not what is of unit and customer here, the log, results."""


def keep_seal(
    job: Job, content: bytes, found: Verdict, taken: str, person: Person | None
) -> BroughtSeal | None:
    """Keep what a zip has of a seal, and what verifying it found; None where that is nothing."""
    altered = altered_in(found)
    sealed = found.sealed
    if sealed is None and not altered:
        return None
    packed = b"" if sealed is None else seal_in(content)
    made = BroughtSeal(
        job=job,
        number=job.number,
        packed=zlib.compress(packed) if packed else b"",
        digest="" if sealed is None else sealed.digest,
        shop=found.shop[:200],
        key="" if sealed is None else str(sealed.signed["key"])[:64],
        signed_at=None if sealed is None else _time(sealed),
        taken=taken if altered else "",
        altered=[asdict(one) for one in altered],
        photos={str(one.key): one.sha256 for one in job.photos.all()},
        brought_at=timezone.now(),
        person=person,
    )
    made.save()
    log(BROUGHT, f"Job {job.number}: {in_words(made)}", person, job, {"digest": made.digest})
    return made


def altered_in(found: Verdict) -> tuple[Alteration, ...]:
    """What of a zip is altered. Packed anew it may be: that alters nothing, but its seal must be in it."""
    return tuple(one for one in found.altered if one.what != WHOLE_FILE or found.sealed is None)


def in_words(brought: BroughtSeal) -> str:
    """By whom it was sealed, with which key, and how it came."""
    shop = brought.shop or "a shop without a name"
    by = f"sealed by {shop}, key {grouped(brought.key)}" if brought.digest else "without a seal"
    if not brought.altered:
        return by
    count = len(brought.altered)
    how = "what was signed was brought in" if brought.taken == "signed" else "brought in as it was found"
    return f"{by}; the file was altered in {count} {'thing' if count == 1 else 'things'}, {how}"


def brought_of(job: Job) -> BroughtSeal | None:
    """The seal a job came with."""
    return BroughtSeal.objects.filter(job=job).first()


def lost_brought(job: Job, brought: BroughtSeal | None) -> list[Alteration]:
    """A seal that was brought in, as the log has it, and is not there, or is another."""
    kept = Change.objects.filter(job=job, what=BROUGHT).order_by("id").values_list("details", flat=True)
    digests = [str(one.get("digest")) for one in kept]
    if digests and (brought is None or brought.digest != digests[-1]):
        return [Alteration("seal it was brought in with", "missing, or another one")]
    return []


def sealed_elsewhere(brought: BroughtSeal) -> SealedJob | None:
    """What the other shop signed; None where it signed nothing.

    Raises
    ------
    InputError
        If what is kept is damaged.
    """
    if not brought.packed and not brought.digest:
        return None
    where = f"seal brought in with job {brought.number}"
    try:
        return parse_bundle(zlib.decompress(brought.packed), where)
    except (zlib.error, TypeError):
        raise InputError(where, "it damaged", "it as it came") from None


def against_brought(brought: BroughtSeal, job: Job, written: Written) -> list[Alteration]:
    """What of a job is not as the other shop signed it: by then, and since.

    Raises
    ------
    BarwiseError
        If what is kept cannot be read.
    """
    then = [Alteration(**one) for one in brought.altered] if brought.taken == "found" else []
    sealed = sealed_elsewhere(brought)
    now = (
        [] if sealed is None else [*_of_document(brought, sealed), *_of_record(brought, sealed, job, written)]
    )
    known = {(one.what, one.field, one.found) for one in then} | {
        (one.what, "", "") for one in then if not one.field
    }
    since = [
        one
        for one in now
        if (one.what, one.field, one.found) not in known and (one.what, "", "") not in known
    ]
    return [
        *(Alteration(one.what, f"{one.how} {BEFORE}", one.field, one.signed, one.found) for one in then),
        *since,
    ]


def notes_of(brought: BroughtSeal, written: Written) -> list[str]:
    """What is not covered by the other shop's seal."""
    said = []
    if brought.altered and brought.taken == "signed":
        count = len(brought.altered)
        said.append(f"The file it came in was altered in {count} things; what was signed was brought in.")
    if brought.digest:
        said.append(
            "The seal is that of the shop it came from. It covers what was taken over: readings, decisions "
            "on parts, parts, the customer's words. Results are worked out here; photos were held against "
            "it when they came in, and made anew."
        )
        said += _decided_otherwise(brought, written)
    return said


def _decided_otherwise(brought: BroughtSeal, written: Written) -> list[str]:
    try:
        sealed = sealed_elsewhere(brought)
    except BarwiseError:
        return []
    signed = (
        {} if sealed is None else {_check(one): one.get("decision") for one in sealed.job.get("results", ())}
    )
    here = {_check(one): one.get("decision") for one in written.get("results", ())}
    other = [name for name, decision in signed.items() if name in here and here[name] != decision]
    return [f"Decided otherwise here than there: {', '.join(other)}."] if other else []


def _check(one: Mapping[str, Any]) -> str:
    return f"{one.get('station_key')}.{one.get('check_key')}"


def _of_document(brought: BroughtSeal, sealed: SealedJob) -> list[Alteration]:
    altered = []
    if sealed.digest != brought.digest:
        altered.append(Alteration("signed document", "not the one whose digest was kept"))
    return [*altered, *sealed.wrong_document()]


def _of_record(brought: BroughtSeal, sealed: SealedJob, job: Job, written: Written) -> list[Alteration]:
    """Of a job opened again since, there or here, the readings that were signed; else all that came over."""
    # What came with links that do not fit has others here, which its own chain is held against.
    without = {"link"} if brought.taken == "found" else set()
    signed = _taken_over(sealed.job, brought.photos, without)
    found = _taken_over(written, {}, without)
    software = (str(sealed.signed.get("software")), __version__)
    if job.seals.exists() or (job.state != "closed" and job.closed_at is None):
        count = len(signed["readings"])
        return differences(
            {"readings": signed["readings"]}, {"readings": found["readings"][:count]}, software
        )
    altered = differences(signed, found, software)
    if job.number != brought.number:
        how = Alteration("job", "altered", "number", f'"{brought.number}"', f'"{job.number}"')
        altered.append(how)
    return altered


def _taken_over(job: Written, photos: Mapping[str, str], without: Set[str]) -> dict[str, Any]:
    """What is the same in either record: an instrument by its figures, a picture by what it became here."""
    tools = {one.get("ref"): _figures(one) for one in job.get("instruments", ())}
    kept: dict[str, Any] = {name: job.get(name) for name in _FACTS}
    kept |= {name: list(job.get(name, ())) for name in _LISTS}
    kept["readings"] = [
        {
            **{name: one[name] for name in one if name not in without},
            "instrument": tools.get(one.get("instrument"), one.get("instrument")),
        }
        for one in kept["readings"]
    ]
    kept["photos"] = [
        {**one, "sha256": photos.get(str(one.get("key")), one.get("sha256"))} for one in kept["photos"]
    ]
    return kept


def _figures(tool: Mapping[str, Any]) -> str:
    figures = json.dumps({name: one for name, one in tool.items() if name != "ref"}, sort_keys=True)
    return f"{tool.get('tag')}, {hashlib.sha256(figures.encode()).hexdigest()[:16]}"


def _time(sealed: SealedJob) -> datetime | None:
    try:
        at = datetime.fromisoformat(str(sealed.signed["signed_at"]))
    except ValueError:
        return None
    return at if at.tzinfo else None
