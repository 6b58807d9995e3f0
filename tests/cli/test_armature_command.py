"""`barwise armature` from outside: exit codes, what goes to which stream, and bad input."""

from __future__ import annotations

import csv
import io
import json
import subprocess
import sys
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest

from barwise import __version__
from barwise.cli.main import exit_code

DEMO = Path(__file__).parents[2] / "examples" / "demo"
WINDING, READINGS = str(DEMO / "winding.toml"), str(DEMO / "readings.csv")
HEADER = "test,from,to,value,unit,feed_from,feed_to,feed_amps"


def run(*arguments: str) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "barwise.cli.main", *arguments]
    return subprocess.run(command, capture_output=True, text=True, check=False)


def test_the_demo_prints_one_json_object_that_finds_the_joint_and_the_bad_touch() -> None:
    done = run("armature", "--json", WINDING, READINGS)
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.count("\n") == 1
    answer = json.loads(done.stdout)
    assert answer["verdict"] == "faulty"
    first = answer["findings"][0]
    assert (first["fault"], first["coil"]) == ("high-resistance-joint", 23)
    assert first["severity"]["factor_low"] <= 1.62 <= first["severity"]["factor_high"] + 0.05
    assert [(s["from"], s["to"]) for s in answer["suspect_readings"]] == [(39, 40)]


def test_the_demo_says_the_same_in_words(capsys: pytest.CaptureFixture[str]) -> None:
    assert exit_code(["armature", WINDING, READINGS]) == 0
    out = capsys.readouterr().out
    assert out.startswith("FAULTY: HIGH-RESISTANCE JOINT, COIL 23 (bars 23 and 51)\n")
    assert "Readings not to trust" in out
    assert "39-40" in out


