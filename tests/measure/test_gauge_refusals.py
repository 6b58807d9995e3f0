"""What no gauge study can be made of, and studies with nothing in them."""

from __future__ import annotations

import math

import numpy as np
import pytest

from barwise.errors import MeasurementError
from barwise.measure.gauge_study import gauge_study


@pytest.mark.parametrize(
    "readings",
    [
        np.zeros((3, 3)),
        np.zeros((1, 3, 2)),
        np.zeros((3, 0, 2)),
        np.zeros((3, 3, 1)),
        [[[1.0, math.nan], [1.0, 2.0]], [[1.0, 2.0], [1.0, 2.0]]],
        [[[1.0, 2.0], [1.0]], [[1.0, 2.0], [1.0, 2.0]]],
    ],
)
def test_a_study_that_cannot_be_made_is_refused(readings: object) -> None:
    with pytest.raises(MeasurementError, match="gauge study"):
        gauge_study(readings)  # type: ignore[arg-type]


def test_a_component_that_comes_out_negative_counts_as_nought_and_is_named() -> None:
    readings = np.array([[[1.0, 2.0], [2.0, 1.0]], [[3.0, 4.0], [4.0, 3.0]]])
    study = gauge_study(readings)
    assert study.operator_variance == 0.0
    assert "operator" in study.negative


def test_readings_all_alike_have_no_spread_at_all() -> None:
    study = gauge_study(np.ones((3, 2, 2)))
    assert study.total_variation == 0.0
    assert math.isinf(study.distinct_categories)
    assert study.percent_of_total(study.gauge_variation) == 0.0
