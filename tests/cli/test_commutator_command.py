"""`barwise commutator` as it is called: answers, options, and one plain line for whatever cannot be used."""

from __future__ import annotations

import json
import re
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest

from barwise.cli.main import exit_code

ROOT = Path(__file__).parents[2]
SHEET = ROOT / "examples" / "demo" / "commutator.toml"
PROFILE = ROOT / "examples" / "demo" / "profile.csv"
Capture = pytest.CaptureFixture[str]


def answer(capsys: Capture, *arguments: str) -> dict[str, object]:
    assert exit_code(["commutator", *arguments, "--json"]) == 0
    out, err = capsys.readouterr()
    assert err == ""
    return dict(json.loads(out))


def changed(tmp_path: Path, path: Path, *changes: tuple[str, str]) -> str:
    text = path.read_text(encoding="utf-8")
    for pattern, new in changes:
        text, count = re.subn(pattern, new, text, flags=re.MULTILINE)
        assert count, pattern
    there = tmp_path / path.name
    there.write_text(text, encoding="utf-8")
    return str(there)


def in_millimetres(tmp_path: Path) -> tuple[str, str]:
    """Both files of the demo in mm."""
    sheet = SHEET.read_text(encoding="utf-8").replace('unit = "in"', 'unit = "mm"')
    lengths = ["indicator_resolution", "interval_wear", "new", "half_worn", "discard", "diameter"]
    keys = rf"^({'|'.join([*lengths, 'resolution', 'centres_runout'])}) = ([\d.]+)"
    sheet = re.sub(keys, lambda m: f"{m[1]} = {float(m[2]) * 25.4:.7f}", sheet, flags=re.MULTILINE)
    rows = []
    for line in PROFILE.read_text(encoding="utf-8").splitlines():
        cells = line.split(",")
        rows.append(f"{cells[0]},{cells[1]},{float(cells[2]) * 25.4:.6f}" if cells[0].isdigit() else line)
    (tmp_path / "c.toml").write_text(sheet, encoding="utf-8")
    (tmp_path / "p.csv").write_text("\n".join(rows) + "\n", encoding="utf-8")
    return str(tmp_path / "c.toml"), str(tmp_path / "p.csv")


def test_the_answer_has_the_promised_keys_and_hangs_together(capsys: Capture) -> None:
    got = answer(capsys, str(SHEET), str(PROFILE))
    clean, passes, after = got["cleanup_diameter"], got["passes"], got["wear_after"]
    assert set(got["runout"]) == {"value", "track"}
    assert set(got["worst_bar_step"]) >= {"value", "bars"}
    assert clean["low"] < clean["value"] < clean["high"]
    assert all(set(one) >= {"diameter", "cleaned_fraction"} for one in passes)
    assert after["low"] < after["value"] < after["high"]
    assert after["value"] == pytest.approx(100 * (1.250 - clean["value"]) / 0.024)
    assert got["wear_now"] == pytest.approx(100 * (1.250 - 1.2421) / 0.024)
    assert got["depth"] == pytest.approx((got["first_touch_diameter"] - clean["value"]) / 2)
    assert got["decision"] == "cut"
    assert "\n" not in got["why"]
    # the demo was made with this clean-up diameter
    assert clean["low"] < 1.236271 < clean["high"]


def test_millimetres_give_the_same_answer_as_inches(tmp_path: Path, capsys: Capture) -> None:
    inches = answer(capsys, str(SHEET), str(PROFILE))
    millimetres = answer(capsys, *in_millimetres(tmp_path))
    for end in ("value", "low", "high"):
        same = millimetres["cleanup_diameter"][end] / 25.4
        assert same == pytest.approx(inches["cleanup_diameter"][end], abs=1e-6)
    assert millimetres["wear_after"]["value"] == pytest.approx(inches["wear_after"]["value"], abs=0.01)


def test_words_lead_with_the_decision_and_carry_the_cautions(capsys: Capture) -> None:
    assert exit_code(["commutator", str(SHEET), str(PROFILE)]) == 0
    out = capsys.readouterr().out
    assert out.startswith("CUT\n")
    for caution in ("sleeves", "gloves", "chuck key", "mica dust"):
        assert caution in out
    assert all(len(line) <= 96 for line in out.splitlines())


