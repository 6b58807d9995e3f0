"""Rebuild with what must be, rebuild with all of it, exchange, or new: costs, lives, and which to take.

Life is what wear says and no more. A part that has lost a share w of its wear in a service s goes on to lose
the rest in s (1 - w) / w if it is used as before; a new one lasts s / w. No two lives are alike: each is
spread by a lognormal factor of 30 % (common practice, no source), besides what the measurement and the
service so far leave open. The unit lasts as long as the shortest of the parts whose wear was measured. What
breaks without wearing first - a winding, a weld, a switch contact - is not in it, and is said.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from barwise.inspect.worth.quote import (
    Alternative,
    Price,
    Quote,
    Service,
    WorkItem,
    total,
)

Draw = NDArray[np.float64]
Key = Literal["must", "all", "exchange", "new"]

SPREAD = 0.30
DRAWS = 20_000
_SEED = 20_260_102
LEAST_WORN = 0.02
"""Less wear than this share says nothing of how fast it wears."""
WANTED_CHANCE = 0.9
"""Chance of lasting the wanted service that is enough: the shop's habit, common practice."""

TITLES: dict[Key, str] = {
    "must": "Rebuild, what must be done",
    "all": "Rebuild, with what is optional",
    "exchange": "Exchange unit",
    "new": "New unit",
}


@dataclass(frozen=True)
class Life:
    """How long it lasts, in the unit of service.

    Attributes
    ----------
    middle, low, high : float
        Median and the ends that hold it with 90 % probability.
    lasts : float or None
        Probability that it outlasts the wanted service; None where none is wanted.
    used : float or None
        Service to be expected within the wanted one.
    """

    middle: float
    low: float
    high: float
    lasts: float | None
    used: float | None


@dataclass(frozen=True)
class Choice:
    """One way to go.

    Attributes
    ----------
    key : str
    parts, labour, tax, cost : Price
    deposit : Decimal
        Paid besides and given back.
    life : Life or None
        None where nothing is known of it.
    for_each : Price or None
        Cost for each unit of service to be expected within the wanted one.
    """

    key: Key
    parts: Price
    labour: Price
    tax: Price
    cost: Price
    deposit: Decimal
    life: Life | None
    for_each: Price | None

    @property
    def title(self) -> str:
        """What people call it."""
        return TITLES[self.key]


@dataclass(frozen=True)
class Added:
    """What one optional part adds to what must be done: cost, and chance to last and life with it."""

    name: str
    cost: Price
    gains_chance: float | None
    gains_life: float | None


@dataclass(frozen=True)
class Weighed:
    """The decision.

    Attributes
    ----------
    choices : tuple of Choice
    as_it_is : Life or None
        If it went back untouched; None where that is not known or parts must be replaced.
    added : tuple of Added
    verdict : str
        Key of the choice to take, or ``undecided``.
    why : str
        In a sentence.
    said : tuple of str
        What was left out or assumed.
    """

    choices: tuple[Choice, ...]
    as_it_is: Life | None
    added: tuple[Added, ...]
    verdict: Key | Literal["undecided"]
    why: str
    said: tuple[str, ...]


def weigh(quote: Quote) -> Weighed:
    """Work out every choice and say which to take."""
    must = [item for item in quote.items if item.need == "must"]
    lives = _Lives(quote)
    choices = [_rebuild(quote, "must", must, lives)]
    priced = [item for item in quote.items if item.need != "keep"]
    if len(must) < len(priced):
        choices.append(_rebuild(quote, "all", priced, lives))
    choices += [_alternative(quote, other) for other in quote.alternatives]
    verdict, why = _take(choices, quote.service)
    return Weighed(
        choices=tuple(choices),
        as_it_is=None if must else lives.of([]),
        added=tuple(_added(quote, must, item, lives) for item in quote.items if item.need == "optional"),
        verdict=verdict,
        why=why,
        said=_said(quote),
    )


class _Lives:
    """Draws of the life of each part whose wear was measured, old and new, the same for every choice."""

    def __init__(self, quote: Quote) -> None:
        self._service = quote.service
        self._old: dict[str, Draw] = {}
        self._new: dict[str, Draw] = {}
        chance = np.random.default_rng(_SEED)
        so_far = quote.service.so_far
        if so_far is None:
            return
        done = _lognormal(chance.standard_normal(DRAWS), so_far.value, so_far.standard_uncertainty)
        for item in quote.items:
            first, second, meter = chance.standard_normal((3, DRAWS))
            if item.wear is None:
                continue
            gone = item.wear.share + item.wear.share_uncertainty * meter
            if item.wear.share < LEAST_WORN:
                continue
            rate = np.maximum(gone, LEAST_WORN / 10) / done
            self._old[item.name] = np.maximum(0.0, 1 - gone) / rate * _factor(first)
            self._new[item.name] = 1 / rate * _factor(second)

    def of(self, replaced: Sequence[WorkItem]) -> Life | None:
        """Life of the unit with these parts new; None where no wear is known."""
        if not self._old:
            return None
        names = {item.name for item in replaced}
        parts = [self._new[name] if name in names else old for name, old in self._old.items()]
        return _life(np.min(parts, axis=0), self._service.wanted)


