"""The motor's steady states: exact there and back, energy kept, and the same as SciPy's root finding."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from barwise.errors import MotorError
from barwise.machine.motor import (
    FieldKind,
    Motor,
    at_temperature,
    circuit_by_current,
    curve,
    joined,
    lock,
    many_of,
    most_power,
    no_load,
    on_supply,
    picked,
    series_ohm,
    state_at_current,
    state_at_speed,
    state_under_load,
)

SERIES = Motor(
    "series-parallel",
    flux_vs=0.032,
    armature_ohm=0.003,
    field_ohm=0.0022,
    friction_nm=0.8,
    windage_nms2=8e-7,
    saturation_a=220.0,
    brush_v=0.5,
    brush_ohm=0.001,
    field_paths=2,
)


@st.composite
def motors(draw: st.DrawFn) -> Motor:
    field: FieldKind = draw(st.sampled_from(["series", "series-parallel", "compound", "permanent-magnet"]))
    number = st.floats
    shunt = (
        {"shunt_ohm": draw(number(2, 20)), "shunt_turns": draw(number(1, 30))} if field == "compound" else {}
    )
    return Motor(
        field,
        flux_vs=draw(number(0.01, 0.1)),
        armature_ohm=draw(number(0.002, 0.02)),
        field_ohm=0.0 if field == "permanent-magnet" else draw(number(0.001, 0.02)),
        friction_nm=draw(number(0.02, 0.5)),
        windage_nms2=draw(number(1e-9, 1e-6)),
        saturation_a=draw(number(50, 400)),
        knee=draw(number(1, 4)),
        residual=draw(number(0, 0.03)),
        brush_v=draw(number(0, 0.8)),
        brush_bend_a=draw(st.one_of(st.just(0.0), number(1, 40))),
        joint_ohm=draw(number(0, 0.005)),
        lost_turns=draw(number(0, 0.5)),
        short_s=draw(number(0, 5)),
        ground_s=draw(number(0, 5)),
        ground_place=draw(number(0, 1)),
        **shunt,
    )


@given(motors(), st.floats(6, 24))
def test_a_state_is_found_again_by_its_current_its_speed_and_its_load(motor: Motor, volts: float) -> None:
    held = lock(motor, volts)
    current = 0.4 * float(held.current_a) + 0.6 * float(no_load(motor, volts).current_a)
    state = state_at_current(motor, volts, current)
    if state.torque_nm <= 0:
        return
    for again in (
        state_at_speed(motor, volts, state.speed_rad_s),
        state_under_load(motor, volts, state.torque_nm),
    ):
        assert float(again.current_a) == pytest.approx(current, rel=1e-6)
        assert float(again.torque_nm) == pytest.approx(float(state.torque_nm), rel=1e-5, abs=1e-7)


@given(motors(), st.floats(6, 24), st.floats(0.05, 0.95))
def test_no_energy_is_lost_or_made(motor: Motor, volts: float, share: float) -> None:
    state = state_at_current(motor, volts, share * float(lock(motor, volts).current_a))
    mechanical = float(state.torque_nm + state.drag_nm) * float(state.speed_rad_s)
    taken = float(state.volts * state.current_a)
    assert taken == pytest.approx(float(state.heat_w) + mechanical, rel=1e-9)


@given(motors(), st.floats(6, 24))
def test_no_load_agrees_with_root_finding_of_another_library(motor: Motor, volts: float) -> None:
    """SciPy's `brentq` on the same torque balance finds the same current."""
    held = float(lock(motor, volts).armature_a)
    found = no_load(motor, volts)

    def torque(current: float) -> float:
        return float(state_at_current(motor, volts, current).torque_nm)

    if torque(float(lock(motor, volts).current_a)) <= 0:
        assert float(found.armature_a) == pytest.approx(held)
        return
    least = float(state_at_current(motor, volts, 1e-3 * float(lock(motor, volts).current_a)).current_a)
    if torque(least) >= 0:
        return
    wanted = brentq(torque, least, float(lock(motor, volts).current_a), xtol=1e-12, rtol=1e-14)
    assert float(found.current_a) == pytest.approx(wanted, rel=1e-8)


def test_many_motors_at_once_are_each_alone() -> None:
    friction = np.array([0.4, 0.8, 2.0])
    together = no_load(replace(SERIES, friction_nm=friction), 11.5)
    for place, one in enumerate(friction):
        alone = no_load(replace(SERIES, friction_nm=float(one)), 11.5)
        assert np.asarray(together.speed_rad_s)[place] == pytest.approx(float(alone.speed_rad_s), rel=1e-9)


def test_a_battery_ahead_sags_by_its_resistance() -> None:
    state = state_under_load(on_supply(SERIES, 0.008), 12.6, 8.0)
    terminal = 12.6 - 0.008 * float(state.current_a)
    assert float(state_under_load(SERIES, terminal, 8.0).current_a) == pytest.approx(float(state.current_a))


