"""`barwise bearings`, `fit`, `shaft` and `assembly` from the outside, good input and bad."""

from __future__ import annotations

import json
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest

from barwise.cli.main import exit_code

PARTS = Path(__file__).parents[2] / "examples" / "parts"
BUSH = (
    '[[bearing]]\nname = "drive end"\nbore = "12.06 mm"\njournal = "11.98 mm"\n'
    'play = ["0.03 mm", "0.20 mm"]\n'
)
SHAFT = '[shaft]\nheld = "v-blocks"\njournals = ["20 mm", "180 mm"]\ndial_step = "0.001 mm"\n'
STATION = '[[station]]\nname = "core"\nat = "90 mm"\n'
PLAY = '[end_play]\nnow = "1.1 mm"\nrange = ["0.1 mm", "0.5 mm"]\n'


def run(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str, str]:
    code = exit_code(list(words))
    said = capsys.readouterr()
    return code, said.out, said.err


def answer(capsys: pytest.CaptureFixture[str], command: str, file: Path) -> dict:
    code, out, err = run(capsys, command, str(file), "--json")
    assert (code, err) == (0, "")
    return json.loads(out)


def refused(capsys: pytest.CaptureFixture[str], command: str, text: str, folder: Path) -> str:
    file = folder / "part.toml"
    file.write_text(text, encoding="utf-8")
    code, out, err = run(capsys, command, str(file))
    assert (code, out) == (2, "")
    assert err.count("\n") == 1
    return err


def test_bearings_are_judged_with_a_new_bush_and_the_air_gap(capsys) -> None:
    found = answer(capsys, "bearings", PARTS / "bearings.toml")
    by_part = {one["part"]: one["outcome"] for one in found["findings"]}
    assert found["verdict"] == "reject"
    assert by_part["commutator end, most play"] == "reject"
    assert by_part["drive end, most play"] == "accept"
    assert by_part["new bush, commutator end, play once it is pressed in"] == "accept"
    assert found["air_gap"]["touches"] < 0.001
    assert 0 < found["new_bush"]["closing"]["value"] < found["new_bush"]["interference"]["value"]
    _, out, _ = run(capsys, "bearings", str(PARTS / "bearings.toml"))
    assert out.startswith("REJECT")
    assert "it made 95" in out
    assert "goggles on" in out


def test_gears_say_their_ratio_their_backlash_and_their_wear(capsys, tmp_path: Path) -> None:
    file = tmp_path / "gears.toml"
    file.write_text(
        "[planetary]\nsun = 13\nring = 46\nplanets = 3\n"
        '[backlash]\ndial = "0.9 mm"\ndial_radius = "30 mm"\npitch_radius = "10 mm"\nmost = "0.25 mm"\n'
        '[[gear]]\nname = "idler"\nteeth = 24\nmodule = "3 mm"\nshift = 0.4\nspanned = 4\nspan = "32.70 mm"\n'
        'most_wear = "0.3 mm"\n',
        encoding="utf-8",
    )
    found = answer(capsys, "bearings", file)
    assert found["ratio"] == pytest.approx(1 + 46 / 13)
    outcomes = {one["part"]: (one["outcome"], one["value"]) for one in found["findings"]}
    assert outcomes["planet gears"][0] == "undecided"
    assert outcomes["backlash"] == ("reject", pytest.approx(0.3e-3))
    # Span 32.8266 mm when new: Elements of Metric Gear Technology, section 10, example of span measurement.
    assert outcomes["idler, tooth worn by"][0] == "accept"
    assert outcomes["idler, tooth worn by"][1] == pytest.approx((32.8266 - 32.70) / 0.9397e3, rel=1e-3)


def test_a_fit_is_said_in_both_units(capsys) -> None:
    code, out, _ = run(capsys, "fit", "12 mm", "F7/h6")
    assert code == 0
    assert "0.016 to 0.045 mm" in out
    _, out, _ = run(capsys, "fit", "0.5 in", "H7/p6", "--json")
    assert json.loads(out)["kind"] == "interference"
    code, _, err = run(capsys, "fit", "12 A", "F7/h6")
    assert code == 2
    assert "a unit of current" in err


