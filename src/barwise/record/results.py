"""What a check comes to, decided from the readings in force and kept.

A result is never changed: deciding again adds another, and the newest counts. Its fingerprint covers all that
went in, so that the same fingerprint must always come to the same result.
"""

from __future__ import annotations

import hashlib
import json
import math
from collections.abc import Iterable, Mapping, Sequence
from contextlib import suppress
from dataclasses import asdict, dataclass
from functools import reduce
from operator import or_
from typing import get_args

from django.db import transaction
from django.db.models import Q
from django.utils import timezone

from barwise.errors import BarwiseError
from barwise.inspect.checks import Decided, Outcome, Taken
from barwise.inspect.checks.plain import plain
from barwise.measure.decision import USUAL_LEVEL
from barwise.record.in_force import in_force, taken
from barwise.record.models import CheckStanding, Job, Reading, Result, Shop
from barwise.record.route_of import RouteOfJob, route_of
from barwise.route.deciding import decide, leaning_on
from barwise.route.family import Check
from barwise.version import __version__

Context = Mapping[str, Outcome]
WALKS = ("bar-walk", "profile-walk")
_DECIDED: dict[str, Decided] = {word: word for word in get_args(Decided)}


@dataclass(frozen=True)
class Inputs:
    """All that one check of one job is decided from."""

    station: str
    check: Check
    readings: tuple[Taken, ...]
    seqs: tuple[int, ...]
    context: Context
    level: float
    sheet_sha256: str

    @property
    def fingerprint(self) -> str:
        """SHA-256 over all of it, the same on every machine."""
        kept = {name: _essence(outcome) for name, outcome in sorted(self.context.items())}
        whole = {
            "check": f"{self.station}.{self.check.key}",
            "readings": [asdict(reading) for reading in self.readings],
            "context": kept,
            "level": self.level,
            "sheet": self.sheet_sha256,
        }
        return hashlib.sha256(json.dumps(plain(whole), sort_keys=True).encode()).hexdigest()


@dataclass(frozen=True)
class Worked:
    """A result, and the whole answer it was taken from where it was worked out just now."""

    result: Result
    whole: Outcome | None


def decide_check(job: Job, station: str, check: str) -> Result:
    """The result of one check as its readings stand now, decided and kept unless it is kept already.

    Checks it leans on are decided first where they are out of date.

    Raises
    ------
    InputError
        If the route has no such check, or its limit is in a unit of another quantity.
    """
    return decide_whole(job, station, check).result


def decide_whole(job: Job, station: str, check: str) -> Worked:
    """The same with its whole answer, for pictures. Raises as `decide_check`."""
    route = route_of(job)
    asked = route.family.check(station, check)
    context = _context(job, asked)
    standing = CheckStanding.objects.filter(job=job, station_key=station, check_key=check).first()
    touches = 0 if standing is None else standing.touches
    inputs = inputs_of(job, station, asked, list(in_force(job, station, check)), context)
    kept = newest_result(job, station, check)
    if kept is not None and (kept.fingerprint, kept.software_version) == (inputs.fingerprint, __version__):
        return Worked(_keep(kept, touches), None)
    whole = outcome_of(route, inputs)
    return Worked(_keep_once(_result(job, inputs, whole), touches), whole)


def decide_light(job: Job, station: str, check: Check, route: RouteOfJob) -> Result:
    """The same for a check that is decided in a moment, within the transaction of its reading.

    What it leans on is taken as it was decided last; light checks that lean on it are decided after it.
    """
    standing = CheckStanding.objects.get(job=job, station_key=station, check_key=check.key)
    context = _decided_before(job, check)
    inputs = inputs_of(job, station, check, list(in_force(job, station, check.key)), context)
    result = _keep(_result(job, inputs, outcome_of(route, inputs)), standing.touches)
    dependents = route.dependents.get(f"{station}.{check.key}", ())
    read = _read_among(job, dependents) if dependents else {}
    for name in dependents:
        other_station, _, key = name.partition(".")
        other = route.family.check(other_station, key)
        if is_light(other) and name in read:
            # What cannot be decided stays open, and takes nothing with it.
            with suppress(BarwiseError), transaction.atomic():
                decide_light(job, other_station, other, route)
    return result


def is_light(check: Check) -> bool:
    """Whether a check is decided in the transaction of its reading: it is no walk, and does not take long."""
    return check.entry not in WALKS and not check.slow


def current_result(job: Job, station: str, check: str) -> Result:
    """The newest result if nothing came in since, else the check decided anew."""
    standing = (
        CheckStanding.objects.select_related("result")
        .filter(job=job, station_key=station, check_key=check)
        .first()
    )
    if standing is not None and standing.result is not None and not standing.out_of_date:
        return standing.result
    return decide_check(job, station, check)


def live_outcome(job: Job, station: str, check: str) -> Outcome:
    """What a check comes to right now, with the whole answer for pictures; nothing is kept."""
    route = route_of(job)
    asked = route.family.check(station, check)
    readings = list(in_force(job, station, check))
    return outcome_of(route, inputs_of(job, station, asked, readings, _context(job, asked)))


