"""Intervals of the shop's history against SciPy's, and stated chances against many made samples."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import stats
from scipy.special import ndtr

from barwise.errors import MeasurementError
from barwise.measure.difference import difference
from barwise.measure.drift import REACH, WEIGHT, run_length, seen_within
from barwise.measure.proportion import proportion
from barwise.measure.usual import SHARE, SURE, Rank, rank, usual


@pytest.mark.parametrize(("count", "of"), [(0, 1), (1, 1), (0, 12), (3, 12), (12, 12), (190, 200)])
def test_a_share_has_scipys_exact_interval(count: int, of: int) -> None:
    there = stats.binomtest(count, of).proportion_ci(0.95, method="exact")
    here = proportion(count, of)
    assert (here.low, here.high) == pytest.approx((there.low, there.high), abs=1e-12)


def test_of_none_nothing_is_known() -> None:
    found = proportion(0, 0)
    assert (found.value, found.low, found.high) == (None, 0.0, 1.0)


def test_two_lots_differ_by_scipys_welch_interval() -> None:
    made = np.random.default_rng(3)
    first, second = made.normal(1.0, 0.2, 9), made.normal(0.7, 0.5, 14)
    there = stats.ttest_ind(first, second, equal_var=False).confidence_interval(0.95)
    here = difference(list(first), list(second))
    assert (here.low, here.high) == pytest.approx((there.low, there.high), rel=1e-10)
    assert not difference([1.0, 2.0, 3.0], [1.1, 2.1, 2.9]).is_seen
    with pytest.raises(MeasurementError, match="found 1 and 2"):
        difference([1.0], [1.0, 2.0])


@pytest.mark.parametrize("count", [14, 30, 80])
@pytest.mark.parametrize("wild", [0, 1])
def test_the_usual_range_holds_its_share_as_often_as_it_says(count: int, wild: int) -> None:
    """With one value far off among them as without it; 1,500 samples each, three standard errors."""
    made = np.random.default_rng(count)
    held = 0
    for _ in range(1500):
        values = made.normal(size=count)
        values[:wild] += 30.0
        found = usual(values)
        assert found is not None
        assert found.apart >= wild
        held += ndtr(found.high) - ndtr(found.low) >= SHARE
    # Left out at times though of the kind: a small sample's own scatter is not known well.
    assert held / 1500 == pytest.approx(SURE, abs=0.035)


def test_too_few_say_nothing_and_all_alike_say_their_digit() -> None:
    assert usual([1.0] * 7) is None
    alike = usual([1.0] * 9, digit=0.01)
    assert alike is not None
    assert alike.low < 1.0 < alike.high
    assert alike.holds(1.005)
    assert not alike.holds(1.02)


def test_a_rank_counts_those_below_above_and_the_same() -> None:
    assert rank(2.0, [1.0, 2.0004, 3.0, 4.0], digit=0.001) == Rank(below=1, same=1, above=2)
    assert rank(2.0, []).of == 0


def test_runs_are_as_long_as_they_are_when_they_are_played() -> None:
    """4,000 charts with a shift of one standard deviation, played value by value."""
    made = np.random.default_rng(11)
    bound = REACH * np.sqrt(WEIGHT / (2 - WEIGHT))
    average, length, running = np.zeros(4000), np.zeros(4000), np.ones(4000, dtype=bool)
    for _ in range(400):
        average = np.where(running, WEIGHT * made.normal(1.0, 1.0, 4000) + (1 - WEIGHT) * average, average)
        length += running
        running &= np.abs(average) <= bound
    assert not running.any()
    assert length.mean() == pytest.approx(run_length(1.0), rel=0.03)


def test_the_smallest_drift_seen_in_time_is_seen_in_time() -> None:
    assert run_length(seen_within(20.0)) == pytest.approx(20.0, rel=1e-6)
