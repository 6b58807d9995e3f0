"""Costs to the last digit, lives from wear alone, and no verdict where there is none."""

from __future__ import annotations

from decimal import Decimal

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from barwise.errors import InputError
from barwise.inspect.worth import (
    Alternative,
    PartStanding,
    Price,
    Quote,
    Service,
    WearSoFar,
    WorkItem,
    needed,
    weigh,
)
from barwise.inspect.worth.weighing import SPREAD
from barwise.measure.uncertainty import Estimate

MONEY = st.decimals(0, 10_000, places=4)
WORN = WearSoFar(0.020, 0.010, Estimate(0.014, 0.0))
RUN = Service("hours", Estimate(3000.0, 0.0), wanted=1000.0)


def quote(*items: WorkItem, others: tuple[Alternative, ...] = (), service: Service = RUN) -> Quote:
    return Quote(
        "EUR", Decimal("64"), Price.of("1.75"), Price.of("14"), items, others, service, Decimal("0.19")
    )


@given(MONEY, MONEY, MONEY, st.decimals(0, 1, places=3))
def test_a_cost_is_exact_in_decimals(price: Decimal, rate: Decimal, hours: Decimal, tax: Decimal) -> None:
    made = Quote(
        "EUR", rate, Price.of(hours), items=(WorkItem("part", Price.of(price), Price.of("0.5")),), tax=tax
    )
    cost = weigh(made).choices[0].cost
    assert cost.low == cost.high
    assert cost.low == (price + (hours + Decimal("0.5")) * rate) * (1 + tax)


def test_ranges_add_up_end_by_end() -> None:
    made = quote(WorkItem("a", Price.of("10", "20")), WorkItem("b", Price.of("1"), Price.of("0.5", "1")))
    cost = weigh(made).choices[0].cost
    assert cost.low == (Decimal(14 + 10 + 1) + Decimal("2.25") * 64) * Decimal("1.19")
    assert cost.high == (Decimal(14 + 20 + 1) + Decimal("2.75") * 64) * Decimal("1.19")


def test_life_is_what_is_left_of_the_wear_at_the_rate_so_far() -> None:
    """60 % gone in 3000 hours: 2000 are left in the median, 5000 for a new one; 30 % lognormal."""
    kept = weigh(quote(WorkItem("brush", Price.of("0"), need="keep", wear=WORN)))
    assert kept.as_it_is is not None
    assert kept.as_it_is.middle == pytest.approx(2000, rel=0.01)
    width = np.sqrt(np.log1p(SPREAD**2))
    assert kept.as_it_is.low == pytest.approx(2000 * np.exp(-1.645 * width), rel=0.02)
    fresh = weigh(quote(WorkItem("brush", Price.of("40"), wear=WORN))).choices[0].life
    assert fresh is not None
    assert fresh.middle == pytest.approx(5000, rel=0.01)
    assert fresh.lasts is not None
    assert fresh.lasts > 0.999


def test_the_shortest_life_is_the_unit_s() -> None:
    near_its_end = WearSoFar(0.05e-3, 0.20e-3, Estimate(0.19e-3, 0.0))
    made = quote(
        WorkItem("brush", Price.of("40"), wear=WORN),
        WorkItem("bush", Price.of("9"), need="optional", wear=near_its_end),
    )
    weighed = weigh(made)
    must, everything = (one.life for one in weighed.choices[:2])
    assert must is not None
    assert everything is not None
    assert must.middle == pytest.approx(3000 * (0.01 / 0.14), rel=0.05)
    assert everything.middle > 2500
    assert weighed.verdict == "all"
    (bush,) = weighed.added
    assert bush.gains_chance is not None
    assert bush.gains_chance > 0.95


def test_a_part_measured_badly_leaves_more_open() -> None:
    widths = []
    for spread in (0.0, 0.002):
        worn = WearSoFar(0.020, 0.010, Estimate(0.014, spread))
        life = weigh(quote(WorkItem("brush", Price.of("0"), need="keep", wear=worn))).as_it_is
        assert life is not None
        widths.append(life.high - life.low)
    assert widths[1] > 1.2 * widths[0]


def test_without_service_so_far_nothing_is_said_of_life() -> None:
    weighed = weigh(quote(WorkItem("brush", Price.of("40"), wear=WORN), service=Service("hours")))
    assert all(one.life is None for one in weighed.choices)
    assert any("not known" in line for line in weighed.said)


