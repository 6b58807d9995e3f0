"""Readings of the run bench in, the motor out: its curve, what its limits come to, and what is wrong with it.

    sheet, points  ->  assess  ->  RunTest

The causes are compared by their marginal likelihood (`fit`), with how often each happens (`causes`); the
curve is an average over all motors that remain possible: its intervals hold what is not known of the cause.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from barwise.inspect.run_test.causes import causes_for
from barwise.inspect.run_test.fit import Explained, explain_all, not_covered
from barwise.inspect.run_test.further_points import further_points
from barwise.inspect.run_test.next_test import NextTest, next_test
from barwise.inspect.run_test.nominal import SHEET_C, model_prior, unit_prior
from barwise.inspect.run_test.points import Kind, Point, Sheet, at_least, once, upright, usable
from barwise.inspect.run_test.possible import (
    PossibleMotors,
    WeightedMotor,
    possible_motors,
    single_motors,
)
from barwise.inspect.run_test.prediction import MODEL_SHARE, Problem, motors, problem
from barwise.inspect.run_test.questions import Sag, sag_of, what_to_ask
from barwise.machine.motor import Floats, State, at_temperature, curve, lock, no_load, state_at_current
from barwise.measure.decision import USUAL_LEVEL, Decision, Limit, decide
from barwise.measure.uncertainty import Estimate

Array = NDArray[np.float64]

METER_SHARE = 0.01
"""No reading is trusted to better than this share of itself, whatever digits its meter shows. SAE J544 asks
meters of 1 % for starter curves (from memory)."""
NOT_COVERED = "not-covered"
NOT_COVERED_WEIGHT = 0.3
GRID = 49


@dataclass(frozen=True)
class Interval:
    """Its value, and the ends of the 95 % interval: of a size of a fault the median, of power the mean.

    Between two causes that leave different power the mean errs least; the median jumps from one to the other.
    """

    value: float
    low: float
    high: float


@dataclass(frozen=True)
class RankedCause:
    """One cause with its probability; `severity` by name with unit (`joint_ohm`, `lost_share`)."""

    key: str
    title: str
    probability: float
    severity: Mapping[str, Interval]
    means: str


@dataclass(frozen=True)
class Band:
    """A quantity along the curve: mean and 95 % interval at each current, shape (N,)."""

    value: Array
    low: Array
    high: Array


@dataclass(frozen=True)
class Curve:
    """The motor at constant terminal volts and one temperature, by current [A], SI."""

    volts_v: float
    temperature_c: float
    current_a: Array
    torque: Band
    speed: Band
    power: Band
    efficiency: Band


@dataclass(frozen=True)
class Corrected:
    """A reading brought to the sheet's volts and temperature, and its decision against the sheet's limit.

    `settle` says what would settle an undecided one.
    """

    kind: Kind
    name: str
    read: float
    value: float
    standard_uncertainty: float
    limit: Limit
    decision: Decision


@dataclass(frozen=True)
class RunTest:
    """What the run test says.

    Attributes
    ----------
    verdict : str
        ``sound``, ``faulty``, ``undecided``, or ``not-covered`` where no cause explains the readings.
    causes : tuple of RankedCause
        The most probable first; ``healthy`` and ``not-covered`` among them. Probabilities add up to 1.
    curve, model_curve : Curve or None
        Of this motor, and of the sheet's sound one; None where it does not turn, or the sheet has no points.
    rated_power : Interval or None
        At the sheet's rated current, volts and temperature [W]; None where the sheet gives no rated point.
    corrected : tuple of Corrected
    next_test : NextTest or None
    sag : Sag or None
        The source's own volts and resistance, as the points show them.
    questions, notes : tuple of str
        To be answered before the answer is trusted; and what was assumed.
    posterior : tuple of PossibleMotors
        The motors that remain possible, by cause; empty where it does not turn.
    """

    sheet: Sheet
    points: tuple[Point, ...]
    verdict: str
    causes: tuple[RankedCause, ...]
    curve: Curve | None
    model_curve: Curve | None
    rated_power: Interval | None
    corrected: tuple[Corrected, ...]
    next_test: NextTest | None
    sag: Sag | None
    questions: tuple[str, ...]
    notes: tuple[str, ...]
    posterior: tuple[PossibleMotors, ...] = ()

    @property
    def healthy(self) -> float:
        """Probability that nothing is wrong."""
        return next(one.probability for one in self.causes if one.key == "healthy")

    def motors(self, count: int) -> tuple[WeightedMotor, ...]:
        """At most so many single motors that remain possible; none where it does not turn."""
        return single_motors(self.posterior, count)


@dataclass(frozen=True)
class _Weighed:
    """Explanations with their probabilities."""

    asked: Problem
    explained: tuple[Explained, ...]
    chances: tuple[float, ...]
    uncovered: float


def assess(
    sheet: Sheet, points: Sequence[Point], level: float = USUAL_LEVEL, taken: Sequence[str] = ()
) -> RunTest:
    """What the readings of one run test say.

    Parameters
    ----------
    sheet : Sheet
        What is known of the model; it may be almost empty.
    points : sequence of Point
        No-load, lock and loaded points, any of them. Points without volts, or with volts alone, are left
        out and asked about; of points alike in every figure one counts, and it is asked.
    level : float
        Probability that is enough to decide.
    taken : sequence of str
        Keys of `next_test.PART_TESTS` that were made already.
    """
    trusted = at_least(once(usable(upright(points))), METER_SHARE)
    questions, notes = what_to_ask(sheet, points, model_prior(sheet))
    prior = unit_prior(sheet)
    asked = problem(prior, trusted, bench=True)
    if not asked.measured:
        return RunTest(
            sheet, tuple(points), "undecided", (_nothing_known(),), None, None, None, (),
            None, None, (*questions, "Nothing was read that the motor can be judged by."), notes,
        )  # fmt: skip
    weighed = _weigh(asked)
    ranked = _ranked(weighed)
    drawn = possible_motors(weighed.asked, weighed.explained, weighed.chances)
    verdict = _verdict(ranked, level)
    return RunTest(
        sheet=sheet,
        points=tuple(points),
        verdict=verdict,
        causes=ranked,
        curve=_curve(sheet, drawn) if drawn else None,
        model_curve=_model_curve(sheet),
        rated_power=_rated_power(sheet, drawn) if drawn else None,
        corrected=_corrected(sheet, trusted, weighed, level),
        next_test=_next(weighed, trusted, taken) if verdict != "sound" else None,
        sag=sag_of(trusted),
        questions=questions,
        notes=notes,
        posterior=drawn,
    )


def _nothing_known() -> RankedCause:
    return RankedCause("healthy", "nothing wrong", 1.0, {}, "")


def _weigh(asked: Problem) -> _Weighed:
    causes = causes_for(asked.sheet)
    explained = explain_all(asked, causes)
    logs = [one.log_evidence + math.log(one.cause.weight) for one in explained]
    logs.append(not_covered(asked) + math.log(NOT_COVERED_WEIGHT))
    top = max(logs)
    weights = [math.exp(one - top) for one in logs]
    total = sum(weights)
    return _Weighed(asked, explained, tuple(one / total for one in weights[:-1]), weights[-1] / total)


def _ranked(weighed: _Weighed) -> tuple[RankedCause, ...]:
    ranked = [
        RankedCause(
            one.cause.key,
            one.cause.title,
            chance,
            _severity(weighed.asked, one) if chance > 0.01 else {},
            one.cause.means,
        )
        for one, chance in zip(weighed.explained, weighed.chances, strict=True)
    ]
    ranked.append(
        RankedCause(
            NOT_COVERED,
            "not covered: no fault in this list explains these readings",
            weighed.uncovered,
            {},
            "Check the readings and the sheet's figures first: shaft or pinion speed, volts at the starter, "
            "the right sheet.",
        )
    )
    return tuple(sorted(ranked, key=lambda one: -one.probability))


def _severity(asked: Problem, one: Explained) -> dict[str, Interval]:
    if not one.cause.severity:
        return {}
    sound = motors(asked, replace(one.cause, change=None), one.draws)
    changed = motors(asked, one.cause, one.draws)
    return {
        name: _interval(np.asarray(measure(sound, changed)), one.weights)
        for name, measure in one.cause.severity
    }


def _verdict(ranked: Sequence[RankedCause], level: float) -> str:
    chances = {one.key: one.probability for one in ranked}
    if chances[NOT_COVERED] >= 0.5:
        return NOT_COVERED
    if chances["healthy"] >= level:
        return "sound"
    return "faulty" if chances["healthy"] <= 1 - level else "undecided"


def _conditions(sheet: Sheet) -> tuple[float, float]:
    """Volts and temperature [degC] the curve is drawn for."""
    rated = sheet.rated
    volts = rated.volts.value if rated is not None and rated.volts is not None else None
    degrees = (sheet.temperature or SHEET_C).value
    return volts or sheet.volts_of("loaded") or sheet.volts_of("no-load") or sheet.volts_v, degrees


def _curve(sheet: Sheet, drawn: Sequence[PossibleMotors]) -> Curve:
    volts, degrees = _conditions(sheet)
    warm = [at_temperature(one.across, degrees) for one in drawn]
    least = min(float(np.median(no_load(motor, volts).current_a)) for motor in warm)
    most = max(float(np.median(lock(motor, volts).current_a)) for motor in warm)
    current = np.linspace(least, most, GRID)
    states = [state_at_current(motor, volts, current[None, :]) for motor in warm]
    return Curve(
        volts, degrees, current + sheet.switch_a,
        torque=_band([np.asarray(one.torque_nm) for one in states], 1),
        speed=_band([np.maximum(one.speed_rad_s, 0.0) for one in states], 1),
        power=_band([_power(one) for one in states], 2),
        efficiency=_band([_power(one) / np.asarray(one.volts * one.current_a) for one in states], 2),
    )  # fmt: skip


def _power(state: State) -> Array:
    """At the shaft; a state the motor cannot reach gives none."""
    both = (np.asarray(state.torque_nm) > 0) & (np.asarray(state.speed_rad_s) > 0)
    return np.where(both, state.power_w, 0.0)


def _unsaid(values: Array, figures: int) -> Array:
    """Predictions (N, ...) with what the model leaves unsaid of each of the figures they are made of."""
    random = np.random.default_rng(31).standard_normal(len(values))
    share = MODEL_SHARE * math.sqrt(figures) * random
    return np.asarray(values * (1 + share.reshape(-1, *[1] * (values.ndim - 1))))


def _band(many: Sequence[Array], figures: int) -> Band:
    every = _unsaid(np.concatenate(many), figures)
    low, high = np.quantile(every, (0.025, 0.975), axis=0)
    return Band(every.mean(axis=0), low, high)


def _model_curve(sheet: Sheet) -> Curve | None:
    if not usable(sheet.points):
        return None
    prior = model_prior(sheet)
    volts, degrees = _conditions(sheet)
    states = curve(at_temperature(prior.motor(prior.mean), degrees), volts, GRID)

    def line(values: Floats) -> Band:
        alone = np.asarray(values)
        return Band(alone, alone, alone)

    power = _power(states)
    taken = np.asarray(states.volts * states.current_a)
    return Curve(
        volts, degrees, np.asarray(states.current_a) + sheet.switch_a,
        line(states.torque_nm), line(states.speed_rad_s), line(power), line(power / taken),
    )  # fmt: skip


def _rated_power(sheet: Sheet, drawn: Sequence[PossibleMotors]) -> Interval | None:
    rated = sheet.rated
    if rated is None or rated.current is None:
        return None
    volts, degrees = _conditions(sheet)
    amps = rated.current.value - sheet.switch_a
    many = [_power(state_at_current(at_temperature(one.motor, degrees), volts, amps)) for one in drawn]
    every = _unsaid(np.concatenate([np.ravel(one) for one in many]), 2)
    low, high = np.quantile(every, (0.025, 0.975))
    return Interval(float(every.mean()), float(low), float(high))


def _interval(values: Floats, weights: Array) -> Interval:
    every = np.broadcast_to(np.ravel(np.asarray(values, dtype=float)), weights.shape)
    order = np.argsort(every)
    reached = np.cumsum(weights[order])
    low, middle, high = (
        float(every[order][min(int(np.searchsorted(reached, at)), len(order) - 1)])
        for at in (0.025, 0.5, 0.975)
    )
    return Interval(middle, low, high)


def _corrected(
    sheet: Sheet, points: Sequence[Point], weighed: _Weighed, level: float
) -> tuple[Corrected, ...]:
    """Each limited reading at the sheet's volts and temperature.

    The reading is multiplied by the ratio of what the possible motors do there and here, so the sheet does
    not pull it: a motor is judged by what it was seen to do.
    """
    best = max(zip(weighed.chances, weighed.explained, strict=True), key=lambda one: one[0])[1]
    found = []
    for kind, name, limit in sheet.limits:
        seen = [point for point in points if point.kind == kind and getattr(point, name) is not None]
        if not seen:
            continue
        point = _nearest(seen, sheet.volts_of(kind))
        one: Estimate = getattr(point, name)
        ratio = _ratio(sheet, point, name, best, weighed.asked)
        value = one.value * ratio.value
        spread = math.hypot(one.standard_uncertainty * ratio.value, one.value * ratio.standard_uncertainty)
        judged = decide(value, spread, limit, level)
        found.append(Corrected(kind, name, one.value, value, spread, limit, judged))
    return tuple(found)


def _nearest(points: Sequence[Point], volts: float | None) -> Point:
    """The point whose volts are nearest to the sheet's, the last of several; the last where it has none."""
    if volts is None:
        return points[-1]
    return min(reversed(points), key=lambda one: abs(one.volts.value - volts) if one.volts else math.inf)


