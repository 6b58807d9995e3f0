"""Draws of a posterior, against SciPy's t distribution, integrals in closed form and plain Monte Carlo."""

from __future__ import annotations

import math

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.stats import multivariate_t, norm

from barwise.inspect.run_test import Point
from barwise.inspect.run_test.causes import Cause, causes_for
from barwise.inspect.run_test.fit import explain_all
from barwise.inspect.run_test.nominal import unit_prior
from barwise.inspect.run_test.prediction import Group, Problem, problem, residuals, width
from barwise.inspect.run_test.sampling import Mixture, sampled
from barwise.measure.uncertainty import Estimate
from tests.inspect.test_run_trouble_table import AMPS, SPEED, VOLTS, sheet

Array = NDArray[np.float64]


def two_parts() -> Mixture:
    roots = np.array([[[1.0, 0.0], [0.5, 0.3]], [[0.4, 0.1], [0.0, 2.0]]])
    return Mixture(np.array([0.3, 0.7]), np.array([[0.0, 1.0], [2.0, -1.0]]), roots)


def test_a_mixtures_density_is_that_of_scipys_t_distributions() -> None:
    mixture, at = two_parts(), np.random.default_rng(1).normal(0, 2, (50, 2))
    parts = zip(mixture.shares, mixture.middles, mixture.roots, strict=True)
    expected = sum(
        share * multivariate_t(middle, root @ root.T, df=8).pdf(at) for share, middle, root in parts
    )
    assert mixture.log_density(at) == pytest.approx(np.log(expected), abs=1e-12)


def test_draws_of_a_mixture_lie_as_its_parts_say() -> None:
    """A t distribution of 8 degrees of freedom has 8/6 of its scale matrix as covariance."""
    mixture = two_parts()
    draws = mixture.drawn(200_000)
    middle = mixture.shares @ mixture.middles
    spread = sum(
        share * (root @ root.T * 8 / 6 + np.outer(at - middle, at - middle))
        for share, at, root in zip(mixture.shares, mixture.middles, mixture.roots, strict=True)
    )
    assert draws.mean(0) == pytest.approx(middle, abs=0.02)
    assert np.cov(draws.T) == pytest.approx(spread, rel=0.03, abs=0.03)


@pytest.mark.parametrize("thick", [0.5, 0.05])
def test_a_bent_ridge_is_drawn_to_its_ends_and_its_integral_is_right(thick: float) -> None:
    """Normal in x and, about a parabola, in y: the integral is 1, and x is standard normal."""

    def log_joint(draws: Array) -> Array:
        x, y = draws.T
        return np.asarray(norm.logpdf(x) + norm.logpdf(y, 0.5 * x**2, thick))

    places = np.array([-2.2, -1.1, 0.0, 1.1, 2.2])
    middles = np.column_stack([places, 0.5 * places**2])
    roots = np.array([[[0.8, 0.0], [0.8 * place, thick]] for place in places])
    found = sampled(log_joint, Mixture(np.full(5, 0.2), middles, roots))
    assert found.log_total == pytest.approx(0.0, abs=0.08)
    order = np.argsort(found.draws[:, 0])
    reached = np.cumsum(found.shares[order])
    ends = found.draws[order, 0][np.searchsorted(reached, [0.025, 0.5, 0.975])]
    assert ends == pytest.approx(norm.ppf([0.025, 0.5, 0.975]), abs=0.25)


def plainly(asked: Problem, cause: Cause, count: int = 150_000) -> tuple[float, Array, Array]:
    """Evidence, draws and weights by draws from the prior itself, weighed by the likelihood alone."""
    columns = width(asked.prior, asked.points, cause.unknowns)
    draws = np.random.default_rng(3).standard_normal((count, columns))
    left = residuals(asked, [Group(cause, slice(0, count))], draws, cause.unknowns)
    likelihood = np.exp(-0.5 * (left**2).sum(1))
    return math.log(likelihood.mean()), draws, likelihood / likelihood.sum()


@pytest.mark.parametrize(
    "key", ["healthy", "friction", "shorted-armature", "brush-contact", "high-resistance"]
)
def test_evidence_and_sizes_of_faults_are_those_of_plain_monte_carlo(key: str) -> None:
    """With meters of 4 % enough draws of the prior come near the readings for that."""
    point = Point(
        "no-load",
        Estimate(VOLTS, 0.01 * VOLTS),
        Estimate(1.25 * AMPS, 0.04 * 1.25 * AMPS),
        Estimate(0.85 * SPEED, 0.04 * 0.85 * SPEED),
        None,
        Estimate(20.0, 2.0),
    )
    asked = problem(unit_prior(sheet()), [point])
    cause = next(one for one in causes_for(asked.sheet) if one.key == key)
    (found,) = explain_all(asked, [cause])
    evidence, draws, weights = plainly(asked, cause)
    assert 1 / (weights**2).sum() > 200  # else the reference is none
    assert found.log_evidence == pytest.approx(evidence, abs=0.25)
    size = len(asked.prior.parameters)
    for unknown in range(size, size + cause.unknowns):
        ends = [quantiles(draws[:, unknown], weights), quantiles(found.draws[:, unknown], found.weights)]
        assert ends[1] == pytest.approx(ends[0], abs=0.35)


def quantiles(values: Array, weights: Array) -> Array:
    order = np.argsort(values)
    reached = np.cumsum(weights[order])
    places = np.searchsorted(reached, [0.05, 0.5, 0.95])
    return np.asarray(values[order][np.minimum(places, len(values) - 1)])
