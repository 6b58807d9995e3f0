"""The brush gear's checks: use since new, length and what is left, sides of a brush, spring, seating."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import replace

from barwise.errors import MeasurementError
from barwise.inspect.brush_gear.life import UNKNOWN_USE, Life, Use, WornBrushes, remaining_life
from barwise.inspect.brush_gear.spring import (
    PUBLISHED,
    PUBLISHED_SOURCE,
    SpringArm,
    contact_pressure,
    force_along_brush,
)
from barwise.inspect.brush_gear.words import left_in_words
from barwise.inspect.checks import limits
from barwise.inspect.checks.evidence import Evidence, Json, Limit, Outcome, not_taken
from barwise.inspect.checks.found import estimate_in, estimates_at, held_at_places
from barwise.inspect.checks.plain import plain
from barwise.inspect.finding import said_to_its_digit
from barwise.measure.entered import read_number
from barwise.measure.uncertainty import Estimate, rectangular
from barwise.measure.units import UNITS

USE_UNITS: Mapping[str, str] = {
    "h": "h", "hours": "h", "hour": "h", "hrs": "h", "starts": "starts", "start": "starts",
    "km": "km", "kilometres": "km", "kilometers": "km", "miles": "miles", "mi": "miles",
}  # fmt: skip
_USE = re.compile(
    r"(?:about|abt|ca\.?|~)?\s*([0-9.]+)(?:\s*(?:-|to|\N{EN DASH})\s*([0-9.]+))?\s*([a-z]+)\.?", re.IGNORECASE
)
_WRITE = "Write such as 4200 h, 9000 to 14000 starts, or 180000 km."
_KPA, _PSI = UNITS["kPa"], UNITS["psi"]
SCALE_ARM, BRUSH_ARM = "to the scale", "to the brush"
"""Places of the arms of a lever spring, both from its pivot."""
BY_EYE = rectangular(0.03)
"""Standard uncertainty of a share of the face judged by eye; common practice, no source."""
_NEW_SPRING = "New spring: a blued or soft one lets the brush float and burn."
_BED_IT = "Bed it again, and see whether the holder stands straight."


def use(evidence: Evidence) -> Outcome:
    """How long the brushes served, as it was written down; `details` hold it where it can be understood."""
    if not evidence.readings:
        return not_taken(evidence)
    said = evidence.readings[-1].text.strip()
    found = use_in(said)
    if found is None:
        line = f"{evidence.what}: {said}. What is left of the brushes is not worked out from that."
        return Outcome("noted", line, _WRITE, details={"noted": [said]})
    details: dict[str, Json] = {"low": found.low, "high": found.high, "unit": found.unit, "noted": [said]}
    return Outcome("noted", f"{evidence.what}: {said}.", details=details)


def length(evidence: Evidence) -> Outcome:
    """Each brush against its limit, how worn the worst is, and how long the set still lasts.

    It leans on ``use``; without it, what is left is said in multiples of the use so far.
    """
    outcome = limits.wear(evidence)
    left = _left(evidence)
    if left is None or outcome.decision == "not taken":
        return outcome
    line = f"{outcome.line} {left_in_words(left)}"
    return replace(outcome, line=line, details={**outcome.details, "life": plain(left)})


def side(evidence: Evidence) -> Outcome:
    """Width or thickness of a brush: against the sheet where it gives one, else noted for the pressure."""
    outcome = limits.dimension(evidence)
    if outcome.decision == "not taken" or (evidence.limit is not None and evidence.limit.allowed is not None):
        return outcome
    said = outcome.line.partition(";")[0]
    return replace(outcome, decision="noted", line=f"{said}.", settle="")


def spring_arms(evidence: Evidence) -> Outcome:
    """Both arms of a lever spring from its pivot: noted, with how much of the pull reaches the brush."""
    if not evidence.numbers():
        return not_taken(evidence)
    arms = estimates_at(evidence)
    missing = [name for name in evidence.places if name not in arms]
    if missing:
        line = f"{evidence.what}: {' and '.join(missing)} not read."
        return Outcome("undecided", line, f"Read the arm {' and '.join(missing)} as well.")
    if min(one.value for one in arms.values()) <= 0:
        line = f"{evidence.what}: found an arm of 0 or less, expected both above 0."
        return Outcome("undecided", line, "Measure both from the pivot again.")
    share = arms[SCALE_ARM].value / arms[BRUSH_ARM].value
    details: dict[str, Json] = {
        "arms": {name: [one.value, one.standard_uncertainty] for name, one in arms.items()}
    }
    line = f"{evidence.what}: the brush gets {share:.3g} times what the scale reads."
    return Outcome("noted", line, details=details)


def spring_force(evidence: Evidence) -> Outcome:
    """Each spring against its limit, and the worst one's pressure; leans on ``width`` and ``thickness``.

    Where ``arms`` are known the scale pulled at the lever's tip: its readings are brought to the brush first,
    as the limit is for the brush.
    """
    arm = _arm(evidence)
    outcome = limits.dimension(evidence) if arm is None else _through(evidence, arm)
    width, thickness = estimate_in(evidence, "width"), estimate_in(evidence, "thickness")
    if outcome.value is None or width is None or thickness is None:
        return outcome
    try:
        force = Estimate(outcome.value, outcome.uncertainty or 0.0)
        pressure, _ = contact_pressure(force, width, thickness)
    except MeasurementError:
        return outcome
    details: dict[str, Json] = {
        "pressure_pa": pressure.value,
        "pressure_uncertainty_pa": pressure.standard_uncertainty,
    }
    line = f"{outcome.line} {_pressure_in_words(pressure)}"
    return replace(outcome, line=line, details={**outcome.details, **details})


def seated(evidence: Evidence) -> Outcome:
    """Share of each brush's face that touches, judged by eye and so by no better than `BY_EYE`.

    It leans on ``force`` and says what the worst one presses with where it touches.
    """
    shares = estimates_at(evidence)
    if not shares:
        return not_taken(evidence)
    odd = [f"{name} {one.value / 0.01:g} %".strip() for name, one in shares.items() if not 0 < one.value <= 1]
    if odd:
        line = f"{evidence.what}: found {', '.join(odd)}; expected above 0 and up to 100 % of the face."
        return Outcome("undecided", line, "Look at the face again and enter the bright share of it.")
    seen = {
        name: Estimate(one.value, math.hypot(one.standard_uncertainty, BY_EYE))
        for name, one in shares.items()
    }
    outcome = held_at_places(evidence, seen, _BED_IT)
    pressure = evidence.context.get("force")
    whole = None if pressure is None else pressure.details.get("pressure_pa")
    if not isinstance(whole, int | float) or outcome.value is None:
        return outcome
    touching = whole / outcome.value
    said = f"{touching / _KPA.factor:.3g} kPa ({touching / _PSI.factor:.3g} psi)"
    return replace(outcome, line=f"{outcome.line} Where it touches it presses with {said}.")


def use_in(said: str) -> Use | None:
    """Hours, starts or distance out of a note; None where it holds none.

    Examples
    --------
    >>> use_in("about 4200 h"), use_in("9000-14000 starts")
    (Use(low=4200.0, high=4200.0, unit='h'), Use(low=9000.0, high=14000.0, unit='starts'))
    >>> use_in("a long time") is None
    True
    """
    parts = _USE.fullmatch(said.strip())
    if parts is None or parts[3].lower() not in USE_UNITS:
        return None
    low, high = read_number(parts[1]), read_number(parts[2] or parts[1])
    try:
        return (
            None if low is None or high is None else Use(low.value, high.value, USE_UNITS[parts[3].lower()])
        )
    except MeasurementError:
        return None


def _left(evidence: Evidence) -> Life | None:
    """Of all brushes that were read; None where the sheet gives no size when new, or one is longer."""
    ends = _new_and_minimum(evidence.limit)
    judged = limits.judge(evidence)
    if ends is None or not judged:
        return None
    new, minimum = ends
    lengths = tuple(
        Estimate(one.measured.value_m, one.measured.budget.standard_uncertainty) for one in judged
    )
    if any(one.value > new + 3 * one.standard_uncertainty for one in lengths):
        return None
    step = max((one.measured.budget.standard_uncertainty for one in judged), default=0.0)
    served = _served(evidence) or UNKNOWN_USE
    try:
        return remaining_life(WornBrushes(lengths, Estimate(new, step), minimum, served), evidence.level)
    except MeasurementError:
        return None


def _new_and_minimum(limit: Limit | None) -> tuple[float, float] | None:
    if limit is None or limit.scale is None:
        return None
    return limit.scale.size_at(0.0), limit.scale.size_at(100.0)


def _served(evidence: Evidence) -> Use | None:
    found = evidence.context.get("use")
    low, high, unit = (None if found is None else found.details.get(key) for key in ("low", "high", "unit"))
    if not (isinstance(low, float) and isinstance(high, float) and isinstance(unit, str)):
        return None
    return Use(low, high, unit)


def _arm(evidence: Evidence) -> SpringArm | None:
    """Both arms as they were measured; None where the scale pulled along the brush."""
    found = evidence.context.get("arms")
    kept = None if found is None else found.details.get("arms")
    if not isinstance(kept, Mapping):
        return None
    scale, brush = (_kept(kept[name]) for name in (SCALE_ARM, BRUSH_ARM))
    return SpringArm(scale, brush)


def _kept(one: Json) -> Estimate:
    value, doubt = (float(part) for part in one) if isinstance(one, list | tuple) else (0.0, 0.0)
    return Estimate(value, doubt)


def _through(evidence: Evidence, arm: SpringArm) -> Outcome:
    """The pulls at the lever's tip as forces along the brush."""
    forces = {
        name: force_along_brush(pull, "lever", arm) or pull for name, pull in estimates_at(evidence).items()
    }
    if not forces:
        return not_taken(evidence)
    outcome = held_at_places(evidence, forces, _NEW_SPRING)
    return replace(outcome, line=f"{outcome.line} Read at the lever's tip and brought to the brush.")


def _pressure_in_words(pressure: Estimate) -> str:
    said = f"{said_to_its_digit(pressure, _KPA)} ({said_to_its_digit(pressure, _PSI)})"
    lower, upper = PUBLISHED.limit.lower or 0.0, PUBLISHED.limit.upper or 0.0
    where = "below" if pressure.value < lower else "within"
    usual = ""
    if pressure.value > upper:
        where, usual = "above", ", as starters commonly are"
    between = f"{lower / _PSI.factor:g} to {upper / _PSI.factor:g} psi"
    return f"That is {said}, {where} the {between} of machines that run all day{usual} ({PUBLISHED_SOURCE})."
