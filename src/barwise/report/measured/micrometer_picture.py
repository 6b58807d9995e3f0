"""How sleeve, thimble and vernier look at a reading, for the rebuilder to hold the micrometer beside.

The round scales are drawn flat, as if rolled out. The sleeve shows all its lines up to the thimble; of
the thimble the lines round the reading. Vernier lines start three thimble lines above the long line; any
whole number of lines would do, as only the line that meets counts. Marks have numbers as well as colour.
"""

from __future__ import annotations

from collections.abc import Iterator
from xml.etree import ElementTree as ET

from barwise.measure.micrometer import VERNIER_LINES, ScaleReading
from barwise.report import svg

WIDTH, HEIGHT = 800.0, 440.0
LEFT, FRAME_WIDTH = 130.0, 440.0
INDEX_Y, GAP = 268.0, 15.0
"""Height of the sleeve's long line, and distance between thimble lines."""
TOP, BOTTOM = 50.0, 350.0
THIMBLE_WIDTH = 195.0
VERNIER_START = 3
LINES_BELOW, LINES_ABOVE = 4, 13
EDGE = 1.2
"""The thimble stands this much clear of the last line it has uncovered."""


def draw_micrometer(shown: ScaleReading) -> str:
    """The scales at a reading, as an SVG document."""
    lines = shown.micrometer.graduation
    reading = _reading(shown)
    words = ", ".join(f"{name} {number}" for name, number, _ in parts(shown))
    root = svg.document(WIDTH, HEIGHT, f"Micrometer at {reading}", f"{shown.micrometer.name}: {words}.")
    svg.text(root, 24, 30, f"{shown.micrometer.name} at {reading}", font_size=18, font_weight="bold")
    inside = shown.steps - shown.micrometer.frame * lines.frame_steps
    edge = LEFT + FRAME_WIDTH * inside / lines.frame_steps + EDGE
    _sleeve(root, shown, edge)
    _thimble(root, shown, edge)
    if shown.micrometer.vernier:
        _vernier(root, shown, edge)
    _sum(root, shown)
    return svg.written(root)


def parts(shown: ScaleReading) -> tuple[tuple[str, str, str], ...]:
    """What to look at, what it shows, and what that adds to the reading in its own unit."""
    lines = shown.micrometer.graduation
    inch = shown.micrometer.system == "inch"
    steps = [
        ("frame from", shown.micrometer.frame, lines.frame_steps),
        ("sleeve number" if inch else "whole mm lines", shown.major, lines.major_steps),
        ("sleeve lines after it" if inch else "half mm lines after it", shown.minor, lines.minor_steps),
        ("thimble line", shown.thimble, VERNIER_LINES),
    ]
    if shown.micrometer.vernier:
        steps.append(("vernier line", shown.vernier, 1))
    return tuple((name, str(count), _number(count * each, lines.decimals)) for name, count, each in steps)


def _reading(shown: ScaleReading) -> str:
    lines = shown.micrometer.graduation
    decimals = lines.decimals if shown.micrometer.vernier else lines.decimals - 1
    return f"{shown.value:.{decimals}f} {lines.unit}"


def _number(steps: int, decimals: int) -> str:
    return f"{steps / 10.0**decimals:.{decimals}f}"


def _sleeve(root: ET.Element, shown: ScaleReading, edge: float) -> None:
    sleeve = svg.group(root, "sleeve")
    svg.shape(
        sleeve, "rect", x=LEFT - 110, y=TOP + 20, width=edge - LEFT + 110, height=BOTTOM - TOP - 40,
        fill=svg.PAPER, stroke=svg.INK,
    )  # fmt: skip
    svg.line(sleeve, LEFT - 20, INDEX_Y, edge, INDEX_Y, stroke_width=1.6)
    lines = shown.micrometer.graduation
    turns = shown.major * lines.minors + shown.minor
    for turn in range(turns + 1):
        x = LEFT + FRAME_WIDTH * turn * lines.minor_steps / lines.frame_steps
        _sleeve_line(sleeve, shown, turn, x)
    last = LEFT + FRAME_WIDTH * turns * lines.minor_steps / lines.frame_steps
    end = min(last + 5, edge - 2)
    words = "last line in sight ▴"
    svg.text(sleeve, end, INDEX_Y + 56, words, text_anchor="end", fill=svg.MARK, font_size=11)


