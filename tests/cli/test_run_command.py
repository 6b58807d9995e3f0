"""`barwise run` on the invented example, in words, as JSON and as a picture; bad input in one line."""

from __future__ import annotations

import json
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest

from barwise.cli.main import exit_code
from barwise.files.run_file import parse_run

ROOT = Path(__file__).parents[2]
DEMO = str(ROOT / "examples/run/demo.toml")
MOTOR = '[motor]\nfield = "series"\nvolts = "12 V"\n'
FREE = '[[no_load]]\nvolts = "11.5 V"\namps = "70 A"\nspeed = "4600 rpm"\n'


def test_the_demo_names_the_open_path_and_draws_its_curve(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    picture = tmp_path / "curve.svg"
    assert exit_code(["run", DEMO, "--picture", str(picture)]) == 0
    said = capsys.readouterr().out
    assert "most likely one field path of several open" in said.splitlines()[0]
    assert "Clamp the starter down" in said
    drawn = ET.fromstring(picture.read_text(encoding="utf-8"))
    words = "".join(drawn.itertext())
    assert "torque, lbf.ft" in words
    assert "most power" in words


def test_the_demo_as_json_has_si_units_and_probabilities_that_add_up(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert exit_code(["run", DEMO, "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert found["verdict"] == "faulty"
    assert found["causes"][0]["key"] == "open-field-path"
    assert sum(one["probability"] for one in found["causes"]) == pytest.approx(1.0)
    assert {"current_a", "torque", "power"} <= found["curve"].keys()


def test_a_log_is_studied(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    log = tmp_path / "log.csv"
    rows = "".join(f"{one / 100},11.2,{70 + one % 2}\n" for one in range(300))
    log.write_text("time,volts,amps\n" + rows, encoding="utf-8")
    assert exit_code(["run", str(log)]) == 0
    assert "1 steady stretch, 100 samples a second" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "an empty file"),
        (FREE, "key motor"),
        (MOTOR, "no point read"),
        (MOTOR.replace("series", "serial") + FREE, "key motor.field"),
        (MOTOR + FREE.replace("70 A", "70 V"), "line 6, key no_load 1.amps"),
        (MOTOR + FREE.replace("amps", "amp"), "an unknown key"),
        (MOTOR + '[sheet.lock]\nvolts = "4 V"\namps = ["1 A", "2 A", "3 A"]\n' + FREE, "3 values"),
        (MOTOR + "taken = 3\n" + FREE, "key motor.taken"),
    ],
)
def test_a_file_that_cannot_be_used_is_refused_with_its_place(
    text: str, said: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "run.toml"
    file.write_text(text, encoding="utf-8")
    assert exit_code(["run", str(file)]) == 2
    assert said in capsys.readouterr().err


def test_limits_of_the_sheet_may_be_a_range_or_one_side_or_a_figure() -> None:
    sheet = '[sheet.lock]\nvolts = "4 V"\namps_at_most = "520 A"\ntorque = ["12 lbf.ft", "16 lbf.ft"]\n'
    known = parse_run(MOTOR + sheet + FREE)
    (point,) = known.sheet.points
    assert point.current is not None
    assert point.current.value < 520
    assert {name for _, name, _ in known.sheet.limits} == {"current", "torque"}
