"""How small a short these readings would have shown: the fewest turns, or the smallest share of the winding.

A short counts as shown when the coils would not have been passed as sound. The limit is where 95 of 100 such
coils would show it, given the readings' uncertainty and the spread of healthy coils.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from barwise.inspect.fields.circuit import Coil
from barwise.inspect.fields.comparison import Explanations, Observed, contrast, sound_probability
from barwise.measure.distribution import quantile

POWER = 0.95
_HALVINGS = 12
_MOST = math.log(20.0)
"""A coil with 19 of 20 turns shorted: what is not shown by then is not shown at all."""


@dataclass(frozen=True)
class Detectable:
    """What of one coil's shorts would have shown.

    Attributes
    ----------
    coil : Coil
    share : float or None
        Smallest share of its winding; None: no short of it would have shown.
    turns : int or None
        The same in whole turns, dead short; None also where nobody counted the turns.
    """

    coil: Coil
    share: float | None
    turns: int | None


def detectable(
    observed: Observed, explanations: Explanations, coils: Sequence[Coil], level: float
) -> tuple[Detectable, ...]:
    """The limit of each coil."""
    alike = replace(observed, logs=observed.centre.copy())
    # One coil is off: two at once explain that no better, and make up most of the list.
    single = (explanations.state != 0).sum(axis=1) <= 1
    fewer = Explanations(
        explanations.shifts[single], explanations.log_prior[single], explanations.state[single]
    )
    return tuple(_of(place, coil, alike, fewer, level) for place, coil in enumerate(coils))


def _of(place: int, coil: Coil, alike: Observed, explanations: Explanations, level: float) -> Detectable:
    """Noise-free, the shift at which sound turns into something else; then room for the noise."""
    own, scatter = alike.coil == place, contrast(place, alike, with_spread=True)
    nothing = Detectable(coil, None, None)
    if scatter is None:
        return nothing

    def passed(shift: float) -> bool:
        seen = replace(alike, logs=alike.logs - shift * own)
        return sound_probability(seen, explanations) >= level

    if not passed(0.0) or passed(_MOST):
        return nothing
    inside, outside = 0.0, _MOST
    for _ in range(_HALVINGS):
        middle = (inside + outside) / 2
        inside, outside = (middle, outside) if passed(middle) else (inside, middle)
    return _named(coil, outside + quantile(POWER) * scatter[1])


def _named(coil: Coil, shift: float) -> Detectable:
    share = -math.expm1(-shift)
    if coil.turns is None:
        return Detectable(coil, share, None)
    turns = max(1, math.ceil(share * coil.turns - 1e-9))
    return Detectable(coil, share, turns if turns < coil.turns else None)
