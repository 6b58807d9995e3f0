"""The prices of a job as they are typed, and what they come to."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from barwise.errors import InputError
from barwise.files.text import shown
from barwise.files.worth_file import read_amount
from barwise.inspect.worth import Alternative, Needed, Price, Quote, Service, WearSoFar, WorkItem, weigh
from barwise.inspect.worth.quote import FREE, Need
from barwise.measure.uncertainty import Estimate
from barwise.record.approvals import (
    WornPart,
    asked_for,
    fingerprint,
    line_of,
    priced_last,
    standing_approval,
    worn_parts,
)
from barwise.record.models import Approval, Job
from barwise.report.parts.worth import worth_answer

BLANK_ROWS = 3
MOST_ROWS = 60
MOST_NAME = 120
NEEDS: tuple[Need, ...] = ("must", "optional", "keep")
FIELDS = (
    "currency", "labour_rate", "tax", "base_hours", "materials", "exchange_price", "exchange_deposit",
    "exchange_lasts", "new_price", "new_lasts", "unit", "so_far", "wanted",
)  # fmt: skip


@dataclass(frozen=True)
class Row:
    """One part as typed; `key` is the check its wear was measured by, else empty."""

    key: str = ""
    name: str = ""
    need: str = "must"
    price: str = ""
    hours: str = ""
    why: str = ""


@dataclass(frozen=True)
class Word:
    """The customer's word that counts, with the sentence it was about."""

    approval: Approval
    line: str


@dataclass(frozen=True)
class TypedPrices:
    """All that was typed, letter for letter."""

    fields: Mapping[str, str]
    rows: tuple[Row, ...]

    def quote(self, worn: Mapping[str, WornPart], *, decimal_comma: bool) -> Quote:
        """What it comes to.

        Raises
        ------
        InputError
            With the field as its place.
        """
        read = _Reader(self.fields, decimal_comma)
        so_far = read.number("so_far")
        return Quote(
            currency=self.fields.get("currency", ""),
            labour_rate=read.amount("labour_rate", "an hour's rate, such as 64.00"),
            tax=read.amount("tax", "percent, such as 19", Decimal(0)) / 100,
            base_hours=_exact(read.amount("base_hours", "hours, such as 1.75")),
            base_materials=_exact(read.amount("materials", "an amount", Decimal(0))),
            items=tuple(
                _item(row, worn.get(row.key), decimal_comma) for row in self.rows if row.name.strip()
            ),
            alternatives=tuple(read.alternatives()),
            service=Service(
                unit=self.fields.get("unit", "").strip() or "hours",
                so_far=None if so_far is None else Estimate(so_far, so_far * 0.1),
                wanted=read.number("wanted"),
            ),
        )


def first_prices(job: Job) -> TypedPrices:
    """Before anything is typed: the parts that are asked for, and the shop's habits of last time."""
    last = priced_last()
    fields = dict.fromkeys(FIELDS, "")
    tax = Decimal(str(last.get("tax", "0"))) * 100
    fields |= {
        "currency": str(last.get("currency", "")),
        "labour_rate": str(last.get("labour_rate", "")),
        "tax": f"{tax.normalize():f}" if tax else "",
        "unit": str(last.get("service", {}).get("unit", "hours")),
    }
    worn = {one.title[:MOST_NAME]: one for one in worn_parts(job)}
    asked = {_name(one): one for one in asked_for(job)}
    rows = [
        Row(worn[name].key if name in worn else "", name, one.need, why=_why(one))
        for name, one in asked.items()
    ]
    rows += [Row(one.key, name, "keep", why=one.line) for name, one in worn.items() if name not in asked]
    return TypedPrices(fields, (*rows, *(Row() for _ in range(BLANK_ROWS))))


def typed_prices(posted: Mapping[str, str]) -> TypedPrices:
    """What a form sent."""
    fields = {name: str(posted.get(name, ""))[:200] for name in FIELDS}
    rows = []
    for number in range(MOST_ROWS):
        if f"name-{number}" not in posted:
            break
        parts = {
            name: str(posted.get(f"{name}-{number}", ""))[:400]
            for name in ("key", "name", "need", "price", "hours", "why")
        }
        rows.append(Row(**parts))
    blank = sum(not row.name.strip() for row in rows)
    return TypedPrices(fields, (*rows, *(Row() for _ in range(max(0, BLANK_ROWS - blank)))))


