"""What the page of an answer shows: a diagnosis or a cut plan in words and pictures, and where to go on."""

from __future__ import annotations

from dataclasses import dataclass, field

from barwise.errors import BarwiseError
from barwise.inspect.checks import Outcome
from barwise.inspect.commutator.plan import CutPlan
from barwise.inspect.cranking.at_the_job import JobCrank
from barwise.inspect.diagnosis import Diagnosis
from barwise.inspect.run_test import RunTest
from barwise.measure.units import names_of
from barwise.record.answers import KeptAnswer, catch_up, kept_answer
from barwise.record.cutting import pass_checks, passes_taken
from barwise.record.entry import Question
from barwise.record.in_force import in_force
from barwise.record.instruments import due, in_use
from barwise.record.models import Instrument, Job, Reading
from barwise.record.route_of import RouteOfJob, route_of
from barwise.record.standing import CheckStand, job_stand
from barwise.report.armature.answer import ArmatureAnswer, SaidSuspect, armature_answer_in_words
from barwise.report.armature.picture import armature_end_view, readings_picture
from barwise.report.commutator.answer import CutAnswer, cut_answer_in_words
from barwise.report.commutator.picture import passes_picture, round_picture
from barwise.report.run.cranking import crank_cautions, job_sections
from barwise.report.run.cranking_picture import cranking_picture
from barwise.report.run.picture import curve_picture
from barwise.report.run.text import (
    care_lines,
    cause_lines,
    limit_lines,
    next_lines,
    power_lines,
    verdict_line,
)
from barwise.route.family import Check, Station
from barwise.web.pass_form import PassForm
from barwise.web.walk_links import bar_link, track_link


@dataclass(frozen=True)
class Heard:
    """What came of a pass that was sent: asked about, or refused with what was typed."""

    form: PassForm = field(default_factory=PassForm)
    question: Question | None = None
    wrong: BarwiseError | None = None


@dataclass(frozen=True)
class Tool:
    """An instrument that may be picked."""

    pk: str
    name: str


@dataclass(frozen=True)
class DiagnosisShown:
    """A diagnosis with its pictures; `suspects` and `next_link` lead into the walk."""

    said: ArmatureAnswer
    suspects: tuple[tuple[SaidSuspect, str], ...]
    next_link: str
    end_view: str
    readings: str


@dataclass(frozen=True)
class PlanShown:
    """A cut plan with its pictures, the passes done so far, and the checks that come after the cut.

    `asks_pass` is whether a pass can be written down: never where the model may not be turned.
    """

    said: CutAnswer
    next_link: str
    next_check: str
    round: str
    passes: str
    asks_pass: bool
    taken: tuple[Reading, ...]
    after_pass: tuple[str, str]
    units: tuple[str, ...]
    tools: tuple[Tool, ...]
    bars: range
    following: tuple[CheckStand, ...]


@dataclass(frozen=True)
class RunShown:
    """A run test in lines, with the motor's curve."""

    headline: str
    causes: tuple[str, ...]
    limits: tuple[str, ...]
    power: tuple[str, ...]
    following: tuple[str, ...]
    questions: tuple[str, ...]
    notes: tuple[str, ...]
    care: tuple[str, ...]
    picture: str


@dataclass(frozen=True)
class CrankShown:
    """Whether it cranks: the answer section by section, and the picture where a speed is known."""

    sections: tuple[tuple[str, tuple[str, ...]], ...]
    care: tuple[str, ...]
    picture: str


@dataclass(frozen=True)
class AnswerPage:
    """The answer of one walk.

    `kept` is None where nothing was worked out yet; `in_force` counts the readings. `rejected` are checks the
    route asks for first that did not pass, `missing` those without which there is no plan.
    """

    job: Job
    station: Station
    check: Check
    heard: Heard
    kept: KeptAnswer | None
    in_force: int
    rejected: tuple[CheckStand, ...]
    missing: tuple[CheckStand, ...]
    diagnosis: DiagnosisShown | None = None
    plan: PlanShown | None = None
    run: RunShown | None = None
    crank: CrankShown | None = None

    @property
    def has_picture(self) -> bool:
        """Whether the answer is more than what stands at its station."""
        return any(shown is not None for shown in (self.diagnosis, self.plan, self.run, self.crank))

    @property
    def outcome(self) -> Outcome | None:
        """The whole answer, where it can be had."""
        return None if self.kept is None else self.kept.whole


