"""How large may bore and journal be: limits of size by ISO 286-1, as ``12 F7/h6`` says them.

Held are the sizes and letters a starter needs: above 3 to 120 mm, grades 5 to 11, the letters d to s. The
printed tables decide; they come of formulas, but are rounded by hand here and there (the formula of IT7
gives 14.4 um above 6 to 10 mm, the table 15), so a formula alone would be wrong by a micrometre or two.

Sources
-------
ISO 286-1, Geometrical product specifications - ISO code system for tolerances on linear sizes, 2010 (first
edition 1988, where the formulas stand): tables of standard tolerances and of fundamental deviations, from
memory; the values of d to s up to 80 mm were compared with the table of deviations of shafts for commonly
used fits of JIS B 0401 (1999), which has the same ones.
"""

from __future__ import annotations

import math
import re
from bisect import bisect_left
from dataclasses import dataclass
from typing import Literal

from barwise.errors import MeasurementError

Kind = Literal["clearance", "transition", "interference"]

MICROMETRE = 1e-6
_ABOVE_MM = (3.0, 6.0, 10.0, 18.0, 30.0, 50.0, 80.0, 120.0)
"""Ends of the ranges of nominal size [mm]: above one, up to and including the next."""

_GRADES_UM: dict[int, tuple[int, ...]] = {
    5: (5, 6, 8, 9, 11, 13, 15),
    6: (8, 9, 11, 13, 16, 19, 22),
    7: (12, 15, 18, 21, 25, 30, 35),
    8: (18, 22, 27, 33, 39, 46, 54),
    9: (30, 36, 43, 52, 62, 74, 87),
    10: (48, 58, 70, 84, 100, 120, 140),
    11: (75, 90, 110, 130, 160, 190, 220),
}
_UPPER_UM: dict[str, tuple[int, ...]] = {
    "d": (-30, -40, -50, -65, -80, -100, -120),
    "e": (-20, -25, -32, -40, -50, -60, -72),
    "f": (-10, -13, -16, -20, -25, -30, -36),
    "g": (-4, -5, -6, -7, -9, -10, -12),
    "h": (0, 0, 0, 0, 0, 0, 0),
}
"""Upper deviation of shafts that stand below the nominal size."""

_LOWER_UM: dict[str, tuple[int, ...]] = {
    "k": (1, 1, 1, 2, 2, 2, 3),
    "m": (4, 6, 7, 8, 9, 11, 13),
    "n": (8, 10, 12, 15, 17, 20, 23),
    "p": (12, 15, 18, 22, 26, 32, 37),
}
"""Lower deviation of shafts that stand above it; k up to grade 7."""

_STEPPED_UM: dict[str, tuple[tuple[float, int], ...]] = {
    "r": ((6, 15), (10, 19), (18, 23), (30, 28), (50, 34), (65, 41), (80, 43), (100, 51), (120, 54)),
    "s": ((6, 19), (10, 23), (18, 28), (30, 35), (50, 43), (65, 53), (80, 59), (100, 71), (120, 79)),
}
"""The same for letters with finer ranges: up to this size [mm], this deviation."""

LETTERS = (*_UPPER_UM, "js", *_LOWER_UM, *_STEPPED_UM)
GRADES = tuple(_GRADES_UM)
_MULTIPLES = {5: 7, 6: 10, 7: 16, 8: 25, 9: 40, 10: 64, 11: 100}
_PRESSED = (*_LOWER_UM, *_STEPPED_UM)
_COARSEST = {"k": 7, "K": 8, "m": 8, "n": 8, "p": 9}
"""Coarser ones stand elsewhere in the tables."""
_MOVED_UP_TO = {"k": 8, "m": 8, "n": 8, "p": 7, "r": 7, "s": 7}
"""Grades of a bore that are moved by the difference to the next finer grade."""
_CODE = re.compile(r"([A-Za-z]{1,2})(\d{1,2})")
_FIT = re.compile(r"\s*([A-Z]{1,2}\d{1,2})\s*[/-]?\s*([a-z]{1,2}\d{1,2})\s*")


@dataclass(frozen=True)
class Limits:
    """Least and largest size [m] of one code, such as ``F7``, at a nominal size [m]."""

    code: str
    nominal_m: float
    least_m: float
    largest_m: float

    @property
    def width_m(self) -> float:
        """The tolerance [m]."""
        return self.largest_m - self.least_m

    @property
    def is_hole(self) -> bool:
        """Whether it is a bore's: capital letters."""
        return self.code[0].isupper()


@dataclass(frozen=True)
class Fit:
    """Bore and shaft together.

    `least_m` and `largest_m` are the clearance [m]; negative is interference.
    """

    hole: Limits
    shaft: Limits

    @property
    def least_m(self) -> float:
        """Least clearance [m]."""
        return self.hole.least_m - self.shaft.largest_m

    @property
    def largest_m(self) -> float:
        """Largest clearance [m]."""
        return self.hole.largest_m - self.shaft.least_m

    @property
    def kind(self) -> Kind:
        """Runs free, is tight, or may be either."""
        if self.least_m >= -1e-12:
            return "clearance"
        return "interference" if self.largest_m <= 1e-12 else "transition"


