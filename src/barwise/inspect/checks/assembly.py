"""The assembly's checks: shims for what is out of range, and the marks of teardown and of the model."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from barwise.inspect.assembly.orientation import WAYS, Marks, compare_marks
from barwise.inspect.assembly.shims import Goal, Wanted, wanted_thickness
from barwise.inspect.checks import answers, limits
from barwise.inspect.checks.evidence import Decided, Evidence, Outcome
from barwise.inspect.checks.found import unit_of
from barwise.inspect.checks.wording import number
from barwise.measure.uncertainty import Estimate

_LEVER = "Put in or take out one shim under the switch and measure again: the lever decides how far it moves."


def end_play(evidence: Evidence) -> Outcome:
    """End play against its limit, and what thickness of washers brings it to the middle."""
    return _with_shims(evidence, "washers on the shaft", -1.0)


def pinion_clearance(evidence: Evidence) -> Outcome:
    """Pinion clearance against its limit, and how far it is from the middle of it."""
    outcome = _with_shims(evidence, "", 1.0)
    return replace(outcome, settle=f"{outcome.settle} {_LEVER}") if outcome.decision == "reject" else outcome


def _with_shims(evidence: Evidence, what: str, share: float) -> Outcome:
    """The outcome with the thickness it asks for; `share` is what a thickness put in does to the value."""
    outcome = limits.dimension(evidence)
    if outcome.decision not in ("reject", "undecided"):
        return outcome
    wanted = _wanted(evidence, outcome, share)
    if wanted is None:
        return outcome
    unit, digit = unit_of(evidence).name, max(one.last_digit for one in evidence.numbers())
    size, more = number(abs(wanted.middle_m), unit, digit), wanted.middle_m > 0
    if what:
        said = f"{'Put in' if more else 'Take out'} {size} of {what}"
    else:
        said = f"It is {size} {'short of' if more else 'beyond'} the middle of its range"
    if what and wanted.low_m is not None and wanted.high_m is not None:
        ends = sorted(abs(one) for one in (wanted.low_m, wanted.high_m))
        said += f" ({' to '.join(number(one, unit, digit) for one in ends)} will do)"
    settle = f"{said}. {outcome.settle}".strip()
    return replace(outcome, settle=settle, details={**outcome.details, "shim_m": wanted.middle_m})


def _wanted(evidence: Evidence, outcome: Outcome, share: float) -> Wanted | None:
    """None where the range is open on one side: it has no middle."""
    allowed = None if evidence.limit is None else evidence.limit.allowed
    if outcome.value is None or allowed is None or allowed.lower is None or allowed.upper is None:
        return None
    now = Estimate(outcome.value, outcome.uncertainty or 0.0)
    goal = Goal(evidence.what, now, allowed.lower, allowed.upper, {"shims": share})
    return wanted_thickness([goal], {}, evidence.level)[0]


def as_marked(evidence: Evidence) -> Outcome:
    """A choice against the same one at teardown, which it leans on as ``marked``: a difference is rejected.

    Without a mark it stays as its answer says. Where the sheet gives ``rotation``, the answer must be that
    one too, if it is one of the ways to turn.
    """
    outcome = answers.choice(evidence)
    if outcome.decision == "not taken":
        return outcome
    found = _said(outcome)
    marked = _said(evidence.context.get("marked"))
    if not marked:
        return outcome
    compared = compare_marks(Marks(evidence.what, marked, found))
    line, settle = compared.line, compared.settle
    model = evidence.sheet.facts.get("rotation")
    if compared.outcome == "accept" and found in WAYS and model in WAYS and found != model:
        line = f"{compared.line} But the model sheet says {model}: is it the sheet of this unit?"
        return replace(outcome, decision="undecided", line=line, settle="Compare number plate and sheet.")
    decided: Decided = "accept" if compared.outcome == "accept" else "reject"
    return replace(outcome, decision=decided, line=line, settle=settle)


def _said(outcome: Outcome | None) -> str:
    """The answer of a choice at its one place."""
    given = None if outcome is None else outcome.details.get("answers")
    return str(next(iter(given.values()), "")) if isinstance(given, Mapping) else ""
