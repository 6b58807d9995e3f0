"""The shaft seen from the side, its bend drawn large, and from its end: which way each place is off."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from xml.etree import ElementTree as ET

import numpy as np
from numpy.typing import NDArray

from barwise.inspect.checks import Json, Outcome
from barwise.inspect.shaft.judgement import Place, ShaftAnswer
from barwise.measure.units import UNITS, Unit, printed
from barwise.report import svg
from barwise.report.paragraphs import wrapped
from barwise.report.parts.shaft import ALONG_DIGIT_M, bend_in_words

_SHARES = {"drive end": 0.0, "1/4": 0.25, "1/2": 0.5, "3/4": 0.75, "comm. end": 1.0}
"""Places of the bench's check, as a share of the way between the journals."""

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Layout:
    """Where things stand: the whole, the side view (left, top, width, height), the middle of the end view."""

    width: float
    height: float
    side: tuple[float, float, float, float]
    end: tuple[float, float]
    radius: float
    small: float
    told: bool


WIDE = Layout(900.0, 460.0, (70.0, 140.0, 480.0, 190.0), (735.0, 235.0), 115.0, 13.0, True)
NARROW = Layout(480.0, 560.0, (56.0, 40.0, 368.0, 170.0), (240.0, 410.0), 100.0, 16.0, False)
"""For a column of the bench, where verdict and words stand above the picture already."""


@dataclass(frozen=True)
class DrawnPlace:
    """One place along the shaft: `at` and `where` it stands, how far off and which way [m], its swing [m]."""

    name: str
    where: str
    at: float
    offset_m: Array
    doubt_m: Array
    runout_m: float


@dataclass(frozen=True)
class DrawnShaft:
    """What is drawn; places along it in any unit, the same for all.

    `line` is the fitted shape, n rows of place and the two parts of its offset [m]; `bend` is where it is
    kinked: lowest, likeliest and highest place, None where it is not.
    """

    headline: str
    words: str
    journals: tuple[float, float]
    places: tuple[DrawnPlace, ...]
    line: Array | None
    high_deg: float
    bend: tuple[float, float, float] | None
    unit: Unit
    ends: tuple[str, str] = ("journal", "journal")


def draw(answer: ShaftAnswer) -> svg.Picture:
    """Picture of the answer as the text of an SVG file, 900 units wide."""
    unit, bow = answer.work.unit, answer.bow
    kinked = bow is not None and bow.place is not None and bow.shapes[0][0] == "kinked"
    place = bow.place if bow is not None and kinked else None
    shaft = DrawnShaft(
        headline=answer.verdict.capitalize(),
        words=bend_in_words(answer) or "Run-out at each place.",
        journals=answer.work.journals_m,
        places=tuple(
            _of_answer(one, unit) for one in sorted(answer.places, key=_along) if one.offset is not None
        ),
        line=None if bow is None else bow.line,
        high_deg=0.0 if bow is None else bow.high_deg,
        bend=None if place is None else (place.low, place.best, place.high),
        unit=unit,
    )
    return svg.written(_drawn(shaft, WIDE))


def bend_picture(title: str, outcome: Outcome) -> svg.Picture | None:
    """The bench's check in the same picture; None where no place was read all round."""
    shaft = _of_check(title, outcome)
    return None if shaft is None else svg.written(svg.named(_drawn(shaft, NARROW), "shaft"))


def _along(one: Place) -> float:
    return one.reading.at_m


def _of_answer(one: Place, unit: Unit) -> DrawnPlace:
    inch = unit.name in ("in", "thou")
    factor, named, decimals = (0.0254, "in", 2) if inch else (1e-3, "mm", 1)
    assert not inch or math.isclose(factor * 10**-decimals, ALONG_DIGIT_M)
    offset = one.offset
    assert offset is not None  # only such places are drawn
    where = f"{one.reading.at_m / factor:.{decimals}f} {named}"
    return DrawnPlace(
        one.reading.name,
        where,
        one.reading.at_m,
        offset.offset_m,
        np.sqrt(np.maximum(0.0, np.diag(offset.covariance_m2))),
        one.runout.value,
    )


