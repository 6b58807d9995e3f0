"""The run test's file: what the sheet says of the motor, and the points read on the bench, in TOML.

See docs/run-test.md for the keys.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import cast, get_args

from barwise.files.entered_tables import Table
from barwise.files.text import read_text
from barwise.inspect.run_test.points import STATED_K, VOLTS_SHARE, Kind, Point, Sheet, figure, from_limit
from barwise.machine.motor import FieldKind
from barwise.measure.decision import Limit
from barwise.measure.quantity import Quantity
from barwise.measure.uncertainty import Estimate
from barwise.measure.units import Dimension

KIND = "a TOML file with a [motor] table and the points read, such as [[no_load]]"
_SUCH_AS = '[motor] and field = "series"'
_TABLES: dict[Kind, str] = {"no-load": "no_load", "lock": "lock", "loaded": "loaded"}
_QUANTITIES: dict[str, tuple[str, Dimension]] = {
    "amps": ("current", "current"),
    "speed": ("speed", "speed"),
    "torque": ("torque", "torque"),
}
_MOTOR = (
    "field", "volts", "field_paths", "bars", "armature_paths", "gear_ratio", "switch", "temperature",
)  # fmt: skip
_POINT = ("volts", "amps", "speed", "torque", "temperature")
_SHEET = ("volts", *(f"{name}{side}" for name in _QUANTITIES for side in ("", "_at_least", "_at_most")))


@dataclass(frozen=True)
class RunFile:
    """The sheet, the points read, and the tests of parts made already (keys of the next tests)."""

    sheet: Sheet
    points: tuple[Point, ...]
    taken: tuple[str, ...] = ()


def load_run(path: str | Path) -> RunFile:
    """Read a run test's file.

    Raises
    ------
    InputError
        If it cannot be read, or a key is missing, unknown or of the wrong kind: names file, line and key.
    """
    path = Path(path)
    return parse_run(read_text(path, KIND), str(path))


def parse_run(text: str, name: str = "run.toml") -> RunFile:
    """Read the text of a run test's file, called `name` in messages. Raises as `load_run`."""
    top = Table.of_file(text, name, KIND, _SUCH_AS)
    top.only(("motor", "sheet", "meters", "taken", *_TABLES.values()))
    meters = {key: _share(top.table("meters"), key) for key in ("volts", "amps", "speed", "torque")}
    top.table("meters").only(tuple(meters))
    points = [
        _point(table, kind, meters) for kind, key in _TABLES.items() for table in top.tables(key)
    ]  # fmt: skip
    if not points:
        top.refuse("no_load", "no point read", "at least one of [[no_load]], [[lock]], [[loaded]]")
    taken = top.values.get("taken", [])
    if not isinstance(taken, list) or not all(isinstance(one, str) for one in taken):
        top.refuse("taken", "something else", 'a list of tests made already, such as ["coil-drop"]')
    return RunFile(_sheet(top), tuple(points), tuple(taken))


def _sheet(top: Table) -> Sheet:
    motor = top.table("motor", needed=True)
    motor.only(_MOTOR)
    printed = top.table("sheet")
    printed.only(tuple(_TABLES.values()))
    points, limits = [], []
    for kind, key in _TABLES.items():
        if printed.has(key):
            point, bounds = _printed(printed.table(key), kind)
            points.append(point)
            limits += bounds
    degrees = motor.optional_quantity("temperature", "temperature", least=-60, most=200)
    switch = motor.optional_quantity("switch", "current", least=0)
    return Sheet(
        field=cast(FieldKind, motor.choice("field", get_args(FieldKind))),
        volts_v=motor.quantity("volts", "voltage", above=0, most=200).value,
        points=tuple(points),
        limits=tuple(limits),
        rated=next((point for point in points if point.kind == "loaded"), None),
        temperature=None if degrees is None else Estimate(degrees.value, max(STATED_K, degrees.digit)),
        field_paths=motor.whole("field_paths", 1, 12, _usual_paths(motor)),
        bars=motor.whole("bars", 3, 1000) if motor.has("bars") else None,
        armature_paths=motor.whole("armature_paths", 2, 24, 2),
        gear_ratio=motor.number("gear_ratio", 1.0, 20.0, 1.0),
        switch_a=0.0 if switch is None else switch.value,
    )


def _usual_paths(motor: Table) -> int:
    return 2 if motor.values.get("field") == "series-parallel" else 1


def _printed(table: Table, kind: Kind) -> tuple[Point, list[tuple[Kind, str, Limit]]]:
    """A point of the sheet: the middle of what it allows, and the limits themselves."""
    table.only(_SHEET)
    volts = table.quantity("volts", "voltage", above=0, most=200).value
    found: dict[str, Estimate] = {}
    limits: list[tuple[Kind, str, Limit]] = []
    for key, (name, dimension) in _QUANTITIES.items():
        stated = table.quantities(key, dimension, above=0)
        if len(stated) > 2:
            table.refuse(key, f"{len(stated)} values", "one, or two: the least and the most allowed")
        limit = _limit(table, key, dimension, stated)
        if limit is not None:
            limits.append((kind, name, limit))
            found[name] = from_limit(limit)
        if len(stated) == 1:
            found[name] = figure(stated[0].value)
    point = Point(
        kind,
        Estimate(volts, VOLTS_SHARE * volts),
        found.get("current"),
        found.get("speed"),
        found.get("torque"),
    )
    return point, limits


def _limit(table: Table, key: str, dimension: Dimension, stated: tuple[Quantity, ...]) -> Limit | None:
    least = table.optional_quantity(f"{key}_at_least", dimension, above=0)
    most = table.optional_quantity(f"{key}_at_most", dimension, above=0)
    low, high = (None if one is None else one.value for one in (least, most))
    if len(stated) == 2:
        low, high = sorted(one.value for one in stated)
    if low is not None and high is not None and low > high:
        table.refuse(f"{key}_at_least", "more than at most", "the smaller one as at_least")
    return None if low is None and high is None else Limit(low, high)


def _point(table: Table, kind: Kind, meters: dict[str, float]) -> Point:
    table.only(_POINT)
    read = dict(_read(table, meters))
    degrees = table.optional_quantity("temperature", "temperature", least=-60, most=250)
    return Point(
        kind,
        read.get("volts"),
        read.get("current"),
        read.get("speed"),
        read.get("torque"),
        None if degrees is None else Estimate(degrees.value, max(STATED_K, degrees.standard_uncertainty)),
    )


def _read(table: Table, meters: dict[str, float]) -> Iterator[tuple[str, Estimate]]:
    """What was read, each with its digits, its own ± and the meter's share."""
    for key, (name, dimension) in {"volts": ("volts", "voltage"), **_QUANTITIES}.items():
        one = table.optional_quantity(key, dimension)
        if one is not None:
            spread = math.hypot(one.standard_uncertainty, meters[key] * one.value)
            yield name, Estimate(one.value, spread)


def _share(table: Table, key: str) -> float:
    """A meter's share; the run test trusts none to better than 1 %."""
    stated = table.optional_quantity(key, "share", least=0, most=0.5)
    return 0.0 if stated is None else stated.value
