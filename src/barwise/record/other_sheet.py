"""What another sheet, or another version of it, would make of a job: asked before the job is moved to it."""

from __future__ import annotations

from copy import copy
from dataclasses import dataclass

from barwise.errors import BarwiseError, InputError
from barwise.files.text import shown
from barwise.inspect.checks import Outcome
from barwise.record.in_force import in_force
from barwise.record.models import Job, SheetVersion
from barwise.record.recheck import in_order
from barwise.record.results import inputs_of, newest_result, outcome_of
from barwise.record.route_of import RouteOfJob, route_of
from barwise.record.sheets import versions_of
from barwise.route.deciding import leaning_on
from barwise.route.family import Check


@dataclass(frozen=True)
class Judged:
    """One check with readings: what is kept of it, and what the other sheet makes of the same readings.

    `before` is ``open`` where nothing was decided yet.
    """

    station: str
    station_key: str
    check: Check
    before: str
    before_line: str
    after: str
    after_line: str

    @property
    def changes(self) -> bool:
        """Whether the decision is another one."""
        return self.before != self.after

    @property
    def reworded(self) -> bool:
        """The same decision, against another limit or with another number."""
        return not self.changes and self.before_line != self.after_line


@dataclass(frozen=True)
class UnderOtherSheet:
    """All checks of a job under another sheet; `added` and `dropped` are what its route then asks and not."""

    sheet: SheetVersion
    judged: tuple[Judged, ...]
    added: tuple[str, ...]
    dropped: tuple[str, ...]

    @property
    def changed(self) -> tuple[Judged, ...]:
        """Those whose decision would be another one."""
        return tuple(one for one in self.judged if one.changes)

    @property
    def reworded(self) -> tuple[Judged, ...]:
        """Those that keep their decision, with another line."""
        return tuple(one for one in self.judged if one.reworded)


def sheet_for(job: Job, key: str) -> SheetVersion:
    """The newest version of the sheet that a job is to be judged by.

    Raises
    ------
    InputError
        If this shop has no such sheet, or it is of another family than the job's unit.
    """
    versions = versions_of(key)
    if not versions:
        raise InputError("sheet", shown(key[:40]) if key else "none", "a model sheet of this shop")
    if versions[0].family_key != job.family_key:
        raise InputError("sheet", f"one of the family {versions[0].family_key}", f"one of {job.family_key}")
    return versions[0]


def under_other_sheet(job: Job, sheet: SheetVersion) -> UnderOtherSheet:
    """Every check of a job that has readings, judged by another sheet; nothing is kept.

    Raises
    ------
    InputError
        If the family is not known to this version of barwise.
    """
    trial = copy(job)
    trial.sheet = sheet
    now, then = route_of(job), route_of(trial)
    return UnderOtherSheet(
        sheet=sheet,
        judged=tuple(_judged(trial, then)),
        added=tuple(title for name, title in _asked(then).items() if name not in _asked(now)),
        dropped=tuple(title for name, title in _asked(now).items() if name not in _asked(then)),
    )


def _judged(trial: Job, route: RouteOfJob) -> list[Judged]:
    fresh: dict[str, Outcome] = {}
    found = {}
    for station, check in in_order(route):
        name = f"{station}.{check.key}"
        readings = list(in_force(trial, station, check.key))
        if not readings:
            continue
        context = {other: fresh[other] for other in leaning_on(check) if other in fresh}
        try:
            outcome = outcome_of(route, inputs_of(trial, station, check, readings, context))
        except BarwiseError as error:
            outcome = Outcome("undecided", f"Cannot be decided by this sheet: {error}")
        if outcome.decision != "not taken":
            fresh[name] = outcome
        found[name] = _compared(trial, route, station, check, outcome)
    return [found[name] for name, _ in route.family.all_checks() if name in found]


def _compared(job: Job, route: RouteOfJob, station: str, check: Check, outcome: Outcome) -> Judged:
    kept = newest_result(job, station, check.key)
    return Judged(
        station=route.family.station(station).title,
        station_key=station,
        check=check,
        before="open" if kept is None else kept.decision,
        before_line="" if kept is None else kept.line,
        after=outcome.decision,
        after_line=outcome.line,
    )


def _asked(route: RouteOfJob) -> dict[str, str]:
    return {
        f"{station.key}.{check.key}": f"{station.title}: {check.title}"
        for station, checks in route.stations
        for check in checks
    }
