"""In the vehicle: volts lost on each stretch, whether they add up, and whether the starter will crank it."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from barwise.inspect.checks.evidence import Decided, Evidence, Json, Limit, Outcome, not_taken
from barwise.inspect.checks.limits import dimension
from barwise.inspect.checks.plain import plain
from barwise.inspect.checks.run_test import assessed, run_sheet
from barwise.inspect.checks.wording import chance, number
from barwise.inspect.cranking.at_the_job import USUAL_LEGS, JobCrank, ReadInVehicle, crank_of_job
from barwise.inspect.cranking.drops import DropReadings, fit_drops
from barwise.inspect.cranking.wording import hardly_lost, share_words, span, speed_words
from barwise.measure import decision
from barwise.measure.uncertainty import Estimate

_LIMIT_FOR_A = 100.0


def drop(evidence: Evidence) -> Outcome:
    """A drop against its limit, which is for each 100 A; leans on the current as `current`."""
    if not evidence.numbers():
        return not_taken(evidence)
    current = _estimate(evidence, "current")
    limit = evidence.limit
    if current is None or not current.value > 0 or limit is None or limit.allowed is None:
        plain = dimension(replace(evidence, limit=None))
        missing = "Read the amperes in the same run: the limit is for each 100 A."
        return plain if limit is None else replace(plain, settle=missing)
    found = dimension(replace(evidence, limit=_scaled(limit, current.value)))
    assert found.value is not None
    ohm = found.value / current.value
    return replace(
        found,
        line=f"{found.line} That is {number(ohm, 'mohm')} at {number(current.value, 'A')}.",
        details={**found.details, "ohm": ohm, "current_a": current.value},
    )


def adds_up(evidence: Evidence) -> Outcome:
    """Volts at the starter: what the battery has less the drops; leans on them by their names.

    The parts are ``current``, ``battery`` and the legs. What the readings leave over is held against what the
    meters can be off by.
    """
    found = dimension(replace(evidence, limit=None))
    if found.value is None:
        return not_taken(evidence)
    starter = Estimate(found.value, found.uncertainty or 0.0)
    current, battery = _estimate(evidence, "current"), _estimate(evidence, "battery")
    legs = [name for name in evidence.context if name not in ("current", "battery")]
    drops = {name: known for name in legs if (known := _estimate(evidence, name)) is not None}
    missing = [name for name in legs if name not in drops]
    if current is None or not current.value > 0 or battery is None or missing or not legs:
        asked = [*(["amperes"] if current is None else []), *(["battery volts"] if battery is None else [])]
        words = ", ".join([*asked, *missing] or ["the drops of the cables and the switch"])
        return replace(found, settle=f"Read {words} in the same run: then it shows whether the volts add up.")
    fit = fit_drops(DropReadings(current, drops, battery, starter), legs)
    details: dict[str, Json] = {
        **found.details,
        "misfit_v": fit.misfit_v,
        "ohm": {leg.name: leg.ohm.value for leg in fit.legs},
    }
    worst = max(fit.legs, key=lambda leg: leg.volts.value)
    lost = f"most is lost in the {worst.name}, {number(worst.volts.value, 'V')}"
    said = number(starter.value, "V")
    if fit.closes:
        line = f"{evidence.what}: {said}. The volts add up; {lost}."
        return replace(found, decision="accept", line=line, settle="", details=details)
    line = f"{evidence.what}: {said}. The volts do not add up: {number(fit.misfit_v or 0.0, 'V')} left over."
    return replace(found, decision="undecided", line=line, settle=" ".join(fit.questions), details=details)


def will_it_crank(evidence: Evidence) -> Outcome:
    """The whole vehicle; its facts are the check's own reading.

    It leans on the run readings as `run_test.verdict` does, and on what was read in the vehicle: ``current``,
    ``battery``, ``starter``, ``rest``, ``turns`` (its speed), ``outside`` (how cold it was), and the drops by
    the names of their legs.
    """
    if not evidence.readings or evidence.vehicle is None:
        return not_taken(evidence)
    found = crank_of_job(evidence.vehicle, assessed(evidence), run_sheet(evidence), _in_vehicle(evidence))
    return Outcome(
        decision=_cranks(found),
        line=f"{evidence.what}: {_crank_line(found)}",
        settle=" ".join(_to_settle(found)),
        probability=None if found.answer is None else found.answer.outlook.starts,
        details={"crank": _details(found)},
        answer=found,
    )


def _in_vehicle(evidence: Evidence) -> ReadInVehicle:
    outside = _estimate(evidence, "outside")
    drops = {name: known for name in USUAL_LEGS if (known := _estimate(evidence, name)) is not None}
    return ReadInVehicle(
        current=_estimate(evidence, "current"),
        drops=drops,
        battery=_estimate(evidence, "battery"),
        starter=_estimate(evidence, "starter"),
        rest=_estimate(evidence, "rest"),
        speed=_estimate(evidence, "turns"),
        temperature_c=None if outside is None else outside.value,
    )


def _cranks(found: JobCrank) -> Decided:
    """What flatters it, or stands in for it, can reject and never accept."""
    if found.answer is None:
        return "undecided"
    if found.answer.verdict in ("too slow", "does not turn"):
        return "reject"
    doubtful = found.flattered or found.questions or found.answer.agrees is False
    doubtful = doubtful or bool(found.stands_in)
    return "accept" if found.answer.verdict == "cranks" and not doubtful else "undecided"


def _crank_line(found: JobCrank) -> str:
    answer = found.answer
    if answer is None:
        worst = found.worst_read
        lost = (
            f" As measured most is lost in the {worst.name}: {number(worst.ohm.value, 'mohm')}."
            if worst
            else ""
        )
        return f"no speed can be worked out yet.{lost}"
    expected, blame = answer.outlook, answer.blame
    said = speed_words(answer.summary)
    parts = [
        f"{said[0].lower()}{said[1:]}, {span(expected.current_a, 0)} A; chance that this is enough "
        f"{chance(expected.starts)}."
    ]
    if not hardly_lost(blame):
        parts += [f"Weakest link: {blame.weakest.name}.", "" if found.stands_in else share_words(blame)]
    return " ".join(part for part in parts if part)


def _to_settle(found: JobCrank) -> Iterator[str]:
    yield from found.questions
    for one in found.needed:
        yield f"Missing: {one.what}; it gives {one.gives}."
    if found.answer is None:
        return
    if found.flattered:
        yield f"Nothing is known of {', '.join(found.flattered)}: left out, so it cranks slower than this."
    if found.answer.agrees is False:
        yield "Amperes and speed in the vehicle do not fit what it is said to be: look for the wrong figure."
    if found.stands_in:
        yield found.stands_in


def _details(found: JobCrank) -> Json:
    answer = found.answer
    worked = {} if answer is None else {"agrees": answer.agrees, "start": answer.figures}
    told = ("fit", "flattered", "stands_in", "questions", "said")
    return plain({**vars(found.kept), **worked, **{name: getattr(found, name) for name in told}})


def _estimate(evidence: Evidence, part: str) -> Estimate | None:
    known = evidence.context.get(part)
    if known is None or known.value is None:
        return None
    spread = known.uncertainty or 0.0
    return Estimate(known.value, spread if math.isfinite(spread) else 0.0)


def _scaled(limit: Limit, amperes: float) -> Limit:
    """The limit at this current."""
    sides = limit.allowed
    assert sides is not None
    share = amperes / _LIMIT_FOR_A
    ends = [None if side is None else side * share for side in (sides.lower, sides.upper)]
    return replace(limit, allowed=decision.Limit(*ends), target=None)
