"""Two rings shrunk together, against the differential equation solved by finite differences.

Radial displacement u of a thin disc without axial stress: u'' + u'/r - u/r² = 0; stress E / (1 - nu²)
(u' + nu u / r). Textbooks of elasticity (from memory); the differences share nothing with Lame's solution.
"""

from __future__ import annotations

import numpy as np
import pytest
from scipy.linalg import solve_banded

from barwise.errors import MeasurementError
from barwise.inspect.bearings.press_fit import BRONZE, CAST_IRON, SMEARED, STEEL, Ring, pressed_in
from barwise.measure.uncertainty import Estimate

MM = 1e-3


def displacement_at_bore(inner: float, outer: float, outside_pressure: float, ring: Ring) -> float:
    """Of a ring with pressure on its outside [m]."""
    n = 4001
    r = np.linspace(inner, outer, n)
    h = r[1] - r[0]
    system, right = np.zeros((3, n)), np.zeros(n)
    system[0, 2:] = 1 / h**2 + 1 / (2 * h * r[1:-1])
    system[1, 1:-1] = -2 / h**2 - 1 / r[1:-1] ** 2
    system[2, :-2] = 1 / h**2 - 1 / (2 * h * r[1:-1])
    stiff = ring.modulus_pa / (1 - ring.poisson**2)
    # Ends by one-sided differences of first order: the grid is fine enough.
    system[1, 0], system[0, 1] = -1 / h + ring.poisson / r[0], 1 / h
    system[1, -1], system[2, -2] = 1 / h + ring.poisson / r[-1], -1 / h
    right[-1] = -outside_pressure / stiff
    return float(solve_banded((1, 1), system, right)[0])


UM = 1e-6


def pressed(housing: Ring = CAST_IRON, bush: Ring = BRONZE, outside: float = 26.0):
    sizes = [Estimate(size * MM, UM) for size in (12.05, 16.04, 16.00)]
    return pressed_in(*sizes, outside * MM, bush, housing)


def test_the_bore_closes_as_the_differential_equation_says() -> None:
    found = pressed()
    pressure = found.pressure_pa * (1 - sum(SMEARED) / 2)
    by_differences = -2 * displacement_at_bore(12.05e-3 / 2, 16.00e-3 / 2, pressure, BRONZE)
    assert found.closing.value == pytest.approx(by_differences, rel=0.003)


def test_a_thin_bush_in_a_stiff_housing_closes_by_nearly_all_its_interference() -> None:
    """Derived: with a rigid housing the interference goes whole into the bush's outside."""
    rigid = Ring("rigid", 1e15, 0.0, 0.3)
    sizes = [Estimate(size * MM, 0.0) for size in (15.0, 16.04, 16.00)]
    found = pressed_in(*sizes, 40e-3, BRONZE, rigid)
    left = found.interference.value * (1 - sum(SMEARED) / 2)
    assert found.closing.value / left == pytest.approx(1.0, abs=0.05)


def test_a_weak_housing_gives_more_so_the_bore_closes_less() -> None:
    assert pressed(outside=18.0).closing.value < pressed(outside=40.0).closing.value
    assert pressed(CAST_IRON).closing.value < pressed(STEEL).closing.value


def test_what_is_left_of_the_bore_is_before_less_closing_with_the_doubt_of_the_roughness() -> None:
    found = pressed()
    assert found.bore.value == pytest.approx(12.05e-3 - found.closing.value)
    assert found.bore.standard_uncertainty > 0.05 * found.closing.value


@pytest.mark.parametrize(
    ("sizes", "said"),
    [((12.05, 15.98, 16.00), "loose"), ((17, 16.04, 16.00), "each larger"), ((12, 20, 16), "another unit"),
     ((float("nan"), 16.04, 16.0), "above 0")],
)  # fmt: skip
def test_sizes_that_cannot_be_are_refused(sizes: tuple[float, ...], said: str) -> None:
    with pytest.raises(MeasurementError, match=said):
        pressed_in(*(Estimate(size * MM, 0.0) for size in sizes), 26e-3)
