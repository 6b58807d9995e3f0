"""What an engine asks of the starter: friction in cold oil, compressions, and the push to break it away.

Every number of a `Drag` may be an array; arrays broadcast, so many guesses are worked out at once.

    friction mep = p (mu w / mu0 w0)^m          torque = mep Vd / (cycle angle)

    gas: p / p0 = 1 + ((Vc / V)^n - 1) (1 - loss after top dead centre), between closing and opening

Sources
-------
Torque from mean effective pressure, crank-slider volumes: any text on engines, such as J. B. Heywood,
Internal Combustion Engine Fundamentals, chapters 2 and 13 (from memory).
The power of the oil's thickness, 0.24: P. Shayler and others, SAE 2005-01-1654, for cold low-speed running
(its abstract read, the number from memory). A trade table of the power an engine needs to turn, 100 % at
27 °C, 155 % at 0, 210 % at -18, 350 % at -29 (read second hand, no author), agrees with it within a fifth.
All else here - the mean effective pressures, what a compression loses, breakaway, least speeds, inertia - is
common practice, no source, and carries a wide spread.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal, TypeAlias

import numpy as np
from numpy.typing import NDArray

from barwise.errors import InputError

Floats: TypeAlias = "float | NDArray[np.float64]"
Fuel = Literal["petrol", "diesel", "diesel-indirect"]

AIR_PA = 101_325.0
REFERENCE_VISCOSITY_PA_S = 0.1
REFERENCE_RAD_S = 150 * 2 * math.pi / 60
ROD_RATIO = 0.28
"""Crank radius over length of the connecting rod."""
FRICTION_MEP_PA: dict[str, float] = {"petrol": 100e3, "diesel": 165e3, "diesel-indirect": 150e3}
"""Friction at 150 rev/min in oil of 0.1 Pa s."""
LEAST_RPM: dict[str, tuple[float, float]] = {
    "petrol": (50.0, 80.0), "diesel": (90.0, 150.0), "diesel-indirect": (100.0, 180.0),
}  # fmt: skip
"""Below the first hardly any engine of the kind starts cold, above the second most do [rev/min]."""
_CLOSES_DEG = {4: 140.0, 2: 120.0}
_INERTIA_KGM2_PER_M3 = 250.0


@dataclass(frozen=True)
class Engine:
    """An engine as its plate describes it.

    Parameters
    ----------
    displacement_m3 : float
        All cylinders [m3].
    cylinders : int
    strokes : int
        2 or 4.
    fuel : str
    compression_ratio : float
    closes_rad : float, optional
        Crank angle before top dead centre at which the cylinder is shut; it opens as far after [rad].
    inertia_kgm2 : float, optional
        Flywheel and crank [kg m2]; without it a quarter of a kg m2 for each litre.

    Raises
    ------
    InputError
        If a figure cannot be.
    """

    displacement_m3: float
    cylinders: int
    strokes: int
    fuel: Fuel
    compression_ratio: float
    closes_rad: float | None = None
    inertia_kgm2: float | None = None

    def __post_init__(self) -> None:
        litres = self.displacement_m3 * 1000
        _must(0.02 <= litres <= 200, "displacement", f"{litres:g} L", "0.02 to 200 L")
        _must(1 <= self.cylinders <= 24, "cylinders", str(self.cylinders), "1 to 24")
        _must(self.strokes in (2, 4), "strokes", str(self.strokes), "2 or 4")
        _must(self.fuel in LEAST_RPM, "fuel", self.fuel, ", ".join(LEAST_RPM))
        _must(3 < self.compression_ratio < 30, "compression ratio", f"{self.compression_ratio:g}", "3 to 30")
        _must(0.5 < self.closes < math.pi, "closes", f"{self.closes:g} rad", "0.5 to pi before top")
        _must(self.inertia > 0, "inertia", f"{self.inertia:g} kg m2", "above 0")

    @property
    def cycle_rad(self) -> float:
        """Crank angle of one cycle [rad]."""
        return self.strokes * math.pi

    @property
    def closes(self) -> float:
        """Crank angle before top dead centre at which the cylinder is shut [rad]."""
        usual = math.radians(_CLOSES_DEG.get(self.strokes, 140.0))
        return usual if self.closes_rad is None else self.closes_rad

    @property
    def inertia(self) -> float:
        """Flywheel and crank [kg m2]."""
        usual = _INERTIA_KGM2_PER_M3 * self.displacement_m3
        return usual if self.inertia_kgm2 is None else self.inertia_kgm2

    @property
    def cylinder_m3(self) -> float:
        """Swept by one piston [m3]."""
        return self.displacement_m3 / self.cylinders


@dataclass(frozen=True)
class Drag:
    """What no plate says of an engine.

    Attributes
    ----------
    friction_pa : float
        Friction mean effective pressure at 150 rev/min in oil of 0.1 Pa s [Pa].
    exponent : float
        Power of oil thickness and speed.
    gas_loss : float
        Share of the compression work that does not come back, by cooling and leaking.
    polytropic : float
        Exponent of compression at cranking speed, as pressure gauges show it: some 27 bar of a diesel of 17,
        11 bar of a petrol engine of 9 (common practice, no source).
    breakaway : float
        Torque that starts it over its friction at 150 rev/min.
    """

    friction_pa: Floats
    exponent: Floats = 0.24
    gas_loss: Floats = 0.2
    polytropic: float = 1.2
    breakaway: Floats = 1.5


def usual_drag(engine: Engine) -> Drag:
    """The drag of an engine of this kind in fair order."""
    return Drag(FRICTION_MEP_PA[engine.fuel])


def friction_torque(engine: Engine, drag: Drag, viscosity_pa_s: Floats, speed_rad_s: Floats) -> Floats:
    """Torque of friction at the crank [N m].

    Parameters
    ----------
    viscosity_pa_s : float
        Of the oil at its temperature [Pa s].
    speed_rad_s : float
        Of the crank [rad/s]; the friction of one that hardly turns is that of a sixtieth of a turn a second.
    """
    crawl = 2 * math.pi / 60
    turning = np.hypot(speed_rad_s, crawl)
    relative = viscosity_pa_s * turning / (REFERENCE_VISCOSITY_PA_S * REFERENCE_RAD_S)
    torque = drag.friction_pa * relative**drag.exponent * engine.displacement_m3 / engine.cycle_rad
    return np.asarray(torque)[()]


def breakaway_torque(engine: Engine, drag: Drag, viscosity_pa_s: Floats) -> Floats:
    """Torque at the crank that starts it against oil and seals alone [N m]."""
    return drag.breakaway * friction_torque(engine, drag, viscosity_pa_s, REFERENCE_RAD_S)


def mean_gas_torque(engine: Engine, drag: Drag) -> Floats:
    """Torque that compressing and letting go costs on average [N m].

    Notes
    -----
    Work of one compression above the air's own, p0 Vc ((c^(n-1) - 1) / (n - 1) - (1 - 1/c)), times the share
    lost, times cylinders over the cycle's angle; Vc is the volume at closing and c that over the least one.
    """
    closed, least = _volume(engine, engine.closes), _volume(engine, 0.0)
    ratio, over = closed / least, drag.polytropic - 1
    work = AIR_PA * closed * ((ratio**over - 1) / over - (1 - 1 / ratio))
    return np.asarray(drag.gas_loss * work * engine.cylinders / engine.cycle_rad)[()]


def mean_torque(engine: Engine, drag: Drag, viscosity_pa_s: Floats, speed_rad_s: Floats) -> Floats:
    """Torque at the crank on average over a cycle [N m]."""
    return friction_torque(engine, drag, viscosity_pa_s, speed_rad_s) + mean_gas_torque(engine, drag)


def gas_torque(engine: Engine, drag: Drag, angle_rad: float, rest_rad: float | None = None) -> float:
    """Torque with which the gas holds the crank back at an angle [N m]; negative where it pushes on.

    Parameters
    ----------
    angle_rad : float
        Of the crank, 0 where the first cylinder is at the top of its compression [rad]. The others follow
        evenly.
    rest_rad : float, optional
        Where the crank stood long enough for every cylinder to leak out [rad]: one that was shut there
        begins from the air's pressure at that place.
    """
    apart = engine.cycle_rad / engine.cylinders
    total = 0.0
    for cylinder in range(engine.cylinders):
        after = (angle_rad - cylinder * apart + engine.cycle_rad / 2) % engine.cycle_rad
        after -= engine.cycle_rad / 2
        if abs(after) < engine.closes:
            stood = -engine.closes if rest_rad is None else max(-engine.closes, after - angle_rad + rest_rad)
            total += _held_back(engine, drag, after, stood)
    return total


def halfway_rad(engine: Engine) -> float:
    """Where an engine left alone usually comes to rest: halfway between two compressions [rad]."""
    return -engine.cycle_rad / engine.cylinders / 2


def _held_back(engine: Engine, drag: Drag, after_top_rad: float, from_rad: float) -> float:
    """Of one cylinder that held air of the outside's pressure at `from_rad`."""
    squeezed = _volume(engine, from_rad) / _volume(engine, after_top_rad)
    kept = 1.0 if after_top_rad <= 0 else 1.0 - float(drag.gas_loss)
    over: float = AIR_PA * (squeezed**drag.polytropic - 1) * kept
    return -over * _swept_per_rad(engine, after_top_rad)


def _volume(engine: Engine, angle_rad: float) -> float:
    """Above the piston of one cylinder [m3]."""
    sine, cosine = ROD_RATIO * math.sin(angle_rad), math.cos(angle_rad)
    down = (1 + 1 / ROD_RATIO - cosine - math.sqrt(1 - sine * sine) / ROD_RATIO) / 2
    return engine.cylinder_m3 * (1 / (engine.compression_ratio - 1) + down)


def _swept_per_rad(engine: Engine, angle_rad: float) -> float:
    sine, cosine = math.sin(angle_rad), math.cos(angle_rad)
    lean = ROD_RATIO * cosine / math.sqrt(1 - (ROD_RATIO * sine) ** 2)
    return engine.cylinder_m3 / 2 * sine * (1 + lean)


def _must(holds: bool, what: str, found: str, expected: str) -> None:
    if not holds:
        raise InputError(f"engine, {what}", found, expected)
