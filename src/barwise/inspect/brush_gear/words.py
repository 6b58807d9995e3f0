"""What is said of the brush gear besides its findings: what is left, and what was assumed."""

from __future__ import annotations

from collections.abc import Iterator
from statistics import median

from barwise.inspect.brush_gear.gear import BrushGear, BrushGearAnswer
from barwise.inspect.brush_gear.life import Life, WornBrushes
from barwise.inspect.checks.wording import chance
from barwise.inspect.finding import mean_of_repeats

HALF_SOURCE = "half of the length when new, NAVEDTRA 14113 (brushes with a tamped lead)"
UNEVEN = 1.5
"""A brush that wore so many times as much as the others is pointed out: common practice, no source."""


def life_in_words(answer: BrushGearAnswer) -> str:
    """One sentence about what is left; empty where nothing can be said.

    Examples
    --------
    >>> from barwise.inspect.brush_gear.life import Life
    >>> life = Life(5000.0, 3100.0, 8200.0, "h", 3300.0, 0.95)
    >>> life_in_words(BrushGearAnswer("accept", (), (), life, None, (), ()))
    'The first brush is down after about 5000 h more (3100 to 8200 h).'
    """
    if answer.life is None:
        return ""
    said = left_in_words(answer.life)
    if answer.lasts is not None:
        said += f" Chance that it lasts what is to come: {chance(answer.lasts)}."
    return said


def left_in_words(left: Life) -> str:
    """What is left until the first brush is down, in a sentence."""
    if left.middle == 0:
        return "A brush is down to its minimum now."
    if left.middle is None:
        least = _use(left.low, left.unit)
        return f"So little has worn that only a least can be said: {least} more or longer."
    if left.high is None:
        between = f"at least {_use(left.low, left.unit)}, and the wear is too small to say at most"
    else:
        between = f"{_round(left.low)} to {_use(left.high, left.unit)}"
    return f"The first brush is down after about {_use(left.middle, left.unit)} more ({between})."


def notes(gear: BrushGear, worn: WornBrushes | None) -> Iterator[str]:
    """What was assumed, what is missing, what looks odd."""
    if gear.new is None and any(one.lengths for one in gear.brushes):
        yield "Without the length when new neither wear nor what is left can be told."
    elif gear.minimum is None and gear.new is not None:
        yield f"No minimum is given: {HALF_SOURCE} is taken."
    if worn is not None and gear.use is None:
        yield (
            "Neither hours, starts nor distance are known: what is left is said in multiples of the use "
            "that wore them so far."
        )
    if worn is not None:
        yield (
            f"It is taken that they wear on as they did, give or take {100 * gear.rate_spread:.0f} % "
            "(common practice, no source)."
        )
    yield from _uneven(gear)
    missing = [name for name, side in (("width", gear.width), ("thickness", gear.thickness)) if side is None]
    if missing and any(one.pulls for one in gear.brushes):
        yield f"The brush's {' and '.join(missing)} would tell the pressure."
    if gear.read_at == "lever" and gear.arm is None and any(one.pulls for one in gear.brushes):
        yield "Pulled at the lever: without the spring's two arms the force along the brush is not known."


def _uneven(gear: BrushGear) -> Iterator[str]:
    """A brush that wore clearly faster than its fellows."""
    if gear.new is None:
        return
    worn = {
        one.name: gear.new.value - mean_of_repeats(one.lengths, one.name).value
        for one in gear.brushes
        if one.lengths
    }
    for name, much in worn.items():
        others = [other for which, other in worn.items() if which != name]
        usual = median(others) if others else 0.0
        doubt = 2 * gear.new.standard_uncertainty
        if usual > 0 and much - doubt > UNEVEN * (usual + doubt):
            yield (
                f"Brush {name} wore {much / usual:.1f} times as much as the others: look at its spring, and "
                "whether the others stick or hang on a poor lead."
            )


def _use(amount: float, unit: str) -> str:
    return f"{_round(amount)} {unit}"


def _round(amount: float) -> str:
    """To two figures: no life is known better."""
    return f"{float(f'{amount:.2g}'):.10g}"
