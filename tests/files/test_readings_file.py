"""Reading the readings file: what is understood, and what is refused with its line and column."""

from __future__ import annotations

import time
from pathlib import Path

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from barwise.errors import InputError
from barwise.files.readings_file import COLUMNS, HEADER, load_readings, parse_readings
from barwise.machine.feed import Feed
from barwise.machine.winding import Winding
from barwise.measure.entered import read_number
from barwise.measure.readings import Reading

WAVE = Winding("wave", poles=4, bars=57, progression="retrogressive", slots=29)
EVERY_TEST = """drop,1,2,3.59,mV,1,15,10.0
induced,1,2,45.1,mV,,,
resistance,1,2,0.71,mohm,,,
ground,1,shaft,dark,,,,
ground,2,shaft,2.5,Mohm,,,
shaft-drop,1,shaft,8.41,mV,1,15,10.0
blade,5,,quiet,,,,
"""


def read(rows: str, header: str = HEADER) -> tuple[Reading, ...]:
    return parse_readings(f"{header}\n{rows}\n", WAVE, "r.csv")


def test_every_test_is_understood_and_comes_out_in_si() -> None:
    drop, induced, resistance, lamp, megger, shaft, blade = read(EVERY_TEST)
    assert drop.value == pytest.approx(3.59e-3)
    assert drop.resolution == pytest.approx(1e-5)
    assert (drop.start, drop.end, drop.feed) == (1, 2, Feed(1, 15, 10.0))
    assert (drop.entered, drop.unit, drop.line) == ("3.59", "mV", 2)
    assert induced.value == pytest.approx(45.1e-3)
    assert induced.feed is None
    assert resistance.value == pytest.approx(0.71e-3)
    assert (lamp.state, lamp.value, lamp.end) == ("dark", None, None)
    assert (megger.state, megger.value) == (None, 2.5e6)
    assert (shaft.end, shaft.feed) == (None, Feed(1, 15, 10.0))
    assert (blade.start, blade.state, blade.end) == (5, "quiet", None)


def test_rows_may_come_in_any_order_in_part_and_again() -> None:
    three = read("drop,30,31,3.5,mV,1,15,10\ndrop,2,3,3.5,mV,1,15,10\ndrop,30,31,3.6,mV,1,15,10")
    assert [(r.start, r.line) for r in three] == [(30, 2), (2, 3), (30, 4)]


def test_a_number_that_lost_its_last_zero_has_the_resolution_of_the_others() -> None:
    rows = "drop,1,2,3.59,mV,1,15,10\ndrop,2,3,3.5,mV,1,15,10\ninduced,1,2,45.1,mV,,,"
    assert [r.resolution for r in read(rows)] == pytest.approx([1e-5, 1e-5, 1e-4])


def test_comments_blank_rows_crlf_and_byte_order_mark_are_passed_over(tmp_path: Path) -> None:
    path = tmp_path / "r.csv"
    text = f"# an invented case\n\n{HEADER}\n,,,,,,,\ndrop,1,2,3.59,mV,1,15,10.0\n# end\n"
    path.write_bytes(b"\xef\xbb\xbf" + text.replace("\n", "\r\n").encode())
    (reading,) = load_readings(path, WAVE)
    assert reading.line == 5


def test_columns_are_found_by_name_and_the_feed_may_be_left_out_where_none_is_needed() -> None:
    (reading,) = read("mV,45.1,2,1,induced", header="unit,value,to,from,test")
    assert (reading.start, reading.end, reading.value) == (1, 2, pytest.approx(45.1e-3))


def test_ohm_prefixes_may_mix_for_ground_and_the_signs_are_understood() -> None:
    one, two = read("ground,1,,800,kohm,,,\nground,2,,2.5,M\N{OHM SIGN},,,")
    assert (one.value, two.value) == (800e3, 2.5e6)


def test_a_minus_sign_from_a_typesetter_is_a_minus() -> None:
    (reading,) = read("drop,1,2,\N{MINUS SIGN}3.59,mV,1,15,10")
    assert reading.value == pytest.approx(-3.59e-3)


