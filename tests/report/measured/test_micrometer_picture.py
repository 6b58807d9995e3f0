"""The picture of a micrometer shows the lines that make the reading."""

from __future__ import annotations

from xml.etree import ElementTree as ET

import pytest

from barwise.measure.micrometer import Micrometer, ScaleReading
from barwise.report.measured.micrometer_picture import draw_micrometer

SVG = "{http://www.w3.org/2000/svg}"


def group(root: ET.Element, name: str) -> ET.Element:
    found = root.find(f".//{SVG}g[@class='{name}']")
    assert found is not None
    return found


def level_lines(part: ET.Element) -> list[float]:
    return [float(line.get("y1")) for line in part.iter(f"{SVG}line") if line.get("y1") == line.get("y2")]


@pytest.mark.parametrize("vernier", range(10))
def test_only_the_vernier_line_that_is_read_meets_a_thimble_line(vernier: int) -> None:
    """Derived: ten vernier lines span nine thimble lines, so one of them, or both noughts, meets."""
    root = ET.fromstring(draw_micrometer(ScaleReading(Micrometer("inch", 1), 2, 1, 13, vernier)))
    thimble = [line for line in level_lines(group(root, "thimble")) if line != 268.0 or vernier == 0]
    marks = level_lines(group(root, "vernier"))
    meeting = [place % 10 for place, y in enumerate(marks) if min(abs(y - t) for t in thimble) < 0.05]
    assert set(meeting) == {vernier}


def test_the_sleeve_shows_every_line_up_to_the_thimble_and_no_other() -> None:
    root = ET.fromstring(draw_micrometer(ScaleReading(Micrometer("metric"), 5, 1, 49, 9)))
    upright = [line for line in group(root, "sleeve").iter(f"{SVG}line") if line.get("x1") == line.get("x2")]
    assert len(upright) == 12
    numbers = [text.text for text in group(root, "sleeve").iter(f"{SVG}text")]
    assert numbers[:2] == ["0", "5"]


def test_the_picture_is_said_in_words_for_who_cannot_see_it() -> None:
    root = ET.fromstring(draw_micrometer(ScaleReading(Micrometer("inch", 1), 2, 1, 13, 5)))
    assert root.findtext(f"{SVG}title") == "Micrometer at 1.2385 in"
    said = root.findtext(f"{SVG}desc") or ""
    assert said.startswith("1-2 in micrometer: frame from 1, sleeve number 2")
    assert "vernier line 5" in said


def test_without_a_vernier_none_is_drawn() -> None:
    root = ET.fromstring(draw_micrometer(ScaleReading(Micrometer("inch", 0, vernier=False), 2, 1, 16)))
    assert root.find(f".//{SVG}g[@class='vernier']") is None
