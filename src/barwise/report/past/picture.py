"""Pictures of the shop's history: units of a model in a row of dots, shares with their doubt, a drift.

No meaning is in colour alone: a rejected unit is a cross, the unit in question a large diamond with its name.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from textwrap import wrap
from xml.etree import ElementTree as ET

from barwise.inspect.checks.wording import number
from barwise.measure.proportion import Proportion
from barwise.record.past.instruments_drift import InstrumentSeen
from barwise.record.past.models_read import CheckRead, UnitRead
from barwise.report import svg
from barwise.report.past.words import OWN, drift_in_words, share_in_words, this_one_in_words, usual_in_words

WIDTH, SIDE = 640.0, 30.0
_BINS = 64
_DOT = 4.2


@dataclass(frozen=True)
class _Axis:
    low: float
    high: float

    def at(self, value: float) -> float:
        share = (value - self.low) / (self.high - self.low)
        return SIDE + min(max(share, 0.0), 1.0) * (WIDTH - 2 * SIDE)


def values_picture(read: CheckRead, mine: UnitRead | None = None) -> str:
    """Every unit of a model on one line, with the limits, what is usual, and the one in question marked."""
    axis = _axis(read, mine)
    columns = _columns(read, mine, axis)
    high = max((len(some) for some in columns.values()), default=1)
    foot = 96.0 + 2 * _DOT * high
    words = [usual_in_words(read) + "."] + ([] if mine is None else [this_one_in_words(read, mine)])
    title = f"{read.station.title}: {read.check.title}"
    root = svg.document(WIDTH, foot + 62, title, " ".join(words))
    _usual_band(root, read, axis, foot)
    _limits(root, read, axis, foot)
    svg.line(root, SIDE, foot, WIDTH - SIDE, foot, stroke=svg.QUIET, stroke_width=1.5)
    for column, units in columns.items():
        for row, one in enumerate(units):
            _unit(root, one, SIDE + column * (WIDTH - 2 * SIDE) / _BINS, foot - 8 - 2 * _DOT * row)
    _scale(root, read, axis, foot)
    if mine is not None:
        _marked(root, read, mine, axis.at(mine.value), foot)
    return svg.written(root)


def shares_picture(title: str, rows: Sequence[tuple[str, Proportion]]) -> str:
    """Shares one below the other, each with its doubt as a bar."""
    left, right, step = 210.0, 190.0, 34.0
    words = "; ".join(f"{label}: {share_in_words(found)}" for label, found in rows)
    root = svg.document(WIDTH, 40 + step * max(len(rows), 1), title, words or "Nothing yet.")

    def at(share: float) -> float:
        return left + share * (WIDTH - left - right)

    for share in (0.0, 0.5, 1.0):
        svg.line(root, at(share), 26, at(share), 34 + step * len(rows), stroke=svg.FAINT)
        svg.text(
            root, at(share), 18, f"{100 * share:.0f} %", text_anchor="middle", fill=svg.QUIET, font_size=12
        )
    for row, (label, found) in enumerate(rows):
        y = 46 + step * row
        _label(root, label, left - 10, y + 4)
        svg.text(root, WIDTH - right + 10, y + 4, share_in_words(found), font_size=12)
        if found.value is not None:
            svg.line(
                root, at(found.low), y, at(found.high), y, stroke=svg.MODEL, stroke_width=7, opacity=0.35
            )
            svg.shape(root, "circle", cx=at(found.value), cy=y, r=5, fill=svg.MODEL)
    return svg.written(root)


def _label(root: ET.Element, label: str, x: float, y: float) -> None:
    """In one line, or in two smaller ones; what is longer still is cut."""
    look: dict[str, str | float] = {"text_anchor": "end", "translate": "no"}
    if len(label) < 30:
        svg.text(root, x, y, label, **look)
        return
    first, *more = wrap(label, 33)
    second = more[0] if len(more) < 2 else f"{more[0][:31]}…"
    for line, up in ((first, -7), (second if more else "", 6)):
        svg.text(root, x, y + up, line, font_size=11.5, **look)


def drift_picture(seen: InstrumentSeen) -> str:
    """The slow average of an instrument's readings between the bounds of chance."""
    high, top, bottom = 240.0, 40.0, 200.0
    root = svg.document(WIDTH, high, "Drift of this instrument", drift_in_words(seen))
    chart = seen.chart
    if not seen.readings:
        svg.text(root, SIDE, 30, "Nothing to hold its readings against yet.", fill=svg.QUIET)
        return svg.written(root)
    most = 1.15 * max(float(abs(chart.average).max()), float(chart.bound.max()))
    middle = (top + bottom) / 2

    def place(index: int, value: float) -> str:
        x = 60 + index * (WIDTH - 60 - SIDE) / max(len(seen.readings) - 1, 1)
        return f"{svg.number(x)},{svg.number(middle - value / most * (bottom - top) / 2)}"

    for sign, word in ((1, "above the dashes it reads high"), (-1, "below the dashes it reads low")):
        steps = " ".join(place(i, sign * float(bound)) for i, bound in enumerate(chart.bound))
        svg.shape(root, "polyline", points=steps, fill="none", stroke=svg.MARK, stroke_dasharray="7 4")
        beside = top - 16 if sign > 0 else bottom + 4
        svg.text(root, 60, beside, word, font_size=12)
    svg.line(root, 60, middle, WIDTH - SIDE, middle, stroke=svg.FAINT)
    svg.text(root, 52, middle + 4, "as others", text_anchor="end", fill=svg.QUIET, font_size=11)
    steps = " ".join(place(i, float(value)) for i, value in enumerate(chart.average))
    svg.shape(root, "polyline", points=steps, fill="none", stroke=svg.MODEL, stroke_width=2.5)
    for index, value in enumerate(chart.average):
        if chart.beyond[index]:
            x, y = place(index, float(value)).split(",")
            svg.shape(root, "circle", cx=x, cy=y, r=4, fill="none", stroke=svg.MARK, stroke_width=2)
    for index in (0, len(seen.readings) - 1):
        at = seen.readings[index].at
        x = place(index, 0.0).split(",")[0]
        anchor = "start" if index == 0 else "end"
        svg.text(
            root,
            float(x),
            high - 12,
            f"{at.day} {at:%b %Y}",
            text_anchor=anchor,
            fill=svg.QUIET,
            font_size=12,
        )
    return svg.written(root)


