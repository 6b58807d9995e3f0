"""What a test lamp can show: the resistance below which it glows, so what a dark lamp leaves open.

Sources
-------
A filament begins to glow at 798 K (J. W. Draper, 1847: 977 degF; from memory); in a lit shop nobody sees
it below some 1200 K (common practice, no source). Power goes as the fourth power of temperature (Stefan
and Boltzmann), the filament's resistance nearly as its 1.2th, 2700 K when it burns at its rated voltage
(all from memory; heat that gas carries off is left out, which makes the lamp seem a little more sensitive
than it is).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from barwise.errors import MeasurementError

State = Literal["dark", "glows", "lit"]

BURNING_K = 2700.0
FAINTEST_K = 798.0
"""Seen in the dark."""
PLAIN_K = 1200.0
"""Seen in a lit shop."""
_RESISTANCE_POWER, _RADIATION_POWER = 1.2, 4.0


@dataclass(frozen=True)
class Lamp:
    """A filament lamp in series with what is tested.

    Attributes
    ----------
    volts, watts : float
        As marked on the lamp.
    supply_v : float
        What it is fed with, lamp and winding together.

    Raises
    ------
    MeasurementError
        If one is not above 0, or the supply would not light the lamp by itself.
    """

    volts: float
    watts: float
    supply_v: float

    def __post_init__(self) -> None:
        if not all(0 < one < math.inf for one in (self.volts, self.watts, self.supply_v)):
            found = f"found {self.volts:g} V, {self.watts:g} W on {self.supply_v:g} V"
            raise MeasurementError(f"lamp: {found}, expected all above 0")
        if not 0.4 <= self.supply_v / self.volts <= 1.3:
            found = f"found a lamp of {self.volts:g} V on {self.supply_v:g} V"
            raise MeasurementError(f"lamp: {found}, expected a supply near the lamp's own voltage")


@dataclass(frozen=True)
class LightsBelow:
    """Resistance in series [ohm] below which a lamp is seen to glow.

    `plain_ohm` in a lit shop, `faintest_ohm` in the dark: a dark lamp speaks for more than the first, a lit
    one for less than the second.
    """

    plain_ohm: float
    faintest_ohm: float
    plain_a: float


def lights_below(lamp: Lamp) -> LightsBelow:
    """How small a resistance a lamp can show.

    Notes
    -----
    At the temperature T the filament has R = R0 (T / T0)^1.2 and takes P = P0 (T / T0)^4, so the current
    I = √(P / R); what is left of the supply, over that current, less R, is the resistance in series.

    Examples
    --------
    >>> found = lights_below(Lamp(120.0, 25.0, 120.0))
    >>> round(found.plain_ohm), round(found.faintest_ohm)
    (1575, 3040)
    """
    plain, amperes = _series(lamp, PLAIN_K)
    return LightsBelow(plain, _series(lamp, FAINTEST_K)[0], amperes)


def _series(lamp: Lamp, kelvin: float) -> tuple[float, float]:
    """Resistance in series [ohm] at which the filament is at this temperature, and its current [A]."""
    share = kelvin / BURNING_K
    resistance = lamp.volts**2 / lamp.watts * share**_RESISTANCE_POWER
    amperes = math.sqrt(lamp.watts * share**_RADIATION_POWER / resistance)
    return lamp.supply_v / amperes - resistance, amperes
