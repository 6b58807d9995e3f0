"""Readings in bar order against what the model expects, one strip for each test and feed.

A reading is a dot, what the model expects a short line, a suspect reading is ringed and named, and
the places where a suspect coil lies between the probes are hatched. A lamp or blade reading is a
square, filled where it was lit or buzzing.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from xml.etree import ElementTree as ET

from barwise.inspect.diagnosis import SuspectReading
from barwise.machine.feed import Feed
from barwise.measure.readings import Reading, Test
from barwise.report import svg

LEFT, RIGHT = 66.0, 16.0
TITLE, PLOT, AXIS = 40.0, 100.0, 30.0
LAMP_PLOT = 26.0
MOST_NAMES = 4
"""More suspect names than this on one strip hide each other; the rings stay."""

TITLES: dict[Test, str] = {
    "drop": "Drop, direct current",
    "resistance": "Resistance",
    "induced": "Induced on the exciter",
    "ground": "To the shaft",
    "shaft-drop": "Drop to the shaft",
    "blade": "Blade on the exciter, by slot",
}
BETWEEN_BARS: frozenset[Test] = frozenset({"drop", "induced", "resistance"})
SIGNED: frozenset[Test] = frozenset({"shaft-drop"})
PREFIXES = ((1e6, "M"), (1e3, "k"), (1.0, ""), (1e-3, "m"), (1e-6, "µ"))


@dataclass(frozen=True)
class Strip:
    """Readings of one test with one feed, what was expected of each, and which are suspect."""

    test: Test
    feed: Feed | None
    readings: tuple[Reading, ...]
    expected: tuple[float | None, ...]
    places: int

    @property
    def lamps(self) -> bool:
        """Whether there are only states (dark, lit, quiet, buzz) to show."""
        return all(reading.value is None for reading in self.readings)

    @property
    def height(self) -> float:
        """Height it takes in a drawing."""
        return TITLE + (LAMP_PLOT if self.lamps else PLOT) + AXIS


@dataclass(frozen=True)
class Scale:
    """Turns a value [V or ohm] into a height; `factor` and `unit` are for the labels."""

    low: float
    high: float
    top: float
    factor: float
    unit: str

    def at(self, value: float) -> float:
        """Distance from the top of the drawing."""
        share = (value - self.low) / (self.high - self.low)
        return self.top + PLOT * (1 - max(0.0, min(1.0, share)))


def strips(
    readings: Sequence[Reading], expected: Sequence[float | None], bars: int, slots: int | None
) -> tuple[Strip, ...]:
    """Sort readings into strips, in the order in which the tests were taken."""
    sorted_out: dict[tuple[Test, Feed | None], list[tuple[Reading, float | None]]] = {}
    for reading, model in zip(readings, expected, strict=True):
        sorted_out.setdefault((reading.test, reading.feed), []).append((reading, model))
    return tuple(
        Strip(
            test,
            feed,
            tuple(reading for reading, _ in rows),
            tuple(model for _, model in rows),
            _places(test, bars, slots, [reading for reading, _ in rows]),
        )
        for (test, feed), rows in sorted_out.items()
    )


def add_strip(
    parent: ET.Element,
    strip: Strip,
    top: float,
    width: float,
    *,
    suspects: Sequence[SuspectReading] = (),
    hatched: Sequence[tuple[int, str]] = (),
) -> None:
    """Draw one strip with its upper edge at `top`.

    Parameters
    ----------
    parent : Element
    strip : Strip
    top, width : float
    suspects : sequence of SuspectReading
        Those that are not in this strip are passed over.
    hatched : sequence of (int, str)
        First bars of the pairs between which a suspect coil lies, and its name.
    """
    drawn = svg.group(parent, f"strip {strip.test}")
    svg.text(drawn, LEFT, top + 18, _title(strip), font_size=14, font_weight="bold")
    svg.text(
        drawn, width - RIGHT, top + 18, _remark(strip), font_size=12, text_anchor="end",
        fill=svg.QUIET,
    )  # fmt: skip
    ceiling = top + TITLE
    if strip.test in BETWEEN_BARS and not strip.lamps and _all_neighbours(strip):
        _hatching(drawn, strip, ceiling, width, hatched)
    if strip.lamps:
        _lamps(drawn, strip, ceiling, width)
        _places_axis(drawn, strip, ceiling + LAMP_PLOT, width)
        return
    scale = _scale(strip, ceiling)
    _value_axis(drawn, scale, width)
    _places_axis(drawn, strip, ceiling + PLOT, width)
    _dots(drawn, strip, scale, width)
    _suspects(drawn, strip, scale, width, suspects)


def _places(test: Test, bars: int, slots: int | None, readings: Sequence[Reading]) -> int:
    if test != "blade":
        return bars
    return max(slots or 1, *(reading.start for reading in readings))


def _title(strip: Strip) -> str:
    title = TITLES[strip.test]
    if strip.test not in BETWEEN_BARS:
        return title
    return title + (", each bar to the next" if _all_neighbours(strip) else ", by first bar")


def _remark(strip: Strip) -> str:
    """What one must know to read the strip: how it was fed and what the signs of it mean."""
    remarks = []
    if strip.feed is not None:
        feed = strip.feed
        remarks.append(f"{feed.amps:g} A in at bar {feed.into}, out at bar {feed.out}")
    if any((r.value or 0) < 0 for r in strip.readings) and strip.test not in SIGNED:
        remarks.append("open dots: minus")
    if strip.lamps:
        key = {
            "lit": "filled: lit",
            "buzz": "filled: buzz",
            "dark": "open: dark",
            "quiet": "open: quiet",
        }
        remarks += sorted({key[reading.state] for reading in strip.readings if reading.state})
    return "; ".join(remarks)


def _all_neighbours(strip: Strip) -> bool:
    return all(
        reading.end is not None and (reading.end - reading.start) % strip.places == 1
        for reading in strip.readings
    )


def _x(strip: Strip, place: float, width: float) -> float:
    """Bars are whole numbers; a reading to the next bar stands between the two."""
    return LEFT + (place - 0.5) / (strip.places + 0.5) * (width - LEFT - RIGHT)


def _reading_x(strip: Strip, reading: Reading, width: float) -> float:
    between = 0.5 if strip.test in BETWEEN_BARS else 0.0
    return _x(strip, reading.start + between, width)


def _shown(strip: Strip, value: float) -> float:
    return value if strip.test in SIGNED else abs(value)


def _scale(strip: Strip, top: float) -> Scale:
    values = [_shown(strip, r.value) for r in strip.readings if r.value is not None]
    values += [_shown(strip, model) for model in strip.expected if model is not None]
    low, high = min(0.0, *values, 0.0), max(0.0, *values, 0.0)
    if high == low:
        high = low + 1.0
    reach = max(abs(low), abs(high))
    factor, prefix = next((p for p in PREFIXES if reach >= p[0] / 2), PREFIXES[-1])
    unit = "Ω" if strip.test in ("resistance", "ground") else "V"
    margin = 0.08 * (high - low)
    return Scale(low - margin if low < 0 else 0.0, high + margin, top, factor, prefix + unit)


def _value_axis(drawn: ET.Element, scale: Scale, width: float) -> None:
    for value in _round_numbers(scale.low / scale.factor, scale.high / scale.factor):
        y = scale.at(value * scale.factor)
        svg.line(drawn, LEFT, y, width - RIGHT, y, stroke=svg.FAINT, stroke_width=0.7)
        svg.text(
            drawn, LEFT - 8, y + 4, f"{value:g}", font_size=12, text_anchor="end", fill=svg.QUIET
        )  # fmt: skip
    svg.text(drawn, 8, scale.top - 8, scale.unit, font_size=12, fill=svg.QUIET)


def _round_numbers(low: float, high: float) -> list[float]:
    """Three to six round numbers between `low` and `high`."""
    raw, size = (high - low) / 4, 1.0
    while size > raw:
        size /= 10
    while size * 10 <= raw:
        size *= 10
    step = next(size * n for n in (1, 2, 5, 10) if size * n >= raw)
    first = int(low / step) - 1
    marks = (step * (first + n) for n in range(12))
    return [round(mark, 12) for mark in marks if low <= mark <= high]


def _places_axis(drawn: ET.Element, strip: Strip, y: float, width: float) -> None:
    svg.line(drawn, LEFT, y, width - RIGHT, y, stroke=svg.QUIET)
    every = next(n for n in (1, 2, 5, 10, 20, 50, 1000) if strip.places / n <= 33)
    for place in range(1, strip.places + 1):
        x = _x(strip, place, width)
        named = place == 1 or place % every == 0
        svg.line(drawn, x, y, x, y + (6 if named else 3), stroke=svg.QUIET)
        if named:
            svg.text(
                drawn, x, y + 18, str(place), font_size=12, text_anchor="middle", fill=svg.QUIET
            )  # fmt: skip
    word = "slot" if strip.test == "blade" else "bar"
    svg.text(drawn, LEFT - 8, y + 18, word, font_size=12, text_anchor="end", fill=svg.QUIET)


def _hatching(
    drawn: ET.Element, strip: Strip, top: float, width: float, hatched: Sequence[tuple[int, str]]
) -> None:
    half = max(4.0, 0.4 * (width - LEFT - RIGHT) / (strip.places + 0.5))
    for bar, name in hatched:
        x = _x(strip, bar + 0.5, width)
        svg.shape(
            drawn, "rect", x=x - half, y=top, width=2 * half, height=PLOT, fill="url(#hatch)",
        )  # fmt: skip
        svg.haloed(drawn, x, top - 3, name, font_size=12, fill=svg.MARK)


def _dots(drawn: ET.Element, strip: Strip, scale: Scale, width: float) -> None:
    half = max(3.0, min(9.0, 0.38 * (width - LEFT - RIGHT) / strip.places))
    for reading, model in zip(strip.readings, strip.expected, strict=True):
        x = _reading_x(strip, reading, width)
        if model is not None:
            y = scale.at(_shown(strip, model))
            svg.line(drawn, x - half, y, x + half, y, stroke=svg.MODEL, stroke_width=2)
        if reading.value is None:
            continue
        other_way = reading.value < 0 and strip.test not in SIGNED
        dot = svg.shape(
            drawn, "circle", cx=x, cy=scale.at(_shown(strip, reading.value)), r=3,
            fill=svg.PAPER if other_way else svg.INK, stroke=svg.INK, stroke_width=1.2,
        )  # fmt: skip
        svg.hint(dot, _hint(reading, model, scale))


def _hint(reading: Reading, model: float | None, scale: Scale) -> str:
    end = "shaft" if reading.end is None else f"bar {reading.end}"
    words = f"bar {reading.start} to {end}: {(reading.value or 0) / scale.factor:.4g} {scale.unit}"
    if model is None:
        return words
    return f"{words}, model expects {model / scale.factor:.4g} {scale.unit}"


def _suspects(
    drawn: ET.Element,
    strip: Strip,
    scale: Scale,
    width: float,
    suspects: Sequence[SuspectReading],
) -> None:
    mine = [s for s in suspects if s.reading in strip.readings and s.reading.value is not None]
    for count, suspect in enumerate(mine):
        reading = suspect.reading
        x, y = _reading_x(strip, reading, width), scale.at(_shown(strip, reading.value or 0.0))
        svg.shape(
            drawn, "circle", cx=x, cy=y, r=8, fill="none", stroke=svg.INK, stroke_width=2,
            stroke_dasharray="4 2",
        )  # fmt: skip
        if count < MOST_NAMES:
            _name_beside(drawn, x, y, _short_name(suspect), width)


def _short_name(suspect: SuspectReading) -> str:
    reading = suspect.reading
    end = "shaft" if reading.end is None else str(reading.end)
    return f"{reading.start} to {end}: {suspect.reason.split(';')[0].split(',')[0]}"


def _name_beside(drawn: ET.Element, x: float, y: float, name: str, width: float) -> None:
    left = x > width / 2
    svg.haloed(
        drawn, x - 12 if left else x + 12, y + 4, name, font_size=12,
        text_anchor="end" if left else "start",
    )  # fmt: skip


def _lamps(drawn: ET.Element, strip: Strip, top: float, width: float) -> None:
    size = max(4.0, min(12.0, 0.7 * (width - LEFT - RIGHT) / strip.places))
    for reading in strip.readings:
        x, struck = _reading_x(strip, reading, width), reading.state in ("lit", "buzz")
        lamp = svg.shape(
            drawn, "rect", x=x - size / 2, y=top + 11 - size / 2, width=size, height=size,
            fill=svg.INK if struck else svg.PAPER, stroke=svg.INK, stroke_width=1.2,
        )  # fmt: skip
        place = "slot" if strip.test == "blade" else "bar"
        svg.hint(lamp, f"{place} {reading.start}: {reading.state}")
