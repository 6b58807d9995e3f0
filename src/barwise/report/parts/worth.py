"""Put it back or not, in words and as plain values. Money is rounded here and nowhere before."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import ROUND_HALF_EVEN, Decimal
from typing import Any

from barwise.inspect.worth import Added, Choice, Life, Price, Quote, Weighed
from barwise.inspect.worth.weighing import TITLES
from barwise.report.paragraphs import bullets, section, wrapped
from barwise.report.probability import probability_in_words


@dataclass(frozen=True)
class Money:
    """How the shop writes its money."""

    currency: str
    decimals: int = 2

    def words(self, price: Price) -> str:
        """``214.20 EUR``, or ``210 to 220 EUR``; halves to the even digit.

        Examples
        --------
        >>> Money("EUR").words(Price.of("10.005", "12"))
        '10.00 to 12.00 EUR'
        """
        low, high = self.figure(price.low), self.figure(price.high)
        return f"{low} {self.currency}" if low == high else f"{low} to {high} {self.currency}"

    def figure(self, amount: Decimal) -> str:
        """The amount rounded for the face."""
        return str(amount.quantize(Decimal(1).scaleb(-self.decimals), ROUND_HALF_EVEN))


def verdict_words(weighed: Weighed, money: Money) -> str:
    """What to do, in one line."""
    if weighed.verdict == "undecided":
        return f"Not to be decided yet. {weighed.why}"
    choice = next(one for one in weighed.choices if one.key == weighed.verdict)
    return f"{TITLES[weighed.verdict]}: {money.words(choice.cost)}. {weighed.why}"


def worth_text(title: str, quote: Quote, weighed: Weighed, decimals: int = 2) -> str:
    """The answer for people."""
    money = Money(quote.currency, decimals)
    lines = wrapped(f"{title}: {verdict_words(weighed, money)}")
    lines += section("What it costs", bullets(_costs(weighed, quote, money)))
    lines += section("What must be done", bullets(_items(quote, "must", money)))
    lines += section("What is optional", bullets(_added(weighed, quote, money)))
    lines += section("Bear in mind", bullets(weighed.said))
    return "\n".join(lines) + "\n"


def worth_json(title: str, quote: Quote, weighed: Weighed, decimals: int = 2) -> str:
    """The answer as one JSON object; money as text, every digit kept."""
    return json.dumps(worth_answer(title, quote, weighed, decimals), allow_nan=False)


def worth_answer(title: str, quote: Quote, weighed: Weighed, decimals: int = 2) -> dict[str, Any]:
    """The same as plain values: the exact figures, and under ``shown`` the words as a person reads them."""
    money = Money(quote.currency, decimals)
    return {
        "title": title,
        "currency": quote.currency,
        "labour_rate": str(quote.labour_rate),
        "tax": str(quote.tax),
        "verdict": weighed.verdict,
        "why": weighed.why,
        "choices": [_choice(one, quote, money) for one in weighed.choices],
        "as_it_is": _life(weighed.as_it_is),
        "parts": [
            {
                "name": item.name,
                "need": item.need,
                "price": _price(item.price),
                "hours": _price(item.hours),
                "why": item.why,
                "worn": None if item.wear is None else item.wear.share,
            }
            for item in quote.items
        ],
        "added": [
            {
                "name": one.name,
                "cost": _price(one.cost),
                "gains_chance": one.gains_chance,
                "gains_life": one.gains_life,
                "line": added_words(one, quote, money),
            }
            for one in weighed.added
        ],
        "service": {
            "unit": quote.service.unit,
            "so_far": None if quote.service.so_far is None else quote.service.so_far.value,
            "wanted": quote.service.wanted,
        },
        "said": list(weighed.said),
        "shown": [verdict_words(weighed, money), *_costs(weighed, quote, money)],
    }


def life_words(life: Life, quote: Quote) -> str:
    """How long it lasts, and the chance that it lasts as long as is wanted."""
    unit = quote.service.unit
    said = f"lasts {_figure(life.middle)} ({_figure(life.low)} to {_figure(life.high)}) {unit}"
    if life.lasts is None or quote.service.wanted is None:
        return said
    chance = probability_in_words(life.lasts)
    return f"{said}, the wanted {quote.service.wanted:g} with probability {chance}"


def cost_words(choice: Choice, quote: Quote, money: Money) -> str:
    """One choice in a sentence."""
    bought = "unit" if choice.key in ("exchange", "new") else "parts"
    split = f"{bought} {money.words(choice.parts)}, labour {money.words(choice.labour)}"
    if quote.tax:
        split += f", tax {money.words(choice.tax)}"
    said = f"{choice.title}: {money.words(choice.cost)} ({split})"
    if choice.deposit:
        back = money.words(Price(choice.deposit, choice.deposit))
        said += f"; a deposit of {back} besides comes back with the old unit"
    said += f"; {life_words(choice.life, quote)}" if choice.life else "; how long it lasts is not known"
    if choice.for_each is not None:
        hundred = choice.for_each.times(Decimal(100))
        said += f"; {money.words(hundred)} for each 100 {quote.service.unit}"
    return f"{said}."


def added_words(added: Added, quote: Quote, money: Money) -> str:
    """One optional part: what it costs more and what it buys."""
    said = f"{added.name}: {money.words(added.cost)} more"
    if added.gains_life is None:
        return f"{said}; what life it adds is not known."
    way = "more" if added.gains_life >= 0 else "less"
    said += f"; lasts {_figure(abs(added.gains_life))} {quote.service.unit} {way}"
    if added.gains_chance is not None:
        said += f", chance of lasting {100 * added.gains_chance:+.0f} points"
    return f"{said}."


def _figure(value: float) -> str:
    """Two figures: a life is not known better."""
    return f"{float(f'{value:.2g}'):.10g}"


def _costs(weighed: Weighed, quote: Quote, money: Money) -> Iterator[str]:
    for one in weighed.choices:
        yield cost_words(one, quote, money)
    if weighed.as_it_is is not None:
        yield f"As it is, untouched: {life_words(weighed.as_it_is, quote)}."


def _items(quote: Quote, need: str, money: Money) -> Iterator[str]:
    for item in quote.items:
        if item.need == need:
            why = f": {item.why}" if item.why else ""
            worn = "" if item.wear is None else f", {100 * item.wear.share:.0f} % worn"
            yield f"{item.name}{worn}, {money.words(item.price)}{why}"


def _added(weighed: Weighed, quote: Quote, money: Money) -> Iterator[str]:
    for one in weighed.added:
        yield added_words(one, quote, money)


def _choice(choice: Choice, quote: Quote, money: Money) -> dict[str, Any]:
    return {
        "key": choice.key,
        "title": choice.title,
        "parts": _price(choice.parts),
        "labour": _price(choice.labour),
        "tax": _price(choice.tax),
        "cost": _price(choice.cost),
        "deposit": str(choice.deposit),
        "life": _life(choice.life),
        "for_each": None if choice.for_each is None else _price(choice.for_each),
        "line": cost_words(choice, quote, money),
    }


def _price(price: Price) -> list[str]:
    return [str(price.low), str(price.high)]


def _life(life: Life | None) -> dict[str, float | None] | None:
    if life is None:
        return None
    return {
        "middle": life.middle,
        "low": life.low,
        "high": life.high,
        "lasts": life.lasts,
        "used": life.used,
    }
