"""Will it crank, in one answer: what was measured, what to expect, whose fault it is, how it starts."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np

from barwise.inspect.cranking.blame import Blame, blame
from barwise.inspect.cranking.drops import DropFit, DropReadings, fit_drops
from barwise.inspect.cranking.measured_run import as_measured, learn, rest_lost
from barwise.inspect.cranking.prediction import Outlook, outlook
from barwise.inspect.cranking.vehicle import Draws, Vehicle, battery_legs, draw
from barwise.machine.cranking import RPM, CrankedEngine, Leg, Mesh, balance
from barwise.machine.cranking_course import Course, Starting, Vector, course, mean_over, steady_part
from barwise.machine.engine import Drag
from barwise.machine.motor import at_temperature, picked

Verdict = Literal["cranks", "too slow", "does not turn", "undecided"]

ENOUGH = 0.95
MOST_TRACED = 401
"""Points of a kept course: two of a picture's 800 units each."""


@dataclass(frozen=True)
class CourseFigures:
    """The course in figures: peak current [A], lowest volts at the starter [V], speeds [rev/min], times [s].

    `mean_rpm`, `lowest_rpm` and `highest_rpm` are of its last whole cycles; `stuck`: it stands at the end.
    """

    peak_a: float
    lowest_starter_v: float
    broke_away_s: float | None
    stuck: bool
    mean_rpm: float
    lowest_rpm: float
    highest_rpm: float
    mean_a: float
    overruns: int


@dataclass(frozen=True)
class SpeedTrace:
    """The course, thinned to what a picture shows: arrays of shape (points,) [s, rad/s at the crank, A]."""

    time_s: Vector
    speed_rad_s: Vector
    current_a: Vector


@dataclass(frozen=True)
class CrankSummary:
    """What is told and drawn of an answer; a job keeps it with its result."""

    verdict: Verdict
    temperature_c: float | None
    outlook: Outlook
    blame: Blame
    trace: SpeedTrace


@dataclass(frozen=True)
class CrankAnswer:
    """The whole answer.

    Attributes
    ----------
    verdict : str
    vehicle : Vehicle
        With its resistances as measured, where they were.
    outlook : Outlook
    blame : Blame
    fit : DropFit or None
    agrees : bool or None
        Whether the description gives the current and speed that were read; None where none were.
    course : Course
        Of the middle of what may be.
    figures : CourseFigures
    """

    verdict: Verdict
    vehicle: Vehicle
    outlook: Outlook
    blame: Blame
    fit: DropFit | None
    agrees: bool | None
    course: Course
    figures: CourseFigures

    @property
    def summary(self) -> CrankSummary:
        """What is told and drawn of it."""
        return CrankSummary(
            self.verdict, self.vehicle.temperature_c, self.outlook, self.blame, _thinned(self.course)
        )


def crank(vehicle: Vehicle, readings: DropReadings | None = None, seconds: float = 1.0) -> CrankAnswer:
    """Answer for one vehicle.

    Parameters
    ----------
    vehicle : Vehicle
    readings : DropReadings, optional
        Of a run in the vehicle.
    seconds : float
        Length of the time course [s].
    """
    fit, agrees, draws = None, None, draw(vehicle)
    if readings is not None:
        fit = fit_drops(readings, [leg.name for leg in vehicle.legs], rest_lost(vehicle))
        vehicle = as_measured(vehicle, fit, readings.temperature_c)
        learnt = learn(vehicle, readings)
        draws, agrees = learnt.draws, learnt.agrees
    expected = outlook(vehicle, draws)
    run = course(middle_case(vehicle, draws), seconds)
    return CrankAnswer(
        verdict=_verdict(expected),
        vehicle=vehicle,
        outlook=expected,
        blame=blame(vehicle, draws),
        fit=fit,
        agrees=agrees,
        course=run,
        figures=_figures(run, vehicle),
    )


def middle_case(vehicle: Vehicle, draws: Draws) -> Starting:
    """One case for the time course: every unknown at its middle, and the starter that is so then."""
    volts, ohm = battery_legs(vehicle, draws)
    legs = [Leg("battery", _middle(ohm))]
    legs += [Leg(leg.name, _middle(one)) for leg, one in zip(vehicle.legs, draws.legs, strict=True)]
    drag = draws.engine.drag
    middle = Drag(
        _middle(drag.friction_pa),
        _middle(drag.exponent),
        _middle(drag.gas_loss),
        drag.polytropic,
        _middle(drag.breakaway),
    )
    engine = CrankedEngine(vehicle.engine, middle, _middle(draws.engine.viscosity_pa_s))
    mesh = Mesh(vehicle.ratio, _middle(draws.efficiency))
    warm = at_temperature(vehicle.starter, _middle(draws.temperature_c))
    turned = np.atleast_1d(balance(_middle(volts), legs, warm, mesh, engine).speed_rad_s)
    half = int(np.argsort(turned)[len(turned) // 2])
    return Starting(_middle(volts), tuple(legs), picked(warm, half), vehicle.rotor, mesh, engine)


def _thinned(run: Course) -> SpeedTrace:
    """Evenly, first and last point among them."""
    last = len(run.time_s) - 1
    kept = np.unique(np.linspace(0, last, min(last + 1, MOST_TRACED)).round().astype(int))
    return SpeedTrace(run.time_s[kept], run.speed_rad_s[kept], run.current_a[kept])


def _verdict(expected: Outlook) -> Verdict:
    if expected.turns <= 1 - ENOUGH:
        return "does not turn"
    if expected.starts >= ENOUGH:
        return "cranks"
    return "too slow" if expected.starts <= 1 - ENOUGH else "undecided"


def _figures(run: Course, vehicle: Vehicle) -> CourseFigures:
    part = steady_part(run, vehicle.engine.cycle_rad)
    speed, current, time = run.speed_rad_s[part] / RPM, run.current_a[part], run.time_s[part]
    return CourseFigures(
        peak_a=float(run.current_a.max()),
        lowest_starter_v=float(run.starter_v.min()),
        broke_away_s=run.broke_away_s,
        stuck=run.stuck,
        mean_rpm=mean_over(speed, time),
        lowest_rpm=float(speed.min()),
        highest_rpm=float(speed.max()),
        mean_a=mean_over(current, time),
        overruns=sum(mode == "overrunning" for _, mode in run.modes),
    )


def _middle(values: object) -> float:
    return float(np.median(np.asarray(values, dtype=float)))
