"""Fields and insulation files: what is read, and how whatever cannot be used is refused."""

from __future__ import annotations

from pathlib import Path

import pytest

from barwise.errors import InputError
from barwise.files.fields_file import load_fields, parse_fields
from barwise.files.insulation_file import load_insulation, parse_insulation

EXAMPLES = Path(__file__).parents[2] / "examples" / "fields"
FIELDS = '[fields]\nkind = "series"\ncoils = 2\n'
COILS = '[[coil]]\nnumber = 1\ndrop = "42.1 mV"\n[[coil]]\nnumber = 2\ndrop = "42.3 mV"\n'
PARALLEL = '[fields]\nkind = "series-parallel"\ncoils = 4\nfed = "{fed}"\n{more}\n'
INSULATION = '[insulation]\nrated = "12 V"\n'


def test_the_example_of_four_coils_is_read_with_its_units() -> None:
    found = load_fields(EXAMPLES / "series-parallel.toml").circuit
    assert found is not None
    assert [coil.path for coil in found.coils] == [1, 1, 2, 2]
    assert found.temperature is not None
    assert found.temperature.value == pytest.approx(20.0)
    assert found.sheet is not None
    assert (found.sheet.lower, found.sheet.upper) == (pytest.approx(1.9e-3), pytest.approx(2.3e-3))
    assert [one.value for one in found.readings[:2]] == [pytest.approx(0.0421)] * 2
    assert [one.run for one in found.readings] == [0, 0, 0, 0, 1, 1, 1, 1]


def test_the_other_examples_are_read() -> None:
    grounded = load_fields(EXAMPLES / "grounded.toml").ground
    assert grounded is not None
    assert grounded.first.value == pytest.approx(0.1009)
    assert [test.part for test in load_insulation(EXAMPLES / "insulation.toml")] == [
        "armature", "fields", "brush-holders",
    ]  # fmt: skip


def test_an_open_coil_is_written_as_open() -> None:
    found = parse_fields(FIELDS + COILS.replace('"42.3 mV"', '["open", "open"]')).circuit
    assert found is not None
    assert [one.seen for one in found.readings] == ["drop", "open", "open"]


def test_the_current_of_paths_fed_together_is_their_sum_and_not_used() -> None:
    text = PARALLEL.format(fed="together", more='current = "40 A"') + COILS
    known = parse_fields(text)
    assert known.circuit is not None
    assert known.circuit.currents == (None, None)
    assert "all paths take together" in known.notes[0]


def test_two_coils_side_by_side_are_two_paths_and_read_paths_hold_all_their_turns() -> None:
    side = parse_fields(
        '[fields]\nkind = "series-parallel"\ncoils = 2\nfed = "path by path"\n' + COILS
    ).circuit
    assert side is not None
    assert [coil.path for coil in side.coils] == [1, 2]
    whole = parse_fields(
        PARALLEL.format(fed="path by path", more='turns = 8\nread = "paths"') + COILS
    ).circuit
    assert whole is not None
    assert [(coil.name, coil.turns) for coil in whole.coils] == [("1-2", 16), ("3-4", 16)]


def test_three_coils_where_four_are_stated_leave_the_fourth_unread() -> None:
    found = parse_fields(FIELDS.replace("2", "3") + COILS).circuit
    assert found is not None
    assert [coil.name for coil in found.not_read] == ["3"]


def test_test_leads_of_a_two_wire_meter_are_taken_off_and_their_contact_counts() -> None:
    text = FIELDS + '[ohmmeter]\ntwo_wire = true\nleads = "0.20 ohm"\n'
    found = parse_fields(text + COILS.replace("drop", "resistance").replace("mV", "ohm")).circuit
    assert found is not None
    assert found.readings[0].value == pytest.approx(41.9)
    assert found.readings[0].uncertainty > 0.02


