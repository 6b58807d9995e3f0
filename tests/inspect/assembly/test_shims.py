"""Which shims of those in the drawer: against every pile tried by hand, and with no shims at all."""

from __future__ import annotations

from itertools import product

import numpy as np
import pytest

from barwise.errors import MeasurementError
from barwise.inspect.assembly.shims import Goal, Shim, choose_shims
from barwise.measure.decision import Limit, conformity
from barwise.measure.uncertainty import Estimate

MM = 1e-3
END_PLAY = Goal("end play", Estimate(1.10 * MM, 0.02 * MM), 0.1 * MM, 0.5 * MM, {"shaft": -1.0})


def names(choice) -> dict[str, list[str]]:
    return {place: [shim.name for shim in some] for place, some in choice.best.put_in}


def test_the_best_pile_is_the_best_of_all_tried_by_hand() -> None:
    stock = [
        Shim("0.3", 0.3 * MM, 2, 0.01 * MM),
        Shim("0.5", 0.5 * MM, 1, 0.01 * MM),
        Shim("0.1", 0.1 * MM, 3),
    ]
    found = choose_shims([END_PLAY], stock, most_pieces=4)
    limit = Limit(0.1 * MM, 0.5 * MM)
    tried = {}
    for a, b, c in product(range(3), range(2), range(4)):
        if a + b + c <= 4:
            value = 1.10 - 0.3 * a - 0.5 * b - 0.1 * c
            doubt = np.sqrt(0.02**2 + (a + b) * 0.01**2)
            tried[(a, b, c)] = conformity(value * MM, doubt * MM, limit)[0]
    assert found.tried == len(tried)
    assert found.best.probability == pytest.approx(max(tried.values()), abs=0.002)
    assert found.best.reached[0].value.value == pytest.approx(0.30 * MM)


def test_two_goals_share_one_drawer_and_all_must_be_within() -> None:
    """Derived: only one shim of 0.4 mm, and both places could use it; the end play gets by without."""
    clearance = Goal("pinion clearance", Estimate(0.3 * MM, 0.01 * MM), 0.5 * MM, 2.0 * MM, {"switch": 2.0})
    tight = Goal("end play", Estimate(0.45 * MM, 0.01 * MM), 0.1 * MM, 0.5 * MM, {"shaft": -1.0})
    found = choose_shims([tight, clearance], [Shim("0.4", 0.4 * MM, 1)])
    assert names(found) == {"shaft": [], "switch": ["0.4"]}
    assert [one.value.value / MM for one in found.best.reached] == pytest.approx([0.45, 1.1])
    assert found.best.outcome == "accept"


def test_a_washer_that_moves_both_is_counted_at_both() -> None:
    clearance = Goal("pinion clearance", Estimate(0.3 * MM, 0.01 * MM), 0.5 * MM, 2.0 * MM, {"shaft": 1.0})
    found = choose_shims([END_PLAY, clearance], [Shim("0.8", 0.8 * MM)])
    assert [one.value.value / MM for one in found.best.reached] == pytest.approx([0.3, 1.1])


def test_what_is_fitted_may_come_out_or_stay_and_staying_adds_no_doubt() -> None:
    tight = Goal("end play", Estimate(-0.0 * MM + 0.05 * MM, 0.01 * MM), 0.1 * MM, 0.5 * MM, {"shaft": -1.0})
    inside = {"shaft": (Shim("thick", 0.6 * MM, 1, 0.05 * MM), Shim("thin", 0.2 * MM, 1, 0.05 * MM))}
    found = choose_shims([tight], [], inside)
    assert names(found) == {"shaft": ["thick"]}
    reached = found.best.reached[0].value
    assert reached.value == pytest.approx(0.25 * MM)
    assert reached.standard_uncertainty == pytest.approx(np.hypot(0.01, 0.05) * MM)


def test_no_shims_at_all_leaves_it_as_it_is_and_says_what_thickness_is_wanted() -> None:
    found = choose_shims([END_PLAY], [])
    assert (found.tried, found.best.outcome, names(found)) == (1, "reject", {"shaft": []})
    wanted = found.wanted[0]
    assert wanted.middle_m == pytest.approx(0.8 * MM)
    assert wanted.low_m is not None
    assert wanted.high_m is not None
    assert 0.6 * MM < wanted.low_m < wanted.middle_m < wanted.high_m < 1.0 * MM


def test_none_in_stock_of_a_kind_and_a_kind_for_another_place_are_not_used() -> None:
    stock = [Shim("gone", 0.8 * MM, 0), Shim("other", 0.8 * MM, 5, places=("switch",))]
    assert names(choose_shims([END_PLAY], stock)) == {"shaft": []}


def test_at_equal_chance_the_middle_and_then_fewest_pieces_win() -> None:
    stock = [Shim("0.4", 0.4 * MM, 2), Shim("0.8", 0.8 * MM, 1), Shim("0.7", 0.7 * MM, 1)]
    assert names(choose_shims([END_PLAY], stock)) == {"shaft": ["0.8"]}


def test_a_reading_too_coarse_for_the_range_wants_a_better_one() -> None:
    coarse = Goal("end play", Estimate(1.1 * MM, 0.3 * MM), 0.1 * MM, 0.5 * MM, {"shaft": -1.0})
    found = choose_shims([coarse], [Shim("0.8", 0.8 * MM)])
    assert found.best.outcome == "undecided"
    assert (found.wanted[0].low_m, found.wanted[0].high_m) == (None, None)


@pytest.mark.parametrize(
    ("goals", "stock", "said"),
    [
        ([], [], "nothing to set"),
        ([Goal("end play", Estimate(1 * MM, 0), 0.5 * MM, 0.1 * MM, {"shaft": -1})], [], "the lower first"),
        ([Goal("end play", Estimate(1 * MM, 0), 0.1 * MM, 0.5 * MM, {})], [], "no shim that moves it"),
        ([Goal("end play", Estimate(float("nan"), 0), 0, 1, {"shaft": -1})], [], "finite number"),
        ([END_PLAY], [Shim("none", 0.0)], "expected more than 0"),
        ([END_PLAY], [Shim("less", 1e-3, -1)], "0 or more"),
        ([END_PLAY], [Shim(f"{k}", k * 1e-5) for k in range(1, 20)], "12 at most"),
    ],
)
def test_what_cannot_be_shimmed_is_refused(goals, stock, said: str) -> None:
    with pytest.raises(MeasurementError, match=said):
        choose_shims(goals, stock)


def test_a_drawer_too_full_to_try_is_said_and_not_waited_for() -> None:
    both = Goal("x", Estimate(1 * MM, 0), 0, 1, {"a": 1.0, "b": 1.0})
    stock = [Shim(f"{k}", k * 1e-5, 9) for k in range(1, 13)]
    with pytest.raises(MeasurementError, match="piles to try"):
        choose_shims([both], stock, most_pieces=6)
