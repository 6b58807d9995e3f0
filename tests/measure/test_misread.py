"""The misread question: common practice, no source, for how often each slip happens."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from barwise.errors import MeasurementError
from barwise.measure.length import parse_length
from barwise.measure.misread import ASK_BELOW, PRIORS, MisreadCheck, check_misread

INCH = 0.0254


def check(typed: str, expected: float, sd: float = 0.002) -> MisreadCheck:
    return check_misread(parse_length(typed), expected * INCH, sd * INCH)


@pytest.mark.parametrize(
    ("typed", "expected", "slip"),
    [
        ("1.2635 in", 1.2385, "one-turn"),
        ("1.2135 in", 1.2385, "one-turn"),
        ("1.3385 in", 1.2385, "numbered-line"),
        ("2.2385 in", 1.2385, "whole-frame"),
        ("1.2835 in", 1.2385, "digits-swapped"),
        ("1.1900 in", 1.2500, "other"),
    ],
)
def test_a_slip_is_asked_about_and_named(typed: str, expected: float, slip: str) -> None:
    found = check(typed, expected)
    assert found.ask
    assert found.best_slip.slip == slip
    assert found.explanations[0].slip == slip


def test_the_metric_slips_are_half_a_millimetre_and_a_frame_of_25() -> None:
    turn = check_misread(parse_length("31.957 mm"), 0.031457, 5e-5)
    assert turn.best_slip.slip == "one-turn"
    assert turn.best_slip.metres == pytest.approx(0.031457)
    assert check_misread(parse_length("56.457 mm"), 0.031457, 5e-5).best_slip.slip == "whole-frame"


def test_a_vernier_left_out_is_weighed_only_where_it_can_have_been() -> None:
    sharp = check("1.238 in", 1.2389, 0.00005)
    assert sharp.ask
    assert sharp.best_slip.slip == "no-vernier"
    assert sharp.best_slip.metres == pytest.approx(1.2389 * INCH)
    assert all(way.slip != "no-vernier" for way in check("1.2385 in", 1.2385).explanations)


def test_a_reading_that_fits_is_not_asked_about() -> None:
    fits = check("1.2385 in", 1.2400)
    assert not fits.ask
    assert fits.as_read > 0.99


def test_two_explanations_are_weighed_as_bayes_rule_says() -> None:
    """Derived: odds of one turn too much against right as read, two ways of a turn sharing its prior."""
    sd = 0.010
    found = check("1.2485 in", 1.2385, sd)
    odds = {way.slip: way.probability for way in found.explanations if way.slip in ("as-read", "one-turn")}
    low = next(w for w in found.explanations if w.slip == "one-turn" and w.too_large_m > 0)
    expected = PRIORS["one-turn"] / 2 * math.exp(-0.5 * 1.5**2) / (PRIORS["as-read"] * math.exp(-0.5))
    assert low.probability / odds["as-read"] == pytest.approx(expected, rel=1e-9)


@given(st.integers(1000, 59999), st.floats(0.05, 5.9), st.floats(1e-4, 0.5))
def test_probabilities_add_up_and_the_typed_reading_is_left_alone(
    steps: int, expected: float, sd: float
) -> None:
    typed = parse_length(f"{steps / 10000:.4f} in")
    found = check_misread(typed, expected * INCH, sd * INCH)
    assert sum(way.probability for way in found.explanations) == pytest.approx(1)
    assert found.ask == (found.as_read < ASK_BELOW)
    as_read = next(way for way in found.explanations if way.slip == "as-read")
    assert as_read.metres == typed.metres
    assert all(way.metres is None or way.metres > 0 for way in found.explanations)


def test_the_priors_add_up_to_one() -> None:
    assert sum(PRIORS.values()) == pytest.approx(1)


@pytest.mark.parametrize(("expected", "sd"), [(1.0, 0.0), (0.0, 0.1), (math.nan, 0.1), (1.0, math.inf)])
def test_an_expectation_without_a_spread_is_refused(expected: float, sd: float) -> None:
    with pytest.raises(MeasurementError, match="expected"):
        check("1.2385 in", expected, sd)