def _rebuild(quote: Quote, key: Key, items: Sequence[WorkItem], lives: _Lives) -> Choice:
    hours = total((quote.base_hours, *(item.hours for item in items)))
    parts = total((quote.base_materials, *(item.price for item in items)))
    return _choice(quote, key, parts, hours, Decimal(0), lives.of(items))


def _alternative(quote: Quote, other: Alternative) -> Choice:
    life = None
    if other.lasts is not None:
        # somewhere between what was said, evenly: nobody said more
        low, high = float(other.lasts.low), float(other.lasts.high)
        even = (np.arange(DRAWS) + 0.5) / DRAWS
        life = _life(low + (high - low) * even, quote.service.wanted)
    return _choice(quote, other.key, other.price, other.hours, other.deposit, life)


def _choice(
    quote: Quote, key: Key, parts: Price, hours: Price, deposit: Decimal, life: Life | None
) -> Choice:
    labour = hours.times(quote.labour_rate)
    tax = (parts + labour).times(quote.tax)
    cost = parts + labour + tax
    for_each = None
    if life is not None and life.used:
        for_each = cost.times(1 / Decimal(life.used))
    return Choice(key, parts, labour, tax, cost, deposit, life, for_each)


def _added(quote: Quote, must: Sequence[WorkItem], item: WorkItem, lives: _Lives) -> Added:
    labour = item.hours.times(quote.labour_rate)
    cost = (item.price + labour).times(1 + quote.tax)
    without, with_it = lives.of(must), lives.of([*must, item])
    if item.wear is None or without is None or with_it is None:
        return Added(item.name, cost, None, None)
    chance = None
    if without.lasts is not None and with_it.lasts is not None:
        chance = with_it.lasts - without.lasts
    return Added(item.name, cost, chance, with_it.middle - without.middle)


def _take(choices: Sequence[Choice], service: Service) -> tuple[Key | Literal["undecided"], str]:
    """The cheapest of those that last; undecided where prices overlap, or nothing is known to last."""
    open_ones = [one for one in choices if one.life is None or one.life.lasts is None]
    lasting = [one for one in choices if one not in open_ones and _lasts(one)]
    if service.wanted is not None and not lasting:
        if not open_ones:
            return "undecided", "None of them is likely to last as long as is wanted: ask what may be less."
        return "undecided", "Nothing that is known to last was priced: say how long another unit lasts."
    among = lasting or list(choices)
    cheapest = min(among, key=lambda one: (one.cost.high, one.cost.low))
    near = [one for one in among if one is not cheapest and one.cost.low <= cheapest.cost.high]
    if near:
        names = " and ".join(one.title.lower() for one in (cheapest, *near))
        return "undecided", f"The prices of {names} overlap: get firm ones."
    if len(choices) == 1:
        return cheapest.key, "Nothing else was priced."
    enough = " of those that last as long as is wanted" if lasting else ""
    return cheapest.key, f"It is the cheapest{enough}."


def _lasts(choice: Choice) -> bool:
    return choice.life is not None and choice.life.lasts is not None and choice.life.lasts >= WANTED_CHANCE


def _said(quote: Quote) -> tuple[str, ...]:
    said = []
    unknown = [item.name for item in quote.items if item.wear is None]
    fresh = [item.name for item in quote.items if item.wear and item.wear.share < LEAST_WORN]
    if quote.service.so_far is None:
        said.append("How much it has run is not known, so nothing can be said about how long it lasts.")
    elif unknown:
        said.append(f"Life counts only parts whose wear was measured; not {', '.join(unknown)}.")
    if fresh:
        said.append(f"Hardly any wear, so no life from it: {', '.join(fresh)}.")
    if quote.service.so_far is not None:
        said.append(
            "Life is what wear says, spread by 30 %, common practice, no source. What breaks without wearing "
            "first (a winding, a weld, a contact) is not in it."
        )
    if quote.service.wanted is None:
        said.append("How long it is to last was not said: only prices were compared.")
    return tuple(said)


def _life(draws: Draw, wanted: float | None) -> Life:
    low, middle, high = (float(end) for end in np.quantile(draws, (0.05, 0.5, 0.95)))
    if wanted is None:
        return Life(middle, low, high, None, None)
    return Life(middle, low, high, float(np.mean(draws >= wanted)), float(np.mean(np.minimum(draws, wanted))))


def _factor(normal: Draw) -> Draw:
    """Lognormal about 1 in the median."""
    return np.asarray(np.exp(math.sqrt(math.log1p(SPREAD * SPREAD)) * normal))


def _lognormal(normal: Draw, middle: float, deviation: float) -> Draw:
    return np.asarray(middle * np.exp(math.sqrt(math.log1p((deviation / middle) ** 2)) * normal))