def standard_tolerance_m(nominal_m: float, grade: int) -> float:
    """Width of a grade at a nominal size.

    Parameters
    ----------
    nominal_m : float
        Above 3 mm up to 120 mm [m].
    grade : int
        5 to 11, as in IT7.

    Raises
    ------
    MeasurementError
        If size or grade is not held here.

    Examples
    --------
    >>> round(standard_tolerance_m(0.012, 7) * 1e6)
    18
    """
    if grade not in _GRADES_UM:
        raise MeasurementError(f"tolerance grade: found {grade}, expected {GRADES[0]} to {GRADES[-1]}")
    return _GRADES_UM[grade][_range(nominal_m)] * MICROMETRE


def tolerance_by_formula_m(nominal_m: float, grade: int) -> float:
    """What the standard's formula gives before the table's rounding.

    Notes
    -----
    A multiple (7, 10, 16, 25, 40, 64, 100 from grade 5 on) of the unit i = 0.45 D^(1/3) + 0.001 D in um, D
    being the geometric mean of the ends of the range in mm (ISO 286-1:1988, annex A; from memory).
    """
    standard_tolerance_m(nominal_m, grade)
    at = _range(nominal_m)
    middle = math.sqrt(_ABOVE_MM[at] * _ABOVE_MM[at + 1])
    unit_um = 0.45 * math.cbrt(middle) + 0.001 * middle
    return _MULTIPLES[grade] * unit_um * MICROMETRE


def limits_of(nominal_m: float, code: str) -> Limits:
    """Least and largest size of a code such as ``F7`` (bore) or ``h6`` (shaft).

    Notes
    -----
    A bore mirrors the shaft of its letter. From K on, bores up to grade 8 (K, M, N) or 7 (P, R, S) are moved
    by the difference to the next finer grade, so that H7/p6 and P7/h6 fit alike.

    Raises
    ------
    MeasurementError
        If the code is none, or letter, grade or size are not held here.

    Examples
    --------
    >>> found = limits_of(0.012, "F7")
    >>> round(found.least_m * 1e3, 3), round(found.largest_m * 1e3, 3)
    (12.016, 12.034)
    """
    letter, grade = _split(code)
    at, width = _range(nominal_m), standard_tolerance_m(nominal_m, grade)
    least, largest = _shaft_um(letter.lower(), grade, at, nominal_m)
    if letter[0].isupper():
        moved = _moved_um(letter.lower(), grade, at)
        least, largest = -largest + moved, -least + moved
    assert math.isclose((largest - least) * MICROMETRE, width)
    return Limits(code, nominal_m, nominal_m + least * MICROMETRE, nominal_m + largest * MICROMETRE)


def fit_of(nominal_m: float, written: str) -> Fit:
    """A fit as it is written, ``F7/h6``: the bore first, in capitals.

    Raises
    ------
    MeasurementError
        If it is not written so, or is not held here.

    Examples
    --------
    >>> fit = fit_of(0.012, "F7/h6")
    >>> fit.kind, round(fit.least_m * 1e6), round(fit.largest_m * 1e6)
    ('clearance', 16, 45)
    """
    both = _FIT.fullmatch(written)
    if both is None:
        raise MeasurementError(
            f"fit: found {written!r:.40}, expected bore and shaft, such as F7/h6: the bore in capitals"
        )
    return Fit(limits_of(nominal_m, both[1]), limits_of(nominal_m, both[2]))


def _range(nominal_m: float) -> int:
    size = nominal_m * 1e3
    if not (math.isfinite(size) and _ABOVE_MM[0] < size <= _ABOVE_MM[-1] + 1e-9):
        span = f"above {_ABOVE_MM[0]:g} mm up to {_ABOVE_MM[-1]:g} mm"
        raise MeasurementError(f"nominal size: found {size:g} mm, expected {span}")
    return max(0, bisect_left(_ABOVE_MM, size - 1e-9) - 1)


def _split(code: str) -> tuple[str, int]:
    parts = _CODE.fullmatch(code.strip())
    letter, grade = (parts[1], int(parts[2])) if parts else ("", 0)
    one_case = letter in (letter.lower(), letter.upper())
    if letter.lower() not in LETTERS or grade not in _GRADES_UM or not one_case:
        letters = ", ".join(LETTERS)
        wanted = f"a letter of {letters} (a bore's in capitals) and a grade of 5 to 11, such as F7"
        raise MeasurementError(f"tolerance: found {code!r:.20}, expected {wanted}")
    coarsest = _COARSEST.get(letter, _COARSEST.get(letter.lower(), GRADES[-1]))
    finest = GRADES[1] if letter.isupper() and letter.lower() in _PRESSED else GRADES[0]
    if not finest <= grade <= coarsest:
        raise MeasurementError(f"tolerance: found {code}, expected {letter} in grade {finest} to {coarsest}")
    return letter, grade


def _shaft_um(letter: str, grade: int, at: int, nominal_m: float) -> tuple[float, float]:
    """Lower and upper deviation of a shaft [um]."""
    width = _GRADES_UM[grade][at]
    if letter == "js":
        return -width / 2, width / 2
    if letter in _UPPER_UM:
        upper = _UPPER_UM[letter][at]
        return upper - width, upper
    if letter in _STEPPED_UM:
        lower = next(um for size, um in _STEPPED_UM[letter] if nominal_m * 1e3 <= size + 1e-9)
    else:
        lower = _LOWER_UM[letter][at]
    return lower, lower + width


def _moved_um(letter: str, grade: int, at: int) -> float:
    """How far a bore from K on is moved outwards against the mirrored shaft [um]."""
    if grade > _MOVED_UP_TO.get(letter, 0):
        return 0.0
    return _GRADES_UM[grade][at] - _GRADES_UM[grade - 1][at]
