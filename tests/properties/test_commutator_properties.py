"""What must hold of every profile, whatever it looks like."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from barwise.inspect.commutator.bell import log_share_below, quantile, share_below
from barwise.inspect.commutator.circles import KINDS, circle, exact
from barwise.inspect.commutator.plan import estimate
from barwise.inspect.commutator.profile import Profile, unwrapped

THOU = 25.4e-6


@st.composite
def profiles(draw: st.DrawFn) -> tuple[np.ndarray, np.ndarray]:
    """Angles and radii [m] of 24 to 62 bars, readings in whole tenths of a thou so that many are equal."""
    bars = draw(st.integers(24, 62))
    tenths = draw(st.lists(st.integers(-50, 50), min_size=bars, max_size=bars))
    angle = 2 * np.pi * np.arange(bars) / bars
    return angle, 0.015 + np.array(tenths) * THOU / 10


@settings(max_examples=60, deadline=None)
@given(profiles())
def test_no_centre_is_rounder_than_the_minimum_zone(profile: tuple[np.ndarray, np.ndarray]) -> None:
    zone = circle("minimum-zone", *profile)
    for kind in KINDS:
        assert zone.roundness_m <= circle(kind, *profile).roundness_m + 1e-12
    assert circle("maximum-inscribed", *profile).valley_m == pytest.approx(0, abs=1e-12)
    assert circle("minimum-circumscribed", *profile).peak_m == pytest.approx(0, abs=1e-12)


@settings(max_examples=40, deadline=None)
@given(profiles(), st.floats(-2, 2), st.floats(-2, 2))
def test_an_axis_that_is_out_changes_no_roundness(
    profile: tuple[np.ndarray, np.ndarray], x: float, y: float
) -> None:
    angle, radius = profile
    moved = radius + x * THOU * np.cos(angle) + y * THOU * np.sin(angle)
    for kind in KINDS[:2]:
        before, after = circle(kind, angle, radius), circle(kind, angle, moved)
        assert after.roundness_m == pytest.approx(before.roundness_m, abs=1e-12)


@settings(max_examples=30, deadline=None)
@given(profiles())
def test_the_limacon_is_as_good_as_the_circle_itself_for_a_commutator(
    profile: tuple[np.ndarray, np.ndarray],
) -> None:
    """The difference is of the order e²/R: 5 thou on 0.6 in, a few hundredths of a thou."""
    near, true = circle("minimum-zone", *profile), exact("minimum-zone", *profile)
    assert near.roundness_m == pytest.approx(true.roundness_m, abs=0.1 * THOU)


@settings(max_examples=40, deadline=None)
@given(profiles(), st.lists(st.integers(0, 61), min_size=1, max_size=4))
def test_turns_of_the_indicator_are_undone_whatever_they_hit(
    profile: tuple[np.ndarray, np.ndarray], places: list[int]
) -> None:
    _, radius = profile
    bars, value = len(radius), radius - radius[0]
    turn = 0.1 * 0.0254
    turns = np.zeros(bars)
    for place in places:
        turns[max(place % bars, 1) :] += 1
    walk = Profile(bars, np.arange(bars), np.full(bars, 0.5), value + turns * turn, THOU / 10)
    assert unwrapped(walk, turn)[0].value_m == pytest.approx(value, abs=1e-12)


@settings(max_examples=40, deadline=None)
@given(st.lists(st.floats(-1, 1), min_size=50, max_size=300))
def test_the_interval_holds_its_share_and_is_no_wider_than_the_middle_one(values: list[float]) -> None:
    draws = np.array(values)
    found = estimate(draws)
    assert np.mean((draws >= found.low_m) & (draws <= found.high_m)) >= 0.95
    outer = np.sort(draws)
    cut = int(0.025 * len(draws))
    assert found.high_m - found.low_m <= outer[len(draws) - 1 - cut] - outer[cut] + 1e-12


def test_the_table_of_the_normal_distribution_is_good_to_a_millionth() -> None:
    """scipy.special as the outside source."""
    from scipy.special import log_ndtr, ndtr, ndtri

    x = np.linspace(-8, 8, 4001)
    assert share_below(x) == pytest.approx(ndtr(x), abs=1e-6)
    assert log_share_below(x) == pytest.approx(log_ndtr(x), abs=0.04)
    share = np.linspace(1e-6, 1 - 1e-6, 2001)
    assert quantile(share) == pytest.approx(ndtri(share), abs=1e-3)
