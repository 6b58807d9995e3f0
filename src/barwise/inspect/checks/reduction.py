"""The reduction gear's check: teeth as counted, whether they go together, and the ratio they give."""

from __future__ import annotations

import re

from barwise.errors import MeasurementError
from barwise.inspect.bearings.gears import Offset, Planetary
from barwise.inspect.checks.evidence import Evidence, Json, Outcome, not_taken

SAME = 0.005
"""Relative difference from the sheet's ratio that is no more than how it was rounded there."""
_WRITE = "Write such as: sun 12, ring 48, 3 planets; or: driver 11, driven 38."
_PART = re.compile(r"(?:(\d+)\s*(planets?)|(sun|ring|planets?|driver|driven|idler)\s*(\d+))", re.IGNORECASE)


def teeth(evidence: Evidence) -> Outcome:
    """Teeth as they were written down, against one another and against the sheet's ratio."""
    if not evidence.readings:
        return not_taken(evidence)
    said = evidence.readings[-1].text.strip()
    try:
        found = gears_in(said)
    except MeasurementError as error:
        return Outcome("undecided", f"{evidence.what}: {error}.", "Count again.", details={"noted": [said]})
    if found is None:
        return Outcome(
            "undecided", f"{evidence.what}: {said}. That names no gear.", _WRITE, details={"noted": [said]}
        )
    ratio = found.ratio
    details: dict[str, Json] = {"ratio": ratio, "noted": [said]}
    complaints = found.complaints() if isinstance(found, Planetary) else ()
    line = f"{evidence.what}: {said}, {ratio:.4g} turns of the armature for one of the output."
    if complaints:
        return Outcome("undecided", f"{line} But {'; '.join(complaints)}.", "Count again.", details=details)
    wanted = evidence.sheet.facts.get("gear-ratio")
    if not isinstance(wanted, int | float) or isinstance(wanted, bool) or wanted <= 0:
        return Outcome("noted", line, details=details)
    if abs(ratio / wanted - 1) <= SAME:
        return Outcome("accept", f"{line} The sheet has {wanted:g}.", details=details)
    settle = "Another gear set than this model's, or another sheet: compare the number plate."
    return Outcome("reject", f"{line} The sheet has {wanted:g}.", settle, details=details)


def gears_in(said: str) -> Offset | Planetary | None:
    """Gears out of a note; None where it names neither kind whole.

    Raises
    ------
    MeasurementError
        If the teeth cannot be.

    Examples
    --------
    >>> gears_in("sun 12, ring 48, 3 planets of 18").ratio
    5.0
    >>> round(gears_in("driver 11 driven 38").ratio, 3)
    3.455
    >>> gears_in("good") is None
    True
    """
    counted: dict[str, int] = {}
    for many, planets, name, number in _PART.findall(said):
        counted["planets" if planets else name.lower()] = int(many or number)
    if {"sun", "ring", "planets"} <= counted.keys():
        return Planetary(counted["sun"], counted["ring"], counted["planets"], _planet_teeth(said))
    if {"driver", "driven"} <= counted.keys():
        return Offset(counted["driver"], counted["driven"], counted.get("idler"))
    return None


def _planet_teeth(said: str) -> int | None:
    found = re.search(r"planets?\s+(?:of|with)\s+(\d+)", said, re.IGNORECASE)
    return int(found[1]) if found else None
