"""`barwise crank` and `barwise worth` on the invented examples; refusals with file, line and key."""

from __future__ import annotations

import json
from decimal import Decimal
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest

from barwise.cli.main import exit_code

DEMO = Path(__file__).parents[2] / "examples" / "demo"
VEHICLE = (DEMO / "vehicle.toml").read_text(encoding="utf-8")
RUN = """
[motor]
field = "series"
volts = "12 V"
bars = 57
temperature = "20 degC"
[sheet.no_load]
volts = "11.5 V"
amps = "110 A"
speed = "4800 rpm"
[sheet.lock]
volts = "5.0 V"
amps = "1150 A"
torque = "52 Nm"
[[no_load]]
volts = "11.5 V ± 0.5 %"
amps = "104 A ± 1 %"
speed = "4150 rpm ± 1 %"
temperature = "20 degC"
[[lock]]
volts = "5.0 V ± 0.5 %"
amps = "920 A ± 1 %"
torque = "39 Nm ± 1 %"
temperature = "24 degC"
"""
"""What the run test of the demo's starter is as a file of its own."""
PRICES = (DEMO / "worth.toml").read_text(encoding="utf-8")


def test_crank_answers_in_words_and_draws(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    picture = tmp_path / "start.svg"
    assert exit_code(["crank", str(DEMO / "vehicle.toml"), "--picture", str(picture)]) == 0
    said = " ".join(capsys.readouterr().out.split())
    assert "at -10 °C" in said
    assert "Mend first: " in said
    assert "This starter explains" in said
    assert "Acid burns" in said
    drawn = ET.parse(picture).getroot()
    assert "style" not in {key for part in drawn.iter() for key in part.attrib}
    words = {part.text for part in drawn.iter() if part.text}
    assert {"battery", "ground", "starter"} <= words


def test_crank_answers_as_json(capsys: pytest.CaptureFixture[str]) -> None:
    assert exit_code(["crank", str(DEMO / "vehicle.toml"), "--json"]) == 0
    answer = json.loads(capsys.readouterr().out)
    assert answer["agrees"] is True
    speed = answer["outlook"]["speed_rpm"]
    assert speed["low"] < speed["middle"] < speed["high"]
    assert 0 < answer["blame"]["starter_share"]["middle"] < 1
    measured = {leg["name"]: leg["decision"]["outcome"] for leg in answer["measured"]["legs"]}
    assert measured == {"positive cable": "accept", "switch": "accept", "ground": "reject"}
    assert answer["course"]["stuck"] is False


def test_the_starter_may_be_told_by_the_file_of_its_run_test(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    top, _, rest = VEHICLE.partition("[starter]")
    mesh = "[starter]\nring_teeth = 128\npinion_teeth = 10\n\n"
    file = tmp_path / "vehicle.toml"
    file.write_text(f"{top}{mesh}[engine]{rest.partition('[engine]')[2]}", encoding="utf-8")
    run = tmp_path / "run.toml"
    run.write_text(RUN, encoding="utf-8")
    answers = []
    for arguments in ([str(DEMO / "vehicle.toml")], [str(file), "--run", str(run)]):
        assert exit_code(["crank", *arguments, "--json"]) == 0
        answers.append(json.loads(capsys.readouterr().out))
    assert answers[0]["run"]["causes"] == answers[1]["run"]["causes"]
    assert answers[0]["outlook"] == answers[1]["outlook"]
    assert exit_code(["crank", str(DEMO / "vehicle.toml"), "--run", str(run)]) == 2
    assert "the run test says it all" in capsys.readouterr().err


def test_a_starter_that_does_not_run_is_to_be_mended_first(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "vehicle.toml"
    still = VEHICLE.replace('"104 A ± 1 %"', '"2500 A ± 1 %"').replace('speed = "4150 rpm ± 1 %"', "")
    still = still.replace('"920 A ± 1 %"', '"1100 A"').replace('torque = "39 Nm ± 1 %"', 'torque = "0.1 Nm"')
    file.write_text(still, encoding="utf-8")
    assert exit_code(["crank", str(file)]) == 2
    assert "mend it first" in capsys.readouterr().err


def test_worth_answers_in_words(capsys: pytest.CaptureFixture[str]) -> None:
    assert exit_code(["worth", str(DEMO / "worth.toml")]) == 0
    said = " ".join(capsys.readouterr().out.split())
    assert "Rebuild, what must be done: 283.02 EUR" in said
    assert "a deposit of 60.00 EUR besides comes back" in said
    assert "drive-end bush: 37.05 EUR more" in said


def test_worth_answers_as_json_with_every_digit(capsys: pytest.CaptureFixture[str]) -> None:
    assert exit_code(["worth", str(DEMO / "worth.toml"), "--json"]) == 0
    answer = json.loads(capsys.readouterr().out)
    low, high = (Decimal(end) for end in answer["choices"][0]["cost"])
    hours = Decimal("1.75") + Decimal(25) / 60 + Decimal(40) / 60
    exact = (Decimal("56.50") + hours * 64) * Decimal("1.19")
    assert low == high
    assert abs(low - exact) < Decimal("1e-20")
    assert answer["verdict"] == "must"
    assert answer["shown"][0].startswith("Rebuild, what must be done: 283.02 EUR")


@pytest.mark.parametrize(
    ("old", "new", "place"),
    [
        ('rated_current = "900 A"', 'rated_current = "900 V"', "battery.rated_current"),
        ('rated_current = "900 A"', 'rated_current = "9 A"', "rated current"),
        ('rated_current = "900 A"', "rated_current = 900", "battery.rated_current"),
        ('rest_volts = "12.45 V"      # after a night', 'charge = "140 %"', "battery.charge"),
        ('gauge = "2/0"', 'gauge = "7/0"', "gauge"),
        ('length = "1.8 m"', "", "length"),
        ('area = "50 mm2"', 'area = "50 mm"', "leg 3.area"),
        ("ring_teeth = 128", "ring_teeth = 1.5", "starter.ring_teeth"),
        ('fuel = "diesel"', 'fuel = "coal"', "engine.fuel"),
        ("cylinders = 4", "cylinders = 0", "engine.cylinders"),
        ('oil = "15W-40"', 'oil = "13W-40"', "oil grade"),
        ('temperature = "-10 degC"', 'temperature = "-10"', "temperature"),
        ('current = "260 A ± 2 %"', 'current = "-260 A"', "measured.current"),
        ('ground = "0.81 V"', 'grund = "0.81 V"', "measured.drops.grund"),
        ('kind = "lock"\nvolts = "5.0 V"', 'kind = "lok"\nvolts = "5.0 V"', "starter.sheet 2.kind"),
        ("[battery]", "[batery]", "batery"),
        ('name = "switch"', 'name = "ground"', "each stretch once"),
    ],
)
def test_a_vehicle_file_that_cannot_be_is_refused_with_its_place(
    old: str, new: str, place: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert old in VEHICLE
    file = tmp_path / "vehicle.toml"
    file.write_text(VEHICLE.replace(old, new, 1), encoding="utf-8")
    assert exit_code(["crank", str(file)]) == 2
    said = capsys.readouterr().err
    assert place in said
    assert "vehicle.toml" in said
    assert "expected" in said
    assert said.count("\n") == 1


@pytest.mark.parametrize(
    ("old", "new", "place"),
    [
        ('price = "38.50"', "price = 38.50", "part 1.price"),
        ('price = "38.50"', 'price = "38,50"', "part 1.price"),
        ('price = "38.50"', 'price = "-3"', "part 1.price"),
        ('price = "38.50"', 'price = ["45", "38"]', "part 1.price"),
        ('price = "38.50"', "", "key price"),
        ('time = "25 min"', 'time = "25"', "part 1.time"),
        ('labour_rate = "64.00"', 'labour_rate = ["60", "70"]', "shop.labour_rate"),
        ('tax = "19 %"', 'tax = "190 %"', "shop.tax"),
        ('need = "must"', 'need = "musst"', "part 1.need"),
        ('now = "12.1 mm"', 'now = "12.1 in"', "part.wear.now"),
        ('discard = "10.2 mm"', 'discard = "18.8 mm"', "part.wear"),
        ("so_far = 5200", "so_far = 0", "service.so_far"),
        ("lasts = [1500, 4500]", "lasts = [4500, 1500]", "exchange.lasts"),
        ('name = "drive-end bush"', 'name = "brush set"', "brush set twice"),
        ("[shop]", "[shopp]", "shopp"),
    ],
)
def test_a_file_of_prices_that_cannot_be_is_refused_with_its_place(
    old: str, new: str, place: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert old in PRICES
    file = tmp_path / "worth.toml"
    file.write_text(PRICES.replace(old, new, 1), encoding="utf-8")
    assert exit_code(["worth", str(file)]) == 2
    said = capsys.readouterr().err
    assert place in said
    assert "worth.toml" in said
    assert "expected" in said
    assert said.count("\n") == 1


@pytest.mark.parametrize("command", ["crank", "worth"])
@pytest.mark.parametrize("content", ["", "not toml at all [", "\x00"])
def test_a_file_that_is_none_is_refused(
    command: str, content: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "what.toml"
    file.write_text(content, encoding="utf-8")
    assert exit_code([command, str(file)]) == 2
    assert "what.toml" in capsys.readouterr().err
    assert exit_code([command, str(tmp_path / "none.toml")]) == 2


def test_without_a_temperature_crank_assumes_none(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "vehicle.toml"
    without = VEHICLE.replace('temperature = "-10 degC"\n', "", 1)
    file.write_text(without.partition("[measured]")[0], encoding="utf-8")
    assert exit_code(["crank", str(file), "--json"]) == 0
    answer = json.loads(capsys.readouterr().out)
    assert answer["temperature_c"] is None
    assert any("No temperature" in line for line in answer["outlook"]["said"])