def test_the_picture_is_drawn_with_its_magnification_and_a_map_for_each_pass(
    tmp_path: Path, capsys: Capture
) -> None:
    there = tmp_path / "c.svg"
    got = answer(capsys, str(SHEET), str(PROFILE), "--picture", str(there))
    root = ET.fromstring(there.read_text(encoding="utf-8"))
    words = " ".join(element.text or "" for element in root.iter("{http://www.w3.org/2000/svg}text"))
    assert re.search(r"drawn \d+ times as large as the circle", words)
    maps = [g for g in root.iter("{http://www.w3.org/2000/svg}g") if g.get("class") == "pass"]
    assert len(maps) == len(got["passes"])
    fills = {element.get("fill") for element in maps[0].iter()}
    assert {"url(#hatch)", "url(#dots)"} <= fills


def test_a_commutator_that_may_not_be_turned_gets_no_passes(tmp_path: Path, capsys: Capture) -> None:
    sheet = changed(tmp_path, SHEET, ("^bars = 57", "bars = 57\nmay_turn = false\nmay_undercut = false"))
    got = answer(capsys, sheet, str(PROFILE))
    assert got["passes"] == []
    assert got["decision"] != "cut"
    assert "may not be turned" in str(got["why"])


def test_a_diameter_below_discard_is_scrap_with_the_number(tmp_path: Path, capsys: Capture) -> None:
    got = answer(capsys, changed(tmp_path, SHEET, ("^diameter = 1.2421", "diameter = 1.2251")), str(PROFILE))
    assert got["decision"] == "scrap"
    assert "1.2251 in is below discard, 1.2260 in" in str(got["why"])
    assert float(str(got["wear_now"])) > 100


def test_a_constant_profile_is_called_a_dead_indicator(tmp_path: Path, capsys: Capture) -> None:
    profile = changed(tmp_path, PROFILE, (r"^(\d+,[\d.]+),.*$", r"\1,0.0"))
    got = answer(capsys, str(SHEET), profile)
    assert got["decision"] == "undecided"
    assert "dead indicator" in str(got["why"])


