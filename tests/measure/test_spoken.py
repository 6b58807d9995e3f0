"""What meters and gauges write.

Numbers as IEEE Std 488.2-1992 has them in answers: NR1 (section 8.7.2), NR2 (8.7.3), NR3 (8.7.4), and as
forgivingly as NRf (7.7.2); 9.9E37 is infinity and 9.91E37 not a number (SCPI 1999, volume 1, 7.2.1). All
from memory. `decimal` and `float` of Python are the reference for what a number is worth.
"""

from __future__ import annotations

import re
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from barwise.errors import InputError
from barwise.measure.spoken import (
    LONGEST_LINE,
    LineForm,
    Spoken,
    in_unit,
    read_answer,
    signed,
    without_idle_zeros,
)
from barwise.measure.units import UNITS

OHM, VOLT, MM = UNITS["ohm"], UNITS["V"], UNITS["mm"]
DIGITS = st.text("0123456789", min_size=1, max_size=15)
SIGN = st.sampled_from(["", "+", "-"])
NR1 = st.builds("{}{}".format, SIGN, DIGITS)
NR2 = st.builds("{}{}.{}".format, SIGN, DIGITS, DIGITS)
NR3 = st.builds("{}{}.{}E{}{}".format, SIGN, DIGITS, DIGITS, st.sampled_from("+-"), st.integers(0, 20))


@given(st.one_of(NR1, NR2, NR3))
def test_every_number_of_the_standard_is_read_to_its_last_digit(written: str) -> None:
    spoken = read_answer(f"{written}\n", VOLT)
    assert spoken.number == Decimal(written)
    assert spoken.value_si == float(written)
    assert spoken.line == written
    assert Decimal(spoken.text) == Decimal(written)
    assert "e" not in spoken.text.lower()


@pytest.mark.parametrize("written", ["3.59", ".5", "5.", "+3.59 E -3", "3.59e-3", " 3.59 ", "-0", "3.59\r\n"])
def test_what_the_standard_forgives_is_read(written: str) -> None:
    assert read_answer(written, VOLT).number == Decimal("".join(written.split()))


@pytest.mark.parametrize(
    "written", ["9.9E37", "+9.90000000E+37", "-9.9E37", "9.91E37", "1E99", "NAN", "INF", "-INF"]
)
def test_infinity_and_not_a_number_are_off_the_scale(written: str) -> None:
    assert read_answer(written, OHM).number is None
    assert read_answer(written, OHM).value_si is None


@pytest.mark.parametrize(
    "written", ["", " ", "abc", "3,59", "3.59 V", "3.5.9", "1_0", "--1", "٣", "1E", "0x1F", "1,2", "1E-300"]
)
def test_what_is_no_number_is_refused(written: str) -> None:
    with pytest.raises(InputError, match="line: found"):
        read_answer(written, VOLT)


@pytest.mark.parametrize(
    ("pattern", "line", "number", "unit"),
    [
        ("{value}", "12.345", "12.345", "mm"),
        ("{value} {unit}", "+12.345mm", "12.345", "mm"),
        ("{value} {unit}", "  0.485 in ", "0.485", "in"),
        ("{value}{unit}", "5µm", "5", "um"),
        ("{skip} {value} {unit}", "01A+ -0.012 mm", "-0.012", "mm"),
        ("D{skip};{value};{skip}", "Dx1;0.5;ok", "0.5", "mm"),
        ("MEAS {value} {unit} (ok)", "MEAS  7 mm (ok)", "7", "mm"),
        ("a.c{value}", "a.c1", "1", "mm"),
    ],
)
def test_a_line_is_read_as_its_pattern_says(pattern: str, line: str, number: str, unit: str) -> None:
    spoken = LineForm(pattern).read(line, MM)
    assert (str(spoken.number), spoken.unit.name, spoken.line) == (number, unit, line)


def test_a_sign_of_the_pattern_stands_for_itself_alone() -> None:
    with pytest.raises(InputError, match='line: found "abc1"'):
        LineForm("a.c{value}").read("abc1", MM)


def test_a_decimal_comma_is_read_where_the_profile_says_so_and_refused_elsewhere() -> None:
    assert LineForm("{value} {unit}", "comma").read("31,45 mm", MM).text == "31.45"
    with pytest.raises(InputError):
        LineForm("{value} {unit}").read("31,45 mm", MM)


def test_a_unit_of_something_else_or_none_at_all_is_refused() -> None:
    with pytest.raises(InputError, match='unit: found "V", of voltage, expected a unit of length'):
        LineForm("{value} {unit}").read("3 V", MM)
    with pytest.raises(InputError, match='unit: found "xyz", expected a unit of length'):
        LineForm("{value} {unit}").read("3 xyz", MM)
    # MOHM could be a thousandth or a million: the profile has to say which
    with pytest.raises(InputError, match='found "MOHM"'):
        LineForm("{value} {unit}").read("3 MOHM", OHM)
    assert LineForm("{value} {unit}", units=(("MOHM", "mohm"),)).read("3 MOHM", OHM).value_si == 0.003