def test_a_magnet_frame_has_nothing_else_in_its_file() -> None:
    assert parse_fields('[fields]\nkind = "permanent-magnet"\n').circuit is None
    with pytest.raises(InputError, match="permanent magnets have no coils"):
        parse_fields('[fields]\nkind = "permanent-magnet"\n' + COILS)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "an empty file"),
        (FIELDS.replace("series", "serial"), 'found "serial"'),
        (FIELDS + COILS.replace('"42.1 mV"', '"abc mV"'), "line 6, key coil 1.drop: found 'abc mV'"),
        (FIELDS + COILS.replace('"42.1 mV"', "42.1"), "a voltage with its unit in quotation marks"),
        (FIELDS + COILS.replace('"42.1 mV"', "nan"), 'found "nan"'),
        (FIELDS + COILS.replace('"42.1 mV"', '"nan mV"'), "a voltage with its unit"),
        (FIELDS + COILS.replace("42.1 mV", "0 mV"), "more than 0 mV"),
        (FIELDS + COILS.replace("42.1 mV", "-42.1 mV"), "more than 0 mV"),
        (FIELDS + COILS.replace("42.1 mV", "42,1 mV"), "a decimal point, not a comma"),
        (FIELDS + COILS.replace("42.1 mV", "42.1 ohm"), "a unit of resistance"),
        (FIELDS + COILS.replace("42.1 mV", "42.1"), "without a unit"),
        (FIELDS + COILS.replace("number = 2", "number = 3"), "a whole number from 1 to 2"),
        (FIELDS + COILS.replace("number = 2", "number = 1"), "coil 1 a second time"),
        (FIELDS + COILS.replace("drop", "dorp"), "nearest: drop"),
        (FIELDS + COILS + "[sheet]\nlow = \"3 mohm\"\nhigh = \"2 mohm\"\n", "not below its high side"),
        (FIELDS + COILS + "[shunt]\nresistance = \"1 ohm\"\n", "a shunt on a series field"),
        (FIELDS + 'current = ["20 A", "20 A"]\n' + COILS, "found 2 currents"),
        (FIELDS + 'current = "0 A"\n' + COILS, "more than 0 A"),
        (FIELDS + 'temperature = "20 mV"\n' + COILS, "temperature in degC"),
        (FIELDS + 'temperature = "900 degC"\n' + COILS, "250 degC or less"),
        (FIELDS + 'turns = 1\n' + COILS, "a whole number from 2"),
        (FIELDS, "no [[coil]] table"),
        (PARALLEL.format(fed="path by path", more="").replace("4", "3") + COILS, "share out evenly"),
        (PARALLEL.format(fed="path by path", more="").replace('fed = "path by path"', "") + COILS, "key fed"),
        (FIELDS + COILS + "[ground]\nfirst_to_frame = \"0 mV\"\nlast_to_frame = \"0 mV\"\n", "above 0 V"),
        (FIELDS + COILS.replace('drop = "42.1 mV"', ""), "neither drop nor resistance"),
    ],
)  # fmt: skip
def test_a_fields_file_that_cannot_be_used_is_refused_with_its_place(text: str, said: str) -> None:
    with pytest.raises(InputError) as refused:
        parse_fields(text, "frame.toml")
    assert str(refused.value).startswith("frame.toml")
    assert said in str(refused.value)


def test_a_meter_beyond_its_range_and_one_that_reads_nothing_are_read() -> None:
    text = INSULATION + '[armature]\nresistance = "over 2000 Mohm"\n[fields]\nresistance = "0.00 Mohm"\n'
    over, nothing = parse_insulation(text)
    assert (over.readings[0].over, over.readings[0].ohm) == (True, 2e9)
    assert (nothing.readings[0].ohm, nothing.readings[0].digit_ohm) == (0.0, pytest.approx(1e4))


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (INSULATION, "no part"),
        ('[armature]\nresistance = "5 Mohm"\n', "insulation"),
        (INSULATION + "[armature]\n", "no reading"),
        (INSULATION + '[armature]\nresistance = "-5 Mohm"\n', "0 Mohm or more"),
        (INSULATION + '[armature]\nresistance = "5 MOHM"\n', "resistance in"),
        (INSULATION + '[armature]\nresistance = "5 V"\n', "a unit of voltage"),
        (INSULATION + '[armature]\nresistance = "over much"\n', "a resistance with its unit"),
        (INSULATION + "[armature]\nresistance = nan\n", 'found "nan"'),
        (INSULATION + '[armature]\nresistance = "5 Mohm"\nafter_1_min = "6 Mohm"\n', "the same minute"),
        (INSULATION + '[armature]\nlamp = "bright"\n', '"dark" or "glows" or "lit"'),
        (INSULATION.replace("12 V", "0 V") + '[armature]\nresistance = "5 Mohm"\n', "more than 0 V"),
        (INSULATION + '[lamp]\nvolts = "12 V"\nwatts = 0\n[armature]\nlamp = "dark"\n', "a number from 0.01"),
        (
            INSULATION + '[lamp]\nvolts = "12 V"\nwatts = 21\nsupply = "230 V"\n[armature]\nlamp = "dark"\n',
            "near the lamp's own voltage",
        ),
        (INSULATION + 'temperature = "22"\n[armature]\nresistance = "5 Mohm"\n', "without a unit"),
    ],
)
def test_an_insulation_file_that_cannot_be_used_is_refused_with_its_place(text: str, said: str) -> None:
    with pytest.raises(InputError) as refused:
        parse_insulation(text, "mega.toml")
    assert str(refused.value).startswith("mega.toml")
    assert said in str(refused.value)
