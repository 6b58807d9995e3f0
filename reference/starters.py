"""Made starters with known faults, by equations of their own: none of them is the package's.

The iron is a magnetic circuit (gap and saturating steel) solved for its flux, the drag has a part that goes
with speed, a shorted armature coil has resistance and leakage, a shorted field coil unbalances its path, and
the brush drop bends at small current. Faults are put in where a starter has them, not as numbers of a model.

The equations take many starters at once: a `Starter` whose fields are arrays (`stacked`).
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, fields, replace
from typing import Any

import numpy as np

RPM = 2 * math.pi / 60
_HALVINGS = 46
_NEWTON_STEPS = 14


@dataclass(frozen=True)
class Starter:
    """A starter as it is built; SI. `bend` and `power` shape the steel, `reaction` weakens it under load."""

    field: str
    volts: float
    armature_ohm: float
    field_ohm: float
    contact_ohm: float
    brush_v: float
    ceiling_vs: float
    knee_a: float
    bend: float
    power: float
    reaction: float
    residual: float
    friction_nm: float
    viscous_nms: float
    fan_nms2: float
    bars: int
    leakage_s: float
    shunt_ohm: float = math.inf
    shunt_turns: float = 0.0
    # what is wrong
    joint_ohm: float = 0.0
    shorted_coils: int = 0
    open_coil: bool = False
    coil_share: float = 0.0
    open_path: bool = False
    leak_s: float = 0.0
    leak_before_armature: bool = True
    magnet: float = 1.0

    def flux(self, amps: Any) -> Any:
        """Flux linkage k phi at so many amperes round each wound pole."""
        x = np.maximum(amps / self.knee_a, 0.0)
        # x = y + bend y^power: gap and steel in series; y in shares of the unsaturated
        y = np.minimum(x, (x / self.bend) ** (1 / self.power))
        for _ in range(_NEWTON_STEPS):  # from above a convex curve's root: it only falls
            steel = self.bend * y ** (self.power - 1)
            y = y - (y + steel * y - x) / (1 + self.power * steel)
        top = (4.0 / self.bend) ** (1 / self.power)  # about what full current gives
        return self.ceiling_vs * (self.residual + y / top)


def stacked(starters: Sequence[Starter]) -> Starter:
    """Many starters as one, whose fields are arrays where they differ."""
    first = starters[0]
    every = {one.name: [getattr(each, one.name) for each in starters] for one in fields(Starter)}
    apart = {name: np.array(many) for name, many in every.items() if any(one != many[0] for one in many)}
    return replace(first, **apart)


def _field_share(starter: Starter) -> tuple[float, float]:
    """Ampere-turns and resistance of the series field against a sound one."""
    lost = starter.coil_share
    if lost == 0:
        return 1.0, 1.0
    if starter.field != "series-parallel":
        return 1 - lost / 4, 1 - lost / 4
    whole, short = 2.0, 2.0 - lost
    through_short = whole / (whole + short)
    turns = (whole * (1 - through_short) + short * through_short) / 2
    return turns, (whole * short / (whole + short)) / 1.0


@dataclass(frozen=True)
class Point:
    """What is true at the bench: terminal volts and amperes, speed [rad/s], torque [N m]; of many, arrays."""

    volts: Any
    amps: Any
    speed: Any
    torque: Any


def at_current(starter: Starter, volts: Any, armature_a: Any) -> Point:
    """The state in which the armature carries this current."""
    turns, ohms = _field_share(starter)
    series = starter.field_ohm * ohms * (2.0 if starter.open_path else 1.0)
    armature = starter.armature_ohm * np.where(starter.open_coil, 1.82, 1.0)
    drop = starter.brush_v * (1 - np.exp(-armature_a / 15.0)) + np.where(starter.open_coil, 0.2, 0.0)
    shunt = _shunt(starter, volts)
    # a leak at the brushes hangs on their volts, and these on all that flows before them, the leak too
    leak_s = np.where(starter.leak_before_armature, starter.leak_s, 0.0)
    before, ahead = volts - starter.joint_ohm * shunt, starter.joint_ohm + series
    through = np.maximum(armature_a, (armature_a + leak_s * before) / (1 + leak_s * ahead))
    brushes = before - ahead * through
    stud_leak = np.where(starter.leak_before_armature, 0.0, starter.leak_s) * volts
    emf = brushes - armature * armature_a - starter.contact_ohm * armature_a - drop
    k_phi = _k_phi(starter, turns * through, armature_a, volts)
    speed = emf / k_phi
    torque = k_phi * armature_a - _drag(starter, k_phi, speed)
    return Point(volts, through + stud_leak + shunt, speed, torque)


def _shunt(starter: Starter, volts: Any) -> Any:
    return 0.0 if math.isinf(starter.shunt_ohm) else volts / starter.shunt_ohm


def _k_phi(starter: Starter, exciting_a: Any, armature_a: Any, volts: Any) -> Any:
    full = starter.volts / (starter.armature_ohm + starter.field_ohm + starter.contact_ohm)
    weakened = 1 - starter.reaction * armature_a / full
    if starter.field == "permanent-magnet":
        return starter.ceiling_vs * starter.magnet * weakened
    exciting_a = exciting_a + starter.shunt_turns * _shunt(starter, volts)
    if starter.open_path:
        # two poles of four carry twice the turns; the others only return a little of their flux
        return 0.55 * starter.flux(2 * exciting_a) * weakened
    return starter.flux(exciting_a) * weakened


def _drag(starter: Starter, k_phi: Any, speed: Any) -> Any:
    turning = starter.viscous_nms * speed + starter.fan_nms2 * speed * np.abs(speed)
    drag = starter.friction_nm + turning
    if starter.shorted_coils:
        coil_ohm = 4 * starter.armature_ohm / starter.bars
        peak = 0.5 * math.pi * k_phi * speed * 2 / starter.bars
        reactance = 2 * speed * starter.leakage_s * coil_ohm
        lost = 0.5 * peak**2 * coil_ohm / (coil_ohm**2 + reactance**2)
        turns = np.where(speed > 0, speed, np.inf)
        drag = drag + starter.shorted_coils * lost / turns
    return drag


def locked(starter: Starter, volts: Any) -> Point:
    """Held still."""
    held = at_current(starter, volts, locked_amps(starter, volts))
    return replace(held, speed=np.zeros_like(held.speed))


def running(starter: Starter, volts: Any) -> Point:
    """Running free; stuck where it cannot turn even itself."""
    most = locked_amps(starter, volts)
    stuck = at_current(starter, volts, most).torque <= 0
    free = _rising(lambda amps: at_current(starter, volts, amps).torque, most * 1e-4, most)
    state = at_current(starter, volts, np.where(stuck, most, free))
    return replace(state, speed=np.where(stuck, 0.0, state.speed), torque=np.where(stuck, 0.0, state.torque))


def locked_amps(starter: Starter, volts: Any) -> Any:
    """Armature current when held still."""
    top = 3 * volts / (starter.armature_ohm + starter.contact_ohm)
    return _rising(lambda amps: -at_current(starter, volts, amps).speed, 1e-6 * top, top)


def _rising(of: Callable[[Any], Any], low: Any, high: Any) -> Any:
    """Where a function that rises crosses nought, of all starters at once, by halving."""
    for _ in range(_HALVINGS):
        middle = 0.5 * (low + high)
        above = of(middle) > 0
        low, high = np.where(above, low, middle), np.where(above, middle, high)
    return 0.5 * (low + high)


def make_model(random: np.random.Generator) -> Starter:
    """A model: field, power and voltage drawn, everything else in proportion."""
    field = str(
        random.choice(["series", "series-parallel", "permanent-magnet", "compound"], p=[0.35, 0.35, 0.2, 0.1])
    )
    volts = float(random.choice([12.0, 24.0], p=[0.6, 0.4]))
    watts = random.uniform(900, 2200) if field == "permanent-magnet" else random.uniform(1200, 6500)
    ohm = 0.2 * volts**2 / watts
    full = volts / ohm
    speed = random.uniform(1200, 3200) * RPM
    ceiling = (0.5 * volts - 0.4) / speed
    wound = field != "permanent-magnet"
    share = random.uniform(0.35, 0.5) if wound else 0.0
    friction = (random.uniform(0.01, 0.025) if wound else random.uniform(0.02, 0.05)) * ceiling * full
    fast = volts * 0.9 / ceiling * (2.2 if wound else 1.0)
    starter = Starter(
        field=field,
        volts=volts,
        armature_ohm=ohm * 0.88 * (1 - share),
        field_ohm=ohm * 0.88 * share,
        contact_ohm=ohm * 0.12,
        brush_v=random.uniform(0.3, 0.8),
        ceiling_vs=ceiling,
        knee_a=full * random.uniform(0.06, 0.2),
        bend=random.uniform(0.3, 1.2),
        power=random.uniform(4.0, 9.0),
        reaction=random.uniform(0.0, 0.06) if wound else random.uniform(0.05, 0.2),
        residual=random.uniform(0.005, 0.02),
        friction_nm=friction,
        viscous_nms=friction * random.uniform(0.1, 0.4) / fast,
        fan_nms2=friction * random.uniform(0.2, 0.8) / fast**2,
        bars=int(random.choice([23, 27, 31, 33, 41, 57])),
        leakage_s=random.uniform(0.0002, 0.001),
    )
    if field == "compound":
        current = 0.012 * full
        turns = random.uniform(0.2, 0.5) * starter.knee_a / current
        starter = replace(starter, shunt_ohm=volts / current, shunt_turns=turns)
    return starter


def make_one(model: Starter, random: np.random.Generator) -> Starter:
    """One motor of a model, sound; motors differ by a few percent in everything."""

    def about(share: float) -> float:
        return float(1 + random.uniform(-1.7, 1.7) * share)

    return replace(
        model,
        armature_ohm=model.armature_ohm * about(0.025),
        field_ohm=model.field_ohm * about(0.025),
        contact_ohm=model.contact_ohm * about(0.15),
        brush_v=model.brush_v * about(0.12),
        ceiling_vs=model.ceiling_vs * about(0.02),
        knee_a=model.knee_a * about(0.03),
        friction_nm=model.friction_nm * about(0.15),
        viscous_nms=model.viscous_nms * about(0.15),
        fan_nms2=model.fan_nms2 * about(0.08),
    )


FAULTS = (
    "friction", "shorted-armature", "open-armature-coil", "brush-contact", "high-resistance", "shorted-field",
    "open-field-path", "weak-magnets", "shunt-open", "grounded-winding", "dead-ground", "seized", "open",
)  # fmt: skip


def possible(model: Starter) -> tuple[str, ...]:
    """The faults this kind of starter can have."""
    wound = model.field != "permanent-magnet"
    left_out = {
        "shorted-field": wound,
        "open-field-path": model.field == "series-parallel",
        "weak-magnets": not wound,
        "shunt-open": model.field == "compound",
    }
    return tuple(fault for fault in FAULTS if left_out.get(fault, True))


def spoil(starter: Starter, fault: str, random: np.random.Generator) -> Starter:
    """The starter with one fault that somebody would bring it in for."""
    ohm = starter.armature_ohm + starter.field_ohm + starter.contact_ohm
    if fault == "friction":
        return replace(starter, friction_nm=starter.friction_nm * random.uniform(2.0, 5.0))
    if fault == "shorted-armature":
        return replace(starter, shorted_coils=int(random.integers(1, 4)))
    if fault == "open-armature-coil":
        return replace(starter, open_coil=True)
    if fault == "brush-contact":
        return replace(
            starter,
            brush_v=starter.brush_v + random.uniform(0.04, 0.12) * starter.volts,
            contact_ohm=starter.contact_ohm + ohm * random.uniform(0.1, 0.6),
            friction_nm=starter.friction_nm * random.uniform(0.85, 1.0),
        )
    if fault == "high-resistance":
        return replace(starter, joint_ohm=ohm * random.uniform(0.4, 2.0))
    if fault == "shorted-field":
        return replace(starter, coil_share=float(random.choice([0.5, 1.0])))
    if fault == "open-field-path":
        return replace(starter, open_path=True)
    if fault == "weak-magnets":
        return replace(starter, magnet=random.uniform(0.65, 0.9))
    if fault == "shunt-open":
        return replace(starter, shunt_ohm=math.inf)
    if fault == "grounded-winding":
        leak = random.uniform(0.06, 0.5) / ohm
        return replace(starter, leak_s=leak, leak_before_armature=bool(random.random() < 0.7))
    return starter


@dataclass(frozen=True)
class Heat:
    """How a winding warms while it is tested: all its heat stays in the copper, as in the first seconds.

    `off_k` is how far it is from what the thermometer says before the test [K], `density` the current density
    at the full current of a starter locked at its nominal volts [A/m2].
    """

    off_k: float = 0.0
    density: float = 0.0
    free_s: float = 0.0
    held_s: float = 0.0

    def warmed(self, starter: Starter, amps: Any, seconds: float) -> Starter:
        """The starter as warm as a test at this current makes it."""
        full = starter.volts / (starter.armature_ohm + starter.field_ohm + starter.contact_ohm)
        density = self.density * amps / full
        kelvin = self.off_k + density**2 * _COPPER_OHM_M / _COPPER_J_M3K * seconds
        more = 1 + _COPPER_PER_K * kelvin
        return replace(
            starter,
            armature_ohm=starter.armature_ohm * more,
            field_ohm=starter.field_ohm * more,
            shunt_ohm=starter.shunt_ohm * more,
        )


_THERMOMETER_K = 2.0
_COPPER_OHM_M, _COPPER_J_M3K, _COPPER_PER_K = 1.724e-8, 3.45e6, 0.00393


def make_heat(random: np.random.Generator) -> Heat:
    """Starters are built for seconds: several times the current density of a motor that runs for hours."""
    off = _THERMOMETER_K * random.standard_normal()
    return Heat(off, random.uniform(25e6, 50e6), random.uniform(10.0, 30.0), random.uniform(3.0, 8.0))


COOL = Heat()


def bench_points(
    starter: Starter, fault: str, random: np.random.Generator, heat: Heat = COOL
) -> tuple[Point, Point, Point, Point]:
    """What is true in a no-load and a lock test at about the usual volts, and in both at half of these."""
    free = starter.volts / 12 * random.uniform(11.0, 11.8)
    held = starter.volts / 12 * random.uniform(3.0, 4.5)
    odd = {"dead-ground": (0.15, 0.6), "seized": (0.0, 1.2)}.get(fault)
    share = random.uniform(*odd) if odd else 1.0

    def true(run: Callable[[Starter, float], Point], volts: float) -> Point:
        seconds = heat.held_s if run is locked else heat.free_s
        stuck = _stuck(starter, fault, share, volts, arm=run is locked)
        return stuck or run(heat.warmed(starter, run(starter, volts).amps, seconds), volts)

    return true(running, free), true(locked, held), true(running, free / 2), true(locked, held / 2)


def _stuck(starter: Starter, fault: str, share: float, volts: float, *, arm: bool) -> Point | None:
    """What is true of a starter that does not turn; None of one that does."""
    if fault == "open":
        return Point(volts, 0.0, 0.0, 0.0)
    if fault == "dead-ground":
        return Point(volts, volts / ((starter.armature_ohm + starter.field_ohm) * share), 0.0, 0.0)
    if fault == "seized":
        rest = locked(starter, volts)
        return replace(rest, torque=rest.torque * share if arm else 0.0)
    return None


@dataclass(frozen=True)
class Meters:
    """Each meter is off by a share of its own, and each reading by another; together 1 %."""

    gain: float = 0.007
    scatter: float = 0.007


def read(points: Sequence[Point], meters: Meters, random: np.random.Generator) -> list[dict[str, float]]:
    """The points as meters show them, with as many digits as such meters have."""
    off = {name: 1 + meters.gain * random.standard_normal() for name in ("volts", "amps", "speed", "torque")}
    digits = {"volts": 0.01, "amps": 1.0, "speed": 10 * RPM, "torque": 0.1}
    rows = []
    for point in points:
        row = {}
        for name, gain in off.items():
            value = getattr(point, name) * gain * (1 + meters.scatter * random.standard_normal())
            row[name] = round(value / digits[name]) * digits[name]
        rows.append(row)
    return rows


def sheet_of(model: Starter) -> dict[str, Any]:
    """What a sheet prints of a model: no load, lock and the rated point, to three figures."""
    scale = model.volts / 12
    free, held = running(model, 11.5 * scale), locked(model, 4.0 * scale)
    volts = 9.6 * scale
    rated = _most_power(model, volts, 0.75)
    return {
        name: {key: float(f"{getattr(point, key):.3g}") for key in ("volts", "amps", "speed", "torque")}
        for name, point in (("no-load", free), ("lock", held), ("rated", rated))
    }


def _most_power(model: Starter, volts: float, share: float) -> Point:
    most = locked_amps(model, volts)
    shares = np.linspace(0.15, 0.85, 141)
    states = at_current(model, volts, most * shares)
    return at_current(model, volts, most * shares[np.argmax(states.speed * states.torque)] * share)


def power_at(starter: Starter, fault: str, volts: float, amps: float) -> Any:
    """True power at the shaft at terminal volts and current [W]; none where it cannot run there."""
    if fault in ("open", "dead-ground", "seized"):
        return 0.0
    # the armature carries no more than the terminal
    carried = _rising(lambda inner: at_current(starter, volts, inner).amps - amps, 0.0, amps)
    state = at_current(starter, volts, carried)
    runs = (state.speed > 0) & (state.torque > 0) & (np.abs(state.amps / amps - 1) < 1e-6)
    return np.where(runs, state.speed * state.torque, 0.0)
