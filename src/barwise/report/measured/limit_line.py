"""The limit line: what is allowed, where the reading lies, how far it may be off, and the decision as a word.

What lies beyond a limit is hatched, the reading is a dot, its uncertainty a band of two standard
uncertainties to each side, every single reading a tick. Read at several places (four brushes), each place
has its own line. The scale is logarithmic where it would hide one end otherwise (1 Mohm against 500).
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from xml.etree import ElementTree as ET

from barwise.inspect.checks import Json, Outcome, Taken
from barwise.inspect.checks.wording import number
from barwise.report import svg

WIDTH, LEFT, RIGHT = 480.0, 18.0, 18.0
HEAD, LANE, FOOT = 34.0, 78.0, 34.0
BAND = 2.0
"""Standard uncertainties to each side: about 95 % of what a normal distribution allows."""
MOST_SPAN = 20.0
"""Above this ratio of the largest to the smallest number the scale is logarithmic."""
FAR = 4.0
"""A reading further out than this many widths of the limits is drawn at the edge, with an arrow."""
LIMIT_WORDS = {"lower": "at least", "upper": "at most", "target": "target"}
QUIET = "#56504a"


@dataclass(frozen=True)
class OnLine:
    """One place on the line: its name, measured value, standard uncertainty, single readings, decision."""

    place: str
    value: float
    uncertainty: float
    readings: tuple[float, ...]
    decision: str


@dataclass(frozen=True)
class LimitLine:
    """What is drawn; all in SI, shown in `unit` to the digit `digit`.

    `name` sets the ids of its words apart where a page shows two pictures.
    """

    title: str
    unit: str
    digit: float
    limit_unit: str
    lower: float | None
    upper: float | None
    target: float | None
    places: tuple[OnLine, ...]
    name: str = "limit-line"


def limit_line_of(title: str, outcome: Outcome, readings: Sequence[Taken]) -> LimitLine | None:
    """The line of an outcome that was held against a limit, with the readings it came from.

    Returns
    -------
    LimitLine or None
        None where there is no limit, or nothing was measured.

    Examples
    --------
    >>> limit_line_of("Shaft run-out", Outcome("not taken", ""), ()) is None
    True
    """
    details = outcome.details
    lower, upper = _float(details.get("lower")), _float(details.get("upper"))
    if outcome.value is None or (lower is None and upper is None):
        return None
    return LimitLine(
        title=title,
        unit=outcome.unit,
        digit=min((one.last_digit for one in readings if one.last_digit > 0), default=0.0),
        limit_unit=str(details.get("limit_unit") or outcome.unit),
        lower=lower,
        upper=upper,
        target=_float(details.get("target")),
        # What was worked out stands on another scale than what was read for it.
        places=_places(outcome, () if details.get("worked_out") else readings),
    )


def draw(line: LimitLine) -> str:
    """The picture as SVG text, without style attributes, with title and description for a screen reader."""
    height = HEAD + LANE * len(line.places) + FOOT
    root = svg.document(WIDTH, height, line.title, described(line))
    _own_ids(root, line.name)
    scale = _scale(line)
    _beyond(root, line, scale, height)
    _sides(root, line, scale, height)
    for row, place in enumerate(line.places):
        _lane(root, line, place, scale, HEAD + LANE * row)
    return svg.written(root)


def described(line: LimitLine) -> str:
    """The picture in words: what is allowed, and for each place value, band and decision."""
    bounds = [
        f"{LIMIT_WORDS[side]} {_in_limit_unit(line, value)}"
        for side, value in (("lower", line.lower), ("upper", line.upper), ("target", line.target))
        if value is not None
    ]
    said = [f"Allowed: {', '.join(bounds)}."]
    for place in line.places:
        which = f"{place.place}: " if place.place else ""
        band = band_in_words(line, place)
        said.append(f"{which}{value_in_words(line, place)}, give or take {band}: {place.decision}.")
    if _scale(line).logarithmic:
        said.append("The scale is logarithmic.")
    return " ".join(said)


def value_in_words(line: LimitLine, place: OnLine) -> str:
    """The measured value with its unit; a mean of several deserves a digit more than each of them."""
    return number(place.value, line.unit, line.digit / (10 if len(place.readings) > 1 else 1))


def band_in_words(line: LimitLine, place: OnLine) -> str:
    """How far the value may be off to each side, with its unit: `BAND` standard uncertainties."""
    return half_width_in_words(BAND * place.uncertainty, line.unit, line.digit)


def half_width_in_words(half_width: float, unit: str, digit: float) -> str:
    """An uncertainty [SI] to a digit below the last one read, and to two figures where it is finer than that.

    Examples
    --------
    >>> half_width_in_words(5.8e3, "Mohm", 1e6), half_width_in_words(5.8e5, "Mohm", 1e6)
    ('0.0058 Mohm', '0.6 Mohm')
    """
    if half_width > 0 and digit > 0 and half_width < digit / 10:
        digit = 10.0 ** math.floor(math.log10(half_width))
    return number(half_width, unit, digit / 10)


@dataclass(frozen=True)
class _Scale:
    """Turns a value [SI] into a distance from the left edge."""

    low: float
    high: float
    logarithmic: bool

    def at(self, value: float) -> float:
        low, high, here = self.low, self.high, min(max(value, self.low), self.high)
        if self.logarithmic:
            low, high, here = math.log(low), math.log(high), math.log(here)
        return LEFT + (WIDTH - LEFT - RIGHT) * (here - low) / (high - low)


def _scale(line: LimitLine) -> _Scale:
    sides = [side for side in (line.lower, line.upper, line.target) if side is not None]
    ends = [place.value + sign * BAND * place.uncertainty for place in line.places for sign in (-1, 1)]
    ends += [value for place in line.places for value in place.readings]
    low, high = min(*sides, *ends), max(*sides, *ends)
    if low > 0 and high / low > MOST_SPAN:
        return _Scale(low / 3, high * 3, logarithmic=True)
    width = max(sides) - min(sides) or abs(max(sides)) or 1.0
    low, high = max(low, min(sides) - FAR * width), min(high, max(sides) + FAR * width)
    margin = 0.18 * (high - low or width)
    return _Scale(low - margin, high + margin, logarithmic=False)


def _beyond(root: ET.Element, line: LimitLine, scale: _Scale, height: float) -> None:
    """Hatch what is not allowed."""
    style: dict[str, str | float] = {
        "y": HEAD,
        "height": height - HEAD - FOOT,
        "fill": f"url(#{line.name}-hatch)",
    }
    if line.lower is not None:
        svg.shape(root, "rect", x=0, width=scale.at(line.lower), **style)
    if line.upper is not None:
        start = scale.at(line.upper)
        svg.shape(root, "rect", x=start, width=WIDTH - start, **style)


def _sides(root: ET.Element, line: LimitLine, scale: _Scale, height: float) -> None:
    """The limits as thick strokes, the target as a dashed one, each with its number below."""
    for side, value in (("lower", line.lower), ("upper", line.upper), ("target", line.target)):
        if value is None:
            continue
        x = scale.at(value)
        dashes: dict[str, str | float] = {"stroke_dasharray": "3 6"} if side == "target" else {}
        svg.line(root, x, HEAD - 6, x, height - FOOT + 6, stroke=svg.INK, stroke_width=3, **dashes)
        words = f"{LIMIT_WORDS[side]} {_in_limit_unit(line, value)}"
        # Two limits far apart point away from each other, so that their words never meet.
        low, base = side == "target", height - 9
        _fitted(root, x, HEAD - 12 if low else base, words, _anchor(line, side))


def _anchor(line: LimitLine, side: str) -> str:
    if line.lower is None or line.upper is None:
        return "middle"
    return {"lower": "end", "upper": "start"}.get(side, "middle")


def _lane(root: ET.Element, line: LimitLine, place: OnLine, scale: _Scale, top: float) -> None:
    middle = top + 52
    ink = svg.DECIDED.get(place.decision, svg.INK)
    svg.line(root, LEFT, middle, WIDTH - RIGHT, middle, stroke=QUIET, stroke_width=1.5)
    low = scale.at(place.value - BAND * place.uncertainty)
    high = scale.at(place.value + BAND * place.uncertainty)
    svg.shape(
        root, "rect", x=low, y=middle - 11, width=max(high - low, 2.0), height=22,
        fill=svg.PAPER, stroke=ink, stroke_width=2.5,
    )  # fmt: skip
    for reading in place.readings if len(place.readings) > 1 else ():
        x = scale.at(reading)
        svg.line(root, x, middle + 12, x, middle + 22, stroke=svg.INK, stroke_width=2)
    x = scale.at(place.value)
    svg.decision_mark(root, place.decision, x, middle)
    _arrow_if_outside(root, place.value, scale, x, middle, ink)
    which = f"{place.place}: " if place.place else ""
    words = f"{which}{value_in_words(line, place)}, {place.decision}"
    _fitted(root, x, middle - 22, words, "middle", size=21, bold=True)


def _arrow_if_outside(
    root: ET.Element, value: float, scale: _Scale, x: float, middle: float, ink: str
) -> None:
    if scale.low <= value <= scale.high:
        return
    way = 1 if value > scale.high else -1
    tip = x + way * 20
    points = f"{tip:g},{middle:g} {x + way * 10:g},{middle - 10:g} {x + way * 10:g},{middle + 10:g}"
    svg.shape(root, "polygon", points=points, fill=ink)


def _fitted(
    root: ET.Element, x: float, y: float, words: str, anchor: str, *, size: float = 17, bold: bool = False
) -> None:
    """Words at `x`, moved so that they stay inside the picture, on a rim of paper."""
    width = (0.68 if bold else 0.6) * size * len(words)  # of the widest of the fonts asked for
    start = {"start": x, "middle": x - width / 2, "end": x - width}[anchor]
    start = min(max(start, 6.0), max(WIDTH - width - 6, 6.0))
    look: dict[str, str | float] = {"font_size": size, "text_anchor": "middle"}
    if bold:
        svg.haloed(root, start + width / 2, y, words, **look)
    else:
        svg.text(root, start + width / 2, y, words, **look)


def _places(outcome: Outcome, readings: Sequence[Taken]) -> tuple[OnLine, ...]:
    listed = outcome.details.get("places")
    places = [one for one in listed if isinstance(one, Mapping)] if isinstance(listed, Sequence) else []
    if not places and outcome.value is not None:
        single = tuple(one.value for one in readings if one.value is not None)
        return (OnLine("", outcome.value, outcome.uncertainty or 0.0, single, outcome.decision),)
    found = [_place(one, readings) for one in places]
    return tuple(sorted(found, key=lambda one: (len(one.place), one.place)))


def _place(details: Mapping[str, Json], readings: Sequence[Taken]) -> OnLine:
    listed = details.get("place")
    at = tuple(str(word) for word in listed) if isinstance(listed, Sequence) else ()
    values = tuple(one.value for one in readings if one.value is not None and (not at or one.place == at))
    value, uncertainty = _float(details.get("value")), _float(details.get("uncertainty"))
    return OnLine(", ".join(at), value or 0.0, uncertainty or 0.0, values, str(details.get("decision")))


def _own_ids(root: ET.Element, name: str) -> None:
    """Ids that no other picture of the page has."""
    for part in root.iter():
        if "id" in part.attrib:
            part.set("id", part.attrib["id"].replace("picture", name).replace("hatch", f"{name}-hatch"))
    root.set("aria-labelledby", f"{name}-title {name}-description")


def _in_limit_unit(line: LimitLine, value: float) -> str:
    return number(value, line.limit_unit)


def _float(value: Json) -> float | None:
    return float(value) if isinstance(value, int | float) else None
