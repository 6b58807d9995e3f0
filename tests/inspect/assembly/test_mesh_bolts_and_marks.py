"""Pinion in the ring gear, plausible torques, and marks compared."""

from __future__ import annotations

import math

import numpy as np
import pytest

from barwise.errors import MeasurementError
from barwise.inspect.assembly.bolts import plausible, thread_of
from barwise.inspect.assembly.mesh import Mesh
from barwise.inspect.assembly.orientation import HOURS, Marks, compare_marks, same_mark
from barwise.measure.uncertainty import Estimate
from barwise.measure.units import UNITS

MM = 1e-3


def test_no_backlash_at_the_tight_distance_and_more_the_further_apart() -> None:
    mesh = Mesh(9, 115, 2.5 * MM)
    tight = mesh.tight_distance_m
    assert tight == pytest.approx(155 * MM)
    assert mesh.backlash_m(tight) == pytest.approx(0, abs=1e-12)
    found = [mesh.backlash_m(tight + apart * MM) for apart in (0.1, 0.5, 1.0)]
    assert found == sorted(found)


def test_a_small_move_gives_twice_the_tangent_of_the_pressure_angle() -> None:
    """Derived; 0.728 at 20 degrees, 0.517 at 14.5 (textbooks of gearing, from memory)."""
    for angle, each in ((20.0, 0.728), (14.5, 0.517)):
        mesh = Mesh(9, 115, 2.5 * MM, angle)
        step = 1e-6
        assert mesh.backlash_m(mesh.tight_distance_m + step) / step == pytest.approx(each, abs=0.001)
        assert mesh.backlash_per_metre == pytest.approx(each, abs=0.001)


def test_the_backlash_is_what_the_flanks_leave_when_they_are_drawn() -> None:
    """Tooth and space at the running pitch circle from the involutes themselves, drawn point by point."""
    mesh, apart = Mesh(12, 40, 3 * MM), 0.8 * MM
    distance = mesh.tight_distance_m + apart
    gap = []
    for teeth in (12, 40):
        base = 3 * MM * teeth / 2 * math.cos(math.radians(20))
        running = distance * teeth / 52
        rolled = np.linspace(0, 2, 200_001)
        radius, swept = base * np.sqrt(1 + rolled**2), rolled - np.arctan(rolled)
        at_pitch, at_running = (np.interp(r, radius, swept) for r in (3 * MM * teeth / 2, running))
        half_tooth = math.pi / (2 * teeth) + at_pitch - at_running
        gap.append(2 * running * half_tooth)
    pitch = 2 * math.pi * distance * 12 / 52 / 12
    assert mesh.backlash_m(distance) == pytest.approx(pitch - sum(gap), rel=1e-4)


def test_a_shim_under_the_flange_goes_for_the_backlash_wanted_either_way() -> None:
    mesh = Mesh(9, 115, 2.5 * MM)
    more = mesh.shim_for(Estimate(0.2 * MM, 0.02 * MM), 0.5 * MM)
    assert more.value == pytest.approx(0.3 * MM / 0.72794, rel=1e-4)
    assert mesh.shim_for(Estimate(0.8 * MM, 0.02 * MM), 0.5 * MM).value < 0


@pytest.mark.parametrize(
    "make",
    [
        lambda: Mesh(115, 9, 2.5 * MM),
        lambda: Mesh(9, 115, 2.5),
        lambda: Mesh(9, 115, 2.5 * MM, 60),
        lambda: Mesh(9, 115, 2.5 * MM).backlash_m(0.150),
        lambda: Mesh(9, 115, 2.5 * MM).backlash_m(0.170),
    ],
)
def test_gears_that_cannot_mesh_are_refused(make) -> None:
    with pytest.raises(MeasurementError, match="expected"):
        make()


@pytest.mark.parametrize(
    ("thread", "area_mm2"),
    [("M5", 14.2), ("M6", 20.1), ("M8", 36.6), ("M10", 58.0), ("M12", 84.3), ("M8x1", 39.2)],
)
def test_metric_stress_areas_are_the_printed_ones(thread: str, area_mm2: float) -> None:
    """ISO 898-1, table of tensile stress areas (from memory)."""
    assert thread_of(thread).stress_area_m2 * 1e6 == pytest.approx(area_mm2, abs=0.06)


