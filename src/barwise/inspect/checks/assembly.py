"""The assembly's checks against the marks of teardown, and against the model."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from barwise.inspect.assembly.orientation import Marks, compare_marks
from barwise.inspect.checks import answers
from barwise.inspect.checks.evidence import Decided, Evidence, Outcome


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
    ways = ("clockwise", "anticlockwise")
    if compared.outcome == "accept" and found in ways and model in ways and found != model:
        line = f"{compared.line} But the model sheet says {model}: is it the sheet of this unit?"
        return replace(outcome, decision="undecided", line=line, settle="Compare number plate and sheet.")
    decided: Decided = "accept" if compared.outcome == "accept" else "reject"
    return replace(outcome, decision=decided, line=line, settle=settle)


def _said(outcome: Outcome | None) -> str:
    """The answer of a choice at its one place."""
    given = None if outcome is None else outcome.details.get("answers")
    return str(next(iter(given.values()), "")) if isinstance(given, Mapping) else ""
