"""Wear in words and as JSON, with what is left and where the sheet's points end."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from barwise.measure.length import Length
from barwise.measure.wear import DISCARD, HALF_WORN, NEW, CutsLeft, Wear, WearScale
from barwise.report.lengths import length_text

NAMES = {NEW: "new", HALF_WORN: "half-worn", DISCARD: "discard"}


@dataclass(frozen=True)
class WearAnswer:
    """A measured size on its scale, and the cuts left if a usual removal was given."""

    scale: WearScale
    size: Length
    wear: Wear
    cuts: CutsLeft | None


def wear_text(answer: WearAnswer) -> str:
    """How worn, how far from each of new, half-worn and discard, and what is left."""
    wear, size = answer.wear, answer.size
    spread = ""
    if wear.standard_uncertainty > 0:
        spread = f" ({wear.low:.1f} to {wear.high:.1f} % with a probability of {100 * wear.level:g} %)"
    lines = [f"{wear.percent:.1f} % worn at {size.entered}{spread}"]
    lines += [_mark(answer, percent) for percent in NAMES]
    if wear.extrapolated:
        lines.append(f"extrapolated: {wear.extrapolated}; the scale is drawn on straight from there")
    if wear.percent > DISCARD:
        lines.append("past discard: scrap by this sheet")
    if answer.cuts is not None:
        cuts = answer.cuts
        lines.append(
            f"cuts left at the usual removal: {cuts.whole} ({cuts.exact:.1f}); "
            f"{cuts.assured} of them with a probability of at least {100 * cuts.level:g} %"
        )
    return "\n".join(lines)


def wear_answer(answer: WearAnswer) -> dict[str, Any]:
    """The same as plain values in the unit typed, not rounded."""
    wear, scale, size = answer.wear, answer.scale, answer.size
    factor = size.unit.factor
    cuts = answer.cuts
    return {
        "percent": wear.percent,
        "standard_uncertainty": wear.standard_uncertainty,
        "low": wear.low,
        "high": wear.high,
        "level": wear.level,
        "extrapolated": wear.extrapolated,
        "unit": size.unit.name,
        "size": size.metres / factor,
        "marks": {
            name: {
                "size": scale.size_at(percent) / factor,
                "room": scale.room_m(size.metres, percent) / factor,
                "from_the_sheet": _given(scale, percent),
            }
            for percent, name in NAMES.items()
        },
        "cuts_left": None
        if cuts is None
        else {"exact": cuts.exact, "whole": cuts.whole, "assured": cuts.assured},
    }


def _mark(answer: WearAnswer, percent: float) -> str:
    scale, size = answer.scale, answer.size
    digit = size.digit_m
    place = length_text(scale.size_at(percent), size.unit.name, digit)
    room = scale.room_m(size.metres, percent)
    apart = length_text(abs(room), size.unit.name, digit)
    way = "to go" if room > 0 else "past it"
    far = "just there" if abs(room) < digit / 1000 else f"{apart} {way}"
    outer = percent < scale.points[0].percent or percent > scale.points[-1].percent
    guess = "" if _given(scale, percent) else (", extrapolated" if outer else ", interpolated")
    return f"{NAMES[percent]:9} ({percent:.0f} %) at {place}{guess}: {far}"


def _given(scale: WearScale, percent: float) -> bool:
    return any(point.percent == percent for point in scale.points)
