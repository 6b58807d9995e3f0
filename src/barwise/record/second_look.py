"""A length that does not fit what was measured before: probably a slip at the micrometer; asked first.

What was read at the same check, or before the cut, says roughly what comes now; `measure.misread` weighs the
usual slips against it. Nothing is refused and nothing is put right by itself: the bench says what it read.
"""

from __future__ import annotations

from collections.abc import Sequence

from barwise.measure.length import Length
from barwise.measure.misread import Explanation, Slip, check_misread
from barwise.measure.units import UNITS
from barwise.record.models import Instrument, Reading
from barwise.record.typed import Question, Typed
from barwise.route.family import Check

_IN = UNITS["in"].factor
SAME_PLACE_M = 0.001 * _IN
OTHER_PLACE_M = 0.003 * _IN
"""How far two sizes of one part lie apart, as standard deviations: at one place, and at another of a worn
commutator. Common practice, no source."""
PASS_M, PASS_APART_M = 0.006 * _IN, 0.006 * _IN
"""What a pass takes off the diameter, and how far from that it may be. Common practice, no source."""

_SLIPS: dict[Slip, str] = {
    "one-turn": "a turn of the thimble too {much}",
    "numbered-line": "a numbered line of the sleeve too {much}",
    "whole-frame": "the next larger or smaller micrometer",
    "no-vernier": "the vernier left out",
    "digits-swapped": "two digits changed over",
}


def against_others(
    typed: Typed, check: Check, place: tuple[str, str], others: Sequence[Reading], tool: Instrument | None
) -> Question | None:
    """Hold a length against those read at its check: the same place first, else any place of one surface.

    Parameters
    ----------
    place : tuple of str
        Where it was read, and on which track.
    others : sequence of Reading
        In force at the check, without the one that it corrects.
    """
    if check.quantity != "length" or (check.readings < 2 and check.at != "bar-track"):
        return None  # readings at such a check follow each other, as pass follows pass
    here = [one for one in others if (one.place_from, one.track) == place]
    if not others or (not here and check.at != "bar-track"):
        return None  # another brush or another bush is another part
    before = (here or others)[-1]
    return _ask(typed, before, 0.0, SAME_PLACE_M if here else OTHER_PLACE_M, tool)


def against_before_pass(typed: Typed, before: Reading, tool: Instrument | None) -> Question | None:
    """Hold the diameter after a pass against the one before it."""
    return _ask(typed, before, PASS_M, PASS_APART_M, tool)


def _ask(
    typed: Typed, before: Reading, less_m: float, apart_m: float, tool: Instrument | None
) -> Question | None:
    """Ask where another reading of the scale is about as probable as the one typed."""
    expected = (before.value_si or 0.0) - less_m
    if (tool is not None and "micrometer" not in tool.kind.lower()) or expected <= 0 or typed.value_si <= 0:
        return None
    unit = UNITS[typed.unit]
    decimals = len(typed.number.partition(".")[2])
    length = Length(typed.value_si, unit, unit.factor * 10.0**-decimals, typed.number)
    found = check_misread(length, expected, apart_m)
    if not found.ask:
        return None
    said = f"{typed.number} {typed.unit} does not fit the {before.entered} {before.unit} read before."
    best = found.best_slip
    if best.metres is None or best.probability < found.as_read:
        return Question(f"{said} Is every digit right?")
    meant = f"{best.metres / unit.factor:.{decimals}f}"
    return Question(f"{said} {_slip(best)}: is it {meant} {typed.unit}?", meant, typed.unit)


def _slip(way: Explanation) -> str:
    words = _SLIPS[way.slip].format(much="much" if way.too_large_m > 0 else "little")
    return f"{words[0].upper()}{words[1:]}"
