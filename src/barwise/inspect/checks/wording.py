"""Numbers in the one sentence of an outcome; the value itself is never rounded."""

from __future__ import annotations

import math

from barwise.inspect.checks.evidence import Limit
from barwise.measure import decision
from barwise.measure.units import UNITS, printed


def number(value: float, unit: str, digit: float = 0.0) -> str:
    """A value [SI] in `unit`, to the decimals of `digit` [SI], or to five figures without one.

    Examples
    --------
    >>> number(1.2421 * 0.0254, "in", 0.0001 * 0.0254), number(0.5, "ohm")
    ('1.2421 in', '0.5 ohm')
    """
    known = UNITS.get(unit)
    factor, inside = (1.0, value) if known is None else (known.factor, known.from_si(value))
    if digit <= 0:
        return f"{inside:.5g} {printed(unit)}".rstrip()
    decimals = max(0, -math.floor(math.log10(digit / factor) + 1e-6))
    return f"{inside:.{decimals}f} {printed(unit)}".rstrip()


def sentence(typed: str) -> str:
    """What somebody typed as a sentence, with its own stop where it has one.

    Examples
    --------
    >>> sentence("clean the strap"), sentence("clean the strap."), sentence("worn?")
    ('clean the strap.', 'clean the strap.', 'worn?')
    """
    return typed if typed.endswith((".", "!", "?", "…")) else f"{typed}."


def allowed(limit: Limit, unit: str) -> str:
    """``1.226 in or more``, in the sheet's unit, and in `unit` where that is another.

    Examples
    --------
    >>> allowed(Limit("runout", decision.Limit(upper=5e-05), "mm", "the sheet"), "in")
    '0.05 mm or less (0.001969 in)'
    """
    if limit.allowed is None:
        return "no limit" if limit.target is None else f"about {number(limit.target, limit.unit)}"
    return sides_in_words(limit.allowed, limit.unit, unit)


def sides_in_words(sides: decision.Limit, unit: str, also: str = "", figures: int = 5) -> str:
    """``1.5 to 3 mm``, and in the unit `also` in brackets where that is another one."""
    ends = _ends(sides, unit, figures)
    own = f"{' to '.join(ends)} {printed(unit)}"
    if len(ends) == 1:
        own += " or less" if sides.lower is None else " or more"
    if also == unit or also not in UNITS:
        return own
    return f"{own} ({' to '.join(_ends(sides, also, 4))} {printed(also)})"


def whence(limit: Limit) -> str:
    """A sentence for a limit that is not the sheet's own; nothing for one that is."""
    return general_one(limit.source) if limit.general else ""


def general_one(source: str) -> str:
    """The sentence itself."""
    return f" The limit is a general one, {source}."


NO_LIMIT = "there is no limit to hold it against."
ON_THE_LIMIT = "It stands on the limit: no measuring settles that."


def against(outcome: decision.Outcome, words: str, conforming: float) -> str:
    """What a value comes to against the limit that `words` say, the end of a sentence."""
    if outcome == "accept":
        return f"within its limit, {words}."
    if outcome == "reject":
        return f"beyond its limit, {words}."
    return f"too close to call against {words}; chance that it is within: {chance(conforming)}."


def chance(probability: float) -> str:
    """Percent that never says 100 or 0 of what is not certain."""
    if probability > 0.999:
        return "over 99.9 %"
    return "under 0.1 %" if probability < 0.001 else f"{100 * probability:.3g} %"


def _ends(sides: decision.Limit, unit: str, figures: int) -> list[str]:
    known = (side for side in (sides.lower, sides.upper) if side is not None)
    return [f"{UNITS[unit].from_si(side):.{figures}g}" for side in known]
