"""The decision rule against SciPy's distributions and against itself."""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy import stats

from barwise.errors import MeasurementError
from barwise.measure.decision import Limit, acceptance, conformity, decide, what_settles

values = st.floats(-5, 5)
spreads = st.floats(0.01, 20)
freedoms = st.sampled_from([math.inf, 1.0, 2.5, 8.0, 60.0])


@st.composite
def limits(draw: st.DrawFn) -> Limit:
    lower = draw(st.floats(-3, 3))
    upper = lower + draw(st.floats(0.01, 6))
    return draw(st.sampled_from([Limit(lower, upper), Limit(lower), Limit(None, upper)]))


@given(values, spreads, limits(), freedoms)
def test_probability_of_conformity_agrees_with_scipy(
    value: float, spread: float, limit: Limit, freedom: float
) -> None:
    """Source: scipy.stats.norm and t, a reference library."""
    state = stats.norm(value, spread) if math.isinf(freedom) else stats.t(freedom, value, spread)
    upper = 1.0 if limit.upper is None else state.cdf(limit.upper)
    lower = 0.0 if limit.lower is None else state.cdf(limit.lower)
    within, beyond = conformity(value, spread, limit, freedom)
    assert within == pytest.approx(upper - lower, abs=1e-12)
    assert within + beyond == pytest.approx(1, abs=1e-12)


def test_a_very_small_chance_is_not_lost_to_rounding() -> None:
    """Source: scipy.stats.norm.sf, a reference library."""
    within, _ = conformity(100.0, 1.0, Limit(0.0, 70.0))
    assert within == pytest.approx(stats.norm.sf(30), rel=1e-9)
    assert conformity(20.0, 1.0, Limit(lower=0.0))[1] == pytest.approx(stats.norm.sf(20), rel=1e-9)


@given(values, spreads, limits(), freedoms)
def test_a_value_is_accepted_exactly_within_the_acceptance_interval(
    value: float, spread: float, limit: Limit, freedom: float
) -> None:
    decision = decide(value, spread, limit, degrees_of_freedom=freedom)
    if decision.acceptance is None:
        assert decision.outcome != "accept"
    elif min(abs(value - side) for side in sides(decision.acceptance)) > 1e-9:
        assert (decision.outcome == "accept") == decision.acceptance.holds(value)


def sides(limit: Limit) -> list[float]:
    return [side for side in (limit.lower, limit.upper) if side is not None]


@given(values, spreads, limits())
def test_what_is_said_to_settle_it_does(value: float, spread: float, limit: Limit) -> None:
    assume(min(abs(value - side) for side in sides(limit)) > 1e-6)
    decision = decide(value, spread, limit)
    settling = what_settles(decision, 0.8 * spread, 0.6 * spread)
    if decision.outcome != "undecided":
        assert settling is None
        return
    assert settling is not None
    enough = settling.standard_uncertainty
    assert decide(value, enough * (1 - 1e-9), limit).outcome == settling.outcome
    assert decide(value, enough * (1 + 1e-6), limit).outcome == "undecided"
    if settling.repeats is not None:
        mean = math.hypot(0.8 * spread / math.sqrt(settling.repeats), 0.6 * spread)
        fewer = math.hypot(0.8 * spread / math.sqrt(settling.repeats - 1), 0.6 * spread)
        assert decide(value, mean, limit).outcome == settling.outcome
        assert decide(value, fewer, limit).outcome == "undecided"


def test_repeats_cannot_help_where_the_calibration_is_too_coarse() -> None:
    decision = decide(1.02, 0.05, Limit(lower=1.0))
    coarse = what_settles(decision, 0.04, 0.03)
    assert coarse is not None
    assert coarse.repeats is None
    fine = what_settles(decision, 0.04, 0.01)
    assert fine is not None
    # 0.02 / 1.645 = 0.01216 is needed; 0.04² / n + 0.01² must be at most its square: n = 33.4.
    assert fine.repeats == 34


def test_repeats_of_an_unknown_spread_ask_for_a_few_more() -> None:
    decision = decide(1.02, 0.02, Limit(lower=1.0))
    known = what_settles(decision, 0.02, 0.0)
    estimated = what_settles(decision, 0.02, 0.0, estimated=True)
    assert known is not None
    assert estimated is not None
    # t(0.95; n - 1) / √n must fall to 1: 2.353 / √4 is 1.18, 2.132 / √5 is 0.95.
    assert (known.repeats, estimated.repeats) == (3, 5)


def test_a_reading_within_its_limits_is_never_refused_because_the_instrument_is_coarse() -> None:
    decision = decide(1.230, 0.1, Limit(1.226, 1.236))
    assert decision.nonconforming > 0.95
    assert decision.acceptance is None
    assert decision.outcome == "undecided"


def test_an_exact_value_is_decided_by_the_limit_itself() -> None:
    limit = Limit(1.0, 2.0)
    assert [decide(v, 0.0, limit).outcome for v in (0.999, 1.0, 2.0, 2.001)] == [
        "reject",
        "accept",
        "accept",
        "reject",
    ]
    assert acceptance(0.0, limit) == limit


def test_a_value_on_its_limit_is_settled_by_nothing() -> None:
    settling = what_settles(decide(1.0, 0.1, Limit(lower=1.0)), 0.1, 0.0)
    assert settling is not None
    assert (settling.outcome, settling.repeats) == ("undecided", None)


def test_few_degrees_of_freedom_ask_for_a_wider_guard() -> None:
    """Source: t(0.95; 2) = 2.920, JCGM 100:2008, table G.2 (from memory)."""
    decision = decide(1.0, 0.1, Limit(lower=0.0), degrees_of_freedom=2)
    assert decision.guard_band == pytest.approx(0.2920, abs=5e-5)


def test_limits_ten_times_apart_look_like_a_lost_digit() -> None:
    """Common practice, no source: a sheet that prints 360 to 5400 rev/min has lost a nought."""
    assert Limit(360, 5400).looks_like_a_lost_digit
    assert not Limit(3600, 5400).looks_like_a_lost_digit
    assert not Limit(0, 5400).looks_like_a_lost_digit


@pytest.mark.parametrize(
    "wrong",
    [
        lambda: Limit(),
        lambda: Limit(2.0, 1.0),
        lambda: Limit(math.nan),
        lambda: decide(math.nan, 1.0, Limit(0.0)),
        lambda: decide(1.0, -1.0, Limit(0.0)),
        lambda: decide(1.0, math.inf, Limit(0.0)),
        lambda: decide(1.0, 1.0, Limit(0.0), level=0.5),
        lambda: decide(1.0, 1.0, Limit(0.0), level=1.0),
        lambda: decide(1.0, 1.0, Limit(0.0), degrees_of_freedom=0),
    ],
)
def test_what_cannot_be_judged_is_refused(wrong) -> None:
    with pytest.raises(MeasurementError, match=r"expected|swapped"):
        wrong()
