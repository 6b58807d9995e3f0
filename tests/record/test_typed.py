"""Numbers as people type them: every decimal number comes back, and a comma is never taken for thousands."""

from __future__ import annotations

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from barwise.errors import InputError
from barwise.inspect.checks import Limit
from barwise.measure.decision import Limit as Allowed
from barwise.measure.units import UNITS, names_of
from barwise.record.typed import below_nothing, check_possible, far_from, read_typed

DECIMALS = st.decimals(-99999, 99999, places=4)
LENGTHS = st.sampled_from(names_of("length"))


@given(DECIMALS, LENGTHS, st.sampled_from(["", " ", "  "]))
def test_every_decimal_number_is_read_with_or_without_its_unit(number, unit: str, gap: str) -> None:
    bare = read_typed(str(number), unit, "length")
    behind = read_typed(f"{number}{gap}{unit}", "in" if unit != "in" else "mm", "length")
    assert bare == behind
    assert bare.value_si == float(number) * UNITS[unit].factor


@given(DECIMALS, LENGTHS)
def test_a_decimal_comma_means_what_a_point_means_where_the_shop_writes_it(number, unit: str) -> None:
    typed = read_typed(str(number).replace(".", ","), unit, "length", decimal_comma=True)
    assert typed == read_typed(str(number), unit, "length")


@given(DECIMALS)
def test_a_comma_is_refused_elsewhere_whatever_stands_round_it(number) -> None:
    written = str(number).replace(".", ",")
    with pytest.raises(InputError, match="if the comma parts thousands") as refused:
        read_typed(written, "in", "length")
    assert refused.value.where == "value"


@given(st.integers(1, 999), st.integers(0, 999), st.integers(0, 99), st.booleans())
def test_two_signs_in_one_number_are_never_guessed_at(a: int, b: int, c: int, comma: bool) -> None:
    for written in (f"{a},{b:03d}.{c}", f"{a}.{b:03d},{c}", f"{a},{b:03d},{c:03d}"):
        with pytest.raises(InputError):
            read_typed(written, "in", "length", decimal_comma=comma)


@given(st.text(max_size=30), st.booleans())
def test_any_text_is_a_finite_number_or_refused_by_its_field(text: str, comma: bool) -> None:
    try:
        typed = read_typed(text, "in", "length", decimal_comma=comma)
    except InputError as error:
        outcome: object = error
    else:
        outcome = typed.value_si
        assert any(sign.isdigit() for sign in text)
    if isinstance(outcome, InputError):
        assert outcome.where in ("value", "unit")
        assert "\n" not in str(outcome)
    else:
        assert abs(outcome) < float("inf")


def sheet(lower: float | None, upper: float | None, unit: str = "in") -> Limit:
    factor = UNITS[unit].factor
    allowed = Allowed(None if lower is None else lower * factor, None if upper is None else upper * factor)
    return Limit("diameter", allowed, unit, "invented")


@given(st.floats(1.226, 1.25), st.sampled_from(["in", "mm"]))
def test_the_other_unit_is_suggested_and_the_right_one_is_not_asked_about(inches: float, used: str) -> None:
    number = f"{inches if used == 'in' else inches * 25.4:.4f}"
    limit = sheet(1.226, 1.25)
    assert far_from(read_typed(number, used, "length"), limit) is None
    wrong = "mm" if used == "in" else "in"
    asked = far_from(read_typed(number, wrong, "length"), limit)
    assert asked is not None
    assert (asked.suggested_number, asked.suggested_unit) == (number, used)


@pytest.mark.parametrize(
    ("number", "unit", "limit", "asked"),
    [
        ("0.004", "in", sheet(None, 0.002), False),  # twice the run-out: bad, and quite possible
        ("0.05", "in", sheet(None, 0.002), True),  # in millimetres it would be just right
        ("0.05", "mm", sheet(None, 0.002), False),
        ("0.0", "mm", sheet(None, 0.002), False),
        ("500", "Mohm", sheet(1.0, None, "Mohm"), False),  # the more the better
        ("0.001", "Mohm", sheet(1.0, None, "Mohm"), False),  # grounded: bad, and quite possible
        ("80", "V", sheet(None, 100, "mV"), True),
        ("1.2", "in", None, False),
    ],
)  # fmt: skip
def test_a_bad_part_is_not_asked_about_and_a_wrong_unit_is(
    number: str, unit: str, limit: Limit | None, asked: bool
) -> None:
    question = far_from(read_typed(number, unit, UNITS[unit].dimension), limit)
    assert (question is not None) == asked


@given(DECIMALS, LENGTHS)
def test_nothing_is_asked_where_the_sheet_is_silent(number, unit: str) -> None:
    assume(number > 0)
    assert far_from(read_typed(str(number), unit, "length"), None) is None


@pytest.mark.parametrize(
    ("text", "unit", "quantity", "expected"),
    [
        ("-6", "lbf.in", "torque", "0 or more"),
        ("-36", "ozf", "force", "0 or more"),
        ("120", "%", "share", "at most 100 %"),
        ("-1", "%", "share", "0 or more"),
        ("1e99", "Mohm", "resistance", "at most 1e\\+07 Mohm"),
        ("1e99", "A", "current", "at most 20000 A"),
        ("1e99", "degC", "temperature", "-60 to 400 degC"),
        ("-200", "degF", "temperature", "-76 to 752 degF"),
    ],
)
def test_what_no_bench_reads_is_refused_with_what_could_be(
    text: str, unit: str, quantity: str, expected: str
) -> None:
    """Common practice, no source: nothing on a bench for starters is larger."""
    with pytest.raises(InputError, match=f"expected {expected}"):
        check_possible(read_typed(text, unit, quantity), quantity)


def test_what_a_bench_reads_is_taken_and_a_dial_reads_below_nothing_too() -> None:
    for text, unit, quantity in (("100", "%", "share"), ("-5", "degC", "temperature"), ("3", "m", "length")):
        check_possible(read_typed(text, unit, quantity), quantity)
    check_possible(read_typed("-0.4", "thou", "length"), "length", signed=True)


@pytest.mark.parametrize(("text", "asked"), [("-5.2", "5.2"), ("5.2", None), ("0", None)])
def test_volts_below_nothing_are_asked_about(text: str, asked: str | None) -> None:
    found = below_nothing(read_typed(text, "V", "voltage"), "voltage")
    assert (None if found is None else found.suggested_number) == asked
    if found is not None:
        assert "leads the wrong way round" in found.ask
