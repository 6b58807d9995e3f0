"""Is a tightening torque a plausible one for its bolt: only a check of the sheet, never a limit.

T = K d F: of the torque only about a tenth pulls the bolt tight, the rest is friction, so K, which stands for
all of it, is known to a third at best. What comes out is a span of clamping force, and how much of the bolt's
proof load it is. A torque that would leave a bolt nearly loose, or stretch it, is likely a misprint or a
wrong unit: ask, do not assume.

Sources
-------
All from memory. Short-form torque equation and K = 0.20 dry, 0.15 oiled: textbooks of machine design.
Tensile stress area (pi / 4) (d - 0.9382 P)² and proof stresses of 4.8, 8.8, 10.9: ISO 898-1. Inch bolts:
0.7854 (d - 0.9743 / n)², ASME B1.1; proof strengths 33, 55, 85, 120 ksi of grades 1, 2, 5, 8: SAE J429.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass

from barwise.errors import MeasurementError

INCH = 0.0254
KSI = 6.894757293168e6

NUT_FACTORS = {"dry": (0.14, 0.26), "oiled": (0.11, 0.19)}
"""K, least and most, about 0.20 and 0.15."""

PROOF_PA = {
    "4.8": 310e6, "5.8": 380e6, "8.8": 580e6, "10.9": 830e6,
    "SAE 1": 33 * KSI, "SAE 2": 55 * KSI, "SAE 5": 85 * KSI, "SAE 8": 120 * KSI,
}  # fmt: skip
"""Proof stress by grade, for thin bolts [Pa]."""

LOOSE, STRETCHED = 0.15, 1.0
"""Shares of the proof load beyond which a torque is not plausible: common practice, no source."""

_METRIC = re.compile(r"M(\d+(?:\.\d+)?)(?:x(\d+(?:\.\d+)?))?", re.IGNORECASE)
_INCH_THREAD = re.compile(r"(?:#(\d+)|(\d+)/(\d+))-(\d+)")
_COARSE_MM = {3: 0.5, 4: 0.7, 5: 0.8, 6: 1.0, 8: 1.25, 10: 1.5, 12: 1.75, 14: 2.0, 16: 2.0}


@dataclass(frozen=True)
class Thread:
    """A bolt's thread: `diameter_m`, and the area that carries [m²]."""

    name: str
    diameter_m: float
    stress_area_m2: float


@dataclass(frozen=True)
class Plausible:
    """What a torque does to a bolt.

    Attributes
    ----------
    force_n : tuple of float
        Clamping force, least and most [N].
    of_proof : tuple of float
        The same as a share of the bolt's proof load.
    word : str
        ``plausible``, ``loose`` or ``stretches``.
    """

    thread: Thread
    grade: str
    force_n: tuple[float, float]
    of_proof: tuple[float, float]
    word: str


def thread_of(written: str) -> Thread:
    """A thread as it is called: ``M6``, ``M8x1.25``, ``1/4-20``, ``#10-32``.

    Raises
    ------
    MeasurementError
        If it is no such thread.

    Examples
    --------
    >>> round(thread_of("M6").stress_area_m2 * 1e6, 1), round(thread_of("1/4-20").stress_area_m2 / INCH**2, 4)
    (20.1, 0.0318)
    """
    name = written.strip()
    metric, inch = _METRIC.fullmatch(name), _INCH_THREAD.fullmatch(name)
    if metric:
        size = float(metric[1])
        pitch = float(metric[2]) if metric[2] else _COARSE_MM.get(int(size) if size == int(size) else 0, 0.0)
        if 0 < pitch < size <= 36:
            area = math.pi / 4 * (size - 0.9382 * pitch) ** 2
            return Thread(name, size * 1e-3, area * 1e-6)
    if inch and int(inch[4]) > 0 and inch[3] != "0":
        size = 0.060 + 0.013 * int(inch[1]) if inch[1] else int(inch[2]) / int(inch[3])
        if 0 < 0.9743 / int(inch[4]) < size <= 1.5:
            area = 0.7854 * (size - 0.9743 / int(inch[4])) ** 2
            return Thread(name, size * INCH, area * INCH**2)
    raise MeasurementError(f"thread: found {written!r:.20}, expected such as M6, M8x1.25, 1/4-20 or #10-32")


def plausible(torque_nm: float, thread: Thread, grade: str = "8.8", surface: str = "dry") -> Plausible:
    """Whether a torque is one for this bolt.

    Raises
    ------
    MeasurementError
        If the torque is not above 0, or grade or surface is unknown.

    Examples
    --------
    >>> plausible(9.0, thread_of("M6")).word, plausible(90.0, thread_of("M6")).word
    ('plausible', 'stretches')
    """
    if not (math.isfinite(torque_nm) and torque_nm > 0):
        raise MeasurementError(f"torque: found {torque_nm:g} Nm, expected more than 0")
    if grade not in PROOF_PA:
        raise MeasurementError(f"grade: found {grade!r:.10}, expected one of {', '.join(PROOF_PA)}")
    if surface not in NUT_FACTORS:
        raise MeasurementError(f"surface: found {surface!r:.10}, expected one of {', '.join(NUT_FACTORS)}")
    least, most = NUT_FACTORS[surface]
    force = torque_nm / (most * thread.diameter_m), torque_nm / (least * thread.diameter_m)
    proof = PROOF_PA[grade] * thread.stress_area_m2
    share = force[0] / proof, force[1] / proof
    word = "loose" if share[1] < LOOSE else "stretches" if share[0] > STRETCHED else "plausible"
    return Plausible(thread, grade, force, share, word)
