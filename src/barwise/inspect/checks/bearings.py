"""The bushes' checks: a bore measured on its own, and the play it gives the journal that runs in it."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace

from barwise.errors import MeasurementError
from barwise.inspect.bearings.clearance import Clearance, clearance
from barwise.inspect.bearings.form import Form
from barwise.inspect.checks import limits
from barwise.inspect.checks.evidence import Decided, Evidence, Json, Limit, Outcome, not_taken
from barwise.inspect.checks.shaft import form_details, form_of_readings, unit_of
from barwise.inspect.checks.wording import NO_LIMIT, allowed, chance, whence
from barwise.inspect.finding import said_to_its_digit
from barwise.measure.decision import Decision
from barwise.measure.uncertainty import Estimate

_WORST_FIRST: dict[str, int] = {"reject": 0, "undecided": 1, "accept": 2}


def drive_end(evidence: Evidence) -> Outcome:
    """Bore of the drive-end bush, and the play of its journal."""
    return _bore(evidence, "bush-clearance-drive-end")


def commutator_end(evidence: Evidence) -> Outcome:
    """Bore of the commutator-end bush, and the play of its journal."""
    return _bore(evidence, "bush-clearance-commutator-end")


def _bore(evidence: Evidence, limit_key: str) -> Outcome:
    bore = form_of_readings(evidence.numbers())
    if bore is None:
        return not_taken(evidence)
    own = _of_itself(evidence, bore)
    journal = journal_of(evidence.context.get("journal"))
    if journal is None:
        settle = own.settle if own.decision == "reject" else "Measure the journal: the play needs both."
        return replace(own, decision=_open(own), settle=settle)
    limit = evidence.sheet.limits.get(limit_key)
    try:
        play = clearance(bore, journal, None if limit is None else limit.allowed, evidence.level)
    except MeasurementError:
        line = f"{evidence.what}: the journal measures larger than the bore it runs in."
        return replace(
            own, decision="undecided", line=line, settle="Measure both again: swapped, or misread?"
        )
    return _with_play(evidence, own, play, limit)


def _open(own: Outcome) -> Decided:
    return own.decision if own.decision == "reject" else "undecided"


def _of_itself(evidence: Evidence, bore: Form) -> Outcome:
    """The bore against its own limit, or noted where the sheet has none for it."""
    if evidence.limit is not None:
        found = limits.wear(evidence)
    else:
        unit = unit_of(evidence)
        line = f"{evidence.what}: {said_to_its_digit(bore.largest, unit)}."
        found = Outcome("noted", line, quantity=evidence.quantity, unit=unit.name)
    return replace(found, details={**found.details, "form": form_details(bore)})


def journal_of(outcome: Outcome | None) -> Form | None:
    """The journal's shape out of its kept result."""
    kept = None if outcome is None else outcome.details.get("form")
    if not isinstance(kept, Mapping):
        return None
    sizes = [_estimate(kept.get(name)) for name in ("mean", "largest", "smallest")]
    mean, largest, smallest = sizes
    if mean is None or largest is None or smallest is None:
        return None
    return Form(mean, largest, smallest, None, None, None, False, 0.0, 0)


def _estimate(kept: Json) -> Estimate | None:
    if not isinstance(kept, list | tuple) or len(kept) != 3:
        return None
    value, doubt, freedom = kept
    if not isinstance(value, int | float) or not isinstance(doubt, int | float):
        return None
    known = float(freedom) if isinstance(freedom, int | float) else math.inf
    return Estimate(float(value), float(doubt), known)


def _with_play(evidence: Evidence, own: Outcome, play: Clearance, limit: Limit | None) -> Outcome:
    unit = unit_of(evidence)
    span = said_to_its_digit(play.loosest, unit)
    if play.tightest.value < play.loosest.value:
        span = f"{said_to_its_digit(play.tightest, unit)} to {span}"
    worse = play.worse
    if worse is None or limit is None:
        line = f"{own.line} Play on its journal {span}; {NO_LIMIT}"
        settle = "Put a limit for the play into the model sheet."
        return replace(own, decision=_open(own), line=line, settle=settle)
    missing = [place for place in evidence.places if place not in _read(evidence)]
    decided: Decided = _worse(worse.outcome, own.decision)
    if decided == "accept" and missing:
        decided = "undecided"
    absent = f" Not read: {', '.join(missing)}." if missing else ""
    begin, itself = f"{evidence.what}: play on its journal {span}, ", _itself(evidence, own, unit.name)
    return replace(
        own,
        decision=decided,
        line=f"{begin}{_said(worse, limit, unit.name)}{whence(limit)}{itself}{absent}",
        settle=_settle(decided, worse, own, missing),
        value=play.loosest.value,
        uncertainty=play.loosest.standard_uncertainty,
        probability=worse.conforming,
        details={**own.details, **_details(play), **limits.limit_details(limit)},
    )


def _read(evidence: Evidence) -> set[str]:
    return {" ".join(one.place) for one in evidence.numbers()}


def _worse(play: Decided, own: Decided) -> Decided:
    """The worse of the two; a bore without a limit of its own says nothing."""
    return own if _WORST_FIRST.get(own, 3) < _WORST_FIRST[play] else play


def _itself(evidence: Evidence, own: Outcome, unit: str) -> str:
    """A sentence on the bore's own wear."""
    if evidence.limit is None:
        return ""
    if own.decision == "reject":
        return f" The bore itself is beyond its limit, {allowed(evidence.limit, unit)}."
    worn = own.details.get("worn_percent")
    return f" Bore {worn:.0f} % worn." if isinstance(worn, int | float) else ""


def _said(worse: Decision, limit: Limit, unit: str) -> str:
    words = allowed(limit, unit)
    return {
        "accept": f"within its limit, {words}.",
        "reject": f"beyond its limit, {words}.",
        "undecided": f"too close to call against {words}; chance that it is within: "
        f"{chance(worse.conforming)}.",
    }[worse.outcome]


def _settle(decided: Decided, worse: Decision, own: Outcome, missing: Sequence[str]) -> str:
    if decided == "accept":
        return ""
    if worse.outcome == "reject":
        return "New bush." if worse.limit.upper is not None else "Too tight: size it with its mandrel."
    if worse.outcome == "undecided":
        return "Measure bore and journal again, the bore with the finest gauge there is."
    return (
        f"Read {', '.join(missing)}." if missing and own.decision != "reject" else own.settle or "New bush."
    )


def _details(play: Clearance) -> dict[str, Json]:
    """Both ends of the play, for the limit line."""
    ends = (("most", play.loosest, play.upper), ("least", play.tightest, play.lower))
    return {
        "places": [
            {
                "place": [name],
                "value": one.value,
                "uncertainty": one.standard_uncertainty,
                "decision": "accept" if made is None else made.outcome,
                "probability": None if made is None else made.conforming,
            }
            for name, one, made in ends
        ],
        "from_bore": play.from_bore,
        "mean_play": play.mean.value,
    }
