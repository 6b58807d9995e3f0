"""The drive drawn on its shaft: which part each finding is of, what is gone of a tooth, the slip test."""

from __future__ import annotations

import textwrap
from collections.abc import Mapping, Sequence
from xml.etree import ElementTree as ET

from barwise.inspect.checks import Json, Outcome
from barwise.inspect.drive.measured import DriveAnswer
from barwise.inspect.finding import WORST_FIRST, Finding, said_to_its_digit
from barwise.measure.uncertainty import Estimate
from barwise.measure.units import UNITS, printed
from barwise.report import svg

WIDTH, TOP = 900.0, 302.0
ROW = 28.0
TOOTH = (300.0, 250.0)
ARM = (480.0, 260.0)
_AT: Mapping[str, float] = {
    "lever": 105.0,
    "return spring": 225.0,
    "spline": 320.0,
    "clutch": 420.0,
    "pinion": 545.0,
}
"""Where each part stands along the shaft."""
_AXIS = 165.0
_WORN_OUT = 34.0
"""How far the flank is drawn in at 100 % worn."""


def draw(answer: DriveAnswer) -> svg.Picture:
    """Picture of the answer as the text of an SVG file, 900 units wide."""
    found = list(answer.findings)
    half = -(-len(found) // 2)
    height = TOP + ROW * max(half, 1) + 16
    root = svg.document(WIDTH, height, "The drive", " ".join(one.line for one in found))
    svg.decision_mark(root, answer.verdict, 30, 26)
    svg.text(root, 48, 32, answer.verdict.capitalize(), font_size=18, font_weight="bold")
    _drive(svg.group(root, "drive"), found)
    wear = answer.teeth
    if wear is not None and wear.wear is not None:
        unit = next(
            (UNITS[one.unit] for one in found if one.unit and one.part.startswith("pinion")), UNITS["mm"]
        )
        lost = "" if wear.lost is None else f"{said_to_its_digit(wear.lost, unit, finer=True)} of flank gone"
        inset = svg.group(root, "tooth", transform=f"translate({WIDTH - TOOTH[0]:g} 20)")
        _tooth(inset, wear.wear.percent, lost)
    for number, one in enumerate(found, start=1):
        column, row = divmod(number - 1, half)
        _row(root, 20 + column * WIDTH / 2, TOP + ROW * row, number, one)
    return svg.written(root)


def tooth_picture(outcome: Outcome) -> svg.Picture | None:
    """One tooth as a check of the bench leaves it; None where the sheet has no wear scale."""
    percent, lost = (_number(outcome.details.get(key)) for key in ("worn_percent", "flank_lost_m"))
    if percent is None:
        return None
    unit = UNITS.get(outcome.unit, UNITS["mm"])
    words = (
        "" if lost is None else f"{said_to_its_digit(Estimate(lost, unit.factor * 1e-3), unit)} of flank gone"
    )
    root = svg.document(*TOOTH, "One tooth of the pinion", f"{percent:.0f} % worn. {words}")
    _tooth(root, percent, words)
    return svg.written(svg.named(root, "tooth"))


def arm_picture(outcome: Outcome) -> svg.Picture | None:
    """The slip test by weight on an arm; None where pull or arm is missing."""
    pull, arm = (outcome.details.get(key) for key in ("pull", "arm"))
    if not (isinstance(pull, str) and isinstance(arm, str)) or outcome.value is None:
        return None
    torque = f"{outcome.value / UNITS[outcome.unit].factor:.3g} {printed(outcome.unit)}"
    came = str(outcome.details.get("came", ""))
    said = f"{pull} at {arm} is {torque}{f', {came}' if came else ''}: {outcome.decision}"
    root = svg.document(*ARM, "Slip test by weight on an arm", said)
    _arm(root, pull, arm)
    svg.decision_mark(root, outcome.decision, 30, 236)
    svg.text(root, 48, 242, f"{torque}{f', {came}' if came else ''}: {outcome.decision}", font_size=17)
    return svg.written(svg.named(root, "arm"))


def _number(found: Json) -> float | None:
    return float(found) if isinstance(found, int | float) else None


def _part_of(one: Finding) -> str:
    name = one.part.lower()
    if "spline" in name:
        return "spline"
    return next((part for part in _AT if name.startswith(part)), "pinion")


def _drive(parent: ET.Element, found: Sequence[Finding]) -> None:
    """Lever, spring, spline, clutch and pinion from left to right; one that is rejected is hatched."""
    numbers: dict[str, list[int]] = {}
    worst: dict[str, str] = {}
    for number, one in enumerate(found, start=1):
        part = _part_of(one)
        numbers.setdefault(part, []).append(number)
        before = worst.get(part)
        if before is None or WORST_FIRST[one.outcome] < WORST_FIRST[before]:  # type: ignore[index]
            worst[part] = one.outcome
    svg.shape(parent, "rect", x=60, y=_AXIS - 8, width=560, height=16, fill=svg.IRON, stroke=svg.INK)
    for groove in range(270, 380, 10):
        svg.line(parent, groove, _AXIS - 8, groove, _AXIS + 8)
    _lever(parent, _look(worst, "lever"))
    _spring(parent, worst.get("return spring"))
    box = {"stroke_width": 2.0}
    svg.shape(
        parent, "rect", x=370, y=_AXIS - 48, width=100, height=96, rx=8, **_look(worst, "clutch"), **box
    )
    _pinion(parent, _look(worst, "pinion"))
    for part, x in _AT.items():
        svg.text(parent, x, _AXIS + 84, part, font_size=15, font_weight="bold", text_anchor="middle")
        if part in numbers:
            listed = ", ".join(str(one) for one in numbers[part])
            svg.text(parent, x, _AXIS + 102, listed, font_size=14, text_anchor="middle")
            svg.decision_mark(parent, worst[part], x, _AXIS - 78)


def _look(worst: Mapping[str, str], part: str) -> dict[str, str | float]:
    if worst.get(part) == "reject":
        return {"fill": "url(#hatch)", "stroke": svg.MARK}
    return {"fill": svg.COPPER if part in worst else svg.PAPER, "stroke": svg.INK}


def _lever(parent: ET.Element, look: dict[str, str | float]) -> None:
    corners = f"95,{_AXIS - 62} 115,{_AXIS - 62} 122,{_AXIS + 30} 88,{_AXIS + 30}"
    svg.shape(parent, "polygon", points=corners, stroke_width=2, **look)
    svg.shape(parent, "circle", cx=105, cy=_AXIS - 48, r=5, fill=svg.PAPER, stroke=svg.INK)


def _spring(parent: ET.Element, outcome: str | None) -> None:
    turns = " ".join(f"{165 + 12 * turn},{_AXIS + (26 if turn % 2 else -26)}" for turn in range(10))
    ink = svg.MARK if outcome == "reject" else svg.INK
    svg.shape(parent, "polyline", points=turns, fill="none", stroke=ink, stroke_width=3 if outcome else 1.5)


def _pinion(parent: ET.Element, look: dict[str, str | float]) -> None:
    svg.shape(parent, "rect", x=470, y=_AXIS - 30, width=26, height=60, fill=svg.IRON, stroke=svg.INK)
    svg.shape(parent, "rect", x=496, y=_AXIS - 42, width=96, height=84, stroke_width=2, **look)
    for row in range(1, 7):
        y = _AXIS - 42 + 12 * row
        svg.line(parent, 496, y, 592, y, stroke_width=1.5)


def _row(root: ET.Element, x: float, y: float, number: int, one: Finding) -> None:
    svg.decision_mark(root, one.outcome, x + 10, y - 5)
    value = ""
    if one.value is not None and one.unit in UNITS:
        value = f": {one.value / UNITS[one.unit].factor:.4g} {printed(one.unit)}"
    words = f"{number}  {one.part[:1].upper()}{one.part[1:]}{value}, {one.outcome}"
    svg.text(root, x + 26, y, textwrap.shorten(words, 54, placeholder=" ..."), font_size=15)


def _tooth(parent: ET.Element, percent: float, lost: str) -> None:
    """One tooth: new as a dashed outline, what is left in copper, what is gone hatched."""
    gone = min(max(percent, 0.0), 130.0) / 100 * _WORN_OUT
    foot, tip = 190.0, 50.0
    svg.text(
        parent, 150, 26, "one tooth, wear drawn large", font_size=13, text_anchor="middle", fill=svg.QUIET
    )
    new = f"85,{foot} 118,{tip} 182,{tip} 215,{foot}"
    svg.shape(parent, "polygon", points=new, fill="url(#hatch)", stroke=svg.MARK, stroke_dasharray="6 4")
    left = f"85,{foot} 118,{tip} {182 - gone:.1f},{tip} {215 - gone:.1f},{foot}"
    svg.shape(parent, "polygon", points=left, fill=svg.COPPER, stroke=svg.INK, stroke_width=2)
    svg.line(parent, 50, foot, 250, foot, stroke_width=2)
    svg.haloed(parent, 140, 130, f"{percent:.0f} % worn", font_size=17)
    svg.text(parent, 150, foot + 24, lost, font_size=15, text_anchor="middle")


def _arm(parent: ET.Element, pull: str, arm: str) -> None:
    """The pinion with a level bar, its length and the pull at its end."""
    svg.shape(parent, "circle", cx=90, cy=80, r=44, fill=svg.COPPER, stroke=svg.INK, stroke_width=2)
    svg.text(parent, 90, 150, "pinion", font_size=14, text_anchor="middle")
    svg.shape(parent, "rect", x=90, y=70, width=320, height=20, fill=svg.IRON, stroke=svg.INK, stroke_width=2)
    svg.shape(parent, "circle", cx=90, cy=80, r=5, fill=svg.INK)
    svg.line(parent, 90, 40, 400, 40, stroke=svg.MODEL, stroke_width=2)
    for x in (90.0, 400.0):
        svg.line(parent, x, 30, x, 66, stroke=svg.MODEL, stroke_width=2)
    svg.haloed(parent, 245, 46, arm, font_size=17)
    svg.line(parent, 400, 90, 400, 150, stroke_width=3)
    svg.shape(parent, "polygon", points="400,166 391,146 409,146", fill=svg.INK)
    svg.shape(
        parent,
        "rect",
        x=360,
        y=168,
        width=80,
        height=40,
        rx=6,
        fill=svg.PAPER,
        stroke=svg.INK,
        stroke_width=2,
    )
    svg.text(parent, 400, 194, pull, font_size=17, text_anchor="middle")