def test_a_turn_that_the_file_tells_of_is_undone_and_said(tmp_path: Path, capsys: Capture) -> None:
    lines = PROFILE.read_text(encoding="utf-8").splitlines()
    turned = []
    for line in lines:
        bar, _, rest = line.partition(",")
        if bar.isdigit() and int(bar) > 30 and rest.startswith("0.5,"):
            line = f"{bar},0.5,{float(rest[4:]) - 0.1:.4f}"
        turned.append(line)
    profile = tmp_path / "p.csv"
    profile.write_text("\n".join(turned), encoding="utf-8")
    assert exit_code(["commutator", str(SHEET), str(profile), "--json"]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert "from bar 30 to bar 31 on track 0.5" in err
    assert "indicator_turn = 0.1" in err
    sheet = changed(tmp_path, SHEET, ("^bars = 57", "bars = 57\nindicator_turn = 0.1"))
    got = answer(capsys, sheet, str(profile))
    untouched = answer(capsys, str(SHEET), str(PROFILE))["cleanup_diameter"]
    assert got["cleanup_diameter"] == pytest.approx(untouched, abs=1e-6)
    assert "27 readings were moved" in got["notes"][0]


def test_after_a_pass_the_bars_still_untouched_are_taken_into_account(capsys: Capture) -> None:
    before = answer(capsys, str(SHEET), str(PROFILE))
    old = "14,39,40,41,42,43,44,45,46,47"
    got = answer(capsys, str(SHEET), str(PROFILE), "--cut-to", "1.2373", "--untouched", old)
    assert got["cleanup_diameter"]["value"] < 1.2373
    assert got["cleanup_diameter"] != before["cleanup_diameter"]
    done = answer(capsys, str(SHEET), str(PROFILE), "--cut-to", "1.2362", "--untouched", "none")
    assert (done["decision"], done["passes"]) == ("leave", [])
    assert "stop here" in str(done["why"])


BAD_SHEETS = {
    "discard above new": (("^discard = 1.226", "discard = 1.262"), "more worn one to be smaller"),
    "limit in two units": (("^discard = 1.226", 'discard = "1.226 in (31.41 mm)"'), "1.226 in and 31.41 mm"),
    "slipped decimal": (
        (r"^\[limits\]", '[limits]\nrunout = "0.00197 in (0.5 mm)"'),
        "0.00197 in and 0.5 mm",
    ),
    "lost digit": ((r"^\[limits\]", '[limits]\nrunout = "0.031 in (0.5 mm)"'), "0.031 in and 0.5 mm"),
    "micrometer in mm": (("^diameter = 1.2421", "diameter = 31.549"), "in mm it would fit"),
    "unit of its own": (("^diameter = 1.2421", 'diameter = 1.2421\nunit = "mm"'), "one unit for both files"),
    "unknown unit": (('^unit = "in"', 'unit = "inches"'), 'expected "in" or "mm"'),
    "unknown key": (("^bars = 57", "bars = 57\nmay_trun = true"), "nearest: may_turn"),
    "no bars": (("^bars = 57", ""), "key bars: found nothing"),
    "band upside down": (
        ("^brush_band = .*", "brush_band = [0.88, 0.12]"),
        "two fractions from the riser end",
    ),
    "bar too high": (("^bar = 1$", "bar = 58"), "a whole number from 1 to 57"),
    "negative resolution": (("^indicator_resolution = 0.0001", "indicator_resolution = -0.1"), "above 0"),
    "wide feed": ((r"^\[lathe\]", "[lathe]\nfeed = 0.05"), "twice the nose radius"),
    "one point": (("^(half_worn|discard) = .*", ""), "expected two or more"),
}


@pytest.mark.parametrize(("change", "said"), BAD_SHEETS.values(), ids=BAD_SHEETS)
def test_a_sheet_that_cannot_be_is_refused_in_one_line(
    change: tuple[str, str], said: str, tmp_path: Path, capsys: Capture
) -> None:
    """Among them misprints of published manuals: 0.00197 inch (0.5 mm), TM 9-2815-255-24 p. 3-38."""
    assert exit_code(["commutator", changed(tmp_path, SHEET, change), str(PROFILE), "--json"]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert err.count("\n") == 1
    assert said in err


BAD_ROWS = {
    "bar out of range": ("58,0.2,0.0", "line 2, column bar"),
    "half a bar": ("1.5,0.2,0.0", "line 2, column bar"),
    "track in inches": ("1,1.2,0.0", "line 2, column track"),
    "words": ("1,0.2,high", 'column value: found "high"'),
    "decimal comma": ('1,0.2,"0,5"', "not a comma"),
    "too many cells": ("1,0.2,0,5", "4 cells"),
    "nothing": ("", "no readings"),
    "one bar": ("1,0.2,0.0", "no track with three bars"),
}


@pytest.mark.parametrize(("row", "said"), BAD_ROWS.values(), ids=BAD_ROWS)
def test_a_row_that_cannot_be_is_refused_with_its_line_and_column(
    row: str, said: str, tmp_path: Path, capsys: Capture
) -> None:
    profile = tmp_path / "p.csv"
    profile.write_text(f"bar,track,value\n{row}\n", encoding="utf-8")
    assert exit_code(["commutator", str(SHEET), str(profile), "--json"]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert err.startswith(str(profile))
    assert said in err


@pytest.mark.parametrize(
    ("factor", "said"), [(25.4, "are they in mm or thou"), (1000.0, "are they in mm or thou")]
)
def test_a_profile_in_another_unit_is_asked_about(
    factor: float, said: str, tmp_path: Path, capsys: Capture
) -> None:
    rows = [line.split(",") for line in PROFILE.read_text(encoding="utf-8").splitlines()[2:]]
    profile = tmp_path / "p.csv"
    text = "\n".join(f"{bar},{track},{float(value) * factor:.4f}" for bar, track, value in rows)
    profile.write_text(f"bar,track,value\n{text}\n", encoding="utf-8")
    assert exit_code(["commutator", str(SHEET), str(profile)]) == 2
    assert said in capsys.readouterr().err


BAD_USE = {
    "no profile": ([str(SHEET)], "PROFILE.csv"),
    "no such file": ([str(SHEET), "none.csv"], "none.csv: found no such file"),
    "swapped": ([str(PROFILE), str(SHEET)], "not TOML"),
    "untouched alone": ([str(SHEET), str(PROFILE), "--untouched", "3"], "--cut-to with it"),
    "no such bar": (
        [str(SHEET), str(PROFILE), "--cut-to", "1.237", "--untouched", "99"],
        "bars from 1 to 57",
    ),
    "cut in mm": ([str(SHEET), str(PROFILE), "--cut-to", "31.4"], "near or below the 1.2421 in"),
    "no folder": ([str(SHEET), str(PROFILE), "--picture", "/none/x.svg"], "cannot be written"),
}


@pytest.mark.parametrize(("arguments", "said"), BAD_USE.values(), ids=BAD_USE)
def test_wrong_use_is_one_plain_line(arguments: list[str], said: str, capsys: Capture) -> None:
    assert exit_code(["commutator", *arguments]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert err.count("\n") == 1
    assert said in err
