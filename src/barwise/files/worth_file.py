"""The file of ``barwise worth``: parts with prices and times, another unit's price, wear, in TOML.

docs/worth.md lists the keys. Money stands in quotation marks, ``"38.50"``, so that every digit stays as it
was written; a list of two, ``["38.50", "45.00"]``, is a range.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path

from barwise.errors import InputError
from barwise.files.entered_tables import Table
from barwise.files.text import read_text
from barwise.files.toml_tables import value_shown
from barwise.inspect.worth import Alternative, Price, Quote, Service, WearSoFar, WorkItem
from barwise.inspect.worth.quote import FREE
from barwise.measure.quantity import Quantity
from barwise.measure.uncertainty import Estimate

KIND = "a TOML file with [shop], [rebuild] and [[part]]"
SUCH_AS = '[shop] and labour_rate = "64.00"'
_DIGITS = re.compile(r"\d*\.?\d*(?:[eE][+-]?\d+)?", re.ASCII)
_AMOUNT = re.compile(r"\d{1,12}(?:\.\d{1,6})?", re.ASCII)
_TOP = ("title", "shop", "rebuild", "part", "exchange", "new", "service")
_SHOP = ("currency", "labour_rate", "tax", "decimals")
_PART = ("name", "price", "time", "need", "why", "wear")
_WEAR = ("new", "discard", "now")
_OTHER = ("price", "deposit", "time", "lasts")
_SERVICE = ("counted_in", "so_far", "give_or_take", "wanted")


@dataclass(frozen=True)
class WorthFile:
    """What one file says; `decimals` of the currency are shown and no more."""

    title: str
    quote: Quote
    decimals: int


def load_worth(path: str | Path) -> WorthFile:
    """Read a file of prices.

    Raises
    ------
    InputError
        If it cannot be read, or something in it cannot be: names file, line and key.
    """
    path = Path(path)
    return parse_worth(read_text(path, KIND), str(path))


def parse_worth(text: str, name: str = "worth.toml") -> WorthFile:
    """Read the text of a file of prices, called `name` in messages. Raises as `load_worth`."""
    top = Table.of_file(text, name, KIND, SUCH_AS)
    top.only(_TOP)
    shop, rebuild = top.table("shop", needed=True), top.table("rebuild", needed=True)
    shop.only(_SHOP)
    rebuild.only(("time", "materials"))
    tax = shop.optional_quantity("tax", "share", least=0.0, most=1.0)
    rate = _money(shop, "labour_rate")
    if not rate.exact:
        shop.refuse("labour_rate", "a range", "one amount for an hour")
    try:
        quote = Quote(
            currency=shop.words("currency"),
            labour_rate=rate.low,
            base_hours=_hours(rebuild, "time"),
            base_materials=_money(rebuild, "materials", FREE),
            items=tuple(_part(one) for one in top.tables("part")),
            alternatives=tuple(_other(top, key) for key in ("exchange", "new") if top.has(key)),
            service=_service(top.table("service")),
            # a percentage as typed, "19 %": its own digits, not those of a binary fraction
            tax=Decimal(0) if tax is None else _typed(tax) / 100,
        )
    except InputError as error:
        if error.where.startswith(name):
            raise
        raise InputError(f"{name}, {error.where}", error.found, error.expected) from None
    return WorthFile(top.words("title", "the unit"), quote, shop.whole("decimals", 0, 4, 2))


def read_amount(written: str) -> Decimal | None:
    """An amount as typed, with a point and at most six digits behind it; None where it is none."""
    return Decimal(written.strip()) if _AMOUNT.fullmatch(written.strip()) else None


def _money(table: Table, key: str, usual: Price | None = None) -> Price:
    wanted = 'an amount in quotation marks, such as "38.50", or two of them, the lower first'
    if not table.has(key):
        if usual is not None:
            return usual
        raise InputError(f"{table.place()}, key {key}", "nothing", wanted)
    found = table.values[key]
    ends = found if isinstance(found, list) else [found]
    read = [read_amount(one) if isinstance(one, str) else None for one in ends]
    known = [one for one in read if one is not None]
    if len(known) != len(ends) or len(known) not in (1, 2) or known[0] > known[-1]:
        table.refuse(key, value_shown(found), wanted)
    return Price(known[0], known[-1])


def _hours(table: Table, key: str) -> Price:
    """A time with its unit, ``"45 min"``, or two, in hours; every digit as typed."""
    found = table.quantities(key, "time", least=0.0, most=1000 * 3600.0)
    if len(found) > 2:
        table.refuse(key, f"{len(found)} times", "one, or two, the lower first")
    if not found:
        return FREE
    hours = [_typed(one) * Decimal(str(one.unit.factor)) / 3600 for one in found]
    if hours[0] > hours[-1]:
        table.refuse(key, value_shown(table.values[key]), "the lower first")
    return Price(hours[0], hours[-1])


def _typed(found: Quantity) -> Decimal:
    """The number of a quantity with the digits it was written with."""
    digits = _DIGITS.match(found.entered)
    assert digits is not None  # it was read as a number
    return Decimal(digits[0])


def _part(table: Table) -> WorkItem:
    table.only(_PART)
    need = table.choice("need", ("must", "optional", "keep"), "must")
    kept = need == "keep"
    return WorkItem(
        name=table.words("name"),
        price=_money(table, "price", FREE if kept else None),
        hours=_hours(table, "time"),
        need="keep" if kept else "must" if need == "must" else "optional",
        why=table.words("why", "-").removeprefix("-"),
        wear=_wear(table.table("wear")) if table.has("wear") else None,
    )


def _wear(table: Table) -> WearSoFar:
    table.only(_WEAR)
    new, discard = (table.quantity(key, "length", least=0.0).value for key in ("new", "discard"))
    now = table.quantity("now", "length", least=0.0)
    try:
        wear = WearSoFar(new, discard, now.estimate)
    except InputError as error:
        table.refuse("discard", error.found, error.expected)
    if not -0.2 <= wear.share <= 3:
        table.refuse(
            "now", now.entered, "a size between new and discard, or near them: is a unit or digit off?"
        )
    return wear


def _other(top: Table, key: str) -> Alternative:
    table = top.table(key)
    table.only(_OTHER)
    deposit = _money(table, "deposit", FREE)
    if not deposit.exact:
        table.refuse("deposit", "a range", "one amount")
    lasts = table.values.get("lasts")
    return Alternative(
        key="exchange" if key == "exchange" else "new",
        price=_money(table, "price"),
        deposit=deposit.low,
        hours=_hours(table, "time"),
        lasts=None if lasts is None else _counted(table, "lasts", lasts),
    )


def _counted(table: Table, key: str, found: object) -> Price:
    """One number in the unit of service, or two."""
    ends = found if isinstance(found, list) else [found]
    good = [one for one in ends if isinstance(one, int | float) and not isinstance(one, bool) and one > 0]
    if len(good) != len(ends) or len(good) not in (1, 2) or good[0] > good[-1]:
        table.refuse(key, value_shown(found), "a number in the unit of service, or two, the lower first")
    return Price(Decimal(str(good[0])), Decimal(str(good[-1])))


def _service(table: Table) -> Service:
    table.only(_SERVICE)
    so_far = table.number("so_far", 1e-6, 1e9) if table.has("so_far") else None
    width = table.optional_quantity("give_or_take", "share", least=0.0, most=1.0)
    spread = 0.0 if width is None or so_far is None else so_far * width.value / 2
    return Service(
        unit=table.words("counted_in", "hours"),
        so_far=None if so_far is None else Estimate(so_far, spread),
        wanted=table.number("wanted", 1e-6, 1e9) if table.has("wanted") else None,
    )
