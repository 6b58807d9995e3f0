"""The motor curve: torque, speed and power against current, by the sheet and of this one with interval."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from xml.etree import ElementTree as ET

import numpy as np
from numpy.typing import NDArray

from barwise.inspect.run_test.assessment import Band, Curve, RunTest
from barwise.report.run_text import verdict_line
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

WIDTH, PANEL, LEFT, RIGHT, TOP, GAP = 760, 170, 78, 24, 64, 44
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


def curve_picture(found: RunTest) -> str:
    """The picture as SVG text."""
    return written(curve_drawing(found))


def curve_drawing(found: RunTest) -> ET.Element:
    """Three panels one below the other; where it does not turn, the sheet's curve alone.

    This one is a full line in its band, the sheet's a dashed line, readings at the sheet's volts circles: no
    meaning is in colour alone.
    """
    own = found.curve
    drawn = own or found.model_curve
    height = TOP + len(_PANELS) * (PANEL + GAP) + 14
    root = document(WIDTH, height, "Motor curve", _description(found))
    if drawn is None:
        text(root, LEFT, 26, "No curve: it does not turn, and the sheet gives no figures.", fill=QUIET)
        return root
    _legend(root, own is not None, found.model_curve is not None, drawn)
    most = _step_up(max(float(one.current_a[-1]) for one in (own, found.model_curve) if one is not None))
    for place, panel in enumerate(_PANELS):
        _draw(root, found, panel, TOP + place * (PANEL + GAP), most)
    text(root, WIDTH - RIGHT, height - 8, "current, A", text_anchor="end", fill=QUIET, font_size=12)
    return root


def _draw(root: ET.Element, found: RunTest, panel: _Panel, top: float, most: float) -> None:
    curves = [one for one in (found.curve, found.model_curve) if one is not None]
    # A light series motor runs away: the panel ends where readings and the sheet's no-load speed do.
    highest = _step_up(1.05 * max(_highest(panel.of_curve(one)) for one in curves) / panel.size)
    across = (WIDTH - LEFT - RIGHT) / most
    up = PANEL / highest
    frame = group(root, panel.title)
    text(frame, LEFT, top - 8, f"{panel.title}, {panel.unit}", font_weight="bold")
    for share in (0.0, 0.5, 1.0):
        y = top + PANEL * (1 - share)
        line(frame, LEFT, y, WIDTH - RIGHT, y, stroke=FAINT, stroke_width=1)
        text(frame, LEFT - 8, y + 4, f"{share * highest:g}", text_anchor="end", fill=QUIET, font_size=12)
    for share in (0.0, 0.25, 0.5, 0.75, 1.0):
        x = LEFT + share * most * across
        line(frame, x, top, x, top + PANEL, stroke=FAINT, stroke_width=1)
        text(frame, x, top + PANEL + 16, f"{share * most:g}", text_anchor="middle", fill=QUIET, font_size=12)

    def point(amps: float, value: float) -> str:
        inside = min(max(value / panel.size, 0.0), highest)
        return f"{number(LEFT + amps * across)},{number(top + PANEL - inside * up)}"

    def path(amps: Sequence[float], values: Sequence[float]) -> str:
        return " ".join(point(one, value) for one, value in zip(amps, values, strict=True))

    if found.curve is not None:
        band, amps = panel.of_curve(found.curve), list(found.curve.current_a)
        edge = path(amps + amps[::-1], [*band.low, *band.high[::-1]])
        shape(frame, "polygon", points=edge, fill=MODEL, fill_opacity="0.18", stroke="none")
        shape(
            frame,
            "polyline",
            points=path(amps, list(band.value)),
            fill="none",
            stroke=MODEL,
            stroke_width=2.5,
        )
    if found.model_curve is not None:
        sheet = found.model_curve
        steps = path(list(sheet.current_a), list(panel.of_curve(sheet).value))
        shape(
            frame, "polyline", points=steps, fill="none", stroke=INK, stroke_width=1.6, stroke_dasharray="7 4"
        )
    _readings(frame, found, panel, lambda amps, value: point(amps, value))


def _readings(frame: ET.Element, found: RunTest, panel: _Panel, place: Callable[[float, float], str]) -> None:
    """Loaded and no-load readings taken near the curve's volts; others belong to another curve."""
    curve = found.curve
    for one in found.points:
        value = getattr(one, panel.of_point) if panel.of_point else None
        if value is None or one.current is None or one.volts is None or curve is None:
            continue
        if abs(one.volts.value / curve.volts_v - 1) > 0.06 or one.current.value > curve.current_a[-1]:
            continue
        x, y = place(one.current.value, value.value).split(",")
        shape(frame, "circle", cx=x, cy=y, r=5, fill="none", stroke=MARK, stroke_width=2)


def _legend(root: ET.Element, own: bool, sheet: bool, drawn: Curve) -> None:
    words = f"at {drawn.volts_v:.3g} V and {drawn.temperature_c:.0f} °C"
    x = LEFT
    if own:
        line(root, x, 22, x + 34, 22, stroke=MODEL, stroke_width=2.5)
        text(root, x + 42, 26, f"this one, {words}; band: 95 %", font_size=12)
        x += 340
    if sheet:
        line(root, x, 22, x + 34, 22, stroke=INK, stroke_width=1.6, stroke_dasharray="7 4")
        text(root, x + 42, 26, "by the sheet", font_size=12)
        x += 150
    if own:
        shape(root, "circle", cx=x + 8, cy=22, r=5, fill="none", stroke=MARK, stroke_width=2)
        text(root, x + 22, 26, "read", font_size=12)


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
        return f"{named} It does not turn, so it has no curve."
    best = int(found.curve.power.value.argmax())
    watts, amps = found.curve.power.value[best], found.curve.current_a[best]
    return f"{named} Torque, speed and power against current; most power {watts:.0f} W at {amps:.0f} A."