def _of_check(title: str, outcome: Outcome) -> DrawnShaft | None:
    known = outcome.details
    offsets, doubts, line = (known.get(key) for key in ("off_centre_m", "off_uncertainty_m", "line"))
    if not (isinstance(offsets, Mapping) and isinstance(doubts, Mapping) and isinstance(line, list | tuple)):
        return None
    shapes, at = known.get("shape"), known.get("bend_at")
    first = next(iter(shapes), "") if isinstance(shapes, Mapping) else ""
    bend = at if first == "kinked" and isinstance(at, list | tuple) else None
    swings = _swings(known.get("places"))
    places = [
        DrawnPlace(name, "", _SHARES[name], _pair(pair), np.full(2, _number(doubts.get(name))), swings[name])
        for name, pair in offsets.items()
        if name in _SHARES and name in swings
    ]
    return DrawnShaft(
        headline=outcome.decision.capitalize() if outcome.decision != "noted" else "Noted",
        words=outcome.line.removeprefix(f"{title}: "),
        journals=(0.0, 1.0),
        places=tuple(sorted(places, key=lambda one: one.at)),
        line=np.array(line, dtype=np.float64),
        high_deg=_number(known.get("high_deg")),
        bend=None if bend is None else (_number(bend[0]), _number(bend[1]), _number(bend[2])),
        unit=UNITS[outcome.unit] if outcome.unit in UNITS else UNITS["mm"],
        ends=("drive end", "comm. end"),
    )


def _swings(places: Json) -> dict[str, float]:
    listed = places if isinstance(places, list | tuple) else ()
    found = {}
    for one in listed:
        at = one.get("place") if isinstance(one, Mapping) else None
        if isinstance(one, Mapping) and isinstance(at, list | tuple) and at:
            found[str(at[0])] = _number(one.get("value"))
    return found


def _pair(found: Json) -> Array:
    both = found if isinstance(found, list | tuple) else (0.0, 0.0)
    return np.array([_number(one) for one in both[:2]], dtype=np.float64)


def _number(found: Json) -> float:
    return float(found) if isinstance(found, int | float) else 0.0


def _drawn(shaft: DrawnShaft, layout: Layout) -> ET.Element:
    root = svg.document(layout.width, layout.height, "Run-out along the shaft", _described(shaft))
    if layout.told:
        svg.text(root, 20, 32, shaft.headline, font_size=20, font_weight="bold")
        for row, line in enumerate(wrapped(shaft.words, further="")[:3]):
            svg.text(root, 20, 56 + 20 * row, line, font_size=15)
    _side(svg.group(root, "side"), shaft, layout)
    _end(svg.group(root, "end"), shaft, layout)
    return root


def _described(shaft: DrawnShaft) -> str:
    each = [f"{one.name}: run-out {_size(one.runout_m, shaft.unit)}" for one in shaft.places]
    return f"{shaft.words} {'; '.join(each)}."


def _size(value_m: float, unit: Unit) -> str:
    return f"{value_m / unit.factor:.3g} {printed(unit.name)}"


def _side(parent: ET.Element, shaft: DrawnShaft, layout: Layout) -> None:
    """The plane of the bend: along the shaft to the right, off centre upwards."""
    left, top, width, height = layout.side
    small = layout.small
    if shaft.line is None:
        svg.text(parent, left, top + height / 2, "Only swings were read: no direction to draw.", font_size=15)
        return
    way = math.radians(shaft.high_deg)
    along = np.array([math.cos(way), math.sin(way)])
    ends = [*shaft.journals, *(one.at for one in shaft.places)]
    low, high = min(ends), max(ends)
    heights = shaft.line[:, 1:] @ along
    largest = max(_largest(shaft), float(np.abs(heights).max()), 1e-7)
    middle, scale = top + height / 2, 0.38 * height / largest

    def at(z: float) -> float:
        return left + width * (z - low) / (high - low)

    if shaft.bend is not None:
        _bend(parent, (at(shaft.bend[0]), at(shaft.bend[1]), at(shaft.bend[2])), layout)
    svg.line(parent, left, middle, left + width, middle, stroke=svg.QUIET, stroke_dasharray="6 5")
    points = zip(shaft.line[:, 0].tolist(), heights.tolist(), strict=True)
    path = " ".join(f"{at(z):.1f},{middle - scale * y:.1f}" for z, y in points)
    bent = {"fill": "none", "stroke_linecap": "round"}
    svg.shape(parent, "polyline", points=path, stroke=svg.QUIET, stroke_width=14, **bent)
    svg.shape(parent, "polyline", points=path, stroke=svg.COPPER, stroke_width=11, **bent)
    for journal, end in zip(shaft.journals, shaft.ends, strict=True):
        x = at(journal)
        svg.text(parent, x, middle + 52, end, text_anchor="middle", font_size=small)
        corners = f"{x},{middle + 8} {x - 14},{middle + 34} {x + 14},{middle + 34}"
        svg.shape(parent, "polygon", points=corners, fill=svg.IRON, stroke=svg.INK)
    for number, one in enumerate(shaft.places, start=1):
        off, doubt = float(one.offset_m @ along), float(np.hypot(*(one.doubt_m * along)))
        x, y = at(one.at), middle - scale * off
        svg.line(parent, x, y - 2 * scale * doubt, x, y + 2 * scale * doubt, stroke_width=2)
        svg.shape(parent, "circle", cx=x, cy=y, r=5, fill=svg.MODEL)
        svg.haloed(parent, x, top + height + 22, str(number), font_size=small + 1)
        svg.haloed(parent, x, y - 14, _size(one.runout_m, shaft.unit), font_size=small)
    words = f"Run-out at each place; the highest is {_size(largest, shaft.unit)} off centre"
    svg.text(parent, 20 if not layout.told else left, top - 14, words, font_size=small, fill=svg.QUIET)
    _names(parent, shaft, top + height + 52, small)


