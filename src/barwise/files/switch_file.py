"""The switch file: readings of one switch (solenoid) and what its sheet allows, in TOML.

See docs/switch.md for the keys.
"""

from __future__ import annotations

from pathlib import Path as FilePath

from barwise.errors import InputError
from barwise.files.entered_limits import Side, entered_limit
from barwise.files.entered_tables import Table
from barwise.files.text import read_text, shown
from barwise.inspect.finding import Bound
from barwise.inspect.switch.readings import WindingReading, from_ohmmeter, open_circuit
from barwise.inspect.switch.tested import SwitchSheet, SwitchTest
from barwise.machine.copper import REFERENCE_C
from barwise.machine.switch_windings import PATHS, Path
from barwise.measure.quantity import Quantity
from barwise.measure.units import Dimension

KIND = "a TOML file with [[reading]], [moving], [contacts] or [plunger] tables of a switch"
COLDEST_C, HOTTEST_C = -40.0, 200.0
MOST_V, MOST_A = 100.0, 5000.0

_TOP = ("switch", "limits", "reading", "moving", "contacts", "plunger")
_SWITCH = ("temperature", "motor_resistance", "reference_temperature", "reference_voltage")
_MOVING = ("pull_in_voltage", "release_voltage")
_CONTACTS = ("drop", "current", "cranking_current")
_PLUNGER = ("travel", "closes_at")
_READING = ("path", "volts", "amps", "resistance")
_LIMITS: dict[str, tuple[Dimension, Side]] = {
    "pull_in_current": ("current", "at most"),
    "hold_in_current": ("current", "at most"),
    "pull_in_resistance": ("resistance", "at least"),
    "hold_in_resistance": ("resistance", "at least"),
    "pull_in_voltage": ("voltage", "at most"),
    "release_voltage": ("voltage", "at most"),
    "contact_drop": ("voltage", "at most"),
    "travel": ("length", "at least"),
    "overtravel": ("length", "at least"),
}


def load_switch(path: str | FilePath) -> SwitchTest:
    """Read a switch file.

    Raises
    ------
    InputError
        If it cannot be read, or a key is missing, unknown, of the wrong kind or at odds with another; names
        file, line and key, and what was expected.
    """
    path = FilePath(path)
    return parse_switch(read_text(path, KIND), str(path))


def parse_switch(text: str, name: str = "switch.toml") -> SwitchTest:
    """Read the text of a switch file, called `name` in messages. Raises as `load_switch`."""
    top = Table.of_file(text, name, KIND, 'volts = "10.0 V"')
    top.only(_TOP)
    switch, moving = top.table("switch"), top.table("moving")
    contacts, plunger = top.table("contacts"), top.table("plunger")
    for table, known in ((switch, _SWITCH), (moving, _MOVING), (contacts, _CONTACTS), (plunger, _PLUNGER)):
        table.only(known)
    sheet = _sheet(switch, top.table("limits"))
    warm = switch.optional_quantity("temperature", "temperature", least=COLDEST_C, most=HOTTEST_C)
    motor = switch.optional_quantity("motor_resistance", "resistance", above=0)
    drop, drop_amps, cranking = _contacts(contacts)
    travel, closes_at = _plunger(plunger)
    test = SwitchTest(
        sheet=sheet,
        readings=tuple(_reading(one) for one in top.tables("reading")),
        celsius=None if warm is None else warm.estimate,
        motor_ohm=None if motor is None else motor.estimate,
        pull_in_volts=moving.optional_quantity("pull_in_voltage", "voltage", above=0, most=MOST_V),
        release_volts=moving.optional_quantity("release_voltage", "voltage", least=0, most=MOST_V),
        drop=drop,
        drop_amps=drop_amps,
        cranking_amps=cranking,
        travel=travel,
        closes_at=closes_at,
    )
    _check(test, moving, name)
    return test


def _sheet(switch: Table, limits: Table) -> SwitchSheet:
    limits.only(tuple(_LIMITS))
    given: dict[str, Bound | None] = {
        key: entered_limit(limits, key, dimension, side) for key, (dimension, side) in _LIMITS.items()
    }
    at = switch.optional_quantity("reference_temperature", "temperature", least=COLDEST_C, most=HOTTEST_C)
    volts = switch.optional_quantity("reference_voltage", "voltage", above=0, most=MOST_V)
    for key in ("pull_in_current", "hold_in_current"):
        if given[key] is not None and volts is None:
            wanted = (
                'switch.reference_voltage with it, the volts at which the sheet gives its amperes: "10 V"'
            )
            limits.refuse(key, "a limit of the current alone", wanted)
    return SwitchSheet(
        reference_c=REFERENCE_C if at is None else at.value,
        reference_v=None if volts is None else volts.value,
        pull_in_amps=given["pull_in_current"],
        hold_in_amps=given["hold_in_current"],
        pull_in_ohm=given["pull_in_resistance"],
        hold_in_ohm=given["hold_in_resistance"],
        pull_in_volts=given["pull_in_voltage"],
        release_volts=given["release_voltage"],
        contact_drop=given["contact_drop"],
        travel=given["travel"],
        overtravel=given["overtravel"],
    )


def _reading(table: Table) -> WindingReading:
    """Volts and amperes, or what an ohmmeter shows."""
    table.only(_READING)
    path: Path = table.choice("path", PATHS)  # type: ignore[assignment]
    if not table.has("resistance"):
        volts = table.quantity("volts", "voltage", above=0, most=MOST_V)
        amps = table.quantity("amps", "current", least=0, most=MOST_A)
        return WindingReading(path, volts.estimate, amps.estimate)
    for key in ("volts", "amps"):
        if table.has(key):
            table.refuse(key, f"{key} beside a resistance", "one or the other")
    if table.values["resistance"] == "open":
        return open_circuit(path)
    return from_ohmmeter(path, table.quantity("resistance", "resistance", above=0).estimate)


def _contacts(table: Table) -> tuple[Quantity | None, Quantity | None, Quantity | None]:
    drop = table.optional_quantity("drop", "voltage", least=0, most=MOST_V)
    current = table.optional_quantity("current", "current", above=0, most=MOST_A)
    cranking = table.optional_quantity("cranking_current", "current", above=0, most=MOST_A)
    if drop is not None and current is None:
        table.refuse("drop", "a drop without its current", 'contacts.current with it, such as "150 A"')
    if drop is None and (current is not None or cranking is not None):
        key = "current" if current is not None else "cranking_current"
        table.refuse(key, "a current without a drop", 'contacts.drop with it, such as "0.06 V"')
    return drop, current, cranking


def _plunger(table: Table) -> tuple[Quantity | None, Quantity | None]:
    travel = table.optional_quantity("travel", "length", above=0, most=0.2)
    closes = table.optional_quantity("closes_at", "length", above=0, most=0.2)
    if closes is not None and travel is None:
        table.refuse("closes_at", "where the contacts touch, alone", "plunger.travel with it")
    if closes is not None and travel is not None and closes.value > travel.value:
        table.refuse("closes_at", shown(closes.entered), f"no more than the whole travel, {travel.entered}")
    return travel, closes


def _check(test: SwitchTest, moving: Table, name: str) -> None:
    pulls, lets_go = test.pull_in_volts, test.release_volts
    if pulls is not None and lets_go is not None and lets_go.value >= pulls.value:
        wanted = f"less than the pull-in voltage, {pulls.entered}; swapped?"
        moving.refuse("release_voltage", shown(lets_go.entered), wanted)
    taken = (test.readings, pulls, lets_go, test.drop, test.travel)
    if not any(taken):
        raise InputError(name, "no reading of the switch", KIND)
