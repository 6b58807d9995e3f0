"""The balance of battery, motor and engine against closed forms; the engine's torque against its own work."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.integrate import quad

from barwise.errors import InputError
from barwise.machine.battery import Battery
from barwise.machine.cable import Cable, gauge_area_mm2
from barwise.machine.cranking import CrankedEngine, Leg, Mesh, balance
from barwise.machine.cranking_course import Rotor, Starting, course, mean_over, steady_part
from barwise.machine.cranking_many import many_starts
from barwise.machine.engine import (
    Drag,
    Engine,
    breakaway_torque,
    friction_torque,
    gas_torque,
    mean_gas_torque,
    usual_drag,
)
from barwise.machine.motor import Motor
from barwise.machine.oil import oil_of_grade

FOUR = Engine(2.5e-3, 4, 4, "petrol", 9.5)
MAGNET = Motor("permanent-magnet", flux_vs=0.018, armature_ohm=0.006, friction_nm=0.2, brush_v=1.0)
LEGS = (Leg("battery", 0.006), Leg("cable", 0.001), Leg("ground", 0.0005))


def test_a_permanent_magnet_motor_against_a_constant_load_balances_as_the_closed_form_says() -> None:
    """V = E + I R + Vb and T = k I - friction (any text on electrical machines) give both outright."""
    drag, mesh = Drag(120e3, exponent=0.0, gas_loss=0.2), Mesh(13.0, 0.9)
    load = 120e3 * FOUR.displacement_m3 / FOUR.cycle_rad + mean_gas_torque(FOUR, drag)
    current = (load / (13.0 * 0.9) + 0.2) / 0.018
    speed = (12.0 - 1.0 - current * (0.0075 + 0.006)) / 0.018 / 13.0
    found = balance(12.0, LEGS, MAGNET, mesh, CrankedEngine(FOUR, drag, 0.5))
    assert found.current_a == pytest.approx(current, rel=1e-9)
    assert found.speed_rad_s == pytest.approx(speed, rel=1e-9)
    assert found.starter_v == pytest.approx(12.0 - 0.0075 * current, rel=1e-9)


def test_a_series_motor_without_saturation_balances_as_the_closed_form_says() -> None:
    """k phi = K I gives T = K I^2 (P. C. Sen, chapter 4, as in its example 4.9): I from the load."""
    per_ampere = 1e-4
    series = Motor(
        "series", flux_vs=per_ampere * 1e7, armature_ohm=0.004, field_ohm=0.003, saturation_a=1e7, knee=4.0
    )
    drag, mesh = Drag(150e3, exponent=0.0, gas_loss=0.0), Mesh(11.0, 0.85)
    load = 150e3 * FOUR.displacement_m3 / FOUR.cycle_rad / (11.0 * 0.85)
    current = math.sqrt(load / per_ampere)
    found = balance(11.5, LEGS, series, mesh, CrankedEngine(FOUR, drag, 0.5))
    assert found.current_a == pytest.approx(current, rel=1e-6)
    speed = (11.5 - current * (0.0075 + 0.007)) / (per_ampere * current) / 11.0
    assert found.speed_rad_s == pytest.approx(speed, rel=1e-6)


def test_most_power_into_the_starter_is_at_half_of_the_short_circuit_current() -> None:
    """Circuit theory: V0^2 / 4 R at V0 / 2 R. The balance never draws more electrical power than that."""
    ohm = sum(float(leg.ohm) for leg in LEGS)
    for friction in (5e4, 1e5, 2e5, 4e5):
        found = balance(12.0, LEGS, MAGNET, Mesh(13.0), CrankedEngine(FOUR, Drag(friction), 0.5))
        assert found.starter_v * found.current_a <= 12.0**2 / (4 * ohm) * (1 + 1e-12)


def test_it_does_not_turn_an_engine_that_asks_too_much() -> None:
    found = balance(12.0, LEGS, MAGNET, Mesh(13.0), CrankedEngine(FOUR, Drag(5e6), 0.5))
    assert not found.turns
    assert found.speed_rad_s == 0.0
    assert found.current_a == pytest.approx((12.0 - 1.0) / (0.0075 + 0.006), rel=1e-9)


@pytest.mark.parametrize("strokes", [2, 4])
@pytest.mark.parametrize("cylinders", [1, 3, 4, 6])
def test_the_mean_of_the_gas_torque_over_a_cycle_is_the_work_that_is_lost(
    strokes: int, cylinders: int
) -> None:
    """The closed form of the polytropic work against SciPy's quadrature of torque over angle."""
    engine = Engine(3e-3, cylinders, strokes, "diesel", 17.5)
    drag = Drag(1e5, gas_loss=0.25)
    work, _ = quad(
        lambda angle: gas_torque(engine, drag, angle), 0.0, engine.cycle_rad, limit=400, epsabs=1e-6
    )
    assert work / engine.cycle_rad == pytest.approx(mean_gas_torque(engine, drag), rel=1e-6)


def test_without_loss_compressing_costs_nothing_on_average() -> None:
    assert mean_gas_torque(FOUR, Drag(1e5, gas_loss=0.0)) == 0.0


