"""`barwise fields` and `barwise insulation` as they are called, by hand and for a program."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from barwise.cli.main import BAD_INPUT, exit_code
from barwise.report.paragraphs import WIDTH

EXAMPLES = Path(__file__).parents[2] / "examples" / "fields"
Capture = pytest.CaptureFixture[str]


def said(capsys: Capture, *arguments: str) -> str:
    assert exit_code(list(arguments)) == 0
    out, err = capsys.readouterr()
    assert err == ""
    return out


def test_the_shorted_coil_is_named_with_its_turns_and_what_could_have_hidden(capsys: Capture) -> None:
    """The example's coil 3 is made with one turn of eight shorted."""
    out = said(capsys, "fields", str(EXAMPLES / "series-parallel.toml"))
    first, second = out.splitlines()[:2]
    assert first == "FAULTY"
    assert "coil 3 shorted turns" in second
    assert "about 1 of 8 turns" in second
    assert "1 shorted turn of 8, or more" in out
    assert "Local electrical codes and licensed practice come first." in out
    assert max(map(len, out.splitlines())) <= WIDTH


def test_a_grounded_frame_is_faulty_though_its_coils_are_alike(capsys: Capture) -> None:
    out = said(capsys, "fields", str(EXAMPLES / "grounded.toml"))
    assert out.startswith("FAULTY\n  The fields touch the frame, most likely at coil 3")
    assert "near turn 3" in out


def test_the_answer_for_programs_has_no_rounding_and_nothing_that_is_not_json(capsys: Capture) -> None:
    answer = json.loads(said(capsys, "fields", str(EXAMPLES / "series-parallel.toml"), "--json"))
    assert (answer["verdict"], answer["kind"], answer["shunt"]) == ("faulty", "series-parallel", None)
    assert answer["coils"]["findings"][0]["coil"]["name"] == "3"
    assert answer["coils"]["detectable"][0]["turns"] == 1


def test_permanent_magnets_have_nothing_to_read_and_something_to_look_at(
    capsys: Capture, tmp_path: Path
) -> None:
    path = tmp_path / "magnets.toml"
    path.write_text('[fields]\nkind = "permanent-magnet"\n', encoding="utf-8")
    assert said(capsys, "fields", str(path)).startswith("PERMANENT MAGNETS")
    assert json.loads(said(capsys, "fields", str(path), "--json"))["verdict"] is None


def test_a_compound_field_shows_its_shunt_coil_beside_the_others(capsys: Capture, tmp_path: Path) -> None:
    path = tmp_path / "compound.toml"
    path.write_text(
        '[fields]\nkind = "compound"\ncoils = 2\nturns = 10\ntemperature = "20 °C"\n'
        '[[coil]]\nnumber = 1\ndrop = ["40.1 mV", "40.2 mV"]\n[[coil]]\nnumber = 2\ndrop = "40.3 mV"\n'
        '[shunt]\nresistance = "1.01 ohm"\nlow = "1.20 ohm"\nhigh = "1.35 ohm"\nturns = 200\n',
        encoding="utf-8",
    )
    out = said(capsys, "fields", str(path))
    assert out.startswith("FAULTY")
    assert "Shunt coil: below the sheet: shorted turns" in out
    assert "No coil is open, shorted or badly joined" in out


def test_paths_fed_together_with_a_bad_joint_point_to_the_path(capsys: Capture, tmp_path: Path) -> None:
    path = tmp_path / "together.toml"
    coils = "".join(
        f'[[coil]]\nnumber = {k}\ndrop = "{volts} mV"\n'
        for k, volts in enumerate((42.1, 42.2, 36.0, 36.1), 1)
    )
    head = '[fields]\nkind = "series-parallel"\ncoils = 4\nfed = "together"\ncurrent = "37 A"\n'
    path.write_text(head + coils, encoding="utf-8")
    out = said(capsys, "fields", str(path))
    assert "The coils of path 2 add up to 12 ± 0.1 mV less" in out
    assert "37 A is what all paths take together" in out


def test_each_part_s_insulation_is_judged_by_itself(capsys: Capture) -> None:
    out = said(capsys, "insulation", str(EXAMPLES / "insulation.toml"))
    verdicts = [line.split(":")[0] for line in out.splitlines() if line.isupper() or ": " in line]
    assert "ACCEPT" in verdicts
    assert "UNDECIDED: Fields to frame" in out
    assert "UNDECIDED: Holders to plate" in out
    assert "stayed dark: more than 19 ohm" in out
    assert "A mains-fed test lamp can kill" in out
    assert "leaves charge" in out
    assert max(map(len, out.splitlines())) <= WIDTH
    answer = json.loads(said(capsys, "insulation", str(EXAMPLES / "insulation.toml"), "--json"))
    assert list(answer) == ["armature", "fields", "brush-holders"]
    assert answer["armature"]["outcome"] == "accept"


def test_ten_minutes_on_the_tester_ask_for_forty_of_discharge(capsys: Capture, tmp_path: Path) -> None:
    path = tmp_path / "long.toml"
    path.write_text(
        '[insulation]\nrated = "24 V"\ntemperature = "40 °C"\ntest_voltage = "500 V"\nthermal_class = "F"\n'
        '[armature]\nafter_1_min = "200 Mohm"\nafter_10_min = "500 Mohm"\n',
        encoding="utf-8",
    )
    out = said(capsys, "insulation", str(path))
    assert "polarization index 2.50" in out
    assert "accept against 2 or more" in out
    assert "joined for 40 minutes" in out


@pytest.mark.parametrize("command", ["fields", "insulation"])
def test_a_file_that_is_not_there_ends_in_one_line(command: str, capsys: Capture) -> None:
    assert exit_code([command, "nowhere.toml"]) == BAD_INPUT
    out, err = capsys.readouterr()
    assert out == ""
    assert err.count("\n") == 1
    assert "nowhere.toml: found no such file" in err


def test_drops_to_the_frame_without_the_coils_drops_are_refused(capsys: Capture, tmp_path: Path) -> None:
    text = (EXAMPLES / "grounded.toml").read_text(encoding="utf-8")
    path = tmp_path / "part.toml"
    path.write_text(text.replace('[[coil]]\nnumber = 4\ndrop = "42.3 mV"\n', ""), encoding="utf-8")
    assert exit_code(["fields", str(path)]) == BAD_INPUT
    assert "a reading of every coil of path 1" in capsys.readouterr().err