def _sleeve_line(sleeve: ET.Element, shown: ScaleReading, turn: int, x: float) -> None:
    major, minor = divmod(turn, shown.micrometer.graduation.minors)
    if shown.micrometer.system == "inch":
        svg.line(sleeve, x, INDEX_Y, x, INDEX_Y + (10 if minor else 20))
        if not minor:
            _sleeve_number(sleeve, shown, turn, x, INDEX_Y + 36)
        return
    # Whole millimetres above the long line, halves below it.
    tall = 20 if major % 5 == 0 else 12
    svg.line(sleeve, x, INDEX_Y, x, INDEX_Y + 12 if minor else INDEX_Y - tall)
    if not minor and major % 5 == 0:
        _sleeve_number(sleeve, shown, turn, x, INDEX_Y - 25)


def _sleeve_number(sleeve: ET.Element, shown: ScaleReading, turn: int, x: float, y: float) -> None:
    """The number of a sleeve line, beside the line where the thimble would cover half of it."""
    lines = shown.micrometer.graduation
    number = turn // lines.minors
    if shown.micrometer.system == "metric":
        number += shown.micrometer.frame * lines.frame_steps // lines.major_steps
    near = shown.major * lines.minors + shown.minor - turn < lines.minors / 2
    svg.text(sleeve, x - 3 if near else x, y, str(number), text_anchor="end" if near else "middle")


def _thimble(root: ET.Element, shown: ScaleReading, edge: float) -> None:
    thimble = svg.group(root, "thimble")
    right = edge + THIMBLE_WIDTH
    taper = svg.number(edge + 60)
    outline = (
        f"M{svg.number(edge)},{TOP + 10} L{taper},{TOP - 6} H{svg.number(right)} "
        f"V{BOTTOM + 6} H{taper} L{svg.number(edge)},{BOTTOM - 10} Z"
    )
    svg.shape(thimble, "path", d=outline, fill=svg.IRON, stroke=svg.INK)
    for line, y in _thimble_lines(shown):
        numbered = line % 5 == 0
        svg.line(thimble, edge, y, edge + (34 if numbered else 22), y)
        if numbered:
            svg.text(thimble, edge + 40, y + 4.5, str(line))
    svg.line(thimble, edge, INDEX_Y, edge + 34, INDEX_Y, stroke=svg.MARK, stroke_dasharray="4 3")
    words = f"line {shown.thimble}" + (f" and {shown.vernier}/10" if shown.vernier else "")
    svg.text(thimble, edge + 72, INDEX_Y + 4.5, words, fill=svg.MARK)


def _thimble_lines(shown: ScaleReading) -> Iterator[tuple[int, float]]:
    """Number and height of each thimble line in sight; they count upwards."""
    for above in range(-LINES_BELOW, LINES_ABOVE + 1):
        line = (shown.thimble + above) % shown.micrometer.graduation.thimble_lines
        yield line, INDEX_Y - GAP * (above - shown.vernier / VERNIER_LINES)


def _vernier(root: ET.Element, shown: ScaleReading, edge: float) -> None:
    vernier = svg.group(root, "vernier")
    for line in range(VERNIER_LINES + 1):
        y = INDEX_Y - GAP * (VERNIER_START + line * (VERNIER_LINES - 1) / VERNIER_LINES)
        # The last line is a second nought: it meets whenever the first one does.
        meets = line % VERNIER_LINES == shown.vernier
        look: dict[str, str | float] = {"stroke": svg.MARK, "stroke_width": 2.6} if meets else {}
        svg.line(vernier, edge - 54, y, edge, y, **look)
        weight = "bold" if meets else "normal"
        svg.text(
            vernier, edge - 60, y + 4, str(line % VERNIER_LINES), text_anchor="end", font_size=11,
            font_weight=weight, fill=svg.MARK if meets else svg.INK,
        )  # fmt: skip
        if meets and line < VERNIER_LINES:
            svg.text(vernier, edge - 72, y + 4, "meets ▸", text_anchor="end", fill=svg.MARK, font_size=11)


def _sum(root: ET.Element, shown: ScaleReading) -> None:
    counted = parts(shown)
    width = (WIDTH - 48) / (len(counted) + 1)
    for place, (name, number, worth) in enumerate(counted):
        x = 24 + place * width
        svg.text(root, x, HEIGHT - 52, name, font_size=10, fill=svg.QUIET)
        svg.text(root, x, HEIGHT - 34, number if place else "", font_weight="bold")
        svg.text(root, x, HEIGHT - 14, f"{'+ ' if place else ''}{worth}")
    x = 24 + len(counted) * width
    svg.text(root, x, HEIGHT - 14, f"= {_reading(shown)}", font_weight="bold", font_size=14)