def test_the_gas_torque_is_the_change_of_energy_of_the_air() -> None:
    """Torque is the derivative of polytropic work by the angle: held against a quadrature of p dV."""
    engine, drag = Engine(0.5e-3, 1, 4, "petrol", 9.0), Drag(1e5)
    start, end = -math.radians(100), -math.radians(60)
    work, _ = quad(lambda angle: gas_torque(engine, drag, angle), start, end)

    def volume(angle: float) -> float:
        rod = 1 / 0.28
        down = (1 + rod - math.cos(angle) - math.sqrt(rod * rod - math.sin(angle) ** 2)) / 2
        return 0.5e-3 * (1 / 8.0 + down)

    shut = volume(engine.closes)

    def over(v: float) -> float:
        return 101_325.0 * ((shut / v) ** drag.polytropic - 1)

    expected, _ = quad(over, volume(end), volume(start))
    assert work == pytest.approx(expected, rel=1e-9)


def test_an_engine_that_stood_begins_with_less_to_compress() -> None:
    rest = -math.radians(90)
    at = -math.radians(20)
    later, first = (gas_torque(FOUR, Drag(1e5), at, leaked) for leaked in (None, rest))
    assert 0 < first < 0.8 * later


def test_torque_is_mean_effective_pressure_times_displacement_over_the_cycle_s_angle() -> None:
    """J. B. Heywood, chapter 2 (from memory): mep = 4 pi T / Vd of a four-stroke engine."""
    torque = friction_torque(FOUR, Drag(100e3), 0.1, 150 * 2 * math.pi / 60)
    assert 4 * math.pi * torque / FOUR.displacement_m3 == pytest.approx(100e3, rel=1e-4)
    assert breakaway_torque(FOUR, Drag(100e3, breakaway=1.5), 0.1) == pytest.approx(1.5 * torque)


@pytest.mark.parametrize(("cylinders", "fuel"), [(4, "petrol"), (6, "diesel"), (1, "petrol")])
def test_many_starts_with_fixed_steps_come_to_what_the_course_does(cylinders: int, fuel: str) -> None:
    engine = Engine(0.6e-3 * cylinders, cylinders, 4, fuel, 9.5 if fuel == "petrol" else 17.5)  # type: ignore[arg-type]
    cranked = CrankedEngine(engine, usual_drag(engine), 1.0)
    motor = Motor(
        "series", flux_vs=0.05, armature_ohm=0.003, field_ohm=0.002, friction_nm=1.0, windage_nms2=2e-6,
        saturation_a=200.0, residual=0.01, brush_v=0.5,
    )  # fmt: skip
    rotor, mesh = Rotor(0.004), Mesh(12.0)
    run = course(Starting(11.9, LEGS, motor, rotor, mesh, cranked), 1.2)
    part = steady_part(run, engine.cycle_rad)
    found = many_starts(11.9, LEGS, motor, rotor, mesh, cranked)
    assert bool(found.turns)
    # over other whole compressions than the course's, so a little apart
    assert float(found.speed_rad_s) == pytest.approx(
        mean_over(run.speed_rad_s[part], run.time_s[part]), rel=0.03
    )
    assert float(found.current_a) == pytest.approx(mean_over(run.current_a[part], run.time_s[part]), rel=0.04)


def test_a_start_that_stops_at_a_compression_stops_either_way() -> None:
    engine = Engine(5.7e-3, 4, 4, "diesel", 17.5)
    cranked = CrankedEngine(engine, usual_drag(engine), 1.0)
    weak = Motor("permanent-magnet", flux_vs=0.018, armature_ohm=0.003, friction_nm=0.2)
    run = course(Starting(12.0, LEGS, weak, Rotor(0.002), Mesh(13.0), cranked), 1.2)
    assert run.broke_away_s is not None
    assert run.stuck
    found = many_starts(np.array([12.0, 12.0]), LEGS, weak, Rotor(0.002), Mesh(13.0), cranked)
    assert not found.turns.any()
    assert (found.speed_rad_s == 0).all()


@pytest.mark.parametrize(
    "make",
    [
        lambda: Engine(0.0, 4, 4, "petrol", 9.5),
        lambda: Engine(2e-3, 0, 4, "petrol", 9.5),
        lambda: Engine(2e-3, 4, 3, "petrol", 9.5),
        lambda: Engine(2e-3, 4, 4, "steam", 9.5),  # type: ignore[arg-type]
        lambda: Engine(2e-3, 4, 4, "petrol", 1.0),
        lambda: Engine(2e-3, 4, 4, "petrol", math.nan),
        lambda: Battery(12, 650, charge=1.2),
        lambda: Battery(12, 5),
        lambda: Battery(-12, 650),
        lambda: Battery(12, 650, in_series=0),
        lambda: Cable(0.0, 1.0),
        lambda: Cable(50, -1.0),
        lambda: Cable(50, 1.0, metal="iron"),  # type: ignore[arg-type]
        lambda: gauge_area_mm2("5/0"),
        lambda: gauge_area_mm2("two"),
        lambda: gauge_area_mm2("99"),
        lambda: oil_of_grade("17W-40"),
        lambda: oil_of_grade("thick"),
        lambda: Mesh(1.0),
        lambda: Rotor(0.0),
        lambda: course(
            Starting(12.0, LEGS, MAGNET, Rotor(0.002), Mesh(13), CrankedEngine(FOUR, Drag(1e5), 1)), 60
        ),
    ],
)  # fmt: skip
def test_what_cannot_be_is_refused_with_what_was_expected(make: object) -> None:
    assert callable(make)
    with pytest.raises(InputError, match="expected"):
        make()
