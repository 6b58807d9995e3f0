"""The armature as it is seen from the commutator end, with the suspect coil drawn where it lies.

Inside out: shaft, commutator bars with their numbers, the leads to the slots, the slots with their
numbers, and, if given, a ring of readings against what was expected. A mark is never colour alone:
marked bars are hatched and outlined, a marked coil is drawn thick with square ends and carries its
name.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from math import hypot
from xml.etree import ElementTree as ET

from barwise.machine.winding import Winding
from barwise.report import svg

SIZE = 800.0
CENTRE = (SIZE / 2, SIZE / 2)

SHAFT = 46.0
COMMUTATOR = (104.0, 196.0)
BAR_NUMBERS = 174.0
RISER = 206.0
CORE = (272.0, 326.0)
LAYERS = 299.0
SLOT_NUMBERS = 340.0
BACK_END = 356.0
COIL_NAME = 376.0
COIL_NAME_INSIDE = 238.0
RING, RING_REACH, RING_FULL = 374.0, 20.0, 0.5
"""Radius of the circle of expectation, longest bar, and the departure that is drawn so long."""

MINIMUM_LABELLED = 0.1


@dataclass(frozen=True)
class Lettering:
    """How large the words are; `few` for a small print: of bars and slots only some have their number."""

    words: float = 12.0
    name: float = 17.0
    few: bool = False


USUAL, LARGE = Lettering(), Lettering(32.0, 34.0, few=True)
_APART = 1.25
"""Least distance between two numbers of bars, as a share of what their signs take."""


@dataclass(frozen=True)
class RingReading:
    """A reading from `bar` to the next, as a multiple of what was expected."""

    bar: int
    ratio: float


@dataclass(frozen=True)
class Marks:
    """What to point out: coils by number with a name, bars, and readings on the ring outside."""

    suspect_coils: tuple[int, ...] = ()
    suspect_bars: tuple[int, ...] = ()
    coil_names: dict[int, str] = field(default_factory=dict)
    ring: tuple[RingReading, ...] = ()
    ring_name: str = "reading"


def draw(winding: Winding, marks: Marks | None = None, title: str | None = None) -> str:
    """End view as the text of an SVG file, 800 units square.

    Parameters
    ----------
    winding : Winding
    marks : Marks, optional
    title : str, optional
        What the picture is called for a screen reader.
    """
    chosen = marks or Marks()
    root = svg.document(SIZE, SIZE, title or picture_title(winding), describe(winding, chosen))
    add_end_view(root, winding, chosen)
    return svg.written(root)


def add_end_view(
    parent: ET.Element, winding: Winding, marks: Marks, lettering: Lettering = USUAL
) -> None:
    """Draw the end view into a drawing, in a square of 800 units."""
    view = svg.group(parent, "end-view")
    _core(view, winding, lettering)
    _all_leads(view, winding)
    _commutator(view, winding, marks, lettering)
    _hub(view, winding, lettering)
    if marks.ring:
        _ring(view, winding, marks)
    for coil in marks.suspect_coils:
        name = marks.coil_names.get(coil, f"coil {coil}")
        _coil(view, winding, coil, name, bool(marks.ring), lettering)


def picture_title(winding: Winding) -> str:
    """Such as ``Armature, 57 bars, 4-pole wave, seen from the commutator end``."""
    return f"Armature, {winding.bars} bars, {winding.poles}-pole {winding.kind}, seen from the commutator end"


def describe(winding: Winding, marks: Marks) -> str:
    """The picture in words."""
    words = ["Bars are counted in the direction of rotation, drawn clockwise from the top."]
    for coil in marks.suspect_coils:
        start, end = winding.coil_bars(coil)
        lies = winding.coil_slots(coil)
        where = f", in slots {lies[0]} and {lies[1]}" if lies else ""
        words.append(f"Marked: coil {coil}, from bar {start} to bar {end}{where}.")
    if marks.suspect_bars:
        words.append(f"Marked bars: {', '.join(map(str, marks.suspect_bars))}.")
    if marks.ring:
        low, high = min(r.ratio for r in marks.ring), max(r.ratio for r in marks.ring)
        words.append(f"Ring outside: {marks.ring_name} over expected, from {low:.2f} to {high:.2f}.")
    return " ".join(words)


def bar_turn(winding: Winding, bar: float) -> float:
    """Where a bar's middle is drawn [turns]."""
    return (bar - 1) / winding.bars


