"""What a job says of its vehicle: the vehicle file of the command, with room for what nobody knows."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from barwise.errors import InputError
from barwise.files.cranking_file import parse_cranking, vehicle_facts

DEMO = Path(__file__).parents[2] / "examples/demo/vehicle.toml"


def without_the_starter_s_figures(text: str) -> str:
    """The example as a job would say it: the starter's figures and the measured volts are the job's own."""
    text = re.sub(r"\[\[starter\.\w+\]\][^[]*", "", text)
    text = re.sub(r'(field|volts) = "(series|12 V)"\n(?=volts|ring)', "", text)
    text = re.sub(r"bars = 57\ntemperature[^\n]*\n", "", text)
    return text[: text.index("[measured]")]


def test_a_job_reads_of_a_vehicle_what_the_command_reads_of_the_same_text() -> None:
    whole = parse_cranking(DEMO.read_text(encoding="utf-8"))
    facts = vehicle_facts(without_the_starter_s_figures(DEMO.read_text(encoding="utf-8")))
    same = facts.vehicle(whole.vehicle.starter, whole.vehicle.sound_starter)
    assert same == whole.vehicle
    assert facts.missing == ()


def test_nothing_said_names_battery_gears_and_engine_and_what_each_would_give() -> None:
    missing = vehicle_facts("# nothing").missing
    assert [one.what.partition(" ")[0] for one in missing] == ["battery", "gears", "engine"]
    assert all(one.needed and one.gives for one in missing)


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ('[battery]\nvolts = "12 V"', "battery (rated current)"),
        ("[starter]\nring_teeth = 120", "gears (pinion teeth)"),
        ('[engine]\ndisplacement = "3 L"\ncylinders = 4', "engine (fuel)"),
        ('[[leg]]\nname = "ground"\ngauge = "2"', "ground (length)"),
        ('[[leg]]\nname = "earth strap"', "earth strap (gauge, length)"),
    ],
)
def test_half_a_part_says_which_half_is_missing(text: str, told: str) -> None:
    facts = vehicle_facts(text)
    assert told in [one.what for one in facts.missing]
    assert (facts.battery, facts.ratio, facts.engine, facts.legs) == (None, None, None, ())


@pytest.mark.parametrize(
    ("text", "place"),
    [
        ('[battery]\nvolts = "12 kg"', "line 2, key battery.volts"),
        ('[battery]\nrest_volts = "dead"', "line 2, key battery.rest_volts"),
        ('[engine]\ncylinders = "four"', "line 2, key engine.cylinders"),
        ('[engine]\noil = "black"', "[engine]"),
        ("[starter]\nring_teeth = 4", "line 2, key starter.ring_teeth"),
        ('[[leg]]\nname = "ground"\nlength = "-2 m"', "line 3, key leg 1.length"),
        ('[[leg]]\nname = "ground"\ngauge = "fat"', "[leg 1]"),
        ('[[leg]]\nname = "battery"\ncontact = "1 mohm"', "line 2, key leg 1.name"),
        ('[starter]\nfield = "series"', "key starter.field"),
        ('[measured]\ncurrent = "260 A"', "key measured"),
    ],
)
def test_what_is_said_wrongly_is_refused_even_where_the_rest_of_its_part_is_missing(
    text: str, place: str
) -> None:
    with pytest.raises(InputError) as refused:
        vehicle_facts(text)
    assert place in refused.value.where


def test_what_is_taken_for_granted_is_said() -> None:
    facts = vehicle_facts('[battery]\nvolts = "12 V"\n[engine]\ncylinders = 4')
    told = {one.what: one.gives for one in facts.missing if not one.needed}
    assert "a full one is taken" in told["battery (charge)"]
    assert "15W-40 is taken" in told["engine (oil)"]
    assert "17.5 for a diesel is taken" in told["engine (compression ratio)"]
