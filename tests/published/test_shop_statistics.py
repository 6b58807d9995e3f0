"""The statistics of the shop's history against printed values."""

from __future__ import annotations

import numpy as np
import pytest

from barwise.errors import MeasurementError
from barwise.measure.drift import ewma, run_length
from barwise.measure.proportion import proportion
from barwise.measure.usual import tolerance_factor


def test_the_exact_interval_of_a_small_sample() -> None:
    """NIST/SEMATECH e-Handbook of Statistical Methods, 7.2.4.2: 4 defective of 20, 90 %.

    The page's question is read at the source; its two answers, 0.071354 and 0.401029, are from memory.
    """
    found = proportion(4, 20, 0.90)
    assert found.value == 0.2
    assert (found.low, found.high) == pytest.approx((0.071354, 0.401029), abs=1e-6)


def test_the_two_sided_tolerance_factor() -> None:
    """NIST/SEMATECH e-Handbook, 7.2.6.3: 43 wafers, 90 % of them, 99 % sure; 2.2173 as recomputed from it."""
    assert tolerance_factor(43, 0.90, 0.99) == pytest.approx(2.2173, abs=5e-5)


def test_a_moving_average_and_its_bounds() -> None:
    """NIST/SEMATECH e-Handbook, 6.3.2.4: 20 values, weight 0.3, s = 2.0539; figures from memory."""
    values = [52.0, 47.0, 53.0, 49.3, 50.1, 47.0, 51.0, 50.1, 51.2, 50.5]
    values += [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1]
    printed = [50.60, 49.52, 50.56, 50.18, 50.16, 49.21, 49.75, 49.85, 50.26, 50.33]
    printed += [50.11, 49.36, 49.52, 50.05, 49.38, 49.92, 50.73, 51.23, 51.94, 51.99]
    found = ewma((np.array(values) - 50) / 2.0539, weight=0.3, reach=3.0)
    assert 50 + 2.0539 * found.average == pytest.approx(np.array(printed), abs=0.006)
    assert 50 + 2.0539 * found.bound[-1] == pytest.approx(52.5884, abs=2e-4)
    assert not found.is_out


@pytest.mark.parametrize(
    ("weight", "reach", "shift", "printed"),
    [(0.1, 2.814, 0.0, 500), (0.1, 2.814, 1.0, 10.3), (0.2, 2.962, 0.0, 500), (0.2, 2.962, 1.0, 10.5)],
)
def test_how_long_a_drift_takes_to_show(weight: float, reach: float, shift: float, printed: float) -> None:
    """Lucas and Saccucci, Technometrics 32 (1990) 1-12, table of average run lengths, from memory."""
    assert run_length(shift, weight, reach) == pytest.approx(printed, rel=0.006)


def test_what_cannot_be_is_refused() -> None:
    with pytest.raises(MeasurementError, match="found 5 of 4"):
        proportion(5, 4)
    with pytest.raises(MeasurementError, match="level: found 1"):
        proportion(1, 4, 1.0)
    with pytest.raises(MeasurementError, match="expected at least 2"):
        tolerance_factor(1)
    with pytest.raises(MeasurementError, match="no number"):
        ewma([0.0, float("nan")])
    with pytest.raises(MeasurementError, match="weight: found 0"):
        ewma([0.0], weight=0.0)
