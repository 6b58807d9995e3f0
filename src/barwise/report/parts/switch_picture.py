"""The switch drawn: two windings between their terminals with what is wrong in them, contacts, plunger."""

from __future__ import annotations

import textwrap
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from xml.etree import ElementTree as ET

from barwise.inspect.checks import Json, Outcome
from barwise.inspect.checks.wording import chance
from barwise.inspect.finding import Finding
from barwise.inspect.switch.tested import SwitchAnswer
from barwise.measure.units import UNITS, printed
from barwise.report import svg

CIRCUIT, PLUNGER = (480.0, 420.0), (420.0, 230.0)
"""Width and height of each of the two drawings."""
_HIT: Mapping[str, tuple[str, ...]] = {
    "pull-in": ("pull-in",),
    "hold-in": ("hold-in",),
    "both": ("pull-in", "hold-in"),
    "common": ("common",),
}
"""What a fault is in, by the first word of its name."""
_S, _M, _CASE = (90.0, 210.0), (430.0, 210.0), 376.0


@dataclass(frozen=True)
class Read:
    """What was read of one part: the value in words, and its decision."""

    value: str
    decision: str


@dataclass(frozen=True)
class Circuit:
    """What was read of pull-in, hold-in and contacts, and the likeliest fault with its chance in words."""

    read: Mapping[str, Read]
    fault: str = "sound"
    words: str = ""


@dataclass(frozen=True)
class Travel:
    """The plunger's way from rest to home, and where the contacts touch [m]; `unit` to say it in."""

    travel_m: float
    touches_m: float | None
    unit: str
    decision: str


def draw(answer: SwitchAnswer) -> svg.Picture:
    """Picture of the whole answer as the text of an SVG file, 900 units wide."""
    found = {one.part: one for one in answer.findings}
    names = {"pull-in winding": "pull-in", "hold-in winding": "hold-in", "contact drop": "contacts"}
    read = {short: _read(found[part]) for part, short in names.items() if part in found}
    first = None if answer.diagnosis is None else answer.diagnosis.explanations[0]
    words = "" if first is None else f"{first.words} ({chance(first.probability)})"
    circuit = Circuit(read, "sound" if first is None else first.fault, words)
    width, height = CIRCUIT[0] + PLUNGER[0], CIRCUIT[1]
    travel = _travel_of(found)
    root = svg.document(width, height, "The switch (solenoid)", described(circuit, travel))
    _circuit(svg.group(root, "circuit"), circuit, answer.verdict)
    beside = svg.group(root, "plunger", transform=f"translate({CIRCUIT[0]:g} 60)")
    if travel is not None:
        _plunger(beside, travel)
    for row, part in enumerate(("pull-in voltage", "release voltage")):
        if part in found:
            _voltage(beside, found[part], PLUNGER[1] + 26 + 40 * row)
    return svg.written(root)


def windings_picture(outcome: Outcome) -> svg.Picture | None:
    """The windings as one check of the bench leaves them; None where it tells no fault."""
    known = outcome.details.get("explanations")
    first = known[0] if isinstance(known, Sequence) and known else None
    if not isinstance(first, Mapping):
        return None
    probability = first.get("probability")
    sure = f" ({chance(probability)})" if isinstance(probability, float) else ""
    value = "" if outcome.value is None else f"{outcome.value:.3g} {printed(outcome.unit)}"
    winding = outcome.details.get("winding")
    read = {str(winding): Read(value, outcome.decision)} if winding else {}
    circuit = Circuit(read, str(first.get("fault")), f"{first.get('words')}{sure}")
    root = svg.document(*CIRCUIT, "The windings of the switch", described(circuit, None))
    _circuit(svg.group(root, "circuit"), circuit, outcome.decision)
    return svg.written(svg.named(root, "windings"))


def travel_picture(outcome: Outcome) -> svg.Picture | None:
    """The plunger's way as a check of the bench leaves it; None where not all of it was read."""
    whole, touches = (_number(outcome.details.get(key)) for key in ("travel_m", "touches_m"))
    if whole is None or touches is None or whole <= 0:
        return None
    travel = Travel(whole, touches, outcome.unit, outcome.decision)
    root = svg.document(*PLUNGER, "Travel of the plunger", described(None, travel))
    _plunger(svg.group(root, "plunger"), travel)
    return svg.written(svg.named(root, "travel"))


