"""How thick engine oil is in the cold, from what its grade promises.

Sources
-------
Grades: SAE J300, January 2015 (its table as printed in several lubricant guides; read second hand). A winter
grade is a largest cranking viscosity at its own temperature, the other number a range at 100 °C.
Between two points: ASTM D341 (Walther), log10 log10 (v + 0.7) = A - B log10 T, v in mm2/s, T in K.
Density 870 kg/m3 at 15 °C falling 0.65 kg/m3 for each degree: common practice, no source.
Where an oil stands within what its grade allows nobody knows without its data sheet; cranking viscosity is
taken as four fifths of the largest allowed, common practice, no source, and its spread as wide as that.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from barwise.errors import InputError

Floats: TypeAlias = "float | NDArray[np.float64]"

WINTER_LIMIT: dict[str, tuple[float, float]] = {
    "0W": (-35.0, 6200.0),
    "5W": (-30.0, 6600.0),
    "10W": (-25.0, 7000.0),
    "15W": (-20.0, 7000.0),
    "20W": (-15.0, 9500.0),
    "25W": (-10.0, 13000.0),
}
"""Temperature [degC] and largest cranking viscosity [mPa s] of each winter grade."""

HOT_RANGE: dict[str, tuple[float, float]] = {
    "8": (4.0, 6.1),
    "12": (5.0, 7.1),
    "16": (6.1, 8.2),
    "20": (6.9, 9.3),
    "30": (9.3, 12.5),
    "40": (12.5, 16.3),
    "50": (16.3, 21.9),
    "60": (21.9, 26.1),
}
"""Smallest and largest viscosity at 100 °C [mm2/s] of each grade."""

OF_THE_LARGEST = 0.8
_SINGLE_COLD: dict[str, tuple[float, float]] = {
    "20": (40.0, 60.0), "30": (40.0, 100.0), "40": (40.0, 145.0), "50": (40.0, 215.0),
}  # fmt: skip
"""A second point for an oil without a winter grade: 40 °C, [mm2/s]; common practice, no source."""

_GRADE = re.compile(r"(?:SAE\s*)?(?:(\d{1,2}W)\s*-?\s*)?(\d{1,2})?", re.IGNORECASE)
_KELVIN = 273.15


@dataclass(frozen=True)
class Walther:
    """log10 log10 (v + 0.7) = a - b log10 T."""

    a: float
    b: float

    def kinematic_mm2_per_s(self, temperature_c: Floats) -> Floats:
        """Viscosity [mm2/s] at a temperature [degC]."""
        line = self.a - self.b * np.log10(np.asarray(temperature_c) + _KELVIN)
        return np.asarray(10.0 ** (10.0**line) - 0.7)[()]


def walther(first: tuple[float, float], second: tuple[float, float]) -> Walther:
    """The line through two points, each temperature [degC] and viscosity [mm2/s].

    Raises
    ------
    InputError
        If they are not two temperatures with the thicker oil at the colder one.

    Examples
    --------
    >>> oil = walther((40.0, 32.0), (100.0, 5.4))
    >>> round(float(oil.kinematic_mm2_per_s(80.0)), 1)
    8.5
    """
    (t1, v1), (t2, v2) = sorted((first, second))
    if not (t2 > t1 > -_KELVIN and v1 > v2 > 0.5):
        raise InputError("oil", f"{v1:g} mm2/s at {t1:g} °C, {v2:g} at {t2:g}", "thinner when warmer")
    y1, y2 = (math.log10(math.log10(v + 0.7)) for v in (v1, v2))
    x1, x2 = math.log10(t1 + _KELVIN), math.log10(t2 + _KELVIN)
    b = (y1 - y2) / (x2 - x1)
    return Walther(y1 + b * x1, b)


def density_kg_per_m3(temperature_c: Floats) -> Floats:
    """Density of engine oil [kg/m3]."""
    return 870.0 - 0.65 * (temperature_c - 15.0)


def oil_of_grade(grade: str, of_the_largest: float = OF_THE_LARGEST) -> Walther:
    """The line of an oil of this grade: ``15W-40``, ``10W``, ``SAE 30``.

    Parameters
    ----------
    grade : str
    of_the_largest : float
        Its cranking viscosity over the largest its winter grade allows.

    Raises
    ------
    InputError
        If there is no such grade.
    """
    winter, hot = _grade(grade)
    if winter is None:
        middle = math.sqrt(math.prod(HOT_RANGE[hot or "30"]))
        return walther(_SINGLE_COLD[hot or "30"], (100.0, middle))
    at, largest = WINTER_LIMIT[winter]
    cold = of_the_largest * largest / float(density_kg_per_m3(at)) * 1000
    middle = math.sqrt(math.prod(HOT_RANGE[hot])) if hot else 5.0 if winter[:-1] in ("0", "5", "10") else 6.5
    return walther((at, cold), (100.0, middle))


def viscosity_pa_s(oil: Walther, temperature_c: Floats) -> Floats:
    """Dynamic viscosity [Pa s]."""
    return oil.kinematic_mm2_per_s(temperature_c) * 1e-6 * density_kg_per_m3(temperature_c)


def _grade(grade: str) -> tuple[str | None, str | None]:
    found = _GRADE.fullmatch(grade.strip())
    winter, hot = (found.group(1), found.group(2)) if found else (None, None)
    winter = winter.upper() if winter else None
    known = (winter is None or winter in WINTER_LIMIT) and (hot is None or hot in HOT_RANGE)
    if not known or (winter is None and hot not in _SINGLE_COLD):
        raise InputError("oil grade", f'"{grade}"', "such as 15W-40, 10W or SAE 30")
    return winter, hot
