"""Every result worked out again from readings, sheet version and this software, and compared with the kept.

Nothing is changed by it. A difference with the same inputs and the same software is a fault in barwise or in
the database; with other software it is what the new version sees differently.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from graphlib import TopologicalSorter
from typing import Literal

from django.db.models import Count

from barwise.errors import BarwiseError
from barwise.inspect.checks import Outcome
from barwise.record.in_force import in_force
from barwise.record.models import CheckStanding, Job, Reading, Result
from barwise.record.results import Inputs, as_outcome, inputs_of, newest_result, outcome_of
from barwise.record.route_of import RouteOfJob, route_of
from barwise.route.deciding import leaning_on
from barwise.route.family import Check
from barwise.version import __version__

CLOSE = 1e-9
"""Relative: numbers that agree so far are the same, whatever order a processor adds in."""

Kind = Literal["differs", "out of date", "not decided", "cannot be decided", "wrong count"]


@dataclass(frozen=True)
class Difference:
    """One check where the record and a fresh computation do not say the same; `line` is in plain words."""

    job_number: str
    station: str
    check: str
    kind: Kind
    line: str


@dataclass(frozen=True)
class Rechecked:
    """How many jobs and checks a recheck went through, and what it found."""

    jobs: int
    checks: int
    differences: tuple[Difference, ...]

    @property
    def agrees(self) -> bool:
        """No kept result differs from its own inputs, and no count is wrong."""
        return not any(one.kind in ("differs", "wrong count") for one in self.differences)


def recheck(job: Job | None = None) -> Rechecked:
    """Work out all results of a job, or of every job, again."""
    jobs = Job.objects.select_related("sheet").order_by("id")
    chosen = [job] if job is not None else list(jobs)
    found = [one for chosen_job in chosen for one in recheck_job(chosen_job)]
    checks = sum(one is None or one.kind != "wrong count" for one in found)
    return Rechecked(len(chosen), checks, tuple(one for one in found if one is not None))


def recheck_job(job: Job) -> Iterator[Difference | None]:
    """For each check with readings or a result: None where all agrees, else what does not."""
    try:
        route = route_of(job)
    except BarwiseError as error:
        yield Difference(job.number, "", "", "cannot be decided", str(error))
        return
    yield from _wrong_counts(job)
    fresh: dict[str, Outcome] = {}
    for station, check in in_order(route):
        readings = list(in_force(job, station, check.key))
        kept = newest_result(job, station, check.key)
        if not readings and kept is None:
            continue
        context = {name: fresh[name] for name in leaning_on(check) if name in fresh}
        inputs = inputs_of(job, station, check, readings, context)
        try:
            outcome = outcome_of(route, inputs)
        except BarwiseError as error:
            yield Difference(job.number, station, check.key, "cannot be decided", str(error))
            continue
        difference = _compared(job, inputs, outcome, kept)
        if outcome.decision != "not taken":
            # Where both agree what was kept goes on: another machine's last digit is no other input.
            agrees = kept is not None and difference is None
            fresh[f"{station}.{check.key}"] = as_outcome(kept) if kept and agrees else outcome
        yield difference


def _compared(job: Job, inputs: Inputs, outcome: Outcome, kept: Result | None) -> Difference | None:
    at = job.number, inputs.station, inputs.check.key
    if kept is None:
        return Difference(*at, "not decided", f"{len(inputs.seqs)} readings and no result yet")
    if kept.fingerprint != inputs.fingerprint:
        since = f"decided from other readings, sheet or level: kept {kept.decision}, now {outcome.decision}"
        return Difference(*at, "out of date", since)
    found = _disagreement(kept, outcome)
    if not found:
        return None
    by = "" if kept.software_version == __version__ else f" (kept by version {kept.software_version})"
    return Difference(*at, "differs", f"{found}{by}")


def _disagreement(kept: Result, now: Outcome) -> str:
    if kept.decision != now.decision:
        return f"kept {kept.decision}, now {now.decision}"
    for name in ("value", "uncertainty", "probability"):
        before, after = getattr(kept, name), getattr(now, name)
        if not _same(before, after):
            return f"{name}: kept {before!r}, now {after!r}"
    if kept.line != now.line:
        return f'line: kept "{kept.line}", now "{now.line}"'
    return ""


def _same(before: float | None, after: float | None) -> bool:
    if after is not None and not math.isfinite(after):
        after = None
    if before is None or after is None:
        return before is after
    return math.isclose(before, after, rel_tol=CLOSE, abs_tol=1e-300)


def in_order(route: RouteOfJob) -> list[tuple[str, Check]]:
    """Every check after those it leans on."""
    checks = dict(route.family.all_checks())
    sorter = TopologicalSorter({name: leaning_on(check) for name, check in checks.items()})
    return [(name.partition(".")[0], checks[name]) for name in sorter.static_order()]


def _wrong_counts(job: Job) -> Iterator[Difference]:
    rows = Reading.objects.filter(job=job, superseded_by__isnull=True, struck=False)
    counted = rows.order_by().values_list("station_key", "check_key").annotate(count=Count("id"))
    true = {(station, check): count for station, check, count in counted}
    standings = CheckStanding.objects.filter(job=job).values_list("station_key", "check_key", "in_force")
    kept = {(station, check): count for station, check, count in standings}
    for station, check in sorted(true.keys() | kept.keys()):
        is_so, said = true.get((station, check), 0), kept.get((station, check), 0)
        if is_so != said:
            line = f"{said} readings in force counted, {is_so} there"
            yield Difference(job.number, station, check, "wrong count", line)