def described(circuit: Circuit | None, travel: Travel | None) -> str:
    """The picture in words."""
    said = []
    if circuit is not None:
        said += [f"{name}: {one.value}, {one.decision}." for name, one in circuit.read.items()]
        said += [f"Likeliest: {circuit.words}."] if circuit.words else []
    if travel is not None:
        said.append(f"Plunger: {_size(travel.travel_m, travel)} from rest to home.")
        if travel.touches_m is not None:
            left = _size(travel.travel_m - travel.touches_m, travel)
            said.append(f"Contacts touch at {_size(travel.touches_m, travel)}, {left} are left.")
    return " ".join(said)


def _read(found: Finding) -> Read:
    value = (
        "" if found.value is None else f"{found.value / UNITS[found.unit].factor:.3g} {printed(found.unit)}"
    )
    return Read(value, found.outcome)


def _travel_of(found: Mapping[str, Finding]) -> Travel | None:
    whole, left = found.get("plunger travel"), found.get("travel left when the contacts touch")
    if whole is None or not whole.value or whole.value <= 0:
        return None
    touches = None if left is None or left.value is None else whole.value - left.value
    return Travel(whole.value, touches, whole.unit, (left or whole).outcome)


def _number(found: Json) -> float | None:
    return float(found) if isinstance(found, int | float) else None


def _size(value_m: float, travel: Travel) -> str:
    return f"{value_m / UNITS[travel.unit].factor:.3g} {printed(travel.unit)}"


def _circuit(parent: ET.Element, circuit: Circuit, verdict: str) -> None:
    """The pull-in winding between S and M, the hold-in winding from S to the case, contacts above."""
    hit = _HIT.get(circuit.fault.partition(" ")[0], ())
    svg.decision_mark(parent, verdict, 30, 26)
    svg.text(parent, 48, 32, verdict.capitalize(), font_size=18, font_weight="bold")
    for row, line in enumerate(textwrap.wrap(circuit.words, 52)[:2]):
        svg.text(
            parent, 20, 58 + 19 * row, f"{line[:1].upper()}{line[1:]}" if row == 0 else line, font_size=15
        )
    _contacts(parent, circuit.read.get("contacts"))
    wire = {"stroke_width": 3.0}
    svg.line(parent, *_S, *_M, **wire)
    svg.line(parent, _S[0], _S[1], _S[0], _CASE, **wire)
    svg.line(parent, _M[0], 140, *_M, **wire)
    _case(parent)
    _winding(parent, (230, 192), (140, 36), "pull-in", circuit, hit)
    _winding(parent, (72, 272), (36, 80), "hold-in", circuit, hit)
    if "common" in hit:
        svg.shape(parent, "circle", cx=_S[0], cy=_S[1], r=24, fill="url(#hatch)", stroke=svg.MARK)
    for (x, y), name in ((_S, "S"), (_M, "M")):
        svg.shape(parent, "circle", cx=x, cy=y, r=15, fill=svg.PAPER, stroke=svg.INK, stroke_width=2)
        svg.text(parent, x, y + 6, name, font_size=17, font_weight="bold", text_anchor="middle")


def _contacts(parent: ET.Element, read: Read | None) -> None:
    """Both studs and the disc that bridges them, drawn open."""
    for x in (180.0, _M[0]):
        svg.shape(parent, "rect", x=x - 16, y=124, width=32, height=16, fill=svg.COPPER, stroke=svg.INK)
    svg.shape(parent, "rect", x=168, y=102, width=_M[0] - 156, height=8, fill=svg.COPPER, stroke=svg.INK)
    svg.text(parent, 20, 137, "battery stud", font_size=13)
    svg.line(parent, 104, 132, 164, 132, stroke_width=3)
    words = "contacts" if read is None else f"contacts {read.value}, {read.decision}"
    svg.text(parent, 305, 137, words, font_size=15, text_anchor="middle")
    if read is not None:
        svg.decision_mark(parent, read.decision, 305, 156)


