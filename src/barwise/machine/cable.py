"""What a battery cable costs: its resistance from gauge, length, temperature and joints.

Sources
-------
American wire gauge: ASTM B258, d = 0.005 in x 92^((36 - n) / 39), 4/0 being n = -3 (from memory; its tables
are those of NBS Handbook 100, 1966, printed to rounded diameters).
Copper: 1/58 ohm mm2/m at 20 °C, IEC 60028:1925 (read second hand); warmth by (234.5 + t2) / (234.5 + t1).
Aluminium: 61 % of copper's conductivity (common tables, from memory). Copper-clad aluminium, sold as cheap
battery cable: two thirds of copper's, common practice, no source.
Joints: a clean tight one adds a few hundredths of a milliohm, common practice, no source.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from barwise.errors import InputError
from barwise.machine.copper import COPPER_C, REFERENCE_C

Metal = Literal["copper", "aluminium", "copper-clad aluminium"]

COPPER_OHM_MM2_PER_M = 1 / 58
CONDUCTIVITY_SHARE: dict[str, float] = {"copper": 1.0, "aluminium": 0.61, "copper-clad aluminium": 0.66}
GOOD_JOINT_OHM = 3e-5
"""One clean, tight joint."""

_ZERO_C: dict[str, float] = {"copper": COPPER_C, "aluminium": 225.0, "copper-clad aluminium": 226.5}
"""Where the straight line of resistance meets zero, below 0 °C; clad aluminium is mostly aluminium."""

_THINNEST, _THICKEST = 24, -3


@dataclass(frozen=True)
class Cable:
    """One cable with its two ends.

    Parameters
    ----------
    area_mm2 : float
        Cross-section of its metal [mm2].
    length_m : float
        One way [m].
    joints : int
        Lugs, clamps and studs along it.
    metal : str

    Raises
    ------
    InputError
        If a figure cannot be.
    """

    area_mm2: float
    length_m: float
    joints: int = 2
    metal: Metal = "copper"

    def __post_init__(self) -> None:
        if not 0.2 <= self.area_mm2 <= 500:
            raise InputError("cable, cross-section", f"{self.area_mm2:g} mm2", "0.2 to 500 mm2")
        if not 0 < self.length_m <= 100:
            raise InputError("cable, length", f"{self.length_m:g} m", "above 0, up to 100 m")
        if not 0 <= self.joints <= 50:
            raise InputError("cable, joints", str(self.joints), "0 to 50")
        if self.metal not in CONDUCTIVITY_SHARE:
            raise InputError("cable, metal", self.metal, ", ".join(CONDUCTIVITY_SHARE))


def gauge_area_mm2(gauge: str) -> float:
    """Cross-section [mm2] of an American wire gauge such as ``2/0``, ``1`` or ``4``.

    Raises
    ------
    InputError
        If it is no gauge from 4/0 to 24.

    Examples
    --------
    >>> round(gauge_area_mm2("2/0"), 3), round(gauge_area_mm2("10"), 4)
    (67.431, 5.2612)
    """
    number = _gauge_number(gauge)
    inches: float = 0.005 * 92.0 ** ((36 - number) / 39)
    return math.pi / 4 * (inches * 25.4) ** 2


def cable_resistance(
    cable: Cable, temperature_c: float = REFERENCE_C, joint_ohm: float = GOOD_JOINT_OHM
) -> float:
    """Resistance of the cable with its joints [ohm].

    Examples
    --------
    Ten feet of 2/0 at 20 °C, joints left out:

    >>> ten_feet = Cable(gauge_area_mm2("2/0"), 3.048, joints=0)
    >>> round(cable_resistance(ten_feet) * 500, 4)
    0.3897
    """
    zero = _ZERO_C[cable.metal]
    warm = (zero + temperature_c) / (zero + REFERENCE_C)
    metal = COPPER_OHM_MM2_PER_M / CONDUCTIVITY_SHARE[cable.metal] * cable.length_m / cable.area_mm2
    return metal * warm + cable.joints * joint_ohm


def _gauge_number(gauge: str) -> int:
    written = gauge.strip().upper().removesuffix("AWG").strip().removeprefix("#")
    aughts, slash, zero = written.partition("/")
    if slash and zero == "0" and aughts in ("1", "2", "3", "4"):
        return 1 - int(aughts)
    if written.isdecimal() and written.isascii() and int(written) <= _THINNEST:
        return int(written)
    if written in ("00", "000", "0000"):
        return 1 - len(written)
    raise InputError("gauge", f'"{gauge}"', "an American wire gauge from 4/0 to 24, such as 2/0 or 4")
