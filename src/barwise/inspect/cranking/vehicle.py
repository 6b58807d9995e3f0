"""The vehicle as far as the starter feels it, and how far each figure of it may be off.

Spreads without a source are common practice: they are wide on purpose, and a measured run narrows them.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from barwise.errors import InputError
from barwise.machine.battery import Battery, BatteryHabits, internal_resistance, loaded_volts
from barwise.machine.cranking import CrankedEngine
from barwise.machine.cranking_course import Rotor
from barwise.machine.engine import LEAST_RPM, Drag, Engine, usual_drag
from barwise.machine.motor import Motor, at_temperature, many_of, picked
from barwise.machine.oil import oil_of_grade, viscosity_pa_s
from barwise.measure.distribution import many_quantiles
from barwise.measure.uncertainty import Estimate

Draw = NDArray[np.float64]

UNKNOWN_C = (-15.0, 35.0)
"""Where the temperature is not given: nothing is assumed within this."""
DRAWS = 512
_SEED = 20_260_101
_OIL_GRID = np.linspace(0.5, 1.0, 6)


@dataclass(frozen=True)
class WayLeg:
    """One stretch between battery and starter.

    Attributes
    ----------
    name : str
        Such as ``positive cable``.
    now : Estimate
        Its resistance as it is, at the temperature of the question [ohm].
    healthy_ohm : float
        What it would be in order [ohm].
    measured : bool
        Whether it was measured, or worked out from what it is made of.
    """

    name: str
    now: Estimate
    healthy_ohm: float
    measured: bool = False


@dataclass(frozen=True)
class Vehicle:
    """One vehicle and its starter.

    Attributes
    ----------
    battery : Battery
    temperature_c : float or None
        Of battery, starter, engine and oil after a night outside [degC]; None where nobody said.
    legs : tuple of WayLeg
        Without the battery's own resistance.
    starter, sound_starter : Motor
        As it is, and as it were in order, at 20 °C. Single numbers, or both arrays of shape (N,): motors that
        are as likely each, pair by pair, as a run test leaves them possible.
    starter_spread : float
        Standard deviation of its flux and resistance, as a share, beyond that.
    ratio : float
        Ring gear over pinion.
    engine : Engine
    rotor : Rotor
    oil : str
        Grade.
    least_rpm : tuple of float, optional
        Speed below which hardly any such engine starts, and above which most do [rev/min].
    battery_ohm : Estimate, optional
        Where its own resistance was measured at this temperature [ohm].
    drag : Drag, optional
    """

    battery: Battery
    temperature_c: float | None
    legs: tuple[WayLeg, ...]
    starter: Motor
    sound_starter: Motor
    ratio: float
    engine: Engine
    rotor: Rotor
    oil: str = "15W-40"
    starter_spread: float = 0.0
    least_rpm: tuple[float, float] | None = None
    battery_ohm: Estimate | None = None
    drag: Drag | None = None

    def __post_init__(self) -> None:
        if self.temperature_c is not None and not -60 <= self.temperature_c <= 80:
            raise InputError("temperature", f"{self.temperature_c:g} °C", "-60 to 80 °C")
        names = [leg.name for leg in self.legs]
        if len(set(names)) != len(names) or {"battery", "starter"} & set(names):
            raise InputError(
                "legs", ", ".join(names), "each stretch once, battery and starter not among them"
            )
        oil_of_grade(self.oil)

    @property
    def links(self) -> tuple[str, ...]:
        """What may be put in order: battery, each leg, starter."""
        return ("battery", *(leg.name for leg in self.legs), "starter")

    @property
    def least(self) -> tuple[float, float]:
        """Least starting speed, from and to [rev/min]."""
        return LEAST_RPM[self.engine.fuel] if self.least_rpm is None else self.least_rpm


@dataclass(frozen=True)
class Draws:
    """Guesses at everything that is not known, each array of shape (draws,).

    `battery_share` is the battery's resistance over that of its rating, where it was not measured; `starter`
    says which of the possible starters it is.
    """

    temperature_c: Draw
    habits: BatteryHabits
    legs: tuple[Draw, ...]
    battery_share: Draw
    battery_ohm: Draw | None
    starter: NDArray[np.intp]
    flux: Draw
    resistance: Draw
    efficiency: Draw
    engine: CrankedEngine
    least_rpm: Draw


def draw(vehicle: Vehicle, count: int = DRAWS) -> Draws:
    """Guesses spread evenly over what may be (a Latin square of random places, always the same ones)."""
    spread = _Spread(count)
    if vehicle.temperature_c is None:
        temperature = spread.between(*UNKNOWN_C)
    else:
        temperature = spread.around(vehicle.temperature_c, 1.0)
    return Draws(
        temperature_c=temperature,
        habits=BatteryHabits(
            cold=spread.between(0.45, 1.0),
            polarization_v_per_cell=spread.between(0.05, 0.15),
            discharged=spread.between(0.5, 1.5),
            per_year=spread.between(0.02, 0.10),
        ),
        legs=tuple(spread.positive(leg.now) for leg in vehicle.legs),
        battery_share=spread.positive(Estimate(1.0, 0.05)),
        battery_ohm=None if vehicle.battery_ohm is None else spread.positive(vehicle.battery_ohm),
        starter=spread.places(many_of(vehicle.starter)),
        flux=spread.around(1.0, vehicle.starter_spread),
        resistance=spread.around(1.0, vehicle.starter_spread),
        efficiency=spread.between(0.82, 0.95),
        engine=_engine(vehicle, temperature, spread),
        least_rpm=spread.between(*vehicle.least),
    )


def battery_legs(vehicle: Vehicle, draws: Draws, *, healthy: bool = False) -> tuple[Draw, Draw]:
    """Loaded volts and resistance of the battery in each draw [V, ohm]; healthy: full and new."""
    battery = replace(vehicle.battery, charge=1.0, age_years=0.0) if healthy else vehicle.battery
    volts = np.asarray(loaded_volts(battery, draws.habits))
    if draws.battery_ohm is not None and not healthy:
        return volts, draws.battery_ohm
    ohm = np.asarray(internal_resistance(battery, draws.temperature_c, draws.habits))
    return volts, ohm * draws.battery_share


def motor_in(motor: Motor, draws: Draws) -> Motor:
    """A starter in each draw, at its temperature."""
    one = picked(motor, draws.starter)
    guessed = replace(
        one,
        flux_vs=one.flux_vs * draws.flux,
        armature_ohm=one.armature_ohm * draws.resistance,
        field_ohm=one.field_ohm * draws.resistance,
    )
    return at_temperature(guessed, draws.temperature_c)


def taken_part(draws: Draws, chosen: NDArray[np.intp]) -> Draws:
    """The draws at these places, in this order."""
    engine = draws.engine
    habits = BatteryHabits(**{name: np.asarray(value)[chosen] for name, value in vars(draws.habits).items()})
    drag = replace(
        engine.drag,
        friction_pa=np.asarray(engine.drag.friction_pa)[chosen],
        exponent=np.asarray(engine.drag.exponent)[chosen],
        gas_loss=np.asarray(engine.drag.gas_loss)[chosen],
        breakaway=np.asarray(engine.drag.breakaway)[chosen],
    )
    cranked = replace(engine, drag=drag, viscosity_pa_s=np.asarray(engine.viscosity_pa_s)[chosen])
    return replace(
        draws,
        temperature_c=draws.temperature_c[chosen],
        habits=habits,
        legs=tuple(leg[chosen] for leg in draws.legs),
        battery_share=draws.battery_share[chosen],
        battery_ohm=None if draws.battery_ohm is None else draws.battery_ohm[chosen],
        starter=draws.starter[chosen],
        flux=draws.flux[chosen],
        resistance=draws.resistance[chosen],
        efficiency=draws.efficiency[chosen],
        engine=cranked,
        least_rpm=draws.least_rpm[chosen],
    )


class _Spread:
    """Columns of a Latin square: every column covers its range evenly, in an order of its own."""

    def __init__(self, count: int) -> None:
        self._count, self._chance = count, np.random.default_rng(_SEED)

    def shares(self) -> Draw:
        """Evenly over 0 to 1."""
        places = self._chance.permutation(self._count) + self._chance.random(self._count)
        return np.asarray(places / self._count)

    def places(self, count: int) -> NDArray[np.intp]:
        """Each of so many about as often."""
        return np.asarray((count * self.shares()).astype(np.intp))

    def between(self, low: float, high: float) -> Draw:
        """Anywhere between two ends."""
        return low + (high - low) * self.shares()

    def around(self, middle: float, deviation: float) -> Draw:
        """Normal."""
        return np.asarray(middle + deviation * many_quantiles(self.shares()))

    def positive(self, known: Estimate) -> Draw:
        """Lognormal of that mean and standard uncertainty: a resistance is never below nothing."""
        share = known.standard_uncertainty / known.value if known.value > 0 else 0.0
        width = np.sqrt(np.log1p(share * share))
        return np.asarray(known.value * np.exp(self.around(-width * width / 2, float(width))))


def _engine(vehicle: Vehicle, temperature_c: Draw, spread: _Spread) -> CrankedEngine:
    usual = vehicle.drag or usual_drag(vehicle.engine)
    drag = Drag(
        friction_pa=usual.friction_pa * spread.positive(Estimate(1.0, 0.2)),
        exponent=usual.exponent + spread.around(0.0, 0.025),
        gas_loss=usual.gas_loss * spread.between(0.5, 1.5),
        polytropic=usual.polytropic,
        breakaway=usual.breakaway * spread.between(0.75, 1.5),
    )
    return CrankedEngine(vehicle.engine, drag, _viscosity(vehicle.oil, temperature_c, spread))


def _viscosity(grade: str, temperature_c: Draw, spread: _Spread) -> Draw:
    """Of an oil somewhere within its grade, from lines worked out for a few of them."""
    of_the_largest = spread.between(0.6, 1.0)
    oils = [oil_of_grade(grade, float(share)) for share in _OIL_GRID]
    logs = np.log(np.array([viscosity_pa_s(oil, temperature_c) for oil in oils]))
    place = (of_the_largest - _OIL_GRID[0]) / (_OIL_GRID[1] - _OIL_GRID[0])
    under = np.minimum(place.astype(int), len(_OIL_GRID) - 2)
    rest, here = place - under, np.arange(len(place))
    return np.asarray(np.exp((1 - rest) * logs[under, here] + rest * logs[under + 1, here]))
