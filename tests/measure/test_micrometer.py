"""Micrometer lines and readings turn into each other."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from barwise.errors import MeasurementError
from barwise.measure.micrometer import (
    GRADUATIONS,
    Micrometer,
    ScaleReading,
    System,
    lines_at,
    micrometer_for,
    needs_vernier,
)

systems = st.sampled_from(["inch", "metric"])


@given(systems, st.integers(0, 5), st.booleans(), st.data())
def test_lines_become_a_reading_and_the_same_lines_again(
    system: System, frame: int, vernier: bool, data: st.DataObject
) -> None:
    lines = GRADUATIONS[system]
    fine = 1 if vernier else 10
    steps = data.draw(st.integers(0, lines.frame_steps // fine)) * fine
    tool = Micrometer(system, frame, vernier)
    unit_m = 0.0254 if system == "inch" else 0.001
    metres = (steps + frame * lines.frame_steps) / 10**lines.decimals * unit_m
    shown = lines_at(metres, tool)
    assert shown.steps == steps + frame * lines.frame_steps
    assert shown.metres == pytest.approx(metres, rel=1e-12)
    assert lines_at(shown.metres, tool) == shown


@given(systems, st.integers(0, 5), st.data())
def test_any_lines_on_the_scales_read_back_as_they_were(
    system: System, frame: int, data: st.DataObject
) -> None:
    lines = GRADUATIONS[system]
    shown = ScaleReading(
        Micrometer(system, frame),
        data.draw(st.integers(0, lines.frame_steps // lines.major_steps - 1)),
        data.draw(st.integers(0, lines.minors - 1)),
        data.draw(st.integers(0, lines.thimble_lines - 1)),
        data.draw(st.integers(0, 9)),
    )
    assert lines_at(shown.metres, shown.micrometer) == shown


def test_one_turn_of_the_thimble_is_one_sleeve_line() -> None:
    """Source: US Army TM 9-243, 1983, p. 7-6: one turn advances 0.5 mm (its "pitch 0.05 mm" is a slip)."""
    for system, turn_m in (("inch", 0.025 * 0.0254), ("metric", 0.0005)):
        lines = GRADUATIONS[system]
        assert lines.minor_steps * lines.step_m == pytest.approx(turn_m)
        assert lines.thimble_lines * 10 == lines.minor_steps


def test_the_frame_is_the_smallest_that_spans_the_length() -> None:
    assert micrometer_for(0.0254, "inch").name == "0-1 in micrometer"
    assert micrometer_for(0.02541, "inch").name == "1-2 in micrometer"
    assert micrometer_for(0.1501e0 - 0.0001, "metric").name == "125-150 mm micrometer"
    with pytest.raises(MeasurementError, match="expected 0 to 6 in"):
        micrometer_for(6.1 * 0.0254, "inch")


def test_a_reading_between_thimble_lines_needs_a_vernier() -> None:
    assert needs_vernier(5.783e-3, "metric")
    assert not needs_vernier(5.78e-3, "metric")
    with pytest.raises(MeasurementError, match=r"between its lines 1\.238 and 1\.239"):
        lines_at(1.2385 * 0.0254, Micrometer("inch", 1, vernier=False))
    with pytest.raises(MeasurementError, match=r"between its lines 1\.2385 and 1\.2386"):
        lines_at(1.23855 * 0.0254, Micrometer("inch", 1))


@pytest.mark.parametrize(
    "wrong",
    [
        lambda: Micrometer("inch", 6),
        lambda: Micrometer("cubit"),  # type: ignore[arg-type]
        lambda: ScaleReading(Micrometer("inch"), 11),
        lambda: ScaleReading(Micrometer("inch"), 1, 4),
        lambda: ScaleReading(Micrometer("inch"), 1, 1, 25),
        lambda: ScaleReading(Micrometer("metric"), 1, 2),
        lambda: ScaleReading(Micrometer("metric", vernier=False), 1, 0, 0, 3),
        lambda: ScaleReading(Micrometer("inch"), 10, 0, 1),
        lambda: lines_at(0.0254 * 2.5, Micrometer("inch", 1)),
    ],
)
def test_lines_that_are_not_on_the_scale_are_refused(wrong) -> None:
    with pytest.raises(MeasurementError, match=r"expected|beyond the end"):
        wrong()
