"""Switch, drive and shaft drawn: what is wrong is seen by word and hatch; each check draws its own part."""

from __future__ import annotations

import re
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest

from barwise.files.drive_file import load_drive
from barwise.files.shaft_file import load_shaft
from barwise.files.switch_file import load_switch
from barwise.inspect.checks import Outcome
from barwise.inspect.drive.judgement import judge_drive
from barwise.inspect.shaft.judgement import judge_shaft
from barwise.inspect.switch.judgement import judge_switch
from barwise.report import svg
from barwise.report.parts import drive_picture, shaft_picture, switch_picture
from barwise.report.parts.check_picture import check_pictures

PARTS = Path(__file__).parents[3] / "examples/parts"
SVG = f"{{{svg.NAMESPACE}}}"


def words(picture: str) -> str:
    return " ".join(part.text or "" for part in ET.fromstring(picture).iter(f"{SVG}text"))


def hatched(picture: str) -> int:
    fills = [part.get("fill", "") for part in ET.fromstring(picture).iter()]
    return sum(fill.startswith("url(#") for fill in fills)


def description(picture: str) -> str:
    (found,) = ET.fromstring(picture).iter(f"{SVG}desc")
    return found.text or ""


def test_the_switch_shows_which_winding_is_off_in_words_and_hatch() -> None:
    picture = switch_picture.draw(judge_switch(load_switch(PARTS / "switch.toml")))
    said = words(picture)
    assert "hold-in winding 16 A, reject turns shorted" in said
    assert "pull-in winding 37 A, accept" in said
    assert "1.8 mm left to press them together: accept" in said
    assert hatched(picture) == 1
    assert "Likeliest: turns of the hold-in winding shorted" in description(picture)


def test_the_drive_numbers_each_finding_and_its_part() -> None:
    picture = drive_picture.draw(judge_drive(load_drive(PARTS / "drive.toml")))
    said = words(picture)
    assert "51 % worn" in said
    assert "0.32 mm of flank gone" in said
    numbered = re.findall(r"\b(\d) +(Pinion|Clutch|Spline|Return spring|Lever)", said)
    assert [number for number, _ in numbered] == [str(place) for place in range(1, 10)]


def test_the_shaft_shows_its_run_out_at_each_place_and_where_the_bend_lies() -> None:
    picture = shaft_picture.draw(judge_shaft(load_shaft(PARTS / "shaft.toml")))
    said = words(picture)
    assert "bend lies here" in said
    assert "4.94 thou" in said
    assert "2: core, drive end, 2.60 in" in said
    assert hatched(picture) == 1


def outcome(**details: object) -> Outcome:
    return Outcome("reject", "", value=0.02, uncertainty=0.001, quantity="length", unit="in", details=details)  # type: ignore[arg-type]


BENT = {
    "off_centre_m": {"1/4": [1e-5, 0.0], "1/2": [2e-5, 0.0]},
    "off_uncertainty_m": {"1/4": 1e-6, "1/2": 1e-6},
    "line": [[0.0, 0.0, 0.0], [0.5, 2e-5, 0.0], [1.0, 0.0, 0.0]],
    "places": [{"place": ["1/4"], "value": 2e-5}, {"place": ["1/2"], "value": 4e-5}],
    "shape": {"kinked": 0.9, "bowed": 0.1},
    "bend_at": [0.4, 0.5, 0.6],
    "high_deg": 0.0,
}
FAULT = {"fault": "pull-in open", "words": "pull-in winding open", "probability": 0.9}


@pytest.mark.parametrize(
    ("details", "said"),
    [
        (BENT, "bend lies here"),
        ({**BENT, "shape": {"straight": 0.9}}, "drive end"),
        ({"explanations": [FAULT], "winding": "pull-in"}, "pull-in winding 0.02 in, reject open"),
        ({"travel_m": 0.011, "touches_m": 0.010}, "left to press them together: reject"),
        ({"travel_m": 0.011, "touches_m": 0.013}, "left to press them together: reject"),
        ({"worn_percent": 140.0, "flank_lost_m": 3e-4}, "140 % worn"),
        ({"pull": "60 lbf", "arm": "12 in", "came": "slipped"}, "slipped: reject"),
    ],
)
def test_each_check_draws_its_own_part(details: dict[str, object], said: str) -> None:
    (picture,) = check_pictures("Check", outcome(**details), ())
    assert said in words(picture)
    assert description(picture)


def test_what_is_half_known_draws_nothing() -> None:
    for details in (
        {"off_centre_m": {}},
        {"explanations": []},
        {"touches_m": 0.01},
        {"travel_m": 0.0, "touches_m": 0.01},
        {"arm": "12 in"},
        {},
    ):
        assert check_pictures("Check", outcome(**details), ()) == ()