def _ratio(sheet: Sheet, point: Point, name: str, best: Explained, asked: Problem) -> Estimate:
    wanted = sheet.volts_of(point.kind)
    if wanted is None or point.volts is None or best.cause.behaviour != "turns" or point.kind == "loaded":
        return Estimate(1.0, 0.0)
    motor = motors(asked, best.cause, best.draws)
    here = point.temperature or Estimate(40.0, 25.0)
    there = sheet.temperature or SHEET_C
    random = np.random.default_rng(5).standard_normal((3, len(best.weights)))
    volts = point.volts.value + point.volts.standard_uncertainty * random[0]
    warm = at_temperature(motor, here.value + here.standard_uncertainty * random[1])
    cool = at_temperature(motor, there.value + there.standard_uncertainty * random[2])
    run = no_load if point.kind == "no-load" else lock
    attribute = {"current": "current_a", "speed": "speed_rad_s", "torque": "torque_nm"}[name]
    extra = sheet.switch_a if name == "current" else 0.0
    asked_for, read = (
        np.asarray(getattr(run(*one), attribute)) + extra for one in ((cool, wanted), (warm, volts))
    )
    # a motor that gives nothing here or there has no ratio, and says nothing of one that was read
    gives = (asked_for > 0) & (read > 0)
    if not gives.any():
        return Estimate(1.0, 0.0)
    ratios, weights = asked_for[gives] / read[gives], best.weights[gives] / best.weights[gives].sum()
    middle = float(weights @ ratios)
    return Estimate(middle, math.sqrt(float(weights @ (ratios - middle) ** 2)))


def _next(weighed: _Weighed, points: Sequence[Point], taken: Sequence[str]) -> NextTest | None:
    chances = {one.cause.key: chance for one, chance in zip(weighed.explained, weighed.chances, strict=True)}
    return next_test(chances, further_points(weighed.asked, weighed.explained, points), taken)
