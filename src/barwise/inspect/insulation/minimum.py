"""The least insulation resistance that is asked for, and what a reading becomes at 40 °C.

Sources
-------
IEEE 43-2013, Recommended practice for testing insulation resistance of electric machinery: clause 6.3 and
12.3, its table of minimum values (from memory but for the armature's). Half for every 10 K warmer; rated
kilovolts + 1 Mohm for field windings; 5 Mohm for dc armatures, where the edition of 2000 had 100 Mohm (T.
Bishop, What's new in the IEEE 43 insulation resistance testing standard, EASA, April 2016). The standard is
made for machines from 750 W and says nothing of 12 and 24 V windings by name: guidance here. Newer
thermosetting varnish changes less with warmth than half for every 10 K; its rule in the standard is not used
here, as its text was not at hand.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from barwise.errors import MeasurementError
from barwise.measure.uncertainty import Estimate

Part = Literal["armature", "fields", "brush-holders"]

REFERENCE_C = 40.0
UNKNOWN_C = Estimate(20.0, 30 / math.sqrt(12))
"""Any shop from 5 to 35 °C, where nobody wrote the temperature down."""

HALVING_K = 10.0
RULE_UNCERTAINTY = 0.15
"""Standard uncertainty of the rule itself, in halvings for each 10 K: common practice, no source."""

_COLDEST_C, _HOTTEST_C = -60.0, 250.0
_IEEE = "IEEE 43-2013 (from memory), at 40 °C; made for machines from 750 W, guidance here"


@dataclass(frozen=True)
class Minimum:
    """Least resistance [ohm] at 40 °C, with its source."""

    ohm: float
    source: str


def minimum_for(part: Part, rated_v: float) -> Minimum:
    """Least insulation resistance of a part.

    Parameters
    ----------
    part : str
        armature, fields, brush-holders.
    rated_v : float
        Rated voltage of the winding [V].

    Raises
    ------
    MeasurementError
        If the voltage is none.

    Examples
    --------
    >>> minimum_for("fields", 24.0).ohm
    1024000.0
    """
    if not 0 < rated_v < 1e5:
        raise MeasurementError(f"rated voltage: found {rated_v:g} V, expected above 0 V")
    if part == "armature":
        return Minimum(5e6, f"dc armatures, {_IEEE}")
    if part == "fields":
        return Minimum((rated_v / 1000 + 1) * 1e6, f"field windings, rated kV + 1 Mohm, {_IEEE}")
    return Minimum(1e6, "common practice, no source")


def at_40(ohm: float, celsius: float) -> float:
    """Insulation resistance [ohm] as it would be at 40 °C, from a reading at another temperature.

    Notes
    -----
    R40 = R 0.5^((40 - T) / 10), IEEE 43-2013 clause 6.3 (from memory), thermoplastic insulation.

    Raises
    ------
    MeasurementError
        If the temperature is none that a winding can have.

    Examples
    --------
    >>> at_40(15e6, 70.0)
    120000000.0
    """
    if not _COLDEST_C <= celsius <= _HOTTEST_C:
        raise MeasurementError(
            f"temperature of the winding: found {celsius:g} °C, expected {_COLDEST_C:g} to {_HOTTEST_C:g}"
        )
    return float(ohm * 0.5 ** ((REFERENCE_C - celsius) / HALVING_K))


def corrected(log_ohm: Estimate, temperature: Estimate | None) -> Estimate:
    """Natural logarithm of the resistance at 40 °C, with the doubt that temperature and rule bring in."""
    warmth = temperature or UNKNOWN_C
    value = log_ohm.value + math.log(at_40(1.0, warmth.value))
    by_temperature = math.log(2) / HALVING_K * warmth.standard_uncertainty
    by_rule = math.log(2) / HALVING_K * RULE_UNCERTAINTY * abs(REFERENCE_C - warmth.value)
    return Estimate(value, math.hypot(log_ohm.standard_uncertainty, by_temperature, by_rule))