def test_a_bent_shaft_is_found_drawn_and_told(capsys, tmp_path: Path) -> None:
    found = answer(capsys, "shaft", PARTS / "shaft.toml")
    assert found["verdict"] == "reject"
    assert found["bend"]["high_deg"] == pytest.approx(120, abs=3)
    assert found["bend"]["place_m"]["low"] < 2.4 * 0.0254 < found["bend"]["place_m"]["high"]
    assert found["shape"]["kinked"] > 0.95
    assert found["lobes"]["journal, drive end"][0]["lobes"] == 3
    picture = tmp_path / "shaft.svg"
    code, out, _ = run(capsys, "shaft", str(PARTS / "shaft.toml"), "--picture", str(picture))
    assert code == 0
    assert "bent in one place" in out
    drawing = ET.parse(picture).getroot()
    assert drawing.tag.endswith("svg")
    assert "style" not in {name for part in drawing.iter() for name in part.attrib}


def test_between_centres_the_journals_are_taken_away(capsys, tmp_path: Path) -> None:
    """Derived: a straight shaft whose left centre is out by 0.05 mm; its core reads so and yet runs true."""
    places = (("left", 20, 0.05), ("core", 100, 0.025), ("right", 180, 0.0), ("nose", 60, 0.0375))
    stations = ""
    for name, at, off in places:
        dial = ", ".join(f'"{reading:.4f}"' for reading in (1 + off, 1, 1 - off, 1))
        stations += f'[[station]]\nname = "{name}"\nat = "{at} mm"\nreadings = [{dial}]\n'
    file = tmp_path / "centres.toml"
    text = SHAFT.replace("v-blocks", "centres") + 'most_runout = "0.02 mm"\nunit = "mm"\n' + stations
    file.write_text(text, encoding="utf-8")
    found = answer(capsys, "shaft", file)
    core = next(one for one in found["places"] if one["name"] == "core")
    assert core["runout_m"] == pytest.approx(0, abs=2e-6)
    assert found["centres_off_m"] == pytest.approx([0.05e-3, 0.0], abs=1e-6)
    assert found["verdict"] == "accept"


def test_shims_are_chosen_and_torques_listed(capsys) -> None:
    found = answer(capsys, "assembly", PARTS / "assembly.toml")
    assert found["shims"][0]["put_in"]["shaft"] == ["washer 0.031", "washer 0.030", "washer 0.010"]
    assert found["shims"][0]["reached_m"]["end play"] == pytest.approx(0.017 * 0.0254)
    assert found["shims"][0]["decision"] == "accept"
    assert found["mesh_shim_m"]["value"] > 0
    _, out, _ = run(capsys, "assembly", str(PARTS / "assembly.toml"))
    assert "Torque list" in out
    assert "as marked at teardown" in out


def test_no_shims_say_what_to_get(capsys, tmp_path: Path) -> None:
    file = tmp_path / "none.toml"
    file.write_text(PLAY, encoding="utf-8")
    _, out, _ = run(capsys, "assembly", str(file))
    assert "No pile of the shims there are" in out
    assert "no shims are in stock" in out
    assert "0.800 mm in all for end play" in out


