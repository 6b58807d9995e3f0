"""``barwise micrometer``, ``barwise wear`` and ``barwise limit`` from the outside."""

from __future__ import annotations

import json
import shlex
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest

from barwise.cli.main import exit_code


def run(capsys: pytest.CaptureFixture[str], line: str) -> tuple[int, str, str]:
    code = exit_code(shlex.split(line))
    said = capsys.readouterr()
    return code, said.out, said.err


def answer(capsys: pytest.CaptureFixture[str], line: str) -> dict:
    code, out, err = run(capsys, f"{line} --json")
    assert (code, err) == (0, "")
    return json.loads(out)


def test_a_reading_is_shown_as_the_lines_that_make_it(capsys) -> None:
    code, out, _ = run(capsys, "micrometer 1.2385 in")
    assert code == 0
    assert out.startswith("1-2 in micrometer at 1.2385 in")
    lines = answer(capsys, "micrometer '1.2385 in'")["lines"]
    assert lines == {"sleeve": 2, "after": 1, "thimble": 13, "vernier": 5}


def test_lines_are_read_as_the_reading_they_make(capsys) -> None:
    assert answer(capsys, "micrometer --sleeve 2 --after 3 --thimble 11 --vernier 2")["reading"] == 0.2862
    assert answer(capsys, "micrometer --sleeve 22 --thimble 36 --metric")["reading"] == 22.36


def test_a_likely_slip_is_asked_about_and_nothing_is_changed(capsys) -> None:
    _, out, _ = run(capsys, "micrometer 1.2635 in --expect 1.2385 --sd 0.002")
    assert "please look again" in out
    assert "one turn of the thimble too much" in out
    assert "nothing was changed" in out
    found = answer(capsys, "micrometer 1.2635 in --expect 1.2385 --sd 0.002")
    assert found["reading"] == 1.2635
    assert found["misread"]["ask"] is True
    assert found["misread"]["explanations"][0]["reading"] == pytest.approx(1.2385)


def test_a_reading_as_expected_is_not_asked_about(capsys) -> None:
    _, out, _ = run(capsys, "micrometer 31.457 mm --expect 1.2385in --sd 1thou")
    assert "it fits what was expected" in out


def test_a_picture_of_the_scales_is_written(capsys, tmp_path: Path) -> None:
    drawing = tmp_path / "micrometer.svg"
    code, out, _ = run(capsys, f"micrometer 1.2385 in --picture {drawing}")
    assert code == 0
    assert str(drawing) in out
    assert ET.parse(drawing).getroot().tag.endswith("svg")


def test_wear_says_what_the_shops_own_reckoning_says(capsys) -> None:
    """Common practice, no source: half-worn 1.0750 in, discard 1.0630 in, measured 1.0785 in."""
    line = "wear 1.0785 in --half-worn 1.0750 --discard 1.0630"
    _, out, _ = run(capsys, line)
    assert out.startswith("35.4 % worn at 1.0785 in")
    assert "at 1.0870 in, extrapolated" in out
    assert "at 1.0750 in: 0.0035 in to go" in out
    found = answer(capsys, line)
    assert found["percent"] == pytest.approx(35.41667, abs=1e-4)
    assert found["marks"]["half-worn"]["room"] == pytest.approx(0.0035)
    assert found["marks"]["new"]["size"] == pytest.approx(1.0870)


def test_wear_gives_an_interval_and_the_cuts_left(capsys) -> None:
    line = "wear 1.0785 in --at 0=1.0870 --discard '1.0630 in (27.00 mm)' --u 0.0001 --removal '3 thou'"
    found = answer(capsys, line)
    assert found["low"] < found["percent"] < found["high"]
    assert found["cuts_left"]["whole"] == 5
    assert found["extrapolated"] is None


def test_wear_past_discard_is_said_with_the_number(capsys) -> None:
    _, out, _ = run(capsys, "wear 1.220 in --new 1.250 --discard 1.226")
    assert out.startswith("125.0 % worn")
    assert "past discard: scrap by this sheet" in out


def test_a_value_near_its_limit_is_undecided_and_told_what_settles_it(capsys) -> None:
    line = "limit 1.6472 in --lower 1.6470 --resolution 0.0001 --repeatability 0.0002"
    _, out, _ = run(capsys, line)
    assert out.startswith("undecided: 1.64720 in against at least 1.64700 in")
    assert "3 readings in all" in out
    found = answer(capsys, line)
    assert found["would_settle"]["as"] == "accept"
    assert found["would_settle"]["repeats"] == 3
    assert found["probability_conforming"] + found["probability_nonconforming"] == pytest.approx(1)
    assert answer(capsys, f"{line} --repeats 3")["decision"] == "accept"


def test_repeated_readings_bring_their_own_spread(capsys) -> None:
    found = answer(capsys, "limit 1.0631 1.0630 1.0634 in --lower 1.0630")
    assert found["repeats"] == 3
    assert found["value"] == pytest.approx(1.063167, abs=1e-6)
    assert found["components"]["repeatability"] == pytest.approx(0.00020817 / 3**0.5, rel=1e-4)
    assert 2 < found["degrees_of_freedom"] < 3


def test_a_single_reading_is_told_what_its_uncertainty_leaves_out(capsys) -> None:
    _, out, _ = run(capsys, "limit 1.2385 in --lower 1.226")
    assert out.startswith("accept: ")
    assert "only the scale's step is counted" in out


def test_limits_that_look_like_a_lost_digit_are_asked_about(capsys) -> None:
    assert "does the sheet miss a digit?" in run(capsys, "limit 0.03 in --lower 0.02 --upper 0.31")[1]


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("limit 0.03 in --upper '0.00197 in (0.5 mm)'", "found 0.00197 in and 0.5 mm"),
        ("limit 1.2 in", "neither lower nor upper"),
        ("limit 1.2 in --lower 2 --upper 1", "swapped"),
        ("limit 1.2 --lower 1", "without a unit"),
        ("limit x --lower 1", "value: found 'x'"),
        ("limit 1.2 in --lower 1 --level 2", "level: found 2.0"),
        ("limit 1.2 in --lower 1 --u 0.1 --calibration 0.1", "--u or its parts"),
        ("limit 1.2 1.3 in --lower 1 --repeats 4", "repeats: found 2 values"),
        ("wear 1.07 in --half-worn 1.06", "found 1 points, expected two or more"),
        ("wear 1.07 in --half-worn 1.0 --discard 1.06", "expected the more worn one to be smaller"),
        ("wear 1.07 in --new 1.1 --at 5", "--at: found '5'"),
        ("wear 1.07 in --new 1.1 --discard 1.0 --removal 0", "removal: found 0"),
        ("wear 1.07 in --new 1.1 --discard 1.0 --level 1", "--level: found 1.0"),
        ("micrometer", "either a reading"),
        ("micrometer 7 in", "expected 0 to 6 in"),
        ("micrometer 1.2385 in --frame 0", "expected within a 0-1 in micrometer"),
        ("micrometer 1.2385 in --expect 1.2", "go together"),
        ("micrometer --sleeve 2 --after 4", "expected a whole number from 0 to 3"),
        ("micrometer 1.23855 in", "lies between its lines 1.2385 and 1.2386"),
    ],
)
def test_bad_input_is_refused_in_one_line(capsys, line: str, says: str) -> None:
    code, out, err = run(capsys, line)
    assert (code, out) == (2, "")
    assert says in err
    assert err.count("\n") == 1