def _bend(parent: ET.Element, place: tuple[float, float, float], layout: Layout) -> None:
    """Where the bend lies, from, most likely and to: hatched, with a line and in words."""
    low, best, high = place
    left, top, across, height = layout.side
    width = max(high - low, 6.0)
    svg.shape(parent, "rect", x=low, y=top, width=width, height=height, fill="url(#hatch)", stroke=svg.MARK)
    svg.line(parent, best, top, best, top + height, stroke=svg.MARK, stroke_width=2)
    x = min(max(best, left + 60), left + across - 60)
    svg.haloed(parent, x, top + height - 6, "bend lies here", font_size=layout.small, fill=svg.MARK)


def _names(parent: ET.Element, shaft: DrawnShaft, top: float, small: float) -> None:
    said = [
        f"{number}: {one.name}{f', {one.where}' if one.where else ' of the way' if '/' in one.name else ''}"
        for number, one in enumerate(shaft.places, start=1)
    ]
    for row, line in enumerate(wrapped("; ".join(said), further="")):
        svg.text(parent, 20, top + 18 * row, line, font_size=small)


def _end(parent: ET.Element, shaft: DrawnShaft, layout: Layout) -> None:
    """Seen from the end the angles count from: the mark on top, angles clockwise."""
    (x, y), radius, small = layout.end, layout.radius, layout.small
    largest = max(_largest(shaft), 1e-7)
    svg.shape(parent, "circle", cx=x, cy=y, r=radius, fill="none", stroke=svg.FAINT)
    svg.shape(parent, "circle", cx=x, cy=y, r=radius / 2, fill="none", stroke=svg.FAINT)
    for angle in (0, 90, 180, 270):
        spot = svg.polar(layout.end, radius + 16, angle / 360)
        words = f"{angle}°{' (mark)' if angle == 0 else ''}"
        svg.text(parent, spot[0], spot[1] + 5, words, text_anchor="middle", font_size=small, fill=svg.QUIET)
    for number, one in enumerate(shaft.places, start=1):
        size = float(np.hypot(*one.offset_m))
        turn = math.atan2(one.offset_m[1], one.offset_m[0]) / (2 * math.pi)
        spot = svg.polar(layout.end, radius * size / largest, turn)
        svg.line(parent, x, y, *spot, stroke=svg.MODEL, stroke_width=1.5)
        svg.shape(parent, "circle", cx=spot[0], cy=spot[1], r=5, fill=svg.MODEL)
        svg.haloed(parent, spot[0] + 10, spot[1] - 8, str(number), font_size=small + 1)
    words = f"outer ring: {_size(largest, shaft.unit)} off centre"
    svg.text(parent, x, y + radius + 46, words, text_anchor="middle", font_size=small, fill=svg.QUIET)


def _largest(shaft: DrawnShaft) -> float:
    return max((float(np.hypot(*one.offset_m)) for one in shaft.places), default=0.0)
