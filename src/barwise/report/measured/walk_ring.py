"""The commutator seen from its end, one cell for each place of a walk: what is read, and where the hand is.

Each cell holds every form it can take; the page's style shows the one that its state names, so a script has
nothing to draw. Full is read, hollow is open, low is skipped, a spike is out of family, a cross not taken.
"""

from __future__ import annotations

import math
import xml.etree.ElementTree as ET
from collections.abc import Sequence
from dataclasses import dataclass

SIZE = 450.0
OUTER = 170.0
THICK, THICK_OF_ALL = 30.0, 56.0
NUMBER_AT = 199.0
FEW_BARS, MANY_BARS = 16, 80


@dataclass(frozen=True)
class Cell:
    """One place: its angle in turns from the top, its track counted from the outside, and how it stands."""

    turn: float
    ring: int = 0
    state: str = "open"


def draw(bars: int, cells: Sequence[Cell], feed: tuple[int, int] | None = None) -> str:
    """Draw the ring as SVG.

    Parameters
    ----------
    bars : int
        Bars, or slots: the first stands at the top, the others follow clockwise.
    cells : sequence of Cell
        In the order of the walk.
    feed : tuple of int, optional
        Bars at which the current goes in and out.

    Returns
    -------
    str
        An ``svg`` element without a name: the page says in words what it shows.
    """
    half = SIZE / 2
    box = f"{-half:g} {-half:g} {SIZE:g} {SIZE:g}"
    svg = ET.Element("svg", {"viewBox": box, "aria-hidden": "true", "focusable": "false", "class": "ring"})
    _stripes(svg)
    fed = dict(zip(feed or (), ("+", "\N{MINUS SIGN}"), strict=False))
    for bar in _numbered(bars):
        if all(abs(bar - other) > 1 for other in fed):
            _text(svg, (bar - 1) / bars, str(bar), "ring-number")
    for bar, sign in fed.items():
        _text(svg, (bar - 1) / bars, f"{sign}{bar}", "ring-feed")
    rings = max((cell.ring for cell in cells), default=0) + 1
    for cell in cells:
        _draw_cell(svg, cell, bars, rings)
    return ET.tostring(svg, encoding="unicode")


def _draw_cell(svg: ET.Element, cell: Cell, bars: int, rings: int) -> None:
    thick = THICK if rings == 1 else THICK_OF_ALL / rings
    outer = OUTER - cell.ring * (thick + 2)
    inner, turn = outer - thick, cell.turn
    half = 0.5 / bars - min(0.06 / bars, 0.00075)
    ends = (turn - half, turn + half)
    group = ET.SubElement(svg, "g", {"class": f"cell {cell.state}"})
    forms = {
        "body": _sector(*ends, inner, outer),
        "low": _sector(*ends, inner, inner + 0.3 * thick),
        "edge": _sector(*ends, inner - 3, outer + 3),
        "spike": _lines((OUTER + 3, turn - 0.012), (OUTER + 18, turn), (OUTER + 3, turn + 0.012)) + "Z",
        "cross": _lines((OUTER + 4, turn - 0.008), (OUTER + 16, turn + 0.008))
        + _lines((OUTER + 4, turn + 0.008), (OUTER + 16, turn - 0.008)),
        "needle": _lines((inner - 5, turn), (inner - 26, turn - 0.02), (inner - 26, turn + 0.02)) + "Z",
    }
    for name, path in forms.items():
        ET.SubElement(group, "path", {"class": name, "d": path})


def _numbered(bars: int) -> list[int]:
    """Bars whose number is written: all of a few, else every fifth or tenth, none too near the first."""
    every = 1 if bars <= FEW_BARS else 5 if bars <= MANY_BARS else 10
    return [1, *(bar for bar in range(2, bars + 1) if bar % every == 0 and bar <= bars - every // 2)]


def _stripes(svg: ET.Element) -> None:
    pattern = ET.SubElement(
        ET.SubElement(svg, "defs"),
        "pattern",
        {
            "id": "stripes",
            "width": "5",
            "height": "5",
            "patternUnits": "userSpaceOnUse",
            "patternTransform": "rotate(45)",
        },
    )
    ET.SubElement(pattern, "path", {"d": "M1 0V5", "class": "ring-stripe"})


def _text(svg: ET.Element, turn: float, text: str, name: str) -> None:
    x, y = _at(NUMBER_AT, turn)
    ET.SubElement(svg, "text", {"x": f"{x:.1f}", "y": f"{y:.1f}", "class": name}).text = text


def _sector(start: float, end: float, inner: float, outer: float) -> str:
    return (
        f"M{_point(outer, start)}A{outer:g} {outer:g} 0 0 1 {_point(outer, end)}"
        f"L{_point(inner, end)}A{inner:g} {inner:g} 0 0 0 {_point(inner, start)}Z"
    )


def _lines(*points: tuple[float, float]) -> str:
    return "M" + "L".join(_point(*point) for point in points)


def _point(radius: float, turn: float) -> str:
    x, y = _at(radius, turn)
    return f"{x:.1f} {y:.1f}"


def _at(radius: float, turn: float) -> tuple[float, float]:
    angle = 2 * math.pi * (turn - 0.25)
    return radius * math.cos(angle), radius * math.sin(angle)
