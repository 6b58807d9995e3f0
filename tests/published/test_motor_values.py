"""Motor equations against worked examples of published texts."""

from __future__ import annotations

import math

import pytest

from barwise.inspect.run_test import Point, motor_from_points
from barwise.machine.motor import Motor, lock, series_ohm, state_at_current, state_at_speed
from barwise.measure.uncertainty import Estimate

RPM = 2 * math.pi / 60
POUND_FOOT = 1.3558179483314
FAR = 1e9
"""So far from saturation that flux is in proportion to current [A]."""


def unsaturated(
    torque_per_a2: float, armature_ohm: float, field_ohm: float = 0.0, joint: float = 0.0
) -> Motor:
    """A series motor whose torque goes as the square of the current."""
    return Motor("series", torque_per_a2 * FAR, armature_ohm, field_ohm, saturation_a=FAR, joint_ohm=joint)


def test_a_series_motor_of_220_v_gives_4875_w_at_300_rpm() -> None:
    """P. C. Sen, Principles of Electric Machines and Power Electronics, example 4.9 (seen in worked steps,
    recomputed): 220 V, 0.6 and 0.4 ohm, 25 A, 300 rpm: 195 V, 4875 W, 155.18 N m, k = 0.248282."""
    state = state_at_current(unsaturated(0.248282, 0.6, 0.4), 220.0, 25.0)
    assert float(state.emf_v) == pytest.approx(195.0)
    assert float(state.speed_rad_s) == pytest.approx(300 * RPM, rel=1e-5)
    assert float(state.torque_nm) == pytest.approx(155.18, rel=1e-4)
    assert float(state.power_w) == pytest.approx(4875.0, rel=1e-5)


def test_seven_ohms_ahead_slow_it_to_200_rpm_on_a_fan() -> None:
    """The same example, torque as the square of speed: 68.967 N m, 16.6667 A, 86.667 V, 7 ohm, 1444.4 W."""
    state = state_at_speed(unsaturated(0.248282, 0.6, 0.4, joint=7.0), 220.0, 200 * RPM)
    assert float(state.current_a) == pytest.approx(16.6667, rel=1e-4)
    assert float(state.emf_v) == pytest.approx(86.667, rel=1e-4)
    assert float(state.torque_nm) == pytest.approx(68.967, rel=2e-4)
    assert float(state.power_w) == pytest.approx(1444.4, rel=2e-4)


def test_a_series_motor_runs_1328_rpm_at_25_a() -> None:
    """Course notes on direct-current machines (seen): 220 V, 0.5 ohm, 40 A at 800 rpm; at 25 A
    800 (207.5/200) (40/25) = 1328 rpm."""
    per_a2 = 200.0 / (800 * RPM) / 40
    state = state_at_current(unsaturated(per_a2, 0.5), 220.0, 25.0)
    assert float(state.speed_rad_s) / RPM == pytest.approx(1328.0, rel=1e-9)


def test_starting_torque_goes_as_the_square_of_the_current() -> None:
    """FOSSEE Scilab textbook companion 1445, example 8.30 (seen): 5 metric hp at 1000 rpm and 30 A is
    35.118 N m; 45 A give 79.014 N m."""
    torque = 5 * 735.5 / (1000 * RPM)
    assert torque == pytest.approx(35.118, rel=1e-4)
    motor = unsaturated(torque / 30**2, 0.1)
    volts = 45 * float(series_ohm(motor))
    held = lock(motor, volts)
    assert float(held.current_a) == pytest.approx(45.0)
    assert float(held.torque_nm) == pytest.approx(79.014, rel=1e-4)


def test_a_stall_of_200_a_at_6_6_v_is_33_milliohm_and_1320_w() -> None:
    """TM 5-5065 (seen): 24 V, no load 30 A at 6000 rpm; stall 200 A, 6.6 V, 21 lb ft. One motor passes
    through both points."""
    points = (
        Point("no-load", Estimate(24.0, 0.05), Estimate(30.0, 0.3), Estimate(6000 * RPM, 60 * RPM)),
        Point("lock", Estimate(6.6, 0.02), Estimate(200.0, 1.0), None, Estimate(21 * POUND_FOOT, 0.3)),
    )
    motor = motor_from_points("series", points, 24.0, Estimate(20.0, 1.0))
    held = lock(motor, 6.6)
    assert float(held.current_a) == pytest.approx(200.0, rel=0.02)
    assert float(held.torque_nm) == pytest.approx(28.472, rel=0.03)
    assert float(held.heat_w) == pytest.approx(1320.0, rel=0.02)
    assert float(series_ohm(motor)) < 6.6 / 200