def test_another_orientation_than_marked_is_rejected(capsys, tmp_path: Path) -> None:
    file = tmp_path / "marks.toml"
    file.write_text('[marks]\nrotation = ["clockwise", "anticlockwise"]\n', encoding="utf-8")
    assert answer(capsys, "assembly", file)["verdict"] == "reject"


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (('"12.06 mm"', '"wide"'), "line 3, key bearing 1.bore"),
        (('"12.06 mm"', '"nan mm"'), "key bearing 1.bore"),
        (('"12.06 mm"', "12.06"), "in quotation marks"),
        (('"12.06 mm"', '"12.06 V"'), "a unit of voltage"),
        (('"12.06 mm"', '"12.06"'), "without a unit"),
        (('"12.06 mm"', '"11.06 mm"'), "swapped, or one in another unit"),
        (('"12.06 mm"', '["12.06 mm", "12.05 mm", "12.07 mm"]'), "3 sizes without places"),
        (('["0.03 mm", "0.20 mm"]', '["0.20 mm", "0.03 mm"]'), "the smaller one first"),
        (("play =", "paly ="), "nearest: play"),
        (('journal = "11.98 mm"\n', ""), "journal"),
        (("play =", 'nominal = "12 mm"\nfit = "f7/H6"\nplay ='), "the bore in capitals"),
        ((BUSH, ""), "empty file"),
    ],
)
def test_bearings_that_cannot_be_read_are_refused_with_their_place(
    change, said: str, capsys, tmp_path
) -> None:
    assert said in refused(capsys, "bearings", BUSH.replace(*change), tmp_path)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (SHAFT, "no [[station]] table"),
        (SHAFT + STATION, "key station 1.readings: found nothing"),
        (SHAFT + STATION + 'readings = ["1", "2"]', "2 angles, expected 3"),
        (SHAFT + STATION + 'readings = ["1", "2", "x"]', "line 8, key station 1.readings"),
        (SHAFT + STATION + 'readings = ["1", "2", "nan"]', "key station 1.readings"),
        (SHAFT + STATION + 'readings = ["1 mm", "2 V", "1 mm"]', "found unit 'V'"),
        (SHAFT + STATION + "readings = [1, 2, 3]", "readings of the dial"),
        (SHAFT + STATION + 'angles = [0, 90]\nreadings = ["1", "2", "1"]', "2 angles for 3 readings"),
        (
            SHAFT + STATION + 'angles = [0, 0, 90, 180]\nreadings = ["1.000", "1.900", "1.100", "1.200"]',
            "dial to come back",
        ),
        (SHAFT + STATION + 'readings = ["1", "2", "1"]\nswing = "1 mm"', "one of them"),
        (SHAFT + (STATION + 'swing = "0.05 mm"\n') * 2, '"core" a second time'),
        (SHAFT.replace('"180 mm"', '"20 mm"') + STATION + 'swing = "0.05 mm"', "both at one place"),
        (SHAFT.replace("v-blocks", "hand") + STATION + 'swing = "0.05 mm"', '"v-blocks" or "centres"'),
    ],
)
def test_shafts_that_cannot_be_read_are_refused_with_their_place(
    text: str, said: str, capsys, tmp_path
) -> None:
    assert said in refused(capsys, "shaft", text, tmp_path)


def test_one_station_only_says_that_it_does_not_tell_where(capsys, tmp_path: Path) -> None:
    file = tmp_path / "one.toml"
    file.write_text(SHAFT + STATION + 'readings = ["1.05", "1", "0.95", "1"]', encoding="utf-8")
    found = answer(capsys, "shaft", file)
    assert found["bend"] is None or found["bend"]["place_m"] is None
    assert any("One station" in note for note in found["notes"])
    _, out, _ = run(capsys, "shaft", str(file))
    assert "do not tell where a bend would be" in out


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (('"1.1 mm"', '"1.1 s"'), "a unit of time"),
        (('"1.1 mm"', '"-1.1 mm"'), "or more"),
        (('["0.1 mm", "0.5 mm"]', '"0.1 mm"'), "two: the least and the most"),
        (('["0.1 mm", "0.5 mm"]', '["0.5 mm", "0.1 mm"]'), "the smaller one first"),
        (("[end_play]", 'most_pieces = "many"\n[end_play]'), "a whole number from 0 to 6"),
        (("[end_play]", "[marks]\nrotation = 1\n[end_play]"), "as marked at teardown"),
        (
            ("[end_play]", '[marks]\nrotation = ["left", "left"]\n[end_play]'),
            "expected clockwise or anticlockwise",
        ),
        (
            ("[end_play]", '[marks]\nswitch = ["13:00", "2:00"]\n[end_play]'),
            "an hour of the clock, such as 2",
        ),
        (("[end_play]", '[[shim]]\nthickness = "0 mm"\n[end_play]'), "more than 0"),
        (("[end_play]", '[[shim]]\nthickness = "1 mm"\nplaces = ["moon"]\n[end_play]'), "key shim 1.places"),
        (("[end_play]", '[[bolt]]\nname = "b"\ntorque = "9 Nm"\nthread = "X"\n[end_play]'), "such as M6"),
        (("[end_play]", '[[bolt]]\nname = "b"\ntorque = "9 N"\n[end_play]'), "a unit of force"),
    ],
)
def test_assemblies_that_cannot_be_read_are_refused_with_their_place(
    change, said: str, capsys, tmp_path
) -> None:
    assert said in refused(capsys, "assembly", PLAY.replace(*change), tmp_path)
