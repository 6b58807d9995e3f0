"""Brush gear against printed values: pressures, forces, holder clearances, percent worn."""

from __future__ import annotations

import pytest

from barwise.inspect.brush_gear.holder import GAP, holder_clearance
from barwise.inspect.brush_gear.spring import (
    PUBLISHED,
    WITHOUT_A_SHEET,
    SpringArm,
    contact_pressure,
    force_along_brush,
)
from barwise.measure.length import agreed, parse_length
from barwise.measure.quantity import parse_quantity
from barwise.measure.uncertainty import Estimate
from barwise.measure.wear import WearPoint, WearScale


def test_the_published_pressures_are_those_of_the_navy_course_in_kilopascals() -> None:
    """Source: NAVEDTRA 14120, p. 3-10: 1 1/2 and 8, 2 to 2 1/2 psi; 1 psi = 6.894757 kPa (NIST SP 811)."""
    limits = [PUBLISHED.limit, *(one.limit for one in WITHOUT_A_SHEET)]
    kpa = [(limit.lower or 0) / 1e3 for limit in limits], [(limit.upper or 0) / 1e3 for limit in limits]
    assert kpa[0] == pytest.approx([10.342136, 13.789515, 27.579029], rel=1e-6)
    assert kpa[1] == pytest.approx([55.158058, 17.236893, 34.473786], rel=1e-6)


@pytest.mark.parametrize(("ounces", "newton"), [("36 ozf", 10.008), ("30 ozf", 8.340)])
def test_a_spring_scale_in_ounces_reads_in_newton(ounces: str, newton: float) -> None:
    """Source: TM 9-2920-243-34: about 36 oz to lift, replace below 30; 1 ozf = 0.2780139 N (NIST SP 811)."""
    assert parse_quantity(ounces, "force").value == pytest.approx(newton, abs=5e-4)


def test_kilograms_and_pounds_of_one_manual_are_the_same_force() -> None:
    """Source: TM 10-3930-653-14&P, p. 4-99: spring more than 1.4 kgf (3.1 lb)."""
    kgf, lbf = parse_quantity("1.4 kgf", "force"), parse_quantity("3.1 lb", "force")
    assert abs(kgf.value - lbf.value) < (kgf.digit + lbf.digit) / 2
    assert kgf.value == pytest.approx(13.729, abs=1e-3)


def test_pressure_is_force_over_section() -> None:
    """Source: definition; 36 ozf (2.25 lbf) on 3/4 by 1/4 inch is 12 psi by hand."""
    inch = 0.0254
    force = parse_quantity("36 ozf", "force").estimate
    pressure, _ = contact_pressure(force, Estimate(0.75 * inch, 0.0), Estimate(0.25 * inch, 0.0))
    assert pressure.value / 6894.757 == pytest.approx(12.0, rel=1e-6)


def test_a_lever_spring_presses_in_the_ratio_of_its_arms() -> None:
    """Source: the law of the lever; 8 N at 30 mm is 10 N at 24 mm."""
    arm = SpringArm(Estimate(0.030, 0.0), Estimate(0.024, 0.0))
    found = force_along_brush(Estimate(8.0, 0.08), "lever", arm)
    assert found is not None
    assert (found.value, found.standard_uncertainty) == pytest.approx((10.0, 0.1))
    assert force_along_brush(Estimate(8.0, 0.08), "lever", None) is None


@pytest.mark.parametrize(
    ("side_mm", "least_in", "most_in"),
    [
        (25.4 / 16, 0.00175, 0.0056),
        (25.4 / 8, 0.0020, 0.0062),
        (25.4 / 4, 0.0022, 0.0076),
        (25.4 * 5 / 16, 0.0022, 0.0076),
        (25.4 / 2, 0.0028, 0.0091),
        (25.4, 0.0032, 0.0100),
        (25.4 * 1.25, 0.0039, 0.0118),
    ],
)
def test_clearance_in_the_holder_is_that_of_the_table_in_inches_too(
    side_mm: float, least_in: float, most_in: float
) -> None:
    """Source: ANSI/EASA AR100-2020, table 2-12; the mm columns are used, the inch columns checked here."""
    limit = holder_clearance(side_mm / 1000)
    assert limit is not None
    # The inch columns are rounded off, some of them downwards.
    assert (limit.lower or 0) / 0.0254 == pytest.approx(least_in, abs=8e-5)
    assert (limit.upper or 0) / 0.0254 == pytest.approx(most_in, abs=8e-5)


def test_beyond_the_table_no_clearance_is_given() -> None:
    """Source: ANSI/EASA AR100-2020, table 2-12: from 1.6 mm to 80 mm."""
    assert holder_clearance(0.0012) is None
    assert holder_clearance(0.090) is None


def test_the_gap_to_the_commutator_is_the_same_in_both_systems() -> None:
    """Source: ANSI/EASA AR100-2015, section 2, page 2: 0.060 inch (1.5 mm) to 0.125 inch (3 mm)."""
    assert GAP.lower == agreed(parse_length("1.5 mm"), parse_length("0.060 in")).metres
    # 3 mm and 0.125 in are the same only to the millimetre; the smaller, metric one is held to.
    assert (GAP.upper or 0) < parse_length("0.125 in").metres


def test_percent_worn_of_a_brush_between_its_printed_limits() -> None:
    """Source: TM 5-6115-545-34, table 1-2: 0.750 new, 0.375 worn out; 0.500 is 66.667 % by hand."""
    scale = WearScale((WearPoint(0, 0.750 * 0.0254), WearPoint(100, 0.375 * 0.0254)))
    assert scale.percent(0.500 * 0.0254) == pytest.approx(66.667, abs=5e-4)
