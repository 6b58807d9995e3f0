"""Where each job stands and what it waits for, without counting its readings.

Counts are kept as readings come in (`CheckStanding`), so the cost of these pages goes with what they show,
not with how much was ever read.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from barwise.errors import InputError
from barwise.inspect.checks import Limit
from barwise.inspect.checks.wording import whence
from barwise.record.in_force import in_force
from barwise.record.models import CheckStanding, Job, Reading, Result
from barwise.record.route_of import route_of
from barwise.route.family import Check, Station, families

_Row = dict[str, object]
_BRIEF = (
    "job_id",
    "station_key",
    "check_key",
    "in_force",
    "touches",
    "decided_touches",
    "touched_at",
    "result__decision",
    "result__line",
    "result__settle",
)
"""Without the details of a result, which can be as long as a diagnosis."""


@dataclass(frozen=True)
class CheckStand:
    """One check of one job.

    Attributes
    ----------
    in_force : int
        Readings in force.
    decision, line, settle : str
        Of the result kept; ``not taken`` without readings, and ``open`` where nothing is decided yet.
    out_of_date : bool
        Something came in since.
    waits_for : tuple of str
        Full names of earlier checks the route asks for first, not taken yet.
    """

    station: Station
    check: Check
    in_force: int
    decision: str
    line: str
    settle: str
    out_of_date: bool
    waits_for: tuple[str, ...] = ()

    @property
    def name(self) -> str:
        """Such as ``armature.winding``."""
        return f"{self.station.key}.{self.check.key}"

    @property
    def said(self) -> str:
        """The line where the check's title stands beside it already."""
        return self.beside(self.line, None)

    def beside(self, line: str, limit: Limit | None) -> str:
        """A sentence about the check without its title and the limit's source, where both stand beside it."""
        short = line.removeprefix(f"{self.check.title}: ")
        return short if limit is None else short.replace(whence(limit), "")

    @property
    def is_done(self) -> bool:
        """Taken, and nothing open about it."""
        return self.decision in ("accept", "reject", "noted") and not self.out_of_date


@dataclass(frozen=True)
class JobStand:
    """Where one job stands.

    Attributes
    ----------
    checks : tuple of CheckStand
        All that apply to this model, in the route's order; none where the route cannot be read here.
    missing : str
        Why it cannot, such as a family that is not installed; empty where it can.
    at : CheckStand or None
        The first check not done that need not be skipped and waits for nothing; None when all is done.
    """

    job: Job
    checks: tuple[CheckStand, ...]
    missing: str = ""

    @property
    def done(self) -> int:
        """Checks done."""
        return sum(check.is_done for check in self.checks)

    @property
    def at(self) -> CheckStand | None:
        """What comes next on the route; optional checks are passed over."""
        open_checks = [one for one in self.checks if not one.is_done and not one.check.may_skip]
        return next((one for one in open_checks if not one.waits_for), next(iter(open_checks), None))

    @property
    def questions(self) -> tuple[CheckStand, ...]:
        """Checks that were taken and left open: undecided, or with readings nobody decided on yet."""
        return tuple(one for one in self.checks if one.in_force and not one.is_done)

    @property
    def rejected(self) -> tuple[CheckStand, ...]:
        """Checks whose part does not pass."""
        return tuple(one for one in self.checks if one.decision == "reject")

    @property
    def waits_for(self) -> str:
        """What was said to be waited for, else what settles the first open question, else what is next."""
        if self.job.waits_for or self.missing:
            return self.job.waits_for or self.missing
        settles = next((one.settle for one in self.questions if one.settle), "")
        if settles:
            return settles
        return f"{self.at.station.title}: {self.at.check.title}" if self.at else "nothing"


@dataclass(frozen=True)
class StationStand:
    """One station of one job: its checks, with the readings in force of each, in the order they came."""

    job: Job
    station: Station
    checks: tuple[CheckStand, ...]
    readings: dict[str, tuple[Reading, ...]]
    results: dict[str, Result]


def on_hand() -> list[JobStand]:
    """Every job that is not closed, the oldest first. Two queries, however much was read."""
    jobs = Job.objects.exclude(state="closed").select_related("unit", "customer", "sheet")
    return stands(jobs.order_by("opened_at", "id"))


def stands(jobs: Iterable[Job]) -> list[JobStand]:
    """Where some jobs stand; one query for all of them. One whose route cannot be read here says so."""
    listed = list(jobs)
    rows: dict[int, dict[str, _Row]] = {}
    for row in CheckStanding.objects.filter(job__in=listed).values(*_BRIEF):
        of_job = rows.setdefault(row["job_id"], {})
        of_job[f"{row['station_key']}.{row['check_key']}"] = row
    return [_stand(job, rows.get(job.pk, {})) for job in listed]


def job_stand(job: Job) -> JobStand:
    """Where one job stands."""
    return stands([job])[0]


def station_stand(job: Job, station: str) -> StationStand:
    """One station of a job. Raises InputError where its route has no such station.

    Three queries, of the size of what the station shows.
    """
    whole = job_stand(job)
    stage = route_of(job).family.station(station)
    readings: dict[str, list[Reading]] = {}
    for reading in in_force(job, station):
        readings.setdefault(reading.check_key, []).append(reading)
    standings = CheckStanding.objects.filter(job=job, station_key=station, result__isnull=False)
    results = {one.check_key: one.result for one in standings.select_related("result") if one.result}
    return StationStand(
        job=job,
        station=stage,
        checks=tuple(one for one in whole.checks if one.station.key == station),
        readings={key: tuple(some) for key, some in readings.items()},
        results=results,
    )


def _stand(job: Job, rows: dict[str, _Row]) -> JobStand:
    try:
        route = route_of(job)
    except InputError as error:
        return JobStand(job, (), missing=_why(job, error))
    taken = {name for name, row in rows.items() if row["in_force"]}
    checks = [
        _check_stand(station, check, rows.get(f"{station.key}.{check.key}"), _waits(check, taken))
        for station, some in route.stations
        for check in some
    ]
    return JobStand(job, tuple(checks))


def _why(job: Job, error: InputError) -> str:
    if job.family_key in families():
        return f"its route cannot be read here: {error}"
    return f"its family, {job.family_key}, is not installed here"


def _waits(check: Check, taken: set[str]) -> tuple[str, ...]:
    return tuple(name for name in check.waits_for if name not in taken)


def _check_stand(station: Station, check: Check, row: _Row | None, waits_for: Sequence[str]) -> CheckStand:
    if row is None or not row["in_force"]:
        return CheckStand(station, check, 0, "not taken", "", "", False, tuple(waits_for))
    decision = str(row["result__decision"] or "open")
    return CheckStand(
        station=station,
        check=check,
        in_force=int(str(row["in_force"])),
        decision=decision,
        line=str(row["result__line"] or ""),
        settle=str(row["result__settle"] or ""),
        out_of_date=row["decided_touches"] != row["touches"] or decision == "open",
        waits_for=tuple(waits_for),
    )
