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


def allowed(limit: Limit, unit: str) -> str:
    """``1.226 in or more``, in the sheet's unit, and in `unit` where that is another.

    Examples
    --------
    >>> allowed(Limit("runout", decision.Limit(upper=5e-05), "mm", "the sheet"), "in")
    '0.05 mm or less (0.001969 in)'
    """
    if limit.allowed is None:
        return "no limit" if limit.target is None else f"about {number(limit.target, limit.unit)}"
    own = _between(limit.allowed, limit.unit)
    if unit == limit.unit or unit not in UNITS:
        return own
    sides = (limit.allowed.lower, limit.allowed.upper)
    other = " to ".join(f"{side / UNITS[unit].factor:.4g}" for side in sides if side is not None)
    return f"{own} ({other} {printed(unit)})"


def whence(limit: Limit) -> str:
    """A sentence for a limit that is not the sheet's own; nothing for one that is."""
    return f" The limit is a general one, {limit.source}." if limit.general else ""


def chance(probability: float) -> str:
    """Percent that never says 100 or 0 of what is not certain."""
    if probability > 0.999:
        return "over 99.9 %"
    return "under 0.1 %" if probability < 0.001 else f"{100 * probability:.3g} %"


def _between(sides: decision.Limit, unit: str) -> str:
    factor = UNITS[unit].factor
    if sides.lower is None and sides.upper is not None:
        return f"{sides.upper / factor:.5g} {printed(unit)} or less"
    if sides.upper is None and sides.lower is not None:
        return f"{sides.lower / factor:.5g} {printed(unit)} or more"
    ends = [f"{side / factor:.5g}" for side in (sides.lower, sides.upper) if side is not None]
    return f"{' to '.join(ends)} {printed(unit)}"