@pytest.mark.parametrize(
    ("thread", "area_in2"),
    [("1/4-20", 0.0318), ("5/16-18", 0.0524), ("3/8-16", 0.0775), ("#10-32", 0.0200), ("1/2-13", 0.1419)],
)
def test_inch_stress_areas_are_the_printed_ones(thread: str, area_in2: float) -> None:
    """ASME B1.1, tensile stress areas; a maker's bolt table (not named here) prints those of 1/4 to 1/2 inch
    alike, #10-32 from memory."""
    assert thread_of(thread).stress_area_m2 / 0.0254**2 == pytest.approx(area_in2, abs=6e-5)


def test_a_usual_torque_is_plausible_and_one_in_the_wrong_unit_is_not() -> None:
    """About 10 Nm for M6 of grade 8.8 is what torque tables print (from memory)."""
    assert plausible(10.0, thread_of("M6")).word == "plausible"
    assert plausible(10.0 * 12, thread_of("M6")).word == "stretches"
    assert plausible(10.0 / 12, thread_of("M6")).word == "loose"


@pytest.mark.parametrize(
    ("thread", "grade", "dry_lbf_in", "oiled_lbf_in"),
    [
        ("1/4-20", "SAE 5", 101, 76), ("5/16-18", "SAE 5", 209, 157), ("3/8-16", "SAE 5", 372, 276),
        ("1/2-13", "SAE 5", 75 * 12, 57 * 12), ("1/4-20", "SAE 8", 143, 107), ("5/16-18", "SAE 8", 295, 221),
    ],
)  # fmt: skip
def test_a_printed_torque_loads_its_bolt_to_about_three_quarters_of_proof(
    thread: str, grade: str, dry_lbf_in: float, oiled_lbf_in: float
) -> None:
    """A maker's table (not named here): torques for 75 % of the proof load of SAE J429, dry and oiled."""
    for torque, surface in ((dry_lbf_in, "dry"), (oiled_lbf_in, "oiled")):
        found = plausible(torque * UNITS["lbf.in"].factor, thread_of(thread), grade, surface)
        assert found.of_proof[0] < 0.75 < found.of_proof[1]
        middle = 2 / (1 / found.of_proof[0] + 1 / found.of_proof[1])
        assert middle == pytest.approx(0.75, rel=0.03)


def test_an_m12_bolt_takes_the_printed_torque_for_seven_tenths_of_its_proof_load() -> None:
    """Worked example on T = K F d (second hand): M12, 8.8, 84.3 mm², 580 MPa, K 0.2: 34 kN by 82 N m."""
    found = plausible(82.0, thread_of("M12"))
    middle = 2 / (1 / found.force_n[0] + 1 / found.force_n[1])
    assert middle == pytest.approx(34e3, rel=0.01)
    assert middle / (580e6 * thread_of("M12").stress_area_m2) == pytest.approx(0.70, abs=0.01)


def test_the_force_is_torque_over_factor_and_diameter() -> None:
    found = plausible(20.0, thread_of("M8"), "8.8", "oiled")
    assert found.force_n == pytest.approx((20 / (0.19 * 8e-3), 20 / (0.11 * 8e-3)))


@pytest.mark.parametrize("written", ["M", "M6x9", "6", "1/0-20", "1/4-0", "M6; rm", "", "M-6"])
def test_what_is_no_thread_is_refused(written: str) -> None:
    with pytest.raises(MeasurementError, match="expected such as M6"):
        thread_of(written)


@pytest.mark.parametrize("torque", [0.0, -1.0, float("nan"), float("inf")])
def test_what_is_no_torque_is_refused(torque: float) -> None:
    with pytest.raises(MeasurementError, match="expected more than 0"):
        plausible(torque, thread_of("M6"))
    with pytest.raises(MeasurementError, match="expected one of"):
        plausible(1.0, thread_of("M6"), "99")


def test_marks_that_agree_are_accepted_and_a_difference_is_rejected() -> None:
    assert compare_marks(Marks("switch", "2 o'clock", "2:00")).outcome == "accept"
    found = compare_marks(Marks("switch", "2 o'clock", "2:30"))
    assert found.outcome == "reject"
    assert "marked at teardown" in found.line
    assert len({hour for hour in HOURS if same_mark(hour, "12:00")}) == 1
