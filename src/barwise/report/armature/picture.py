"""One picture of a diagnosed armature: verdict, where the coil lies, what each reading says."""

from __future__ import annotations

from collections.abc import Sequence
from textwrap import wrap
from xml.etree import ElementTree as ET

from barwise.inspect.diagnosis import Diagnosis, Finding
from barwise.machine.winding import Winding
from barwise.report import svg
from barwise.report.armature.end_view import (
    SIZE,
    USUAL,
    Lettering,
    Marks,
    add_end_view,
    describe,
    picture_title,
)
from barwise.report.armature.fault_words import name_of, named_place, seen_at_in_words
from barwise.report.armature.reading_strips import LEFT, add_strip, strips
from barwise.report.probability import probability_in_words

LINE = 22.0
COLUMNS = 92


def armature_picture(winding: Winding, diagnosis: Diagnosis) -> str:
    """Picture of an armature as the text of an SVG file, 800 units wide.

    Above, the verdict and the armature from the commutator end with every fault of the most
    probable explanation drawn where it lies. Below, the readings of each test round the
    commutator against what that explanation expects.
    """
    blamed = _blamed(diagnosis)
    words = verdict_lines(winding, diagnosis)
    rows = strips(diagnosis.readings, diagnosis.expected, winding.bars, winding.slots)
    head = LINE * len(words) + 24
    height = head + SIZE + (LINE if rows else 0) + sum(row.height for row in rows) + 12
    marks = _marks(blamed, diagnosis)
    title = f"{picture_title(winding)}: {diagnosis.verdict}"
    root = svg.document(SIZE, height, title, f"{' '.join(words)} {describe(winding, marks)}")
    _header(root, words)
    add_end_view(svg.group(root, "seen", transform=f"translate(0 {head:.0f})"), winding, marks)
    _strips(root, winding, diagnosis, head + SIZE)
    return svg.written(root)


def armature_end_view(
    winding: Winding, diagnosis: Diagnosis, name: str = "end-view", lettering: Lettering = USUAL
) -> str:
    """The armature from the commutator end alone, for a page that says the verdict itself.

    `name` begins the ids of the drawing, so that a page can hold several.
    """
    marks = _marks(_blamed(diagnosis), diagnosis)
    root = svg.document(SIZE, SIZE, picture_title(winding), describe(winding, marks))
    add_end_view(root, winding, marks, lettering)
    return svg.written(svg.named(root, name))


def readings_picture(winding: Winding, diagnosis: Diagnosis, name: str = "readings") -> str:
    """The readings of each test round the commutator against what the model expects, alone."""
    rows = strips(diagnosis.readings, diagnosis.expected, winding.bars, winding.slots)
    height = LINE + sum(row.height for row in rows) + 12
    words = f"{len(diagnosis.readings)} readings in bar order, {len(diagnosis.suspects)} of them suspect."
    root = svg.document(SIZE, height, "Readings against what the model expects", words)
    _strips(root, winding, diagnosis, 0.0)
    return svg.written(svg.named(root, name))


def verdict_lines(winding: Winding, diagnosis: Diagnosis) -> list[str]:
    """The verdict, then a line for each fault blamed, wrapped to the picture's width."""
    verdict = {"sound": "Sound", "faulty": "Faulty", "undecided": "Undecided"}[diagnosis.verdict]
    blamed = _blamed(diagnosis)
    if not blamed:
        return wrap(
            f"{verdict}: these readings fit a sound armature, "
            f"{probability_in_words(diagnosis.sound_probability)}.",
            COLUMNS,
        )
    lines = [f"{verdict}: {_plural(len(blamed))}"]
    for finding in blamed:
        lines += wrap(_said(winding, finding), COLUMNS)
    return lines


def _strips(root: ET.Element, winding: Winding, diagnosis: Diagnosis, top: float) -> None:
    """Their key, and a strip for each test below one another."""
    rows = strips(diagnosis.readings, diagnosis.expected, winding.bars, winding.slots)
    if rows:
        _legend(root, top)
        top += LINE
    hatched = _hatched(winding, _blamed(diagnosis))
    for row in rows:
        add_strip(root, row, top, SIZE, suspects=diagnosis.suspects, hatched=hatched)
        top += row.height


def _plural(count: int) -> str:
    return "one fault" if count == 1 else f"{count} faults"


def _said(winding: Winding, finding: Finding) -> str:
    sure = probability_in_words(finding.probability)
    twice = seen_at_in_words(winding, finding)
    said = f"{name_of(finding.fault)}, {named_place(finding)}: {sure}"
    return f"{said}; {twice}." if twice else f"{said}."


def _blamed(diagnosis: Diagnosis) -> list[Finding]:
    """Faults of the most probable explanation; none when the armature is called sound."""
    if diagnosis.verdict == "sound":
        return []
    return [finding for finding in diagnosis.findings if finding.explanation == 1]


def _marks(blamed: Sequence[Finding], diagnosis: Diagnosis) -> Marks:
    doubt = "?" if diagnosis.verdict == "undecided" else ""
    coils = tuple(dict.fromkeys(f.coil for f in blamed if f.coil is not None))
    bridged = tuple(bar for f in blamed if f.coil is None for bar in f.bars)
    return Marks(coils, bridged, {coil: f"coil {coil}{doubt}" for coil in coils})


def _hatched(winding: Winding, blamed: Sequence[Finding]) -> list[tuple[int, str]]:
    return [
        (bar, "bridge" if finding.coil is None else f"coil {finding.coil}")
        for finding in blamed
        for bar in _pairs(winding, finding)
    ]


def _pairs(winding: Winding, finding: Finding) -> list[int]:
    """First bars of the neighbouring pairs between which the fault lies."""
    if finding.coil is None:
        return [finding.bars[0]]
    return [bar for bar in range(1, winding.bars + 1) if finding.coil in winding.coils_between(bar)]


def _header(root: ET.Element, words: Sequence[str]) -> None:
    for number, words_of_line in enumerate(words):
        first = number == 0
        svg.text(
            root, 20, 30 + LINE * number, words_of_line, font_size=20 if first else 15,
            font_weight="bold" if first else "normal",
        )  # fmt: skip


def _legend(root: ET.Element, top: float) -> None:
    y = top + 10
    key = svg.group(root, "key")
    svg.shape(key, "circle", cx=LEFT + 4, cy=y, r=3, fill=svg.INK)
    svg.text(key, LEFT + 14, y + 4, "reading", font_size=12)
    svg.line(key, LEFT + 78, y, LEFT + 94, y, stroke=svg.MODEL, stroke_width=2)
    svg.text(key, LEFT + 100, y + 4, "what the model expects", font_size=12)
    svg.shape(
        key, "circle", cx=LEFT + 284, cy=y, r=8, fill="none", stroke=svg.INK, stroke_width=2,
        stroke_dasharray="4 2",
    )  # fmt: skip
    svg.text(key, LEFT + 298, y + 4, "suspect reading, take it again", font_size=12)
    svg.shape(key, "rect", x=LEFT + 512, y=y - 7, width=14, height=14, fill="url(#hatch)")
    svg.text(key, LEFT + 532, y + 4, "the coil lies at these bars", font_size=12)
