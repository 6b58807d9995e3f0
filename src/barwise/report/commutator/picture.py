"""One picture of a cut plan: the profile round the clean-up circle, and what each pass leaves unrolled.

In the round picture departures from the clean-up circle are drawn far larger than the circle itself; by how
much is written beside it. Old metal is hatched, doubtful places are dotted: nothing rests on colour.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise
from textwrap import wrap
from xml.etree import ElementTree as ET

import numpy as np
from numpy.typing import NDArray

from barwise.inspect.commutator.passes import Pass
from barwise.inspect.commutator.plan import CutPlan
from barwise.report import svg
from barwise.report.commutator.words import ShopUnit, why
from barwise.report.probability import probability_in_words

Array = NDArray[np.float64]

WIDTH = 800.0
CENTRE_X, ROUND = 400.0, 640.0
"""Centre of the round picture and the height it takes."""
CLEAN_RADIUS, REACH = 150.0, 95.0
"""Radius of the clean-up circle, and how far the highest place stands out from it."""
ROWS = 13
FRESH, OLD = 0.95, 0.05
LINE = 21.0


@dataclass(frozen=True)
class MapsLook:
    """Room for the maps below one another; `brief` where the words are large and must be few."""

    width: float = WIDTH
    left: float = 60.0
    right: float = 30.0
    map: float = 74.0
    gap: float = 44.0
    words: float = 12.0
    brief: bool = False


MAPS, PRINTED_MAPS = MapsLook(), MapsLook(440.0, 12.0, 12.0, 46.0, 46.0, 15.0, brief=True)
"""As a screen has them, and for a print where the drawing is a third of a page."""


def commutator_picture(plan: CutPlan, unit_name: str) -> str:
    """Picture of a plan as the text of an SVG file, 800 units wide."""
    unit = ShopUnit(unit_name)
    words = _words(plan, unit)
    head = 24 + LINE * len(words)
    maps = 40 + len(plan.passes) * (MAPS.map + MAPS.gap) if plan.passes else 0
    height = head + ROUND + maps + 10
    title = f"Commutator with {plan.profile.bars} bars: {plan.worth.verdict}"
    root = svg.document(WIDTH, height, title, " ".join(words))
    _dots(root)
    for number, line in enumerate(words):
        look = {"font_size": 20, "font_weight": "bold"} if number == 0 else {"font_size": 14}
        svg.text(root, 20, 30 + LINE * number, line, **look)
    _round(svg.group(root, "round"), plan, unit, (CENTRE_X, head + ROUND / 2 - 42))
    _maps(root, plan, unit, head + ROUND)
    return svg.written(root)


def round_picture(plan: CutPlan, unit_name: str, name: str = "round") -> str:
    """The profile round the clean-up circle alone, for a page that says the decision itself.

    `name` begins the ids of the drawing, so that a page can hold several.
    """
    unit = ShopUnit(unit_name)
    title = f"Commutator with {plan.profile.bars} bars round its clean-up circle"
    root = svg.document(WIDTH, ROUND, title, " ".join(_words(plan, unit)))
    _round(svg.group(root, "round"), plan, unit, (CENTRE_X, ROUND / 2 - 42))
    return svg.written(svg.named(root, name))


def passes_picture(plan: CutPlan, unit_name: str, name: str = "passes", look: MapsLook = MAPS) -> str:
    """What each pass leaves, unrolled; empty where no cut is proposed."""
    if not plan.passes:
        return ""
    unit = ShopUnit(unit_name)
    height = 50 + len(plan.passes) * (look.map + look.gap)
    clean = "; ".join(
        f"after pass {number} {100 * one.cleaned_fraction:.0f} % fresh metal"
        for number, one in enumerate(plan.passes, start=1)
    )
    root = svg.document(look.width, height, "The brush band unrolled after each pass", clean)
    _dots(root)
    _maps(root, plan, unit, 10.0, look)
    return svg.written(svg.named(root, name))


def _maps(root: ET.Element, plan: CutPlan, unit: ShopUnit, top: float, look: MapsLook = MAPS) -> None:
    """Their key, and a map for each pass below one another."""
    if plan.passes:
        _key(svg.group(root, "key"), top, look)
        top += 40
    for number, one in enumerate(plan.passes, start=1):
        drawn = svg.group(root, "pass")
        svg.text(drawn, look.left, top, _heading(number, one, unit, look), font_size=look.words + 1)
        _map(drawn, plan.profile.bars, one, top + 8, look)
        top += look.map + look.gap


def _words(plan: CutPlan, unit: ShopUnit) -> list[str]:
    reason = why(plan, unit)
    lines = [plan.worth.verdict.upper(), *wrap(f"{reason[0].upper()}{reason[1:]}.", 104)]
    lines.append(
        f"95 % sure: {unit.between(plan.cleanup)}; "
        f"{plan.worth.after.percent:.0f} % worn then; now {unit.size(plan.diameter_m.value_m)}, "
        f"{plan.worth.now.percent:.0f} %."
    )
    return lines


def _round(parent: ET.Element, plan: CutPlan, unit: ShopUnit, centre: tuple[float, float]) -> None:
    mean = plan.surface.mean_radius_m()
    high, low = mean.max(axis=1), mean.min(axis=1)
    clean = plan.cleanup.value_m / 2
    scale = REACH / max(float(high.max()) - clean, 1e-9)
    magnified = scale * clean / CLEAN_RADIUS

    def drawn(radius_m: float) -> float:
        return max(CLEAN_RADIUS + (radius_m - clean) * scale, 20.0)

    svg.shape(parent, "path", d=_outline(centre, [drawn(r) for r in high]), fill=svg.COPPER, stroke="none")
    svg.shape(
        parent, "path", d=_outline(centre, [drawn(r) for r in high]), fill="none", stroke=svg.QUIET,
        stroke_width=1.2, stroke_dasharray="4 3",
    )  # fmt: skip
    svg.shape(
        parent,
        "path",
        d=_outline(centre, [drawn(r) for r in low]),
        fill="none",
        stroke=svg.INK,
        stroke_width=2,
    )
    for end in (plan.cleanup.low_m, plan.cleanup.high_m):
        svg.shape(
            parent, "circle", cx=centre[0], cy=centre[1], r=drawn(end / 2), fill="none", stroke=svg.MODEL,
            stroke_width=1, stroke_dasharray="2 3",
        )  # fmt: skip
    svg.shape(
        parent,
        "circle",
        cx=centre[0],
        cy=centre[1],
        r=CLEAN_RADIUS,
        fill="none",
        stroke=svg.MODEL,
        stroke_width=2.5,
    )
    _bar_numbers(parent, plan.profile.bars, centre, drawn(float(high.max())) + 14)
    _lowest(parent, low, centre)
    _legend(parent, centre[1] + ROUND / 2 - 36, unit, scale, magnified)


def _outline(centre: tuple[float, float], radii: list[float]) -> str:
    """Path round the bars, each an arc of its own radius."""
    bars = len(radii)
    points = []
    for bar, radius in enumerate(radii):
        turns = (bar - 0.47, bar, bar + 0.47)
        points += [svg.polar(centre, radius, turn / bars) for turn in turns]
    return "M" + " L".join(f"{svg.number(x)},{svg.number(y)}" for x, y in points) + " Z"


def _bar_numbers(parent: ET.Element, bars: int, centre: tuple[float, float], radius: float) -> None:
    every = 1 if bars <= 30 else 5
    for bar in range(bars):
        if bar % every and (bar + 1) % every:
            continue
        if every > 1 and bar and (bar + 1) % every:
            continue
        x, y = svg.polar(centre, radius, bar / bars)
        svg.text(parent, x, y + 4, str(bar + 1), font_size=11, text_anchor="middle", fill=svg.QUIET)


def _lowest(parent: ET.Element, low: Array, centre: tuple[float, float]) -> None:
    """A pointer from inside to the lowest bar."""
    bar = int(low.argmin())
    tip = svg.polar(centre, CLEAN_RADIUS - 5, bar / len(low))
    tail = svg.polar(centre, CLEAN_RADIUS - 46, bar / len(low))
    svg.line(parent, *tail, *tip, stroke=svg.MARK, stroke_width=2)
    name = svg.polar(centre, CLEAN_RADIUS - 66, bar / len(low))
    svg.haloed(parent, name[0], name[1] + 4, f"bar {bar + 1} lowest", font_size=13, fill=svg.MARK)


def _legend(parent: ET.Element, top: float, unit: ShopUnit, scale: float, magnified: float) -> None:
    x, step = 20.0, 18.0
    clean, lowest, highest = (top + step * number for number in range(3))
    svg.line(parent, x, clean - 4, x + 26, clean - 4, stroke=svg.MODEL, stroke_width=2.5)
    words = "clean-up circle, and the ends of its 95 % interval (dotted)"
    svg.text(parent, x + 34, clean, words, font_size=12)
    svg.line(parent, x, lowest - 4, x + 26, lowest - 4, stroke_width=2)
    svg.text(parent, x + 34, lowest, "lowest place of each bar in the band", font_size=12)
    svg.line(parent, x, highest - 4, x + 26, highest - 4, stroke=svg.QUIET, stroke_dasharray="4 3")
    svg.text(parent, x + 34, highest, "highest place of each bar", font_size=12)
    rung = _round_length(unit, 60 / scale)
    left, right = 520.0, 520.0 + rung * scale
    svg.line(parent, left, clean - 4, right, clean - 4, stroke_width=2)
    for end in (left, right):
        svg.line(parent, end, clean - 9, end, clean + 1, stroke_width=2)
    svg.text(parent, left, lowest, f"{unit.small(rung)} on the radius:", font_size=12)
    larger = f"drawn {_two_digits(magnified)} times as large as the circle"
    svg.text(parent, left, highest, larger, font_size=12)


def _two_digits(value: float) -> str:
    """Two significant digits, written out."""
    size = 10 ** max(math.floor(math.log10(value)) - 1, 0)
    return f"{round(value / size) * size:,.0f}".replace(",", " ")


def _round_length(unit: ShopUnit, most_m: float) -> float:
    """Largest of 1, 2, 5 times a power of ten in the small unit that is not above `most_m`."""
    one = 25.4e-6 if unit.name == "in" else 1e-6
    power = 10.0 ** math.floor(math.log10(most_m / one))
    return max(n * power * one for n in (1, 2, 5) if n * power * one <= most_m * (1 + 1e-9))


def _key(parent: ET.Element, top: float, look: MapsLook) -> None:
    y, x = top + 8, 210.0
    if look.brief:
        x = look.left
    else:
        svg.text(parent, 20, y + 4, "Unrolled after each pass:", font_size=13, font_weight="bold")
        ends = "riser end above, bars from left to right"
        svg.text(parent, 510, y + 4, ends, font_size=12, fill=svg.QUIET)
    for words, fill, room in (
        ("fresh metal", svg.COPPER, 110),
        ("doubtful", "url(#dots)", 90),
        ("old metal", "url(#hatch)", 0),
    ):
        svg.shape(
            parent, "rect", x=x, y=y - 8, width=16, height=16, fill=fill, stroke=svg.QUIET, stroke_width=0.8
        )
        svg.text(parent, x + 22, y + 4, words, font_size=look.words)
        x += room * look.words / 12


def _heading(number: int, one: Pass, unit: ShopUnit, look: MapsLook) -> str:
    label = "if needed" if one.kind == "if-needed" else one.kind
    fresh = f"{100 * one.cleaned_fraction:.1f} % fresh"
    chance = probability_in_words(one.all_clean)
    if look.brief:
        return f"{number}. {unit.size(one.diameter_m)} ({label}): {fresh}, all clean: {chance}"
    return f"{number}. {unit.size(one.diameter_m)} ({label}): {fresh}, chance that all is clean {chance}"


def _map(parent: ET.Element, bars: int, one: Pass, y: float, look: MapsLook) -> None:
    across = look.width - look.left - look.right
    wide, deep = across / bars, look.map / ROWS
    chosen = np.linspace(0, one.fresh.shape[1] - 1, ROWS).astype(int)
    states = np.digitize(one.fresh[:, chosen], [OLD, FRESH]).T
    svg.shape(parent, "rect", x=look.left, y=y, width=across, height=look.map, fill=svg.COPPER)
    for row, line in enumerate(states):
        edges = [0, *(np.flatnonzero(np.diff(line)) + 1).tolist(), bars]
        for first, last in pairwise(edges):
            if line[first] == 2:
                continue
            fill = "url(#hatch)" if line[first] == 0 else "url(#dots)"
            x, width = look.left + first * wide, (last - first) * wide
            svg.shape(parent, "rect", x=x, y=y + row * deep, width=width, height=deep, fill=fill)
    for bar in range(bars + 1):
        x = look.left + bar * wide
        svg.line(parent, x, y, x, y + look.map, stroke=svg.FAINT, stroke_width=0.6)
    frame: dict[str, str | float] = {"fill": "none", "stroke": svg.INK, "stroke_width": 1}
    svg.shape(parent, "rect", x=look.left, y=y, width=across, height=look.map, **frame)
    size = look.words if look.brief else look.words - 2
    named: dict[str, str | float] = {"font_size": size, "text_anchor": "middle", "fill": svg.QUIET}
    for bar in range(bars):
        if bar == 0 or (bar + 1) % 5 == 0:
            svg.text(parent, look.left + (bar + 0.5) * wide, y + look.map + 3 + size, str(bar + 1), **named)


def _dots(root: ET.Element) -> None:
    """Dots, so that a doubtful place is told from old metal without colour."""
    definitions = svg.shape(root, "defs")
    pattern = svg.shape(definitions, "pattern", id="dots", width=5, height=5, patternUnits="userSpaceOnUse")
    svg.shape(pattern, "rect", width=5, height=5, fill="#fbf3ea")
    svg.shape(pattern, "circle", cx=2.5, cy=2.5, r=1.1, fill=svg.INK)
