"""What readings at half a minute, one minute and ten minutes say: whether the resistance still rises.

Sources
-------
Ratios: 60 s to 30 s and 10 min to 1 min, TM 5-683/NAVFAC MO-116: good insulation rises with time, large or
small. Least polarization index 1.5 for thermal class A, 2.0 for B, F and H: IEEE 43-2000, as an instrument's
handbook prints it; no use of it above 5000 Mohm: IEEE 43 (from memory). No limit is given here for 60 s to
30 s, as none was found in a text at hand. In a small winding the charge is taken up within seconds, so that
a ratio near 1 condemns nothing by itself: IEEE 43-2013, 5.4, as T. Bishop reports it (What's new in the IEEE
43 insulation resistance testing standard, EASA, April 2016).
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from barwise.measure.decision import Decision, Limit, decide
from barwise.measure.distribution import below
from barwise.measure.uncertainty import Estimate

Name = Literal["dielectric absorption ratio", "polarization index"]
Course = Literal["rises", "flat", "falls", "not clear"]
ThermalClass = Literal["A", "B", "F", "H"]

LEAST_INDEX: Mapping[str, float] = {"A": 1.5, "B": 2.0, "F": 2.0, "H": 2.0}
NO_USE_ABOVE_OHM = 5000e6
_FLAT = 0.05
"""A change of less than this share says nothing: common practice, no source."""
_SLACK = 0.1
"""How far, as a share, a reading's time may be off the one that is asked for."""
_RATIOS: tuple[tuple[Name, float, float], ...] = (
    ("dielectric absorption ratio", 30.0, 60.0),
    ("polarization index", 60.0, 600.0),
)


@dataclass(frozen=True)
class Ratio:
    """A later reading over an earlier one.

    Attributes
    ----------
    name : str
    value : Estimate
    course : str
        rises, flat, falls, or not clear.
    decision : Decision or None
        Of the polarization index, where the thermal class is known and the index is of use.
    """

    name: Name
    value: Estimate
    course: Course
    decision: Decision | None


def ratios(
    logs: Mapping[float, Estimate], thermal_class: ThermalClass | None, level: float
) -> tuple[Ratio, ...]:
    """Both ratios, where their readings are there.

    Parameters
    ----------
    logs : mapping of float to Estimate
        Natural logarithm of the resistance, by the seconds since the voltage was put on. What all readings of
        one meter share is left out of its uncertainty.
    """
    found = []
    for name, early, late in _RATIOS:
        first, second = _near(logs, early), _near(logs, late)
        if first is None or second is None:
            continue
        change = second.value - first.value
        spread = math.hypot(first.standard_uncertainty, second.standard_uncertainty)
        value = Estimate(math.exp(change), math.exp(change) * spread)
        decision = None
        if name == "polarization index" and thermal_class and first.value < math.log(NO_USE_ABOVE_OHM):
            decision = decide(
                value.value, value.standard_uncertainty, Limit(lower=LEAST_INDEX[thermal_class]), level
            )
        found.append(Ratio(name, value, _course(change, spread, level), decision))
    return tuple(found)


def _near(logs: Mapping[float, Estimate], seconds: float) -> Estimate | None:
    return next((log for at, log in logs.items() if abs(at - seconds) <= _SLACK * seconds), None)


def _course(change: float, spread: float, level: float) -> Course:
    if spread == 0:
        return "rises" if change > _FLAT else "falls" if change < -_FLAT else "flat"
    rises, falls = below((change - _FLAT) / spread), below((-_FLAT - change) / spread)
    if max(rises, falls) >= level:
        return "rises" if rises > falls else "falls"
    return "flat" if 1 - rises - falls >= level else "not clear"
