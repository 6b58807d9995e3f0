"""What a starting battery can give: its voltage under a cranking current, cold, run down or old.

Sources
-------
Rated cranking current: SAE J537 (from memory; several service manuals word it alike): the current a fully
charged battery gives for 30 s at -18 °C (0 degF) with 7.2 V or more left, 1.2 V a cell.
Charge and specific gravity, and the share of cranking power left in the cold: TM 5-4210-230-14&P-1, tables 2
and 3 (26.7 °C 100 %, 0 °C 65 %, -17.8 °C 40 %, -28.8 °C 20 %).
Charge and volts at rest, 12.65 V full to 11.89 V discharged: a battery council's table, read second hand.
A second rating of many batteries, the same test at 0 °C, is commonly 1.25 times the first: common practice,
no source. It asks less of the cold than the printed table does; the two are taken as the ends of what may be.
Polarization, growth of resistance with age and with missing charge: common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
from numpy.typing import ArrayLike, NDArray

from barwise.errors import InputError

Floats: TypeAlias = "float | NDArray[np.float64]"

RATED_AT_C = -18.0
RATED_V_PER_CELL = 1.2
VOLTS_PER_CELL = 2.0
"""Nominal."""

_CHARGE = (0.0, 0.25, 0.5, 0.75, 1.0)
_REST_V_PER_CELL = tuple(volts / 6 for volts in (11.89, 12.06, 12.24, 12.45, 12.65))
_GRAVITY = (1.120, 1.155, 1.190, 1.225, 1.265)

_POWER_AT_C = (-28.8, -17.8, 0.0, 26.7)
_POWER_SHARE = (0.20, 0.40, 0.65, 1.00)

POLARIZATION_V_PER_CELL = 0.1
"""What a cell's voltage loses at once when cranking current flows, before resistance counts [V]."""


@dataclass(frozen=True)
class BatteryHabits:
    """What is not printed on a battery; each may be an array.

    Attributes
    ----------
    cold : float
        Exponent on the printed table of cranking power: 1 takes the table as it is, 0.45 goes with the common
        rule that a battery gives 1.25 times its rated current at 0 °C.
    polarization_v_per_cell : float
        [V].
    discharged : float
        Resistance when discharged over that when full, less one.
    per_year : float
        Share by which resistance grows in each year of age.
    """

    cold: Floats = 0.72
    polarization_v_per_cell: Floats = POLARIZATION_V_PER_CELL
    discharged: Floats = 1.0
    per_year: Floats = 0.06


USUAL_HABITS = BatteryHabits()


@dataclass(frozen=True)
class Battery:
    """A bank of like lead-acid batteries.

    Parameters
    ----------
    nominal_v : float
        Of one battery [V]; 6 or 12 usually.
    rated_a : float
        Rated cold cranking current of one [A], or what a battery tester found: give age 0 then.
    charge : float
        State of charge, 0 to 1.
    age_years : float
    in_series, in_parallel : int
        How many stand behind one another, and side by side.

    Raises
    ------
    InputError
        If a figure cannot be.
    """

    nominal_v: float
    rated_a: float
    charge: float = 1.0
    age_years: float = 0.0
    in_series: int = 1
    in_parallel: int = 1

    def __post_init__(self) -> None:
        _must(self.nominal_v > 0, "battery, volts", self.nominal_v, "such as 12 V")
        _must(20 <= self.rated_a <= 5000, "battery, rated current", self.rated_a, "20 to 5000 A")
        _must(0 <= self.charge <= 1, "battery, charge", self.charge, "0 (discharged) to 1 (full)")
        _must(0 <= self.age_years <= 30, "battery, age", self.age_years, "0 to 30 years")
        count = min(self.in_series, self.in_parallel)
        _must(count >= 1, "battery, how many", count, "1 or more")

    @property
    def cells(self) -> float:
        """Cells in series in the whole bank."""
        return self.nominal_v * self.in_series / VOLTS_PER_CELL


def rest_volts(battery: Battery) -> float:
    """Voltage of the bank at rest [V].

    Examples
    --------
    >>> round(rest_volts(Battery(12, 650, charge=0.5)), 2)
    12.24
    """
    return float(np.interp(battery.charge, _CHARGE, _REST_V_PER_CELL)) * battery.cells


def charge_from_rest_volts(volts: float, cells: float) -> float:
    """State of charge, 0 to 1, of a battery that rested for hours and shows `volts` [V].

    Examples
    --------
    >>> charge_from_rest_volts(12.45, 6)
    0.75
    """
    return round(float(np.interp(volts / cells, _REST_V_PER_CELL, _CHARGE)), 12)


def charge_from_gravity(gravity: float) -> float:
    """State of charge, 0 to 1, from the hydrometer at 80 degF; TM 5-4210-230-14&P-1, table 2."""
    return float(np.interp(gravity, _GRAVITY, _CHARGE))


def loaded_volts(battery: Battery, habits: BatteryHabits = USUAL_HABITS) -> Floats:
    """What stands behind the battery's resistance while it cranks [V]: rest volts less polarization."""
    return rest_volts(battery) - habits.polarization_v_per_cell * battery.cells


def cranking_power_share(temperature_c: ArrayLike) -> NDArray[np.float64]:
    """Share of cranking power a full battery has at a temperature [degC], 1 at 26.7 °C.

    Notes
    -----
    Between the table's points straight lines in the logarithm; beyond its ends the last slope goes on in the
    cold, and nothing is gained above.
    """
    at = np.asarray(temperature_c, dtype=float)
    logs = np.log(_POWER_SHARE)
    colder = logs[0] + (at - _POWER_AT_C[0]) * (logs[1] - logs[0]) / (_POWER_AT_C[1] - _POWER_AT_C[0])
    along = np.interp(at, _POWER_AT_C, logs)
    return np.asarray(np.exp(np.where(at < _POWER_AT_C[0], colder, along)))


def internal_resistance(
    battery: Battery, temperature_c: Floats, habits: BatteryHabits = USUAL_HABITS
) -> Floats:
    """Resistance of the bank while it cranks [ohm].

    Notes
    -----
    From what the rating means: R = (E - 7.2 V) / I of one full 12 V battery at -18 °C, E being its loaded
    volts. Power into a matched load goes with 1/R, so warmth divides R by the printed share of cranking
    power, raised to `habits.cold`.

    Examples
    --------
    >>> full = Battery(12, 650)
    >>> round(float(loaded_volts(full) - 650 * internal_resistance(full, -18.0)), 3)
    7.2
    """
    full = _REST_V_PER_CELL[-1] - habits.polarization_v_per_cell
    one = (full - RATED_V_PER_CELL) * battery.nominal_v / VOLTS_PER_CELL / battery.rated_a
    warmth = (cranking_power_share(RATED_AT_C) / cranking_power_share(temperature_c)) ** habits.cold
    worn = (1 + habits.per_year * battery.age_years) * (1 + habits.discharged * (1 - battery.charge))
    ohm = one * warmth * worn * battery.in_series / battery.in_parallel
    return np.asarray(ohm)[()]


def _must(holds: bool, where: str, found: float, expected: str) -> None:
    if not holds:
        raise InputError(where, f"{found:g}", expected)
