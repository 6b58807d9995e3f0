"""The limit line as a picture: what is drawn, where, and what it says without being seen."""

from __future__ import annotations

import re
from xml.etree import ElementTree as ET

import pytest

from barwise.inspect.checks import Evidence, Limit, Outcome, Taken
from barwise.inspect.checks.limits import dimension
from barwise.measure.decision import Limit as Allowed
from barwise.measure.units import UNITS
from barwise.report.measured.limit_line import LimitLine, described, draw, limit_line_of

SVG = "{http://www.w3.org/2000/svg}"


def line_of(
    entered: list[str], unit: str, lower: float | None = None, upper: float | None = None
) -> LimitLine:
    """Entered as ``place:number`` or as ``number``."""
    factor = UNITS[unit].factor
    readings = []
    for one in entered:
        place, _, number = one.rpartition(":")
        readings.append(Taken(float(number) * factor, number, unit, (place,) if place else ()))
    sides = [None if side is None else side * factor for side in (lower, upper)]
    limit = Limit("made", Allowed(*sides), unit, "made up")
    outcome = dimension(Evidence(tuple(readings), limit, what="Made", quantity="length", unit=unit))
    line = limit_line_of("Made", outcome, readings)
    assert line is not None
    return line


def hatched(picture: ET.Element) -> list[tuple[float, float]]:
    rects = [one for one in picture.iter(f"{SVG}rect") if "hatch" in one.get("fill", "")]
    return [(float(one.get("x")), float(one.get("x")) + float(one.get("width"))) for one in rects]


def bands(picture: ET.Element) -> list[tuple[float, float]]:
    rects = [one for one in picture.iter(f"{SVG}rect") if one.get("stroke")]
    return [(float(one.get("x")), float(one.get("x")) + float(one.get("width"))) for one in rects]


def test_a_rejected_reading_lies_in_the_hatched_part_and_an_accepted_one_outside_of_it() -> None:
    for number, inside in (("1.2421", False), ("1.2200", True)):
        picture = ET.fromstring(draw(line_of([number], "in", lower=1.226)))
        ((start, end),), ((low, high),) = hatched(picture), bands(picture)
        assert (start <= low and high <= end) is inside
        assert (low >= end) is not inside


def test_the_band_of_an_undecided_reading_crosses_its_limit() -> None:
    picture = ET.fromstring(draw(line_of(["0.0020", "0.0021", "0.0019"], "in", upper=0.002)))
    ((start, _),), ((low, high),) = hatched(picture), bands(picture)
    assert low < start < high


def test_both_sides_are_hatched_where_both_are_limited() -> None:
    picture = ET.fromstring(draw(line_of(["0.041"], "in", 0.03, 0.05)))
    (left, right), ((low, high),) = hatched(picture), bands(picture)
    assert left[1] < low < high < right[0]


def test_each_place_has_its_own_line_in_order() -> None:
    words = described(line_of([f"{place}:{12 - place / 2}" for place in range(1, 12)], "mm", lower=10.5))
    assert re.findall(r"(\d+): ", words) == [str(place) for place in range(1, 12)]
    assert "1: 11.5 mm" in words
    assert "11: 6.5 mm, give or take 0.06 mm: reject" in words


@pytest.mark.parametrize("number", ["1.2421", "1.2260", "1.2200"])
def test_the_picture_says_in_words_what_it_shows(number: str) -> None:
    line = line_of([number], "in", lower=1.226)
    picture = ET.fromstring(draw(line))
    named = picture.get("aria-labelledby").split()
    found = {one.get("id"): one.text for one in picture.iter() if one.get("id") in named}
    assert list(found) == named
    assert found["limit-line-title"] == "Made"
    assert "at least 1.226 in" in found["limit-line-description"]
    assert line.places[0].decision in found["limit-line-description"]
    seen = " ".join(one.text or "" for one in picture.iter(f"{SVG}text"))
    assert f"{number} in, {line.places[0].decision}" in seen


def test_the_mark_of_each_decision_has_a_shape_of_its_own() -> None:
    shapes = set()
    for number in ("1.2421", "1.2260", "1.2200"):
        group = ET.fromstring(draw(line_of([number], "in", lower=1.226)))
        filled = [one for one in group if one.get("fill", "").startswith("#") and one.tag != f"{SVG}text"]
        shapes.add(filled[-1].tag)
    assert shapes == {f"{SVG}circle", f"{SVG}polygon", f"{SVG}rect"}


def test_nothing_is_drawn_outside_of_the_picture_however_far_the_reading_is_out() -> None:
    for number in ("0.0005", "1.9", "1900", "0.050"):
        picture = ET.fromstring(draw(line_of([number], "in", 0.03, 0.05)))
        places = [float(one.get("x")) for one in picture.iter() if one.get("x")]
        assert min(places) >= 0
        assert max(places) <= float(picture.get("width"))


def test_one_end_does_not_hide_behind_the_other_when_they_are_far_apart() -> None:
    line = line_of(["900"], "Mohm", lower=5)
    picture = ET.fromstring(draw(line))
    ((_, end),), ((low, _),) = hatched(picture), bands(picture)
    assert end > 0.1 * float(picture.get("width"))
    assert low > end
    assert "logarithmic" in described(line)


def test_the_strict_content_policy_has_nothing_to_forbid_in_it() -> None:
    text = draw(line_of(["1.2421"], "in", lower=1.226))
    assert not re.search(r"\sstyle=|<style|<script|\son\w+=|href=", text)


def test_two_pictures_on_one_page_have_no_id_in_common() -> None:
    one = line_of(["1.2421"], "in", lower=1.226)
    other = LimitLine(**{**vars(one), "name": "other"})
    ids = [re.findall(r'\bid="([^"]+)"', draw(line)) for line in (one, other)]
    assert len(ids[0]) == 3
    assert not set(ids[0]) & set(ids[1])


def test_there_is_no_picture_without_a_limit_or_without_a_reading() -> None:
    assert limit_line_of("x", Outcome("not taken", "x"), ()) is None
    assert limit_line_of("x", Outcome("undecided", "x", value=1.0, unit="in"), ()) is None
