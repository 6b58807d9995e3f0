"""Copper's resistance against temperature, against printed values."""

from __future__ import annotations

import math

import pytest

from barwise.errors import MeasurementError
from barwise.machine.copper import resistance_at, temperature_from


def test_from_20_to_75_degrees_the_resistance_grows_by_216_thousandths() -> None:
    """(234.5 + 75) / (234.5 + 20), NEMA MG 1 and IEEE 118 (from memory); 1.21615 with 0.00393 per degree."""
    assert resistance_at(1.0, 20.0, 75.0) == pytest.approx(1.216110, abs=1e-6)
    assert resistance_at(1.0, 20.0, 75.0) == pytest.approx(1 + 0.00393 * 55, rel=5e-5)


def test_80_ohms_at_20_degrees_that_became_100_is_at_84_degrees() -> None:
    """The rise is 63.63 K: physicsforums.com, thread 381286, a worked exercise."""
    assert temperature_from(100.0, 80.0, 20.0) - 20 == pytest.approx(63.63, abs=0.01)


def test_a_rotor_limit_at_80_fahrenheit_is_lower_at_20_degrees() -> None:
    """10.9 to 11.4 ohm at 80 degF, TM 5-3805-262-34 p. 3-213; at 20 °C by the same rule, derived."""
    warm_c = (80 - 32) / 1.8
    assert resistance_at(10.9, warm_c) == pytest.approx(10.622, abs=5e-4)
    assert resistance_at(11.4, warm_c) == pytest.approx(11.109, abs=5e-4)


def test_there_and_back_is_the_same_resistance() -> None:
    """Derived."""
    assert resistance_at(resistance_at(0.0042, 12.0, 88.0), 88.0, 12.0) == pytest.approx(0.0042, rel=1e-14)


@pytest.mark.parametrize("celsius", [-234.5, -300.0, 1000.0, math.nan, math.inf])
def test_a_temperature_no_winding_can_have_is_refused(celsius: float) -> None:
    """Derived: the rule divides by nothing at -234.5 °C; copper melts at 1085 °C (handbooks, memory)."""
    with pytest.raises(MeasurementError, match="temperature"):
        resistance_at(1.0, celsius)
    with pytest.raises(MeasurementError, match="temperature"):
        temperature_from(1.0, 1.0, celsius)


def test_a_resistance_of_nothing_has_no_temperature() -> None:
    """Derived."""
    with pytest.raises(MeasurementError, match="resistance"):
        temperature_from(0.0, 1.0, 20.0)
