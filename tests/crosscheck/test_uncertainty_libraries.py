"""Uncertainty propagation against two independent libraries."""

from __future__ import annotations

import math

import GTC
import numpy as np
import pytest
import uncertainties
from hypothesis import given
from hypothesis import strategies as st

from barwise.measure.instrument import COPPER, STEEL, at_reference
from barwise.measure.uncertainty import Budget, Component, Estimate, propagate, propagate_correlated

small = st.floats(1e-6, 1e-3)


@given(st.floats(0.5, 5), st.floats(0.5, 5), small, small)
def test_a_product_and_a_ratio_agree_with_the_uncertainties_library(
    a: float, b: float, ua: float, ub: float
) -> None:
    """Source: the Python library uncertainties 3.2."""
    theirs = uncertainties.ufloat(a, ua) ** 2 / uncertainties.ufloat(b, ub)
    value, budget = propagate(lambda x: x[0] ** 2 / x[1], [Estimate(a, ua), Estimate(b, ub)])
    assert value == pytest.approx(theirs.nominal_value, rel=1e-12)
    assert budget.standard_uncertainty == pytest.approx(theirs.std_dev, rel=2e-5)


@given(
    st.lists(st.tuples(st.floats(-3, 3), st.floats(0.01, 2)), min_size=3, max_size=3), st.floats(-0.45, 0.9)
)
def test_correlated_inputs_agree_with_the_uncertainties_library(
    inputs: list[tuple[float, float]], correlation: float
) -> None:
    """Source: the Python library uncertainties 3.2, correlated_values."""
    values = [value for value, _ in inputs]
    spreads = np.array([spread for _, spread in inputs])
    alike = np.full((3, 3), correlation) + (1 - correlation) * np.eye(3)
    covariance = alike * np.outer(spreads, spreads)
    x, y, z = uncertainties.correlated_values(values, covariance)
    theirs = 2 * x - y + 0.5 * z
    value, ours = propagate_correlated(lambda v: 2 * v[0] - v[1] + 0.5 * v[2], values, covariance)
    assert value == pytest.approx(theirs.nominal_value, abs=1e-9)
    assert ours == pytest.approx(theirs.std_dev, rel=1e-6, abs=1e-7)


@given(st.lists(st.tuples(st.floats(0.01, 5), st.floats(0.1, 4), st.integers(2, 50)), min_size=2, max_size=6))
def test_effective_degrees_of_freedom_agree_with_the_gum_tree_calculator(
    parts: list[tuple[float, float, int]],
) -> None:
    """Source: the GUM Tree Calculator (GTC) 1.5, Measurement Standards Laboratory of New Zealand."""
    budget = Budget(tuple(Component("part", u, c, freedom) for u, c, freedom in parts))
    theirs = sum(c * GTC.ureal(0.0, u, freedom) for u, c, freedom in parts)
    assert budget.standard_uncertainty == pytest.approx(GTC.uncertainty(theirs), rel=1e-12)
    assert budget.degrees_of_freedom == pytest.approx(GTC.dof(theirs), rel=1e-9)


def test_a_warm_commutator_agrees_with_the_gum_tree_calculator() -> None:
    """Source: the GUM Tree Calculator (GTC) 1.5, on the same model."""
    given_ = (Estimate(0.031457, 1.5e-6), Estimate(27.0, 1.0), COPPER, Estimate(22.0, 0.5), STEEL)
    value, budget = at_reference(*given_)
    read, warm, cold = GTC.ureal(0.031457, 1.5e-6), GTC.ureal(27.0, 1.0), GTC.ureal(22.0, 0.5)
    copper = GTC.ureal(COPPER.expansion_per_k, COPPER.expansion_uncertainty_per_k)
    steel = GTC.ureal(STEEL.expansion_per_k, STEEL.expansion_uncertainty_per_k)
    theirs = read * (1 + steel * (cold - 20)) / (1 + copper * (warm - 20))
    assert value == pytest.approx(GTC.value(theirs), rel=1e-14)
    assert budget.standard_uncertainty == pytest.approx(GTC.uncertainty(theirs), rel=1e-7)


def test_shares_of_the_variance_add_up_to_one() -> None:
    budget = Budget((Component("a", 3.0), Component("b", 2.0, -2.0), Component("c", 0.0)))
    assert sum(budget.share(part) for part in budget.components) == pytest.approx(1)
    assert budget.standard_uncertainty == 5.0
    assert math.isinf(budget.degrees_of_freedom)
