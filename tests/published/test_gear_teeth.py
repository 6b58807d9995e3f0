"""Spans and thicknesses of gear teeth against a handbook's printed examples, and against each other."""

from __future__ import annotations

import math

import pytest

from barwise.errors import MeasurementError
from barwise.machine.gear_teeth import (
    SpurGear,
    arc_from_chord_m,
    chordal_height_m,
    chordal_thickness_m,
    contact_diameter_m,
    involute,
    span_m,
    teeth_to_span,
    thickness_from_span_m,
    thickness_m,
)

EXAMPLE = SpurGear(24, 0.003, 20.0, 0.4)


def test_the_span_of_the_handbooks_gear_is_as_printed() -> None:
    """Source: Elements of Metric Gear Technology, section 10.2 (from memory): m 3, 20 deg, z 24, x +0.4
    gives 4 teeth and a span of 32.8266 mm (printed zm 3.78787 before rounding)."""
    assert teeth_to_span(EXAMPLE) == 4
    assert 1000 * span_m(EXAMPLE, 4) == pytest.approx(32.8266, abs=5e-5)


def test_the_span_of_a_plain_gear_is_as_printed() -> None:
    """Source: machinecalcs.com, span measurement over teeth, worked example: m 2, 20 deg, z 20, no shift:
    3 teeth and 15.321 mm (second hand)."""
    gear = SpurGear(20, 0.002, 20.0, 0.0)
    assert teeth_to_span(gear) == 3
    assert 1000 * span_m(gear, 3) == pytest.approx(15.321, abs=5e-4)


def test_the_chordal_thickness_of_the_handbooks_gear_is_as_printed() -> None:
    """Source: Elements of Metric Gear Technology, table 10-1 (page T-81): m 10, 20 deg, z 12, x +0.3,
    addendum 13.000: arc 17.8918, chord 17.8256, height 13.6657 mm."""
    gear = SpurGear(12, 0.010, 20.0, 0.3)
    arc = thickness_m(gear)
    assert 1000 * arc == pytest.approx(17.8918, abs=5e-5)
    assert 1000 * chordal_thickness_m(gear, arc) == pytest.approx(17.8256, abs=5e-5)
    assert 1000 * chordal_height_m(gear, arc, 0.013) == pytest.approx(13.6657, abs=5e-5)
    assert arc_from_chord_m(gear, chordal_thickness_m(gear, arc)) == pytest.approx(arc, rel=1e-12)


def test_the_involute_of_twenty_degrees_is_the_tables() -> None:
    """Source: any table of the involute function (from memory): inv 20 deg = 0.014904."""
    assert involute(math.radians(20)) == pytest.approx(0.014904, abs=5e-7)


@pytest.mark.parametrize(
    ("angle_deg", "printed"), [(23.8707609654, 0.0259052382), (21.2990642859, 0.0181260949)]
)
def test_the_involute_is_that_of_a_printed_calculation(angle_deg: float, printed: float) -> None:
    """Source: a calculation of a gear pair by ISO 21771:2007, m 3.5, 31 and 30 teeth, as a page prints it."""
    assert involute(math.radians(angle_deg)) == pytest.approx(printed, abs=1e-10)


@pytest.mark.parametrize("gear", [EXAMPLE, SpurGear(9, 0.00254, 20.0, 0.5), SpurGear(11, 0.0254 / 8, 14.5)])
@pytest.mark.parametrize("spanned", [2, 3])
def test_a_span_gives_back_the_thickness_it_was_made_from(gear: SpurGear, spanned: int) -> None:
    assert thickness_from_span_m(gear, spanned, span_m(gear, spanned)) == pytest.approx(
        thickness_m(gear), rel=1e-12
    )


def test_one_more_tooth_lengthens_the_span_by_one_base_pitch() -> None:
    """Source: involute geometry: parallel tangents of one base circle."""
    assert span_m(EXAMPLE, 5) - span_m(EXAMPLE, 4) == pytest.approx(EXAMPLE.base_pitch_m, rel=1e-12)


def test_the_jaws_touch_near_the_pitch_circle_with_the_number_of_teeth_advised() -> None:
    """Source: the purpose of the number; with x 0 it touches within a tooth height of the pitch circle."""
    for teeth in range(12, 60):
        gear = SpurGear(teeth, 0.003)
        touched = contact_diameter_m(gear, span_m(gear, teeth_to_span(gear)))
        assert abs(touched - gear.pitch_diameter_m) < 2 * gear.module_m


@pytest.mark.parametrize(
    "make",
    [
        lambda: SpurGear(3, 0.003),
        lambda: SpurGear(12, 0.0),
        lambda: SpurGear(12, math.nan),
        lambda: SpurGear(12, 0.003, 45.0),
        lambda: SpurGear(12, 0.003, 20.0, math.nan),
        lambda: span_m(EXAMPLE, 0),
        lambda: span_m(EXAMPLE, 14),
        lambda: arc_from_chord_m(EXAMPLE, 0.1),
        lambda: arc_from_chord_m(EXAMPLE, math.nan),
    ],
)
def test_a_gear_that_cannot_be_is_refused(make: object) -> None:
    with pytest.raises(MeasurementError, match="found"):
        make()  # type: ignore[operator]
