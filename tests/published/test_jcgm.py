"""The guides to uncertainty and to conformity assessment: their worked numbers, and derived ones."""

from __future__ import annotations

import math

import pytest

from barwise.measure.decision import Limit, acceptance, decide
from barwise.measure.distribution import coverage_factor, quantile
from barwise.measure.risk import global_risks
from barwise.measure.uncertainty import Budget, Estimate, arcsine, propagate, rectangular

STANDARD_NM, DIFFERENCE_NM = 50_000_623.0, 215.0
EXPANSION_PER_K, ROOM_K = 11.5e-6, -0.1


def gauge_block() -> tuple[float, Budget]:
    """Length [nm] of an end gauge compared with a standard, and its budget.

    The standard's length, the comparator's difference (its mean of five, its random and its systematic
    part), expansion, room temperature with its swing, differences of expansion and of temperature.
    """
    inputs = {
        "standard": Estimate(STANDARD_NM, 25.0, 18),
        "difference": Estimate(DIFFERENCE_NM, 5.8, 24),
        "comparator random": Estimate(0.0, 3.9, 5),
        "comparator systematic": Estimate(0.0, 6.7, 8),
        "expansion": Estimate(EXPANSION_PER_K, rectangular(2e-6)),
        "room": Estimate(ROOM_K, 0.2),
        "swing": Estimate(0.0, arcsine(0.5)),
        "difference of expansion": Estimate(0.0, rectangular(1e-6), 50),
        "difference of temperature": Estimate(0.0, rectangular(0.05), 2),
    }

    def length(given) -> float:
        standard, difference, random, systematic, expansion, room, swing, apart, warmer = given
        warmth = apart * (room + swing) + expansion * warmer
        return standard + difference + random + systematic - standard * warmth

    return propagate(length, list(inputs.values()), list(inputs))


def test_the_end_gauge_comes_out_as_printed() -> None:
    """JCGM 100:2008, annex H.1: 50 000 838 nm with u = 32 nm. Inputs as in the documentation of the
    GUM Tree Calculator, H.1 (Measurement Standards Laboratory of New Zealand).
    """
    value, budget = gauge_block()
    assert round(value) == 50_000_838
    assert round(budget.standard_uncertainty) == 32
    assert budget.standard_uncertainty == pytest.approx(31.663879, abs=5e-6)


@pytest.mark.parametrize(
    ("name", "contribution_nm"),
    [
        ("standard", 25.0),
        ("difference of temperature", 16.599),
        ("comparator systematic", 6.7),
        ("difference", 5.8),
        ("comparator random", 3.9),
        ("difference of expansion", 2.88679),
        ("expansion", 0.0),
        ("room", 0.0),
    ],
)
def test_each_contribution_to_the_end_gauge_is_as_printed(name: str, contribution_nm: float) -> None:
    """JCGM 100:2008, annex H.1, through the documentation of the GUM Tree Calculator."""
    _, budget = gauge_block()
    part = next(part for part in budget.components if part.name == name)
    assert part.contribution == pytest.approx(contribution_nm, abs=6e-4)


def test_the_end_gauges_degrees_of_freedom_and_expanded_uncertainty_are_as_printed() -> None:
    """JCGM 100:2008, H.1.6 (from memory): 16 degrees of freedom, t(99 %) = 2.92, U = 93 nm."""
    _, budget = gauge_block()
    assert budget.degrees_of_freedom == pytest.approx(16.751856, abs=5e-6)
    factor = coverage_factor(0.99, math.floor(budget.degrees_of_freedom))
    assert factor == pytest.approx(2.92, abs=0.005)
    assert round(factor * round(budget.standard_uncertainty)) == 93


@pytest.mark.parametrize(
    ("level", "deviation"), [(0.80, 0.84), (0.90, 1.28), (0.95, 1.64), (0.99, 2.33), (0.999, 3.09)]
)
def test_the_table_of_one_sided_conformity_is_reproduced(level: float, deviation: float) -> None:
    """JCGM 106:2012, table 1 (numbers from memory): p = 0.80 at z = 0.84 ... 0.999 at 3.09."""
    # Printed to two digits; 1.6449 stands there as 1.64.
    assert quantile(level) == pytest.approx(deviation, abs=0.0055)
    edge = acceptance(1.0, Limit(upper=0.0), level)
    assert edge is not None
    assert edge.upper == pytest.approx(-quantile(level))


@pytest.mark.parametrize(
    ("factor", "degrees", "printed"),
    [
        (0.95, 1, 12.71),
        (0.95, 5, 2.57),
        (0.95, 10, 2.23),
        (0.95, 20, 2.09),
        (0.99, 16, 2.92),
        (0.95, 1e9, 1.960),
    ],
)
def test_coverage_factors_are_those_of_the_t_table(factor: float, degrees: float, printed: float) -> None:
    """JCGM 100:2008, table G.2 (from memory)."""
    assert coverage_factor(factor, degrees) == pytest.approx(printed, abs=0.0055)


def test_global_risks_of_a_two_sided_tolerance() -> None:
    """Derived with scipy.integrate.quad; the inputs are those of JCGM 106:2012, 9.5.4, from memory:
    1500 ± 0.2 ohm, parts scatter by 0.12, the meter by 0.04; guard band none, then 2 · 0.04.
    """
    limit = Limit(1499.8, 1500.2)
    simple = global_risks(1500.0, 0.12, 0.04, limit, limit)
    assert simple.conforming == pytest.approx(0.904419, abs=5e-7)
    assert simple.consumer == pytest.approx(0.018942, abs=5e-7)
    assert simple.producer == pytest.approx(0.037208, abs=5e-7)
    guarded = global_risks(1500.0, 0.12, 0.04, limit, Limit(1499.88, 1500.12))
    assert guarded.consumer == pytest.approx(0.000469, abs=5e-7)
    assert guarded.producer == pytest.approx(0.247670, abs=5e-7)


@pytest.mark.parametrize(
    ("read", "outcome"), [(1.6475, "accept"), (1.6472, "undecided"), (1.6466, "reject"), (1.6474, "accept")]
)
def test_a_guard_band_of_the_expanded_uncertainty_is_the_rule_at_one_level(read: float, outcome: str) -> None:
    """Derived; the rule is that of ISO 14253-1:2017 (from memory): at the lower limit 1.6470 in with
    U = 0.0003 in (k = 2) conform from 1.6473 in, not conform below 1.6467 in.
    """
    level = 0.9772498680518208
    assert quantile(level) == pytest.approx(2.0)
    assert decide(read, 0.00015, Limit(lower=1.6470), level).outcome == outcome


def test_the_undecided_one_conforms_with_the_derived_probability() -> None:
    """Derived: (1.6472 - 1.6470) / 0.00015 = 1.3333 and F(1.3333) = 0.90879."""
    decision = decide(1.6472, 0.00015, Limit(lower=1.6470))
    assert decision.conforming == pytest.approx(0.90879, abs=5e-6)
