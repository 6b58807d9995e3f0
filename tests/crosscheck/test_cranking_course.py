"""The course of a start against two other ways to integrate it: small fixed steps, and a circuit simulator.

Both are given the equations anew, written here from docs/cranking.md; of the package they use figures only.
"""

from __future__ import annotations

import math
import subprocess
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray

from barwise.machine.cranking import CrankedEngine, Leg, Mesh
from barwise.machine.cranking_course import Course, Rotor, Starting, course
from barwise.machine.cranking_many import many_starts
from barwise.machine.engine import Drag, Engine
from barwise.machine.motor import Motor

Array = NDArray[np.float64]
AGREES = 1e-3
"""Of the largest speed and current of the course: the figure the project set itself."""


@dataclass(frozen=True)
class Case:
    """One start in plain numbers."""

    litres: float
    cylinders: int
    ratio: float
    closes_deg: float = 140.0
    gas_loss: float = 0.2
    polytropic: float = 1.2
    friction_pa: float = 1.1e5
    exponent: float = 0.24
    viscosity: float = 0.8
    volts: float = 11.9
    ohm: float = 0.0075
    flux: float = 0.045
    saturation: float = 200.0
    knee: float = 2.0
    motor_ohm: float = 0.005
    brush_v: float = 0.6
    friction_nm: float = 1.0
    windage: float = 2e-6
    inertia: float = 0.8
    rotor: float = 0.004
    henry: float = 1.2e-4
    gears: float = 12.0
    arrives: float = 0.88
    short_s: float = 0.0
    corner: float = 1e6

    def starting(self) -> Starting:
        engine = Engine(
            self.litres * 1e-3, self.cylinders, 4, "petrol", self.ratio,
            closes_rad=math.radians(self.closes_deg), inertia_kgm2=self.inertia,
        )  # fmt: skip
        drag = Drag(self.friction_pa, self.exponent, self.gas_loss, self.polytropic)
        motor = Motor(
            "series", flux_vs=self.flux, armature_ohm=self.motor_ohm, friction_nm=self.friction_nm,
            windage_nms2=self.windage, saturation_a=self.saturation, knee=self.knee, brush_v=self.brush_v,
            short_s=self.short_s, short_corner_rad_s=self.corner,
        )  # fmt: skip
        return Starting(
            self.volts, (Leg("all", self.ohm),), motor, Rotor(self.rotor, self.henry),
            Mesh(self.gears, self.arrives), CrankedEngine(engine, drag, self.viscosity),
        )  # fmt: skip

    def k_phi(self, amperes: float) -> float:
        x = abs(amperes) / self.saturation
        return float(self.flux * x / (1 + x**self.knee) ** (1 / self.knee))

    def friction(self, speed: float) -> float:
        crawl = math.hypot(speed, 2 * math.pi / 60)
        relative = self.viscosity * crawl / (0.1 * 150 * 2 * math.pi / 60)
        return float(self.friction_pa * relative**self.exponent * self.litres * 1e-3 / (4 * math.pi))

    def gas(self, angle: float) -> float:
        """Each cylinder by itself, its pressure from the volume at which it was shut or had leaked out."""
        apart, rest = 4 * math.pi / self.cylinders, -2 * math.pi / self.cylinders
        shut, total = math.radians(self.closes_deg), 0.0
        for cylinder in range(self.cylinders):
            turns = round((angle - cylinder * apart) / (4 * math.pi))
            here = angle - cylinder * apart - turns * 4 * math.pi
            if abs(here) >= shut:
                continue
            began = max(-shut, rest - cylinder * apart - turns * 4 * math.pi)
            pressure = 101_325.0 * ((self.volume(began) / self.volume(here)) ** self.polytropic - 1)
            pressure *= 1.0 if here <= 0 else 1 - self.gas_loss
            sine, rod = math.sin(here), 1 / 0.28
            per_angle = sine * (1 + math.cos(here) / math.sqrt(rod * rod - sine * sine))
            total -= pressure * self.litres * 1e-3 / self.cylinders / 2 * per_angle
        return total

    def volume(self, angle: float) -> float:
        rod = 1 / 0.28
        travel = 1 + rod - math.cos(angle) - math.sqrt(rod * rod - math.sin(angle) ** 2)
        return self.litres * 1e-3 / self.cylinders * (1 / (self.ratio - 1) + travel / 2)


