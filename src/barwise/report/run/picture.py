"""The motor curve: torque, speed and power against current, by the sheet and of this one with interval."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from xml.etree import ElementTree as ET

import numpy as np
from numpy.typing import NDArray

from barwise.inspect.run_test import Point
from barwise.inspect.run_test.assessment import Band, Curve, RunTest
from barwise.report.run.text import no_curve, verdict_line
from barwise.report.svg import (
    FAINT,
    INK,
    MARK,
    MODEL,
    QUIET,
    document,
    group,
    line,
    number,
    shape,
    text,
    written,
)

Array = NDArray[np.float64]

_RPM = 2 * math.pi / 60


@dataclass(frozen=True)
class _Panel:
    """One quantity: its words, what of a curve it draws, what of a point, and the unit's size in SI."""

    title: str
    unit: str
    size: float
    of_curve: Callable[[Curve], Band]
    of_point: str


_PANELS = (
    _Panel("torque", "lbf.ft", 1.3558179483, lambda curve: curve.torque, "torque"),
    _Panel("speed", "rpm", _RPM, lambda curve: curve.speed, "speed"),
    _Panel("power", "W", 1.0, lambda curve: curve.power, ""),
)


@dataclass(frozen=True)
class Layout:
    """Room for a picture: width, height of a panel, margins, size of words; `stacked`: a legend in lines."""

    width: int
    panel: int
    left: int
    right: int
    gap: int
    stacked: bool
    words: float = 12

    def across(self, most: float) -> float:
        """Picture's units to an ampere."""
        return (self.width - self.left - self.right) / most


SCREEN = Layout(width=760, panel=170, left=78, right=24, gap=44, stacked=False)
PAPER = Layout(width=440, panel=92, left=60, right=26, gap=48, stacked=True, words=15)
"""Narrow, so that its words can be read where it stands beside others."""
_ROW = 20
_NEAR = 0.06
"""How far from the curve's volts, as a share, a point still stands in its picture."""


@dataclass(frozen=True)
class _Shown:
    """A curve in the picture: its words and its stroke."""

    curve: Curve
    words: str
    stroke: Mapping[str, str | float]


def curve_picture(found: RunTest, before: RunTest | None = None, layout: Layout = SCREEN) -> str:
    """The picture as SVG text; `before` is the same motor as it was found, where it was mended since."""
    return written(curve_drawing(found, before, layout))


def curve_drawing(found: RunTest, before: RunTest | None = None, layout: Layout = SCREEN) -> ET.Element:
    """Three panels one below the other; where it does not turn, the sheet's curve alone.

    This one is a full line in its band, the sheet's a dashed line, as it was found a dotted one, readings at
    the sheet's volts circles: no meaning is in colour alone.
    """
    shown = list(_shown(found, before))
    read = any(point.speed or point.torque for point in _on_the_curve(found))
    rows = (len(shown) + read) if layout.stacked else 1
    top = (42 if layout.stacked else 46) + rows * _ROW
    height = top + len(_PANELS) * (layout.panel + layout.gap) + 14
    root = document(layout.width, height, "Motor curve", _description(found))
    if not shown:
        text(root, layout.left, 26, f"{no_curve(found)}, and the sheet gives no figures.", fill=QUIET)
        return root
    _legend(root, shown, layout, read=read)
    most = _step_up(max(float(one.curve.current_a[-1]) for one in shown))
    for place, panel in enumerate(_PANELS):
        _draw(root, found, shown, panel, layout, top + place * (layout.panel + layout.gap), most)
    right = layout.width - layout.right
    text(root, right, height - 8, "current, A", text_anchor="end", fill=QUIET, font_size=layout.words)
    return root


def _shown(found: RunTest, before: RunTest | None) -> Iterator[_Shown]:
    if found.curve is not None:
        words = f"this one, {_at(found.curve)}; band: 95 %"
        full: dict[str, str | float] = {"stroke": MODEL, "stroke_width": 2.5}
        yield _Shown(found.curve, words, full)
    if found.model_curve is not None:
        dashed: dict[str, str | float] = {"stroke": INK, "stroke_width": 1.6, "stroke_dasharray": "7 4"}
        yield _Shown(found.model_curve, "by the sheet", dashed)
    if before is not None and before.curve is not None:
        dotted: dict[str, str | float] = {"stroke": MARK, "stroke_width": 2.2}
        dotted |= {"stroke_dasharray": "1.5 4.5", "stroke_linecap": "round"}
        yield _Shown(before.curve, "as it was found", dotted)


def _at(curve: Curve) -> str:
    return f"at {curve.volts_v:.3g} V and {curve.temperature_c:.0f} °C"


