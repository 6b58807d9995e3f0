"""Two pictures of a start: where the volts go, leg by leg, and how the engine's speed comes up and dips."""

from __future__ import annotations

from xml.etree import ElementTree as ET

import numpy as np
from numpy.typing import NDArray

from barwise.inspect.cranking.assessment import CrankSummary
from barwise.inspect.cranking.prediction import LegDrop
from barwise.machine.cranking import RPM
from barwise.report import svg
from barwise.report.run.cranking import verdict_words

WIDTH, LEFT, RIGHT = 800.0, 170.0, 40.0
ROW, HEAD, PLOT = 44.0, 70.0, 250.0
_FONT = 14


def cranking_picture(found: CrankSummary) -> str:
    """Picture of an answer as the text of an SVG file, 800 units wide."""
    budget = found.outlook.budget
    height = HEAD + ROW * len(budget) + 60 + PLOT + 70
    words = verdict_words(found)
    root = svg.document(WIDTH, height, "Will it crank", words)
    half = words.find(": ") + 1
    svg.text(root, 20, 30, words[:half], font_size=20, font_weight="bold")
    svg.text(root, 20, 52, words[half:].strip(), font_size=_FONT)
    _staircase(svg.group(root, "volts"), budget, HEAD + 12)
    _speed(svg.group(root, "speed"), found, HEAD + ROW * len(budget) + 60)
    return svg.written(root)


def _staircase(parent: ET.Element, budget: tuple[LegDrop, ...], top: float) -> None:
    """Each leg takes a step off what the one before left; the dashed end is what it would take in order."""
    whole = sum(row.volts.middle for row in budget)
    scale = (WIDTH - LEFT - RIGHT - 150) / whole
    left = whole
    for place, row in enumerate(budget):
        y, right = top + place * ROW, LEFT + left * scale
        start = right - row.volts.middle * scale
        svg.text(parent, LEFT - 12, y + 19, row.name, text_anchor="end", font_size=_FONT)
        starter = row.ohm is None
        more = not starter and row.volts.middle > 1.5 * row.healthy_volts
        look = {"fill": svg.COPPER if starter else "url(#hatch)" if more else svg.IRON}
        svg.shape(
            parent,
            "rect",
            x=start,
            y=y,
            width=max(1.5, right - start),
            height=ROW - 16,
            stroke=svg.INK,
            **look,
        )
        words = f"{row.volts.middle:.2f} V" + ("" if starter else f", in order {row.healthy_volts:.2f} V")
        svg.text(parent, right + 8, y + 19, words, font_size=_FONT)
        left -= row.volts.middle


def _speed(parent: ET.Element, found: CrankSummary, top: float) -> None:
    run = found.trace
    rpm, amps = run.speed_rad_s / RPM, run.current_a
    most = max(float(rpm.max()), found.outlook.least_rpm[1]) * 1.1 or 1.0
    bottom, end = top + PLOT, float(run.time_s[-1])

    def x(seconds: float) -> float:
        return LEFT / 2 + (WIDTH - LEFT / 2 - RIGHT) * seconds / end

    def y(value: float) -> float:
        return bottom - PLOT * value / most

    low, high = found.outlook.least_rpm
    svg.shape(
        parent, "rect", x=x(0), y=y(high), width=x(end) - x(0), height=y(low) - y(high), fill="#efe9d2",
    )  # fmt: skip
    svg.haloed(parent, x(end) - 70, y(high) + 16, "least starting speed", font_size=12)
    svg.line(parent, x(0), bottom, x(end), bottom)
    svg.line(parent, x(0), top, x(0), bottom)
    for value in _ticks(most):
        svg.text(parent, x(0) - 8, y(value) + 4, f"{value:.0f}", text_anchor="end", font_size=13)
        svg.line(parent, x(0) - 4, y(value), x(0), y(value))
    for seconds in _ticks(end):
        svg.text(parent, x(seconds), bottom + 18, f"{seconds:g} s", text_anchor="middle", font_size=13)
    svg.text(parent, x(0), top - 10, "Engine, rpm", font_size=_FONT, font_weight="bold")
    _curve(parent, run.time_s, rpm, x, y, stroke=svg.MODEL, stroke_width=2.2)
    share = most / float(amps.max()) * 0.9
    _curve(parent, run.time_s, amps * share, x, y, stroke=svg.QUIET, stroke_width=1.2, stroke_dasharray="5 4")
    svg.text(
        parent,
        x(end),
        top - 10,
        f"dashed: current, top {float(amps.max()):.0f} A",
        text_anchor="end",
        font_size=13,
    )


def _curve(
    parent: ET.Element,
    time: NDArray[np.float64],
    values: NDArray[np.float64],
    x: object,
    y: object,
    **look: str | float,
) -> None:
    assert callable(x)
    assert callable(y)
    points = " ".join(
        f"{svg.number(x(float(at)))},{svg.number(y(float(value)))}"
        for at, value in zip(time, values, strict=True)
    )
    svg.shape(parent, "polyline", points=points, fill="none", **look)


def _ticks(most: float) -> NDArray[np.float64]:
    """Round numbers from 0, four to eight of them."""
    step = 10.0 ** np.floor(np.log10(most / 4))
    step *= next(factor for factor in (1, 2, 5, 10) if most / (step * factor) <= 8)
    return np.arange(0.0, most, step)
