"""The file of `barwise fields`: a frame's field coils and what was read across them, in TOML.

See docs/fields.md for the keys. Readings are written with their unit; a coil that reads nothing is
``"open"``.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Literal, cast

from barwise.errors import InputError, MeasurementError
from barwise.files.entered_tables import Table
from barwise.files.text import read_text
from barwise.inspect.fields.circuit import (
    CONTACT_OHM,
    MOST_COILS,
    USUAL_SPREAD,
    Coil,
    CoilReading,
    FieldCircuit,
    Kind,
)
from barwise.inspect.fields.shunt import Shunt
from barwise.measure.decision import Limit
from barwise.measure.quantity import Quantity
from barwise.measure.uncertainty import Estimate, rectangular

KIND = "a TOML file with a [fields] table"
SUCH_AS = 'kind = "series" or drop = "42.1 mV"'
KINDS = ("series", "series-parallel", "compound", "permanent-magnet")
FED = ("in series", "path by path", "together")
OPEN = "open"
_MOST_TURNS = 100_000

_FIELDS = (
    "kind", "coils", "paths", "read", "turns", "fed", "current", "temperature", "accuracy", "spread",
)  # fmt: skip
_COIL = ("number", "drop", "resistance")
_SHEET = ("low", "high", "drop_low", "drop_high", "current", "temperature")
_SHUNT = ("resistance", "low", "high", "temperature", "turns")
_GROUND = ("path", "first_to_frame", "last_to_frame", "end_to_end")
_OHMMETER = ("two_wire", "leads", "contact")


@dataclass(frozen=True)
class GroundDrops:
    """Drops from the end leads of one fed path to the frame [V]."""

    path: int
    first: Estimate
    last: Estimate
    whole: Estimate | None


@dataclass(frozen=True)
class FieldsFile:
    """One frame as its file gives it; `circuit` is None for permanent magnets."""

    kind: Kind
    circuit: FieldCircuit | None
    shunt: Shunt | None
    ground: GroundDrops | None
    notes: tuple[str, ...]


@dataclass(frozen=True)
class _Layout:
    coils: tuple[Coil, ...]
    paths: int
    fed: Literal["in series", "path by path", "together"]


def load_fields(path: str | Path) -> FieldsFile:
    """Read a fields file.

    Raises
    ------
    InputError
        If the file cannot be read or a key is missing, unknown, of the wrong kind, or at odds with another;
        the message names file, line and key, and what was expected.
    """
    return parse_fields(read_text(Path(path), KIND), str(path))


def parse_fields(text: str, name: str = "fields.toml") -> FieldsFile:
    """Read the text of a fields file, called `name` in messages. Raises as `load_fields`."""
    top = Table.of_file(text, name, KIND, SUCH_AS)
    top.only(("fields", "sheet", "coil", "shunt", "ground", "ohmmeter"))
    fields = top.table("fields", needed=True)
    fields.only(_FIELDS)
    kind = cast(Kind, fields.choice("kind", KINDS))
    if kind == "permanent-magnet":
        for key in ("coil", "shunt", "ground", "sheet"):
            if top.has(key):
                top.refuse(key, f"a table [{key}]", "none of it: permanent magnets have no coils to read")
        return FieldsFile(kind, None, None, None, ())
    try:
        return _with_coils(top, fields, kind)
    except MeasurementError as error:
        raise InputError(name, *_found_expected(error)) from None


def _with_coils(top: Table, fields: Table, kind: Kind) -> FieldsFile:
    layout = _layout(fields, kind, any(one.has("drop") for one in top.tables("coil")))
    currents, notes = _currents(fields, layout)
    warmth = fields.optional_quantity("temperature", "temperature", least=-60, most=250)
    accuracy = fields.optional_quantity("accuracy", "share", least=0, most=0.5)
    spread = fields.optional_quantity("spread", "share", least=0, most=0.5)
    sheet, sheet_c = _sheet(top.table("sheet"))
    circuit = FieldCircuit(
        kind=kind,
        coils=layout.coils,
        readings=tuple(_readings(top, layout)),
        currents=currents,
        temperature=None if warmth is None else warmth.estimate,
        sheet=sheet,
        sheet_c=sheet_c,
        spread=USUAL_SPREAD if spread is None else spread.value,
        gain=0.0 if accuracy is None else rectangular(accuracy.value),
        fed_together=layout.fed == "together",
    )
    shunt = _shunt(top, circuit)
    if not circuit.readings and shunt is None:
        raise InputError(top.name, "no [[coil]] table", "at least one coil that was read")
    return FieldsFile(kind, circuit, shunt, _ground(top, layout), notes)


def _layout(fields: Table, kind: Kind, drops: bool) -> _Layout:
    count = fields.whole("coils", 1, MOST_COILS)
    paths = fields.whole("paths", 1, count, 2 if kind == "series-parallel" else 1)
    if count % paths:
        fields.refuse("coils", f"{count} coils", f"a number that {paths} paths share out evenly")
    if kind == "series-parallel" and paths < 2:
        fields.refuse("paths", f"{paths}", "2 paths or more: series-parallel fields have several")
    each = count // paths
    turns = fields.whole("turns", 2, _MOST_TURNS) if fields.has("turns") else None
    whole_paths = fields.choice("read", ("coils", "paths"), "coils") == "paths"
    coils = tuple(Coil(str(k + 1), k // each + 1, turns) for k in range(count))
    if whole_paths:
        coils = tuple(_path_as_coil(path, each, turns) for path in range(1, paths + 1))
    usual = "in series" if paths == 1 or not drops else None
    fed = fields.choice("fed", FED, usual)
    return _Layout(coils, paths, cast(Literal["in series", "path by path", "together"], fed))


def _path_as_coil(path: int, each: int, turns: int | None) -> Coil:
    first, last = (path - 1) * each + 1, path * each
    name = str(first) if each == 1 else f"{first}-{last}"
    return Coil(name, path, None if turns is None else turns * each)


def _currents(fields: Table, layout: _Layout) -> tuple[tuple[Estimate | None, ...], tuple[str, ...]]:
    """Current of each run, and what has to be said about it."""
    read = [one.estimate for one in fields.quantities("current", "current", above=0)]
    runs = 1 if layout.fed == "in series" else layout.paths
    if len(read) > 1 and len(read) != runs:
        fields.refuse("current", f"{len(read)} currents", f"one, or one for each of {runs} paths")
    if not read:
        return (None,) * runs, ()
    if layout.fed == "together" and len(read) == 1 and runs > 1:
        said = f"{fields.values['current']} is what all paths take together: how they share it is not known."
        return (None,) * runs, (str(said),)
    return tuple(read if len(read) == runs else read * runs), ()


def _readings(top: Table, layout: _Layout) -> Iterator[CoilReading]:
    meter = top.table("ohmmeter")
    meter.only(_OHMMETER)
    seen: set[int] = set()
    for table in top.tables("coil"):
        table.only(_COIL)
        number = table.whole("number", 1, len(layout.coils))
        if number in seen:
            table.refuse("number", f"coil {number} a second time", "each coil once; repeats go into a list")
        seen.add(number)
        if table.has("drop") == table.has("resistance"):
            found = "drop and resistance" if table.has("drop") else "neither drop nor resistance"
            table.refuse("", found, "one of them for each coil")
        run = 0 if layout.fed == "in series" else layout.coils[number - 1].path - 1
        yield from _coil_readings(table, number - 1, run, meter)


def _coil_readings(table: Table, coil: int, run: int, meter: Table) -> Iterator[CoilReading]:
    key = "drop" if table.has("drop") else "resistance"
    found = table.values[key]
    written = found if isinstance(found, list) else [found]
    opened = sum(one == OPEN for one in written)
    yield from [CoilReading(coil, "open", run=run)] * opened
    if opened == len(written) and opened:
        return
    numbers = [one for one in written if one != OPEN]
    without = Table({**table.values, key: numbers}, table.title, table.text, table.name, table.nth)
    if key == "drop":
        for drop in without.quantities(key, "voltage", above=0):
            yield CoilReading(coil, "drop", drop.value, drop.standard_uncertainty, run)
        return
    for ohm in without.quantities(key, "resistance", above=0):
        yield _without_leads(without, ohm, coil, run, meter)


def _without_leads(table: Table, ohm: Quantity, coil: int, run: int, meter: Table) -> CoilReading:
    if not meter.flag("two_wire", False):
        return CoilReading(coil, "resistance", ohm.value, ohm.standard_uncertainty, run)
    leads = meter.quantity("leads", "resistance", least=0)
    contact = meter.optional_quantity("contact", "resistance", least=0)
    value = ohm.value - leads.value
    if value <= 0:
        wanted = f"more than its test leads alone, {leads.entered}; use the drop at 10 to 20 A instead"
        table.refuse("resistance", ohm.entered, wanted)
    touch = CONTACT_OHM if contact is None else contact.value
    spread = math.hypot(ohm.standard_uncertainty, leads.standard_uncertainty, touch)
    return CoilReading(coil, "resistance", value, spread, run)


def _sheet(table: Table) -> tuple[Limit | None, float]:
    table.only(_SHEET)
    warmth = table.optional_quantity("temperature", "temperature", least=-60, most=250)
    celsius = 20.0 if warmth is None else warmth.value
    if table.has("drop_low") or table.has("drop_high"):
        current = table.quantity("current", "current", above=0)
        sides = [table.optional_quantity(key, "voltage", above=0) for key in ("drop_low", "drop_high")]
        return _limit(table, sides, 1 / current.value), celsius
    sides = [table.optional_quantity(key, "resistance", above=0) for key in ("low", "high")]
    return _limit(table, sides, 1.0), celsius


def _limit(table: Table, sides: list[Quantity | None], factor: float) -> Limit | None:
    low, high = (None if side is None else side.value * factor for side in sides)
    if low is None and high is None:
        return None
    if low is not None and high is not None and low >= high:
        table.refuse("", "a low side that is not below its high side", "the lower one first")
    return Limit(low, high)


def _shunt(top: Table, circuit: FieldCircuit) -> Shunt | None:
    if not top.has("shunt"):
        return None
    if circuit.kind != "compound":
        top.refuse("shunt", f"a shunt on a {circuit.kind} field", 'kind = "compound", or no [shunt]')
    table = top.table("shunt")
    table.only(_SHUNT)
    sides = [table.optional_quantity(key, "resistance", above=0) for key in ("low", "high")]
    at = table.optional_quantity("temperature", "temperature", least=-60, most=250)
    shunt = Shunt(
        read=None,
        sheet=_limit(table, sides, 1.0),
        sheet_c=20.0 if at is None else at.value,
        temperature=circuit.temperature,
        turns=table.whole("turns", 2, _MOST_TURNS) if table.has("turns") else None,
        gain=circuit.gain,
    )
    if table.values.get("resistance") == OPEN:
        return shunt
    if not table.has("resistance"):
        table.refuse("resistance", "nothing", 'a resistance such as "1.25 ohm", or "open"')
    ohms = table.quantities("resistance", "resistance", above=0)
    mean = math.fsum(one.value for one in ohms) / len(ohms)
    spread = math.hypot(*(one.standard_uncertainty for one in ohms)) / len(ohms)
    return replace(shunt, read=Estimate(mean, spread))


def _ground(top: Table, layout: _Layout) -> GroundDrops | None:
    if not top.has("ground"):
        return None
    table = top.table("ground")
    table.only(_GROUND)
    whole = table.optional_quantity("end_to_end", "voltage", above=0)
    first = table.quantity("first_to_frame", "voltage", least=0)
    last = table.quantity("last_to_frame", "voltage", least=0)
    if not first.value + last.value > 0:
        table.refuse("first_to_frame", f"{first.entered} and {last.entered}", "one of them above 0 V")
    return GroundDrops(
        path=table.whole("path", 1, layout.paths, 1),
        first=first.estimate,
        last=last.estimate,
        whole=None if whole is None else whole.estimate,
    )


def _found_expected(error: MeasurementError) -> tuple[str, str]:
    text = str(error)
    what, _, rest = text.partition(": found ")
    found, _, expected = rest.partition(", expected ")
    return (f"{what} {found}", expected) if rest else (text, "readings that can be")
