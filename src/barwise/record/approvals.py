"""Put it back or not: what a job's findings ask for, and the customer's word on what was shown."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.db import transaction
from django.utils import timezone

from barwise.errors import InputError
from barwise.files.text import shown as quoted
from barwise.inspect.worth import Needed, PartStanding, needed
from barwise.record.changes import log
from barwise.record.dispositions import dispositions, speaks_for
from barwise.record.jobs import locked
from barwise.record.models import Approval, Job, Person
from barwise.record.refusals import RecordError
from barwise.record.route_of import route_if_known
from barwise.record.standing import job_stand
from barwise.version import __version__

ANSWERS = tuple(word for word, _ in Approval.ANSWERS)
WAYS = tuple(word for word, _ in Approval.WAYS)
LARGEST = 200_000
"""Characters of what was shown."""


def asked_for(job: Job) -> tuple[Needed, ...]:
    """Parts that the job's decisions and results ask to replace or mend, those that must be first."""
    stand = job_stand(job)
    titles = {one.station.key: one.station.title for one in stand.checks}
    standings = [
        PartStanding(
            station=titles.get(one.station_key, one.station_key),
            part=one.part or titles.get(one.station_key, one.station_key),
            decided=one.decided,
            line=one.reason,
        )
        for one in dispositions(job)
    ]
    kept = {
        f"{row.station_key}.{row.check_key}": row.result.details
        for row in job.standings.filter(result__decision="reject").select_related("result")
        if row.result is not None
    }
    standings += [
        PartStanding(
            station=one.station.title,
            part=one.check.title,
            outcome=one.decision,
            line=one.line,
            speaks_for=speaks_for(one.check, "reject", kept.get(one.name, {})),
        )
        for one in stand.checks
        if one.in_force and one.decision in ("reject", "undecided") and not one.station.whole_unit
    ]
    return needed(standings)


@dataclass(frozen=True)
class WornPart:
    """A part whose wear was measured: the check's key ``station.check``, what it is called, share gone."""

    key: str
    title: str
    share: float
    uncertainty: float
    line: str


def worn_parts(job: Job) -> tuple[WornPart, ...]:
    """Parts of this job with a share of wear: checks that were held against a wear scale, kept up to date."""
    found: list[WornPart] = []
    route = route_if_known(job)
    if route is None:
        return ()
    for row in job.standings.filter(result__isnull=False, in_force__gt=0).select_related("result"):
        result = row.result
        if result is None or row.out_of_date or "worn_percent" not in result.details:
            continue
        known = result.details
        low, high = (float(known[f"worn_{end}_percent"]) for end in ("low", "high"))
        check = route.family.check(row.station_key, row.check_key)
        station = route.family.station(row.station_key)
        found.append(
            WornPart(
                key=f"{row.station_key}.{row.check_key}",
                title=f"{station.title}: {check.title}",
                share=float(known["worn_percent"]) / 100,
                # the interval holds 95 %
                uncertainty=abs(high - low) / 100 / (2 * 1.96),
                line=result.line,
            )
        )
    return tuple(found)


@transaction.atomic
def record_approval(
    job: Job,
    shown: Mapping[str, Any],
    answer: str,
    choice: str,
    said_by: str,
    way: str,
    note: str = "",
    person: Person | None = None,
) -> Approval:
    """Write down what the customer said to what was shown.

    Parameters
    ----------
    shown : mapping
        As `barwise.report.parts.worth.worth_answer` gives it: figures and words. Kept whole.
    answer : str
        approved or declined.
    choice : str
        Key of the choice it is about; one of those shown.
    said_by : str
        Who said so, by name.
    way : str
        in person, by telephone or in writing.

    Raises
    ------
    InputError
        If one of these is missing or none of what may be.
    RecordError
        If the job is closed.
    """
    job = locked(job)
    said_by = " ".join(said_by.split())
    keys = [str(one.get("key")) for one in shown.get("choices", ()) if isinstance(one, Mapping)]
    _one_of("answer", answer, ANSWERS)
    _one_of("choice", choice, keys)
    _one_of("how", way, WAYS)
    if not 1 <= len(said_by) <= 120:
        raise InputError("who said so", quoted(said_by) if said_by else "nothing", "a name")
    text = canonical(shown)
    if len(text) > LARGEST:
        raise RecordError(f"approval: found {len(text)} characters to keep, expected {LARGEST} at most")
    made = Approval(
        job=job,
        answer=answer,
        choice=choice,
        said_by=said_by,
        way=way,
        note=note.strip(),
        shown=json.loads(text),
        sha256=fingerprint(shown),
        software_version=__version__,
        person=person,
        recorded_at=timezone.now(),
    )
    made.save()
    log("price answered", f"Job {job.number}: {answer} by {said_by}, {way}: {title_of(made)}", person, job)
    return made


def approvals(job: Job) -> list[Approval]:
    """All words on this job, the newest first."""
    return list(Approval.objects.filter(job=job).select_related("person").order_by("-id"))


def standing_approval(job: Job) -> Approval | None:
    """The word that counts: the newest."""
    return Approval.objects.filter(job=job).select_related("person").order_by("-id").first()


def priced_last() -> Mapping[str, Any]:
    """What was shown last in this shop, for the habits of the next one: currency, rate, tax."""
    last = Approval.objects.order_by("-id").first()
    return {} if last is None else dict(last.shown)


def title_of(approval: Approval) -> str:
    """What the choice was called when it was shown."""
    for one in approval.shown.get("choices", ()):
        if one.get("key") == approval.choice:
            return str(one.get("title", approval.choice))
    return str(approval.choice)


def line_of(approval: Approval) -> str:
    """The sentence about the choice as it was shown."""
    for one in approval.shown.get("choices", ()):
        if one.get("key") == approval.choice:
            return str(one.get("line", ""))
    return ""


def is_as_shown(approval: Approval) -> bool:
    """Whether the kept figures still have the fingerprint they were kept with."""
    return fingerprint(approval.shown) == approval.sha256


def canonical(shown: Mapping[str, Any]) -> str:
    """The one text of what was shown, however its keys were ordered."""
    return json.dumps(shown, sort_keys=True, ensure_ascii=False, separators=(",", ":"), allow_nan=False)


def fingerprint(shown: Mapping[str, Any]) -> str:
    """SHA-256 of that text.

    Notes
    -----
    Taken of the text read back, as PostgreSQL keeps numbers of a JSON column in a form of its own.
    """
    return hashlib.sha256(canonical(_plainly(shown)).encode()).hexdigest()


def stored_approval(job: Job, given: Mapping[str, Any], person: Person | None, at: datetime) -> Approval:
    """A word that came with a job from another shop, as it was written there."""
    made = Approval(job=job, person=person, recorded_at=at, **given)
    if not is_as_shown(made):
        raise RecordError("approval: found other figures than it was kept with, expected them as shown")
    made.save()
    return made


def _plainly(value: Any) -> Any:
    """Numbers as text of one form: 1.0 and 1 are one number to one database and two to another."""
    if isinstance(value, Mapping):
        return {str(key): _plainly(one) for key, one in value.items()}
    if isinstance(value, list | tuple):
        return [_plainly(one) for one in value]
    if isinstance(value, int | float) and not isinstance(value, bool):
        return repr(float(value))
    return value


def _one_of(what: str, found: str, known: tuple[str, ...] | list[str]) -> None:
    if found not in known:
        raise InputError(what, quoted(found) if found else "nothing", ", ".join(known) or "a price first")