def side_turns(winding: Winding, coil: int) -> tuple[float, float]:
    """Where the top and the bottom side of a coil are drawn [turns].

    The coil is drawn symmetrical about the middle between its two bars, as it is wound when the
    leads are brought straight to the commutator; with the slots unknown it spans one pole pitch.
    """
    if winding.slots is None or winding.slot_pitch is None or winding.coils_per_slot is None:
        middle = bar_turn(winding, coil + winding.step / 2)
        return middle - 0.5 / winding.poles, middle + 0.5 / winding.poles
    place = (coil - 1) % winding.coils_per_slot - (winding.coils_per_slot - 1) / 2
    within = place * min(0.42 / winding.slots, 0.016) / winding.coils_per_slot
    top = slot_turn(winding, winding.coil_slots(coil)[0]) + within
    return top, top + winding.slot_pitch / winding.slots


def slot_turn(winding: Winding, slot: int) -> float:
    """Where a slot's middle is drawn [turns]; needs the slots to be known."""
    assert winding.slots is not None
    beside = ((winding.coils_per_slot or 1) - 1) / 2
    first_coil = bar_turn(winding, 1 + beside + winding.step / 2)
    return first_coil + (slot - 1 - (winding.slot_pitch or 1) / 2) / winding.slots


def _hub(view: ET.Element, winding: Winding, lettering: Lettering) -> None:
    x, y = CENTRE
    svg.shape(view, "circle", cx=x, cy=y, r=COMMUTATOR[0] - 3, fill=svg.PAPER, stroke=svg.FAINT)
    svg.shape(view, "circle", cx=x, cy=y, r=SHAFT, fill=svg.IRON, stroke=svg.QUIET)
    if not lettering.few:
        svg.text(view, x, y - 2, "shaft", text_anchor="middle", fill=svg.QUIET)
        svg.text(view, x, y + 15, f"{winding.poles} poles", text_anchor="middle", fill=svg.QUIET)
    start, end = svg.polar(CENTRE, 72, -0.08), svg.polar(CENTRE, 72, 0.08)
    path = " A72,72 0 0 1 ".join(f"{svg.number(px)},{svg.number(py)}" for px, py in (start, end))
    svg.shape(view, "path", d=f"M{path}", fill="none", stroke=svg.QUIET, stroke_width=2)
    tip, back, front = (
        svg.polar(CENTRE, 72, 0.105), svg.polar(CENTRE, 66, 0.076), svg.polar(CENTRE, 78, 0.076)
    )  # fmt: skip
    points = " ".join(f"{svg.number(px)},{svg.number(py)}" for px, py in (tip, back, front))
    svg.shape(view, "polygon", points=points, fill=svg.QUIET)
    look: dict[str, str | float] = {"text_anchor": "middle", "fill": svg.QUIET, "font_size": lettering.words}
    svg.text(view, x, y + 76, "rotation", **look)


def _commutator(view: ET.Element, winding: Winding, marks: Marks, lettering: Lettering) -> None:
    bars = svg.group(view, "commutator")
    suspect = set(marks.suspect_bars)
    for coil in marks.suspect_coils:
        suspect |= set(winding.coil_bars(coil))
    half = 0.5 / winding.bars
    mica = min(0.12 * half, 0.0008)
    for bar in range(1, winding.bars + 1):
        turn, marked = bar_turn(winding, bar), bar in suspect
        piece = svg.group(bars, "bar marked" if marked else "bar")
        svg.hint(piece, f"bar {bar}")
        svg.shape(
            piece, "path",
            d=svg.sector(CENTRE, *COMMUTATOR, turn - half + mica, turn + half - mica),
            fill="url(#hatch)" if marked else svg.COPPER,
            stroke=svg.INK if marked else svg.QUIET, stroke_width=2.2 if marked else 0.5,
        )  # fmt: skip
        if not lettering.few:
            _bar_number(piece, winding, bar, marked)
    if lettering.few:
        _few_bar_numbers(bars, winding, sorted(suspect), lettering.words)


