"""Instruments, repeats and warm parts."""

from __future__ import annotations

import math

import numpy as np
import pytest

from barwise.errors import MeasurementError
from barwise.measure.instrument import COPPER, STEEL, Instrument, Material, at_reference, measured
from barwise.measure.uncertainty import Estimate

TOOL = Instrument("micrometer", 1e-5, repeatability_m=3e-6).with_certificate(4e-6, 2.0)


def test_resolution_calibration_and_repeats_add_as_squares() -> None:
    """Source: JCGM 100:2008, F.2.2.1, 4.3.3 and 4.2.3 (from memory): step / √12, U / k, s / √n."""
    expected = math.sqrt(1e-5**2 / 12 + 2e-6**2 + 3e-6**2 / 9)
    assert TOOL.standard_uncertainty_m(9) == pytest.approx(expected)
    assert TOOL.fixed_uncertainty_m == pytest.approx(math.sqrt(1e-5**2 / 12 + 2e-6**2))


def test_repeats_never_go_below_what_is_fixed() -> None:
    assert TOOL.standard_uncertainty_m(10**9) == pytest.approx(TOOL.fixed_uncertainty_m, rel=1e-6)


def test_a_spread_seen_only_in_the_readings_has_few_degrees_of_freedom() -> None:
    readings = [0.0310, 0.0311, 0.0313]
    found = measured(Instrument("caliper", 0.0), readings)
    assert found.value_m == pytest.approx(np.mean(readings))
    assert found.budget.standard_uncertainty == pytest.approx(np.std(readings, ddof=1) / math.sqrt(3))
    assert found.budget.degrees_of_freedom == pytest.approx(2)
    assert found.estimated


def test_a_known_repeatability_is_kept_however_well_the_readings_agree() -> None:
    found = measured(TOOL, [0.031, 0.031])
    assert found.repeatability_m == 3e-6
    assert math.isinf(found.budget.degrees_of_freedom)


def test_copper_over_a_cold_steel_micrometer_reads_long() -> None:
    """Derived: 40 mm, 10 K warmer, 16.5e-6 per K: 6.60 µm too long; both warm, net 2.00 µm.

    Expansion of steel 11.5e-6 per K: Swyt, J. Res. NIST 99, 31 (1994); of copper: from memory.
    """
    copper, steel = Material("copper", 16.5e-6), Material("steel", 11.5e-6)
    warm, cold, read = Estimate(30.0, 0.0), Estimate(20.0, 0.0), Estimate(0.040, 0.0)
    part_only, _ = at_reference(read, warm, copper, cold, steel)
    both, _ = at_reference(read, warm, copper, None, steel)
    assert (0.040 - part_only) * 1e6 == pytest.approx(6.60, abs=0.005)
    assert (0.040 - both) * 1e6 == pytest.approx(2.00, abs=0.005)


def test_one_temperature_for_both_is_less_uncertain_than_two() -> None:
    read, warm = Estimate(0.040, 1e-6), Estimate(25.0, 2.0)
    _, together = at_reference(read, warm)
    _, apart = at_reference(read, warm, COPPER, Estimate(25.0, 2.0), STEEL)
    assert together.standard_uncertainty < apart.standard_uncertainty


@pytest.mark.parametrize(
    "wrong",
    [
        lambda: Instrument("x", -1e-6),
        lambda: Instrument("x", math.nan),
        lambda: TOOL.budget(0),
        lambda: TOOL.with_certificate(1e-6, 0.0),
        lambda: measured(TOOL, []),
        lambda: measured(TOOL, [1.0, 2.0], repeats=3),
    ],
)
def test_figures_no_instrument_has_are_refused(wrong) -> None:
    with pytest.raises(MeasurementError, match="expected"):
        wrong()
