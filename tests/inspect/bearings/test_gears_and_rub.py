"""Ratio and assembly of reduction gears, backlash, and whether the armature can touch its pole shoes.

Ratios and the assembly condition: textbooks of machine design (from memory).
"""

from __future__ import annotations

import numpy as np
import pytest

from barwise.errors import MeasurementError
from barwise.inspect.bearings.gears import Offset, Planetary, backlash, pitch_radius_m
from barwise.inspect.bearings.rub import Bearing, rub
from barwise.measure.uncertainty import Estimate

MM = 1e-3


def exact(value_mm: float) -> Estimate:
    return Estimate(value_mm * MM, 0.0)


@pytest.mark.parametrize(
    ("sun", "ring", "planets", "ratio", "together"),
    [(12, 48, 3, 5.0, True), (11, 46, 3, 57 / 11, True), (12, 48, 4, 5.0, True), (13, 47, 7, 60 / 13, False)],
)
def test_a_planet_set_has_its_ratio_and_goes_together_or_not(
    sun: int, ring: int, planets: int, ratio: float, together: bool
) -> None:
    found = Planetary(sun, ring, planets)
    assert found.ratio == pytest.approx(ratio)
    assert found.goes_together is together


def test_the_ratio_is_what_the_speeds_of_sun_and_carrier_say() -> None:
    """Willis: (sun - carrier) / (ring - carrier) = -R / S, ring held (textbooks, from memory)."""
    sun, ring, carrier = 14, 52, 1.0
    speed_of_sun = carrier + (-ring / sun) * (0 - carrier)
    assert Planetary(sun, ring, 3).ratio == pytest.approx(speed_of_sun / carrier)


def test_planets_that_do_not_go_in_evenly_have_places_where_they_do() -> None:
    found = Planetary(13, 46, 3)
    assert not found.goes_together
    assert "do not go in" in found.complaints()[0]
    steps = np.array(found.placed_deg) * (13 + 46) / 360
    assert steps == pytest.approx(np.round(steps))
    assert found.placed_deg == pytest.approx([0, 120, 240], abs=360 / 59 / 2)


def test_too_many_planets_and_a_planet_of_the_wrong_size_are_said() -> None:
    assert "touch each other" in " ".join(Planetary(12, 48, 6, 18).complaints())
    assert "count again" in " ".join(Planetary(12, 48, 3, 22).complaints())
    assert Planetary(12, 48, 3, 18).complaints() == ()
    assert Planetary(12, 48, 3, 17).complaints() == ()


def test_an_idler_turns_the_output_round_and_leaves_the_ratio() -> None:
    assert Offset(11, 38).ratio == Offset(11, 38, idler=18).ratio == pytest.approx(38 / 11)
    assert (Offset(11, 38).same_way, Offset(11, 38, idler=18).same_way) == (False, True)


@pytest.mark.parametrize(
    "make", [lambda: Planetary(48, 12, 3), lambda: Planetary(2, 48, 3), lambda: Offset(0, 9)]
)
def test_counts_that_cannot_be_are_refused(make) -> None:
    with pytest.raises(MeasurementError, match="expected"):
        make()


def test_backlash_is_brought_from_the_dial_to_the_pitch_circle() -> None:
    found = backlash(Estimate(0.4 * MM, 0.02 * MM), 40 * MM, pitch_radius_m(2 * MM, 20))
    assert found.along_m.value == pytest.approx(0.2 * MM)
    assert found.along_m.standard_uncertainty == pytest.approx(0.01 * MM)
    with pytest.raises(MeasurementError, match="another unit"):
        backlash(exact(30), 40 * MM, 20 * MM)


def test_the_air_gap_left_is_what_levers_and_bend_leave() -> None:
    """Derived: core a third of the way from the drive end; its drop is on the line between the ends'."""
    ends = Bearing(exact(0.3), 50 * MM), Bearing(exact(0.6), 100 * MM)
    found = rub(exact(80), exact(79), *ends, core_runout=exact(0.2), end_frame=exact(0.05))
    drop = np.interp(50, [0, 150], [0.15, 0.30])
    assert found.left.value == pytest.approx((0.5 - drop - 0.1 - 0.05) * MM)
    assert found.parts[0].taken.value == max(one.taken.value for one in found.parts)


def test_the_chance_of_touching_agrees_with_many_made_starters() -> None:
    rng = np.random.default_rng(3)
    n = 200_000
    bore, core = rng.normal(80.0, 0.05, n), rng.normal(79.4, 0.05, n)
    c1, c2, runout = rng.normal(0.2, 0.04, n), rng.normal(0.25, 0.04, n), rng.normal(0.3, 0.03, n)
    touches = np.mean((bore - core) / 2 - (c1 + c2) / 4 - runout / 2 < 0)
    ends = (Bearing(Estimate(size * MM, 0.04 * MM), 60 * MM) for size in (0.2, 0.25))
    found = rub(
        Estimate(80 * MM, 0.05 * MM), Estimate(79.4 * MM, 0.05 * MM), *ends,
        core_runout=Estimate(0.3 * MM, 0.03 * MM),
    )  # fmt: skip
    assert found.touches == pytest.approx(touches, abs=0.005)
    assert 0.05 < found.touches < 0.6


def test_a_core_larger_than_the_bore_or_a_bush_at_no_distance_is_refused() -> None:
    end = Bearing(exact(0.1), 50 * MM)
    with pytest.raises(MeasurementError, match="swapped, or in another unit"):
        rub(exact(79), exact(80), end, end)
    with pytest.raises(MeasurementError, match="expected more than 0"):
        rub(exact(80), exact(79), end, Bearing(exact(0.1), 0.0))
    with pytest.raises(MeasurementError, match="0 or more"):
        rub(exact(80), exact(79), end, Bearing(exact(-0.1), 0.05))