def test_hardly_any_wear_says_nothing_of_life() -> None:
    fresh = WearSoFar(0.020, 0.010, Estimate(0.0199, 0.0))
    weighed = weigh(quote(WorkItem("brush", Price.of("0"), need="keep", wear=fresh)))
    assert weighed.as_it_is is None
    assert any("Hardly any wear" in line for line in weighed.said)


@pytest.mark.parametrize(("price", "verdict"), [("400", "must"), ("100", "exchange"), ("150", "exchange")])
def test_the_cheaper_of_what_lasts_is_taken(price: str, verdict: str) -> None:
    other = Alternative("exchange", Price.of(price), lasts=Price.of("2000", "4000"))
    assert weigh(quote(WorkItem("brush", Price.of("40"), wear=WORN), others=(other,))).verdict == verdict


def test_a_cheap_unit_that_does_not_last_is_not_taken() -> None:
    other = Alternative("exchange", Price.of("10"), lasts=Price.of("100", "900"))
    assert weigh(quote(WorkItem("brush", Price.of("40"), wear=WORN), others=(other,))).verdict == "must"


def test_prices_that_overlap_are_undecided_and_say_which() -> None:
    other = Alternative("exchange", Price.of("100", "300"), lasts=Price.of("2000"))
    weighed = weigh(quote(WorkItem("brush", Price.of("40"), wear=WORN), others=(other,)))
    assert weighed.verdict == "undecided"
    assert "exchange unit" in weighed.why


def test_where_nothing_lasts_long_enough_nothing_is_recommended() -> None:
    forever = Service("hours", Estimate(3000.0, 0.0), wanted=50_000.0)
    weighed = weigh(quote(WorkItem("brush", Price.of("40"), wear=WORN), service=forever))
    assert weighed.verdict == "undecided"


def test_the_deposit_is_shown_and_not_counted() -> None:
    other = Alternative("exchange", Price.of("100"), Decimal(60))
    exchange = weigh(quote(others=(other,))).choices[-1]
    assert exchange.cost.low == Decimal("119.00")
    assert exchange.deposit == 60


def test_what_the_rebuilder_decided_counts_before_any_result() -> None:
    found = needed(
        [
            PartStanding("Armature", "armature", decided="reuse"),
            PartStanding("Armature", "Winding", outcome="reject", line="shorted"),
            PartStanding("Brush gear", "Length", outcome="reject", line="too short"),
            PartStanding("Drive", "Teeth", outcome="undecided", line="near its limit"),
            PartStanding("Switch", "switch", decided="rework"),
            PartStanding("Switch", "Contacts", outcome="reject", line="burnt"),
            PartStanding("Bearings", "Bush", outcome="accept"),
        ]
    )
    assert [(one.part, one.need, one.work, one.why) for one in found] == [
        ("Length", "must", "replace", "too short"),
        ("switch", "must", "rework", "burnt"),
        ("Teeth", "optional", "replace", "near its limit"),
    ]
    assert [one.checks for one in found] == [("Length",), ("Contacts",), ("Teeth",)]


def test_a_rejection_that_speaks_for_rework_is_priced_as_such() -> None:
    joint = PartStanding("Frame", "Joints", outcome="reject", line="one high", speaks_for="rework")
    assert [(one.part, one.work) for one in needed([joint])] == [("Joints", "rework")]


@pytest.mark.parametrize(
    "make",
    [
        lambda: Price.of("-1"),
        lambda: Price.of("NaN"),
        lambda: Price.of("2", "1"),
        lambda: quote(WorkItem("a", Price.of("1")), WorkItem("a", Price.of("2"))),
        lambda: Quote("", Decimal(1), Price.of("1")),
        lambda: Quote("EUR", Decimal(-1), Price.of("1")),
        lambda: Quote("EUR", Decimal(1), Price.of("1"), tax=Decimal(19)),
        lambda: WearSoFar(0.01, 0.01, Estimate(0.01, 0.0)),
        lambda: Service("hours", Estimate(0.0, 0.0)),
        lambda: Service("hours", wanted=-5.0),
    ],
)
def test_what_cannot_be_is_refused(make: object) -> None:
    assert callable(make)
    with pytest.raises(InputError, match="expected"):
        make()
