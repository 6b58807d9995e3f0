"""What was answered in words, at one place or several: the worst answer decides."""

from __future__ import annotations

from collections.abc import Sequence

from barwise.inspect.checks.evidence import Answer, Decided, Evidence, Outcome, Taken, not_taken

YES_NO = (Answer("yes", "accept"), Answer("no", "reject"))
_WORST_FIRST: dict[str | None, int] = {"reject": 0, "undecided": 1, "accept": 2, None: 3}


def choice(evidence: Evidence) -> Outcome:
    """One of the answers the check offers, each of which says what it means for the part."""
    return _answered(evidence, evidence.answers)


def yes_no(evidence: Evidence) -> Outcome:
    """Yes is well and no is not, unless the check says otherwise."""
    return _answered(evidence, evidence.answers or YES_NO)


def _answered(evidence: Evidence, answers: Sequence[Answer]) -> Outcome:
    said = [
        (place, _meant(taken, answers)) for place, taken in _last_at_each_place(evidence.readings).items()
    ]
    if not said:
        return not_taken(evidence)
    place, worst = min(said, key=lambda one: _WORST_FIRST[one[1].means])
    missing = [name for name in evidence.places if (name,) not in dict(said)]
    decided: Decided = worst.means or "noted"
    if missing and decided in ("accept", "noted"):
        decided = "undecided"
    absent = f" Not answered: {', '.join(missing)}." if missing else ""
    which = f" {', '.join(place)}" if place else ""
    settle = worst.then or (f"Look at {', '.join(missing)}." if missing else "")
    return Outcome(
        decision=decided,
        line=f"{evidence.what}{which}: {worst.say}.{absent}",
        settle=settle,
        details={
            "answers": {", ".join(at): answer.say for at, answer in said},
            "not_read": missing,
            **({"proposes": worst.proposes} if worst.proposes else {}),
        },
    )


def _last_at_each_place(readings: Sequence[Taken]) -> dict[tuple[str, ...], Taken]:
    """Looked at again, the later answer stands."""
    return {reading.place: reading for reading in readings}


def _meant(taken: Taken, answers: Sequence[Answer]) -> Answer:
    wanted = taken.text.strip().casefold()
    for answer in answers:
        if answer.say.casefold() == wanted:
            return answer
    known = ", ".join(answer.say for answer in answers)
    return Answer(taken.text.strip(), "undecided", f"Answer one of: {known}.")
