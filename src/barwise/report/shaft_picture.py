"""The shaft seen from the side, its bend drawn large, and from its end: which way each place is off."""

from __future__ import annotations

import math
from xml.etree import ElementTree as ET

import numpy as np

from barwise.inspect.shaft.judgement import Place, ShaftAnswer
from barwise.report import svg
from barwise.report.paragraphs import wrapped
from barwise.report.shaft_text import ALONG_DIGIT_M, bend_in_words

WIDTH, HEIGHT = 900.0, 440.0
SIDE = (70.0, 130.0, 480.0, 190.0)
"""Side view: left, top, width, height."""
END, RADIUS = (735.0, 225.0), 115.0


def draw(answer: ShaftAnswer) -> str:
    """Picture of the answer as the text of an SVG file, 900 units wide."""
    words = bend_in_words(answer) or "Run-out at each place."
    root = svg.document(WIDTH, HEIGHT, "Run-out along the shaft", _described(answer, words))
    svg.text(root, 20, 32, answer.verdict.capitalize(), font_size=20, font_weight="bold")
    for row, line in enumerate(wrapped(words, further="")):
        svg.text(root, 20, 56 + 20 * row, line, font_size=15)
    placed = [one for one in answer.places if one.offset is not None]
    _side(svg.group(root, "side"), answer, placed)
    _end(svg.group(root, "end"), answer, placed)
    return svg.written(root)


def _described(answer: ShaftAnswer, words: str) -> str:
    unit = answer.work.unit
    each = [
        f"{one.reading.name}: run-out {one.runout.value / unit.factor:.4g} {unit.name}"
        for one in answer.places
    ]
    return f"{words} {'; '.join(each)}."


def _side(parent: ET.Element, answer: ShaftAnswer, placed: list[Place]) -> None:
    """The plane of the bend: along the shaft to the right, off centre upwards."""
    left, top, width, height = SIDE
    bow, unit = answer.bow, answer.work.unit
    if bow is None:
        svg.text(parent, left, top + height / 2, "Only swings were read: no direction to draw.", font_size=15)
        return
    way = math.radians(bow.high_deg)
    along = np.array([math.cos(way), math.sin(way)])
    ends = [*answer.work.journals_m, *(one.reading.at_m for one in answer.places)]
    low, high = min(ends), max(ends)
    heights = bow.line[:, 1:] @ along
    largest = max(_largest(placed), float(np.abs(heights).max()), 1e-7)
    middle, scale = top + height / 2, 0.42 * height / largest

    def at(z: float) -> float:
        return left + width * (z - low) / (high - low)

    svg.line(parent, left, middle, left + width, middle, stroke=svg.QUIET, stroke_dasharray="6 5")
    points = zip(bow.line[:, 0].tolist(), heights.tolist(), strict=True)
    path = " ".join(f"{at(z):.1f},{middle - scale * y:.1f}" for z, y in points)
    bent = {"fill": "none", "stroke": svg.COPPER, "stroke_linecap": "round"}
    svg.shape(parent, "polyline", points=path, stroke_width=12, **bent)
    for journal in answer.work.journals_m:
        x = at(journal)
        svg.shape(
            parent, "polygon", points=f"{x},{middle + 8} {x - 14},{middle + 34} {x + 14},{middle + 34}",
            fill=svg.IRON, stroke=svg.INK,
        )  # fmt: skip
    for number, one in enumerate(placed, start=1):
        off, doubt = _along(one, along)
        x, y = at(one.reading.at_m), middle - scale * off
        svg.line(parent, x, y - 2 * scale * doubt, x, y + 2 * scale * doubt, stroke_width=2)
        svg.shape(parent, "circle", cx=x, cy=y, r=5, fill=svg.MODEL)
        svg.text(parent, x, top + height + 36, str(number), text_anchor="middle", font_size=14)
    reach = f"{largest / unit.factor:.3g} {unit.name}"
    words = f"In the plane of the bend; the highest stands for {reach} off centre"
    svg.text(parent, left, top - 14, words, font_size=13, fill=svg.QUIET)
    _names(parent, placed, top + height + 62, unit.name)


def _names(parent: ET.Element, placed: list[Place], top: float, unit: str) -> None:
    digit = ALONG_DIGIT_M if unit in ("in", "thou") else 1e-4
    factor, named = (0.0254, "in") if unit in ("in", "thou") else (1e-3, "mm")
    decimals = 2 if digit == ALONG_DIGIT_M else 1
    said = [f"{number} {one.reading.name}, {one.reading.at_m / factor:.{decimals}f} {named}"
            for number, one in enumerate(placed, start=1)]  # fmt: skip
    for row, line in enumerate(wrapped("; ".join(said), further="")):
        svg.text(parent, 20, top + 18 * row, line, font_size=13)


def _end(parent: ET.Element, answer: ShaftAnswer, placed: list[Place]) -> None:
    """Seen from the end the angles count from: the mark on top, angles clockwise."""
    x, y = END
    largest = max(_largest(placed), 1e-7)
    unit = answer.work.unit
    svg.shape(parent, "circle", cx=x, cy=y, r=RADIUS, fill="none", stroke=svg.FAINT)
    svg.shape(parent, "circle", cx=x, cy=y, r=RADIUS / 2, fill="none", stroke=svg.FAINT)
    for angle in (0, 90, 180, 270):
        spot = svg.polar(END, RADIUS + 16, angle / 360)
        words = f"{angle}°"
        svg.text(parent, spot[0], spot[1] + 5, words, text_anchor="middle", font_size=13, fill=svg.QUIET)
    for number, one in enumerate(placed, start=1):
        if one.offset is None:
            continue
        size = float(np.hypot(*one.offset.offset_m))
        turn = math.atan2(one.offset.offset_m[1], one.offset.offset_m[0]) / (2 * math.pi)
        spot = svg.polar(END, RADIUS * size / largest, turn)
        svg.line(parent, x, y, *spot, stroke=svg.MODEL, stroke_width=1.5)
        svg.shape(parent, "circle", cx=spot[0], cy=spot[1], r=5, fill=svg.MODEL)
        svg.haloed(parent, spot[0] + 10, spot[1] - 8, str(number), font_size=14)
    words = f"outer ring: {largest / unit.factor:.3g} {unit.name} off centre"
    svg.text(parent, x, y + RADIUS + 46, words, text_anchor="middle", font_size=13, fill=svg.QUIET)


def _largest(placed: list[Place]) -> float:
    return max(
        (float(np.hypot(*one.offset.offset_m)) for one in placed if one.offset is not None), default=0.0
    )


def _along(one: Place, along: np.ndarray) -> tuple[float, float]:
    """A place's offset in the plane of the bend, and its standard uncertainty [m]."""
    if one.offset is None:
        return 0.0, 0.0
    doubt = math.sqrt(max(0.0, float(along @ one.offset.covariance_m2 @ along)))
    return float(one.offset.offset_m @ along), doubt