@pytest.mark.parametrize("line", ["OL mm", "  ol", "-- o.l. --"])
def test_its_word_for_off_the_scale_is_no_reading(line: str) -> None:
    assert LineForm("{value} {unit}", overload=("OL", "O.L.")).read(line, MM).number is None


@pytest.mark.parametrize(
    "pattern",
    ["", "abc", "{value}{value}", "{what} {value}", "{skip}{value}", "{value}{skip}", "{value", "}{value}",
     "{skip} {skip} {skip} {skip} {skip} {value}", "x" * 201 + "{value}", "{value}\n"],
)  # fmt: skip
def test_a_pattern_that_cannot_be_is_refused(pattern: str) -> None:
    with pytest.raises(InputError, match="pattern: found"):
        LineForm(pattern)


@given(
    st.text(max_size=LONGEST_LINE + 20),
    st.sampled_from(["{value} {unit}", "{skip} {value}", "a{skip}a {value}"]),
)
def test_any_line_is_a_reading_or_refused_in_one_plain_line(line: str, pattern: str) -> None:
    form = LineForm(pattern, overload=("OL",))
    try:
        spoken = form.read(line, MM)
    except InputError as refused:
        said = str(refused)
    else:
        assert spoken.number is None or spoken.number.is_finite()
        said = spoken.text
    assert said.isprintable()


@given(NR2, st.sampled_from(["mm", "um", "in", "thou"]), st.text("abcXYZ#;", max_size=5))
def test_what_a_gauge_wrote_comes_back_whatever_stands_around_it(number: str, unit: str, around: str) -> None:
    spoken = LineForm("x{skip} {value} {unit} {skip}").read(f"x{around} {number} {unit} {around}", MM)
    assert (spoken.number, spoken.unit.name) == (Decimal(number), unit)


def test_no_pattern_goes_back_and_forth_over_a_line_that_almost_fits() -> None:
    """No repetition in the expression ever gives back what it took (possessive, ``*+``), so a line is read in
    one pass. Written the plain way, this pattern over this line would not end today."""
    form = LineForm("a{skip}a{skip}a{skip}a{skip}b {value} {unit}")
    bare = re.sub(r"\\.|\[[^\]]*\]|\(\?(?:P<\w+>|:)", "x", form._read.pattern)
    assert set(re.findall(r"[*+?]+", bare)) == {"*+", "++", "?+"}
    with pytest.raises(InputError):
        form.read("a" * LONGEST_LINE, MM)


def said(number: str, unit: str = "V") -> Spoken:
    return Spoken(Decimal(number), UNITS[unit], number)


def test_the_sign_is_as_the_profile_has_it() -> None:
    assert [signed(said("-3.59"), how).text for how in ("as sent", "turned", "left out")] == [
        "-3.59",
        "3.59",
        "3.59",
    ]  # type: ignore[arg-type]


@given(
    st.decimals(-1000, 1000, places=7), st.sampled_from(["V", "mV", "uV"]), st.sampled_from(["V", "mV", "uV"])
)
def test_a_number_is_moved_into_the_units_of_a_walk_by_its_point_alone(
    number: Decimal, unit: str, wanted: str
) -> None:
    text, named = in_unit(Spoken(number, UNITS[unit], ""), wanted)
    assert named == wanted
    assert Decimal(text) * Decimal(repr(UNITS[wanted].factor)) == number * Decimal(repr(UNITS[unit].factor))
    assert Decimal(text).as_tuple().digits == number.as_tuple().digits


def test_inches_and_millimetres_are_not_turned_into_one_another() -> None:
    assert in_unit(said("31.45", "mm"), "in") == ("31.45", "mm")
    assert in_unit(said("31.45", "mm"), "mV") == ("31.45", "mm")


@given(st.decimals(-1000, 1000, places=9), st.integers(-9, 0))
def test_only_zeros_are_ever_left_out(number: Decimal, power: int) -> None:
    short = without_idle_zeros(Spoken(number, VOLT, ""), 10.0**power)
    assert short.number == number
    exponent = Decimal(short.text).as_tuple().exponent
    assert isinstance(exponent, int)
    assert exponent >= -9
    assert exponent <= power or number == 0


@pytest.mark.parametrize("written", ["1" + "0" * 36, "0." + "123456789" * 4, "-" + "9" * 37, "0." + "0" * 39])
def test_more_digits_than_arithmetic_keeps_are_all_kept(written: str) -> None:
    """Python's decimals compute with 28 digits; what a device wrote is never computed with."""
    spoken = without_idle_zeros(read_answer(written, VOLT), 1e-6)
    assert spoken.number == Decimal(written)
    assert in_unit(spoken, "mV") == (f"{Decimal(f'{spoken.text}E3'):f}", "mV")
