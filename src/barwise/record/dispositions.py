"""Reuse, rework or replace: barwise proposes, the person decides and may overrule with a reason."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.db import transaction
from django.utils import timezone

from barwise.errors import InputError
from barwise.files.text import shown
from barwise.record.changes import log
from barwise.record.jobs import locked
from barwise.record.models import CheckStanding, Disposition, Job, Person
from barwise.record.refusals import RecordError
from barwise.record.route_of import route_of
from barwise.route.family import Check

CHOICES = ("reuse", "rework", "replace")
_WORST_FIRST = ("replace", "rework", "reuse")


def proposal(job: Job, station: str) -> str:
    """What the results of a station speak for; empty while anything taken there is undecided or nothing is.

    A check whose details propose something, such as the cut plan, speaks for itself; any other that rejects
    speaks for what the family's file says of it (`on_reject`), another part unless it says else.
    """
    checks = {check.key: check for check in route_of(job).family.station(station).checks}
    standings = CheckStanding.objects.filter(job=job, station_key=station, in_force__gt=0)
    spoken = []
    for one in standings.select_related("result"):
        if one.result is None or one.out_of_date or one.result.decision == "undecided":
            return ""
        spoken.append(speaks_for(checks.get(one.check_key), one.result.decision, one.result.details))
    return next((word for word in _WORST_FIRST if word in spoken), "")


def speaks_for(check: Check | None, decision: str, details: Mapping[str, Any]) -> str:
    """What one result speaks for: what its details propose, else by its decision; empty where for nothing."""
    proposed = details.get("proposes")
    if proposed in CHOICES:
        return str(proposed)
    on_reject = "replace" if check is None else check.on_reject
    return {"accept": "reuse", "reject": on_reject}.get(decision, "")


@transaction.atomic
def decide_part(
    job: Job, station: str, decided: str, reason: str = "", part: str = "", person: Person | None = None
) -> Disposition:
    """Write down what is done with the part of a station.

    Raises
    ------
    InputError
        If it is none of reuse, rework, replace, or the route has no such station.
    RecordError
        If it is not what is proposed and no reason is given, or the job is closed.
    """
    job = locked(job)
    stage = route_of(job).family.station(station)
    if decided not in CHOICES:
        raise InputError("decided", shown(decided), ", ".join(CHOICES))
    proposed, reason = proposal(job, station), reason.strip()
    if proposed and decided != proposed and not reason:
        raise RecordError(
            f"{stage.title}: found {decided} where {proposed} is proposed, expected a reason: say why"
        )
    made = Disposition(
        job=job,
        station_key=station,
        part=part.strip(),
        proposed=proposed,
        decided=decided,
        reason=reason,
        person=person,
        decided_at=timezone.now(),
    )
    made.save()
    log("part decided", f"Job {job.number}: {part or stage.title}: {decided}", person, job)
    return made


def dispositions(job: Job) -> list[Disposition]:
    """What counts: the newest for each station and part, in the order they were decided."""
    newest = {(one.station_key, one.part): one for one in Disposition.objects.filter(job=job).order_by("id")}
    return sorted(newest.values(), key=lambda one: one.pk)
