"""Micrometer readings worked in manuals."""

from __future__ import annotations

import pytest

from barwise.measure.micrometer import Micrometer, ScaleReading, lines_at


@pytest.mark.parametrize(
    ("shown", "value"),
    [
        # US Army TM 9-243, p. 7-5: .200 + .075 + .011 + .0002.
        (ScaleReading(Micrometer("inch"), 2, 3, 11, 2), 0.2862),
        # US Army course OD1642: .200 + .025 + .016, the parts partly inferred from the total.
        (ScaleReading(Micrometer("inch", vernier=False), 2, 1, 16), 0.241),
        # US Army TM 9-243, p. 7-6: 20.0 + 2.0 + .36.
        (ScaleReading(Micrometer("metric", vernier=False), 22, 0, 36), 22.36),
        # A general instruction page, not named: 5.5 + .28 + .003.
        (ScaleReading(Micrometer("metric"), 5, 1, 28, 3), 5.783),
    ],
)
def test_the_manuals_lines_give_the_manuals_reading(shown: ScaleReading, value: float) -> None:
    """Source: beside each case."""
    assert shown.value == value
    assert lines_at(shown.metres, shown.micrometer) == shown


def test_ten_vernier_lines_span_nine_thimble_lines() -> None:
    """US Army TM 9-243, section 7: a vernier line is 0.0009 in, its difference from the thimble 0.0001."""
    step = Micrometer("inch").step_m / 0.0254
    assert step == pytest.approx(0.0001)
    assert Micrometer("inch", vernier=False).step_m / 0.0254 - step == pytest.approx(0.0009)