def _case(parent: ET.Element) -> None:
    for row in range(3):
        svg.line(
            parent,
            _S[0] - 24 + 8 * row,
            _CASE + 8 * row,
            _S[0] + 24 - 8 * row,
            _CASE + 8 * row,
            stroke_width=3,
        )
    svg.text(parent, _S[0] + 34, _CASE + 14, "case (ground)", font_size=13)


def _winding(
    parent: ET.Element,
    corner: tuple[float, float],
    size: tuple[float, float],
    name: str,
    circuit: Circuit,
    hit: Sequence[str],
) -> None:
    """A winding as a box, hatched where the fault is, with what was read and what is wrong beside it."""
    faulty = name in hit
    look = {"fill": "url(#hatch)", "stroke": svg.MARK} if faulty else {"fill": svg.COPPER, "stroke": svg.INK}
    svg.shape(parent, "rect", x=corner[0], y=corner[1], width=size[0], height=size[1], stroke_width=2, **look)
    lying = size[0] > size[1]
    x = corner[0] + size[0] / 2 if lying else corner[0] + size[0] + 14
    y = corner[1] + size[1] + 20 if lying else corner[1] + 26
    anchor = "middle" if lying else "start"
    svg.text(parent, x, y, f"{name} winding", font_size=15, font_weight="bold", text_anchor=anchor)
    read = circuit.read.get(name)
    if read is not None:
        svg.text(parent, x, y + 19, f"{read.value}, {read.decision}", font_size=15, text_anchor=anchor)
        svg.decision_mark(parent, read.decision, x - 92 if lying else corner[0] - 22, y + 13 if lying else y)
    if faulty:
        wrong = circuit.fault.removeprefix(f"{name} ").removeprefix("both windings ")
        row = y + (38 if read is not None else 19)
        svg.text(parent, x, row, wrong, font_size=15, font_weight="bold", fill=svg.MARK, text_anchor=anchor)


def _plunger(parent: ET.Element, travel: Travel) -> None:
    """The plunger's way as a bar: rest at the left, home at the right, where the contacts touch."""
    left, right, y = 40.0, 380.0, 110.0
    svg.text(parent, left, 30, "Plunger, from rest to home", font_size=15, font_weight="bold")
    svg.shape(parent, "rect", x=left, y=y - 12, width=right - left, height=24, fill=svg.IRON, stroke=svg.INK)
    for x, name in ((left, "rest"), (right, "home")):
        svg.line(parent, x, y - 24, x, y + 24, stroke_width=3)
        svg.text(parent, x, y + 44, name, font_size=14, text_anchor="middle")
    svg.text(parent, left, 56, f"travel {_size(travel.travel_m, travel)}", font_size=15)
    if travel.touches_m is None:
        return
    share = min(1.1, max(0.0, travel.touches_m / travel.travel_m))
    x = left + share * (right - left)
    if x < right:
        svg.shape(parent, "rect", x=x, y=y - 12, width=right - x, height=24, fill=svg.COPPER, stroke=svg.INK)
    svg.line(parent, x, y - 30, x, y + 30, stroke=svg.MODEL, stroke_width=3)
    anchor = "end" if share > 0.5 else "start"
    words = f"contacts touch at {_size(travel.touches_m, travel)}"
    svg.text(parent, x + (4 if anchor == "end" else 0), y - 36, words, font_size=14, text_anchor=anchor)
    left_over = travel.travel_m - travel.touches_m
    said = f"{_size(left_over, travel)} left to press them together: {travel.decision}"
    svg.decision_mark(parent, travel.decision, left + 8, y + 77)
    svg.text(parent, left + 26, y + 82, said, font_size=15)


def _voltage(parent: ET.Element, found: Finding, y: float) -> None:
    svg.decision_mark(parent, found.outcome, 48, y)
    read = _read(found)
    words = f"{found.part} {read.value}: {read.decision}"
    svg.text(parent, 66, y + 5, words, font_size=15)
