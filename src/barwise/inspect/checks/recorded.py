"""What is written down and decides nothing by itself: notes, photos, numbers for later."""

from __future__ import annotations

from barwise.inspect.checks.evidence import Evidence, Json, Outcome, Taken, finest_step, not_taken
from barwise.inspect.checks.limits import with_best_instrument
from barwise.inspect.checks.wording import number, sentence
from barwise.measure.instrument import Measured


def fact(evidence: Evidence) -> Outcome:
    """The last note, choice or photo, as it was entered."""
    if not evidence.readings:
        return not_taken(evidence)
    said = [_as_entered(one) for one in evidence.readings]
    return Outcome(
        "noted",
        f"{evidence.what}: {sentence(said[-1])}",
        value=evidence.readings[-1].value,
        quantity=evidence.quantity,
        unit=evidence.readings[-1].unit or evidence.unit,
        details={"noted": said},
    )


def measurement(evidence: Evidence) -> Outcome:
    """A number that other checks lean on, with its uncertainty; of several places the largest."""
    numbers = evidence.numbers()
    if not numbers:
        return not_taken(evidence)
    by_place: dict[tuple[str, ...], list[Taken]] = {}
    for one in numbers:
        by_place.setdefault(one.place, []).append(one)
    found = {place: with_best_instrument(some)[0] for place, some in by_place.items()}
    place, largest = max(found.items(), key=lambda one: one[1].value_m)
    unit = numbers[-1].unit or evidence.unit
    which = f" {', '.join(place)} (largest of {len(found)})" if len(found) > 1 else ""
    line = f"{evidence.what}{which}: {number(largest.value_m, unit, finest_step(numbers))}."
    return _noted(evidence, line, largest, places={", ".join(at): one.value_m for at, one in found.items()})


def last_measurement(evidence: Evidence) -> Outcome:
    """The last number only: what was measured after the latest pass, whatever it was before."""
    numbers = evidence.numbers()
    if not numbers:
        return not_taken(evidence)
    last = numbers[-1]
    found = with_best_instrument([last])[0]
    unit = last.unit or evidence.unit
    line = f"{evidence.what}: {number(found.value_m, unit, last.last_digit)}."
    return _noted(evidence, line, found, resolution=last.scale_step)


def _noted(evidence: Evidence, line: str, found: Measured, **more: Json) -> Outcome:
    numbers = evidence.numbers()
    return Outcome(
        "noted",
        line,
        value=found.value_m,
        uncertainty=found.budget.standard_uncertainty,
        quantity=evidence.quantity,
        unit=numbers[-1].unit or evidence.unit,
        details={"noted": [_as_entered(one) for one in numbers], **more},
    )


def _as_entered(one: Taken) -> str:
    return f"{one.text} {one.unit}".strip()
