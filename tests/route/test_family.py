"""A family is a data file and nothing else, and a slip in it is answered with its place."""

from __future__ import annotations

from pathlib import Path

import pytest

from barwise.errors import InputError
from barwise.inspect.checks import Taken
from barwise.route.deciding import decide
from barwise.route.family import deciding_function, families, load_family, parse_family
from barwise.route.sheet import parse_sheet

GENERATOR = Path(__file__).parent / "generator.toml"
TEXT = GENERATOR.read_text(encoding="utf-8")
SHEET = """key = "made-up"
title = "Made-up generator"
family = "generator"
invented = true
[facts]
brushes = 2
[winding]
kind = "wave"
poles = 4
bars = 57
slots = 29
progression = "retrogressive"
[limits.output-volts]
low = 27
high = 29
unit = "V"
source = { kind = "own measurement", text = "invented" }
[limits.brush-length]
new = 20.0
discard = 10.0
unit = "mm"
source = { kind = "own measurement", text = "invented" }
"""


def test_a_second_family_is_decided_from_its_data_file_alone(faulty_walk: tuple[Taken, ...]) -> None:
    family, sheet = load_family(GENERATOR), parse_sheet(SHEET)

    def decision(station: str, check: str, *readings: Taken) -> str:
        return decide(family, station, check, sheet, readings).decision

    assert decision("armature", "winding", *faulty_walk) == "reject"
    assert decision("output", "volts", Taken(28.0, "28.0", "V")) == "accept"
    assert decision("output", "volts", Taken(31.0, "31.0", "V")) == "reject"
    brushes = Taken(0.015, "15.0", "mm", ("1",)), Taken(0.009, "9.0", "mm", ("2",))
    assert decision("output", "brush-length", *brushes) == "reject"
    assert decision("output", "brush-length", brushes[0]) == "undecided"


def test_the_starter_comes_with_barwise() -> None:
    assert "starter" in families()
    assert load_family("starter").key == "starter"


SLIPS = [
    ('decides = "limits.wear"', 'decides = "limits.waer"', "decides: found no function \"waer\"", "wear"),
    ('decides = "limits.wear"', 'decides = "limit.wear"', "no module \"limit\"", "module.function"),
    ('decides = "limits.wear"', 'decides = "limits._line"', "decides: found no function", "dimension"),
    ('decides = "limits.wear"', 'decides = "os.system"', "no module", "barwise.inspect.checks"),
    ('caution = ["run"]', 'caution = ["rum"]', 'caution: found unknown caution "rum"', "nearest: run"),
    ('key = "volts"', 'key = "brush-length"', 'found "brush-length" a second time', "each key once"),
    ('key = "output"', 'key = "armature"', 'found "armature" a second time', "each key once"),
    ('unit = "mm"', 'unit = "furlong"', 'found unknown unit "furlong"', "in, thou"),
    ('unit = "mm"', 'unit = "mV"', 'found unit "mV", of voltage', "length in mm"),
    ('quantity = "voltage"\n', "", "found no quantity of volts", "voltage"),
    ('entry = "number"', 'entry = "guess"', 'entry: found "guess"', "number"),
    ('do = "Measure each brush."\n', "", "do: found nothing", "a value for do"),
    ('"output.brush-length"]', '"output.brush"]', 'waits_for: found "output.brush"', "output.brush-length"),
    ('count = "brushes"', 'count = "brooms"', 'unknown fact "brooms"', "[facts]"),
    ('title = "Brush length"', 'titel = "Brush length"', "titel: found an unknown key", "nearest: title"),
    ('test = "drop"', 'test = "dorp"', 'test: found "dorp"', "drop"),
]  # fmt: skip


@pytest.mark.parametrize(("old", "new", "found", "expected"), SLIPS)
def test_a_slip_is_refused_with_file_line_and_key(old: str, new: str, found: str, expected: str) -> None:
    assert old in TEXT
    with pytest.raises(InputError) as caught:
        parse_family(TEXT.replace(old, new, 1), "own.toml")
    said = str(caught.value)
    assert said.startswith("own.toml line ")
    assert found in said
    assert expected in said


def test_the_line_named_is_that_of_the_slip() -> None:
    lines = TEXT.splitlines()
    slip = TEXT.replace('decides = "limits.dimension"', 'decides = "limits.dimensoin"')
    at = lines.index('decides = "limits.dimension"') + 1
    with pytest.raises(InputError, match=rf"^own\.toml line {at}, key stations\.2\.checks\.2\.decides"):
        parse_family(slip, "own.toml")


@pytest.mark.parametrize(
    ("condition", "said"),
    [
        ('applies_when = { colour = ["red"] }', 'unknown fact "colour"'),
        ('leans_on = { diameter = "output.nothing" }', 'leans_on: found "output.nothing"'),
        ('applies_when = { brushes = "two" }', "applies_when"),
        ('outdates = ["output.nothing"]', 'outdates: found "output.nothing"'),
    ],
)
def test_a_condition_on_what_is_not_there_is_refused(condition: str, said: str) -> None:
    text = TEXT.replace('title = "Brush length"', f'title = "Brush length"\n{condition}')
    with pytest.raises(InputError, match=said):
        parse_family(text)


def test_a_value_the_family_does_not_list_is_refused() -> None:
    text = TEXT.replace('ask = "How many brushes?"', 'ask = "How many brushes?"\nvalues = [2, 4]')
    text = text.replace('title = "Brush length"', 'title = "Brush length"\napplies_when = { brushes = [3] }')
    with pytest.raises(InputError, match="brushes as one of 2, 4"):
        parse_family(text)


def test_a_choice_needs_answers_and_a_walk_its_tests() -> None:
    with pytest.raises(InputError, match="found 0 answers of brush-length"):
        parse_family(TEXT.replace('entry = "number"', 'entry = "choice"', 1))
    start, end = TEXT.index("[[stations.checks.walks]]"), TEXT.index('[[stations]]\nkey = "output"')
    with pytest.raises(InputError, match="found no walks of winding"):
        parse_family(TEXT[:start] + TEXT[end:])


def test_places_have_a_count_or_names_of_their_own() -> None:
    counted = 'count = "brushes"'
    named = parse_family(TEXT.replace(counted, 'names = ["leading", "trailing"]'))
    assert named.check("output", "brush-length").place_names({"brushes": 9}) == ("leading", "trailing")
    with pytest.raises(InputError, match="found both"):
        parse_family(TEXT.replace(counted, 'count = 2, names = ["a", "b"]'))
    with pytest.raises(InputError, match="found neither"):
        parse_family(TEXT.replace(", " + counted, ""))
    with pytest.raises(InputError, match="found a name twice"):
        parse_family(TEXT.replace(counted, 'names = ["a", "a"]'))


def test_an_unknown_family_station_or_check_is_answered_with_the_nearest() -> None:
    starter = load_family("starter")
    with pytest.raises(InputError, match="nearest: starter"):
        load_family("startr")
    with pytest.raises(InputError, match="nearest: commutator"):
        starter.station("comutator")
    with pytest.raises(InputError, match="nearest: diameter"):
        starter.check("commutator", "diametre")


@pytest.mark.parametrize("name", ["../families/starter", "starter.toml", ""])
def test_a_family_is_asked_for_by_its_key_and_by_nothing_like_a_path(name: str) -> None:
    with pytest.raises(InputError):
        load_family(name)


def test_the_function_a_family_names_is_the_one_that_decides() -> None:
    from barwise.inspect.checks import limits

    assert deciding_function("limits.dimension") is limits.dimension
    with pytest.raises(InputError, match='no function "Decision"'):
        deciding_function("limits.Decision")
