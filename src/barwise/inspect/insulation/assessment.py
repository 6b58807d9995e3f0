"""What the insulation of one part comes to, by megohms, by timed readings, or by a lamp.

A resistance is judged by its logarithm, as everything that makes it doubtful multiplies it: meter,
temperature, rule. The limit's logarithm stands beside it, and the one decision rule decides.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from barwise.errors import MeasurementError
from barwise.inspect.insulation.lamp import Lamp, LightsBelow, State, lights_below
from barwise.inspect.insulation.minimum import Minimum, Part, corrected, minimum_for
from barwise.inspect.insulation.timed import NO_USE_ABOVE_OHM, Ratio, ThermalClass, ratios
from barwise.measure.decision import USUAL_LEVEL, Decision, Limit, Outcome, decide
from barwise.measure.uncertainty import Estimate, last_digit

ONE_MINUTE_S = 60.0
MOST_TEST_V = 500.0
"""Direct test voltage for windings rated below 1000 V: IEEE 43-2000, table 1 (from memory)."""
_LEAST_TEST_V = 50.0
_DISCHARGE = 4.0
"""Times the length of the test that the winding is left joined to the frame: common practice, no source."""


@dataclass(frozen=True)
class Megohms:
    """One reading of an insulation tester.

    Attributes
    ----------
    ohm : float
        0 where the meter reads nothing.
    digit_ohm : float
        Step of its last digit [ohm].
    seconds : float or None
        Since the voltage was put on; None is taken for one minute.
    over : bool
        The meter is beyond its range: at least `ohm`.
    """

    ohm: float
    digit_ohm: float
    seconds: float | None = None
    over: bool = False

    def __post_init__(self) -> None:
        if not (math.isfinite(self.ohm) and self.ohm >= 0):
            raise MeasurementError(f"insulation: found {self.ohm:g} ohm, expected 0 or more")
        if not (math.isfinite(self.digit_ohm) and self.digit_ohm >= 0):
            raise MeasurementError(
                f"insulation: found a last digit of {self.digit_ohm:g}, expected 0 or more"
            )
        if self.seconds is not None and not 0 < self.seconds <= 36000:
            raise MeasurementError(f"time: found {self.seconds:g} s, expected above 0 s and up to ten hours")

    @property
    def reads_nothing(self) -> bool:
        """Whether it stands below half of its last digit."""
        return self.ohm <= self.digit_ohm / 2

    @property
    def log(self) -> Estimate:
        """Its natural logarithm; a reading of nothing is somewhere below its last digit."""
        if not self.reads_nothing:
            return Estimate(math.log(self.ohm), last_digit(self.digit_ohm) / self.ohm)
        if self.digit_ohm == 0:
            raise MeasurementError("insulation: found 0 ohm without a last digit, expected such as 0.00 Mohm")
        return Estimate(math.log(self.digit_ohm / 4), math.log(2))


@dataclass(frozen=True)
class InsulationTest:
    """All that was read of one part's insulation.

    `gain` is the relative standard uncertainty of the tester, `temperature` that of the winding [degC];
    `minimum` the sheet's own.
    """

    part: Part
    rated_v: float
    readings: tuple[Megohms, ...] = ()
    lamp: Lamp | None = None
    lamp_state: State | None = None
    temperature: Estimate | None = None
    test_v: float | None = None
    gain: float = 0.0
    minimum: Minimum | None = None
    thermal_class: ThermalClass | None = None


@dataclass(frozen=True)
class InsulationAssessment:
    """What one part's insulation comes to.

    Attributes
    ----------
    outcome : str
        accept, reject, undecided.
    minimum : Minimum
    ohm_40, ohm_40_low, ohm_40_high : float or None
        Resistance at 40 °C with its 95 % interval [ohm]; None without a reading of the tester.
    decision : Decision or None
        On the natural logarithm of the resistance at 40 °C.
    beyond_range, reads_nothing : bool
        The meter was beyond its range: the resistance is at least that. It read nothing: it is below the last
        digit, wherever the estimate is put.
    ratios : tuple of Ratio
    lights_below : LightsBelow or None
    discharge_s : float
        How long to leave the winding joined to the frame after the test.
    settle : str
    notes : tuple of str
    """

    test: InsulationTest
    outcome: Outcome
    minimum: Minimum
    ohm_40: float | None
    ohm_40_low: float | None
    ohm_40_high: float | None
    decision: Decision | None
    beyond_range: bool
    reads_nothing: bool
    ratios: tuple[Ratio, ...]
    lights_below: LightsBelow | None
    discharge_s: float
    settle: str
    notes: tuple[str, ...]


def assess(test: InsulationTest, level: float = USUAL_LEVEL) -> InsulationAssessment:
    """Judge one part's insulation.

    Raises
    ------
    MeasurementError
        If nothing was read, a time is given twice, or a number is none.
    """
    if not test.readings and test.lamp_state is None:
        raise MeasurementError("insulation: found no reading, expected one of a tester or of a lamp")
    minimum = test.minimum or minimum_for(test.part, test.rated_v)
    by_time = _by_time(test.readings)
    main = _main(by_time)
    log_40 = None if main is None else _log_40(main, test)
    limit = Limit(lower=math.log(minimum.ohm))
    decision = None if log_40 is None else decide(log_40.value, log_40.standard_uncertainty, limit, level)
    below = lights_below(test.lamp) if test.lamp is not None else None
    outcome = _outcome(test, minimum, decision, main, below)
    interval = (None, None, None) if log_40 is None else _interval(log_40)
    timed = ratios({at: one.log for at, one in by_time.items() if not one.over}, test.thermal_class, level)
    return InsulationAssessment(
        test=test,
        outcome=outcome,
        minimum=minimum,
        ohm_40=interval[0],
        ohm_40_low=interval[1],
        ohm_40_high=interval[2],
        decision=decision,
        beyond_range=main is not None and main.over,
        reads_nothing=main is not None and main.reads_nothing,
        ratios=timed,
        lights_below=below,
        discharge_s=_DISCHARGE * max(by_time, default=0.0),
        settle=_settle(test, outcome, decision, main, minimum),
        notes=tuple(_notes(test, by_time, timed)),
    )


def _by_time(readings: tuple[Megohms, ...]) -> Mapping[float, Megohms]:
    found: dict[float, Megohms] = {}
    for one in readings:
        at = ONE_MINUTE_S if one.seconds is None else one.seconds
        if at in found:
            raise MeasurementError(
                f"insulation: found two readings after {at:g} s, expected one for each time"
            )
        found[at] = one
    return dict(sorted(found.items()))


def _main(by_time: Mapping[float, Megohms]) -> Megohms | None:
    """The reading after one minute, or the one nearest to it."""
    if not by_time:
        return None
    return by_time[min(by_time, key=lambda at: abs(math.log(at / ONE_MINUTE_S)))]


def _log_40(main: Megohms, test: InsulationTest) -> Estimate:
    log = main.log
    return corrected(Estimate(log.value, math.hypot(log.standard_uncertainty, test.gain)), test.temperature)


def _interval(log_40: Estimate) -> tuple[float, float, float]:
    reach = log_40.expanded()
    return math.exp(log_40.value), math.exp(log_40.value - reach), math.exp(log_40.value + reach)


def _outcome(
    test: InsulationTest,
    minimum: Minimum,
    decision: Decision | None,
    main: Megohms | None,
    below: LightsBelow | None,
) -> Outcome:
    """A lit lamp rejects, whatever the tester says; a dark one passes only what a lamp can see."""
    if test.lamp_state in ("lit", "glows"):
        return "reject"
    if decision is not None:
        beyond = main is not None and main.over and decision.outcome == "reject"
        return "undecided" if beyond else decision.outcome
    return "accept" if below is not None and below.plain_ohm >= minimum.ohm else "undecided"


def _settle(
    test: InsulationTest,
    outcome: Outcome,
    decision: Decision | None,
    main: Megohms | None,
    minimum: Minimum,
) -> str:
    if outcome == "accept":
        return ""
    if test.lamp_state in ("lit", "glows"):
        return (
            "Lift joints and leads one after another until it goes dark: the last one lifted has the ground."
        )
    if main is None or decision is None:
        return "Read it with an insulation tester at 500 V or less: a dark lamp leaves too much open."
    if main.ohm <= main.digit_ohm:
        return "It is grounded: find where before anything else."
    if outcome == "undecided" and test.temperature is None:
        return "Write down the temperature of the winding, then it can be held against 40 °C."
    if main.ohm >= minimum.ohm:
        return "Warm the winding through to about 40 °C and read again: then nothing is left to the rule."
    return "Clean it, dry it in the oven, let it cool, read again. Damp dries out, a chafed place does not."


def _notes(test: InsulationTest, by_time: Mapping[float, Megohms], timed: tuple[Ratio, ...]) -> Iterator[str]:
    if by_time:
        yield from _tester_notes(test, by_time)
    for one in timed:
        if one.course == "falls":
            yield f"The {one.name} is below 1: read again; what falls is a loose clip or a breakdown."
    if any(one.ohm > NO_USE_ABOVE_OHM for one in by_time.values()) and len(by_time) > 1:
        yield "Above 5000 Mohm the polarization index tells nothing."
    if any(one.course in ("flat", "not clear") for one in timed):
        yield (
            "A small winding takes up its charge within seconds: a ratio near 1 beside a high resistance "
            "condemns nothing; beside a low one it speaks for damp or dirt."
        )


def _tester_notes(test: InsulationTest, by_time: Mapping[float, Megohms]) -> Iterator[str]:
    if test.temperature is None:
        yield (
            "No temperature was entered, and none is assumed: any shop from 5 to 35 °C is allowed for, and "
            "the resistance at 40 °C may be off by nearly three times either way."
        )
    elif abs(test.temperature.value - 40) > 5:
        yield (
            "Corrected to 40 °C by half for every 10 K. Newer thermosetting varnish changes less: below "
            "40 °C an accept stands, and a reject near the limit may be too strict."
        )
    if ONE_MINUTE_S not in by_time:
        nearest = min(by_time, key=lambda at: abs(math.log(at / ONE_MINUTE_S)))
        yield f"There is no reading after one minute: the one after {nearest:g} s stands in for it."
    elif any(one.seconds is None for one in by_time.values()):
        yield "A reading without a time is taken for the one after a minute."
    yield from _voltage_notes(test)


def _voltage_notes(test: InsulationTest) -> Iterator[str]:
    if test.test_v is None:
        yield "The test voltage was not entered: 500 V or less belongs on a low-voltage winding."
    elif test.test_v > MOST_TEST_V and test.rated_v < 1000:
        yield (
            f"{test.test_v:g} V is more than the 500 V that are usual below 1000 V rated (IEEE 43-2000, "
            "table 1, from memory): do not repeat it on old tape."
        )
    elif test.test_v < _LEAST_TEST_V:
        yield f"At {test.test_v:g} V only a dead ground shows: dirt and damp conduct at higher voltage."
    yield "Regulators, diodes, suppressors and sensors must be off the winding before it is tested."
