"""Quantities as people write them, and what is refused."""

from __future__ import annotations

import math

import pytest

from barwise.errors import MeasurementError
from barwise.measure.quantity import EXAMPLES, parse_quantity


@pytest.mark.parametrize(
    ("written", "dimension", "value", "digit"),
    [
        ("0.35 V", "voltage", 0.35, 0.01),
        ("350mV", "voltage", 0.35, 1e-3),
        ("36 ozf", "force", 36 * 4.4482216152605 / 16, 4.4482216152605 / 16),
        ("80 lbf.ft", "torque", 80 * 4.4482216152605 * 0.3048, 4.4482216152605 * 0.3048),
        ("-18 °C", "temperature", -18.0, 1.0),
        ("90 %", "share", 0.9, 0.01),
        ("0.27Ω", "resistance", 0.27, 0.01),
        ("1.20e-3 in", "length", 1.2e-3 * 0.0254, 1e-5 * 0.0254),
    ],
)
def test_a_quantity_is_read_in_si_with_its_last_digit(
    written: str, dimension: str, value: float, digit: float
) -> None:
    """Source: NIST Special Publication 811, 2008, B.8 (from memory) for pound-force, foot and inch."""
    found = parse_quantity(written, dimension)  # type: ignore[arg-type]
    assert found.value == pytest.approx(value, rel=1e-12)
    assert found.digit == pytest.approx(digit, rel=1e-9)


def test_a_temperature_in_fahrenheit_counts_from_its_own_zero_and_its_step_does_not() -> None:
    """Source: NIST Special Publication 811, 2008, B.8 (from memory): t/°C = (t/°F - 32) / 1.8."""
    found = parse_quantity("32.0 °F", "temperature")
    assert found.value == pytest.approx(0.0, abs=1e-12)
    assert found.digit == pytest.approx(0.1 / 1.8)


def test_what_stands_behind_plus_minus_and_the_last_digit_add_up_as_rectangular() -> None:
    """Source: JCGM 100:2008, 4.3.7 and F.2.2.1 (from memory): a / √3, and half a step / √3."""
    found = parse_quantity("10.0 V ± 1 %", "voltage")
    assert found.half_width == pytest.approx(0.1)
    assert found.standard_uncertainty == pytest.approx(math.hypot(0.1, 0.05) / math.sqrt(3))
    assert parse_quantity("10.0 V +/- 50 mV", "voltage").half_width == pytest.approx(0.05)


@pytest.mark.parametrize(
    ("written", "expected"),
    [
        ("ten volts", "a voltage with its unit"),
        ("11.8", "without a unit"),
        ("11,8 V", "a decimal point, not a comma"),
        ("nan V", "a voltage with its unit"),
        ("inf V", "a voltage with its unit"),
        ("1e400 V", "a voltage with its unit"),
        ("11.8 A", "a unit of current, expected voltage in V, mV, uV"),
        ("11.8 furlong", "expected voltage in"),
        ("11.8 V ± -1 V", "0 or more"),
        ("", "a voltage with its unit"),
        ("9" * 90 + " V", "a voltage with its unit"),
    ],
)
def test_what_is_no_voltage_is_refused_with_what_was_expected(written: str, expected: str) -> None:
    with pytest.raises(MeasurementError, match=f"(?s)^reading: found .*{expected}"):
        parse_quantity(written, "voltage", "reading")


@pytest.mark.parametrize("dimension", EXAMPLES)
def test_the_example_a_refusal_gives_can_be_read_itself(dimension: str) -> None:
    assert parse_quantity(EXAMPLES[dimension], dimension).value > 0  # type: ignore[arg-type]