def _few_bar_numbers(parent: ET.Element, winding: Winding, suspect: list[int], size: float) -> None:
    """Those of marked bars first, then every fifth or tenth, wherever no other stands in the way."""
    every = 5 if winding.bars > 24 else 2
    placed: list[tuple[float, float]] = []
    for bar in (*suspect, 1, *range(every, winding.bars + 1, every)):
        marked = bar in suspect
        for radius in (172.0, 128.0) if marked else (150.0,):
            x, y = svg.polar(CENTRE, radius, bar_turn(winding, bar))
            if all(hypot(x - px, y - py) >= _APART * 1.3 * size for px, py in placed):
                placed.append((x, y))
                _large_number(parent, str(bar), (x, y), size, marked=marked)
                break


def _large_number(
    parent: ET.Element, number: str, at: tuple[float, float], size: float, *, marked: bool
) -> None:
    if marked:
        svg.shape(parent, "circle", cx=at[0], cy=at[1], r=size * 0.8, fill=svg.PAPER, stroke=svg.INK)
    weight = "bold" if marked else "normal"
    look: dict[str, str | float] = {"text_anchor": "middle", "font_size": size, "font_weight": weight}
    svg.text(parent, at[0], at[1] + 0.36 * size, number, **look)


def _bar_number(piece: ET.Element, winding: Winding, bar: int, marked: bool) -> None:
    size = max(9.0, min(14.0, 0.7 * 2 * 3.14159 * BAR_NUMBERS / winding.bars))
    x, y = svg.polar(CENTRE, BAR_NUMBERS, bar_turn(winding, bar))
    if marked:
        svg.shape(piece, "circle", cx=x, cy=y, r=size * 0.85, fill=svg.PAPER, stroke=svg.INK)
    if marked or winding.bars <= 72 or bar % 5 == 0 or bar == 1:
        weight = "bold" if marked else "normal"
        svg.text(
            piece, x, y + 0.36 * size, str(bar), font_size=size, text_anchor="middle",
            font_weight=weight,
        )  # fmt: skip


def _core(view: ET.Element, winding: Winding, lettering: Lettering) -> None:
    core = svg.group(view, "core")
    x, y = CENTRE
    svg.shape(core, "circle", cx=x, cy=y, r=CORE[1], fill=svg.IRON, stroke=svg.QUIET)
    svg.shape(core, "circle", cx=x, cy=y, r=CORE[0] - 12, fill=svg.PAPER, stroke=svg.FAINT)
    if winding.slots is None:
        return
    half = min(0.27 / winding.slots, 0.0105)
    for slot in range(1, winding.slots + 1):
        turn = slot_turn(winding, slot)
        svg.shape(
            core, "path", d=svg.sector(CENTRE, CORE[0], CORE[1] + 1, turn - half, turn + half),
            fill=svg.COPPER, stroke=svg.QUIET, stroke_width=0.8,
        )  # fmt: skip
        layers = (svg.polar(CENTRE, LAYERS, turn - half), svg.polar(CENTRE, LAYERS, turn + half))
        svg.line(core, *layers[0], *layers[1], stroke=svg.QUIET, stroke_width=0.8)
        if not lettering.few:
            _slot_number(core, winding, slot, marked=False)


def _slot_number(
    parent: ET.Element, winding: Winding, slot: int, *, marked: bool, size: float = 12.0
) -> None:
    x, y = svg.polar(CENTRE, SLOT_NUMBERS, slot_turn(winding, slot))
    if not marked:
        svg.text(parent, x, y + 4, str(slot), font_size=12, text_anchor="middle", fill=svg.QUIET)
        return
    if size > USUAL.words:
        _large_number(parent, str(slot), (x, y), size, marked=True)
        return
    svg.shape(parent, "circle", cx=x, cy=y, r=11, fill=svg.PAPER, stroke=svg.INK)
    svg.text(parent, x, y + 4.5, str(slot), font_weight="bold", text_anchor="middle")


def _all_leads(view: ET.Element, winding: Winding) -> None:
    leads = svg.group(view, "leads", fill="none", stroke=svg.FAINT, stroke_width=0.8)
    for coil in range(1, winding.bars + 1):
        top, bottom = side_turns(winding, coil)
        start, end = _ends(winding, coil)
        svg.shape(leads, "path", d=svg.spiral(CENTRE, (RISER, start), (CORE[0], top)))
        svg.shape(leads, "path", d=svg.spiral(CENTRE, (CORE[0], bottom), (RISER, end)))


def _ends(winding: Winding, coil: int) -> tuple[float, float]:
    """Unwrapped places of a coil's two bars, so that the leads take the short way."""
    return bar_turn(winding, coil), bar_turn(winding, coil + winding.step)


