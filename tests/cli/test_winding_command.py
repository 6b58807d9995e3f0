"""``barwise winding`` from the outside: answers, tables, pictures and refusals."""

from __future__ import annotations

import json
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest
import typer
from typer.testing import CliRunner

from barwise.cli.winding import winding

app = typer.Typer()
app.command()(winding)
runner = CliRunner()
SIX_POLE_WAVE = ["--bars", "62", "--poles", "6", "--kind", "wave"]
COUNT = ["--bars", "57", "--slots", "29", "--poles", "4"]


def test_the_windings_that_fit_are_listed_most_usual_first() -> None:
    answer = runner.invoke(app, COUNT)
    assert answer.exit_code == 0
    assert answer.stdout.startswith(" 1. 4-pole simplex wave, retrogressive: coil 1 from bar 1 to")
    assert "slots 1 and 8 or 1 and 9" in answer.stdout
    assert answer.stderr == ""


def test_json_is_one_object_with_every_fit() -> None:
    answer = json.loads(runner.invoke(app, [*COUNT, "--json"]).stdout)
    first = answer["fits"][0]
    assert (first["kind"], first["step"], first["dead_coils"]) == ("wave", 28, 1)
    assert (first["back_pitch"], first["front_pitch"]) == (29, 27)
    assert first["standing"] == "usual"
    assert len(answer["fits"]) == 6


def test_a_table_is_that_of_the_winding_asked_for() -> None:
    asked = ["--bars", "11", "--poles", "4", "--kind", "wave", "--progression", "progressive"]
    answer = runner.invoke(app, [*asked, "--table"])
    assert "(1-8)-(13-20)-(3-10)" in answer.stdout
    as_json = json.loads(runner.invoke(app, [*asked, "--table", "--json"]).stdout)
    assert as_json["table"][0]["bottom_side"] == 8
    assert as_json["sequence"][0].endswith("-(11-18)-1")


def test_a_picture_is_written_and_named(tmp_path: Path) -> None:
    drawing = tmp_path / "armature.svg"
    answer = runner.invoke(app, [*COUNT, "--picture", str(drawing)])
    assert answer.exit_code == 0
    assert str(drawing) in answer.stdout
    assert ET.parse(drawing).getroot().tag.endswith("svg")


def test_options_narrow_the_list() -> None:
    asked = [*COUNT, "--kind", "lap", "--plex", "1", "--progression", "retrogressive", "--json"]
    fits = json.loads(runner.invoke(app, asked).stdout)["fits"]
    assert [(f["kind"], f["plex"], f["progression"]) for f in fits] == [("lap", 1, "retrogressive")]


DEMO = str(Path(__file__).parents[2] / "examples" / "demo" / "readings.csv")


def test_readings_say_which_winding_and_what_they_cannot_tell() -> None:
    answer = runner.invoke(app, [*COUNT, "--plex", "1", "--readings", DEMO])
    assert (answer.exit_code, answer.stderr) == (0, "")
    lines = answer.stdout.splitlines()
    assert lines[0] == "lap or wave: wave (over 99.9 %)"
    assert lines[1].startswith("progressive or retrogressive: these readings cannot tell (")
    assert "follow one lead from bar 1" in " ".join(answer.stdout.split()).lower()
    assert max(map(len, lines)) <= 96


def test_readings_and_json_give_each_fit_a_probability_most_probable_first() -> None:
    text = runner.invoke(app, [*COUNT, "--plex", "1", "--readings", DEMO, "--json"]).stdout
    answer = json.loads(text, parse_constant=lambda word: pytest.fail(word))
    share = [fit["probability"] for fit in answer["fits"]]
    assert share == pytest.approx(sorted(share, reverse=True), abs=1e-9)
    assert sum(share) == pytest.approx(1.0)
    assert answer["fits"][0]["kind"] == "wave"
    assert answer["connection"]["kind"]["wave"] > 0.999
    assert answer["connection"]["explained"] is True


def test_readings_that_no_winding_explains_are_said_to(tmp_path: Path) -> None:
    path = tmp_path / "r.csv"
    rows = "".join(f"drop,{bar},{bar % 57 + 1},3.50,mV,1,15,10\n" for bar in range(1, 58))
    path.write_text(f"test,from,to,value,unit,feed_from,feed_to,feed_amps\n{rows}")
    answer = runner.invoke(app, [*COUNT, "--plex", "1", "--readings", str(path)])
    assert answer.exit_code == 0
    assert "None of these windings explains the readings" in answer.stdout


@pytest.mark.parametrize(
    ("row", "says"),
    [
        ("drop,57,58,3.5,mV,1,15,10", "line 2, column to: found bar 58, expected a bar from 1 to 57"),
        ("blade,30,,quiet,,,,", "line 2, column from: found slot 30, expected a slot from 1 to 29"),
        ("", "no readings"),
    ],
)
def test_readings_are_checked_against_what_was_counted(row: str, says: str, tmp_path: Path) -> None:
    path = tmp_path / "r.csv"
    path.write_text(f"test,from,to,value,unit,feed_from,feed_to,feed_amps\n{row}\n")
    answer = runner.invoke(app, [*COUNT, "--readings", str(path)])
    assert (answer.exit_code, answer.stdout) == (2, "")
    assert says in answer.stderr
    assert answer.stderr.count("\n") == 1


def test_a_blade_needs_the_slots_to_be_counted(tmp_path: Path) -> None:
    path = tmp_path / "r.csv"
    path.write_text("test,from,to,value,unit\nblade,3,,quiet,\n")
    answer = runner.invoke(app, ["--bars", "57", "--poles", "4", "--readings", str(path)])
    assert answer.exit_code == 2
    assert "slots" in answer.stderr


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (["--bars", "57", "--poles", "4", "--slots", "25"], "nearest 19, 29 slots"),
        (["--bars", "58", "--poles", "4", "--kind", "wave", "--plex", "1"], "nearest 57, 59"),
        (["--bars", "2"], "bars: found 2"),
        (["--bars", "57", "--poles", "5"], "poles: found 5"),
        (["--bars", "57", "--kind", "helix"], "--kind: found 'helix', expected lap or wave"),
        (["--bars", "57", "--progression", "up"], "--progression: found 'up'"),
        (["--bars", "57", "--plex", "0"], "--plex: found 0"),
        (["--bars", "57", "--turns", "0"], "turns_per_coil: found 0"),
        ([*COUNT, "--table", "--coil-pitch", "40"], "expected 1 to 28, usually 7"),
        (
            [
                "--bars",
                "62",
                "--poles",
                "6",
                "--kind",
                "wave",
                "--plex",
                "1",
                "--progression",
                "retrogressive",
            ],
            "62 does not, but works progressive; nearest retrogressive 61, 64",
        ),
        ([*COUNT, "--picture", "/nowhere/at/all.svg"], "/nowhere/at/all.svg: cannot be written"),
    ],
)
def test_what_cannot_be_is_refused_in_one_line(arguments: list[str], says: str) -> None:
    answer = runner.invoke(app, arguments)
    assert answer.exit_code == 2
    assert says in answer.stderr
    assert answer.stderr.count("\n") == 1
    assert answer.stdout == ""
