"""Adding a reading to the file: durable, nothing deleted, and safe after a power cut."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from barwise.errors import InputError
from barwise.files.readings_file import HEADER, load_readings, parse_readings
from barwise.files.readings_log import UNFINISHED, append_reading
from barwise.machine.feed import Feed
from barwise.machine.winding import Winding
from barwise.measure.readings import Reading

LAP = Winding("lap", poles=4, bars=32, slots=16)
FEED = Feed(1, 17, 10.0)
DROP = Reading("drop", 3, 4, 3.52e-3, None, 1e-5, FEED, "3.52", "mV")
OTHERS = [
    Reading("ground", 1, None, state="dark", entered="dark"),
    Reading("ground", 1, None, 2.5e6, None, 1e5, None, "2.5", "Mohm"),
    Reading("induced", 32, 1, 45.1e-3, None, 1e-4, None, "45.1", "mV"),
    Reading("shaft-drop", 9, None, -8.41e-3, None, 1e-5, FEED, "-8.41", "mV"),
    Reading("blade", 5, None, state="buzz", entered="buzz"),
    Reading("drop", 3, 4, 3.52e-3, None, 1e-5, Feed(2, 18, 9.87), "3.52", "mV"),
]


def same(one: Reading, other: Reading) -> bool:
    names = ("test", "start", "end", "value", "state", "feed", "entered", "unit")
    return all(getattr(one, name) == getattr(other, name) for name in names)


@pytest.mark.parametrize("reading", [DROP, *OTHERS], ids=lambda r: f"{r.test}-{r.entered}")
def test_what_is_written_is_read_back_as_the_same_reading(tmp_path: Path, reading: Reading) -> None:
    path = tmp_path / "r.csv"
    assert append_reading(path, reading) is None
    (back,) = load_readings(path, LAP)
    assert same(back, reading)


def test_a_new_file_gets_its_header_and_rows_come_in_the_order_taken(tmp_path: Path) -> None:
    path = tmp_path / "r.csv"
    for reading in (DROP, *OTHERS):
        append_reading(path, reading)
    lines = path.read_text().splitlines()
    assert lines[0] == HEADER
    assert len(lines) == 2 + len(OTHERS)


def test_the_row_is_synced_to_disk_before_the_call_returns(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "r.csv"
    on_disk: list[str] = []
    fsync = os.fsync

    def noted(handle: int) -> None:
        fsync(handle)
        on_disk.append(path.read_text())

    monkeypatch.setattr(os, "fsync", noted)
    append_reading(path, DROP)
    assert on_disk[-1].endswith("drop,3,4,3.52,mV,1,17,10.0\n")


def test_the_columns_and_line_ends_of_the_file_are_kept(tmp_path: Path) -> None:
    path = tmp_path / "r.csv"
    path.write_bytes(b"\xef\xbb\xbf# invented\r\nunit,value,to,from,test\r\n")
    append_reading(path, OTHERS[2])
    assert path.read_bytes().endswith(b"test\r\nmV,45.1,1,32,induced\r\n")
    with pytest.raises(InputError, match="no column feed_from"):
        append_reading(path, DROP)


def test_a_last_line_without_its_end_that_is_whole_is_kept(tmp_path: Path) -> None:
    path = tmp_path / "r.csv"
    rows = "drop,1,2,3.5,mV,1,17,10.0\ndrop,2,3,3.5,mV,1,17,10.0"
    path.write_text(f"{HEADER}\n{rows}")
    assert append_reading(path, DROP) is None
    assert [r.start for r in load_readings(path, LAP)] == [1, 2, 3]


def test_a_current_that_may_have_lost_a_digit_is_not_trusted(tmp_path: Path) -> None:
    path = tmp_path / "r.csv"
    path.write_text(f"{HEADER}\ndrop,1,2,3.5,mV,1,17,10.0\ndrop,2,3,3.5,mV,1,17,1")
    note = append_reading(path, DROP)
    assert note is not None
    assert "unfinished" in note
    assert [r.start for r in load_readings(path, LAP)] == [1, 3]
    assert f"{UNFINISHED}drop,2,3,3.5,mV,1,17,1\n" in path.read_text()


WHOLE = f"{HEADER}\n" + "".join(
    f"drop,{n},{n + 1},3.{50 + n},mV,1,17,10.0\nground,{n},shaft,dark,,,,\n" for n in range(1, 6)
)


@given(st.integers(0, len(WHOLE)))
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_wherever_a_power_cut_tears_the_file_each_row_is_the_true_one_or_none(
    tmp_path: Path, cut: int
) -> None:
    path = tmp_path / "r.csv"
    path.write_text(WHOLE[:cut])
    append_reading(path, DROP)
    assert WHOLE[:cut].rpartition("\n")[2] in path.read_text()
    *before, last = load_readings(path, LAP)
    assert same(last, DROP)
    whole = parse_readings(WHOLE, LAP)
    assert all(same(one, other) for one, other in zip(before, whole, strict=False))
    ended = max(WHOLE[:cut].count("\n") - 1, 0)
    assert ended <= len(before) <= ended + 1


def test_a_folder_that_is_not_there_is_said_plainly(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="cannot be written"):
        append_reading(tmp_path / "none" / "r.csv", DROP)
