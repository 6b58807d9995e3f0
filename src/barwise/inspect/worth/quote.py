"""What a rebuild is made of in money and time. Money is decimal throughout and never rounded here."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from barwise.errors import InputError
from barwise.measure.uncertainty import Estimate

Need = Literal["must", "optional", "keep"]

NOTHING = Decimal(0)
MOST = Decimal(10) ** 12


@dataclass(frozen=True)
class Price:
    """An amount of money, or of hours, known to lie between two ends.

    Examples
    --------
    >>> Price.of("10.10") + Price.of("0.20")
    Price(low=Decimal('10.30'), high=Decimal('10.30'))
    """

    low: Decimal
    high: Decimal

    def __post_init__(self) -> None:
        for end in (self.low, self.high):
            if not (end.is_finite() and 0 <= end <= MOST):
                raise InputError("price", str(end), "0 or more")
        if self.low > self.high:
            raise InputError("price", f"{self.low} to {self.high}", "the lower end first")

    @classmethod
    def of(cls, low: str | Decimal, high: str | Decimal | None = None) -> Price:
        """One amount, or a range."""
        return cls(Decimal(low), Decimal(low if high is None else high))

    def __add__(self, other: Price) -> Price:
        return Price(self.low + other.low, self.high + other.high)

    def times(self, factor: Price | Decimal) -> Price:
        """So many times this."""
        if isinstance(factor, Decimal):
            return Price(self.low * factor, self.high * factor)
        return Price(self.low * factor.low, self.high * factor.high)

    @property
    def exact(self) -> bool:
        """Whether both ends are one."""
        return self.low == self.high


FREE = Price(NOTHING, NOTHING)


def total(prices: Iterable[Price]) -> Price:
    """All of them together."""
    found = FREE
    for price in prices:
        found += price
    return found


@dataclass(frozen=True)
class WearSoFar:
    """A part that wears from its size when new to that at which it is thrown away; lengths [m].

    Either way round: a brush grows shorter, a bush wider.
    """

    new_m: float
    discard_m: float
    now: Estimate

    def __post_init__(self) -> None:
        if self.new_m == self.discard_m or min(self.new_m, self.discard_m) < 0:
            raise InputError("wear", "one size for new and discard", "two sizes")

    @property
    def share(self) -> float:
        """How much of it is gone: 0 new, 1 to be thrown away."""
        return (self.now.value - self.new_m) / (self.discard_m - self.new_m)

    @property
    def share_uncertainty(self) -> float:
        """Standard uncertainty of that share."""
        return self.now.standard_uncertainty / abs(self.discard_m - self.new_m)


@dataclass(frozen=True)
class WorkItem:
    """One part to be replaced or mended.

    Attributes
    ----------
    name : str
    price : Price
        Of the part, and of work done outside.
    hours : Price
        Time it takes over and above stripping and putting together [h].
    need : str
        ``must``: without it the unit does not go back. ``optional``: it would do another while. ``keep``:
        stays as it is, is not priced, and goes on wearing.
    why : str
        What was found.
    wear : WearSoFar or None
        Where its wear was measured.
    """

    name: str
    price: Price
    hours: Price = FREE
    need: Need = "must"
    why: str = ""
    wear: WearSoFar | None = None


@dataclass(frozen=True)
class Alternative:
    """Another unit instead of a rebuild.

    Attributes
    ----------
    key : str
        ``exchange`` or ``new``.
    price : Price
        What is paid, without what comes back.
    deposit : Decimal
        Comes back with the old unit: shown, not counted.
    hours : Price
        Of the shop, such as for a test before it goes out [h].
    lasts : Price or None
        What its seller stands for or the shop has seen, in the unit of service.
    """

    key: Literal["exchange", "new"]
    price: Price
    deposit: Decimal = NOTHING
    hours: Price = FREE
    lasts: Price | None = None


@dataclass(frozen=True)
class Service:
    """What it has done and what the customer wants of it, both counted in `unit` (hours, starts, years)."""

    unit: str
    so_far: Estimate | None = None
    wanted: float | None = None

    def __post_init__(self) -> None:
        if self.so_far is not None and not self.so_far.value > 0:
            raise InputError("service so far", f"{self.so_far.value:g}", "above 0; leave it out if not known")
        if self.wanted is not None and not 0 < self.wanted < 1e9:
            raise InputError("service wanted", f"{self.wanted:g}", "above 0")


@dataclass(frozen=True)
class Quote:
    """All that a decision is made from.

    Attributes
    ----------
    currency : str
        As the shop writes it, such as EUR.
    labour_rate : Decimal
        For an hour.
    tax : Decimal
        As a share, 0.19; on everything.
    base_hours, base_materials : Price
        Strip, clean, measure, put together, test; grease, paint, washers.
    items : tuple of WorkItem
    alternatives : tuple of Alternative
    service : Service
    """

    currency: str
    labour_rate: Decimal
    base_hours: Price
    base_materials: Price = FREE
    items: tuple[WorkItem, ...] = ()
    alternatives: tuple[Alternative, ...] = ()
    service: Service = Service("hours")
    tax: Decimal = NOTHING

    def __post_init__(self) -> None:
        if not self.currency.strip() or len(self.currency) > 12:
            raise InputError("currency", f'"{self.currency:.20}"', "such as EUR, as the shop writes it")
        if not (self.labour_rate.is_finite() and 0 <= self.labour_rate <= MOST):
            raise InputError("labour rate", str(self.labour_rate), "0 or more for an hour")
        if not (self.tax.is_finite() and 0 <= self.tax <= 1):
            raise InputError("tax", str(self.tax), "a share from 0 to 1, such as 0.19")
        called: list[str] = [other.key for other in self.alternatives]
        for what, names in (("parts", [item.name for item in self.items]), ("alternatives", called)):
            twice = sorted({name for name in names if names.count(name) > 1})
            if twice:
                raise InputError(what, f"{twice[0]} twice", "each once")
