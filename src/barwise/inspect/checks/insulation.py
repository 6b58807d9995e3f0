"""Insulation at the bench: megohms against the sheet, or against the general limit at 40 °C.

A limit of the unit's own sheet is taken as it stands, for the reading as it is. A general one is at 40 °C.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace

from barwise.errors import MeasurementError
from barwise.inspect.checks.evidence import Evidence, Limit, Outcome, Taken, finest_step, not_taken
from barwise.inspect.checks.limits import dimension, limit_details, with_best_instrument
from barwise.inspect.checks.plain import plain
from barwise.inspect.checks.wording import allowed, chance, number, whence
from barwise.inspect.insulation.assessment import Megohms
from barwise.inspect.insulation.minimum import corrected
from barwise.inspect.insulation.timed import ratios
from barwise.measure import decision
from barwise.measure.uncertainty import Estimate

_AT_40 = ("armature-insulation", "field-insulation")
"""General limits that are given at 40 °C."""
_AFTER_S = {"30 s": 30.0, "10 min": 600.0}
_WORDS = {
    "accept": "within its limit",
    "reject": "beyond its limit",
    "undecided": "too close to call against",
}


def resistance(evidence: Evidence) -> Outcome:
    """One minute's reading against its limit; leans on ``temperature`` and on ``lamp``.

    A lamp that was lit beside a tester that reads well stays open: one of them touched badly.
    """
    numbers = evidence.numbers()
    if not numbers:
        return not_taken(evidence)
    limit = evidence.limit
    if limit is None or limit.allowed is None or not limit.general or limit.key not in _AT_40:
        outcome = dimension(evidence)
    else:
        outcome = _at_40(evidence, limit, numbers)
    read = _megohms(numbers)
    details = {**outcome.details, "as_read": read.ohm, "digit": read.digit_ohm}
    return _after_lamp(evidence, replace(outcome, details=details))


def timed(evidence: Evidence) -> Outcome:
    """Half a minute and ten minutes against the one-minute reading (``minute``); it decides nothing.

    A resistance that falls stays open: the clips, or a breakdown that begins.
    """
    numbers = evidence.numbers()
    if not numbers:
        return not_taken(evidence)
    minute = evidence.context.get("minute")
    read, digit = (
        (None, None) if minute is None else (minute.details.get("as_read"), minute.details.get("digit"))
    )
    if not isinstance(read, int | float) or not isinstance(digit, int | float):
        return Outcome(
            "undecided", f"{evidence.what}: no reading after one minute.", settle="Read after one minute too."
        )
    logs = {60.0: Megohms(read, digit).log}
    for one in numbers:
        seconds = _AFTER_S.get(one.place[0]) if one.place else None
        if seconds is not None and one.value is not None:
            logs[seconds] = Megohms(one.value, one.scale_step).log
    found = ratios(logs, None, evidence.level)
    said = "; ".join(f"{one.name} {one.value.value:.2f}, {_course(one.course)}" for one in found)
    falls = any(one.course == "falls" for one in found)
    return Outcome(
        "undecided" if falls else "noted",
        f"{evidence.what}: {said or 'nothing to compare'}.",
        settle="Read again with the clips tight: a resistance that falls is a loose clip or a breakdown."
        if falls
        else "",
        details={"ratios": [plain(one) for one in found]},
    )


def _course(course: str) -> str:
    return {"rises": "it rises", "falls": "it falls", "flat": "it stays"}.get(course, "not clear")


def _at_40(evidence: Evidence, limit: Limit, numbers: tuple[Taken, ...]) -> Outcome:
    """Judged by its logarithm, as everything that makes it doubtful multiplies it."""
    warmth, least = _temperature(evidence.context), limit.allowed
    lower = None if least is None else least.lower
    if lower is None or lower <= 0:
        return dimension(evidence)
    try:
        log = corrected(_log(numbers), warmth)
    except MeasurementError as error:
        return Outcome("undecided", f"{evidence.what}: {error}.", settle="Read the temperature again.")
    bound = decision.Limit(lower=math.log(lower))
    judged = decision.decide(log.value, log.standard_uncertainty, bound, evidence.level)
    value, unit = math.exp(log.value), numbers[-1].unit or evidence.unit
    as_read = number(_megohms(numbers).ohm, unit, finest_step(numbers))
    at_40 = _three_figures(value, unit)
    close = (
        "" if judged.outcome != "undecided" else f"; chance that it is enough: {chance(judged.conforming)}"
    )
    return Outcome(
        judged.outcome,
        f"{evidence.what}: {as_read}, at 40 °C about {at_40}, {_WORDS[judged.outcome]}, "
        f"{allowed(limit, unit)}{close}.{_unknown(warmth)}{whence(limit)}",
        settle=_settle(judged.outcome, warmth),
        value=value,
        uncertainty=value * log.standard_uncertainty,
        quantity=evidence.quantity,
        unit=unit,
        probability=judged.conforming,
        details={**limit_details(limit), "at_40": value, "log_uncertainty": log.standard_uncertainty},
    )


def _three_figures(value: float, unit: str) -> str:
    digits = 10.0 ** (math.floor(math.log10(value)) - 2) if value > 0 else 0.0
    return number(round(value / digits) * digits if digits else value, unit)


def _unknown(warmth: Estimate | None) -> str:
    return "" if warmth is not None else " No temperature was taken: 5 to 35 °C is allowed for."


def _settle(outcome: str, warmth: Estimate | None) -> str:
    if outcome == "accept":
        return ""
    if outcome == "undecided" and warmth is None:
        return "Write down the temperature of the winding."
    if outcome == "undecided":
        return "Warm it through to about 40 °C and read again: then nothing is left to the correction."
    return "Clean it, dry it in the oven, let it cool, read again. Damp dries out, a chafed place does not."


def _after_lamp(evidence: Evidence, outcome: Outcome) -> Outcome:
    lamp = evidence.context.get("lamp")
    if lamp is None or lamp.decision != "reject" or outcome.decision == "reject":
        return outcome
    return replace(
        outcome,
        decision="undecided",
        line=f"{outcome.line} But the lamp was lit.",
        settle="Lamp and tester do not go together: clips on bright metal, then both again.",
    )


def _megohms(numbers: tuple[Taken, ...]) -> Megohms:
    """Mean of what was read, with the step of the meter."""
    found, used = with_best_instrument(numbers)
    return Megohms(max(0.0, found.value_m), finest_step(used))


def _log(numbers: tuple[Taken, ...]) -> Estimate:
    found, used = with_best_instrument(numbers)
    step = finest_step(used)
    if found.value_m <= step / 2:
        return Megohms(0.0, step or 1.0).log
    return Estimate(math.log(found.value_m), found.budget.standard_uncertainty / found.value_m)


def _temperature(context: Mapping[str, Outcome]) -> Estimate | None:
    found = context.get("temperature")
    if found is None or found.value is None:
        return None
    return Estimate(found.value, max(found.uncertainty or 0.0, 1.0))