def _axis(read: CheckRead, mine: UnitRead | None) -> _Axis:
    marks = [one.value for one in read.units] + ([] if mine is None else [mine.value])
    if read.usual is not None:
        marks += [read.usual.low, read.usual.high]
    if read.limit is not None:
        allowed = read.limit.allowed
        marks += (
            [] if allowed is None else [side for side in (allowed.lower, allowed.upper) if side is not None]
        )
        marks += [] if read.limit.target is None else [read.limit.target]
    low, high = min(marks, default=0.0), max(marks, default=1.0)
    room = 0.06 * (high - low) or abs(high) * 0.05 or 1.0
    return _Axis(low - room, high + room)


def _columns(read: CheckRead, mine: UnitRead | None, axis: _Axis) -> dict[int, list[UnitRead]]:
    """Units in columns of like values, so that no dot hides another."""
    found: dict[int, list[UnitRead]] = {}
    width = (WIDTH - 2 * SIDE) / _BINS
    for one in read.units:
        if mine is None or one.job_id != mine.job_id:
            found.setdefault(round((axis.at(one.value) - SIDE) / width), []).append(one)
    return found


def _unit(root: ET.Element, one: UnitRead, x: float, y: float) -> None:
    if one.decision == "reject":
        mark = svg.group(root, "rejected", stroke=svg.MARK, stroke_width=2)
        reach = _DOT - 0.8
        svg.line(mark, x - reach, y - reach, x + reach, y + reach, stroke=svg.MARK)
        svg.line(mark, x - reach, y + reach, x + reach, y - reach, stroke=svg.MARK)
    else:
        mark = svg.shape(root, "circle", cx=x, cy=y, r=_DOT - 0.6, fill=svg.MODEL)
    svg.hint(mark, f"{one.unit_tag}, job {one.job_number}: {one.decision}", typed=True)


def _usual_band(root: ET.Element, read: CheckRead, axis: _Axis, foot: float) -> None:
    if read.usual is None:
        return
    low, high = axis.at(read.usual.low), axis.at(read.usual.high)
    svg.shape(root, "rect", x=low, y=44, width=high - low, height=foot - 44, fill=svg.IRON)
    svg.text(root, (low + high) / 2, 38, f"usual, {OWN}", text_anchor="middle", font_size=12, fill=svg.QUIET)


def _limits(root: ET.Element, read: CheckRead, axis: _Axis, foot: float) -> None:
    allowed = None if read.limit is None else read.limit.allowed
    sides = () if allowed is None else (("at least", allowed.lower), ("at most", allowed.upper))
    for word, side in sides:
        if side is not None:
            x = axis.at(side)
            svg.line(root, x, 24, x, foot + 6, stroke=svg.MARK, stroke_width=2)
            anchor = "start" if x < WIDTH / 2 else "end"
            said = f"{word} {number(side, read.unit)}"
            svg.text(root, x, 18, said, text_anchor=anchor, font_size=12, fill=svg.MARK)


def _scale(root: ET.Element, read: CheckRead, axis: _Axis, foot: float) -> None:
    values = sorted(one.value for one in read.units)
    if not values:
        svg.text(root, SIDE, foot - 12, "No unit of this model was read here yet.", fill=svg.QUIET)
        return
    ends = [(values[0], "start"), (values[-1], "end")] if values[0] < values[-1] else [(values[0], "middle")]
    for value, anchor in ends:
        said = number(value, read.unit)
        svg.text(root, axis.at(value), foot + 20, said, text_anchor=anchor, font_size=12, fill=svg.QUIET)


def _marked(root: ET.Element, read: CheckRead, mine: UnitRead, x: float, foot: float) -> None:
    y, reach = foot, 9.0
    corners = f"{x - reach},{y} {x},{y - reach} {x + reach},{y} {x},{y + reach}"
    svg.shape(root, "polygon", points=corners, fill=svg.PAPER, stroke=svg.INK, stroke_width=2.5)
    anchor = "start" if x < WIDTH * 0.3 else "end" if x > WIDTH * 0.7 else "middle"
    said = f"this one: {number(mine.value, read.unit)}"
    svg.text(root, x, foot + 44, said, text_anchor=anchor, font_weight="bold", font_size=14)