def _near(turn: float, goal: float) -> float:
    return turn + round(goal - turn)


def _coil(
    view: ET.Element, winding: Winding, coil: int, name: str, ringed: bool, lettering: Lettering
) -> None:
    drawn = svg.group(view, "suspect-coil")
    svg.hint(drawn, name)
    top, bottom = side_turns(winding, coil)
    start, end = (_near(t, g) for t, g in zip(_ends(winding, coil), (top, bottom), strict=True))
    upper, lower = (LAYERS + CORE[1]) / 2, (CORE[0] + LAYERS) / 2
    front = svg.group(drawn, "front", fill="none", stroke=svg.MARK, stroke_width=4.5)
    for path in (
        svg.spiral(CENTRE, (COMMUTATOR[1], start), (CORE[0], top)),
        svg.spiral(CENTRE, (CORE[0], top), (upper, top)),
        svg.spiral(CENTRE, (lower, bottom), (CORE[0] - 4, bottom)),
        svg.spiral(CENTRE, (CORE[0] - 4, bottom), (COMMUTATOR[1], end)),
    ):
        svg.shape(front, "path", d=path, stroke_linejoin="round")
    _back_end(drawn, top, bottom)
    for radius, turn in ((upper, top), (lower, bottom)):
        x, y = svg.polar(CENTRE, radius, turn)
        svg.shape(
            drawn, "rect", x=x - 6, y=y - 6, width=12, height=12, fill=svg.PAPER,
            stroke=svg.MARK, stroke_width=3,
        )  # fmt: skip
    for slot in winding.coil_slots(coil):
        _slot_number(drawn, winding, slot, marked=True, size=lettering.words)
    x, y = svg.polar(CENTRE, COIL_NAME_INSIDE if ringed else COIL_NAME, (top + bottom) / 2)
    rim = max(40.0, 0.29 * lettering.name * len(name))
    svg.haloed(drawn, min(max(x, rim), SIZE - rim), y + 5, name, font_size=lettering.name, fill=svg.MARK)


def _back_end(drawn: ET.Element, top: float, bottom: float) -> None:
    """The far end of the coil, hidden behind the core, so dashed."""
    sides = [(CORE[1] - 6, top), (BACK_END, top), (BACK_END, bottom), (CORE[0] + 20, bottom)]
    points = [svg.polar(CENTRE, *sides[0])]
    points += [svg.polar(CENTRE, BACK_END, top + (bottom - top) * n / 24) for n in range(25)]
    points.append(svg.polar(CENTRE, *sides[3]))
    path = "M" + " L".join(f"{svg.number(x)},{svg.number(y)}" for x, y in points)
    svg.shape(
        drawn, "path", d=path, fill="none", stroke=svg.MARK, stroke_width=2.5,
        stroke_dasharray="7 5",
    )  # fmt: skip


def _ring(view: ET.Element, winding: Winding, marks: Marks) -> None:
    ring = svg.group(view, "ring")
    x, y = CENTRE
    svg.shape(ring, "circle", cx=x, cy=y, r=RING, fill="none", stroke=svg.MODEL, stroke_dasharray="2 3")
    for reading in marks.ring:
        _ring_reading(ring, winding, reading, marks.ring_name)


def _ring_reading(ring: ET.Element, winding: Winding, reading: RingReading, name: str) -> None:
    turn = bar_turn(winding, reading.bar + 0.5)
    away = max(-1.0, min(1.0, (reading.ratio - 1) / RING_FULL))
    ends = sorted((RING, RING + away * RING_REACH))
    drawn = svg.group(ring, "ring-reading")
    svg.hint(drawn, f"{name} from bar {reading.bar}: {reading.ratio:.2f} of expected")
    (ax, ay), (bx, by) = svg.polar(CENTRE, ends[0], turn), svg.polar(CENTRE, ends[1] + 0.5, turn)
    odd = abs(reading.ratio - 1) >= MINIMUM_LABELLED
    svg.line(drawn, ax, ay, bx, by, stroke_width=5 if odd else 3, stroke=svg.INK)
    if odd:
        lx, ly = svg.polar(CENTRE, RING + (18 if away < 0 else -18), turn)
        svg.haloed(drawn, lx, ly + 4, f"{reading.ratio:.2f}", font_size=12)
