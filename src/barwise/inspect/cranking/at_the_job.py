"""Will it crank, for a job: the vehicle as far as it was described, the starter as its run test leaves it.

What is missing is named with what it would give. What can be said without it is said all the same; where
that flatters the vehicle, no "it cranks" is concluded from it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from barwise.errors import MeasurementError
from barwise.inspect.cranking.assessment import CrankAnswer, CrankSummary, crank
from barwise.inspect.cranking.drops import DropFit, DropReadings, FittedLeg, fit_drops
from barwise.inspect.cranking.facts import CrankQuestion, Missing, VehicleFacts
from barwise.inspect.run_test import RunTest, Sheet
from barwise.inspect.run_test.nominal import sound_motors
from barwise.inspect.run_test.points import usable
from barwise.inspect.run_test.possible import KEPT, as_one
from barwise.machine.motor import Motor
from barwise.measure.uncertainty import Estimate

USUAL_LEGS = ("positive cable", "switch", "ground")
"""The stretches every vehicle has, by the names under which their drops are read."""


@dataclass(frozen=True)
class ReadInVehicle:
    """What was read while it cranked, any of it; as `DropReadings`, which asks for the current."""

    current: Estimate | None = None
    drops: dict[str, Estimate] | None = None
    battery: Estimate | None = None
    starter: Estimate | None = None
    rest: Estimate | None = None
    speed: Estimate | None = None
    temperature_c: float | None = None

    @property
    def readings(self) -> DropReadings | None:
        """None without amperes: volts alone say nothing of a resistance."""
        if self.current is None:
            return None
        return DropReadings(**{**vars(self), "drops": self.drops or {}})

    @property
    def without_amperes(self) -> bool:
        """Whether something was read that the amperes are missing for."""
        rest = {**vars(self), "current": None, "temperature_c": None}
        return self.current is None and any(rest.values())


@dataclass(frozen=True)
class KeptCrank:
    """What is told and drawn of a job's answer; `summary` is None where no speed came of it."""

    summary: CrankSummary | None
    missing: tuple[Missing, ...]


@dataclass(frozen=True)
class JobCrank:
    """What a job knows of whether its starter will crank the vehicle.

    Attributes
    ----------
    question, answer : CrankQuestion and CrankAnswer, or None
        None where too little is known to work a speed out.
    fit : DropFit or None
        The stretches as they were measured; also where there is no answer.
    missing : tuple of Missing
    flattered : tuple of str
        Stretches of which nothing is known: they are left out, and it would crank slower than worked out.
    stands_in : str
        Why sound ones of its model stand in for the starter; empty where they do not.
    questions, said : tuple of str
        What looks misread; what was done for want of something.
    """

    question: CrankQuestion | None
    answer: CrankAnswer | None
    fit: DropFit | None
    missing: tuple[Missing, ...]
    flattered: tuple[str, ...] = ()
    stands_in: str = ""
    questions: tuple[str, ...] = ()
    said: tuple[str, ...] = ()

    @property
    def kept(self) -> KeptCrank:
        """What its result keeps of it."""
        return KeptCrank(None if self.answer is None else self.answer.summary, self.missing)

    @property
    def needed(self) -> tuple[Missing, ...]:
        """What no speed can be worked out without."""
        return tuple(one for one in self.missing if one.needed)

    @property
    def worst_read(self) -> FittedLeg | None:
        """The stretch measured to lose most; None where none was."""
        return max(self.fit.legs, key=lambda leg: leg.ohm.value) if self.fit and self.fit.legs else None


@dataclass(frozen=True)
class _Starter:
    """As it is, and in order; None where nothing is known of it."""

    motors: tuple[Motor, Motor] | None
    run: RunTest | None = None
    missing: tuple[Missing, ...] = ()
    stands_in: str = ""


def crank_of_job(facts: VehicleFacts, run: RunTest | None, sheet: Sheet, read: ReadInVehicle) -> JobCrank:
    """Answer for one job.

    Parameters
    ----------
    facts : VehicleFacts
        As far as they were written down.
    run : RunTest or None
        What the job's own run test says; None where it was not run.
    sheet : Sheet
        The model: sound ones of it stand in for a starter that was not run.
    read : ReadInVehicle
    """
    readings, starter = read.readings, _starter(run, sheet)
    drops = {} if readings is None else readings.drops
    known = facts.with_legs_read(drops)
    flattered = tuple(name for name in USUAL_LEGS if name not in [leg.name for leg in known.legs])
    found = JobCrank(
        question=None,
        answer=None,
        fit=None,
        missing=(*facts.missing, *starter.missing, *_missing(facts, read, flattered)),
        flattered=flattered,
        stands_in=starter.stands_in,
        said=tuple(_said(facts, drops)),
    )
    vehicle = None if starter.motors is None else known.vehicle(*starter.motors)
    if vehicle is None:
        return _measured(found, readings)
    guessed = facts.rotor_kgm2 is None
    found = replace(
        found,
        question=CrankQuestion(facts.title, vehicle, readings, starter.run, guessed, facts.seconds),
    )
    try:
        answer = crank(vehicle, readings, facts.seconds)
    except MeasurementError as error:
        return replace(found, answer=crank(vehicle, None, facts.seconds), questions=(_asked(error),))
    asked = () if answer.fit is None else answer.fit.questions
    return replace(found, answer=answer, fit=answer.fit, questions=asked)


def _starter(run: RunTest | None, sheet: Sheet) -> _Starter:
    if run is not None and run.posterior:
        return _Starter(as_one(run.posterior), run)
    was_run = run is not None and len(run.causes) > 1
    if run is not None and was_run and run.causes[0].key not in ("healthy", "not-covered"):
        title = run.causes[0].title
        return _Starter(None, run, (Missing("starter (one that runs)", f"its torque: now {title}"),))
    gives = Missing("starter (its run test)", "how this one turns, and what of a slow crank is its own")
    if not usable(sheet.points):
        return _Starter(None, run, (gives,))
    sound = sound_motors(sheet, KEPT)
    why = (
        "Its run test fits no fault known here: check readings and sheet"
        if was_run
        else "Run the starter on the bench"
    )
    stands_in = f"{why}. Until then sound ones of its model stand in, and explain nothing."
    return _Starter((sound, sound), None, (replace(gives, needed=False),), stands_in)


def _missing(facts: VehicleFacts, read: ReadInVehicle, flattered: tuple[str, ...]) -> Iterator[Missing]:
    told = " ".join(one.what for one in facts.missing)
    for name in flattered:
        if name not in told:
            yield Missing(f"{name} (what it is made of, or its drop)", "what it loses", needed=False)
    if facts.temperature_c is None:
        yield Missing("temperature", "the cold to answer for; without it -15 to 35 °C", needed=False)
    if read.without_amperes:
        yield Missing("amperes in the vehicle", "what the volts read there mean", needed=False)


def _said(facts: VehicleFacts, drops: dict[str, Estimate]) -> Iterator[str]:
    described = [leg.name for leg in facts.legs]
    for name in drops:
        if name not in described:
            yield (
                f"{name}: what it is made of is not said. It stands as it was measured; in order it counts "
                "with 0.20 V for each 100 A."
            )


def _measured(found: JobCrank, readings: DropReadings | None) -> JobCrank:
    """What the volts say by themselves."""
    if readings is None or not readings.drops:
        return found
    try:
        fit = fit_drops(readings, list(readings.drops))
    except MeasurementError as error:
        return replace(found, questions=(_asked(error),))
    return replace(found, fit=fit, questions=fit.questions)


def _asked(error: MeasurementError) -> str:
    return f"Not used, the readings in the vehicle: {error}."
