"""Tables in which readings are entered: what they give, and where a refusal points."""

from __future__ import annotations

import pytest

from barwise.errors import InputError
from barwise.files.entered_tables import Table

TEXT = """[limits]
volts = "10.0 V"

[[reading]]
amps = ["38 A", "37.5 A"]

[[reading]]
amps = 38
path = "S to N"
count = 3.5
"""


def table(text: str = TEXT) -> Table:
    return Table.of_file(text, "switch.toml", "a TOML file", 'amps = "38 A"')


def test_quantities_are_given_with_their_unit_and_repeats_in_order() -> None:
    top = table()
    assert top.table("limits").quantity("volts", "voltage").value == 10.0
    assert [one.value for one in top.tables("reading")[0].quantities("amps", "current")] == [38.0, 37.5]
    assert top.table("none").values == {}
    assert top.tables("none") == ()


@pytest.mark.parametrize(
    ("ask", "said"),
    [
        (
            lambda top: top.tables("reading")[1].quantity("amps", "current"),
            "line 8, key reading 2.amps",
        ),
        (lambda top: top.tables("reading")[1].choice("path", ["S to M"]), "line 9, .*nearest: S to M"),
        (lambda top: top.tables("reading")[1].whole("count", 1, 9), "line 10, .*a whole number from 1 to 9"),
        (lambda top: top.tables("reading")[1].only(["amps"]), "line 9, .*unknown key"),
        (lambda top: top.table("limits").quantity("volts", "current"), "line 2, key limits.volts: .*voltage"),
        (
            lambda top: top.table("limits").quantity("amps", "current"),
            r"line 1, .*key amps: .*nothing",
        ),
        (lambda top: top.table("limits").quantity("volts", "voltage", most=9.0), "line 2, .*9 V or less"),
        (lambda top: top.table("other", needed=True), "key other: found nothing"),
        (lambda top: top.table("reading"), "line 4, key reading: .*a table"),
    ],
)
def test_a_refusal_names_file_line_and_key(ask: object, said: str) -> None:
    with pytest.raises(InputError, match=f"^switch.toml.*{said}"):
        ask(table())  # type: ignore[operator]


@pytest.mark.parametrize("written", ["nan", "inf", "true", '"3"'])
def test_what_is_no_number_is_refused_where_a_bare_number_stands(written: str) -> None:
    with pytest.raises(InputError, match=r"line 1, key starts: .*a number from 0 to 10"):
        table(f"starts = {written}").number("starts", 0, 10)
