"""What a hostile or tired hand may give `barwise armature`: an answer, or one line and exit code 2.

Never a traceback, a warning (the test run makes them errors), NaN in the JSON, or half an answer.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from barwise.cli.main import exit_code

DEMO = Path(__file__).parents[2] / "examples" / "demo" / "readings.csv"
HEADER = "test,from,to,value,unit,feed_from,feed_to,feed_amps"
ROWS = [line for line in DEMO.read_text(encoding="utf-8").splitlines()[2:] if line]
DROPS = [row for row in ROWS if row.startswith("drop")]
WAVE = {"kind": "wave", "poles": 4, "bars": 57, "progression": "retrogressive"}
DUPLEX = {"kind": "lap", "poles": 4, "bars": 32, "plex": 2}

Run = Callable[..., tuple[int, str, str]]


@pytest.fixture
def run(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Run:
    """Run the command on a winding and the rows of a readings file: exit code, stdout, stderr."""

    def of(rows: list[str], sheet: dict[str, Any] = WAVE, *options: str) -> tuple[int, str, str]:
        winding, readings = tmp_path / "w.toml", tmp_path / "r.csv"
        keys = "\n".join(f"{key} = {json.dumps(value)}" for key, value in sheet.items())
        winding.write_text(f"[winding]\n{keys}\n")
        readings.write_text("\n".join([HEADER, *rows]) + "\n")
        code = exit_code(["armature", str(winding), str(readings), *options])
        return code, *capsys.readouterr()

    return of


def answer(run: Run, rows: list[str], sheet: dict[str, Any] = WAVE) -> dict[str, Any]:
    """The strict JSON answer, after the same in words was printed without fuss."""
    code, out, err = run(rows, sheet)
    assert (code, err) == (0, "")
    assert out.startswith(("SOUND", "FAULTY", "UNDECIDED"))
    assert "nan" not in out.lower().split()
    code, out, err = run(rows, sheet, "--json")
    assert (code, err) == (0, "")
    told: dict[str, Any] = json.loads(out, parse_constant=lambda word: pytest.fail(f"{word} in JSON"))
    return told


def with_value(row: str, value: str) -> str:
    cells = row.split(",")
    cells[3] = value
    return ",".join(cells)


def turned(row: str) -> str:
    value = row.split(",")[3]
    return with_value(row, value.removeprefix("-") if value.startswith("-") else f"-{value}")


def walk(test: str, value: str, unit: str = "mV", fed: str = ",,", bars: int = 57) -> list[str]:
    return [f"{test},{bar},{bar % bars + 1},{value},{unit},{fed}" for bar in range(1, bars + 1)]


REFUSED = {
    "header only": ([], "found no readings"),
    "bar 0": (["drop,0,1,3.5,mV,1,15,10"], "line 2, column from: found bar 0"),
    "bar 58 of 57": (["drop,57,58,3.5,mV,1,15,10"], "column to: found bar 58, expected a bar from 1 to 57"),
    "a bar and itself": (["drop,5,5,3.5,mV,1,15,10"], "column to: found bar 5 again"),
    "half a bar": (["drop,1.5,2,3.5,mV,1,15,10"], "column from"),
    "NaN": (["drop,1,2,nan,mV,1,15,10"], 'column value: found "nan"'),
    "infinite": (["drop,1,2,inf,mV,1,15,10"], 'column value: found "inf"'),
    "too large": (["drop,1,2,1e999,mV,1,15,10"], "column value"),
    "off the scale": (["drop,1,2,OL,mV,1,15,10"], "higher range"),
    "text": (["drop,1,2,good,mV,1,15,10"], 'column value: found "good"'),
    "decimal comma in quotes": (['drop,1,2,"3,59",mV,1,15,10'], "a decimal point, not a comma: 3.59"),
    "decimal comma": (["drop,1,2,3,59,mV,1,15,10"], "decimals need a point"),
    "nothing read": (["drop,1,2,,mV,1,15,10"], "column value: found nothing"),
    "two units": ([DROPS[0], "drop,2,3,0.0035,V,1,15,10"], "line 3, column unit"),
    "unit of another test": (["drop,1,2,3.5,mohm,1,15,10"], "column unit"),
    "no unit": (["drop,1,2,3.5,,1,15,10"], "column unit: found nothing"),
    "no feed": (["drop,1,2,3.5,mV,,,"], "column feed_from: found nothing"),
    "feed at one bar": (["drop,1,2,3.5,mV,4,4,10"], "column feed_to: found bar 4 again"),
    "feed bar above": (["drop,1,2,3.5,mV,1,99,10"], "column feed_to: found bar 99"),
    "no current": (["drop,1,2,3.5,mV,1,15,0"], "column feed_amps"),
    "feed for the exciter": (["induced,1,2,45,mV,1,15,10"], "column feed_from"),
    "a lamp that flickers": (["ground,1,shaft,flickers,,,,"], "dark, lit"),
    "unknown test": (["growl,1,2,45,mV,,,"], "column test"),
    "blade without slots": (["blade,1,,quiet,,,,"], "line 2, column test"),
}


@pytest.mark.parametrize(("rows", "said"), REFUSED.values(), ids=REFUSED)
def test_what_cannot_be_meant_is_refused_in_one_line_that_says_where(
    rows: list[str], said: str, run: Run
) -> None:
    code, out, err = run(rows, WAVE, "--json")
    assert (code, out) == (2, "")
    assert err.count("\n") == 1
    assert said in err
    assert "r.csv" in err


def test_an_empty_file_is_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    empty, sheet = tmp_path / "empty", tmp_path / "w.toml"
    empty.touch()
    sheet.write_text('[winding]\nkind = "lap"\npoles = 4\nbars = 32\n')
    for arguments in ([str(sheet), str(empty)], [str(empty), str(DEMO)]):
        assert exit_code(["armature", *arguments]) == 2
        out, err = capsys.readouterr()
        assert (out, err.count("\n")) == ("", 1)
        assert "an empty file" in err


def test_one_reading_too_many_on_the_commutator_is_the_bar_that_is_not_there(run: Run) -> None:
    code, out, err = run([*DROPS, "drop,58,1,3.5,mV,1,15,10"])
    assert (code, out) == (2, "")
    assert "line 59, column from: found bar 58" in err


NOTHING_TO_GO_BY = {
    "one drop": DROPS[:1],
    "one induced": ["induced,1,2,45.1,mV,,,"],
    "one resistance": ["resistance,1,2,0.7,mohm,,,"],
    "one nothing": ["drop,1,2,0,mV,1,15,10"],
    "one shaft-drop": ["shaft-drop,1,shaft,8.4,mV,1,15,10"],
    "one lamp": ["ground,1,shaft,dark,,,,"],
    "only lamps, all dark": [f"ground,{bar},shaft,dark,,,," for bar in range(1, 58)],
    "only insulation": [f"ground,{bar},shaft,500,Mohm,,," for bar in range(1, 58)],
    "drops of nothing": walk("drop", "0.00", fed="1,15,10"),
    "exciter off": walk("induced", "0.0"),
    "resistance of nothing": walk("resistance", "0", "mohm"),
    "shaft of nothing": [f"shaft-drop,{bar},shaft,0.00,mV,1,15,10" for bar in range(1, 58)],
    "signs left off": walk("drop", "3.50", fed="1,15,10"),
}


@pytest.mark.parametrize("rows", NOTHING_TO_GO_BY.values(), ids=NOTHING_TO_GO_BY)
def test_readings_that_say_nothing_are_undecided_and_ask_for_more(rows: list[str], run: Run) -> None:
    told = answer(run, rows)
    assert told["verdict"] == "undecided"
    assert told["next_reading"] is not None


def test_readings_of_nothing_ask_whether_the_feed_or_the_exciter_is_on(run: Run) -> None:
    assert any(
        "is the feed on" in note for note in answer(run, NOTHING_TO_GO_BY["drops of nothing"])["notes"]
    )
    assert any("is the exciter on" in note for note in answer(run, NOTHING_TO_GO_BY["exciter off"])["notes"])


def test_signs_left_off_or_changed_half_way_are_said_to_be_wrong(run: Run) -> None:
    half = [turned(row) if row in DROPS[:28] else row for row in ROWS]
    for rows in (NOTHING_TO_GO_BY["signs left off"], half):
        assert any("wrong sign" in note for note in answer(run, rows)["notes"])
    code, out, _ = run(half)
    assert code == 0
    assert out.splitlines()[0].endswith("READINGS CONTRADICT EACH OTHER")


def test_wrong_sign_throughout_is_noticed_and_changes_nothing_else(run: Run) -> None:
    told = answer(run, [turned(row) if row.startswith("drop") else row for row in ROWS])
    assert told["findings"][0]["coil"] == 23
    assert any("swapped" in note for note in told["notes"])


def test_resistances_all_minus_are_used_without_the_sign(run: Run) -> None:
    rows = walk("resistance", "-0.70", "mohm")
    rows[10] = with_value(rows[10], "-0.35")
    rows[39] = with_value(rows[39], "-0.35")
    told = answer(run, rows)
    assert any("leads were swapped" in note for note in told["notes"])


@pytest.mark.parametrize("part", ["every second bar", "one half"])
def test_half_the_bars_are_enough_to_find_what_they_show_and_the_rest_is_asked_for(
    part: str, run: Run
) -> None:
    keep = (lambda bar: bar % 2 == 0) if part == "every second bar" else (lambda bar: 15 <= bar <= 43)
    told = answer(run, [row for row in ROWS if keep(int(row.split(",")[1]))])
    assert told["verdict"] in ("faulty", "undecided")
    assert told["next_reading"]["test"] == "drop"


def test_the_same_bar_three_times_and_doubled_rows_are_used(run: Run) -> None:
    told = answer(run, [*ROWS, *ROWS, *ROWS])
    assert told["findings"][0]["coil"] == 23
    assert told["findings"][0]["probability"] > 0.99
    assert [s["from"] for s in told["suspect_readings"]] == [39, 39, 39]


def test_a_lit_lamp_alone_is_a_ground_without_a_place(run: Run) -> None:
    rows = [f"ground,{bar},shaft,lit,,,," for bar in range(1, 58)]
    told = answer(run, rows)
    assert told["verdict"] == "faulty"
    assert told["findings"][0]["fault"] == "grounded-coil"
    assert told["next_reading"]["test"] == "shaft-drop"
    _, out, _ = run(rows)
    assert out.startswith("FAULTY: GROUNDED COIL, PLACE NOT SETTLED\n")


def test_a_strip_that_stays_quiet_proves_little_and_one_that_buzzes_is_heard(run: Run) -> None:
    slotted = {**WAVE, "slots": 29}
    quiet = [f"blade,{slot},,quiet,,,," for slot in range(1, 30)]
    assert answer(run, quiet, slotted)["verdict"] in ("undecided", "sound")
    buzz = [row.replace("quiet", "buzz") if row.split(",")[1] in ("3", "10") else row for row in quiet]
    told = answer(run, buzz, slotted)
    assert told["findings"][0]["fault"] in ("shorted-coil", "turn-short")


def test_a_duplex_winding_is_read_ring_by_ring_and_the_ring_not_read_is_asked_for(run: Run) -> None:
    odd = [
        f"drop,{bar},{(bar + 1) % 32 + 1},{'' if bar < 17 else '-'}3.50,mV,1,17,10" for bar in range(1, 33, 2)
    ]
    lamps = [f"ground,{bar},shaft,dark,,,," for bar in range(1, 33)]
    told = answer(run, [*odd, *lamps], DUPLEX)
    assert told["verdict"] == "undecided"
    following = told["next_reading"]
    assert (following["from"], following["to"]) == (2, 4)
    assert (following["feed_from"], following["feed_to"]) == (2, 18)
    even = [
        f"drop,{bar},{(bar + 1) % 32 + 1},{'' if bar < 18 else '-'}3.50,mV,2,18,10" for bar in range(2, 33, 2)
    ]
    assert answer(run, [*odd, *even, *lamps], DUPLEX)["verdict"] == "sound"


def test_bars_of_different_rings_are_refused_with_the_line(run: Run) -> None:
    code, out, err = run(["drop,1,3,3.5,mV,1,17,10", "drop,1,2,3.5,mV,1,17,10"], DUPLEX)
    assert (code, out) == (2, "")
    assert "line 3" in err


def test_equalizers_at_some_bars_only_are_refused_rather_than_diagnosed_wrongly(run: Run) -> None:
    sheet = {"kind": "lap", "poles": 4, "bars": 32, "equalizers": 5}
    code, out, err = run(["drop,1,2,3.5,mV,1,9,10"], sheet, "--json")
    assert (code, out, err.count("\n")) == (2, "", 1)
    assert "a diagnosis needs every bar equalized (16) or none" in err


@pytest.mark.parametrize("bars", [3, 4, 200])
def test_very_small_and_very_large_commutators_are_answered(bars: int, run: Run) -> None:
    sheet = {"kind": "lap", "poles": 2, "bars": bars}
    half = bars // 2
    one_way, other = 10 * (bars - half) / bars, -10 * half / bars
    drops = [
        f"drop,{bar},{bar % bars + 1},{one_way if bar <= half else other:.3f},mV,1,{1 + half},10.0"
        for bar in range(1, bars + 1)
    ]
    told = answer(run, drops, sheet)
    assert told["verdict"] in ("sound", "undecided")


def test_ten_thousand_rows_are_no_burden(run: Run) -> None:
    steps = ("-0.01", "0.00", "0.01", "0.00")
    rows = [
        with_value(row, f"{float(row.split(',')[3]) + float(steps[n % 4]):.2f}")
        for n in range(176)
        for row in DROPS
    ]
    assert len(rows) > 10_000
    code, out, err = run(rows, WAVE, "--json")
    assert (code, err) == (0, "")
    told = json.loads(out)
    assert told["findings"][0]["coil"] == 23
