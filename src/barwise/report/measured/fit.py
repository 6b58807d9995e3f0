"""An ISO fit in words and as JSON."""

from __future__ import annotations

from barwise.inspect.bearings.fits import Fit, Limits
from barwise.measure.units import Unit

_SAID = {
    "clearance": "always free",
    "transition": "free or tight, as the sizes fall",
    "interference": "always tight",
}


def fit_text(fit: Fit, unit: Unit) -> str:
    """Limits of bore and shaft, and what they leave, in mm and in the unit asked in."""
    lines = [
        f"{fit.hole.code}/{fit.shaft.code} at {fit.hole.nominal_m * 1e3:g} mm: {_SAID[fit.kind]}",
        f"  bore     {_between(fit.hole, unit)}",
        f"  journal  {_between(fit.shaft, unit)}",
        f"  play     {_span(fit.least_m, fit.largest_m, unit)}  (less than 0 is interference)",
    ]
    return "\n".join(lines)


def fit_answer(fit: Fit) -> dict[str, object]:
    """The same in metres."""
    return {
        "kind": fit.kind,
        "bore_m": [fit.hole.least_m, fit.hole.largest_m],
        "journal_m": [fit.shaft.least_m, fit.shaft.largest_m],
        "play_m": [fit.least_m, fit.largest_m],
    }


def _between(limits: Limits, unit: Unit) -> str:
    return _span(limits.least_m, limits.largest_m, unit)


def _span(low: float, high: float, unit: Unit) -> str:
    said = f"{low * 1e3:.3f} to {high * 1e3:.3f} mm"
    if unit.name == "mm":
        return said
    return f"{said} ({unit.from_si(low):.5f} to {unit.from_si(high):.5f} {unit.name})"
