"""Which parts fail: what was replaced or reworked, of the jobs on which it was decided."""

from __future__ import annotations

from dataclasses import dataclass

from barwise.measure.proportion import Proportion, proportion
from barwise.record.models import Disposition, Job
from barwise.record.past.models_read import MOST_JOBS
from barwise.record.route_of import route_if_known

MOST_OF_ALL = 2000
"""Newest jobs that are looked at where no model is named."""


@dataclass(frozen=True)
class PartFails:
    """One part: how often it was replaced, and reworked, of the jobs on which its station was decided."""

    station: str
    part: str
    replaced: Proportion
    reworked: Proportion

    @property
    def failed(self) -> int:
        """Replaced or reworked."""
        return self.replaced.count + self.reworked.count


def parts_fail(model: str = "") -> tuple[PartFails, ...]:
    """Parts by how often they fail, the worst first; of one model by its sheet's key, else of all."""
    jobs = Job.objects.filter(sheet__key=model) if model else Job.objects.all()
    newest = jobs.order_by("-id").values_list("id", "family_key")[: MOST_JOBS if model else MOST_OF_ALL]
    family = dict(newest)
    decided: dict[tuple[int, str, str], str] = {}
    rows = Disposition.objects.filter(job__in=list(family)).order_by("id")
    for job_id, station, part, what in rows.values_list("job_id", "station_key", "part", "decided"):
        decided[job_id, station, " ".join(part.lower().split())] = what
    return _counted(decided, family)


def _counted(decided: dict[tuple[int, str, str], str], family: dict[int, str]) -> tuple[PartFails, ...]:
    of_station: dict[tuple[str, str], set[int]] = {}
    by_part: dict[tuple[str, str, str], dict[str, set[int]]] = {}
    titles = _titles(set(family.values()))
    for (job_id, station, named), what in decided.items():
        title = titles.get((family[job_id], station), station)
        part = "" if named == title.lower() else named
        of_station.setdefault((family[job_id], station), set()).add(job_id)
        by_part.setdefault((family[job_id], station, part), {}).setdefault(what, set()).add(job_id)
    found = []
    for (kind, station, part), decided_so in by_part.items():
        of = len(of_station[kind, station])
        title = titles.get((kind, station), station)
        found.append(
            PartFails(
                station=title,
                part=f"{part[:1].upper()}{part[1:]}" or title,
                replaced=proportion(len(decided_so.get("replace", ())), of),
                reworked=proportion(len(decided_so.get("rework", ())), of),
            )
        )
    ordered = sorted(found, key=lambda one: (-one.failed, one.station, one.part))
    return tuple(one for one in ordered if one.failed)


def _titles(families: set[str]) -> dict[tuple[str, str], str]:
    found: dict[tuple[str, str], str] = {}
    for key in families:
        route = route_if_known(Job(family_key=key))
        if route is not None:
            found |= {(key, one.key): one.title for one in route.family.stations}
    return found
