"""One job at a glance: its stations with their counts, what is open, and what was decided for the parts."""

from __future__ import annotations

from dataclasses import dataclass

from barwise.record.answers import catch_up
from barwise.record.dispositions import dispositions
from barwise.record.models import Disposition, Job, Part, Photo
from barwise.record.standing import CheckStand, JobStand, job_stand
from barwise.route.family import Station


@dataclass(frozen=True)
class StationRow:
    """One station: how many of its checks are done, open and rejected, and what was decided for its parts.

    A check that may be skipped and was not taken is neither done nor open.
    """

    station: Station
    checks: tuple[CheckStand, ...]
    decided: tuple[Disposition, ...]

    @property
    def done(self) -> int:
        """Checks taken and not rejected, with nothing open about them."""
        return sum(one.is_done and one.decision != "reject" for one in self.checks)

    @property
    def rejected(self) -> int:
        """Checks whose part does not pass."""
        return sum(one.is_done and one.decision == "reject" for one in self.checks)

    @property
    def open(self) -> int:
        """Checks to be done yet, and those that were taken and left open."""
        return sum(is_open(one) for one in self.checks)


@dataclass(frozen=True)
class OpenQuestion:
    """Something that only the person at the bench can settle; `asks` says what."""

    check: CheckStand
    asks: str

    @property
    def line(self) -> str:
        """What the check came to, without its title."""
        return self.check.said


@dataclass(frozen=True)
class JobOverview:
    """A job with its route, its open questions, and what was fitted, photographed and decided."""

    stand: JobStand
    stations: tuple[StationRow, ...]
    questions: tuple[OpenQuestion, ...]
    parts: tuple[Part, ...]
    photos: tuple[Photo, ...]

    @property
    def job(self) -> Job:
        """The job itself."""
        return self.stand.job

    @property
    def following(self) -> CheckStand | None:
        """What comes next."""
        return following(self.stand)

    @property
    def still_open(self) -> tuple[CheckStand, ...]:
        """Checks that a job should not be closed without, though the person may."""
        return tuple(one for one in self.stand.checks if is_open(one))


def overview(job: Job) -> JobOverview:
    """All that the page of a job shows. Five queries, however much was read."""
    catch_up(job)
    stand, decided = job_stand(job), dispositions(job)
    return JobOverview(
        stand=stand,
        stations=station_rows(stand, decided),
        questions=open_questions(stand, decided),
        parts=tuple(Part.objects.filter(job=job).order_by("id").select_related("person")),
        photos=tuple(Photo.objects.filter(job=job).order_by("id").select_related("person")),
    )


def station_rows(stand: JobStand, decided: list[Disposition]) -> tuple[StationRow, ...]:
    """The stations of a job in the route's order."""
    by_station: dict[str, list[CheckStand]] = {}
    for one in stand.checks:
        by_station.setdefault(one.station.key, []).append(one)
    return tuple(
        StationRow(some[0].station, tuple(some), tuple(one for one in decided if one.station_key == key))
        for key, some in by_station.items()
    )


def open_questions(stand: JobStand, decided: list[Disposition]) -> tuple[OpenQuestion, ...]:
    """Checks left undecided with what settles them, and rejected ones whose part nobody decided on."""
    settled = {one.station_key for one in decided}
    asked = []
    for check in stand.checks:
        if check.in_force and not check.is_done:
            asked.append(OpenQuestion(check, check.settle or "Readings came in since it was decided."))
        elif check.decision == "reject" and check.station.key not in settled:
            asked.append(OpenQuestion(check, check.settle or "Say what becomes of the part."))
    return tuple(asked)


def following(stand: JobStand) -> CheckStand | None:
    """The next check on the route that was not taken yet, need not be skipped and waits for no other.

    What was taken and left undecided does not hold a job back here: it stands among the open questions.
    """
    untaken = [one for one in stand.checks if is_open(one) and not one.in_force]
    return next((one for one in untaken if not one.waits_for), next(iter(untaken), None))


def is_open(check: CheckStand) -> bool:
    """Whether a check waits for something to be done."""
    return not check.is_done and (check.in_force > 0 or not check.check.may_skip)
