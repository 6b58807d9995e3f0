"""`barwise brushes`, `switch` and `drive` as they are called, on the invented examples and on bad input."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from barwise.cli.main import exit_code

PARTS = Path(__file__).parents[2] / "examples" / "parts"
Capture = pytest.CaptureFixture[str]
COMMANDS = ("brushes", "switch", "drive")


def answer(capsys: Capture, command: str, path: Path | None = None) -> dict[str, object]:
    assert exit_code([command, str(path or PARTS / f"{command}.toml"), "--json"]) == 0
    out, err = capsys.readouterr()
    assert err == ""
    return dict(json.loads(out))


def changed(tmp_path: Path, command: str, *changes: tuple[str, str]) -> Path:
    text = (PARTS / f"{command}.toml").read_text(encoding="utf-8")
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new)
    there = tmp_path / f"{command}.toml"
    there.write_text(text, encoding="utf-8")
    return there


@pytest.mark.parametrize(
    ("command", "verdict"), [("brushes", "reject"), ("switch", "reject"), ("drive", "accept")]
)
def test_the_example_is_judged_in_words_and_as_json_alike(
    capsys: Capture, command: str, verdict: str
) -> None:
    got = answer(capsys, command)
    assert got["verdict"] == verdict
    assert exit_code([command, str(PARTS / f"{command}.toml")]) == 0
    out, err = capsys.readouterr()
    assert err == ""
    assert out.startswith(verdict.upper())
    assert "Take care" in out
    assert max(len(line) for line in out.splitlines()) <= 96


def test_the_example_switch_names_its_shorted_winding_and_its_chance(capsys: Capture) -> None:
    got = answer(capsys, "switch")
    first = got["diagnosis"]["explanations"][0]  # type: ignore[index]
    assert first["fault"] == "hold-in turns shorted"
    assert 0.9 < first["probability"] < 1


def test_starts_or_kilometres_serve_as_the_measure_of_use(capsys: Capture, tmp_path: Path) -> None:
    starts = answer(capsys, "brushes")["life"]
    by_km = changed(tmp_path, "brushes", ("starts = [9000, 14000]", "kilometres = [90000, 140000]"))
    distance = answer(capsys, "brushes", by_km)["life"]
    assert (starts["unit"], distance["unit"]) == ("starts", "km")  # type: ignore[index]
    assert distance["middle"] == pytest.approx(10 * starts["middle"])  # type: ignore[index]


def test_without_any_measure_of_use_the_life_is_a_multiple_of_it(capsys: Capture, tmp_path: Path) -> None:
    unknown = changed(tmp_path, "brushes", ("starts = [9000, 14000]", ""), ("to_come = 6000", ""))
    assert answer(capsys, "brushes", unknown)["life"]["unit"] == "times the use so far"  # type: ignore[index]


def test_a_missing_temperature_widens_the_answer_and_is_said(capsys: Capture, tmp_path: Path) -> None:
    known = answer(capsys, "switch")["windings"][0]["at_reference"]  # type: ignore[index]
    unread = answer(capsys, "switch", changed(tmp_path, "switch", ('temperature = "75 °F"\n', "\n")))
    wide = unread["windings"][0]["at_reference"]  # type: ignore[index]
    assert wide["standard_uncertainty"] > 2 * known["standard_uncertainty"]
    assert "temperature of the windings was not read" in " ".join(unread["notes"])  # type: ignore[arg-type]


def test_an_open_winding_is_an_answer_and_no_bad_input(capsys: Capture, tmp_path: Path) -> None:
    for written in ('amps = "0.00 A"', 'resistance = "open"'):
        old = 'volts = "10.0 V"\namps = "36.4 A"'
        new = written if written.startswith("res") else f'volts = "10.0 V"\n{written}'
        got = answer(capsys, "switch", changed(tmp_path, "switch", (old, new)))
        faults = [one["fault"] for one in got["diagnosis"]["explanations"][:1]]  # type: ignore[index]
        assert faults == ["pull-in open"]


BAD = [
    (
        "brushes",
        'length = "0.604 in"',
        'length = "long"',
        "line 29, key brush 2.length",
        "a length with its unit",
    ),
    ("brushes", 'length = "0.604 in"', "length = nan", "line 29", "in quotation marks"),
    ("brushes", 'length = "0.604 in"', 'length = "nan in"', "line 29", "a length with its unit"),
    ("brushes", 'length = "0.604 in"', 'length = "0.604 V"', "line 29", "a unit of voltage"),
    ("brushes", 'length = "0.604 in"', 'length = "0.604"', "line 29", "without a unit"),
    ("brushes", 'length = "0.604 in"', 'length = "-0.604 in"', "line 29", "more than 0 in"),
    ("brushes", 'length = "0.604 in"', "length = []", "line 29", "at least one reading"),
    ("brushes", "count = 4", "count = 5", "line 3, key brushes.count", "4 [[brush]] tables, expected 5"),
    ("brushes", "count = 4", "count = 3", "line 3", "expected 3"),
    ("brushes", "count = 4", "count = true", "line 3", "a whole number"),
    (
        "brushes",
        'minimum_length = "0.400 in"',
        'minimum_length = "0.800 in"',
        "line 5",
        "below the new length",
    ),
    (
        "brushes",
        'spring = ["32 ozf", "48 ozf"]',
        'spring = ["48 ozf", "32 ozf"]',
        "line 19",
        "the smaller one",
    ),
    ("brushes", "starts = [9000, 14000]", "starts = [14000, 9000]", "line 12", "starts = [3500, 4500]"),
    ("brushes", "starts = [9000, 14000]", "starts = 0", "line 12", "a number above 0"),
    ("brushes", "starts = [9000, 14000]", "starts = nan", "line 12", "a number from 0"),
    ("brushes", "starts = [9000, 14000]", "", "key use.to_come", "with it: hours"),
    ("brushes", "to_come = 6000", "hours = 5", "key use.", "one measure of use"),
    ("brushes", 'seated = "90 %"', 'seated = "190 %"', "line 25", "100 % or less"),
    ("brushes", 'read_at = "brush"', 'read_at = "bush"', "line 16", "nearest: brush"),
    ("brushes", 'read_at = "brush"', 'scale_arm = "30 mm"', "key spring.scale_arm", "brush_arm with it"),
    ("brushes", 'moves = "sticks"', 'move = "sticks"', "an unknown key", "nearest: moves"),
    ("switch", 'amps = "36.4 A"', 'amps = "thirty"', "key reading 1.amps", "a current with its unit"),
    ("switch", 'amps = "36.4 A"', 'amps = "nan A"', "key reading 1.amps", "a current with its unit"),
    ("switch", 'amps = "36.4 A"', 'amps = "36.4 V"', "key reading 1.amps", "a unit of voltage"),
    ("switch", 'amps = "36.4 A"', 'amps = "-36.4 A"', "key reading 1.amps", "0 A or more"),
    ("switch", 'amps = "36.4 A"', "", "key amps", "found nothing"),
    ("switch", 'volts = "10.0 V"', 'volts = "0 V"', "key reading 1.volts", "more than 0 V"),
    ("switch", 'path = "S to M"', 'path = "S to N"', "key reading 1.path", "nearest: S to M"),
    ("switch", 'current = "150 A"', 'current = "0 A"', "key contacts.current", "more than 0 A"),
    ("switch", '\ncurrent = "150 A"', "", "key contacts.drop", "contacts.current with it"),
    ("switch", 'drop = "0.062 V"', 'drop = "-0.062 V"', "key contacts.drop", "0 V or more"),
    ("switch", 'reference_voltage = "10 V"', "", "key limits.pull_in_current", "switch.reference_voltage"),
    (
        "switch",
        'temperature = "75 °F"',
        'temperature = "75 V"',
        "key switch.temperature",
        "a unit of voltage",
    ),
    ("switch", 'temperature = "75 °F"', 'temperature = "750 °F"', "key switch.temperature", "or less"),
    (
        "switch",
        'release_voltage = "1.4 V"',
        'release_voltage = "7.4 V"',
        "key moving.release_voltage",
        "swapped",
    ),
    ("switch", 'closes_at = "9.6 mm"', 'closes_at = "12 mm"', "key plunger.closes_at", "the whole travel"),
    (
        "drive",
        'minimum = "11.80 mm"',
        'minimum = "11.80 mm"\nnew = "11.00 mm"',
        "key pinion.minimum",
        "below",
    ),
    ("drive", "teeth = 9\n", 'teeth = "nine"\n', "key pinion.teeth", "a whole number"),
    ("drive", "spanned = 2 ", "spanned = 8 ", "key pinion.spanned", "at most 5 of 9"),
    ("drive", "spanned = 2 ", "#", "key pinion.span", "touch near the pitch circle"),
    ("drive", "shift = 0.5 ", "shift = nan ", "key pinion.shift", "a number from -1"),
    ("drive", 'held_arm = "20.0 in"', 'held_arm = "0 in"', "key clutch.held_arm", "more than 0 in"),
    ("drive", 'held_arm = "20.0 in"', "", "key clutch.held_pull", "held_arm with it"),
    ("drive", 'held_arm = "20.0 in"', 'held = "3 Nm"\nheld_arm = "2 in"', "key clutch.held", "held_pull and"),
    ("drive", 'drag = "4 lbf.in"', 'drag = "4 lbf"', "key clutch.drag", "a unit of force"),
    (
        "drive",
        'drag = "4 lbf.in"',
        'drag = "4 lbf.in"\nslipped = "9 Nm"',
        "key clutch.slipped",
        "one of them",
    ),
    (
        "drive",
        'chamfer = "1.4 mm"',
        'chamfer = "1,4 mm"',
        "key sizes.chamfer",
        "a decimal point, not a comma",
    ),
]


@pytest.mark.parametrize(("command", "old", "new", "where", "expected"), BAD)
def test_bad_input_ends_in_one_line_that_says_where_and_what_was_expected(
    capsys: Capture, tmp_path: Path, command: str, old: str, new: str, where: str, expected: str
) -> None:
    path = changed(tmp_path, command, (old, new))
    assert exit_code([command, str(path), "--json"]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert err.count("\n") == 1
    assert str(path) in err
    assert where in err
    assert expected in err


@pytest.mark.parametrize("command", COMMANDS)
@pytest.mark.parametrize("text", ["", "not toml at all", "x = 1", "[pinion]\n", "\N{SNOWMAN}"])
def test_a_file_that_holds_no_readings_is_refused(
    capsys: Capture, tmp_path: Path, command: str, text: str
) -> None:
    path = tmp_path / "part.toml"
    path.write_text(text, encoding="utf-8")
    assert exit_code([command, str(path)]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert err.startswith(str(path))
    assert "expected" in err


@pytest.mark.parametrize("command", COMMANDS)
def test_a_file_that_is_not_there_is_refused(capsys: Capture, tmp_path: Path, command: str) -> None:
    assert exit_code([command, str(tmp_path / "none.toml")]) == 2
    assert "no such file" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("command", "page"), [("brushes", "brush-gear"), ("switch", "switch"), ("drive", "drive")]
)
def test_the_page_of_the_documents_shows_what_the_command_says(
    capsys: Capture, command: str, page: str
) -> None:
    text = (PARTS.parents[1] / "docs" / f"{page}.md").read_text(encoding="utf-8")
    shown = text.partition(f"$ barwise {command} examples/parts/{command}.toml\n")[2].partition("\n```")[0]
    assert exit_code([command, str(PARTS / f"{command}.toml")]) == 0
    assert shown
    assert capsys.readouterr().out.startswith(shown)


def test_the_picture_of_the_brushes_shows_each_length_and_is_refused_without_any(
    capsys: Capture, tmp_path: Path
) -> None:
    drawn = tmp_path / "brushes.svg"
    assert exit_code(["brushes", str(PARTS / "brushes.toml"), "--picture", str(drawn)]) == 0
    words = drawn.read_text(encoding="utf-8")
    assert all(f"brush {number}: 0." in words for number in range(1, 5))
    assert "0.604 in" in words
    assert "style=" not in words
    bare = tmp_path / "bare.toml"
    bare.write_text('[brushes]\n[[brush]]\nmoves = "free"\n', encoding="utf-8")
    capsys.readouterr()
    assert exit_code(["brushes", str(bare), "--picture", str(drawn)]) == 2
    assert "no brush length" in capsys.readouterr().err
    assert exit_code(["brushes", str(PARTS / "brushes.toml"), "--picture", str(tmp_path)]) == 2


@pytest.mark.parametrize("command", ["switch", "drive", "shaft"])
def test_a_part_is_drawn_as_its_page_shows_it_and_a_path_that_cannot_be_written_is_named(
    capsys: Capture, tmp_path: Path, command: str
) -> None:
    drawn, shown = tmp_path / "drawn.svg", PARTS.parents[1] / f"docs/pictures/{command}-demo.svg"
    assert exit_code([command, str(PARTS / f"{command}.toml"), "--picture", str(drawn)]) == 0
    assert drawn.read_text(encoding="utf-8") == shown.read_text(encoding="utf-8")
    nowhere = tmp_path / "none" / "drawn.svg"
    assert exit_code([command, str(PARTS / f"{command}.toml"), "--picture", str(nowhere)]) == 2
    assert "expected a path for the picture" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("command", "old", "new", "said"),
    [
        (
            "switch",
            '["30 A", "44 A"]',
            '["-30 A", "44 A"]',
            "limits.pull_in_current: found -30 A, expected a limit of 0",
        ),
        ("switch", 'contact_drop = "0.20 V"', 'contact_drop = "0 V"', "expected more than 0 for the most"),
        (
            "drive",
            'slip = "70 lbf.ft"',
            'slip = "-70 lbf.ft"',
            "limits.slip: found -70 lbf.ft, expected a limit of 0",
        ),
        ("drive", "shift = 0.5", "shift = 0", "pinion, minimum: found 11.80 mm for one that measures"),
    ],
)
def test_a_limit_below_nothing_and_a_minimum_above_new_are_refused_by_name(
    capsys: Capture, tmp_path: Path, command: str, old: str, new: str, said: str
) -> None:
    path = changed(tmp_path, command, (old, new))
    assert exit_code([command, str(path)]) == 2
    err = capsys.readouterr().err
    assert path.name in err
    assert said in err.replace("key limits", "limits")