def fixed_steps(case: Case, seconds: float, step: float) -> tuple[Array, Array]:
    """Engine speed and current, the plain way: fourth-order steps, the state looked at after each."""
    angle, engine, motor, amperes = -2 * math.pi / case.cylinders, 0.0, 0.0, 0.0
    held, coupled = True, True
    both = case.inertia + case.arrives * case.gears**2 * case.rotor
    breaks = 1.5 * case.friction(150 * 2 * math.pi / 60)

    def push(w: float, i: float) -> float:
        turning = w * case.gears
        braking = case.short_s * case.k_phi(i) ** 2 * turning / (1 + (turning / case.corner) ** 2)
        return case.k_phi(i) * i - case.friction_nm - case.windage * turning * turning - braking

    def rates(th: float, we: float, wm: float, i: float) -> tuple[float, float, float, float]:
        volts = case.volts - case.brush_v - i * (case.ohm + case.motor_ohm)
        di = (volts - case.k_phi(i) * case.gears * wm) / case.henry
        if held:
            return 0.0, 0.0, 0.0, di
        load = case.friction(we) + case.gas(th)
        if coupled:
            gain = (case.arrives * case.gears * push(wm, i) - load) / both
            return we, gain, gain, di
        return we, -load / case.inertia, push(wm, i) / (case.rotor * case.gears), di

    speeds, currents = [0.0], [0.0]
    for _ in range(round(seconds / step)):
        y = (angle, engine, motor, amperes)
        k1 = rates(*y)
        k2 = rates(*(a + step / 2 * b for a, b in zip(y, k1, strict=True)))
        k3 = rates(*(a + step / 2 * b for a, b in zip(y, k2, strict=True)))
        k4 = rates(*(a + step * b for a, b in zip(y, k3, strict=True)))
        angle, engine, motor, amperes = (
            a + step / 6 * (p + 2 * q + 2 * r + s) for a, p, q, r, s in zip(y, k1, k2, k3, k4, strict=True)
        )
        if held:
            held = case.arrives * case.gears * push(0.0, amperes) <= breaks + case.gas(angle)
        elif coupled:
            gain = rates(angle, engine, motor, amperes)[1]
            coupled = case.inertia * gain + case.friction(engine) + case.gas(angle) >= 0
        elif motor >= engine:
            coupled, motor = True, engine
        speeds.append(engine)
        currents.append(amperes)
    return np.array(speeds), np.array(currents)


SIX = Case(litres=3.6, cylinders=6, ratio=9.5)
THUMPER = Case(
    litres=0.6, cylinders=1, ratio=8.5, inertia=0.25, rotor=0.0015, viscosity=0.3, gears=10.0, volts=12.0
)
HEAVY = Case(litres=2.6, cylinders=4, ratio=17.5, friction_pa=1.6e5, inertia=0.9)

SHORTED = replace(HEAVY, short_s=25.0, corner=400.0)
"""An armature with some coils shorted: they brake as it turns."""


def differences(run: Course, speeds: Array, currents: Array) -> tuple[float, float]:
    """Largest differences as shares of the largest speed and current."""
    apart = np.abs(run.speed_rad_s - speeds).max() / run.speed_rad_s.max()
    return float(apart), float(np.abs(run.current_a - currents).max() / run.current_a.max())


@pytest.mark.parametrize("case", [SIX, THUMPER, HEAVY, SHORTED], ids=["six", "thumper", "heavy", "shorted"])
def test_the_course_agrees_with_small_fixed_steps_to_a_thousandth(case: Case) -> None:
    """Source: the classical Runge-Kutta rule with steps of 50 microseconds, on equations of its own."""
    seconds, step = 0.6, 5e-5
    run = course(case.starting(), seconds, points_per_s=2000)
    every = round(1 / 2000 / step)
    speeds, currents = fixed_steps(case, seconds, step)
    assert max(differences(run, speeds[::every], currents[::every])) < AGREES


def test_shorted_coils_brake_the_start() -> None:
    """Else the case above would not have tried them; many starts at once feel them as much."""
    speeds = [float(course(case.starting(), 0.6).speed_rad_s[-200:].mean()) for case in (HEAVY, SHORTED)]
    assert speeds[1] < 0.9 * speeds[0]
    at_once = [
        float(many_starts(one.loaded_v, one.legs, one.motor, one.rotor, one.mesh, one.cranked).speed_rad_s)
        for one in (HEAVY.starting(), SHORTED.starting())
    ]
    assert at_once[1] / at_once[0] == pytest.approx(speeds[1] / speeds[0], rel=0.05)


def test_the_single_cylinder_does_run_ahead_of_its_pinion() -> None:
    """Else the case above would not have tried the third state."""
    modes = [mode for _, mode in course(THUMPER.starting(), 0.6).modes]
    assert modes.count("overrunning") >= 2


