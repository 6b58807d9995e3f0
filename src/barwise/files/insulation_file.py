"""The file of `barwise insulation`: what a tester or a lamp said of armature, fields and holders, in TOML.

See docs/insulation.md for the keys. Readings are written with their unit; a meter beyond its range is
``"over 2000 Mohm"``.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import cast

from barwise.errors import InputError, MeasurementError
from barwise.files.entered_tables import Table
from barwise.files.text import read_text
from barwise.inspect.insulation.assessment import InsulationTest, Megohms
from barwise.inspect.insulation.lamp import Lamp, State
from barwise.inspect.insulation.minimum import Minimum, Part
from barwise.inspect.insulation.timed import ThermalClass
from barwise.measure.uncertainty import rectangular

KIND = "a TOML file with [insulation] and [armature], [fields] or [brush-holders]"
SUCH_AS = 'rated = "12 V" or resistance = "120 Mohm"'
PARTS: tuple[Part, ...] = ("armature", "fields", "brush-holders")

_COMMON = ("rated", "test_voltage", "temperature", "accuracy", "thermal_class")
_PART = ("resistance", "after_30_s", "after_1_min", "after_10_min", "minimum", "temperature", "lamp")
_LAMP = ("volts", "watts", "supply")
_TIMES = {"after_30_s": 30.0, "after_1_min": 60.0, "after_10_min": 600.0}
_OVER = ("over ", "> ", ">")


def load_insulation(path: str | Path) -> tuple[InsulationTest, ...]:
    """Read an insulation file: one test for each part that stands in it.

    Raises
    ------
    InputError
        If the file cannot be read or a key is missing, unknown, of the wrong kind, or at odds with another;
        the message names file, line and key, and what was expected.
    """
    return parse_insulation(read_text(Path(path), KIND), str(path))


def parse_insulation(text: str, name: str = "insulation.toml") -> tuple[InsulationTest, ...]:
    """Read the text of an insulation file, called `name` in messages. Raises as `load_insulation`."""
    top = Table.of_file(text, name, KIND, SUCH_AS)
    top.only(("insulation", "lamp", *PARTS))
    common = top.table("insulation", needed=True)
    common.only(_COMMON)
    lamp = _lamp(top)
    tests = tuple(_test(top.table(part), part, common, lamp) for part in PARTS if top.has(part))
    if not tests:
        raise InputError(name, "no part", "a table [armature], [fields] or [brush-holders]")
    return tests


def _lamp(top: Table) -> Lamp | None:
    if not top.has("lamp"):
        return None
    table = top.table("lamp")
    table.only(_LAMP)
    volts = table.quantity("volts", "voltage", above=0)
    supply = table.optional_quantity("supply", "voltage", above=0)
    watts = table.number("watts", 0.01, 10_000)
    try:
        return Lamp(volts.value, watts, volts.value if supply is None else supply.value)
    except MeasurementError as error:
        found, _, expected = str(error).removeprefix("lamp: found ").partition(", expected ")
        raise InputError(table.place(), found, expected) from None


def _test(table: Table, part: Part, common: Table, lamp: Lamp | None) -> InsulationTest:
    table.only(_PART)
    warmth = table if table.has("temperature") else common
    celsius = warmth.optional_quantity("temperature", "temperature", least=-60, most=250)
    accuracy = common.optional_quantity("accuracy", "share", least=0, most=0.5)
    test_v = common.optional_quantity("test_voltage", "voltage", above=0)
    readings = tuple(_readings(table))
    state = table.choice("lamp", ("dark", "glows", "lit")) if table.has("lamp") else None
    if not readings and state is None:
        table.refuse("", "no reading", 'resistance = "120 Mohm", after_1_min, or lamp = "dark"')
    return InsulationTest(
        part=part,
        rated_v=common.quantity("rated", "voltage", above=0, most=1e5).value,
        readings=readings,
        lamp=lamp if state is not None else None,
        lamp_state=cast("State | None", state),
        temperature=None if celsius is None else celsius.estimate,
        test_v=None if test_v is None else test_v.value,
        gain=0.0 if accuracy is None else rectangular(accuracy.value),
        minimum=_minimum(table),
        thermal_class=_thermal_class(common),
    )


def _readings(table: Table) -> Iterator[Megohms]:
    if table.has("resistance") and table.has("after_1_min"):
        table.refuse("resistance", "resistance and after_1_min", "one of them: they mean the same minute")
    for key, seconds in {"resistance": None, **_TIMES}.items():
        if table.has(key):
            yield _reading(table, key, seconds)


def _reading(table: Table, key: str, seconds: float | None) -> Megohms:
    written = table.values[key]
    text = written.strip() if isinstance(written, str) else written
    over = isinstance(text, str) and text.lower().startswith(_OVER)
    if over:
        text = text.lower().removeprefix("over").removeprefix(">").strip()
        text = _unit_as_written(text, str(written))
    bare = Table({**table.values, key: text}, table.title, table.text, table.name, table.nth)
    ohm = bare.quantity(key, "resistance", above=0) if over else bare.quantity(key, "resistance", least=0)
    return Megohms(ohm.value, ohm.digit, seconds, over)


def _unit_as_written(lowered: str, written: str) -> str:
    """The end of the text as typed: Mohm and mohm are not the same."""
    return written.strip()[-len(lowered) :]


def _minimum(table: Table) -> Minimum | None:
    least = table.optional_quantity("minimum", "resistance", above=0)
    return None if least is None else Minimum(least.value, "as entered, at 40 °C")


def _thermal_class(common: Table) -> ThermalClass | None:
    if not common.has("thermal_class"):
        return None
    return cast(ThermalClass, common.choice("thermal_class", ("A", "B", "F", "H")))