def worked_out(job: Job, typed: TypedPrices, *, decimal_comma: bool) -> dict[str, Any]:
    """What the prices come to, as it is shown and as it is kept. Raises InputError as `quote`."""
    worn = {one.key: one for one in worn_parts(job)}
    quote = typed.quote(worn, decimal_comma=decimal_comma)
    return worth_answer(f"{job.unit.tag}, job {job.number}", quote, weigh(quote))


def seal(answer: Mapping[str, Any]) -> str:
    """By which a page says which figures it showed."""
    return fingerprint(answer)


def standing_word(job: Job) -> Word | None:
    """The customer's word that counts."""
    approval = standing_approval(job)
    return None if approval is None else Word(approval, line_of(approval))


def _name(asked: Needed) -> str:
    """The part with its station; a station that was decided as a whole, with the checks that condemned it."""
    if asked.part.casefold() != asked.station.casefold():
        return f"{asked.station}: {asked.part}"[:MOST_NAME]
    return f"{asked.station}: {', '.join(asked.checks)}"[:MOST_NAME] if asked.checks else asked.station


def _why(asked: Needed) -> str:
    """What is to be done with it, what was rejected there, and why."""
    titles = "" if asked.part in asked.checks else ", ".join(asked.checks)
    said = (asked.work.capitalize(), f"rejected: {titles}" if titles else "")
    return f"{'; '.join(one for one in said if one)}. {asked.why}".strip()


class _Reader:
    """Numbers of the form's fields, refused with the field's name."""

    def __init__(self, fields: Mapping[str, str], decimal_comma: bool) -> None:
        self._fields, self._comma = fields, decimal_comma

    def amount(self, name: str, expected: str, usual: Decimal | None = None) -> Decimal:
        written = self._fields.get(name, "").strip()
        if not written and usual is not None:
            return usual
        return _amount(name, written, expected, self._comma)

    def number(self, name: str) -> float | None:
        written = self._fields.get(name, "").strip()
        return float(_amount(name, written, "a number above 0", self._comma)) if written else None

    def alternatives(self) -> list[Alternative]:
        found = []
        for key in ("exchange", "new"):
            if not self._fields.get(f"{key}_price", "").strip():
                continue
            lasts = self.number(f"{key}_lasts")
            found.append(
                Alternative(
                    key="exchange" if key == "exchange" else "new",
                    price=_exact(self.amount(f"{key}_price", "an amount")),
                    deposit=self.amount(f"{key}_deposit", "an amount", Decimal(0)),
                    lasts=None if lasts is None else _about(lasts),
                )
            )
        return found


def _item(row: Row, worn: WornPart | None, decimal_comma: bool) -> WorkItem:
    need = next((one for one in NEEDS if one == row.need), None)
    if need is None:
        raise InputError(row.name, shown(row.need), "must, optional or keep")
    kept = need == "keep"
    price = _exact(_amount(f"price of {row.name}", row.price, "an amount", decimal_comma, kept))
    hours = _exact(_amount(f"hours of {row.name}", row.hours, "hours", decimal_comma, blank=True))
    wear = None if worn is None else WearSoFar(0.0, 1.0, Estimate(worn.share, worn.uncertainty))
    if kept:
        price = hours = FREE
    return WorkItem(row.name.strip(), price, hours, need, row.why.strip(), wear)


def _amount(where: str, written: str, expected: str, decimal_comma: bool, blank: bool = False) -> Decimal:
    text = written.strip()
    if not text and blank:
        return Decimal(0)
    found = read_amount(text.replace(",", ".") if decimal_comma else text)
    if found is None:
        hint = "" if decimal_comma or "," not in text else ", with a decimal point"
        raise InputError(where.replace("_", " "), shown(text) if text else "nothing", f"{expected}{hint}")
    return found


def _exact(amount: Decimal) -> Price:
    return Price(amount, amount)


def _about(lasts: float) -> Price:
    """Somewhere within a quarter of what was said: nobody says it better."""
    middle = Decimal(str(lasts))
    return Price(middle * Decimal("0.75"), middle * Decimal("1.25"))