def _draw(
    root: ET.Element,
    found: RunTest,
    shown: Sequence[_Shown],
    panel: _Panel,
    layout: Layout,
    top: float,
    most: float,
) -> None:
    # A light series motor runs away: the panel ends where readings and the sheet's no-load speed do.
    highest = _step_up(1.05 * max(_highest(panel.of_curve(one.curve)) for one in shown) / panel.size)
    across, up = layout.across(most), layout.panel / highest
    frame = group(root, panel.title)
    title = f"{panel.title}, {panel.unit}"
    text(frame, layout.left, top - 8, title, font_weight="bold", font_size=layout.words + 1)
    _grid(frame, layout, top, most, highest)

    def point(amps: float, value: float) -> str:
        inside = min(max(value / panel.size, 0.0), highest)
        return f"{number(layout.left + amps * across)},{number(top + layout.panel - inside * up)}"

    def path(amps: Sequence[float], values: Sequence[float]) -> str:
        return " ".join(point(one, value) for one, value in zip(amps, values, strict=True))

    if found.curve is not None:
        band, amps = panel.of_curve(found.curve), list(found.curve.current_a)
        edge = path(amps + amps[::-1], [*band.low, *band.high[::-1]])
        shape(frame, "polygon", points=edge, fill=MODEL, fill_opacity="0.18", stroke="none")
    for one in shown:
        steps = path(list(one.curve.current_a), list(panel.of_curve(one.curve).value))
        shape(frame, "polyline", points=steps, fill="none", **one.stroke)
    _readings(frame, found, panel, point)


def _grid(frame: ET.Element, layout: Layout, top: float, most: float, highest: float) -> None:
    right, bottom = layout.width - layout.right, top + layout.panel
    for share in (0.0, 0.5, 1.0):
        y = bottom - layout.panel * share
        line(frame, layout.left, y, right, y, stroke=FAINT, stroke_width=1)
        said = f"{share * highest:g}"
        text(frame, layout.left - 8, y + 4, said, text_anchor="end", fill=QUIET, font_size=layout.words)
    for share in (0.0, 0.5, 1.0) if layout.stacked else (0.0, 0.25, 0.5, 0.75, 1.0):
        x = layout.left + share * most * layout.across(most)
        line(frame, x, top, x, bottom, stroke=FAINT, stroke_width=1)
        text(
            frame, x, bottom + 4 + layout.words, f"{share * most:g}", text_anchor="middle", fill=QUIET,
            font_size=layout.words,
        )  # fmt: skip


def _readings(frame: ET.Element, found: RunTest, panel: _Panel, place: Callable[[float, float], str]) -> None:
    for one in _on_the_curve(found):
        value = getattr(one, panel.of_point) if panel.of_point else None
        if value is not None and one.current is not None:
            x, y = place(one.current.value, value.value).split(",")
            shape(frame, "circle", cx=x, cy=y, r=5, fill="none", stroke=MARK, stroke_width=2)


def _on_the_curve(found: RunTest) -> Iterator[Point]:
    """Points read near the curve's volts; others belong to another curve."""
    curve = found.curve
    for one in found.points:
        if one.current is None or one.volts is None or curve is None:
            continue
        near = abs(one.volts.value / curve.volts_v - 1) <= _NEAR
        if near and one.current.value <= curve.current_a[-1]:
            yield one


def _legend(root: ET.Element, shown: Sequence[_Shown], layout: Layout, *, read: bool) -> None:
    """One below the other, or in one line with the room that their words take."""
    x, y = layout.left, 22
    for one in shown:
        line(root, x, y, x + 34, y, **one.stroke)
        text(root, x + 42, y + 4, one.words, font_size=layout.words)
        x, y = (x, y + _ROW) if layout.stacked else (x + 62 + 7 * len(one.words), y)
    if read:
        shape(root, "circle", cx=x + 8, cy=y, r=5, fill="none", stroke=MARK, stroke_width=2)
        text(root, x + (42 if layout.stacked else 22), y + 4, "read", font_size=layout.words)


def _highest(band: Band) -> float:
    return float(np.max(band.value))


def _step_up(value: float) -> float:
    """The next of 1, 2, 3, 4, 5, 6, 8, 10 times a power of ten."""
    if not value > 0:
        return 1.0
    power = 10.0 ** math.floor(math.log10(value))
    return power * next(step for step in (1, 1.5, 2, 3, 4, 5, 6, 8, 10) if value <= step * power * (1 + 1e-9))


def _description(found: RunTest) -> str:
    named = verdict_line(found)
    if found.curve is None:
        return f"{named} {no_curve(found)}: no curve of this one."
    best = int(found.curve.power.value.argmax())
    watts, amps = found.curve.power.value[best], found.curve.current_a[best]
    return f"{named} Torque, speed and power against current; most power {watts:.0f} W at {amps:.0f} A."
