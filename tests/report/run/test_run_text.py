"""The run test in words where there is no curve of the motor at hand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from barwise.measure.uncertainty import Estimate
from barwise.report.run.picture import curve_picture
from barwise.report.run.text import power_lines
from tests.inspect.test_run_trouble_table import no_load


@pytest.mark.parametrize(
    ("current", "speed", "why"),
    [
        pytest.param(0.6, 1.5, "No motor known here gives these readings", id="it turns, and is not covered"),
        pytest.param(14.0, 0.0, "It does not turn", id="it stands"),
    ],
)
def test_why_there_is_no_curve_is_said_as_it_is(current: float, speed: float, why: str) -> None:
    found = no_load(current, speed)
    assert found.curve is None
    assert f"{why}: there is no curve." in tuple(power_lines(found))
    assert f"{why}: no curve of this one." in curve_picture(found)


def test_the_picture_explains_circles_only_where_it_has_some() -> None:
    """A point far from the curve's volts belongs to another curve, and is not drawn."""
    found = no_load(1.0, 1.0)
    assert found.curve is not None
    volts = found.curve.volts_v
    for share, drawn in ((1.0, True), (0.5, False)):
        there = tuple(replace(one, volts=Estimate(share * volts, 0.01)) for one in found.points)
        picture = curve_picture(replace(found, points=there))
        assert (">read<" in picture) is drawn
        assert (picture.count("<circle") > 0) is drawn
