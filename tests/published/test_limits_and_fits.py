"""Limits of size against printed values of the ISO system.

Shafts: JIS B 0401 (1999), table of tolerances of shafts for commonly used fits, which has the values
of ISO 286. Bores: ISO 286-1:2010, tables of fundamental deviations (from memory). Grades from 50 to 120 mm:
ISO 286, table of IT grades, as two pages print it alike (engineersvault.blogspot.com, February 2007;
mechguru.com, DIN ISO 286). m to s above 80 mm: Machine Drawing (a textbook), table 15.2, page 216. Bore E8
above 80 mm: ISO 286-2:1988, technical corrigendum 1 of 2006, page 9, table 3.
"""

from __future__ import annotations

import pytest

from barwise.errors import MeasurementError
from barwise.inspect.bearings.fits import fit_of, limits_of, standard_tolerance_m, tolerance_by_formula_m

# Nominal size [mm], code, lower and upper deviation [um].
SHAFTS = [
    (5, "d8", -48, -30), (5, "f7", -22, -10), (5, "k6", 1, 9), (5, "p6", 12, 20), (5, "s6", 19, 27),
    (8, "e8", -47, -25), (8, "g6", -14, -5), (8, "m6", 6, 15), (8, "n6", 10, 19), (10, "f8", -35, -13),
    (12, "e7", -50, -32), (12, "f7", -34, -16), (12, "g6", -17, -6), (12, "h6", -11, 0), (12, "p6", 18, 29),
    (14, "js6", -5.5, 5.5), (16, "d9", -93, -50), (16, "k5", 1, 9), (18, "n6", 12, 23), (20, "f6", -33, -20),
    (25, "g6", -20, -7), (25, "m6", 8, 21), (30, "h7", -21, 0), (30, "r6", 28, 41), (35, "e9", -112, -50),
    (40, "g5", -20, -9), (45, "k6", 2, 18), (60, "f7", -60, -30), (60, "r6", 41, 60), (70, "s6", 59, 78),
    (80, "h9", -74, 0),
    (85, "m6", 13, 35), (85, "n6", 23, 45), (85, "p6", 37, 59), (85, "r6", 51, 73), (85, "s6", 71, 93),
    (110, "m6", 13, 35), (110, "p6", 37, 59), (110, "r6", 54, 76), (110, "s6", 79, 101),
]  # fmt: skip
BORES = [
    (12, "H7", 0, 18), (12, "F7", 16, 34), (12, "E8", 32, 59), (12, "G7", 6, 24), (12, "N7", -23, -5),
    (12, "P7", -29, -11), (12, "K7", -12, 6), (12, "M7", -18, 0), (8, "H8", 0, 22), (8, "P7", -24, -9),
    (25, "N7", -28, -7), (25, "P7", -35, -14), (25, "D10", 65, 149), (40, "JS7", -12.5, 12.5),
    (100, "E8", 72, 126),
]  # fmt: skip


@pytest.mark.parametrize(("size", "code", "lower", "upper"), [*SHAFTS, *BORES])
def test_deviations_are_those_of_the_printed_tables(
    size: float, code: str, lower: float, upper: float
) -> None:
    found = limits_of(size * 1e-3, code)
    deviations = [(side - found.nominal_m) * 1e6 for side in (found.least_m, found.largest_m)]
    assert deviations == pytest.approx([lower, upper], abs=1e-6)


@pytest.mark.parametrize(
    ("size_mm", "grades_um"),
    [(65, (13, 19, 30, 46, 74, 120, 190)), (100, (15, 22, 35, 54, 87, 140, 220))],
)
def test_the_grades_of_larger_sizes_are_those_of_the_printed_table(
    size_mm: float, grades_um: tuple[int, ...]
) -> None:
    """IT5 to IT11 above 50 and above 80 mm: the two pages named above."""
    found = [standard_tolerance_m(size_mm * 1e-3, grade) * 1e6 for grade in range(5, 12)]
    assert found == pytest.approx(grades_um, abs=1e-6)


@pytest.mark.parametrize("grade", [5, 6, 7, 8, 9, 10, 11])
@pytest.mark.parametrize("size_mm", [4, 8, 14, 24, 40, 65, 100])
def test_the_table_is_the_formula_but_for_its_rounding(size_mm: float, grade: int) -> None:
    """i = 0.45 D^(1/3) + 0.001 D: ISO 286-1:1988, annex A (from memory)."""
    table, formula = (
        standard_tolerance_m(size_mm * 1e-3, grade),
        tolerance_by_formula_m(size_mm * 1e-3, grade),
    )
    assert table == pytest.approx(formula, rel=0.05, abs=0.8e-6)


def test_a_range_holds_its_upper_end_and_not_its_lower_one() -> None:
    assert standard_tolerance_m(0.010, 7) == pytest.approx(15e-6)
    assert standard_tolerance_m(0.010001, 7) == pytest.approx(18e-6)


@pytest.mark.parametrize(
    ("written", "kind", "least", "largest"),
    [("H7/f7", "clearance", 16, 52), ("H7/k6", "transition", -12, 17), ("H7/p6", "interference", -29, 0),
     ("P7/h6", "interference", -29, 0), ("F7/h6", "clearance", 16, 45)],
)  # fmt: skip
def test_a_fit_says_how_much_clearance_it_leaves(
    written: str, kind: str, least: float, largest: float
) -> None:
    """ISO 286-1: H7/p6 and P7/h6 fit alike (from memory)."""
    fit = fit_of(0.012, written)
    assert fit.kind == kind
    assert [fit.least_m * 1e6, fit.largest_m * 1e6] == pytest.approx([least, largest], abs=1e-6)


@pytest.mark.parametrize(
    ("size", "written", "said"),
    [(12, "f7/H6", "the bore in capitals"), (12, "H7", "such as F7/h6"), (12, "H4/h6", "grade of 5 to 11"),
     (12, "Z7/h6", "a letter of d, e"), (2, "H7/h6", "above 3 mm"), (500, "H7/h6", "up to 120 mm"),
     (12, "K9/h6", "grade 6 to 8"), (12, "P5/h6", "grade 6 to 9"), (float("nan"), "H7/h6", "found nan mm")],
)  # fmt: skip
def test_what_is_no_fit_or_not_held_here_is_refused(size: float, written: str, said: str) -> None:
    with pytest.raises(MeasurementError, match=said):
        fit_of(size * 1e-3, written)