@pytest.mark.parametrize(
    ("row", "said"),
    [
        ("dorp,1,2,3.5,mV,1,15,10", r'line 2, column test: found "dorp", .*nearest: drop'),
        (",1,2,3.5,mV,1,15,10", "column test: found nothing"),
        ("drop,0,1,3.5,mV,1,15,10", "column from: found bar 0, expected a bar from 1 to 57"),
        ("drop,58,1,3.5,mV,1,15,10", "column from: found bar 58, expected a bar from 1 to 57"),
        ("drop,1,99,3.5,mV,1,15,10", "column to: found bar 99"),
        ("drop,1.5,2,3.5,mV,1,15,10", 'column from: found "1.5"'),
        ("drop,one,2,3.5,mV,1,15,10", 'column from: found "one"'),
        ("drop,3,3,3.5,mV,1,15,10", "column to: found bar 3 again"),
        ("drop,1,shaft,3.5,mV,1,15,10", 'column to: found "shaft", expected the other bar'),
        ("ground,1,2,dark,,,,", 'column to: found "2", expected shaft'),
        ("blade,30,,quiet,,,,", "column from: found slot 30, expected a slot from 1 to 29"),
        ("blade,3,4,quiet,,,,", 'column to: found "4", expected nothing'),
        ("blade,3,,3.5,,,,", "expected quiet or buzz"),
        ("ground,1,shaft,dim,,,,", "expected dark, lit or a number of ohms"),
        ("ground,1,shaft,dark,ohm,,,", "column unit: .*no unit beside dark"),
        ("drop,1,2,abc,mV,1,15,10", 'value: found "abc", expected a number such as 3.59$'),
        ("drop,1,2,,mV,1,15,10", "column value: found nothing, expected a number such as 3.59"),
        ("drop,1,2,nan,mV,1,15,10", 'column value: found "nan"'),
        ("drop,1,2,inf,mV,1,15,10", 'column value: found "inf".*off the scale'),
        ("drop,1,2,1e999,mV,1,15,10", 'column value: found "1e999"'),
        ("drop,1,2,OL,mV,1,15,10", "higher range"),
        ("drop,1,2,1_0,mV,1,15,10", 'column value: found "1_0"'),
        ("drop,1,2,٣,mV,1,15,10", "column value"),
        ('drop,1,2,"3,59",mV,1,15,10', r"a decimal point, not a comma: 3\.59"),
        ("drop,1,2,3,59,mV,1,15,10", "line 2: found 9 cells, .*a point, not a comma"),
        ("drop,1,2,3.5,mV,1,15,10,x,y", "found 10 cells"),
        ("drop,1,2,3.5,,1,15,10", "column unit: found nothing, expected voltage in V, mV, uV"),
        ("drop,1,2,3.5,mohm,1,15,10", 'column unit: found "mohm", expected voltage'),
        ("resistance,1,2,3.5,MOHM,,,", "mohm is a thousandth of an ohm, Mohm a million"),
        ("drop,1,2,3.5,mV,,15,10", "column feed_from: found nothing, expected a bar"),
        ("drop,1,2,3.5,mV,1,,10", "column feed_to: found nothing"),
        ("drop,1,2,3.5,mV,1,1,10", "column feed_to: found bar 1 again"),
        ("drop,1,2,3.5,mV,1,15,", "column feed_amps: found nothing, expected the current"),
        ("drop,1,2,3.5,mV,1,15,0", "column feed_amps: .*a current above 0"),
        ("drop,1,2,3.5,mV,1,15,-10", "column feed_amps: .*a current above 0"),
        ("drop,1,2,3.5,mV", "column feed_from: found nothing"),
        ("induced,1,2,45,mV,1,15,10", "column feed_from: .*read with no current fed"),
        ("induced,1,2,-45,mV,,,", "a magnitude, 0 or above"),
        ('drop,1,2,"3.5,mV,1,15,10', "line 2: found text that is not CSV"),
    ],
)
def test_a_row_that_cannot_mean_one_thing_is_refused_by_name_line_and_column(row: str, said: str) -> None:
    with pytest.raises(InputError, match=said) as refusal:
        read(row)
    assert str(refusal.value).startswith("r.csv line 2")