def test_the_rows_may_stand_in_any_order(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    comment, header, *rows = Path(READINGS).read_text(encoding="utf-8").splitlines()
    turned = tmp_path / "turned.csv"
    turned.write_text("\n".join([comment, header, *sorted(rows)]) + "\n")
    assert exit_code(["armature", WINDING, str(turned), "--json"]) == 0
    answer = json.loads(capsys.readouterr().out)
    assert answer["findings"][0]["coil"] == 23


def test_leads_swapped_throughout_are_noticed_and_the_fault_is_still_found(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    rows = list(csv.reader(io.StringIO(Path(READINGS).read_text(encoding="utf-8"))))
    for row in rows[2:]:
        if row[0] == "drop":
            row[3] = row[3].removeprefix("-") if row[3].startswith("-") else f"-{row[3]}"
    swapped = tmp_path / "swapped.csv"
    swapped.write_text("\n".join(",".join(row) for row in rows[1:]) + "\n")
    assert exit_code(["armature", WINDING, str(swapped), "--json"]) == 0
    answer = json.loads(capsys.readouterr().out)
    assert answer["findings"][0]["coil"] == 23
    assert any("swapped" in note for note in answer["notes"])


def test_half_the_bars_and_one_pair_read_three_times_still_give_an_answer(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    lines = Path(READINGS).read_text(encoding="utf-8").splitlines()
    half = [line for line in lines[2:] if int(line.split(",")[1]) <= 28]
    some = tmp_path / "half.csv"
    some.write_text("\n".join([HEADER, *half, half[21], half[21]]) + "\n")
    assert exit_code(["armature", WINDING, str(some), "--json"]) == 0
    answer = json.loads(capsys.readouterr().out)
    assert any(limit["hidden"] or limit["why"] for limit in answer["smallest_detectable"].values())


def test_the_picture_is_well_formed_svg_and_the_answer_still_comes(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    picture = tmp_path / "out.svg"
    assert exit_code(["armature", WINDING, READINGS, "--picture", str(picture), "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["verdict"] == "faulty"
    assert ET.parse(picture).getroot().tag.endswith("svg")


BAD_ROWS = {
    "an empty file": ("", "found an empty file"),
    "unknown test": (f"{HEADER}\ndorp,1,2,3.5,mV,1,15,10\n", "line 2, column test"),
    "bar 0": (f"{HEADER}\ndrop,0,2,3.5,mV,1,15,10\n", "line 2, column from: found bar 0"),
    "bar above": (f"{HEADER}\ndrop,57,58,3.5,mV,1,15,10\n", "line 2, column to: found bar 58"),
    "text for a number": (f"{HEADER}\ndrop,1,2,abc,mV,1,15,10\n", 'column value: found "abc"'),
    "NaN": (f"{HEADER}\ndrop,1,2,NaN,mV,1,15,10\n", 'column value: found "NaN"'),
    "two units": (
        f"{HEADER}\ndrop,1,2,3.5,mV,1,15,10\ndrop,2,3,3.5,uV,1,15,10\n",
        "line 3, column unit",
    ),
    "no feed": (f"{HEADER}\ndrop,1,2,3.5,mV,,,\n", "line 2, column feed_from: found nothing"),
}


@pytest.mark.parametrize(("text", "said"), BAD_ROWS.values(), ids=BAD_ROWS)
def test_bad_readings_exit_2_with_one_line_on_stderr_and_nothing_on_stdout(
    text: str, said: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "readings.csv"
    path.write_text(text)
    assert exit_code(["armature", WINDING, str(path), "--json"]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert err.startswith(str(path))
    assert err.count("\n") == 1
    assert said in err


BAD_USE = {
    "no winding": (["armature"], "WINDING.toml"),
    "no readings": (["armature", WINDING], "--walk drop"),
    "no such file": (["armature", WINDING, "none.csv"], "none.csv: found no such file"),
    "no such winding": (["armature", "none.toml", READINGS], "none.toml: found no such file"),
    "readings as winding": (["armature", READINGS, WINDING], "not TOML"),
    "unknown option": (["armature", WINDING, READINGS, "--jsn"], "--jsn"),
    "unknown command": (["armoture"], "armoture"),
    "unknown walk": (["armature", WINDING, "--walk", "stroll"], "stroll"),
    "walk and json": (["armature", WINDING, "--walk", "drop", "--json"], "--walk"),
    "feed without walk": (["armature", WINDING, READINGS, "--feed-from", "3"], "--feed-from"),
    "no folder": (["armature", WINDING, READINGS, "--picture", "/none/x.svg"], "be written"),
}


@pytest.mark.parametrize(("arguments", "said"), BAD_USE.values(), ids=BAD_USE)
def test_wrong_use_exits_2_with_one_plain_line(
    arguments: list[str], said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert exit_code(arguments) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert err.count("\n") == 1
    assert said in err


def test_a_winding_that_cannot_be_wound_says_what_would_work(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "w.toml"
    path.write_text('[winding]\nkind = "wave"\npoles = 4\nbars = 58\n')
    assert exit_code(["armature", str(path), READINGS]) == 2
    assert "nearest 57, 59" in capsys.readouterr().err


def test_bars_of_two_separate_rings_are_refused_with_file_and_line(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    sheet, path = tmp_path / "w.toml", tmp_path / "r.csv"
    sheet.write_text('[winding]\nkind = "lap"\npoles = 4\nbars = 16\nplex = 2\n')
    path.write_text(f"{HEADER}\ndrop,1,2,3.5,mV,1,5,10\n")
    assert exit_code(["armature", str(sheet), str(path)]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert err.startswith(f"{path} line 2")


def test_version_and_help_go_to_stdout_and_exit_0() -> None:
    version = run("--version")
    assert (version.returncode, version.stdout) == (0, f"barwise {__version__}\n")
    for arguments in ([], ["--help"], ["armature", "--help"]):
        told = run(*arguments)
        assert (told.returncode, told.stderr) == (0, "")
        assert "armature" in told.stdout


def test_the_command_line_starts_without_the_physics() -> None:
    """Start-up must stay short: the physics is loaded only when there is something to compute."""
    code = (
        "import sys, barwise.cli.main, barwise.files.winding_file, barwise.files.readings_file;"
        "print(*sorted({m.split('.')[0] for m in sys.modules} & {'numpy', 'scipy', 'pint',"
        " 'rich', 'matplotlib'}))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == ""


def test_nothing_of_scipy_is_loaded_until_something_computes_with_it() -> None:
    """Its parts take longer to load than most commands take to run."""
    code = (
        "import sys, pkgutil, importlib, barwise\n"
        "parts = [importlib.import_module(f'barwise.{name}') for name in"
        " ('machine', 'measure', 'inspect', 'files', 'route')]\n"
        "for part in parts:\n"
        "    for one in pkgutil.walk_packages(part.__path__, part.__name__ + '.'):\n"
        "        importlib.import_module(one.name)\n"
        "print(*sorted(name for name in sys.modules if name.split('.')[0] == 'scipy'))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == ""
