"""Of every start: what the battery gives is what is lost on the way and what moves in the end."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from barwise.machine.cranking import CrankedEngine, Leg, Mesh
from barwise.machine.cranking_course import Rotor, Starting, course
from barwise.machine.engine import Drag, Engine, friction_torque, gas_torque, halfway_rad
from barwise.machine.motor import Motor, flux

Array = NDArray[np.float64]


def over(values: Array, time_s: Array) -> float:
    return float(np.trapezoid(values, time_s))


@settings(max_examples=6)
@given(
    cylinders=st.sampled_from([1, 2, 4, 6]),
    litres=st.floats(0.4, 0.9),
    ratio=st.floats(7.0, 18.0),
    ohm=st.floats(0.004, 0.012),
    henry=st.floats(5e-5, 3e-4),
    rotor=st.floats(0.001, 0.006),
    loss=st.floats(0.05, 0.4),
    magnet=st.booleans(),
)
def test_energy_is_neither_made_nor_lost(
    cylinders: int,
    litres: float,
    ratio: float,
    ohm: float,
    henry: float,
    rotor: float,
    loss: float,
    magnet: bool,
) -> None:
    engine = Engine(litres * 1e-3 * cylinders, cylinders, 4, "petrol", ratio)
    drag = Drag(1e5, gas_loss=loss)
    kind = "permanent-magnet" if magnet else "series"
    motor = Motor(
        kind, flux_vs=0.02 if magnet else 0.05, armature_ohm=0.005, friction_nm=0.8, windage_nms2=2e-6,
        saturation_a=200.0, residual=0.01, brush_v=0.6,
    )  # fmt: skip
    mesh, cranked = Mesh(12.0, 0.88), CrankedEngine(engine, drag, 0.5)
    made = Starting(12.0, (Leg("all", ohm),), motor, Rotor(rotor, henry), mesh, cranked)
    run = course(made, 0.5, rtol=1e-8, points_per_s=8000)
    t, i, we, wm = run.time_s, run.current_a, run.speed_rad_s, run.motor_rad_s
    armature = wm * 12.0
    k_phi = np.asarray(flux(motor, i, i))
    push = k_phi * i - 0.8 - 2e-6 * armature**2
    driving = np.isclose(we, wm, rtol=1e-9, atol=1e-9)
    rate = np.where(driving, np.gradient(wm, t), 0.0)
    meshing = np.where(driving, (1 - 0.88) * (12.0 * push - 144.0 * rotor * rate) * wm, 0.0)
    friction = np.asarray(friction_torque(engine, drag, 0.5, we)) * we
    rest = halfway_rad(engine)
    gas = np.array([gas_torque(engine, drag, float(at), rest) for at in run.angle_rad]) * we
    given_w = over(12.0 * i, t)
    spent = over((ohm + 0.005) * i * i + 0.6 * i, t)
    spent += over((0.8 + 2e-6 * armature**2) * armature, t) + over(meshing, t) + over(friction + gas, t)
    stored = 0.5 * henry * i[-1] ** 2 + 0.5 * engine.inertia * we[-1] ** 2 + 0.5 * rotor * armature[-1] ** 2
    assert spent + stored == pytest.approx(given_w, rel=2e-3)
