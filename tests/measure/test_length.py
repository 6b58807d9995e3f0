"""Lengths as typed, and lengths that printed sheets give twice."""

from __future__ import annotations

import pytest

from barwise.errors import MeasurementError
from barwise.measure.length import parse_length


@pytest.mark.parametrize(
    ("written", "metres", "digit"),
    [
        ("1.2385 in", 0.0314579, 2.54e-6),
        ('1.2385"', 0.0314579, 2.54e-6),
        ("31.5mm", 0.0315, 1e-4),
        ("3 thou", 7.62e-5, 2.54e-5),
        ("50 µm", 5e-5, 1e-6),
        ("-0.5 thou", -1.27e-5, 2.54e-6),
    ],
)
def test_a_length_keeps_its_unit_and_its_last_digit(written: str, metres: float, digit: float) -> None:
    length = parse_length(written)
    assert length.metres == pytest.approx(metres, rel=1e-12)
    assert length.digit_m == pytest.approx(digit, rel=1e-12)


def test_a_bare_number_takes_the_unit_it_is_offered_and_none_other() -> None:
    assert parse_length("1.2385", "in").entered == "1.2385 in"
    with pytest.raises(MeasurementError, match="without a unit"):
        parse_length("1.2385")


@pytest.mark.parametrize(
    "written", ["", "in", "1,5 mm", "1.5 V", "1.5 furlong", "1e9 mm", "nan mm", "1.2.3 in"]
)
def test_what_is_no_length_is_refused(written: str) -> None:
    with pytest.raises(MeasurementError, match="expected"):
        parse_length(written)


@pytest.mark.parametrize(
    "written",
    [
        "0.003 in (0.08 mm)",
        "0.005 in (0.13 mm)",
        "0.008 in (0.2 mm)",
        "2 mm (0.08 in)",
        "1.38 in (35 mm)",
        "0.0008 in / 0.02 mm",
        "0.031 in (0.8 mm)",
    ],
)
def test_two_units_that_agree_within_their_rounding_are_one_length(written: str) -> None:
    """Limits for run-out, undercut and diameter as printed in US Army TM 5-6115-593-34,
    TM 10-3930-653-14&P and TM 9-2815-255-24.
    """
    assert written.startswith(parse_length(written).entered)


@pytest.mark.parametrize(
    ("written", "both"),
    [
        # US Army TM 9-2815-255-24, p. 3-38: run-out of a commutator, a factor of ten apart.
        ("0.00197 in (0.5 mm)", "0.00197 in and 0.5 mm"),
        # US Army TM 10-3930-653-14&P, p. 4-98: undercut, "0 31 in" for 0.031 in.
        ("0.8 mm (0.31 in)", "0.8 mm and 0.31 in"),
    ],
)
def test_a_slipped_decimal_of_a_printed_sheet_is_refused_with_both_numbers(written: str, both: str) -> None:
    """Source: the manuals named beside each case; the slips are theirs."""
    with pytest.raises(MeasurementError, match=both):
        parse_length(written)