def answer_page(job: Job, station: str, check: str, heard: Heard | None = None) -> AnswerPage:
    """The page of one answer. Raises InputError where the route has no such check."""
    route = route_of(job)
    stage, asked = route.family.station(station), route.family.check(station, check)
    heard = heard or Heard()
    # Looking decides no walk: its first answer is worked out when someone asks for it.
    catch_up(job)
    kept = kept_answer(job, station, check)
    whole = None if kept is None or kept.whole is None else kept.whole.answer
    diagnosis, plan = None, None
    if kept is not None and isinstance(whole, Diagnosis):
        diagnosis = _diagnosis(job, station, check, kept.route, whole)
    elif kept is not None and isinstance(whole, CutPlan):
        plan = _plan(job, station, asked, kept.route, whole)
    stands = job_stand(job).checks
    return AnswerPage(
        job=job,
        station=stage,
        check=asked,
        heard=heard,
        kept=kept,
        in_force=in_force(job, station, check).count(),
        rejected=tuple(one for one in stands if one.name in asked.waits_for and one.decision == "reject"),
        missing=tuple(
            one for one in stands if one.name == asked.leans_on.get("diameter") and not one.in_force
        ),
        diagnosis=diagnosis,
        plan=plan,
        run=_run(whole) if isinstance(whole, RunTest) else None,
        crank=_crank(whole) if isinstance(whole, JobCrank) else None,
    )


def _crank(found: JobCrank) -> CrankShown:
    picture = "" if found.answer is None else cranking_picture(found.answer.summary)
    return CrankShown(tuple(job_sections(found)), crank_cautions(), picture)


def _run(found: RunTest) -> RunShown:
    return RunShown(
        headline=verdict_line(found),
        causes=tuple(cause_lines(found)),
        limits=tuple(limit_lines(found)),
        power=tuple(power_lines(found)),
        following=tuple(next_lines(found)),
        questions=found.questions,
        notes=found.notes,
        care=care_lines(),
        picture=curve_picture(found),
    )


def _diagnosis(job: Job, station: str, check: str, route: RouteOfJob, found: Diagnosis) -> DiagnosisShown:
    winding = route.winding
    assert winding is not None  # there is no diagnosis without one
    said = armature_answer_in_words(winding, found)
    suspects = []
    for one in said.suspects:
        reading = one.reading
        place = reading.test, reading.start, reading.end, reading.feed
        suspects.append((one, bar_link(job, station, check, *place)))
    after, next_link = said.following, ""
    if after is not None:
        next_link = bar_link(job, station, check, after.test, after.start, after.end, after.feed)
    end_view, readings = armature_end_view(winding, found), readings_picture(winding, found)
    return DiagnosisShown(said, tuple(suspects), next_link, end_view, readings)


def _plan(job: Job, station: str, check: Check, route: RouteOfJob, plan: CutPlan) -> PlanShown:
    unit = route.facts.commutator.unit if route.facts.commutator is not None else check.unit
    said = cut_answer_in_words(plan, unit)
    checks = pass_checks(route_of(job), check)
    after, next_link, next_check = said.following, "", ""
    if after is not None and after.instrument == "indicator":
        next_link = track_link(job, station, check.key, after.bar, after.track)
    elif after is not None:
        next_check = check.leans_on.get("diameter", "")
    asks = checks is not None and (bool(said.passes) or plan.after_pass is not None)
    return PlanShown(
        said=said,
        next_link=next_link,
        next_check=next_check.partition(".")[2],
        round=round_picture(plan, unit),
        passes=passes_picture(plan, unit),
        asks_pass=asks,
        taken=tuple(passes_taken(job, checks)) if checks is not None else (),
        after_pass=checks.after_pass if checks is not None else ("", ""),
        units=_units(unit),
        tools=tuple(_tool(one) for one in in_use() if one.quantity == "length"),
        bars=range(1, said.bars + 1),
        following=_following(job, station, check, checks.untouched[1] if checks is not None else check.key),
    )


def _units(first: str) -> tuple[str, ...]:
    usual = dict.fromkeys((first, "in", "mm"))
    return tuple(unit for unit in usual if unit in names_of("length"))


def _tool(one: Instrument) -> Tool:
    return Tool(str(one.pk), f"{one}{' (calibration overdue)' if due(one) == 'overdue' else ''}")


def _following(job: Job, station: str, check: Check, last: str) -> tuple[CheckStand, ...]:
    """The checks of this station that come after the cut, with where each stands."""
    stands = [one for one in job_stand(job).checks if one.station.key == station]
    keys = [one.check.key for one in stands]
    start = keys.index(last if last in keys else check.key) + 1
    return tuple(stands[start:])