def newest_result(job: Job, station: str, check: str) -> Result | None:
    """The result that counts, if the check was ever decided."""
    of_check = Result.objects.filter(job=job, station_key=station, check_key=check)
    return of_check.order_by("-id").first()


def outcome_of(route: RouteOfJob, inputs: Inputs) -> Outcome:
    """The deciding function's answer."""
    return decide(
        route.family,
        inputs.station,
        inputs.check.key,
        route.sheet,
        inputs.readings,
        inputs.context,
        inputs.level,
    )


def inputs_of(job: Job, station: str, check: Check, readings: Sequence[Reading], context: Context) -> Inputs:
    """Gather what a check is decided from."""
    return Inputs(
        station=station,
        check=check,
        readings=taken(readings),
        seqs=tuple(reading.seq for reading in readings),
        context=context,
        level=shop_level(),
        sheet_sha256="" if job.sheet is None else job.sheet.sha256,
    )


def shop_level() -> float:
    """The probability at which this shop decides."""
    level = Shop.objects.values_list("level", flat=True).first()
    return USUAL_LEVEL if level is None else level


def as_outcome(result: Result) -> Outcome:
    """A kept result as an outcome, for a check that leans on it."""
    return Outcome(
        decision=_DECIDED[result.decision],
        line=result.line,
        settle=result.settle,
        value=result.value,
        uncertainty=result.uncertainty,
        quantity=result.quantity,
        unit=result.unit,
        probability=result.probability,
        details=result.details,
    )


def of_checks(names: Iterable[str]) -> Q:
    """Rows of any of these checks, ``station.check`` each; there must be one at least."""
    parts = [name.partition(".") for name in names]
    return reduce(or_, (Q(station_key=station, check_key=check) for station, _, check in parts))


def _read_among(job: Job, names: Iterable[str]) -> dict[str, CheckStanding]:
    """Those of these checks that have a reading in force, by name; asked for at once."""
    standings = CheckStanding.objects.filter(of_checks(names), job=job, in_force__gt=0)
    return {f"{one.station_key}.{one.check_key}": one for one in standings.select_related("result")}


def _decided_before(job: Job, check: Check) -> dict[str, Outcome]:
    """Outcomes of what a light check leans on, as they were decided last."""
    names = leaning_on(check)
    standings = _read_among(job, names) if names else {}
    decided = {name: one.result for name, one in standings.items() if one.result is not None}
    return {name: as_outcome(one) for name, one in decided.items() if one.decision != "not taken"}


def _context(job: Job, check: Check) -> dict[str, Outcome]:
    found = {}
    for name in leaning_on(check):
        station, _, key = name.partition(".")
        result = current_result(job, station, key)
        if result.decision != "not taken":
            found[name] = as_outcome(result)
    return found


def _essence(outcome: Outcome) -> dict[str, object]:
    return {
        "decision": outcome.decision,
        "value": outcome.value,
        "uncertainty": outcome.uncertainty,
        "details": outcome.details,
    }


def _result(job: Job, inputs: Inputs, outcome: Outcome) -> Result:
    return Result(
        job=job,
        station_key=inputs.station,
        check_key=inputs.check.key,
        decision=outcome.decision,
        value=_finite(outcome.value),
        uncertainty=_finite(outcome.uncertainty),
        quantity=outcome.quantity,
        unit=outcome.unit,
        probability=_finite(outcome.probability),
        line=outcome.line,
        settle=outcome.settle,
        details=plain(outcome.details),
        software_version=__version__,
        sheet=job.sheet,
        seqs=list(inputs.seqs),
        fingerprint=inputs.fingerprint,
        made_at=timezone.now(),
    )


def _finite(value: float | None) -> float | None:
    return value if value is not None and math.isfinite(value) else None


@transaction.atomic
def _keep_once(result: Result, touches: int) -> Result:
    """The same for one decided outside of a transaction: another bench may have kept it by now."""
    Job.objects.select_for_update().only("pk").get(pk=result.job_id)
    kept = newest_result(result.job, result.station_key, result.check_key)
    return _keep(kept if kept is not None and _same(kept, result) else result, touches)


def _same(one: Result, other: Result) -> bool:
    return (one.fingerprint, one.software_version) == (other.fingerprint, other.software_version)


@transaction.atomic
def _keep(result: Result, touches: int) -> Result:
    """Keep a result; it is up to date only if nothing came in while it was decided."""
    if result._state.adding:
        result.save()
    CheckStanding.objects.get_or_create(
        job_id=result.job_id, station_key=result.station_key, check_key=result.check_key
    )
    CheckStanding.objects.filter(
        job_id=result.job_id,
        station_key=result.station_key,
        check_key=result.check_key,
        decided_touches__lte=touches,
    ).update(result=result, decided_touches=touches)
    return result
