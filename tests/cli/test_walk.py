"""The walk in the terminal: what it asks, saves, and says, and that nothing typed is ever lost."""

from __future__ import annotations

import os
import random
import signal
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from barwise.cli.main import INTERRUPTED, exit_code
from barwise.files.readings_file import load_readings, parse_readings
from barwise.machine.feed import Feed
from barwise.machine.winding import Winding
from barwise.measure.readings import Reading

SHEET = '[winding]\nkind = "lap"\npoles = 4\nbars = 8\n'
LAP = Winding("lap", poles=4, bars=8)
FEED = ["--feed-from", "1", "--feed-to", "5", "--amps", "10"]
Walk = Callable[..., str]


@pytest.fixture
def sheet(tmp_path: Path) -> Path:
    path = tmp_path / "starter.toml"
    path.write_text(SHEET)
    return path


@pytest.fixture
def walk(sheet: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Walk:
    """Take a walk with typed answers; gives what the terminal showed."""

    def _walk(test: str, *typed: str, options: list[str] | None = None, code: int = 0) -> str:
        lines = iter(typed)

        def answer(prompt: str = "") -> str:
            sys.stdout.write(prompt)
            line = next(lines, None)
            if line is None:
                raise EOFError
            if line == "^C":
                raise KeyboardInterrupt
            return line

        monkeypatch.setattr("builtins.input", answer)
        given = FEED if options is None and test in ("drop", "shaft-drop") else options or []
        assert exit_code(["armature", str(sheet), "--walk", test, *given]) == code
        return capsys.readouterr().out

    return _walk


def saved(sheet: Path) -> tuple[Reading, ...]:
    return load_readings(sheet.with_suffix(".csv"), LAP)


def places(sheet: Path) -> list[tuple[int, str]]:
    return [(reading.start, reading.entered) for reading in saved(sheet)]


def test_a_whole_walk_goes_round_once_and_ends(sheet: Path, walk: Walk) -> None:
    values = ["3.51", "3.52", "3.50", "3.49", "-3.5", "-3.51", "-3.5", "-3.48"]
    shown = walk("drop", *values, "")
    assert [reading.entered for reading in saved(sheet)] == values
    assert saved(sheet)[-1].end == 1
    assert {reading.feed for reading in saved(sheet)} == {Feed(1, 5, 10.0)}
    assert "8 drop readings are saved in" in shown
    assert "OUT OF FAMILY" not in shown


def test_the_feed_is_asked_once_with_the_usual_one_offered(sheet: Path, walk: Walk) -> None:
    shown = walk("drop", "", "99", "6", "-3", "9.8 A", "3.5", "3.4", options=[])
    assert shown.count("Current goes in at bar [1]") == 1
    assert "a bar from 1 to 8, please" in shown
    assert "a current above 0" in shown
    assert {reading.feed for reading in saved(sheet)} == {Feed(1, 6, 9.8)}


def test_a_later_walk_goes_on_where_the_first_stopped_with_its_feed(sheet: Path, walk: Walk) -> None:
    walk("drop", "3.51", "3.52", "q")
    shown = walk("drop", "3.50", "q", options=[])
    assert "2 of 8 places are there already" in shown
    assert "Current goes in" not in shown
    assert places(sheet) == [(1, "3.51"), (2, "3.52"), (3, "3.50")]


def test_a_moved_feed_is_a_new_walk_in_the_same_file(sheet: Path, walk: Walk) -> None:
    walk("drop", "3.51", "q")
    walk("drop", "3.4", "q", options=["--feed-from", "3", "--feed-to", "7"])
    assert [(r.start, r.feed) for r in saved(sheet)] == [
        (1, Feed(1, 5, 10.0)),
        (1, Feed(3, 7, 10.0)),
    ]


def test_back_repeat_skip_and_go_move_along_and_each_value_is_one_more_row(sheet: Path, walk: Walk) -> None:
    shown = walk("drop", "3.1", "3.2", "b", "3.3", "r", "3.4", "s", "g 7", "-3.7", "g 99", "g", "q")
    assert places(sheet) == [(1, "3.1"), (2, "3.2"), (2, "3.3"), (2, "3.4"), (7, "-3.7")]
    assert "was 3.2 mV" in shown
    assert shown.count("g and a bar from 1 to 8, please") == 2


def test_places_left_out_are_come_back_to_before_the_end(sheet: Path, walk: Walk) -> None:
    walk("drop", "g 7", "-3.7", "-3.8", "3.1", "q")
    assert [start for start, _ in places(sheet)] == [7, 8, 1]
    shown = walk("drop", "3.2", "s", "3.4", "-3.5", "-3.6", "", options=[])
    assert [start for start, _ in places(sheet)] == [7, 8, 1, 2, 4, 5, 6]
    assert "All read, 1 skipped" in shown


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("abc", 'found "abc", expected a number such as 3.59'),
        ("3,59", "a decimal point, not a comma: 3.59"),
        ("nan", 'found "nan"'),
        ("3.5 V", "mV: one unit for the whole walk"),
        ("3.5 mohm", "mV: one unit for the whole walk"),
    ],
)
def test_what_cannot_be_read_is_not_saved_and_the_same_bars_are_asked_again(
    typed: str, said: str, sheet: Path, walk: Walk
) -> None:
    shown = walk("drop", typed, "3.59", "q")
    assert "not saved" in shown
    assert said in shown
    assert places(sheet) == [(1, "3.59")]