def test_copper_warms_by_the_rule_of_234_and_a_half_and_the_brushes_do_not() -> None:
    """R2/R1 = (234.5 + t2)/(234.5 + t1): IEEE 118, from memory; 20 to 75 °C is 1.21611."""
    warm = at_temperature(SERIES, 75.0)
    assert warm.armature_ohm == pytest.approx(0.003 * 1.216110, rel=1e-6)
    assert warm.brush_ohm == SERIES.brush_ohm
    assert float(series_ohm(warm)) > float(series_ohm(SERIES))


def test_magnets_lose_flux_when_warm_and_a_wound_field_does_not() -> None:
    magnets = replace(SERIES, field="permanent-magnet", field_paths=1)
    assert at_temperature(magnets, 70.0).flux_vs == pytest.approx(0.9 * 0.032)
    assert at_temperature(SERIES, 70.0).flux_vs == 0.032


def test_the_most_power_is_on_the_curve_and_no_point_of_it_gives_more() -> None:
    best = most_power(SERIES, 10.0)
    states = curve(SERIES, 10.0, 301)
    assert float(best.power_w) >= float(np.max(states.power_w)) - 1e-6
    assert float(np.max(states.power_w)) == pytest.approx(float(best.power_w), rel=1e-3)


def test_a_series_motor_without_a_field_path_turns_faster_and_pulls_less() -> None:
    weak = replace(SERIES, open_paths=1.0)
    assert float(no_load(weak, 11.5).speed_rad_s) > float(no_load(SERIES, 11.5).speed_rad_s)
    assert float(lock(weak, 4.0).torque_nm) < 0.6 * float(lock(SERIES, 4.0).torque_nm)


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        ({"flux_vs": 0.0}, "flux_vs: found 0, expected more than 0"),
        ({"friction_nm": -1.0}, "friction_nm: found -1, expected 0 or more"),
        ({"open_paths": 2.0}, "expected at least one path left"),
    ],
)
def test_a_motor_that_cannot_be_is_refused(wrong: dict[str, float], said: str) -> None:
    with pytest.raises(MotorError, match=said):
        replace(SERIES, **wrong)


def test_no_load_of_a_motor_that_cannot_overcome_its_friction_is_locked() -> None:
    stuck = no_load(replace(SERIES, friction_nm=500.0), 11.5)
    assert float(stuck.speed_rad_s) == pytest.approx(0.0, abs=1e-6)
    assert math.isclose(float(stuck.current_a), float(lock(SERIES, 11.5).current_a), rel_tol=1e-9)


@given(st.floats(3, 24), st.floats(0.1, 2.5), st.floats(1, 60))
def test_a_locked_motor_whose_brush_drop_bends_takes_what_root_finding_says(
    volts: float, brush_v: float, bend: float
) -> None:
    """V = I R + Vb (1 - exp(-I / Ib)) solved by SciPy's `brentq`."""
    motor = replace(SERIES, brush_v=brush_v, brush_bend_a=bend)
    ohm = float(series_ohm(motor))
    wanted = brentq(lambda i: volts - ohm * i - brush_v * (1 - math.exp(-i / bend)), 0.0, volts / ohm)
    assert float(lock(motor, volts).current_a) == pytest.approx(wanted, rel=1e-7)


def test_motors_are_picked_out_of_many_and_joined_again() -> None:
    joints = np.array([0.0, 1e-3, 2e-3])
    many = replace(SERIES, joint_ohm=joints)
    ones = [picked(many, place) for place in range(3)]
    assert [float(one.joint_ohm) for one in ones] == joints.tolist()
    assert ones[1].flux_vs == SERIES.flux_vs
    again = joined([picked(many, slice(0, 2)), replace(ones[2], flux_vs=0.03)])
    assert np.array_equal(again.joint_ohm, joints)
    assert np.array_equal(again.flux_vs, [0.032, 0.032, 0.03])
    assert many_of(again) == 3
    assert many_of(SERIES) == 1


@pytest.mark.parametrize("field", ["series", "compound", "permanent-magnet"])
def test_the_circuit_solved_once_says_what_each_state_says(field: FieldKind) -> None:
    motor = Motor(
        field,
        flux_vs=0.012,
        armature_ohm=0.006,
        field_ohm=0.004,
        brush_v=0.8,
        brush_bend_a=12.0,
        shunt_ohm=2.0 if field == "compound" else math.inf,
        shunt_turns=30.0 if field == "compound" else 0.0,
        joint_ohm=0.005,
        ground_s=3.0,
        ground_place=0.4,
    )
    current = np.array([0.0, 40.0, 250.0, 600.0])
    armature_a, emf_v, flux_vs = circuit_by_current(motor, 12.0)(current)
    found = state_at_current(motor, 12.0, current)
    assert armature_a == pytest.approx(found.armature_a, rel=1e-12)
    assert emf_v == pytest.approx(found.emf_v, rel=1e-12)
    assert flux_vs == pytest.approx(found.flux_vs, rel=1e-12)
