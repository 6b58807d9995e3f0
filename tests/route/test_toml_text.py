"""The line a place stands on is found whatever way the file is written."""

from __future__ import annotations

from decimal import Decimal

import pytest

from barwise.errors import InputError
from barwise.route.toml_text import line_of, parse_toml, where

TEXT = '''key = "x"

[[stations]]
key = "a"

[[stations.checks]]   # first
key = "one"
about = """
[[stations]]
key = "in a text"
"""

[[stations.checks]]
"key" = "two"

[[stations]]
key = "b"
[[stations.checks]]
key = "three"

[limits."dashed-name"]
also = { high = 2, unit = "mm" }
source.kind = "published"
'''


@pytest.mark.parametrize(
    ("place", "line"),
    [
        (("key",), 1),
        (("stations", 0, "key"), 4),
        (("stations", 0, "checks", 0, "key"), 7),
        (("stations", 0, "checks", 1, "key"), 14),
        (("stations", 1, "checks", 0, "key"), 19),
        (("limits", "dashed-name", "also", "high"), 22),
        (("limits", "dashed-name", "source", "kind"), 23),
        (("limits", "dashed-name", "unit"), 21),
        (("stations", 1, "checks", 0, "unit"), 18),
        (("nothing",), None),
    ],
)
def test_a_place_is_found_on_its_line_or_on_that_of_its_table(
    place: tuple[str | int, ...], line: int | None
) -> None:
    assert line_of(TEXT, place) == line


def test_a_place_is_named_with_lists_counted_from_one() -> None:
    assert where("f.toml", TEXT, ("stations", 1, "key")) == "f.toml line 17, key stations.2.key"


def test_numbers_keep_their_digits() -> None:
    assert parse_toml("high = 0.0310", "f.toml", "a sheet") == {"high": Decimal("0.0310")}
    assert str(parse_toml("high = 0.0310", "f.toml", "a sheet")["high"]) == "0.0310"


def test_a_nesting_no_sheet_has_is_refused() -> None:
    with pytest.raises(InputError, match="expected a sheet"):
        parse_toml("x = " + "[" * 5000, "f.toml", "a sheet")
