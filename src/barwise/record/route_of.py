"""The route a job follows: its family, its sheet, and the limit and facts each check is judged by."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property, lru_cache

from barwise.errors import InputError
from barwise.inspect.checks import Limit, SheetFacts
from barwise.machine.winding import Winding
from barwise.record.models import Job
from barwise.record.sheets import sheet_from
from barwise.route.deciding import facts_for, leaning_on, limit_for
from barwise.route.family import Check, Family, Station, load_family
from barwise.route.sheet import ModelSheet


@dataclass(frozen=True)
class RouteOfJob:
    """Family and sheet of a job, and what follows from them."""

    family: Family
    sheet: ModelSheet | None

    @cached_property
    def facts(self) -> SheetFacts:
        """What the sheet says of the model."""
        return facts_for(self.family, self.sheet)

    @property
    def winding(self) -> Winding | None:
        """How the armature is wound; None where the sheet does not say."""
        return self.facts.winding

    @cached_property
    def stations(self) -> tuple[tuple[Station, tuple[Check, ...]], ...]:
        """Stations in order, with the checks that apply to this model."""
        return self.family.route(self.facts.facts)

    @cached_property
    def dependents(self) -> dict[str, tuple[str, ...]]:
        """Checks whose decision leans on a check, by that check's full name."""
        found: dict[str, tuple[str, ...]] = {}
        for name, check in self.family.all_checks():
            for leaned_on in leaning_on(check):
                found[leaned_on] = (*found.get(leaned_on, ()), name)
        return found

    def limit(self, check: Check) -> Limit | None:
        """The limit of the sheet, or the general one."""
        return limit_for(self.family, check, self.sheet)


def route_of(job: Job) -> RouteOfJob:
    """The route of a job. Raises InputError where the family is not known to this version of barwise."""
    return _route(job.family_key, None if job.sheet is None else job.sheet.toml)


def route_if_known(job: Job) -> RouteOfJob | None:
    """The same; None where this barwise cannot read it, as when its family is not installed."""
    try:
        return route_of(job)
    except InputError:
        return None


@lru_cache(maxsize=128)
def _route(family_key: str, toml: str | None) -> RouteOfJob:
    return RouteOfJob(load_family(family_key), None if toml is None else sheet_from(toml))
