"""How a V-block shows lobes, against the table of ISO 4292.

ISO 4292:1985, table of factors F of the symmetric three-point method, dial opposite the V (from memory).
"""

from __future__ import annotations

import pytest

from barwise.inspect.shaft.lobes import two_point_factor, v_block_factor

# Lobes 2 to 10 at each angle of the V.
TABLE = {
    60: [0.00, 3.00, 0.00, 0.00, 3.00, 0.00, 0.00, 3.00, 0.00],
    90: [1.00, 2.00, 0.41, 2.00, 1.00, 0.00, 2.41, 0.00, 1.00],
    108: [1.38, 1.38, 0.00, 2.24, 0.00, 1.38, 1.38, 0.00, 2.24],
    120: [1.58, 1.00, 0.42, 2.00, 0.16, 2.00, 0.42, 1.00, 1.58],
}


@pytest.mark.parametrize("angle", [60, 90, 108, 120])
def test_the_factors_are_those_of_the_printed_table(angle: int) -> None:
    assert [abs(v_block_factor(lobes, angle)) for lobes in range(2, 11)] == pytest.approx(
        TABLE[angle], abs=0.006
    )


@pytest.mark.parametrize("lobes", range(2, 11))
def test_a_flat_plate_shows_what_two_points_show(lobes: int) -> None:
    """Two points: 2 for even lobes, 0 for odd ones (ISO 4292, from memory)."""
    assert abs(v_block_factor(lobes, 180)) == pytest.approx(two_point_factor(lobes), abs=1e-12)