def test_two_units_within_one_test_are_refused_with_both_lines() -> None:
    with pytest.raises(InputError, match='line 3, column unit: found "V", expected mV as on line 2'):
        read("drop,1,2,3.59,mV,1,15,10\ndrop,2,3,0.00359,V,1,15,10")


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "found an empty file"),
        ("\n\n", "found an empty file"),
        (HEADER, "found no readings"),
        ("# only a comment\n", "found no readings"),
        ("test,from,to,value\n", "line 1: found no column unit"),
        (HEADER.replace("feed_amps", "feed_amp"), "column feed_amp: .*nearest: feed_amps"),
        (HEADER + ",value", "the same column twice"),
        (
            HEADER.replace(",", ";"),
            "columns parted by semicolons, expected columns parted by commas",
        ),
        (HEADER.replace(",", "\t"), "parted by tabs"),
        ("drop,1,2,3.5,mV,1,15,10", "column drop: found an unknown column"),
    ],
)
def test_a_file_without_readings_or_header_is_refused(text: str, said: str) -> None:
    with pytest.raises(InputError, match=said):
        parse_readings(text, WAVE, "r.csv")


def test_a_walk_not_yet_begun_may_hold_only_the_header() -> None:
    assert parse_readings(HEADER, WAVE, may_be_empty=True) == ()


def test_a_file_that_is_not_utf_8_is_refused_with_its_line(tmp_path: Path) -> None:
    path = tmp_path / "r.csv"
    path.write_bytes(f"{HEADER}\n".encode() + b"drop,1,2,3.5,\xb5V,1,15,10\n")
    with pytest.raises(InputError, match="line 2: found bytes that are not UTF-8"):
        load_readings(path, WAVE)


def test_ten_thousand_rows_are_read_in_a_moment() -> None:
    rows = "\n".join(
        f"drop,{n % 57 + 1},{(n + 1) % 57 + 1},{3 + n % 991 / 1000:.3f},mV,1,15,10.0" for n in range(10_000)
    )
    start = time.process_time()
    readings = read(rows)
    assert len(readings) == 10_000
    assert time.process_time() - start < 2.0


@pytest.mark.parametrize(
    ("written", "value", "digit"),
    [
        ("3.59", 3.59, 0.01),
        ("45", 45.0, 1.0),
        ("-0.710", -0.71, 0.001),
        (".5", 0.5, 0.1),
        ("5.", 5.0, 1.0),
        ("1.20e-3", 1.2e-3, 1e-5),
        ("3E2", 300.0, 100.0),
        ("3.5900000000000003", 3.59, 0.01),
        ("0.00", 0.0, 0.01),
    ],
)
def test_the_last_digit_tells_how_fine_the_meter_reads(written: str, value: float, digit: float) -> None:
    number = read_number(written)
    assert number is not None
    assert number.value == pytest.approx(value)
    assert number.digit == pytest.approx(digit)


@given(st.floats(allow_nan=False, allow_infinity=False, width=32), st.integers(0, 6))
def test_any_number_a_meter_shows_reads_back_as_itself(value: float, decimals: int) -> None:
    written = f"{value:.{decimals}f}"
    number = read_number(written)
    if len(written) <= 60:
        assert number is not None
        assert number.value == float(written)


CELLS = st.one_of(
    st.sampled_from(
        ["drop", "induced", "ground", "blade", "resistance", "shaft-drop", "shaft", "", "1", "2"]
    ),
    st.sampled_from(["3.59", "mV", "V", "mohm", "dark", "lit", "buzz", "10.0", "15", "nan", "-1"]),
    st.text(max_size=6),
    st.integers().map(str),
    st.floats().map(repr),
)
ROWS = st.lists(st.lists(CELLS, max_size=9).map(",".join), max_size=5).map("\n".join)


@given(st.one_of(st.text(), ROWS, ROWS.map(lambda rows: f"{HEADER}\n{rows}")))
@example(HEADER + "\ndrop,1,2,3.5,mV,1,15," + "9" * 5000)
@example(HEADER + "\ndrop," + "9" * 5000 + ",2,3.5,mV,1,15,1")
@example(HEADER + "\n" + "x" * 200_000)
@example("\x00\n" + HEADER + "\n\x00")
def test_any_text_is_readings_or_one_plain_line(text: str) -> None:
    readings: tuple[Reading, ...] = ()
    said = ""
    try:
        readings = parse_readings(text, WAVE)
    except InputError as refusal:
        said = str(refusal)
    assert said.isprintable()
    assert len(said) < 500
    assert bool(readings) != bool(said)
    assert all((r.value is None) != (r.state is None) for r in readings)


def test_the_columns_are_those_of_the_format() -> None:
    assert ",".join(COLUMNS) == "test,from,to,value,unit,feed_from,feed_to,feed_amps"
