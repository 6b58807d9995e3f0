"""Readings of the windings of a switch, and the temperature they were taken at."""

from __future__ import annotations

import math
from dataclasses import dataclass

from barwise.errors import MeasurementError
from barwise.machine.copper import REFERENCE_C, resistance_at
from barwise.machine.switch_windings import Path
from barwise.measure.uncertainty import Budget, Estimate, propagate, rectangular

UNKNOWN_C = Estimate(20.0, rectangular(20.0))
"""A winding of which no temperature was read: anywhere from 0 to 40 °C [degC]."""


WARMING_K = 3.0
"""Standard uncertainty of the copper's temperature by its warming while it is read [K]. Derived: 40 A in
0.27 ohm of 1 mm wire, 0.084 kg of copper, is 13 K in a second."""


@dataclass(frozen=True)
class WindingReading:
    """Current at a voltage along one way through the windings.

    Parameters
    ----------
    path : str
        From which terminal to which.
    volts, amps : Estimate
        At the terminals [V], [A]. No current at all is an open circuit, and a reading.

    Raises
    ------
    MeasurementError
        If the voltage is not above 0, or the current below 0.
    """

    path: Path
    volts: Estimate
    amps: Estimate

    def __post_init__(self) -> None:
        if not (0 < self.volts.value < math.inf and 0 <= self.amps.value < math.inf):
            found = f"found {self.volts.value:g} V and {self.amps.value:g} A"
            raise MeasurementError(
                f"{self.path}: {found}, expected a voltage above 0 and a current of 0 or more"
            )

    @property
    def open(self) -> bool:
        """Whether no current was seen to flow."""
        return self.amps.value <= 2 * self.amps.standard_uncertainty


def from_ohmmeter(path: Path, ohm: Estimate) -> WindingReading:
    """The same from a resistance [ohm], as the current it would carry at 1 V."""
    if not 0 < ohm.value < math.inf:
        raise MeasurementError(f"{path}: found {ohm.value:g} ohm, expected more than 0")
    amps = 1 / ohm.value
    return WindingReading(
        path, Estimate(1.0, 0.0), Estimate(amps, amps * ohm.standard_uncertainty / ohm.value)
    )


def open_circuit(path: Path) -> WindingReading:
    """The same where an ohmmeter showed no connection: less than 0.1 mA at 1 V, over 10 kohm."""
    return WindingReading(path, Estimate(1.0, 0.0), Estimate(0.0, 1e-4))


def at_reference(
    ohm: Estimate, celsius: Estimate | None, reference_c: float = REFERENCE_C
) -> tuple[Estimate, Budget]:
    """A copper winding's resistance [ohm] at the reference temperature.

    Parameters
    ----------
    celsius : Estimate or None
        Of the winding before it was fed [degC]. None: `UNKNOWN_C`, which widens the answer by some 4 %.

    Notes
    -----
    R (234.5 + reference) / (234.5 + t), as `barwise.machine.copper`.

    Examples
    --------
    >>> round(at_reference(Estimate(0.30, 0.0), Estimate(45.0, 0.0))[0].value, 4)
    0.2732
    """
    known = UNKNOWN_C if celsius is None else celsius
    warmed = Estimate(known.value, math.hypot(known.standard_uncertainty, WARMING_K))
    value, budget = propagate(
        lambda x: resistance_at(x[0], x[1], reference_c), (ohm, warmed), ("resistance", "temperature")
    )
    return budget.estimate(value), budget


def at_reference_voltage(ohm: Estimate, volts: float) -> Estimate:
    """The current [A] that a resistance draws at the voltage at which the sheet gives its currents."""
    return Estimate(volts / ohm.value, volts / ohm.value**2 * ohm.standard_uncertainty)