@pytest.mark.parametrize("case", [SIX, HEAVY], ids=["six", "heavy"])
def test_the_course_agrees_with_its_own_tight_tolerance_to_a_thousandth(case: Case) -> None:
    """Source: the same solver (SciPy, DOP853) asked for ten figures."""
    usual, tight = (course(case.starting(), 0.8, rtol=rtol) for rtol in (1e-6, 1e-10))
    assert max(differences(usual, tight.speed_rad_s, tight.current_a)) < AGREES


@pytest.mark.parametrize("case", [SIX, HEAVY, SHORTED], ids=["six", "heavy", "shorted"])
def test_the_course_agrees_with_a_circuit_simulator_to_a_thousandth(case: Case, tmp_path: Path) -> None:
    """Source: ngspice (Debian package), transient analysis of the start as a circuit of behavioural sources:
    speed is the voltage of a capacitor of as many farads as the inertia has kg m2, angle of one farad."""
    run = course(case.starting(), 0.6, points_per_s=4000)
    assert [mode for _, mode in run.modes] == ["held", "driving"]
    began = run.broke_away_s
    assert began is not None
    after = np.flatnonzero(run.time_s >= began)[1:]
    first = int(after[0])
    time, angle, speed, current = simulated(case, run, first, tmp_path)
    assert angle[-1] > run.angle_rad[first] + 2
    theirs = np.interp(run.time_s[after] - run.time_s[first], time, speed)
    amperes = np.interp(run.time_s[after] - run.time_s[first], time, current)
    assert np.abs(theirs - run.speed_rad_s[after]).max() < AGREES * run.speed_rad_s.max()
    assert np.abs(amperes - run.current_a[after]).max() < AGREES * run.current_a.max()


def simulated(case: Case, run: Course, first: int, folder: Path) -> tuple[Array, Array, Array, Array]:
    """Time, angle, speed and current of the simulator from the values at one point of the course."""
    until = float(run.time_s[-1] - run.time_s[first])
    angles = np.linspace(run.angle_rad[first] - 0.1, run.angle_rad[-1] + 1.0, 2500)
    table = ",".join(f"{at:.7g},{case.gas(float(at)):.7g}" for at in angles)
    both = case.inertia + case.arrives * case.gears**2 * case.rotor
    share = f"(abs(i(vm))/{case.saturation})"
    phi = f"({case.flux}*{share}/pow(1+pow({share},{case.knee}),{1 / case.knee}))"
    mep = case.friction_pa * case.litres * 1e-3 / (4 * math.pi)
    rpm = 2 * math.pi / 60
    relative = f"({case.viscosity}*sqrt(v(w)*v(w)+{rpm**2})/{0.1 * 150 * rpm})"
    turning = f"({case.gears}*v(w))"
    braking = f"{case.short_s}*{phi}*{phi}*{turning}/(1+{turning}*{turning}/{case.corner**2:.6g})"
    drag = f"{case.friction_nm}+{case.windage * case.gears**2}*v(w)*v(w)+{braking}"
    deck = folder / "start.cir"
    out = folder / "start.txt"
    deck.write_text(
        "\n".join(
            [
                "a start",
                f"vs e 0 {case.volts - case.brush_v}",
                f"rall e a {case.ohm + case.motor_ohm}",
                "vm a b 0",
                f"lm b c {case.henry} ic={run.current_a[first]:.12g}",
                f"be c 0 v={phi}*{case.gears}*v(w)",
                f"bgas g 0 v=pwl(v(th),{table})",
                "rg g 0 1",
                f"bw 0 w i={case.arrives * case.gears}*({phi}*i(vm)-({drag}))"
                f"-{mep}*pow({relative},{case.exponent})-v(g)",
                f"cw w 0 {both:.12g} ic={run.speed_rad_s[first]:.12g}",
                "bt 0 th i=v(w)",
                f"ct th 0 1 ic={run.angle_rad[first]:.12g}",
                ".options reltol=1e-6 abstol=1e-9 vntol=1e-9 method=gear",
                ".control",
                "set wr_singlescale",
                "set numdgt=12",
                f"tran 1e-4 {until:.9g} 0 1e-4 uic",
                f"wrdata {out} v(th) v(w) i(vm)",
                "quit",
                ".endc",
                ".end",
            ]
        ),
        encoding="ascii",
    )
    done = subprocess.run(
        ["ngspice", "-n", "-b", str(deck)], capture_output=True, text=True, timeout=120, check=False
    )
    assert out.exists(), done.stderr[-400:] + done.stdout[-400:]
    time, angle, speed, current = np.loadtxt(out).T
    return time, angle, speed, current