@pytest.mark.parametrize("typed", ["3.59 mV", "3.59mV", "  3.59 ", "+3.59"])
def test_a_gauge_that_types_its_unit_is_understood(typed: str, sheet: Path, walk: Walk) -> None:
    walk("drop", typed, "q")
    (reading,) = saved(sheet)
    assert (reading.value, reading.unit) == (pytest.approx(3.59e-3), "mV")


def test_a_reading_out_of_family_is_said_at_once_and_kept(sheet: Path, walk: Walk) -> None:
    shown = walk("drop", "3.5", "3.51", "3.5", "3.49", "-3.5", "-1.2", "r", "-3.5", "q")
    assert "OUT OF FAMILY: -1.2 where about -3.5 mV was expected" in shown
    assert places(sheet)[-2:] == [(6, "-1.2"), (6, "-3.5")]


def test_the_lamp_takes_one_letter_and_an_insulation_tester_its_ohms(sheet: Path, walk: Walk) -> None:
    walk("ground", "d", "lit", "2.5 Mohm", "800 kohm", "5 mV", "q")
    states = [(r.state, r.value) for r in saved(sheet)]
    assert states == [("dark", None), ("lit", None), (None, 2.5e6), (None, 8e5)]


@pytest.mark.parametrize("test", ["drop", "induced", "resistance", "ground", "shaft-drop"])
def test_every_walk_shows_how_to_probe_and_the_cautions_of_its_test(test: str, walk: Walk) -> None:
    shown = walk(test, "q")
    assert "bars 1-2" in shown or "bar 1 to shaft" in shown
    assert ("! " in shown) == (test != "resistance")


def test_the_unit_may_be_chosen_and_then_stays(
    sheet: Path, walk: Walk, capsys: pytest.CaptureFixture[str]
) -> None:
    walk("induced", "45.1", options=["--unit", "V"])
    assert saved(sheet)[0].value == pytest.approx(45.1)
    walk("induced", options=["--unit", "mV"], code=2)
    walk("resistance", options=["--unit", "mV"], code=2)
    walk("induced", options=["--feed-from", "1"], code=2)


def test_control_c_and_the_end_of_input_leave_what_was_typed(sheet: Path, walk: Walk) -> None:
    assert "1 drop reading is saved" in walk("drop", "3.5", "^C")
    assert "2 drop readings are saved" in walk("drop", "3.5", options=[])


def test_control_c_while_the_feed_is_asked_leaves_quietly(walk: Walk) -> None:
    assert "0 drop readings" in walk("drop", "^C", options=[])
    assert INTERRUPTED == 130


def test_a_last_line_torn_by_a_power_cut_is_set_aside_and_said(sheet: Path, walk: Walk) -> None:
    walk("drop", "3.51", "q")
    path = sheet.with_suffix(".csv")
    path.write_text(path.read_text() + "drop,2,3,3.5")
    shown = walk("drop", "3.52", "q", options=[])
    assert "the last line was unfinished and is set aside" in shown
    assert places(sheet) == [(1, "3.51"), (2, "3.52")]


@pytest.mark.parametrize("seed", range(6))
def test_a_killed_walk_has_lost_no_reading_that_it_asked_beyond(seed: int, sheet: Path) -> None:
    """Kill -9 at a random moment: every value before the last prompt seen is in the file."""
    chance = random.Random(seed)
    command = [sys.executable, "-u", "-m", "barwise.cli.main"]
    command += ["armature", str(sheet), "--walk", "drop", *FEED]
    process = subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True)
    assert process.stdin is not None
    assert process.stdout is not None
    _until_prompts(process.stdout, 1)
    answered = chance.randint(0, 6)
    for value in range(answered):
        process.stdin.write(f"3.{value}0\n")
        process.stdin.flush()
        _until_prompts(process.stdout, 1)
    process.stdin.write("9.99\n" * chance.randint(0, 2))
    process.stdin.flush()
    os.kill(process.pid, signal.SIGKILL)
    process.wait()
    process.stdin.close()
    process.stdout.close()
    path = sheet.with_suffix(".csv")
    text = path.read_text() if path.exists() else ""
    kept = [r.entered for r in parse_readings(text, LAP, may_be_empty=True)]
    assert kept[:answered] == [f"3.{value}0" for value in range(answered)]
    assert set(kept[answered:]) <= {"9.99"}


def _until_prompts(shown: object, count: int) -> None:
    """Read what the walk shows until it has asked `count` times."""
    while count:
        character = shown.read(1)  # type: ignore[attr-defined]
        assert character, "the walk ended before it asked"
        count -= character == ">"
