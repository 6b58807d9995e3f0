"""Gauge studies whose results are in print."""

from __future__ import annotations

import numpy as np
import pytest

from barwise.measure.gauge_study import gauge_study

HANDBOOK = """
 .29  -.56 1.34 .47  -.80  .02 .59 -.31 2.26 -1.36
 .41  -.68 1.17 .50  -.92 -.11 .75 -.20 1.99 -1.25
 .64  -.58 1.27 .64  -.84 -.21 .66 -.17 2.01 -1.31
 .08  -.47 1.19 .01  -.56 -.20 .47 -.63 1.80 -1.68
 .25 -1.22  .94 1.03 -1.20 .22 .55  .08 2.12 -1.62
 .07  -.68 1.34 .20 -1.28  .06 .83 -.34 2.19 -1.50
 .04 -1.38  .88 .14 -1.46 -.29 .02 -.46 1.77 -1.49
-.11 -1.13 1.09 .20 -1.07 -.67 .01 -.56 1.45 -1.77
-.15  -.96  .67 .11 -1.45 -.49 .21 -.49 1.87 -2.16
"""
SHOP = """
1.27 .90 1.09  1.12 1.09 1.15  1.73 1.28 1.77
1.34 1.32 1.27  1.24 1.00 1.14  1.64 1.65 1.77
1.09 1.26 1.09  1.48 1.15 1.15  1.64 1.44 1.68
"""
WEIGHTS = """
3.481 3.448 3.485 3.475 3.472  3.258 3.254 3.256 3.249 3.241
3.477 3.472 3.464 3.472 3.470  3.254 3.247 3.257 3.238 3.250
3.470 3.470 3.477 3.473 3.474  3.258 3.239 3.245 3.240 3.254
"""


def table(text: str, shape: tuple[int, ...], order: tuple[int, ...]) -> np.ndarray:
    """Readings as parts by people by repeats."""
    return np.array(text.split(), dtype=float).reshape(shape).transpose(order)


def test_the_handbooks_ten_parts_by_analysis_of_variance() -> None:
    """Readings: AIAG, Measurement Systems Analysis, 4th edition, 2010, ten parts, three people, three
    readings (three independent copies agree). Results derived from them: the handbook's own printed
    EV 0.202, AV 0.230, GRR 0.306, PV 1.105 (second-hand) are by average and range, another estimator.
    """
    study = gauge_study(table(HANDBOOK, (3, 3, 10), (2, 0, 1)))
    squares = [s.sum_of_squares for s in (study.operator, study.part, study.interaction, study.error)]
    assert squares == pytest.approx([3.16726, 88.36193, 0.35898, 2.75893], abs=5e-6)
    assert study.pooled
    spreads = [
        study.equipment_variation,
        study.appraiser_variation,
        study.gauge_variation,
        study.part_variation,
        study.total_variation,
    ]
    assert spreads == pytest.approx([0.199933, 0.226838, 0.302372, 1.042327, 1.085300], abs=5e-7)
    assert study.percent_of_total(study.gauge_variation) == pytest.approx(27.861, abs=5e-4)
    assert study.distinct_categories == pytest.approx(4.86, abs=0.005)


def test_the_handbooks_printed_spreads_are_near() -> None:
    """Source: as above; average-and-range results 0.20188, 0.22963, 0.30575, 1.10456, 1.14610."""
    study = gauge_study(table(HANDBOOK, (3, 3, 10), (2, 0, 1)))
    assert study.equipment_variation == pytest.approx(0.20188, rel=0.02)
    assert study.appraiser_variation == pytest.approx(0.22963, rel=0.02)
    assert study.gauge_variation == pytest.approx(0.30575, rel=0.02)
    assert study.part_variation == pytest.approx(1.10456, rel=0.06)


def test_a_study_of_three_parts_reproduces_its_printed_table() -> None:
    """E. L. Cano, J. M. Moguerza and A. Redchuk, Six Sigma with R, Springer, 2012, chapter 5."""
    study = gauge_study(table(SHOP, (3, 3, 3), (1, 0, 2)))
    squares = [s.sum_of_squares for s in (study.part, study.operator, study.interaction, study.error)]
    assert [round(value, 4) for value in squares] == [1.2007, 0.0529, 0.0834, 0.3854]
    grr = study.gauge_variation**2
    variances = [grr, study.repeatability_variance, study.operator_variance, study.part_variance]
    assert [round(value, 4) for value in variances] == [0.0219, 0.0213, 0.0006, 0.0643]
    assert round(study.total_variation**2, 4) == 0.0862
    percents = [
        study.percent_of_total(spread)
        for spread in (
            study.gauge_variation,
            study.equipment_variation,
            study.appraiser_variation,
            study.part_variation,
        )
    ]
    assert [round(value, 2) for value in percents] == [50.38, 49.71, 8.16, 86.38]
    assert int(study.distinct_categories) == 2


def test_two_weights_by_five_people() -> None:
    """Readings: S. B. Vardeman and E. S. VanValkenburg, Technometrics 41, 1999, as listed in the manual of
    the R package qualityTools 1.55. Derived: mean squares, and the repeatability, interaction kept.
    """
    study = gauge_study(table(WEIGHTS, (3, 2, 5), (1, 2, 0)), pool_above=1.0)
    assert not study.pooled
    assert study.error.mean_square == pytest.approx(5.11667e-5, rel=1e-6)
    assert study.equipment_variation == pytest.approx(0.00715309, rel=1e-6)
    assert study.part.mean_square == pytest.approx(0.371853, rel=1e-5)
    assert study.operator.mean_square == pytest.approx(1.25417e-4, rel=1e-5)
    assert "interaction" in study.negative


RESISTIVITY = """
196.3052 196.1240 196.1890 196.2569 196.3403
196.3042 196.3825 196.1669 196.3257 196.0422
196.1303 196.2005 196.2889 196.0343 196.1811
196.2795 196.1748 196.1494 196.1485 195.9885
196.2119 196.1051 196.1850 196.0052 196.2090
"""


def test_one_way_analysis_of_variance_has_the_certified_digits() -> None:
    """NIST Statistical Reference Datasets, analysis of variance, SiRstv: five instruments.

    Certified values as a copy of the data set's file has them; the readings are from memory, and agree with
    both certified sums of squares in thirteen digits.
    """
    study = gauge_study(np.array(RESISTIVITY.split(), dtype=float).reshape(5, 1, 5))
    assert (study.part.degrees_of_freedom, study.error.degrees_of_freedom) == (4, 20)
    assert study.part.sum_of_squares == pytest.approx(5.11462616000000e-02, rel=1e-11)
    assert study.error.sum_of_squares == pytest.approx(2.16636560000000e-01, rel=1e-11)
    assert study.part.mean_square / study.error.mean_square == pytest.approx(1.18046237440255, rel=1e-11)
    assert study.equipment_variation == pytest.approx(1.04076068334656e-01, rel=1e-11)
    total = study.part.sum_of_squares + study.error.sum_of_squares
    assert study.part.sum_of_squares / total == pytest.approx(1.90999039051129e-01, rel=1e-11)
    assert (study.parts, study.people, study.repeats) == (5, 1, 5)
